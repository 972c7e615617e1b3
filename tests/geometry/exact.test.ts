import { describe, expect, it } from 'vitest';
import { crossingOf } from '../../src/geometry/exact.ts';
import { seeded } from './shapes-for-tests.ts';

describe('where two edges cross', () => {
  it('is their common point', () => {
    expect(
      crossingOf(
        [
          [0, 0],
          [10, 10],
        ],
        [
          [0, 10],
          [10, 0],
        ],
      ),
    ).toEqual([5, 5]);
  });

  it('is nowhere for edges apart or along one another', () => {
    expect(
      crossingOf(
        [
          [0, 0],
          [1, 1],
        ],
        [
          [2, 0],
          [3, 1],
        ],
      ),
    ).toBeUndefined();
    expect(
      crossingOf(
        [
          [0, 0],
          [4, 0],
        ],
        [
          [1, 0],
          [3, 0],
        ],
      ),
    ).toBeUndefined();
  });

  it('lies on both lines (Cramer, worked here) for random edges', () => {
    const random = seeded(4);
    let met = 0;
    for (let k = 0; k < 300; k++) {
      const [ax, ay, bx, by, cx, cy, dx, dy] = Array.from({ length: 8 }, () => 100 * random()) as [
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      const found = crossingOf(
        [
          [ax, ay],
          [bx, by],
        ],
        [
          [cx, cy],
          [dx, dy],
        ],
      );
      if (found === undefined) continue;
      met++;
      const det = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx);
      const t = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / det;
      expect(Math.hypot(found[0] - ax - t * (bx - ax), found[1] - ay - t * (by - ay))).toBeLessThan(1e-9);
    }
    expect(met).toBeGreaterThan(40);
  });
});
