import { describe, expect, it } from 'vitest';
import { clearanceOf, clearanceToArc, crossingOf } from '../../src/geometry/exact.ts';
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

describe('the clearance between two edges', () => {
  it('runs from the first to the second along the shortest line', () => {
    expect(
      clearanceOf(
        [
          [0, 0],
          [10, 0],
        ],
        [
          [4, 3],
          [4, 9],
        ],
      ),
    ).toEqual({
      distance: 3,
      ends: [
        [4, 0],
        [4, 3],
      ],
    });
    expect(
      clearanceOf(
        [
          [4, 3],
          [4, 9],
        ],
        [
          [0, 0],
          [10, 0],
        ],
      ).ends,
    ).toEqual([
      [4, 3],
      [4, 0],
    ]);
  });

  it('is never more than the distance of sampled points, and comes close to the least', () => {
    const random = seeded(6);
    for (let k = 0; k < 50; k++) {
      const edge = (): [[number, number], [number, number]] => [
        [random() * 10, random() * 10],
        [random() * 10, random() * 10],
      ];
      const [a, b] = [edge(), edge()];
      let least = Number.POSITIVE_INFINITY;
      for (let s = 0; s <= 100; s++) {
        for (let t = 0; t <= 100; t++) {
          const at = ([p, q]: typeof a, u: number): [number, number] => [
            p[0] + u * (q[0] - p[0]),
            p[1] + u * (q[1] - p[1]),
          ];
          const [p, q] = [at(a, s / 100), at(b, t / 100)];
          least = Math.min(least, Math.hypot(p[0] - q[0], p[1] - q[1]));
        }
      }
      const { distance } = clearanceOf(a, b);
      expect(distance).toBeLessThanOrEqual(least + 1e-9);
      expect(distance).toBeGreaterThan(least - 0.15); // half a step on each edge, edges up to 14.2 long
    }
  });

  it('reaches a true arc, not its chords', () => {
    const arc = { centre: [0, 0], radius: 5, from: 0, to: Math.PI, forward: true } as const;
    const { distance, ends } = clearanceToArc(
      [
        [-10, 7],
        [10, 7],
      ],
      arc,
    );
    expect(distance).toBeCloseTo(2, 9);
    expect(ends[0][0]).toBeCloseTo(0, 9);
    expect(ends[1][1]).toBeCloseTo(5, 9);
    // The lower half is not part of this arc: the nearest are its ends.
    expect(
      clearanceToArc(
        [
          [-10, -7],
          [10, -7],
        ],
        arc,
      ).distance,
    ).toBeCloseTo(7, 9);
  });
});
