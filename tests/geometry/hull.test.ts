import { describe, expect, it } from 'vitest';
import { hullOf } from '../../src/geometry/hull.ts';
import type { Point } from '../../src/geometry/shapes.ts';
import { seeded } from './shapes-for-tests.ts';

describe('the convex hull', () => {
  it('of points within a rectangle and on its edges is its corners, once round, whatever their order', () => {
    const corners: Point[] = [
      [-3, 1],
      [5, 1],
      [5, 4],
      [-3, 4],
    ];
    const others: Point[] = [
      [0, 1],
      [5, 2],
      [1, 4],
      [-3, 3],
      [0, 2],
      [4, 3.9],
      [-3, 1],
      [5, 4],
    ];
    expect(hullOf([...others, ...corners])).toEqual(corners);
    expect(hullOf([...corners.toReversed(), ...others])).toEqual(corners);
    expect(hullOf([])).toEqual([]);
  });

  it('reaches as far as the points do in every direction, by corners that all turn left', () => {
    const random = seeded(17);
    for (let n = 0; n < 40; n++) {
      const points = Array.from(
        { length: 3 + n },
        (): Point => [50 + Math.round(9 * random()), -70 + 30 * random()],
      );
      const hull = hullOf(points);
      for (let k = 0; k < 36; k++) {
        const [c, s] = [Math.cos((k * Math.PI) / 18), Math.sin((k * Math.PI) / 18)];
        const far = (some: readonly Point[]) => Math.max(...some.map(([x, y]) => c * x + s * y));
        expect(far(hull)).toBeCloseTo(far(points), 12);
      }
      for (const [k, b] of hull.entries()) {
        const [a, c] = [hull.at(k - 1)!, hull[(k + 1) % hull.length]!];
        expect((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])).toBeGreaterThan(0);
      }
    }
  });
});
