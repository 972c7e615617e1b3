import { RULES } from '../../rules/index.ts';
import {
  type BitAnswer,
  type Choice,
  type Lost,
  marginOf,
  notKept,
  type Proposal,
} from '../advice/choose.ts';
import type { Held } from '../advice/choose-held.ts';
import type { Range } from '../advice/choose-range.ts';
import type { Facts } from '../carve/facts.ts';
import { judgeReading } from '../engine/judge.ts';
import { type LengthStyle, show, showBare } from '../units.ts';
import type { Ink } from './colour.ts';
import { bitText } from './head.ts';
import { columns, padEnd, padStart, printable, wrap } from './layout.ts';
import { ANSWER_WORDS, answerInk, figureWords, notPassing, placeText } from './sheet.ts';

export interface ChooseView {
  readonly ink: Ink;
  /** Columns, at least 60. */
  readonly width: number;
}

const NAME = 'CHOOSE  ';
const INDENT = 5;
const FIGURE = 14;
/** Limits that are told of the choice, and of a bit that does not pass. */
const KEPT_SHOWN = 5;
const MISSED_SHOWN = 3;
const LOST_SHOWN = 3;
const NEEDED_SHOWN = 3;
/** A margin wider by this much is worth a word. */
const WIDER = 1.05;

/** The choice in words and figures. Ends with a newline. */
export function chooseText(choice: Choice, { ink, width }: ChooseView): string {
  const proposal = chosenOf(choice)?.proposal;
  const lines = [
    ...heading(choice, ink, width),
    ...(proposal === undefined ? [] : settingLines(choice, proposal, ink, width)),
    ...(proposal === undefined ? [] : keptLines(choice, proposal, ink, width)),
    ...(proposal === undefined ? [] : careLines(choice, proposal, ink, width)),
    ...drawingLines(choice, ink, width),
    ...changeLines(choice, ink, width),
    ...bitLines(choice, ink, width),
    ...noteLines(choice, ink, width),
  ];
  return `${lines.map((line) => line.trimEnd()).join('\n')}\n`;
}

const chosenOf = ({ best, bits }: Choice): BitAnswer | undefined =>
  best === undefined ? undefined : bits[best];

/** The answer in a word or two. */
export function chooseWord(choice: Choice): string {
  if (choice.drawings.length > 0) return 'DRAWINGS FIRST';
  const answer = chosenOf(choice)?.proposal?.checked.answer;
  return answer === undefined ? 'NOTHING PASSES' : ANSWER_WORDS[answer];
}

function heading(choice: Choice, ink: Ink, width: number): string[] {
  const { job } = choice.facts;
  const word = chooseWord(choice);
  const answer = chosenOf(choice)?.proposal?.checked.answer ?? 'fail';
  const room = width - columns(word);
  const [title = '', ...more] = wrap(printable(job.title), room - NAME.length - 2);
  return [
    ink.strong(padEnd(NAME + title, room)) + answerInk(answer, ink)(word),
    ...more.map((line) => ink.strong(' '.repeat(NAME.length) + line)),
    ...wrap(printable(job.file), width).map((line) => ink.faint(line)),
    ...wrap(chooseSentence(choice), width),
  ];
}

/** The answer in a few sentences. */
export function chooseSentence(choice: Choice): string {
  const { facts, bits, now } = choice;
  const chosen = chosenOf(choice);
  if (choice.drawings.length > 0)
    return 'Something is wrong with the drawings themselves. Mend that first: until then no bit and no depths can be chosen.';
  if (chosen?.proposal === undefined) {
    const many = bits.length === 1 ? 'The one bit looked at' : `None of the ${bits.length} bits looked at`;
    return `${many} ${bits.length === 1 ? 'has no' : 'has'} depths that pass every check. What stands in the way is told bit by bit below, and what would change it.`;
  }
  const { proposal } = chosen;
  const { answer } = proposal.checked;
  const checked = {
    pass: 'Put through every check it passes',
    care: 'Put through every check it passes with care',
    unknown: 'Put through every check nothing fails, but the job does not say enough to tell',
    fail: 'It fails',
  }[answer];
  const margin = marginOf(proposal.held);
  const tight =
    margin >= 1
      ? `what is kept least is kept ${timesText(margin)} over`
      : `what is kept least is kept only ${timesText(margin)}; this bit has no depths that keep it better`;
  const before = now.held.length > 0 ? `; as the job stands, ${timesText(marginOf(now.held))}` : '';
  return `Cut both sides with ${whose(chosen)} ${bitText(chosen.candidate.bit, facts.job.units)}, to the depths below. ${checked}, and ${tight}${before}.`;
}

const timesText = (times: number): string =>
  times <= 0 ? 'not at all' : Number.isFinite(times) ? `${times.toFixed(2)} times` : 'without end';

function whose({ candidate: { from, name } }: BitAnswer): string {
  if (name !== undefined) return `"${printable(name)}", the`;
  return from === 'usual' ? 'a common' : from === 'job' ? "the job's own" : 'the listed';
}

/** What to set, before and after. */
function settingLines({ facts }: Choice, { depth, job }: Proposal, ink: Ink, width: number): string[] {
  const { depths, job: old } = facts;
  const row = (label: string, was: string, is: string): string =>
    padEnd(' '.repeat(INDENT) + label, width - 2 * FIGURE) + padStart(was, FIGURE) + padStart(is, FIGURE);
  const lengths = (label: string, was: number, is: number): string =>
    row(label, facts.length(was), facts.length(is));
  return [
    '',
    ink.faint(row('', 'as it is', 'chosen')),
    lengths('Pocket, start depth', old.pocket.startDepth, job.pocket.startDepth),
    lengths('Pocket, flat depth', old.pocket.flatDepth, job.pocket.flatDepth),
    lengths('Plug, start depth', old.plug.startDepth, job.plug.startDepth),
    lengths('Plug, flat depth', old.plug.flatDepth, job.plug.flatDepth),
    lengths('Mating depth', depths.mating, depth.mating),
    lengths('Glue gap', depths.glue, depth.glue),
    lengths('Saw gap', depths.saw, depth.saw),
  ];
}

/** The limits that are kept least, with their figures. */
function keptLines({ facts }: Choice, { held }: Proposal, ink: Ink, width: number): string[] {
  const style = facts.job.units;
  const told = held.filter(({ times }) => Number.isFinite(times)).slice(0, KEPT_SHOWN);
  return [
    '',
    padEnd(ink.strong('What is kept least'), 0) +
      ink.faint(padStart('have            need     kept', width - 18)),
    ...told.map((one) => {
      const { have, need } = heldFigures(one, style);
      const figures = padStart(have, 13) + padStart(need, 16) + padStart(`${one.times.toFixed(2)} x`, 9);
      const label = ' '.repeat(INDENT) + printable(one.label);
      const room = width - columns(figures);
      return columns(label) < room ? padEnd(label, room) + figures : `${label}\n${padStart(figures, width)}`;
    }),
  ];
}

/** Have and need of one end of a limit. */
function heldFigures(
  { reading, end }: Held,
  style: LengthStyle,
): { readonly have: string; readonly need: string } {
  const { atLeast, atMost } = reading.want;
  const want = end === 'least' ? { atLeast } : { atMost };
  return figureWords(judgeReading({ ...reading, want }), style);
}

/** What the checks say of the proposal that is not plainly good. */
function careLines({ facts }: Choice, { checked }: Proposal, ink: Ink, width: number): string[] {
  const style = facts.job.units;
  const lines: string[] = [];
  const indented = (text: string): string[] =>
    wrap(printable(text), width - INDENT).map((line) => ' '.repeat(INDENT) + line);
  for (const check of checked.checks) {
    const close = notPassing(check);
    for (const reading of close.slice(0, 2)) {
      const { have, need } = figureWords(reading, style);
      const name = reading.label ?? check.row;
      const where = placeText({ ...reading.place, file: undefined, line: undefined }, style);
      lines.push(
        ...indented(
          // A thing that can only ever be told has no figure to reach.
          (reading.want.atMost ?? 0) < 0 ? name : `${name}: have ${have}, need ${need}`,
        ).map((line) => ink.care(line)),
        ...indented(where === '' ? reading.says : `${reading.says} [${where}]`),
      );
    }
    if (close.length > 2) lines.push(...indented(`and ${close.length - 2} more of this kind`));
    for (const missing of check.untold) lines.push(...indented(`${check.row}: not seen. ${missing}`));
  }
  return lines.length === 0 ? [] : ['', ink.strong('What wants a look before the cut'), ...lines];
}

/** What is wrong with the drawings. */
function drawingLines({ drawings, facts }: Choice, ink: Ink, width: number): string[] {
  if (drawings.length === 0) return [];
  const style = facts.job.units;
  return [
    '',
    ...drawings.flatMap((check) =>
      notPassing(check)
        .filter(({ outcome }) => outcome === 'fail')
        .slice(0, NEEDED_SHOWN)
        .flatMap((reading) => {
          const where = placeText(reading.place, style);
          const text = `${reading.label ?? check.row}: ${reading.says} [${where}] ${reading.cure ?? ''}`;
          return wrap(printable(text), width - INDENT).map((line) => ' '.repeat(INDENT) + line);
        }),
    ),
    '',
    ...wrap(`More: dryfit check ${printable(facts.job.file)}`, width).map((line) => ink.faint(line)),
  ];
}

/** The smallest change that would let something pass. */
function changeLines({ changes, facts }: Choice, ink: Ink, width: number): string[] {
  if (changes === undefined) return [];
  const { candidate, needed, scale, mended } = changes;
  const style = facts.job.units;
  const item = (text: string): string[] =>
    wrap(printable(text), width - INDENT).map((line, k) => `   ${k === 0 ? '- ' : '  '}${line}`);
  const kinds = [...new Set(needed.map(({ id }) => id))];
  const lines = kinds.flatMap((id) => {
    const all = needed.filter((one) => one.id === id);
    const rest = all.length - NEEDED_SHOWN;
    return [
      ...all.slice(0, NEEDED_SHOWN).flatMap(({ reading, says }) => {
        const { have, need } = figureWords(reading, style);
        const where = placeText({ ...reading.place, file: undefined, line: undefined }, style);
        const label = reading.label ?? RULES.find((rule) => rule.id === id)?.row ?? id;
        return item(`${label}: have ${have}, need ${need}${where === '' ? '' : ` [${where}]`}. ${says}`);
      }),
      ...(rest > 0 ? item(`and ${rest} more of this kind; --format json lists them all`) : []),
    ];
  });
  const head = `The smallest change that would: with ${bitText(candidate.bit, style)} at the least depths, ${
    needed.length === 1 ? 'this' : 'all of these'
  }`;
  const after =
    mended === undefined
      ? 'A drawing changed so wants its own check; this one cannot be checked before it is drawn.'
      : `Put through every check, the job changed so: ${ANSWER_WORDS[mended]}.`;
  return [
    '',
    ...wrap(head, width).map((line) => ink.strong(line)),
    ...lines,
    ...wrap(after, width),
    ...(scale === undefined
      ? []
      : wrap(
          `Or scale both drawings by ${scale.toFixed(2)}: with this bit there are depths then at which no check fails.`,
          width,
        )),
  ];
}

/** Each bit with how far its depths may go. */
function bitLines(choice: Choice, ink: Ink, width: number): string[] {
  if (choice.bits.length === 0) return [];
  return [
    '',
    ink.strong('The bits looked at'),
    ...choice.bits.flatMap((bit, n) => ['', ...oneBit(choice.facts, bit, n === choice.best, ink, width)]),
  ];
}

const FROM = { job: "the job's own", list: 'listed', usual: 'commonly sold' } as const;

function oneBit(facts: Facts, answer: BitAnswer, best: boolean, ink: Ink, width: number): string[] {
  const { candidate, proposal, ranges, missed, lost } = answer;
  const style = facts.job.units;
  const name = candidate.name === undefined ? FROM[candidate.from] : `"${printable(candidate.name)}"`;
  const right = proposal === undefined ? 'nothing passes' : `${timesText(marginOf(proposal.held))}`;
  const left = `${bitText(candidate.bit, style)}, ${name}`;
  const [first = '', ...more] = wrap(left, width - columns(right) - 4);
  const hang = (label: string, text: string): string[] =>
    wrap(printable(text), width - HUNG).map(
      (line, k) => `${' '.repeat(INDENT)}${padEnd(k === 0 ? label : '', HUNG - INDENT)}${line}`,
    );
  const inkOf = proposal === undefined ? ink.bad : answerInk(proposal.checked.answer, ink);
  const lead = `${best ? '>' : ' '} ${first}`;
  return [
    (best ? ink.strong(lead) : lead) +
      ' '.repeat(Math.max(1, width - columns(lead) - columns(right))) +
      inkOf(right),
    ...more.map((line) => `  ${line}`),
    ...(proposal === undefined ? [] : hang('depths', depthsText(proposal, style))),
    ...(ranges === undefined
      ? []
      : [
          ...hang('mating', rangeText(ranges.mating, style)),
          ...hang('glue gap', rangeText(ranges.glue, style)),
          ...hang('saw gap', rangeText(ranges.saw, style)),
        ]),
    ...(proposal === undefined ? [] : notKept(proposal))
      .slice(0, MISSED_SHOWN)
      .flatMap((one, k) => hang(k === 0 ? 'not kept' : '', missedText(one, style))),
    ...missed
      .slice(0, MISSED_SHOWN)
      .flatMap((one, k) => hang(k === 0 ? 'misses' : '', missedText(one, style))),
    ...(missed.length > MISSED_SHOWN ? hang('', `and ${missed.length - MISSED_SHOWN} limits more`) : []),
    ...lostLines(lost, style).flatMap((text, k) => hang(k === 0 ? 'lost' : '', text)),
  ];
}

const HUNG = 15;

function depthsText({ depth, checked }: Proposal, style: LengthStyle): string {
  const { mating, glue, saw } = depth;
  const bare = (value: number): string => showBare(value, 'mm', style);
  return `mating ${bare(mating)}, glue gap ${bare(glue)}, saw gap ${show(saw, 'mm', style)}: ${ANSWER_WORDS[checked.answer]}`;
}

/** How far one depth may go, and in brackets what ends it on either side. */
function rangeText({ least, leastBy, most, mostBy }: Range, style: LengthStyle): string {
  const low = `${show(least, 'mm', style)} (${leastName(leastBy)})`;
  if (mostBy === undefined) return `${low} and more; nothing that the job tells ends it`;
  return `${low} to ${show(most, 'mm', style)} (${mostBy.label})`;
}

const leastName = (id: string): string =>
  id === 'pocket.start-depth'
    ? "the pocket's own start depth"
    : (RULES.find((rule) => rule.id === id)?.row ?? id);

function missedText(one: Held, style: LengthStyle): string {
  const { have, need } = heldFigures(one, style);
  const where = placeText(
    { ...one.reading.place, file: undefined, line: undefined, element: undefined },
    style,
  );
  return `${one.label}: have ${have}, need ${need}${where === '' ? '' : ` [${where}]`}`;
}

function lostLines(lost: readonly Lost[], style: LengthStyle): string[] {
  const name = { pocket: 'Stroke', plug: 'Land' } as const;
  const told = lost.slice(0, LOST_SHOWN).map(({ side, at, width, length, barely }) => {
    const where = `${show(width, 'mm', style)} wide at ${showBare(at[0], 'mm', style)}, ${show(at[1], 'mm', style)}`;
    const long = length > 0 ? `, over ${show(length, 'mm', style)}` : '';
    return barely
      ? `${name[side]} ${where} (${side}): the tip barely gets in.`
      : `${name[side]} ${where} (${side})${long}: too fine for the tip.`;
  });
  return lost.length > LOST_SHOWN ? [...told, `and ${lost.length - LOST_SHOWN} more`] : told;
}

function noteLines(choice: Choice, ink: Ink, width: number): string[] {
  if (choice.drawings.length > 0) return [];
  const chosen = chosenOf(choice);
  const notes = [...widerNotes(choice, chosen)];
  notes.push(
    '"1.50 times" says how often the tightest limit is kept: what there is over what is wanted, less what the measuring may be off; for the line at the rim it is the line that 95 of 100 cuts stay below.',
    'A range holds while the other two depths are at their least.',
  );
  if (choice.bits.some(({ ranges, rangesTier }) => ranges !== undefined && rangesTier === 'hard'))
    notes.push('Where not all that is wanted can be kept, a range runs to where a check fails.');
  if (choice.bits.some(({ candidate }) => candidate.from === 'usual'))
    notes.push(
      'Bits commonly sold: angles, tips and widths are common practice, no source. Put those you own in a file and name it with --bits.',
    );
  return [
    '',
    ...notes.flatMap((note) =>
      wrap(note, width - 2).map((line, k) => ink.faint(`${k === 0 ? '- ' : '  '}${line}`)),
    ),
  ];
}

/** A bit that is not at hand is only named when it is worth buying. */
function widerNotes({ bits, facts }: Choice, chosen: BitAnswer | undefined): string[] {
  if (chosen?.proposal === undefined) return [];
  const margin = marginOf(chosen.proposal.held);
  const wider = bits
    .filter(({ candidate, proposal }) => candidate.from === 'usual' && proposal?.checked.answer !== 'care')
    .filter(({ proposal }) => proposal !== undefined && marginOf(proposal.held) > WIDER * margin)
    .sort((a, b) => marginOf((b.proposal as Proposal).held) - marginOf((a.proposal as Proposal).held))[0];
  if (wider?.proposal === undefined || wider === chosen) return [];
  return [
    `A bit that is not the job's would leave more: ${bitText(wider.candidate.bit, facts.job.units)}, ${timesText(marginOf(wider.proposal.held))}.`,
  ];
}
