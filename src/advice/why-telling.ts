import type { Evidence } from './why-evidence.ts';
import { easeOf, everyMeasure, expected, keyOf, type Measure, sigmaOf } from './why-measures.ts';
import type { Scene } from './why-scene.ts';
import type { Sized } from './why-size.ts';
import type { Outcome } from './why-trial.ts';

/** A measurement that tells two causes apart, at one place or a few, and what it would be with each. */
export interface Telling {
  readonly kind: Measure['kind'];
  readonly readings: readonly Expected[];
  /** How far apart the two causes are, in standard uncertainties of the measuring and of both sizes. */
  readonly apart: number;
}

export interface Expected {
  readonly measure: Measure;
  readonly first: number;
  readonly second: number;
}

interface Placed extends Expected {
  readonly sigma: number;
  readonly square: number;
}

/** Two expectations nearer than this many standard uncertainties are not told apart. */
export const TOLD_APART = 2;
/** So far apart that no further place need be measured. */
const ENOUGH = 3;
const MOST_PLACES = 4;

/** Sets two causes against each other, with all that was seen so far and the fit with nothing wrong. */
export interface Question {
  readonly scene: Scene;
  readonly evidence: readonly Evidence[];
  readonly none: Outcome;
}

/**
 * Every kind of measurement and how well it tells two causes apart, the best first. `which`: those not made yet, with
 * both sizes as loose as what was seen leaves them; or all there are, at exactly these sizes.
 */
export function tellings(question: Question, a: Sized, b: Sized, which: 'new' | 'all'): readonly Telling[] {
  const { scene, evidence, none } = question;
  const made = new Set<string>(
    evidence.map(({ reading, path }) => (reading === undefined ? `${path} ` : keyOf(reading.measure))),
  );
  const [looseA, looseB] = [a, b].map((sized) => (which === 'new' ? loosenessOf(question, sized) : 0)) as [
    number,
    number,
  ];
  const kinds = new Map<Measure['kind'], Placed[]>();
  for (const measure of everyMeasure(scene)) {
    if (which === 'new' && made.has(keyOf(measure))) continue;
    const [first, second, nothing] = [a.outcome, b.outcome, none].map((o) => expected(scene, measure, o)) as [
      number,
      number,
      number,
    ];
    const sigma = sigmaOf(scene, measure);
    const variance = sigma ** 2 + looseA * (first - nothing) ** 2 + looseB * (second - nothing) ** 2;
    const square = (first - second) ** 2 / variance;
    const list = kinds.get(measure.kind) ?? [];
    kinds.set(measure.kind, [...list, { measure, first, second, sigma, square }]);
  }
  return [...kinds]
    .map(([kind, list]) => fewOf(kind, list, which === 'new'))
    .sort((p, q) => q.apart * easeOf(q.kind) - p.apart * easeOf(p.kind));
}

/**
 * As few places as tell enough. Where both causes come to the same as at another place a reading only steadies that
 * one; such places come last, and only when they are asked for.
 */
function fewOf(kind: Measure['kind'], list: readonly Placed[], steadied: boolean): Telling {
  const sorted = [...list].sort((p, q) => q.square - p.square);
  const taken: Placed[] = [];
  let sum = 0;
  const take = (from: readonly Placed[], again: boolean): void => {
    for (const placed of from) {
      if (Math.sqrt(sum) >= ENOUGH || taken.length === MOST_PLACES) break;
      if (taken.includes(placed) || (!again && taken.some((other) => isSame(other, placed)))) continue;
      sum += placed.square;
      taken.push(placed);
    }
  };
  take(sorted, false);
  if (steadied && Math.sqrt(sum) < ENOUGH) take(sorted, true);
  return { kind, readings: taken, apart: Math.sqrt(sum) };
}

const isSame = (p: Placed, q: Placed): boolean =>
  Math.abs(p.first - q.first) < p.sigma / 4 && Math.abs(p.second - q.second) < p.sigma / 4;

/** Variance of the share by which a cause's size may be off and explain what was seen as well. */
function loosenessOf({ evidence, none }: Question, { outcome }: Sized): number {
  const told = evidence.reduce((sum, { off }) => sum + (off(outcome) - off(none)) ** 2, 0);
  return 1 / Math.max(told, 1);
}
