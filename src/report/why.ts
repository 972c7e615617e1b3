import type { Left, Weighed, Why, WhyAnswer } from '../advice/why.ts';
import { FELT } from '../advice/why-evidence.ts';
import { type LengthStyle, show } from '../units.ts';
import type { Ink } from './colour.ts';
import { columns, padEnd, padStart, printable, wrap } from './layout.ts';
import { answerInk } from './sheet.ts';
import { causeName, measureName, measurePlace, plausibleWord, readingText, sizeText } from './why-words.ts';

export const WHY_WORDS: Readonly<Record<WhyAnswer, string>> = {
  'as-drawn': 'NOTHING NEED BE WRONG',
  one: 'ONE CAUSE FITS',
  several: 'SEVERAL CAUSES FIT',
  none: 'NONE OF THESE',
  unknown: 'CANNOT TELL',
};

const INKS = { 'as-drawn': 'pass', one: 'care', several: 'care', none: 'fail', unknown: 'unknown' } as const;

export interface WhyView {
  readonly ink: Ink;
  /** Columns, at least 60. */
  readonly width: number;
}

const NAME = 'TEST FIT  ';
const INDENT = 5;
const FIGURE = 12;
/** Causes that explain it and are told with their figures; more are named. As many are set against one another. */
const SHOWN = 8;
/** Causes that come nearest when none explains it. */
const NEAREST = 3;

/** What may have gone wrong, in words and figures. Ends with a newline. */
export function whyText(why: Why, { ink, width }: WhyView): string {
  const lines = [...heading(why, ink, width), ...body(why, ink, width)];
  return `${lines.map((line) => line.trimEnd()).join('\n')}\n`;
}

function heading(why: Why, ink: Ink, width: number): string[] {
  const { answer, facts, seen } = why;
  const words = WHY_WORDS[answer];
  const room = width - columns(words);
  const [title = '', ...more] = wrap(printable(facts.job.title), room - NAME.length - 2);
  return [
    ink.strong(padEnd(NAME + title, room)) + answerInk(INKS[answer], ink)(words),
    ...more.map((line) => ink.strong(' '.repeat(NAME.length) + line)),
    ...wrap(`${printable(facts.job.file)}, seen: ${printable(seen.file)}`, width).map((line) =>
      ink.faint(line),
    ),
    ...wrap(whySentence(why), width),
  ];
}

/** The answer in a sentence or two. */
export function whySentence({ answer, causes, untold, asDrawn, seen, facts }: Why): string {
  const good = causes.filter(({ explains }) => explains);
  const style = facts.job.units;
  switch (answer) {
    case 'unknown':
      return `This pair cannot be fitted in numbers, so nothing can be weighed. ${untold ?? ''}`;
    case 'as-drawn':
      return `What you saw is what this job gives with nothing wrong, as far as readings good to ${show(seen.accuracy, 'mm', style)} can tell${asDrawn === undefined ? '' : ` (${leftText(asDrawn.worst, style)})`}. What it gives, and what would better it, is told by dryfit check.`;
    case 'none':
      return 'None of the causes weighed here explains what you saw, alone and at any size that can be. Look the readings over; two causes at once are not weighed.';
    case 'one':
      return 'Of the causes weighed here one explains all you saw. That is no proof: what is not weighed may do so too.';
    case 'several':
      return `${good.length === 1 ? 'One cause explains' : `${good.length} causes explain`} what you saw, each by itself${asDrawn !== undefined && good.length === 1 ? '; and so, less well, does the job with nothing wrong' : ''}. The likelier come first; none of them is sure.`;
  }
}

function body(why: Why, ink: Ink, width: number): string[] {
  const good = why.causes.filter(({ explains }) => explains);
  const style = why.facts.job.units;
  if (why.answer === 'unknown' || why.answer === 'as-drawn') return [];
  const rows =
    why.answer === 'none'
      ? why.causes.filter(({ size }) => size !== 0).slice(0, NEAREST)
      : good.slice(0, SHOWN);
  // No cause at any size comes nearer than the job as it is.
  if (rows.length === 0) return [];
  return [
    '',
    ink.faint(
      columnsOf(
        why.answer === 'none' ? '     What comes nearest' : '     What it may be',
        'would be',
        'times usual',
        'left over',
        width,
      ),
    ),
    ...rows.flatMap((cause, k) => rowLines(cause, k + 1, style, width)),
    ...moreLines(good.slice(SHOWN), width),
    ...alikeLines(why, width),
    ...nextLines(why, ink, width),
    ...(why.answer === 'none' ? [] : ['', ...noteLines(why, width)]),
  ];
}

function columnsOf(name: string, size: string, times: string, left: string, width: number): string {
  return (
    padEnd(name, width - 3 * FIGURE) + [size, times, left].map((text) => padStart(text, FIGURE)).join('')
  );
}

/** Two lines: the cause with its figures; how plausible that is, and the reading that fits worst. */
function rowLines(cause: Weighed, number: number, style: LengthStyle, width: number): string[] {
  const [first = '', ...rest] = wrap(causeName(cause), width - 3 * FIGURE - INDENT - 1);
  const times = Math.abs(cause.size) / cause.cause.usual;
  const figures = columnsOf(
    `${padEnd(`(${number})`, INDENT)}${first}`,
    sizeText(cause, style),
    times === 0 ? '-' : times.toFixed(1),
    leftAmount(cause.worst, style),
    width,
  );
  const more = `${upper(plausibleWord(cause))}; ${worstText(cause.worst, style)}.`;
  return [
    figures,
    ...rest.map((line) => ' '.repeat(INDENT) + line),
    ...wrap(more, width - INDENT).map((line) => ' '.repeat(INDENT) + line),
  ];
}

const upper = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

/** How far off the worst reading is; a dash where only words were seen. */
function leftAmount({ evidence, expected }: Left, style: LengthStyle): string {
  const { reading } = evidence;
  if (reading === undefined || expected === undefined) return '-';
  return readingText(reading.measure.kind, Math.abs(expected - reading.value), style);
}

function worstText({ evidence, expected, off }: Left, style: LengthStyle): string {
  const { reading, path } = evidence;
  if (reading === undefined || expected === undefined)
    return Math.abs(off) > 1 ? `"${path}" hardly fits` : `"${path}" fits`;
  const { kind } = reading.measure;
  const where = measurePlace(reading.measure, style);
  return `worst at ${kind}${where === '' ? '' : `, ${where}`}: ${readingText(kind, expected, style)} where you read ${readingText(kind, reading.value, style)}`;
}

const leftText = (left: Left, style: LengthStyle): string => worstText(left, style);

function moreLines(more: readonly Weighed[], width: number): string[] {
  if (more.length === 0) return [];
  const names = more.map((cause) => lower(causeName(cause))).join('; ');
  return wrap(`Less likely, and they explain it too: ${names}.`, width - INDENT).map(
    (line) => ' '.repeat(INDENT) + line,
  );
}

const lower = (text: string): string => `${text.charAt(0).toLowerCase()}${text.slice(1)}`;

/** Which of those that are told cannot be told apart. */
function alikeLines({ alike, causes }: Why, width: number): string[] {
  if (alike.length === 0) return [];
  const groups = groupsOf(alike.map(([a, b]) => [causes.indexOf(a), causes.indexOf(b)]));
  const told = groups.map((group) => listed(group.map((k) => `(${k + 1})`)));
  return [
    '',
    ...wrap(
      `At these sizes no measurement known here tells apart ${told.join('; ')}. Between those do first what is cheaper to undo.`,
      width,
    ),
  ];
}

/** Groups of which every two are one of the pairs; each pair is in one of them at least. */
function groupsOf(pairs: readonly (readonly [number, number])[]): readonly (readonly number[])[] {
  const isPair = (a: number, b: number): boolean =>
    pairs.some(([p, q]) => (p === a && q === b) || (p === b && q === a));
  const all = [...new Set(pairs.flat())].sort((a, b) => a - b);
  const groups: number[][] = [];
  for (const [a, b] of pairs) {
    if (groups.some((group) => group.includes(a) && group.includes(b))) continue;
    const group = [a, b];
    for (const c of all) if (!group.includes(c) && group.every((one) => isPair(one, c))) group.push(c);
    groups.push(group.sort((p, q) => p - q));
  }
  return groups;
}

function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

function nextLines({ next, causes, facts, answer }: Why, ink: Ink, width: number): string[] {
  const style = facts.job.units;
  if (next === undefined) return answer === 'several' ? looseLines(width) : [];
  const [a, b] = next.between.map((cause) => causes.indexOf(cause) + 1) as [number, number];
  const rows = next.readings.map(({ measure, first, second }) => {
    const where = measurePlace(measure, style);
    const [one, other] = [first, second].map((value) =>
      next.kind === 'rocks' ? (value > FELT ? 'yes' : 'no') : readingText(next.kind, value, style),
    );
    return `${padEnd(where === '' ? 'should be' : where, 14)} ${one} if (${a}), ${other} if (${b})`;
  });
  return [
    '',
    ink.strong('Measure next'),
    ...wrap(
      `${upper(measureName(next.kind))}: of all measurements not made yet it best tells (${a}) from (${b}).`,
      width - INDENT,
    ).map((line) => ' '.repeat(INDENT) + line),
    ...rows.map((row) => ' '.repeat(INDENT) + row),
    ...(answer === 'several'
      ? wrap(`Write it as "${next.kind}" in the file and ask again.`, width - INDENT).map(
          (line) => ' '.repeat(INDENT) + line,
        )
      : []),
  ];
}

/** What was seen leaves the sizes so loose that nothing tells the causes apart. */
function looseLines(width: number): string[] {
  return [
    '',
    ...wrap(
      'What was seen so far leaves much open: measure how proud it stands in the middle and at the sides, and the line at the rim on every side.',
      width,
    ),
  ];
}

function noteLines({ seen, facts }: Why, width: number): string[] {
  const style = facts.job.units;
  return wrap(
    `Sizes are what each cause would have to be alone. Usual is what the job's spread says, or common practice where it has no word. Readings are taken to be good to ${show(seen.accuracy, 'mm', style)}, the plug pressed ${seen.pressed === 'hand' ? 'by hand' : 'level under a caul'}.`,
    width,
  );
}
