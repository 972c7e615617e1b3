import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import type { Ring } from '../../src/geometry/shapes.ts';

/** Plain point-to-segment distance, written apart from the tree: the least of three candidates. */
function slowDistance(ring: Ring, k: number, x: number, y: number): number {
  const n = ring.length / 2;
  const [ax, ay] = [ring[2 * k]!, ring[2 * k + 1]!];
  const [bx, by] = [ring[2 * ((k + 1) % n)]!, ring[2 * ((k + 1) % n) + 1]!];
  const length = Math.hypot(bx - ax, by - ay);
  const ends = Math.min(Math.hypot(x - ax, y - ay), Math.hypot(x - bx, y - by));
  if (length === 0) return ends;
  const s = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length;
  if (s < 0 || s > length) return ends;
  return Math.min(ends, Math.abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length);
}

const coordinate = fc.double({ min: -50, max: 50, noNaN: true });
const rings = fc.array(
  fc
    .array(coordinate, { minLength: 1, maxLength: 60 })
    .map((values) => new Float64Array(values.flatMap((v, i) => [v, values[(i * 7 + 3) % values.length]!]))),
  { minLength: 1, maxLength: 6 },
);

/** Islands of eight corners scattered over 100 x 100 mm: so many that rings are put in another order. */
const ISLANDS: readonly Ring[] = Array.from({ length: 120 }, (_, n) => {
  const [x, y] = [50 * Math.sin(12.9898 * n), 50 * Math.sin(78.233 * n + 1)];
  return Float64Array.from({ length: 16 }, (_, i) =>
    i % 2 === 0 ? x + Math.cos((i * Math.PI) / 8) : y + 2 * Math.sin(((i - 1) * Math.PI) / 8),
  );
});

describe('nearest segment', () => {
  test('is found among many outlines, and so is all that stands in a disc, of any size and wherever it goes next', () => {
    const tree = new SegmentTree(ISLANDS);
    const measured = (x: number, y: number) =>
      ISLANDS.flatMap((ring) =>
        Array.from({ length: ring.length / 2 }, (_, k) => slowDistance(ring, k, x, y)),
      );
    for (let n = 0; n < 600; n++) {
      // A walk with leaps, and discs from far smaller than an island to as large as all.
      const [x, y] = [50 * Math.sin(n / 50 + (n % 7 === 0 ? n : 0)), 50 * Math.cos(n / 31)];
      const r = 10 ** ((n % 41) / 10 - 2);
      const all = measured(x, y);
      expect(Math.sqrt(tree.d2(tree.nearest(x, y), x, y))).toBeCloseTo(Math.min(...all), 9);
      const met = new Set<number>();
      tree.shrink({ x, y, within2: r * r }, (_, segment) => met.add(segment));
      for (const [k, d] of all.entries()) if (Math.abs(d - r) > 1e-9) expect(met.has(k)).toBe(d < r);
    }
  });

  test('agrees with measuring every segment', () => {
    fc.assert(
      fc.property(rings, coordinate, coordinate, fc.nat(), (given, x, y, guess) => {
        const tree = new SegmentTree(given);
        const all = given.flatMap((ring) =>
          Array.from({ length: ring.length / 2 }, (_, k) => slowDistance(ring, k, x, y)),
        );
        const least = Math.min(...all);
        const found = tree.nearest(x, y);
        expect(Math.sqrt(tree.d2(found, x, y))).toBeCloseTo(least, 9);
        const hinted = tree.nearest(x, y, Number.POSITIVE_INFINITY, guess % tree.count);
        expect(Math.sqrt(tree.d2(hinted, x, y))).toBeCloseTo(least, 9);
        const foot: [number, number] = [0, 0];
        tree.foot(found, x, y, foot);
        expect(Math.hypot(foot[0] - x, foot[1] - y)).toBeCloseTo(least, 9);
      }),
      { seed: 31, numRuns: 300 },
    );
  });

  test('finds all segments within reach and no other', () => {
    fc.assert(
      fc.property(
        rings,
        coordinate,
        coordinate,
        fc.double({ min: 0, max: 30, noNaN: true }),
        (given, x, y, r) => {
          const tree = new SegmentTree(given);
          const seen = new Set<number>();
          tree.within(x, y, r, (i) => {
            expect(seen.has(i)).toBe(false);
            seen.add(i);
            return undefined;
          });
          let k = 0;
          for (const ring of given) {
            for (let i = 0; i < ring.length / 2; i++, k++) {
              const d = slowDistance(ring, i, x, y);
              if (Math.abs(d - r) > 1e-9) expect(seen.has(k)).toBe(d < r);
            }
          }
        },
      ),
      { seed: 32, numRuns: 300 },
    );
  });

  test('a visit can end the search', () => {
    const tree = new SegmentTree([new Float64Array([0, 0, 1, 0, 1, 1, 0, 1])]);
    let visits = 0;
    tree.within(0.5, 0.5, 9, () => ++visits === 2);
    expect(visits).toBe(2);
  });

  test('the limit is strict: nothing at exactly the limit', () => {
    const tree = new SegmentTree([new Float64Array([0, 0, 4, 0, 4, 3, 0, 3])]);
    expect(tree.nearest(2, -2, 4)).toBe(-1);
    expect(tree.nearest(2, -2, 4.0001)).toBe(0);
  });

  test('rings are walked round', () => {
    const tree = new SegmentTree([
      new Float64Array([0, 0, 1, 0, 1, 1]),
      new Float64Array([5, 5, 6, 5, 6, 6, 5, 6]),
    ]);
    expect([...tree.starts]).toEqual([0, 3, 7]);
    expect([2, 6].map((i) => tree.next(i))).toEqual([0, 3]);
    expect([0, 3].map((i) => tree.prev(i))).toEqual([2, 6]);
    expect([0, 2, 3, 6].map((i) => tree.ringOf(i))).toEqual([0, 0, 1, 1]);
  });

  test('nothing to find in nothing; a point is a segment of no length', () => {
    expect(new SegmentTree([]).nearest(0, 0)).toBe(-1);
    expect(new SegmentTree([new Float64Array(0)]).nearest(0, 0)).toBe(-1);
    const dot = new SegmentTree([new Float64Array([3, 4])]);
    expect(dot.d2(dot.nearest(0, 0), 0, 0)).toBe(25);
    new SegmentTree([]).within(0, 0, 5, () => {
      throw new Error('there is nothing to visit');
    });
  });
});
