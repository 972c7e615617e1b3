import { describe, expect, it } from 'vitest';
import { heightOf, leastHeight, UNKNOWNS } from '../../src/carve/seat-least.ts';
import { seeded } from '../geometry/shapes-for-tests.ts';

const row = (...values: number[]): Float64Array =>
  Float64Array.of(...values, ...Array(6 - values.length).fill(0));
const NONE = [row(0)];
const origin = new Float64Array(UNKNOWNS);

/** What is to be made least: the highest bound, the highest rise, and the pull back to the centre. */
function cost(
  bounds: readonly Float64Array[],
  rises: readonly Float64Array[],
  centre: Float64Array,
  weight: number,
) {
  const highest = (rows: readonly Float64Array[], m: Float64Array): number =>
    Math.max(
      ...rows.map((one) => one.reduce((sum, v, i) => sum + (i === 0 ? v : v * (m[i - 1] as number)), 0)),
    );
  return (m: Float64Array): number =>
    highest(bounds, m) +
    highest(rises, m) +
    (weight / 2) * m.reduce((sum, v, i) => sum + (v - (centre[i] as number)) ** 2, 0);
}

describe('the motion that makes straight bounds and a pull least', () => {
  it('goes down one bound until the pull is as strong: slope over weight', () => {
    const { motion, height } = leastHeight([row(1, 3, 4)], NONE, origin, 10, 1e-12);
    expect([...motion]).toEqual([-0.3, -0.4, 0, 0, 0].map((v) => expect.closeTo(v, 12)));
    expect(height).toBeCloseTo(1 - 25 / 10, 12);
  });

  it('starts from the centre it is given', () => {
    const centre = Float64Array.of(2, 0, 0, 0, 1);
    const { motion, height } = leastHeight([row(0, 1)], [row(0, 0, 0, 0, 0, 2)], centre, 4, 1e-12);
    expect([...motion]).toEqual([1.75, 0, 0, 0, 0.5].map((v) => expect.closeTo(v, 12)));
    expect(height).toBeCloseTo(1.75 + 1, 12);
  });

  it('comes to rest in the valley between two bounds that face each other', () => {
    // 1 + x and 2 - 3 x meet at x = 1/4, 5/4 high; along y a third falls away as far as the pull lets it.
    const { motion, height } = leastHeight([row(1, 1, 1), row(2, -3, 1)], NONE, origin, 0.5, 1e-12);
    expect(motion[0]).toBeCloseTo(0.25, 10);
    expect(motion[1]).toBeCloseTo(-2, 10);
    expect(height).toBeCloseTo(1.25 - 2, 10);
  });

  it('is left by no small motion at a lower cost, whatever the bounds', () => {
    const random = seeded(11);
    const part = (): number => 2 * random() - 1;
    for (let n = 0; n < 200; n++) {
      const many = 1 + Math.floor(12 * random());
      const rows = (count: number) =>
        Array.from({ length: count }, () => Float64Array.from({ length: 6 }, part));
      const bounds = rows(many);
      const rises = rows(1 + (n % 4));
      const centre = Float64Array.from({ length: UNKNOWNS }, part);
      const weight = 10 ** (2 * part());
      const { motion, height } = leastHeight(bounds, rises, centre, weight, 1e-12);
      const of = cost(bounds, rises, centre, weight);
      const least = of(motion);
      expect(
        Math.max(...bounds.map((b) => heightOf(b, motion))) +
          Math.max(...rises.map((b) => heightOf(b, motion))),
      ).toBeCloseTo(height, 7);
      // The cost bends up by weight in every direction, so a motion d away costs at least weight d d / 2 more.
      for (let k = 0; k < 60; k++) {
        const far = 10 ** (-3 * random());
        const aside = Float64Array.from(motion, (v) => v + far * part());
        const d2 = aside.reduce((sum, v, i) => sum + (v - (motion[i] as number)) ** 2, 0);
        expect(of(aside) - least).toBeGreaterThan((weight / 2) * d2 - 1e-8);
      }
    }
  });

  it('does not mind bounds told twice, in whatever order', () => {
    const random = seeded(12);
    const bounds = Array.from({ length: 6 }, () => Float64Array.from({ length: 6 }, () => 2 * random() - 1));
    const once = leastHeight(bounds, NONE, origin, 0.3, 1e-12);
    const twice = leastHeight([...bounds.toReversed(), ...bounds], NONE, origin, 0.3, 1e-12);
    expect(twice.height).toBeCloseTo(once.height, 8);
    for (let i = 0; i < UNKNOWNS; i++) expect(twice.motion[i]).toBeCloseTo(once.motion[i] as number, 7);
  });

  it('stops short by no more than the tolerance', () => {
    const random = seeded(13);
    for (let n = 0; n < 40; n++) {
      const bounds = Array.from({ length: 9 }, () =>
        Float64Array.from({ length: 6 }, () => 2 * random() - 1),
      );
      const exact = leastHeight(bounds, NONE, origin, 0.3, 1e-13);
      const loose = leastHeight(bounds, NONE, origin, 0.3, 0.1);
      const of = cost(bounds, NONE, origin, 0.3);
      expect(of(loose.motion) - of(exact.motion)).toBeLessThan(0.1 + 1e-9);
    }
  });
});
