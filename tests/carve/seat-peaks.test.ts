import { describe, expect, it } from 'vitest';
import type { Pair } from '../../src/carve/fit.ts';
import { higherPlaces } from '../../src/carve/seat-peaks.ts';
import type { Place } from '../../src/carve/seat-place.ts';
import { levelSeat } from '../../src/carve/seat-settle.ts';

/** A pair of which nothing is known but how high it clashes at a point. */
function clashing(lift: (x: number, y: number) => number): Pair {
  const real = { t: 0.25, r: 0.05, ball: 0 };
  return {
    mating: 0,
    middle: [100, 80],
    plug: { depth: (x: number, y: number) => -lift(x, y), real, nominal: real },
    pocket: { depth: () => 0, real, nominal: real },
  } as unknown as Pair;
}

const startAt = (pair: Pair, x: number, y: number): Place =>
  ({ x, y, rides: 'plug', own: pair.plug.depth(x, y), lift: -pair.plug.depth(x, y) }) as unknown as Place;

/** Uphill from near the middle, level: what is held at the most is found without moving. */
function walked(pair: Pair): readonly Place[] {
  const from = [startAt(pair, 100, 80)];
  return higherPlaces(pair, from, levelSeat(pair, from), 10);
}

describe('walking uphill to where a plug is held highest', () => {
  it('finds the top of a ridge that rises to a point', () => {
    const pair = clashing((x, y) => 1 - 0.5 * Math.abs(x - 100.03) - 0.2 * Math.abs(y - 80.02));
    const [higher] = walked(pair);
    expect(higher?.lift).toBeCloseTo(1, 6);
  });

  it.each([
    ['beyond a brink', (x: number) => (x > 100.01 ? Number.POSITIVE_INFINITY : x - 99)],
    ['at a brink', (x: number) => (x > 100 ? Number.POSITIVE_INFINITY : x - 99)],
    ['on a cliff', (x: number) => 1 + 1e12 * Math.max(0, x - 100)],
    ['where nothing is known', () => Number.NaN],
  ])('ends, with a height there is, %s', (_, lift) => {
    const pair = clashing(lift);
    for (const { lift: found } of walked(pair)) expect(Number.isFinite(found)).toBe(true);
  });
});
