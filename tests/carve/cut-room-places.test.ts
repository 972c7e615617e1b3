import { describe, expect, it } from 'vitest';
import { farthestRoom } from '../../src/carve/cut-room.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';
import { seeded, starShaped } from '../geometry/shapes-for-tests.ts';
import { questionsOf } from './questions.ts';
import { roomByHand } from './room-reference.ts';

type Pt = readonly [x: number, y: number];

const towards = (angle: number, far: number): Pt => [far * Math.cos(angle), far * Math.sin(angle)];

/** A corner of `angle` degrees with its point at the origin that opens to the right, by what stands for its point. */
function corner(angle: number, point: (half: number) => readonly Pt[]): Pt[][] {
  const half = degrees(angle) / 2;
  return [[...point(half), towards(-half, 6), towards(half, 6)]];
}

/** Its point cut off, by an edge shorter than most tips. */
const cutOff = (angle: number) => corner(angle, (half) => [towards(half, 0.02), towards(-half, 0.02)]);

/** Its point rounded, by five edges about an arc of 0.08. */
const rounded = (angle: number) =>
  corner(angle, (half) =>
    Array.from({ length: 6 }, (_, k) => {
      const [x, y] = towards(half + Math.PI / 2 + ((Math.PI - 2 * half) * k) / 5, 0.08);
      return [x + 0.08 / Math.sin(half), y];
    }),
  );

/** Its walls cut into pieces, the first of them shorter than most tips. */
function inPieces(angle: number): Pt[][] {
  const half = degrees(angle) / 2;
  const there = [0.03, 0.05, 0.11, 0.2, 0.26, 1].map((far) => towards(-half, far));
  const back = [1.1, 0.3, 0.17, 0.07, 0.02].map((far) => towards(half, far));
  return [[[0, 0], ...there, ...back]];
}

function star(seed: number, corners: number): Pt[][] {
  const points = starShaped(seeded(seed), 0, 0, 1, corners);
  return [Array.from({ length: corners }, (_, k) => [points[2 * k], points[2 * k + 1]] as unknown as Pt)];
}

const alongX = (count: number, points: (k: number) => readonly Pt[]): Pt[] =>
  Array.from({ length: count }, (_, k) => points(k)).flat();

/** A slit of 0.008, from `near` the origin on. */
function slit(angle: number, near: number): Pt[] {
  const [ux, uy] = towards(angle, 1);
  const [wx, wy] = towards(angle + Math.PI / 2, 0.004);
  return [
    [near * ux - wx, near * uy - wy],
    [1.5 * ux - wx, 1.5 * uy - wy],
    [1.5 * ux + wx, 1.5 * uy + wy],
    [near * ux + wx, near * uy + wy],
  ];
}

/** Drawings, mm: corners, and places where the nearest edge is not the way to go. */
const SHAPES = {
  'corner of 50 degrees cut off': cutOff(50),
  'corner of 25 degrees rounded': rounded(25),
  'corner of 50 degrees rounded': rounded(50),
  'corner of 25 degrees in pieces': inPieces(25),
  'corner of 75 degrees in pieces': inPieces(75),
  saw: [
    [
      ...alongX(7, (k) => [
        [k * 0.21, 0],
        [k * 0.21 + 0.19, 0.16],
      ]),
      [1.6, 2],
      [-0.2, 2],
    ],
  ],
  comb: [
    [
      [-1, 0],
      ...alongX(5, (k) => [
        [k * 0.2, 0],
        [k * 0.2 + 0.1, 0],
        [k * 0.2 + 0.11, -0.3],
        [k * 0.2 + 0.13, -0.3],
      ]),
      [2, 0],
      [2, 2],
      [-1, 2],
    ],
  ],
  cross: [
    [
      [-0.1, -0.1],
      [-0.1, -1],
      [0.1, -1],
      [0.1, -0.1],
      [1, -0.1],
      [1, 0.1],
      [0.1, 0.1],
      [0.1, 1],
      [-0.1, 1],
      [-0.1, 0.1],
      [-1, 0.1],
      [-1, -0.1],
    ],
  ],
  'steps and a slit': [
    [
      [0, 0],
      [1, 0],
      [1, 0.03],
      [2, 0.03],
      [2, -0.4],
      [2.02, -0.4],
      [2.02, 0.05],
      [3, 0.05],
      [3, 2],
      [0, 2],
    ],
  ],
  island: [
    [
      [0, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ],
    [
      [0.7, 0.12],
      [0.6, 0.5],
      [1, 0.9],
      [1.4, 0.5],
      [1.3, 0.12],
    ],
  ],
  'bow tie': [
    [
      [0, 0],
      [1, 0.45],
      [2, 0],
      [2, 1],
      [1, 0.55],
      [0, 1],
    ],
  ],
  'star of 8': star(41, 8),
  wave: [
    Array.from({ length: 60 }, (_, k) => towards(degrees(6 * k), 0.6 + 0.2 * Math.sin(degrees(42 * k)))),
  ],
  'points drawn twice': [
    [
      [0, 0],
      [0, 0],
      [1, 0],
      [1, 0],
      [1, 0],
      [0.6, 0.3],
      [0.6, 0.3 + 1e-7],
      [1, 1],
      [0, 1],
      [0, 1],
    ],
  ],
  slots: [
    [
      [0, 0],
      [0.5, 0],
      [0.5, -0.5],
      [0.58, -0.5],
      [0.58, 0],
      [0.9, 0],
      [0.9, -0.5],
      [1.02, -0.5],
      [1.02, 0],
      [1.3, 0],
      [1.3, -0.6],
      [1.52, -0.6],
      [1.52, 0],
      [2, 0],
      [2, 1],
      [0, 1],
    ],
  ],
  dumbbell: [
    [
      [-1, -0.5],
      [-0.3, -0.5],
      [-0.25, -0.06],
      [0.25, -0.06],
      [0.3, -0.5],
      [1, -0.5],
      [1, 0.5],
      [0.3, 0.5],
      [0.25, 0.06],
      [-0.25, 0.06],
      [-0.3, 0.5],
      [-1, 0.5],
    ],
  ],
  gear: [
    Array.from({ length: 48 }, (_, k) =>
      towards(
        degrees(30 * (Math.floor(k / 4) + ([0, 0.06, 0.5, 0.56][k % 4] as number))),
        k % 4 === 1 || k % 4 === 2 ? 0.6 : 0.45,
      ),
    ),
  ],
  'field and slits': [
    [
      [-2, -2],
      [2, -2],
      [2, -0.31],
      [-2, -0.31],
    ],
    ...[20, 55, 100, 140].map((angle, k) => slit(degrees(angle), 0.1 + 0.03 * k)),
  ],
  fish: [
    [
      [0, 0],
      [0.3, 0.14],
      [0.5, 0.03],
      [0.8, 0.2],
      [1.2, -0.1],
      [0.8, -0.3],
      [0.5, -0.03],
      [0.3, -0.16],
    ],
  ],
  'hook beside a slit': [
    [
      [0, 0],
      [1, 0],
      [1.001, 0.0008],
      [1.0012, -0.0004],
      [1.3, 0],
      [1.3, -0.8],
      [1.31, -0.8],
      [1.31, 0],
      [2, 0],
      [2, 2],
      [0, 2],
    ],
  ],
} as const satisfies Record<string, readonly (readonly Pt[])[]>;

/** Those whose rings are all outlines of their own. */
const APART: readonly string[] = ['field and slits'];

/** The area of a ring, twice; positive when it runs to the left about it. */
const area2 = (ring: readonly Pt[]): number =>
  ring.reduce((sum, [x, y], k) => {
    const [u, v] = ring[(k + 1) % ring.length] as Pt;
    return sum + x * v - u * y;
  }, 0);

interface Laid {
  readonly turn: number;
  readonly dx: number;
  readonly dy: number;
  readonly mirrored: boolean;
  /** At which of its points each ring starts. */
  readonly start: number;
  /** The rings run the other way, and the other side of them is cut: the same wood. */
  readonly back: boolean;
}

/** What must change no answer. */
const WAYS: readonly Laid[] = [
  { turn: 0, dx: 0, dy: 0, mirrored: false, start: 0, back: false },
  { turn: 0.7, dx: 3, dy: -2, mirrored: true, start: 1, back: false },
  { turn: 2.5, dx: 500, dy: -300, mirrored: false, start: 2, back: false },
  { turn: 4, dx: -1, dy: 2, mirrored: false, start: 3, back: true },
];

function at({ turn, dx, dy, mirrored }: Laid, [x, y]: Pt): Pt {
  const [c, s, v] = [Math.cos(turn), Math.sin(turn), mirrored ? -y : y];
  return [c * x - s * v + dx, s * x + c * v + dy];
}

/** The first ring, and all others where `apart`, run about what is cut; the others are left standing in it. */
function ringsOf(shape: readonly (readonly Pt[])[], apart: boolean, way: Laid): Float64Array[] {
  return shape.map((ring, k) => {
    const points = ring.map((point) => at(way, point));
    if (area2(points) > 0 !== (k === 0 || apart)) points.reverse();
    const start = way.start % points.length;
    const turned = [...points.slice(start), ...points.slice(0, start)];
    return Float64Array.from((way.back ? turned.toReversed() : turned).flat());
  });
}

const placed = new Map<string, { readonly rings: Float64Array[]; readonly tree: SegmentTree }[]>();

function laidOut(name: keyof typeof SHAPES) {
  const found = placed.get(name);
  if (found !== undefined) return found;
  const made = WAYS.map((way) => {
    const rings = ringsOf(SHAPES[name], APART.includes(name), way);
    return { rings, tree: new SegmentTree(rings) };
  });
  placed.set(name, made);
  return made;
}

describe('the room worked out by hand', () => {
  it.each([20, 45, 71, 90, 120])(
    'at the point of a corner of %d degrees is that of the closed form',
    (angle) => {
      const rings = ringsOf(
        corner(angle, () => [[0, 0]]),
        false,
        WAYS[0] as Laid,
      );
      const sine = Math.sin(degrees(angle) / 2);
      // The bit's flat touches both walls when its centre is r / sin(half) from the point.
      for (const r of [0.05, 0.3]) expect(roomByHand(rings, 1, 0, 0, r, r)).toBeCloseTo(r - r / sine, 7);
      // One that may stand anywhere goes straight out: r sin(half) from both walls.
      expect(roomByHand(rings, 1, 0, 0, 0.1, 0)).toBeCloseTo(0.1 * sine, 7);
      // Outside the cut, behind the point, it is as much farther off.
      expect(roomByHand(rings, 1, -0.2, 0, 0.05, 0.05)).toBeCloseTo(0.05 - 0.05 / sine - 0.2, 7);
      // Around the point from outside the bit may stand anywhere.
      expect(roomByHand(rings, -1, 0, 0, 0.05, 0.05)).toBeCloseTo(0, 7);
    },
  );

  it('between two walls is no more than half their distance, less what is kept', () => {
    const rings = [Float64Array.of(-9, -0.4, 9, -0.4, 9, 0.4, -9, 0.4)];
    expect(roomByHand(rings, 1, 0, 0.3, 0.5, 0.1)).toBeCloseTo(0.3, 7);
    // As far towards the middle as the tip reaches, and beside a wall.
    expect(roomByHand(rings, 1, 0, 0.3, 0.2, 0.1)).toBeCloseTo(0.2, 7);
    expect(roomByHand(rings, 1, 0, 0.3, 0.05, 0.05)).toBeCloseTo(0.1, 7);
    // A bit wider than the stroke has no place at all.
    expect(roomByHand(rings, 1, 0, 0, 0.5, 0.5)).toBe(Number.NEGATIVE_INFINITY);
  });
});

/** Shape, edge, how far along it, from there on, tip, what it keeps off the walls, side, from where on it counts. */
type Row = readonly [keyof typeof SHAPES, number, number, number, number, number, number, 1 | -1, number];

/** Each tells a part of the walk that others do not need. */
const ROWS: readonly Row[] = [
  ['bow tie', 1, 0, -0.00075, 0.00225, 0.05, 0.05, 1, -3],
  ['bow tie', 1, 0, -7e-7, 4.5e-7, 0.3, 0.3, 1, -3],
  ['bow tie', 1, 0, 0, 0, 0.1, 0, 1, -3],
  ['bow tie', 3, 1, 0, 0, 0.1, 0.04, 1, -3],
  ['comb', 3, 0, 0.105, -0.09, 0.3, 0.3, 1, -3],
  ['corner of 25 degrees in pieces', 1, 0, 0, 0, 0.3, 0.3, 1, -3],
  ['corner of 25 degrees rounded', 2, 0.5, 0, 0, 0.3, 0.3, 1, -3],
  ['corner of 50 degrees cut off', 0, 0, -0.02, 0, 0.3, 0.3, 1, -3],
  ['corner of 50 degrees rounded', 3, 0, -0.006, 0, 0.3, 0.3, -1, -3],
  ['corner of 75 degrees in pieces', 11, 0.5, -0.01, 0, 0.05, 0.05, 1, -3],
  ['cross', 5, 1, 0.0525, -0.1425, 0.1, 0.04, 1, -3],
  ['dumbbell', 3, 0, 0, 0, 0, 0.1, 1, -3],
  ['field and slits', 11, 1, 0.00105, 0.0024, 0.05, 0.05, -1, -3],
  ['field and slits', 16, 0, 0, 0, 0.1, 0.04, -1, -3],
  ['field and slits', 7, 0.01, 0.045, 0.048, 0.3, 0.3, -1, -3],
  ['fish', 4, 1, -0.0024, -0.0021, 0.05, 0.05, 1, -3],
  ['fish', 4, 1, 0, 0, 0, 0.1, 1, -3],
  ['gear', 44, 0.09, -0.011, 0.014, 0.3, 0.3, 1, -0.2],
  ['hook beside a slit', 2, 1, 0, 0, 0.3, 0.3, 1, -3],
  ['hook beside a slit', 3, 0, 0, 0, 0.3, 0.3, 1, -0.2],
  ['island', 6, 1, 0.3, 0, 0.1, 0, 1, -3],
  ['points drawn twice', 3, 0, -0.03, 0.03, 0.1, 0.04, 1, -3],
  ['points drawn twice', 3, 0, 1e-6, 0, 0.3, 0.3, 1, -3],
  ['points drawn twice', 3, 0.5, 0, 0.012, 0.1, 0, 1, -3],
  ['points drawn twice', 4, 0, 0, 0, 0, 0.1, 1, -0.2],
  ['points drawn twice', 4, 0, 0.51, 0.45, 0.1, 0.04, 1, -3],
  ['saw', 1, 0.56, 0.007, 0.008, 0.3, 0.3, -1, -3],
  ['saw', 4, 0.91, -0.00255, -0.00045, 0.1, 0, -1, -3],
  ['slots', 3, 0.5, 0.15, 0.57, 0.3, 0.3, -1, -3],
  ['slots', 3, 1, -9e-7, -1e-7, 0.1, 0, 1, -3],
  ['slots', 4, 0, -0.006, -0.006, 0.3, 0.3, 1, -3],
  ['star of 8', 4, 0.2, 0.6, 0.3, 0, 0.1, 1, -3],
  ['steps and a slit', 3, 0, 0.007, 0.002, 0.3, 0.3, -1, -3],
  ['steps and a slit', 5, 0.5, 0.012, 0.03, 0.3, 0.3, 1, -3],
  ['wave', 58, 0.5, 0.054, -0.036, 0.3, 0.3, 1, -3],
];

describe('the room for a tip is that worked out by hand, however the drawing lies', () => {
  it.each(ROWS)(
    '%s, edge %d at %f, %f and %f from there; a tip of %f mm, %f off the walls, side %d, from %f on',
    (name, edge, along, dx, dy, r, legal, side, lowest) => {
      const drawn = laidOut(name);
      const { rings, tree } = drawn[0] as (typeof drawn)[0];
      const [ax, ay, bx, by] = tree.coords.subarray(4 * edge) as unknown as [number, number, number, number];
      const point: Pt = [ax + along * (bx - ax) + dx, ay + along * (by - ay) + dy];
      const room = Math.max(lowest, roomByHand(rings, side, ...point, r, legal));
      WAYS.forEach((way, k) => {
        const { tree } = drawn[k] as (typeof drawn)[0];
        const says = farthestRoom(
          tree,
          way.back ? (-side as 1 | -1) : side,
          ...at(way, point),
          r,
          legal,
          lowest,
        );
        expect(Math.abs(Math.max(lowest, says) - room), JSON.stringify(way)).toBeLessThan(2e-6);
      });
    },
  );
});

describe('outside the mouth other edges are tried', () => {
  /** A field 0.9 below the origin, and slits no tip enters all over above it, each a little farther off than the last. */
  function fan(...fans: readonly (readonly [count: number, near: number])[]): SegmentTree {
    const slits = fans.flatMap(([count, near]) =>
      Array.from({ length: count }, (_, k) => {
        const angle = (Math.PI * (k + 0.5)) / count;
        const [ax, ay] = towards(angle, near + 0.005 * k);
        const [bx, by] = towards(angle, near + 0.005 * k + 1);
        const [wx, wy] = towards(angle + Math.PI / 2, 0.002);
        return Float64Array.of(ax - wx, ay - wy, bx - wx, by - wy, bx + wx, by + wy, ax + wx, ay + wy);
      }),
    );
    return new SegmentTree([Float64Array.of(-9, -9, 9, -9, 9, -0.9, -9, -0.9), ...slits]);
  }
  const asked = (tree: SegmentTree, r: number, legal: number, lowest: number) =>
    questionsOf(() => farthestRoom(tree, 1, 0, 0, r, legal, lowest));
  const TIPS = [
    [0.04, 0.04],
    [0.02, 0.04],
    [0.04, 0.02],
  ] as const;

  it.each([1, 5, 23])('past %d slits the field is found', (slits) => {
    const tree = fan([slits, 0.3]);
    for (const [r, legal] of TIPS)
      expect(farthestRoom(tree, 1, 0, 0, r, legal, -2)).toBeCloseTo(r - legal - 0.9, 6);
  });

  it('no more than two dozen, however many there are', () => {
    for (const [r, legal] of TIPS) expect(asked(fan([60, 0.3]), r, legal, -2)).toBeLessThan(200);
  });

  it('none farther than what has been found', () => {
    for (const [r, legal] of TIPS)
      expect(asked(fan([3, 0.3], [20, 1.2]), r, legal, -2)).toBe(
        asked(fan([3, 0.3], [1, 1.2]), r, legal, -2),
      );
  });

  it('none farther than matters', () => {
    for (const [r, legal, far] of [...TIPS.map((tip) => [...tip, 0.7] as const), [0.04, 0.25, 0.5] as const])
      expect(asked(fan([3, 0.3], [20, far]), r, legal, -0.6)).toBeLessThan(60);
  });
});

describe('between the point of a spike and a wall across from it', () => {
  // The bit that goes round the spike would have to keep off both its edges; straight across only the point counts.
  const ACROSS = [1.02, 1.1, 1.3, 1.6, 1.95, 2.3];
  it.each([5, 20, 39, 60, 90, 120, 160])(
    'a spike of %d degrees leaves the room worked out by hand',
    (angle) => {
      const random = seeded(angle);
      const half = degrees(angle) / 2;
      for (const [r, legal] of [
        [0.25, 0.25],
        [0.25, 0.2],
        [0.2, 0.25],
        [0.05, 0.05],
      ] as const)
        for (const [k, share] of ACROSS.entries()) {
          // The wall lies so many tips from the point.
          const wide = 2 * legal * share;
          const shape = [
            [
              [-8, -8],
              [8, -8],
              [8, wide],
              [-8, wide],
            ],
            [
              [0, 0],
              [3 * Math.sin(half), -3 * Math.cos(half)],
              [-3 * Math.sin(half), -3 * Math.cos(half)],
            ],
          ] as const;
          const way = WAYS[k % WAYS.length] as Laid;
          const rings = ringsOf(shape, false, way);
          const tree = new SegmentTree(rings);
          for (let n = 0; n < 12; n++) {
            const [x, y] = at(way, [(random() - 0.5) * 2 * legal, random() * wide]);
            const told = farthestRoom(tree, way.back ? -1 : 1, x, y, r, legal, -10);
            expect(Math.abs(told - roomByHand(rings, 1, x, y, r, legal))).toBeLessThan(2e-6);
          }
        }
    },
  );
});
