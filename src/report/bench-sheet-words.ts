import type { Amiss, BenchSheet, Cell, Figure, Told } from '../advice/bench-sheet.ts';
import type { Answer, Quantity } from '../engine/reading.ts';
import { type LengthStyle, poundsForce, show, showBare } from '../units.ts';

/** Rows that do not pass are told in full up to so many; the rest are counted. */
const TOLD_AMISS = 3;

/** What the answer means for somebody who is about to cut. */
export const BENCH_SENTENCES: Readonly<Record<Answer, string>> = {
  pass: 'Everything measured is as it should be. A PASS is not a promise: test the fit before the glue.',
  care: 'Nothing measured is wrong, but look at these first:',
  fail: 'THIS JOB FAILS ITS DRY FIT. Do not cut it as it stands. The sheet is printed all the same, to be read beside the wood:',
  unknown: 'It cannot be told whether this will fit, for the job leaves out what is needed:',
};

export const AMISS_WORDS: Readonly<Record<Amiss['outcome'], string>> = {
  fail: 'FAIL',
  close: 'CLOSE',
  untold: 'NOT SEEN',
};

/** The rows on top of the sheet, and a line for those that found no room. */
export function amissTold({ amiss, job }: BenchSheet): {
  readonly rows: readonly Amiss[];
  readonly more: string | undefined;
} {
  const rest = amiss.length - TOLD_AMISS;
  const more = rest > 0 ? `and ${rest} more: dryfit check ${job}` : undefined;
  return { rows: amiss.slice(0, TOLD_AMISS), more };
}

/** What a cell says: its quantity in the job's unit, its words, or what is not given. */
export function toldText(told: Told, style: LengthStyle): string {
  if ('missing' in told) return `not given: ${told.missing}`;
  return 'words' in told ? told.words : quantityText(told.value, style);
}

/** A force in a job of inches is told in pounds too, for that is what its maker's clamps are sold by. */
function quantityText({ value, unit }: Quantity, style: LengthStyle): string {
  const text = show(value, unit, style);
  return unit === 'N' && style === 'in' ? `${text} (${(value / poundsForce(1)).toFixed(0)} lbf)` : text;
}

/** The bounds of a figure, such as `7.45 to 7.75`; empty when it has none. */
export function rangeText(figure: Figure, style: LengthStyle): string {
  if (!('value' in figure) || figure.from === undefined || figure.to === undefined) return '';
  const { unit, value } = figure.value;
  const bare = (bound: number): string =>
    unit === 'N' && style === 'in'
      ? (bound / poundsForce(1)).toFixed(0)
      : showBare(bound, unit, style, bound === value ? undefined : value);
  const name = unit === 'N' && style === 'in' ? ' lbf' : '';
  return `${bare(figure.from)} to ${bare(figure.to)}${name}`;
}

/** A letter for each ground on the sheet, in the order in which they are met. */
export function groundLetters(sheet: BenchSheet): ReadonlyMap<string, string> {
  const letters = new Map<string, string>();
  const meet = ({ ground }: { readonly ground?: string | undefined }): void => {
    if (ground !== undefined && !letters.has(ground)) letters.set(ground, letterOf(letters.size));
  };
  for (const { pocket, plug } of sheet.setup) for (const cell of [pocket, plug]) meet(cell);
  for (const { figures, notes } of sheet.steps) for (const item of [...figures, ...notes]) meet(item);
  for (const note of [...sheet.cautions, sheet.ranges]) meet(note);
  return letters;
}

const letterOf = (n: number): string => (n < 26 ? String.fromCharCode(97 + n) : `z${n - 25}`);

/** Whether both pieces are told the same. */
export function alike(a: Cell, b: Cell, style: LengthStyle): boolean {
  return toldText(a, style) === toldText(b, style) && a.ground === b.ground;
}
