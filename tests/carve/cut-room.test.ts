import { describe, expect, it } from 'vitest';
import { farthestRoom } from '../../src/carve/cut-room.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';
import { seeded } from '../geometry/shapes-for-tests.ts';

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

describe('the room beside a hook that rounding left in an outline', () => {
  // A corner of 89 degrees with a hook of 0.3 micrometres, from a drawing rounded and saved in inches.
  const corner = [
    [90.36493250153457, 93.65822031842906],
    [109.29681245315919, 97.85456776091729],
    [109.2967790745566, 97.85470699736712],
    [109.297041334993, 97.85476326415464],
    [109.29707185257261, 97.8546259350534],
    [128.70388828840197, 102.15083071302811],
    [128, 140],
    [90, 140],
  ];

  it.each([1, -1] as const)('is that of the places around, on side %d', (side) => {
    const random = seeded(7);
    for (const points of [corner, corner.toReversed()]) {
      const tree = new SegmentTree([Float64Array.from(points.flat())]);
      for (let n = 0; n < 2000; n++) {
        const x = 109.29693 + 6e-4 * (random() - 0.5);
        const y = 97.85464 + 6e-4 * (random() - 0.5);
        // A straight wall without the hook gives 0 there, to within the hook's size and the way around it.
        expect(farthestRoom(tree, side, x, y, TIP / 2, TIP / 2, -1.34), `${x} ${y}`).toBeGreaterThan(-0.012);
      }
    }
  });
});
