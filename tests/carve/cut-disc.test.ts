import { describe, expect, it } from 'vitest';
import { cornerAt, largestNearby, spotsAlong, touchingDisc } from '../../src/carve/cut-disc.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';
import { circle, ring, seeded, starShaped } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { distance, isIn, type Outline } from '../witness/sweep.ts';
import { questionsOf } from './questions.ts';

const treeOf = (outline: Outline): SegmentTree => new SegmentTree(ringsOf(outline));

const outlineOf = (points: Float64Array): Outline => [
  Array.from({ length: points.length / 2 }, (_, k) => [points[2 * k]!, points[2 * k + 1]!] as const),
];

/** Ten outlines nobody drew, and those of the sweep. */
function outlines(): readonly Outline[] {
  const random = seeded(3);
  const stars = Array.from({ length: 10 }, (_, k) => outlineOf(starShaped(random, 5, -3, 4, 5 + k)));
  return [...Object.values(SHAPES), ...stars];
}

/** The greatest radius at which a disc from p along n has the outline no nearer than p itself, by halving. */
function radiusByHalving(
  outline: Outline,
  p: readonly [number, number],
  n: readonly [number, number],
  limit: number,
) {
  const free = (r: number): boolean => distance(outline, p[0] + r * n[0], p[1] + r * n[1]) > r - 1e-9;
  if (free(limit)) return limit;
  let [low, high] = [0, limit];
  for (let k = 0; k < 45; k++) {
    const middle = (low + high) / 2;
    if (free(middle)) low = middle;
    else high = middle;
  }
  return low;
}

describe('the largest disc that touches an outline at a point', () => {
  it.each([1, -1] as const)('is the one that halving finds, on side %d', (side) => {
    for (const outline of outlines()) {
      const tree = treeOf(outline);
      for (const spot of spotsAlong(tree, side, 0.4, 9)) {
        for (const limit of [0.15, 3]) {
          const disc = touchingDisc(tree, spot.segment, spot.x, spot.y, spot.nx, spot.ny, limit);
          const r = radiusByHalving(outline, [spot.x, spot.y], [spot.nx, spot.ny], limit);
          expect(Math.abs(disc.r - r)).toBeLessThan(2e-4);
          expect(disc.r).toBeGreaterThan(r - 1e-5);
          expect(disc.x).toBeCloseTo(spot.x + disc.r * spot.nx, 9);
          expect(disc.y).toBeCloseTo(spot.y + disc.r * spot.ny, 9);
          expect(disc.other === undefined).toBe(disc.r === limit);
          if (disc.other === undefined) continue;
          // It touches where it says, and that is a point of the segment it names.
          const { segment, x, y } = disc.other;
          expect(Math.hypot(x - disc.x, y - disc.y)).toBeCloseTo(disc.r, 7);
          expect(tree.d2(segment, x, y)).toBeLessThan(1e-14);
          expect(Math.hypot(x - spot.x, y - spot.y)).toBeGreaterThan(1e-3);
        }
      }
    }
  });

  it('is half the width between parallel walls and touches straight across', () => {
    const tree = treeOf(SHAPES['rectangle'] as Outline);
    expect(touchingDisc(tree, 0, 1.3, 0, 0, 1, 9)).toEqual({
      x: 1.3,
      y: 0.5,
      r: 0.5,
      other: { segment: 2, x: 1.3, y: 1 },
    });
  });

  it('from an edge a mm from a corner of angle A it has the radius a tan(A / 2)', () => {
    for (const angle of [10, 36, 90, 140]) {
      const [x, y] = [9 * Math.cos(degrees(angle)), 9 * Math.sin(degrees(angle))];
      const tree = new SegmentTree([ring(0, 0, 9, 0, x, y)]);
      const a = 0.3;
      const disc = touchingDisc(tree, 0, a, 0, 0, 1, 9);
      expect(disc.r).toBeCloseTo(a * Math.tan(degrees(angle) / 2), 9);
      expect(disc.other?.segment).toBe(2);
      expect(Math.hypot(disc.other?.x ?? 0, disc.other?.y ?? 0)).toBeCloseTo(a, 9);
    }
  });

  it('against a single point ahead and aside passes through it: (a a + b b) / 2 b', () => {
    // A spike of board pointing down at (1, 0.8), seen from the floor at the origin.
    const tree = new SegmentTree([ring(-5, 0, 5, 0, 5, 9, 4.5, 9, 1, 0.8, 4, 9, -5, 9)]);
    const disc = touchingDisc(tree, 0, 0, 0, 0, 1, 3);
    expect(disc.r).toBeCloseTo((1 + 0.64) / 1.6, 9);
    expect(disc.other).toMatchObject({ x: 1, y: 0.8 });
  });

  it('from the point of a corner does not mind the edges that meet there, but all others', () => {
    // Along the diagonal of a square of 4 the far walls are touched at r + r / sqrt 2 = 4; the limit comes first.
    for (let turn = 0; turn < 360; turn += 5) {
      const [c, s] = [Math.cos(degrees(turn)), Math.sin(degrees(turn))];
      const at = (x: number, y: number) => [c * x - s * y, s * x + c * y] as const;
      const tree = new SegmentTree([ring(...[at(0, 0), at(4, 0), at(4, 4), at(0, 4)].flat())]);
      const [x, y] = at(0, 0);
      const [nx, ny] = at(Math.SQRT1_2, Math.SQRT1_2);
      expect(touchingDisc(tree, 0, x, y, nx, ny, 9).r).toBeCloseTo(4 / (1 + Math.SQRT1_2), 9);
      expect(touchingDisc(tree, 3, x, y, nx, ny, 2)).toMatchObject({ r: 2, other: undefined });
    }
  });
});

describe('the locally largest disc', () => {
  const from = (
    tree: SegmentTree,
    segment: number,
    x: number,
    y: number,
    nx: number,
    ny: number,
    most: number,
  ) => {
    const start = touchingDisc(tree, segment, x, y, nx, ny, most);
    return { start, top: largestNearby(tree, 1, start, x, y, most) };
  };

  it('in a triangle is the inscribed circle, whichever wall one starts from', () => {
    const [a, b, c] = [30, 40, 50];
    const tree = new SegmentTree([ring(0, 0, 40, 0, 0, 30)]);
    for (const [segment, x, y, nx, ny] of [
      [0, 25, 0, 0, 1],
      [2, 0, 20, 1, 0],
      [1, 30, 7.5, -0.6, -0.8],
    ] as const) {
      const { start, top } = from(tree, segment, x, y, nx, ny, 99);
      expect(start.r).toBeLessThan(9.9);
      // Inscribed radius of a triangle: twice its area over its perimeter; in a right angle the centre is r from both.
      expect(top.r).toBeCloseTo((a * b) / (a + b + c), 5);
      expect(top.x).toBeCloseTo(10, 4);
      expect(top.y).toBeCloseTo(10, 4);
    }
  });

  it('is no longer sought once it is large enough', () => {
    const tree = new SegmentTree([ring(0, 0, 40, 0, 0, 30)]);
    const { start, top } = from(tree, 0, 38, 0, 0, 1, 5);
    expect(start.r).toBeLessThan(1);
    expect(top.r).toBe(5);
    const { top: whole } = from(tree, 0, 38, 0, 0, 1, 99);
    expect(whole.r).toBeCloseTo(10, 5);
  });

  it('between parallel walls is where one began', () => {
    const tree = new SegmentTree([ring(0, 0, 40, 0, 40, 4, 0, 4)]);
    const { start, top } = from(tree, 0, 12, 0, 0, 1, 9);
    expect(start.r).toBe(2);
    expect(top).toEqual(start);
    // No way leads up from there, so nothing is asked.
    expect(questionsOf(() => largestNearby(tree, 1, start, 12, 0, 9))).toBe(0);
    // Nor is it where the disc is as large as wanted, or larger.
    const wedge = new SegmentTree([ring(0, 0, 40, 0, 0, 30)]);
    const large = touchingDisc(wedge, 0, 30, 0, 0, 1, 99);
    for (const enough of [large.r, 0.5 * large.r])
      expect(questionsOf(() => largestNearby(wedge, 1, large, 30, 0, enough))).toBe(0);
  });

  it('is never smaller than the one it began with, lies inside and is as large as it says', () => {
    for (const outline of outlines()) {
      const tree = treeOf(outline);
      for (const { segment, x, y, nx, ny } of spotsAlong(tree, 1, 0.9, 9)) {
        const { start, top } = from(tree, segment, x, y, nx, ny, 9);
        expect(top.r).toBeGreaterThanOrEqual(start.r);
        expect(isIn(outline, top.x, top.y)).toBe(true);
        expect(distance(outline, top.x, top.y)).toBeCloseTo(top.r, 6);
        // A tenth of it any way it is no larger by more than the last step.
        for (let k = 0; k < 12; k++) {
          const [c, s] = [Math.cos(degrees(30 * k)), Math.sin(degrees(30 * k))];
          const near = 0.02 * top.r;
          expect(distance(outline, top.x + near * c, top.y + near * s)).toBeLessThan(top.r + 2e-3 * top.r);
        }
      }
    }
  });
});

describe('spots along an outline', () => {
  const square = ring(0, 0, 4, 0, 4, 3, 0, 3);

  it('lie even on every edge, no farther apart than asked, and face into the side asked for', () => {
    const tree = new SegmentTree([square]);
    const spots = spotsAlong(tree, 1, 1, 9);
    expect(spots.map(({ x, y }) => [x, y])).toEqual([
      [0.5, 0],
      [1.5, 0],
      [2.5, 0],
      [3.5, 0],
      [4, 0.5],
      [4, 1.5],
      [4, 2.5],
      [3.5, 3],
      [2.5, 3],
      [1.5, 3],
      [0.5, 3],
      [0, 2.5],
      [0, 1.5],
      [0, 0.5],
    ]);
    expect(spots[0]).toMatchObject({ segment: 0, ny: 1, turn: 0 });
    expect(spots[5]).toMatchObject({ segment: 1, nx: -1, turn: 0 });
    expect(spotsAlong(tree, -1, 1, 9)[0]).toMatchObject({ ny: -1, turn: 0 });
    expect(spotsAlong(tree, 1, 0.9, 9).filter(({ segment }) => segment === 0)).toHaveLength(5);
  });

  it('stand at each corner that turns by so much or more, and point halfway between its edges', () => {
    const tree = new SegmentTree([square]);
    const corners = spotsAlong(tree, 1, 9, 1.5).filter(({ turn }) => turn !== 0);
    expect(corners.map(({ x, y }) => [x, y])).toEqual([
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 3],
    ]);
    for (const { turn, nx, ny, x, y } of corners) {
      expect(turn).toBeCloseTo(Math.PI / 2, 12);
      expect(nx).toBeCloseTo(x === 0 ? Math.SQRT1_2 : -Math.SQRT1_2, 12);
      expect(ny).toBeCloseTo(y === 0 ? Math.SQRT1_2 : -Math.SQRT1_2, 12);
    }
    expect(spotsAlong(tree, 1, 9, Math.PI / 2).filter(({ turn }) => turn !== 0)).toHaveLength(4);
    expect(spotsAlong(tree, 1, 9, 1.6).every(({ turn }) => turn === 0)).toBe(true);
    // Seen from outside the same corners point into the other side and turn the other way.
    expect(spotsAlong(tree, -1, 9, 1.5)[0]?.turn).toBeCloseTo(-Math.PI / 2, 12);
    expect(spotsAlong(tree, -1, 9, 1.5)[0]?.nx).toBeCloseTo(-Math.SQRT1_2, 12);
  });

  it('are fewer than the edges where those are much shorter than what is asked', () => {
    // 720 edges of some 0.087 mm; one spot is wanted each 1 mm of 62.8.
    const tree = new SegmentTree([circle(0, 0, 10, 720)]);
    const spots = spotsAlong(tree, 1, 1, 9);
    expect(spots.length).toBeGreaterThan(60);
    expect(spots.length).toBeLessThan(140);
    const step = spots.slice(1).map((spot, k) => Math.hypot(spot.x - spots[k]!.x, spot.y - spots[k]!.y));
    expect(Math.max(...step)).toBeLessThan(1.1);
    expect(Math.min(...step)).toBeGreaterThan(0.4);
  });

  it('are left out on an edge whose middle is nearer than half the spacing to the last, and on no other', () => {
    // A square of edges of 1: from the middle of one to the next but one are 2, half of 4.
    const steps = [0, 1, 2, 3];
    const unit = ring(
      ...steps.flatMap((k) => [k, 0]),
      ...steps.flatMap((k) => [4, k]),
      ...steps.flatMap((k) => [4 - k, 4]),
      ...steps.flatMap((k) => [0, 4 - k]),
    );
    expect(spotsAlong(new SegmentTree([unit]), 1, 4, 9).map(({ segment }) => segment)).toEqual([
      0, 2, 4, 6, 8, 10, 12, 14,
    ]);
    // Five spots on 4.2, the last 0.42 before its end; the middle of 0.1 is 0.47 off, that of 0.2 would be 0.52.
    for (const [short, spots] of [
      [0.1, 0],
      [0.2, 1],
    ] as const) {
      const tree = new SegmentTree([ring(0, 0, 4.2, 0, 4.2, short, 0, 3)]);
      expect(spotsAlong(tree, 1, 1, 9).filter(({ segment }) => segment === 1)).toHaveLength(spots);
    }
  });

  it('begin anew with each ring, and leave out edges of no length', () => {
    const small = (x: number) => ring(x, 0, x + 0.1, 0, x + 0.1, 0, x + 0.1, 0.1, x, 0.1);
    const spots = spotsAlong(new SegmentTree([small(0), small(5), small(9)]), 1, 2, 9);
    expect(spots.map(({ x, y }) => [x, y])).toEqual([
      [0.05, 0],
      [5.05, 0],
      [9.05, 0],
    ]);
    // Where the first point is drawn twice too.
    const twice = spotsAlong(new SegmentTree([ring(0, 0, 0, 0, 2, 0, 2, 2)]), 1, 9, 9);
    expect(twice.map(({ x, y, nx, ny }) => [x, y, nx, ny])[0]).toEqual([1, 0, -0, 1]);
  });
});

describe('a corner', () => {
  it('turns by what its edges do, points drawn twice or not', () => {
    for (const angle of [20, 90, 150, -20, -90, -150]) {
      const [c, s] = [Math.cos(degrees(angle)), Math.sin(degrees(angle))];
      for (const twice of [[], [1, 0], [1, 0, 1, 0]]) {
        const tree = new SegmentTree([ring(0, 0, 1, 0, ...twice, 1 + c, s, 0, 5)]);
        for (const side of [1, -1] as const) {
          const corner = cornerAt(tree, 1 + twice.length / 2, side);
          expect(corner.turn).toBeCloseTo(side * degrees(angle), 12);
          expect([corner.x, corner.y]).toEqual([1, 0]);
          // Halfway between the normals of both edges, to the side asked for.
          expect(corner.nx).toBeCloseTo(-side * Math.sin(degrees(angle) / 2), 12);
          expect(corner.ny).toBeCloseTo(side * Math.cos(degrees(angle) / 2), 12);
        }
      }
    }
  });

  it('that turns right back points on along its edges', () => {
    const tree = new SegmentTree([ring(0, 0, 4, 0, 2, 0, 2, 3)]);
    const { turn, nx, ny } = cornerAt(tree, 1, 1);
    expect(Math.abs(turn)).toBeCloseTo(Math.PI, 12);
    expect(nx).toBeCloseTo(1, 12);
    expect(ny).toBeCloseTo(0, 12);
  });
});
