import { describe, expect, it } from 'vitest';
import { farthestRoom } from '../../src/carve/cut-room.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';
import { seeded } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { distance, isIn, type Outline } from '../witness/sweep.ts';

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

describe('the room for a tip, against centres tried one by one', () => {
  const PITCH = 0.04;

  /** max over c with d(c) >= legal of d(c) - max(r, |p - c|) + r - legal, over the centres of a grid. */
  function tried(
    centres: readonly (readonly [x: number, y: number, d: number])[],
    x: number,
    y: number,
    r: number,
    legal: number,
  ): number {
    let best = Number.NEGATIVE_INFINITY;
    for (const [cx, cy, d] of centres)
      if (d >= legal) best = Math.max(best, d - Math.max(r, Math.hypot(cx - x, cy - y)) + r - legal);
    return best;
  }

  /** Centres on a grid over an outline and round it, with the distance to it on the side that is cut. */
  function centresOf(outline: Outline, side: 1 | -1): (readonly [number, number, number])[] {
    const xs = outline.flat().map(([x]) => x);
    const ys = outline.flat().map(([, y]) => y);
    const centres: (readonly [number, number, number])[] = [];
    for (let x = Math.min(...xs) - 0.6; x < Math.max(...xs) + 0.6; x += PITCH)
      for (let y = Math.min(...ys) - 0.6; y < Math.max(...ys) + 0.6; y += PITCH)
        if (isIn(outline, x, y) === side > 0) centres.push([x, y, distance(outline, x, y)]);
    return centres;
  }

  // Tip and least room: a flat tip on its own path, a sharp one, one deeper in the cut, and one on a sharp point's path.
  it.each([
    [0.06, 0.06],
    [0, 0],
    [0, 0.15],
    [0.1, 0.1],
    [0.1, 0],
  ])('a tip of %f mm that keeps %f mm off the walls', (r, legal) => {
    const random = seeded(8);
    // Out of a land too narrow for the bit not every way is found: there the plug cannot seat whatever is told.
    const lands = 2 * legal > 0.18 ? [] : ['two close islands'];
    for (const name of ['acute triangle', 'star', 'notch', 'letter with a counter', ...lands]) {
      const outline = SHAPES[name] as Outline;
      const tree = new SegmentTree(ringsOf(outline));
      const corners = outline.flat();
      for (const side of [1, -1] as const) {
        const centres = centresOf(outline, side);
        for (let n = 0; n < 30; n++) {
          const [cx, cy] = corners[n % corners.length] as readonly [number, number];
          const far = n % 3 === 0 ? 0.05 : 0.3;
          const [x, y] = [cx + far * (2 * random() - 1), cy + far * (2 * random() - 1)];
          const found = farthestRoom(tree, side, x, y, r, legal, -0.3);
          const most = tried(centres, x, y, r, legal);
          // Below what was asked for it need not be exact.
          if (found < -0.3 && most < -0.3) continue;
          const says = `${name} ${side} ${x} ${y}`;
          // A grid may miss the best centre by 0.71 of its pitch, and where legal ones begin by somewhat more.
          expect(found, says).toBeGreaterThan(most - 1e-6);
          expect(found, says).toBeLessThan(most + 6 * PITCH);
        }
      }
    }
  });
});

describe('the room for a tip beside a plain wall', () => {
  const tree = new SegmentTree([Float64Array.of(0, 0, 40, 0, 40, 30, 0, 30)]);

  it.each([
    // How far in, tip, least room: then the distance less what the least room keeps beyond the tip.
    [3, 0.5, 0.5, 3],
    [3, 0.5, 2, 1.5],
    [3, 0, 0, 3],
    [-0.2, 0.5, 0.5, -0.2],
    [-0.2, 0, 0, -0.2],
    [0, 0.5, 1, -0.5],
  ])('%f mm in with a tip of %f that keeps %f off', (d, r, legal, room) => {
    expect(farthestRoom(tree, 1, 17, d, r, legal, -9)).toBeCloseTo(room, 9);
    expect(farthestRoom(tree, -1, 17, -d, r, legal, -9)).toBeCloseTo(room, 9);
  });

  it('is at most the ridge: between walls 30 apart no centre has more than 15', () => {
    expect(farthestRoom(tree, 1, 17, 15, 2, 2, -9)).toBeCloseTo(15 - 2, 9);
    expect(farthestRoom(tree, 1, 17, 14, 2, 2, -9)).toBeCloseTo(15 - 2, 9);
    expect(farthestRoom(tree, 1, 17, 11, 2, 2, -9)).toBeCloseTo(11, 9);
  });

  it('is told of no outline at all as none', () => {
    expect(farthestRoom(new SegmentTree([]), 1, 0, 0, 1, 1, -9)).toBe(Number.NEGATIVE_INFINITY);
  });
});

describe('the room for a tip where walks may lead nowhere', () => {
  /** A wide field with so many thin spikes of board whose points stand `h` from the origin, all round. */
  function spikesRound(count: number, h: number, turn: number): SegmentTree {
    const rings = [Float64Array.of(-40, -40, 40, -40, 40, 40, -40, 40)];
    for (let k = 0; k < count; k++) {
      const a = turn + (2 * Math.PI * k) / count;
      const [c, s] = [Math.cos(a), Math.sin(a)];
      rings.push(Float64Array.of(h * c, h * s, 20 * c - s, 20 * s + c, 20 * c + s, 20 * s - c));
    }
    return new SegmentTree(rings);
  }

  it.each([0, 0.4, 1.1, 2.5])(
    'between two points that face each other it is beside them, turned by %f',
    (turn) => {
      // The best centre is r to either side of the middle: as far from the points as r and h make a right angle.
      for (const r of [0.05, 0.2, 0.6])
        for (const h of [0.7 * r, 1.2 * r, 2 * r]) {
          const room = farthestRoom(spikesRound(2, h, turn), 1, 0, 0, r, r, -9);
          expect(room, `${r} ${h}`).toBeCloseTo(Math.hypot(h, r) - r, 6);
        }
    },
  );

  it.each([0, 0.3, 1, 2])(
    'among three and four that leave the bit room it is in their middle, turned by %f',
    (turn) => {
      for (const count of [3, 4])
        for (const r of [0.05, 0.2, 0.6])
          for (const h of [1.05 * r, 1.5 * r, 3 * r]) {
            const room = farthestRoom(spikesRound(count, h, turn), 1, 0, 0, r, r, -9);
            expect(room, `${count} ${r} ${h}`).toBeCloseTo(h - r, 6);
          }
    },
  );

  it.each([0, 0.4, 1.1, 2.5])(
    'between two points in a stroke it is no more than the walls beside them leave, turned by %f',
    (turn) => {
      const r = 0.2;
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      for (const h of [1.01 * r, 1.1 * r, 1.3 * r])
        for (const wall of [2.04 * r, 2.1 * r, 2.4 * r]) {
          // A stroke along x with its edges at +-wall, and spikes from its ends whose points stand h off the middle.
          const points = [
            [-9, -wall],
            [9, -wall],
            [9, -0.01],
            [h, 0],
            [9, 0.01],
            [9, wall],
            [-9, wall],
            [-9, 0.01],
            [-h, 0],
            [-9, -0.01],
          ] as const;
          const at = points.flatMap(([x, y]) => [c * x - s * y, s * x + c * y]);
          // The best lies straight across, by symmetry; there the nearer of point and wall counts.
          let most = Number.NEGATIVE_INFINITY;
          for (let y = 0; y <= wall; y += 1e-4) {
            const room = Math.min(Math.hypot(h, y), wall - y);
            if (room >= r) most = Math.max(most, room - Math.max(r, y));
          }
          const found = farthestRoom(new SegmentTree([Float64Array.from(at)]), 1, 0, 0, r, r, -9);
          expect(found, `${h} ${wall}`).toBeLessThan(most + 1e-4);
          expect(found, `${h} ${wall}`).toBeGreaterThan(most - 1e-6);
        }
    },
  );

  it.each([0, 0.4, 1.1, 2.5])(
    'among three points nearer than the tip it is past them, between two, turned by %f',
    (turn) => {
      // On the path of a sharp bit: r out, midway between two points that are 60 degrees to either side.
      for (const r of [0.2, 0.6])
        for (const h of [0.6 * r, 0.7 * r, 0.8 * r]) {
          const room = farthestRoom(spikesRound(3, h, turn), 1, 0, 0, r, 0, -9);
          expect(room, `${r} ${h}`).toBeCloseTo(Math.sqrt(h * h + r * r - h * r), 6);
        }
    },
  );

  it.each([0, 0.4, 1.1, 2.5])(
    'over a wall with a stroke too thin for the bit it is the height over the wall, turned by %f',
    (turn) => {
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const at = (x: number, y: number) => [c * x - s * y, s * x + c * y] as const;
      const points = [
        [0, -10],
        [10, -10],
        [10, 0],
        [5.1, 0],
        [5.1, 3],
        [5, 3],
        [5, 0],
        [0, 0],
      ] as const;
      const tree = new SegmentTree([Float64Array.from(points.flatMap(([x, y]) => at(x, y)))]);
      for (const height of [0.05, 0.2, 0.5, 0.8, 1.5])
        for (const beside of [4.99, 4.9, 4.5, 5.12, 5.4]) {
          const room = farthestRoom(tree, 1, ...at(beside, height), 0.4, 0.4, -2);
          // The stroke's mouth lets the bit a little way in: 0.4 less the other leg of a triangle with 0.05 and 0.4.
          expect(room, `${beside} ${height}`).toBeLessThan(-height + 0.4 - Math.sqrt(0.16 - 0.0025) + 1e-6);
          expect(room, `${beside} ${height}`).toBeGreaterThan(-height - 1e-6);
        }
    },
  );

  it('beside the end of a short edge it goes by the walls that the edge joins', () => {
    // A corner of 90 degrees whose point is cut off by an edge much shorter than the tip.
    const cut = 0.02;
    const tree = new SegmentTree([Float64Array.of(cut, 0, 40, 0, 40, 40, 0, 40, 0, cut)]);
    for (const r of [0.1, 0.5])
      for (const [x, y] of [
        [0, 0],
        [cut / 2, cut / 2],
        [cut, 0],
        [0, cut],
        [-0.05, -0.03],
      ] as const) {
        // The nearest legal centre is r from both walls.
        const room = r - Math.max(r, Math.hypot(r - x, r - y));
        expect(farthestRoom(tree, 1, x, y, r, r, -9), `${r} ${x} ${y}`).toBeCloseTo(room, 6);
      }
  });
});

describe('the room at a fold, where the end of a path misses its start', () => {
  // One wall runs past the corner's point and comes back: the other wall begins there. The bit's flat touches both
  // walls r / sin(half) from the point, however long the fold (plain geometry).
  it.each([40, 60, 90, 120, 150])('is that of the corner of %d degrees', (angle) => {
    for (const fold of [3e-4, 1.4e-3, 3.5e-3, 0.01, 0.03])
      for (const turn of [0, 0.4, 2, 4.4]) {
        const half = degrees(angle) / 2;
        const at = (length: number, way: number): readonly [number, number] => [
          length * Math.cos(way + turn),
          length * Math.sin(way + turn),
        ];
        const [one, two, past] = [at(40, -half), at(40, half), at(-fold, half)];
        // Back a ten thousandth beside the way out, so that the outline does not cross itself.
        const back = at(1e-4 * fold, half - Math.PI / 2);
        // Another field a millimetre behind the corner, which the walk may be led to.
        const [near, far] = [at(-1, 0), at(-9, 0)];
        const [ux, uy] = at(5, Math.PI / 2);
        const tree = new SegmentTree([
          Float64Array.of(...at(60, 0), ...two, ...past, ...back, ...one),
          Float64Array.of(
            near[0] - ux,
            near[1] - uy,
            near[0] + ux,
            near[1] + uy,
            far[0] + ux,
            far[1] + uy,
            far[0] - ux,
            far[1] - uy,
          ),
        ]);
        for (const r of [0.05, 0.2])
          for (const below of [1e-3, 0.01, 0.04, 0.1]) {
            const [x, y] = at(-below, 0);
            const room = farthestRoom(tree, 1, x, y, r, r, -9);
            expect(room, `${fold} ${turn} ${r} ${below}`).toBeCloseTo(r - r / Math.sin(half) - below, 3);
          }
      }
  });
});

describe('the room outside the mouth, where what lies nearest leads nowhere', () => {
  const H = 0.31;

  /**
   * A wide field below y = -H, and slits too thin for any tip that come nearer to the origin, from above and from the
   * sides; all turned and set off.
   */
  function slitted(slits: number, turn: number, wide: number): SegmentTree {
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const laid = (points: readonly (readonly [number, number])[]) =>
      Float64Array.from(points.flatMap(([x, y]) => [7 + c * x - s * y, -3 + s * x + c * y]));
    const rings = [
      laid([
        [-9, -9],
        [9, -9],
        [9, -H],
        [-9, -H],
      ]),
    ];
    for (let k = 0; k < slits; k++) {
      const a = (Math.PI * (k + 0.5)) / slits;
      const [ux, uy] = [Math.cos(a), Math.sin(a)];
      const [near, far] = [0.1 + 0.02 * k, 3];
      rings.push(
        laid([
          [near * ux + wide * uy, near * uy - wide * ux],
          [far * ux + wide * uy, far * uy - wide * ux],
          [far * ux - wide * uy, far * uy + wide * ux],
          [near * ux - wide * uy, near * uy + wide * ux],
        ]),
      );
    }
    return new SegmentTree(rings);
  }

  it.each([0, 1, 2, 5, 9])('is the way to the plain wall behind %d slits', (slits) => {
    for (const turn of [0, 0.7, 2.1, 4])
      for (const [r, legal] of [
        [0.4, 0.4],
        [0.2, 0.1],
        [0.1, 0.2],
      ] as const) {
        const tree = slitted(slits, turn, 0.004);
        const says = `${turn} ${r} ${legal}`;
        expect(farthestRoom(tree, 1, 7, -3, r, legal, -2), says).toBeCloseTo(r - legal - H, 6);
        // Less than that is no matter: too little may be told, too much never.
        expect(farthestRoom(tree, 1, 7, -3, r, legal, -0.1), says).toBeLessThan(r - legal - H + 1e-6);
      }
  });

  it('is that of the slit where the tip enters it', () => {
    // The nearest slit's end stands 0.1 off and its mouth lets the tip in with its walls at the tip's own half.
    const tree = slitted(2, 0.7, 0.03);
    expect(farthestRoom(tree, 1, 7, -3, 0.02, 0.02, -2)).toBeCloseTo(-0.1, 6);
    expect(farthestRoom(tree, 1, 7, -3, 0.04, 0.04, -2)).toBeLessThan(-0.12);
  });
});
