import type { Land, Recut, RecutAnswer } from '../advice/recut.ts';
import type { Left } from '../advice/recut-left.ts';
import type { Point } from '../geometry/shapes.ts';
import { type LengthStyle, show, showBare } from '../units.ts';
import type { Ink } from './colour.ts';
import { columns, padEnd, padStart, printable, wrap } from './layout.ts';
import { ANSWER_WORDS, answerInk, figureWords, notPassing, placeText } from './sheet.ts';

export const RECUT_WORDS: Readonly<Record<RecutAnswer, string>> = {
  sound: 'NO SECOND CUT NEEDED',
  saved: 'CAN BE SAVED',
  care: 'CAN BE SAVED WITH CARE',
  lost: 'NOT SAVED THIS WAY',
  unknown: 'CANNOT TELL',
};

const INKS = { sound: 'pass', saved: 'pass', care: 'care', lost: 'fail', unknown: 'unknown' } as const;

/** A place on the old outline that the text tells and the plan marks, by the same number. */
export interface RecutPlace {
  readonly number: number;
  readonly at: Point;
  readonly bad: boolean;
  readonly says: string;
}

export interface RecutSettings {
  readonly ink: Ink;
  /** Columns, at least 60. */
  readonly width: number;
}

const NAME = 'CUT AGAIN  ';
const FIGURE = 14;
const INDENT = 5;
/** Places of one kind that are told; more are counted. */
const SHOWN = 6;

/** The repair in words and figures. Ends with a newline. */
export function recutText(plan: Recut, { ink, width }: RecutSettings): string {
  const lines = [...heading(plan, ink, width), ...(plan.answer === 'sound' ? [] : body(plan, ink, width))];
  return `${lines.map((line) => line.trimEnd()).join('\n')}\n`;
}

function heading({ answer, facts, ...plan }: Recut, ink: Ink, width: number): string[] {
  const words = RECUT_WORDS[answer];
  const room = width - columns(words);
  const [title = '', ...more] = wrap(printable(facts.job.title), room - NAME.length - 2);
  return [
    ink.strong(padEnd(NAME + title, room)) + answerInk(INKS[answer], ink)(words),
    ...more.map((line) => ink.strong(' '.repeat(NAME.length) + line)),
    ...wrap(printable(facts.job.file), width).map((line) => ink.faint(line)),
    ...wrap(recutSentence({ answer, facts, ...plan }), width),
  ];
}

/** The answer in one or two sentences. */
export function recutSentence(plan: Recut): string {
  const { answer, growth, deeper, facts } = plan;
  const length = facts.length;
  const advice =
    deeper.taken > 0
      ? `Grow the outline by ${length(growth.taken)} all round and cut the pocket ${length(deeper.taken)} deeper`
      : `Grow the outline by ${length(growth.taken)} all round and cut the pocket as deep as before`;
  switch (answer) {
    case 'sound':
      return 'By what you say nothing is wrong with the pocket: nothing is glued in, nothing is hurt, and it is as deep as meant. A new plug from the drawing there is will do.';
    case 'saved':
      return `${advice}: nothing of the first cut is left then, and the new pair passes every check.`;
    case 'care':
      return `${advice}: nothing of the first cut is left then. The new pair passes with care; what is marked CLOSE or NOT SEEN wants a look before the cut.`;
    case 'unknown':
      return `${advice}, and nothing of the first cut is left; but the job does not say enough to tell whether the new pair closes.`;
    case 'lost':
      return lostSentence(plan, advice);
  }
}

function lostSentence(plan: Recut, advice: string): string {
  const { takesAll, left, growth, deeper, facts } = plan;
  if (!takesAll) {
    const least = `The least that takes all of it is ${facts.length(growth.least)} of growth and ${facts.length(deeper.least)} of extra depth.`;
    return left.length > 0
      ? `Refused: old wood would be left at the places below. ${least}`
      : `Refused: it is less than what is known to take everything, though no place was found where old wood would be left. ${least}`;
  }
  const grown =
    plan.seen.growth === undefined
      ? `to take everything the outline must grow by ${facts.length(growth.taken)}, and then`
      : `with the growth of ${facts.length(growth.taken)} that you asked for (the least is ${facts.length(growth.least)})`;
  if (plan.lands.some(({ after }) => after <= 0))
    return `Refused: ${grown} land between strokes closes at the places below.`;
  if (plan.changed) return `Refused: ${grown} parts of the drawing run into one another.`;
  return `${advice}, and nothing of the first cut is left; but the new pair does not pass. The rows below say what would show in the wood.`;
}

/** What is marked on the plan: where old wood stays, and lands that get narrow. */
export function recutPlaces({ left, lands, facts }: Recut): readonly RecutPlace[] {
  const { length } = facts;
  const stays = ({ at, depth, short }: Left) => ({
    at,
    bad: true,
    says: `Old wood is left at a depth of ${length(depth)}: the new cut falls ${length(short)} short of it.`,
  });
  const narrow = ({ at, before, after }: Land) => ({
    at,
    bad: after <= 0,
    says:
      after <= 0
        ? `The land here is ${length(before)} wide and closes.`
        : `The land here goes from ${length(before)} to ${length(after)}.`,
  });
  return [...left.slice(0, SHOWN).map(stays), ...lands.slice(0, SHOWN).map(narrow)].map((place, k) => ({
    number: k + 1,
    ...place,
  }));
}

function body(plan: Recut, ink: Ink, width: number): string[] {
  return [
    '',
    ...budgetLines(plan, ink, width),
    ...lessLines(plan, width),
    ...placeLines(plan, width),
    '',
    ...changeLines(plan, ink, width),
    ...checkLines(plan, ink, width),
    ...noteLines(plan, ink, width),
  ];
}

function budgetLines({ parts, growth, deeper, facts }: Recut, ink: Ink, width: number): string[] {
  const style = facts.job.units;
  const row = (label: string, sideways: string, below: string): string =>
    padEnd(' '.repeat(INDENT) + label, width - 2 * FIGURE) +
    padStart(sideways, FIGURE) +
    padStart(below, FIGURE);
  const figure = (value: number): string => (Math.abs(value) < 5e-6 ? '-' : show(value, 'mm', style));
  return [
    ink.faint(row('', 'sideways', 'below')),
    ...parts.map(({ what, sideways, below }) => row(upper(what), figure(sideways), figure(below))),
    row('Least that takes everything', show(growth.least, 'mm', style), show(deeper.least, 'mm', style)),
    ink.strong(row('Taken', show(growth.taken, 'mm', style), show(deeper.taken, 'mm', style))),
  ];
}

const upper = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

function lessLines({ leftAtLess, growth, facts }: Recut, width: number): string[] {
  const worst = leftAtLess[0];
  if (growth.least === 0 || !worst) return [];
  const { length } = facts;
  return [
    '',
    ...wrap(
      `Nine tenths of the least growth would leave old wood, ${length(worst.short)} of it ${pointText(worst.at, facts.job.units)}.`,
      width,
    ),
  ];
}

const pointText = (at: Point, style: LengthStyle): string =>
  `at ${showBare(at[0], 'mm', style)}, ${show(at[1], 'mm', style)}`;

function placeLines(plan: Recut, width: number): string[] {
  const places = recutPlaces(plan);
  const more = Math.max(0, plan.left.length - SHOWN) + Math.max(0, plan.lands.length - SHOWN);
  const lines = places.flatMap(({ number, at, says }) => {
    const { element } = plan.facts.markAt('pocket', at);
    const text = `${says} [${printable(element)}, ${pointText(at, plan.facts.job.units)}]`;
    return wrap(text, width - INDENT).map((line, k) => padEnd(k === 0 ? `(${number})` : '', INDENT) + line);
  });
  if (more > 0) lines.push(`${' '.repeat(INDENT)}and ${more} more; --format json lists them all`);
  return lines.length > 0 ? ['', ...lines] : [];
}

/** What changes in the job: figures before and after. */
function changeLines(plan: Recut, ink: Ink, width: number): string[] {
  const { facts, pair, fresh, old } = plan;
  const style = facts.job.units;
  const row = (label: string, was: string, is: string): string =>
    padEnd(' '.repeat(INDENT) + label, width - 2 * FIGURE) + padStart(was, FIGURE) + padStart(is, FIGURE);
  const figure = (value: number | undefined): string =>
    value === undefined ? '-' : show(value, 'mm', style);
  const lines = [
    ink.faint(row('', 'was', 'will be')),
    row('Pocket, flat depth', figure(old.flat), figure(fresh.flat)),
  ];
  if (pair === undefined) return lines;
  const next = pair.facts;
  const floor = (of: typeof facts): number | undefined => {
    const { thickness } = of.job.pocket.stock;
    return thickness === undefined ? undefined : thickness - of.depths.pocketTotal;
  };
  return [
    ...lines,
    row('Plug, start depth', figure(facts.job.plug.startDepth), figure(next.job.plug.startDepth)),
    row('Glue gap', figure(facts.depths.glue), figure(next.depths.glue)),
    row('Board under the pocket', figure(floor(facts)), figure(floor(next))),
    row(
      'Narrowest land between strokes',
      figure(facts.leastLand('pocket')?.width),
      figure(next.leastLand('pocket')?.width),
    ),
  ];
}

/** What the checks say of the new pair: its answer, and every row that does not pass. */
function checkLines({ pair }: Recut, ink: Ink, width: number): string[] {
  if (pair === undefined) return [];
  const { checked, facts } = pair;
  const style = facts.job.units;
  const answer = `${answerInk(checked.answer, ink)(ANSWER_WORDS[checked.answer])}`;
  const lines = ['', `The new pair, put through every check: ${answer}`];
  const indented = (text: string): string[] =>
    wrap(printable(text), width - INDENT).map((line) => ' '.repeat(INDENT) + line);
  for (const check of checked.checks) {
    for (const reading of notPassing(check).slice(0, 3)) {
      const { have, need } = figureWords(reading, style);
      const word = reading.outcome === 'fail' ? ink.bad('FAIL') : ink.care('CLOSE');
      lines.push(
        `${' '.repeat(INDENT)}${printable(reading.label ?? check.row)}  ${word}  have ${have}, need ${need}`,
      );
      const where = placeText({ ...reading.place, file: undefined, line: undefined }, style);
      lines.push(...indented(where === '' ? reading.says : `${reading.says} [${where}]`));
      if (reading.cure !== undefined) lines.push(...indented(`Mend: ${reading.cure}`));
    }
    for (const missing of check.untold)
      lines.push(`${' '.repeat(INDENT)}${check.row}  ${ink.unseen('NOT SEEN')}`, ...indented(missing));
  }
  return lines;
}

/** What the figures cannot do for the maker. */
function noteLines({ answer, growth, facts, seen }: Recut, ink: Ink, width: number): string[] {
  if (answer === 'lost' || answer === 'unknown') return [];
  const notes = [
    'Saw or plane the old plug flush first, and take the depth zero from the face of the board.',
    growth.taken > 0
      ? `The growth rounds outward corners, by a radius of ${facts.length(growth.taken)} at the face; inward corners stay sharp. The new plug has the same corners.`
      : '',
    `This holds as long as the board lies within ${facts.length(seen.shift)} of its old place${seen.turn > 0 ? ' and within the turn' : ''} you stated. Try the path in the air along the old rim first.`,
  ];
  const lines = notes
    .filter((note) => note !== '')
    .flatMap((note) => wrap(note, width - 2).map((line, k) => `${k === 0 ? '- ' : '  '}${line}`));
  return ['', ink.strong('Before the cut'), ...lines];
}
