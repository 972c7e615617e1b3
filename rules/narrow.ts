import type { Facts, Side } from '../src/carve/facts.ts';
import { quantity } from '../src/engine/judge.ts';
import type { Reading } from '../src/engine/reading.ts';
import type { NarrowRun } from '../src/geometry/width.ts';
import { show } from '../src/units.ts';
import { placeAt } from './place.ts';

/** How one side's narrow places are told: pocket strokes and plug lands differ in words only. */
export interface Telling {
  readonly side: Side;
  readonly tip: number;
  readonly runs: readonly NarrowRun[];
  readonly least: { readonly width: number; readonly at: readonly [number, number] } | undefined;
  readonly label: string;
  /** What a narrow place is called: a stroke and its kinds, or simply a gap. */
  readonly name: (kind: NarrowRun['kind']) => string;
  readonly narrow: (over: string) => string;
  readonly close: string;
  readonly fine: string;
  readonly cure: (width: string) => string;
}

/**
 * A reading for each place narrower than wanted, worst first, or the narrowest place of all when none is. A sharp
 * tip (a corner under 30 degrees) narrows to nothing by its nature and is no stroke: what the bit rounds off there
 * belongs to the fit and not to this check.
 */
export function narrowReadings(facts: Facts, telling: Telling): Reading[] {
  const { side, tip, runs, least } = telling;
  const atLeast = tip + facts.limit('tip-spare-least');
  const give = facts.outlineGive();
  const strokes = runs.filter((run) => run.kind !== 'sharp-tip');
  if (strokes.length === 0)
    return [
      {
        measured: quantity(least?.width ?? Number.POSITIVE_INFINITY, 'mm'),
        give: 0,
        want: { atLeast: tip },
        place: least === undefined ? { part: side } : placeAt(facts, side, least.at),
        label: telling.label,
        says: telling.fine,
      },
    ];
  return strokes.map((run) => ({
    measured: quantity(run.width, 'mm'),
    give,
    want: { atLeast, hardAtLeast: tip },
    place: placeAt(facts, side, run.at),
    label: `${telling.name(run.kind)}, ${side}`,
    says: run.width < tip ? `${telling.narrow(overOf(facts, run))}${lost(facts, run)}` : telling.close,
    cure: telling.cure(facts.length(atLeast)),
  }));
}

export const STROKE_NAMES: Readonly<Record<NarrowRun['kind'], string>> = {
  neck: 'Neck',
  'dead-end': 'Fine end',
  'sharp-tip': 'Sharp tip',
  'thin-island': 'Thin piece',
  'small-island': 'Small piece',
};

/** A piece no longer than wide has neither a length nor a line of which the lost area could be told. */
const isLong = (facts: Facts, { length }: NarrowRun): boolean => length > facts.outlineGive();

const overOf = (facts: Facts, run: NarrowRun): string =>
  isLong(facts, run) ? ` over a length of ${facts.length(run.length)}` : '';

function lost(facts: Facts, run: NarrowRun): string {
  if (!isLong(facts, run)) return '';
  return ` About ${show(run.area, 'mm2', facts.job.units)} of the design is lost.`;
}
