import { describe, expect, it } from 'vitest';
import { intersect, unionRings } from '../../src/geometry/combine.ts';
import { overlapArea, witnessArea } from '../../src/geometry/overlap.ts';
import { area, contains } from '../../src/geometry/region.ts';
import { mapRing, reversed } from '../../src/geometry/ring.ts';
import { circle, regionOf, seeded, square, starShaped } from './shapes-for-tests.ts';

describe('the overlap of two regions', () => {
  it('has an area, a place inside both, and a second library that agrees', () => {
    const a = regionOf(square(0, 0, 10));
    const b = regionOf(square(8, 7, 10));
    const overlap = overlapArea(a, b)!;
    expect(overlap.area).toBeCloseTo(6, 9);
    expect(Math.abs(witnessArea(a, b)! - 6)).toBeLessThanOrEqual(overlap.give);
    expect(contains(a, ...overlap.at) && contains(b, ...overlap.at)).toBe(true);
  });

  it('is undefined for regions that stay apart, touch in a point or share an edge only', () => {
    for (const x of [10, 12])
      expect(overlapArea(regionOf(square(0, 0, 10)), regionOf(square(x, 3, 10)))).toBeUndefined();
    expect(overlapArea(regionOf(square(0, 0, 10)), regionOf(square(10, 10, 10)))).toBeUndefined();
  });

  it('leaves out what lies in a hole', () => {
    const frame = regionOf(square(0, 0, 20), reversed(square(5, 5, 10)));
    expect(overlapArea(frame, regionOf(square(6, 6, 8)))).toBeUndefined();
    expect(overlapArea(frame, regionOf(square(4, 6, 8)))!.area).toBeCloseTo(8, 9);
  });

  it('ends, with the right area, on the noise and on the two triangles the second library cannot bear', () => {
    // Unsnapped, these two triangles keep it busy without end.
    const one = Float64Array.of(0, 0, 120, 7, 33, 91);
    const other = Float64Array.of(7.737951278686524e-16, 1.0979366302490235e-16, 120, 7, 33, 91);
    expect(overlapArea(regionOf(one), regionOf(other))!.area).toBeCloseTo(5344.5, 3);
    const random = seeded(8);
    const vee = Float64Array.of(0, 0, 14.2, 0, 52.3, 88.1, 90.4, 0, 101.7, 0, 57.9, 103.3, 46.1, 103.3);
    for (let k = 0; k < 300; k++) {
      const noisy = mapRing(vee, (x, y) => [x + 1e-9 * random(), y + 1e-9 * random()]);
      const { area: shared, give } = overlapArea(regionOf(vee), regionOf(noisy))!;
      expect(Math.abs(shared - area(regionOf(vee)))).toBeLessThanOrEqual(give);
    }
  });

  it('is not asked of the second library beyond its size, and then rests on the engine alone', () => {
    const large = regionOf(circle(0, 0, 100, 20_001));
    expect(witnessArea(large, regionOf(square(0, 0, 10)))).toBeUndefined();
    const overlap = overlapArea(large, regionOf(square(0, 0, 10)))!;
    expect(overlap.area).toBeCloseTo(100, 6);
  });

  it('is never smaller than either library finds it, nor larger than their grid allows, on unrelated outlines', () => {
    const random = seeded(21);
    for (let k = 0; k < 100; k++) {
      const a = unionRings([starShaped(random, 0, 0, 20, 15)], 'nonzero');
      const b = unionRings([starShaped(random, 15, 5, 20, 15)], 'nonzero');
      const overlap = overlapArea(a, b);
      if (overlap === undefined) continue;
      const engine = area(intersect(a, b));
      expect(overlap.area).toBeGreaterThanOrEqual(Math.max(engine, witnessArea(a, b)!));
      expect(overlap.area - engine).toBeLessThanOrEqual(overlap.give);
    }
  });
});
