import { describe, expect, it } from 'vitest';
import { leftNormal, neighbour, normalAt, sideOf, signedRoom } from '../../src/carve/cut-side.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { ring, seeded, square } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { distance, isIn, type Outline } from '../witness/sweep.ts';

/** A notch in whose point a splinter stands: below, the nearest place is the point they share, whose the place is not. */
const SPLINTER: Outline[number] = [
  [3, 3],
  [3.3, 5.5],
  [2.7, 5.5],
];
const NOTCHED: Outline[number] = [
  [0, 0],
  [6, 0],
  [6, 6],
  [5, 6],
  [3, 3],
  [1, 6],
  [0, 6],
];
/** One ring that passes its own point twice. */
const PASSING: Outline[number] = [...NOTCHED.slice(0, 5), ...SPLINTER.slice(1), ...NOTCHED.slice(4)];
/** Squares that meet in their corners, as on a chessboard: every edge runs into a point that other edges share. */
const BOARD: Outline = [
  [0.3, 0.1],
  [1.3, 1.1],
  [2.3, 0.1],
  [0.3, 2.1],
  [2.3, 2.1],
].map(([x, y]) => [
  [x, y],
  [x + 1, y],
  [x + 1, y + 1],
  [x, y + 1],
]) as unknown as Outline;
const FRAME: Outline[number] = [
  [-2, -2],
  [8, -2],
  [8, 8],
  [-2, 8],
];

/** Turned about the shared point, so that no edge lies along an axis. */
const turned = (points: Outline[number]): Outline[number] =>
  points.map(([x, y]) => [3 + 0.8 * (x - 3) - 0.6 * (y - 3), 3 + 0.6 * (x - 3) + 0.8 * (y - 3)] as const);

const TOUCHING: Readonly<Record<string, Outline>> = {
  'a splinter in a notch': [SPLINTER, NOTCHED],
  'a notch with a splinter': [NOTCHED, SPLINTER],
  'the same as one ring': [PASSING],
  'the same as holes': [FRAME, NOTCHED.toReversed(), SPLINTER.toReversed()],
  'the same as holes, the other first': [FRAME, SPLINTER.toReversed(), NOTCHED.toReversed()],
};

describe('on which side of an outline a point lies', () => {
  it.each([
    ...Object.entries(SHAPES),
    ['squares of a chessboard', BOARD] as const,
    ...Object.entries(TOUCHING).map(([name, outline]) => [name, outline.map(turned)] as const),
  ])('is what counting crossings tells: %s', (_, outline) => {
    const random = seeded(31);
    const tree = new SegmentTree(ringsOf(outline));
    const corners = outline.flat();
    for (let n = 0; n < 1500; n++) {
      // Half of them all about, half close to a corner, where the edge that is nearest does not tell.
      const [cx, cy] = corners[n % corners.length] as readonly [number, number];
      const far = n % 2 === 0 ? 2 : 10 ** (-1 - 4 * random());
      const [x, y] = [cx + far * (2 * random() - 1), cy + far * (2 * random() - 1)];
      const d = distance(outline, x, y);
      if (d < 1e-9) continue;
      const inside = isIn(outline, x, y);
      expect(signedRoom(tree, 1, x, y), `${x} ${y}`).toBeCloseTo(inside ? d : -d, 12);
      expect(signedRoom(tree, -1, x, y), `${x} ${y}`).toBeCloseTo(inside ? -d : d, 12);
      expect(Math.sign(sideOf(tree, tree.nearest(x, y), x, y))).toBe(inside ? 1 : -1);
    }
  });

  it('counts as in on the outline itself', () => {
    const tree = new SegmentTree([square(0, 0, 2)]);
    expect(signedRoom(tree, 1, 1, 0)).toBe(0);
    expect(signedRoom(tree, -1, 0, 0)).toBe(0);
  });
});

describe('the normal of an outline', () => {
  const tree = new SegmentTree([ring(0, 0, 3, 0, 3, 0, 3, 4, 0, 4)]);

  it('stands to the left of an edge, of unit length, and an edge of no length has none', () => {
    expect(leftNormal(tree, 0)).toEqual([-0, 1]);
    expect(leftNormal(tree, 2)).toEqual([-1, 0]);
    expect(leftNormal(tree, 1)).toEqual([0, 0]);
    const slanting = new SegmentTree([ring(1, 1, 4, 5, -3, 9)]);
    expect(leftNormal(slanting, 0).map((v) => Math.round(1e9 * v) / 1e9)).toEqual([-0.8, 0.6]);
  });

  it('is the sum of both edges at a corner, points drawn twice or not, and tells the nearest point', () => {
    expect(normalAt(tree, 0, 1, 7)).toEqual([0, 1, 1, 0]);
    expect(normalAt(tree, 0, 9, -1)).toEqual([-1, 1, 3, 0]);
    expect(normalAt(tree, 2, 9, -1)).toEqual([-1, 1, 3, 0]);
    expect(normalAt(tree, 1, 9, -1)).toEqual([-1, 1, 3, 0]);
    expect(normalAt(tree, 0, -1, -1)).toEqual([1, 1, 0, 0]);
  });

  it('takes for neighbours those that have a length', () => {
    expect(neighbour(tree, 0, 1)).toBe(2);
    expect(neighbour(tree, 2, -1)).toBe(0);
    expect(neighbour(tree, 0, -1)).toBe(4);
    // A ring of nothing but one point has no other: it answers itself rather than go round for ever.
    const point = new SegmentTree([ring(1, 1, 1, 1, 1, 1)]);
    expect(neighbour(point, 1, 1)).toBe(1);
    expect(neighbour(point, 1, -1)).toBe(1);
  });
});
