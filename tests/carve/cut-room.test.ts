import { describe, expect, it } from 'vitest';
import { farthestRoom } from '../../src/carve/cut-room.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';

const TIP = 0.05;

/** A wedge of the angle with its point at the origin, opening to the right and closed far off. */
function wedge(angle: number): SegmentTree {
  const [x, y] = [40 * Math.cos(angle / 2), 40 * Math.sin(angle / 2)];
  return new SegmentTree([Float64Array.of(0, 0, x, -y, 60, 0, x, y)]);
}

describe('the room for a tip at the point of a corner', () => {
  // The bit's flat touches both walls when its centre is r / sin(half) from the point, so the point is missed by
  // r / sin(half) - r (plain geometry).
  it.each([2, 6, 20, 45, 71, 88, 89.9, 90.1, 120, 160])(
    'is that of the closed form at %d degrees',
    (angle) => {
      const missed = TIP / Math.sin(degrees(angle) / 2) - TIP;
      expect(farthestRoom(wedge(degrees(angle)), 1, 0, 0, TIP, TIP, -10)).toBeCloseTo(-missed, 6);
    },
  );

  it.each([2, 6, 20, 45, 71, 88, 89.9, 90.1, 120, 160])(
    'changes by no more than the point moves at %d degrees',
    (angle) => {
      // max over c of d(c) - max(r, |p - c|) changes by at most |p - q| from p to q, whatever the outline.
      const tree = wedge(degrees(angle));
      const here = farthestRoom(tree, 1, 0, 0, TIP, TIP, -10);
      for (let exponent = -13; exponent <= -2; exponent++) {
        const by = 10 ** exponent;
        for (let turn = 0; turn < 360; turn += 7.5) {
          const [x, y] = [by * Math.cos(degrees(turn)), by * Math.sin(degrees(turn))];
          const there = farthestRoom(tree, 1, x, y, TIP, TIP, -10);
          expect(Math.abs(there - here), `${by} mm off towards ${turn} degrees`).toBeLessThan(by + 1e-7);
        }
      }
    },
  );
});
