import type { Facts } from '../carve/facts.ts';
import type { CheckedJob } from '../engine/checked.ts';
import type { JudgedCheck, JudgedReading } from '../engine/judge.ts';
import type { Answer, Place } from '../engine/reading.ts';
import { type LengthStyle, show, showBare } from '../units.ts';
import type { Ink } from './colour.ts';
import { jobLines } from './head.ts';
import { columns, padEnd, padStart, printable, wrap } from './layout.ts';

export interface SheetSettings {
  readonly ink: Ink;
  /** Columns of the sheet, at least 60. */
  readonly width: number;
  /** Lines of a drawing to stand between the job and its figures. */
  readonly plan?: readonly string[] | undefined;
}

/** Not-passing readings of one check that get a row of their own; the rest are counted. */
const ROWS_A_CHECK = 5;
const HAVE = 11;
const NEED = 16;
const ROOM = 10;
const FIGURES = HAVE + NEED + ROOM;
/** Where a row's text begins, right of its balloon. */
const INDENT = 5;
/** Where a line of the job's summary begins, right of what it is about. */
const HUNG = 8;
const NAME = 'DRY FIT  ';

export const ANSWER_WORDS: Readonly<Record<Answer, string>> = {
  pass: 'PASS',
  care: 'PASS WITH CARE',
  fail: 'FAIL',
  unknown: 'CANNOT TELL',
};

export const ANSWER_SENTENCES: Readonly<Record<Answer, string>> = {
  pass: 'Everything measured is as it should be. A PASS is not a promise: test the fit before the glue.',
  care: 'Nothing measured is wrong, but what is marked CLOSE, NOT SEEN or not asked wants a look before the cut.',
  fail: 'Do not cut this yet: the rows marked FAIL would show in the wood.',
  unknown: 'Something needed is missing: the rows marked NOT SEEN say what.',
};

/**
 * The inspection sheet: the answer, the job in a few lines, then a row for each check with what is there (have),
 * what is wanted (need) and what is left between them (room). Rows that do not pass carry why and a mend.
 * Returns text that ends with a newline and holds no colour unless the ink does.
 */
export function sheet(checked: CheckedJob, facts: Facts, settings: SheetSettings): string {
  const width = Math.max(60, settings.width);
  const balloons = balloonsOf(checked);
  const style = facts.job.units;
  const lines = [
    ...heading(checked, width, settings.ink),
    ...jobLines(facts).flatMap((line) => hung(printable(line), width)),
    '',
    ...(settings.plan === undefined ? [] : [...settings.plan, '']),
    ...table(checked, balloons, style, width, settings.ink),
    ...ending(checked, width),
  ];
  return `${lines.map((line) => line.trimEnd()).join('\n')}\n`;
}

/** Balloon numbers of the readings that do not pass, in the order of the sheet; drawings use the same numbers. */
export function balloonsOf(checked: CheckedJob): ReadonlyMap<JudgedReading, number> {
  const numbers = new Map<JudgedReading, number>();
  for (const check of checked.checks)
    for (const reading of notPassing(check).slice(0, ROWS_A_CHECK)) numbers.set(reading, numbers.size + 1);
  return numbers;
}

/** The readings of a check that do not pass, worst first. */
export function notPassing(check: JudgedCheck): readonly JudgedReading[] {
  return check.readings
    .filter((reading) => reading.outcome !== 'pass')
    .sort((a, b) => Number(a.outcome === 'close') - Number(b.outcome === 'close'));
}

function heading(checked: CheckedJob, width: number, ink: Ink): string[] {
  const words = ANSWER_WORDS[checked.answer];
  const room = width - columns(words);
  const [title = '', ...more] = wrap(printable(checked.title), room - NAME.length - 2);
  return [
    ink.strong(padEnd(NAME + title, room)) + answerInk(checked.answer, ink)(words),
    ...more.map((line) => ink.strong(' '.repeat(NAME.length) + line)),
    ...wrap(printable(checked.job), width).map((line) => ink.faint(line)),
    ...wrap(ANSWER_SENTENCES[checked.answer], width),
    '',
  ];
}

/** A line of the job's summary; what is too long for the sheet goes on below, under what it belongs to. */
function hung(line: string, width: number): string[] {
  if (columns(line) <= width) return [line];
  const rest = line.slice(HUNG).trim().replace(/ {2,}/g, '; ');
  return wrap(rest, width - HUNG).map((part, i) => (i === 0 ? line.slice(0, HUNG) : ' '.repeat(HUNG)) + part);
}

function table(
  checked: CheckedJob,
  balloons: ReadonlyMap<JudgedReading, number>,
  style: LengthStyle,
  width: number,
  ink: Ink,
): string[] {
  const heads = padStart('have', HAVE) + padStart('need', NEED) + padStart('room', ROOM);
  const lines = [ink.faint(padStart(heads, width))];
  // A reason that keeps several checks in a row from looking is told once.
  let last: string | undefined;
  const once = (reason: string, again: string): string => {
    const known = reason === last;
    last = reason;
    return known ? again : reason;
  };
  for (const check of checked.checks) {
    const seen = checkRows(check, balloons, style, width, ink);
    if (seen.length > 0) last = undefined;
    lines.push(...seen, ...unseenRows(check, once, width, ink));
  }
  return lines;
}

function checkRows(
  check: JudgedCheck,
  balloons: ReadonlyMap<JudgedReading, number>,
  style: LengthStyle,
  width: number,
  ink: Ink,
): string[] {
  const bad = notPassing(check);
  const lines: string[] = [];
  for (const reading of bad.slice(0, ROWS_A_CHECK)) {
    const mark =
      reading.outcome === 'fail' ? { word: 'FAIL', ink: ink.bad } : { word: 'CLOSE', ink: ink.care };
    const name = { balloon: `(${balloons.get(reading)})`, label: reading.label ?? check.row };
    lines.push(...row(name, mark, figuresOf(reading, style), width), ...told(reading, style, width));
  }
  if (bad.length > ROWS_A_CHECK)
    lines.push(
      ...indented(`and ${bad.length - ROWS_A_CHECK} more of this kind; --format json lists them all`, width),
    );
  const closest = bad.length === 0 ? closestOf(check) : undefined;
  if (closest !== undefined)
    lines.push(...row({ label: closest.label ?? check.row }, undefined, figuresOf(closest, style), width));
  return lines;
}

/** What a check could not see, and why; or why it had nothing to look at. */
function unseenRows(
  check: JudgedCheck,
  once: (reason: string, again: string) => string,
  width: number,
  ink: Ink,
): string[] {
  const lines: string[] = [];
  for (const missing of check.untold) {
    const figures = padStart('-', HAVE) + ' '.repeat(NEED + ROOM);
    lines.push(...row({ label: check.row }, { word: 'NOT SEEN', ink: ink.unseen }, figures, width));
    lines.push(...indented(once(missing, 'The same is missing.'), width));
  }
  const why = check.outcome === 'moot' ? check.moot[0] : undefined;
  if (why !== undefined) {
    const text = `${check.row}: not looked at. ${once(why, 'The reason is the same.')}`;
    lines.push(...indented(text, width).map((line) => ink.faint(line)));
  }
  return lines;
}

/** One row: balloon, label, a word when it does not pass, figures. A label that needs the width stands above them. */
function row(
  { balloon = '', label }: { readonly balloon?: string; readonly label: string },
  mark: { readonly word: string; readonly ink: (text: string) => string } | undefined,
  figures: string,
  width: number,
): string[] {
  const word = mark === undefined ? '' : `${mark.word} `;
  const room = width - INDENT - word.length - columns(figures);
  const name = printable(label);
  const tail = mark === undefined ? figures : `${mark.ink(mark.word)} ${figures}`;
  if (columns(name) < room) return [padEnd(balloon, INDENT) + padEnd(name, room) + tail];
  const [first = '', ...more] = indented(name, width);
  return [
    padEnd(balloon, INDENT) + first.slice(INDENT),
    ...more,
    ' '.repeat(Math.max(0, width - word.length - columns(figures))) + tail,
  ];
}

const indented = (text: string, width: number): string[] =>
  wrap(text, width - INDENT).map((line) => ' '.repeat(INDENT) + line);

/** Why and mend of a reading that does not pass, with its place. */
function told(reading: JudgedReading, style: LengthStyle, width: number): string[] {
  const where = placeText(reading.place, style);
  const says = where === '' ? reading.says : `${reading.says} [${where}]`;
  const lines = indented(printable(says), width);
  if (reading.cure !== undefined) lines.push(...indented(printable(`Mend: ${reading.cure}`), width));
  return lines;
}

/** The place of a reading in a few words: part, element, point in the drawing, line of the file. */
export function placeText(place: Place, style: LengthStyle): string {
  const words: string[] = [];
  if (place.part === 'pocket' || place.part === 'plug') words.push(place.part);
  if (place.element !== undefined) words.push(place.element);
  if (place.at !== undefined)
    words.push(`at ${showBare(place.at[0], 'mm', style)}, ${show(place.at[1], 'mm', style)}`);
  if (place.line !== undefined)
    words.push(`${place.file === undefined ? '' : `${baseName(place.file)} `}line ${place.line}`);
  return words.join(', ');
}

/** The passing reading nearest its limit, as a share of that limit: the one a row of a passing check shows. */
export function closestOf(check: JudgedCheck): JudgedReading | undefined {
  let closest: JudgedReading | undefined;
  for (const reading of check.readings)
    if (closest === undefined || shareLeft(reading) < shareLeft(closest)) closest = reading;
  return closest;
}

function shareLeft(reading: JudgedReading): number {
  if (reading.room === undefined) return Number.POSITIVE_INFINITY;
  return reading.room / Math.max(Math.abs(limitOf(reading) ?? 0), 1e-3);
}

function figuresOf(reading: JudgedReading, style: LengthStyle): string {
  const { have, need, room } = figureWords(reading, style);
  // Figures with many digits take blanks from the columns beside them, and never touch.
  const left = `${have} ${padStart(need, Math.min(NEED, HAVE + NEED - columns(have)) - 1)}`;
  const all = `${left} ${padStart(room, Math.min(ROOM, FIGURES - columns(left)) - 1)}`;
  return padStart(all, FIGURES);
}

/** What a reading's row says under have, need and room. */
export function figureWords(
  reading: JudgedReading,
  style: LengthStyle,
): { readonly have: string; readonly need: string; readonly room: string } {
  const { measured, want } = reading;
  const unit = measured.unit;
  const limit = limitOf(reading);
  const have = show(measured.value, unit, style, limit);
  const bare = (value: number) => showBare(value, unit, style, measured.value);
  if (unit === 'yes') return { have, need: want.atMost === 0 ? 'no' : 'yes', room: '-' };
  let need = '-';
  if (want.atLeast !== undefined && want.atMost !== undefined)
    need = `${bare(want.atLeast)}..${bare(want.atMost)}`;
  else if (want.atLeast !== undefined) need = `>= ${bare(want.atLeast)}`;
  else if (want.atMost !== undefined) need = `<= ${bare(want.atMost)}`;
  const room = reading.room === undefined ? '-' : signed(showBare(reading.room, unit, style, 0));
  return { have, need, room };
}

/** Room carries its sign, so that what is missing never looks like what is left. */
function signed(text: string): string {
  return /[1-9]/.test(text) && !text.startsWith('-') ? `+${text}` : text;
}

function limitOf({ measured, want }: JudgedReading): number | undefined {
  if (want.atLeast !== undefined && want.atMost !== undefined)
    return measured.value - want.atLeast < want.atMost - measured.value ? want.atLeast : want.atMost;
  return want.atLeast ?? want.atMost;
}

function ending(checked: CheckedJob, width: number): string[] {
  const lines: string[] = [];
  if (checked.notAsked.length > 0)
    lines.push(...wrap(`Not asked, so not known: ${checked.notAsked.join(', ')}.`, width));
  const first = (['fail', 'close', 'untold'] as const)
    .map((outcome) => checked.checks.find((check) => check.outcome === outcome))
    .find((check) => check !== undefined);
  if (first !== undefined) lines.push(...wrap(`More about a row: dryfit explain ${first.id}`, width));
  return lines.length > 0 ? ['', ...lines] : [];
}

/** The ink an answer is written in. */
export function answerInk(answer: Answer, ink: Ink): (text: string) => string {
  if (answer === 'pass') return ink.good;
  if (answer === 'care') return ink.care;
  return answer === 'fail' ? ink.bad : ink.unseen;
}

export const baseName = (path: string): string =>
  path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1);
