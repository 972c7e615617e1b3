import { describe, expect, it } from 'vitest';
import { symmetries } from '../../src/geometry/register-symmetry.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import { circle, regionOf, ring, seeded, square, starShaped } from './shapes-for-tests.ts';

/** Counts of turns and reflections. */
const counts = (region: Region): readonly [number, number] => {
  const found = symmetries(region, 0.01);
  return [found.filter((s) => !s.motion.reflect).length, found.filter((s) => s.motion.reflect).length];
};

describe('symmetries of a design (orders of the dihedral and cyclic groups)', () => {
  it.each([3, 4, 5, 6, 8])('a regular shape of %i corners has as many turns and as many reflections', (n) => {
    expect(counts(regionOf(circle(12, 30, 25, n)))).toEqual([n, n]);
  });

  it('a rectangle has two of each, a slanted one two turns, an isosceles triangle one of each', () => {
    expect(counts(regionOf(ring(0, 0, 50, 0, 50, 20, 0, 20)))).toEqual([2, 2]);
    expect(counts(regionOf(ring(0, 0, 50, 0, 62, 20, 12, 20)))).toEqual([2, 0]);
    expect(counts(regionOf(ring(0, 0, 40, 0, 20, 50)))).toEqual([1, 1]);
  });

  it('an odd shape only has itself, and so has a square with a mark off its axes', () => {
    expect(counts(regionOf(starShaped(seeded(9), 0, 0, 30, 23)))).toEqual([1, 0]);
    expect(counts(regionOf(square(0, 0, 40), square(50, 7, 3)))).toEqual([1, 0]);
  });

  it('nothing has none', () => {
    expect(symmetries({ rings: [] }, 0.01)).toEqual([]);
  });
});
