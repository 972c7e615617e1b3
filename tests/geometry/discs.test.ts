import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bottleneck,
  type Disc,
  discAt,
  discOf,
  discsAlong,
  placeAt,
  placeOn,
  separation,
  turnAfter,
} from '../../src/geometry/discs.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees, toDegrees } from '../../src/units.ts';

const ring = (...values: number[]) => new Float64Array(values);

/** A wedge with its tip at the origin, opening along x, its far side so distant that discs never meet it. */
function wedge(opening: number) {
  const half = degrees(opening / 2);
  const far = 200;
  return new SegmentTree([ring(0, 0, far, -far * Math.tan(half), far, far * Math.tan(half))]);
}

function allDiscs(tree: SegmentTree, spacing: number, limit: number): Disc[] {
  const samples = discsAlong(tree, { spacing, limit });
  return Array.from({ length: samples.count }, (_, k) => discOf(samples, k));
}

describe('largest disc touching a place', () => {
  test.each([5, 10, 30, 60, 90])(
    'in a wedge of %d degrees: half width s tan(a/2), contacts 180 - a apart',
    (opening) => {
      // Follows from the geometry: the disc at distance s from the tip along the wall has radius s tan(a/2).
      const tree = wedge(opening);
      const reach = 200 / Math.cos(degrees(opening / 2));
      for (const s of [0.001, 0.5, 3, 20]) {
        const disc = discAt(tree, placeOn(tree, 0, s / reach), 100);
        expect(Math.abs(disc.r - s * Math.tan(degrees(opening / 2)))).toBeLessThan(1e-9);
        expect(toDegrees(separation(disc))).toBeCloseTo(180 - opening, 6);
      }
    },
  );

  test('between parallel walls: half their distance, a half turn apart, at any turn', () => {
    for (const turn of [0, 17.3, 45, 90, 211]) {
      const [c, s] = [Math.cos(degrees(turn)), Math.sin(degrees(turn))];
      const tree = new SegmentTree([
        ring(0, 0, 100 * c, 100 * s, 100 * c - 0.5 * s, 100 * s + 0.5 * c, -0.5 * s, 0.5 * c),
      ]);
      const disc = discAt(tree, placeOn(tree, 0, 0.4), 10);
      expect(Math.abs(2 * disc.r - 0.5)).toBeLessThan(1e-11);
      expect(toDegrees(separation(disc))).toBeCloseTo(180, 5);
      expect(disc.other).toBe(2);
    }
  });

  test('the limit ends the growth', () => {
    const tree = new SegmentTree([ring(0, 0, 40, 0, 40, 40, 0, 40)]);
    const disc = discAt(tree, placeOn(tree, 0, 0.5), 3);
    expect(disc.r).toBe(3);
    expect(disc.other).toBe(-1);
    expect(separation(disc)).toBe(0);
  });

  test('an inward corner is looked at in every direction between its walls', () => {
    const tree = new SegmentTree([ring(0, 0, 20, 0, 20, 20, 10, 20, 10, 10, 0, 10)]);
    // The corner at 10,10 ends segment 3 and turns a quarter inward.
    expect(toDegrees(turnAfter(tree, 3))).toBeCloseTo(-90, 9);
    const samples = discsAlong(tree, { spacing: 5, limit: 20 });
    const fan =
      (samples.first[4] as number) - (samples.first[3] as number) - (samples.onSegment[3] as number);
    expect(fan).toBe(8);
    // Towards the outer corner the disc touches both outer walls: r + r / sqrt2 = 10, from p at 10,10.
    const disc = discAt(tree, placeAt(tree, 3, degrees(-45)), 20);
    expect(disc.r).toBeCloseTo(10 / (1 + Math.SQRT1_2), 9);
  });

  test('is empty and touches its contact, on any outline', () => {
    const star = fc.array(fc.double({ min: 0.5, max: 9, noNaN: true }), { minLength: 4, maxLength: 40 });
    fc.assert(
      fc.property(star, fc.boolean(), (radii, outside) => {
        const points = radii.flatMap((r, k) => {
          const turn = (2 * Math.PI * k) / radii.length;
          return [r * Math.cos(turn), r * Math.sin(turn)];
        });
        const walked = outside
          ? points.map((_, i) => points[points.length - 2 - (i - (i % 2)) + (i % 2)]!)
          : points;
        const tree = new SegmentTree([ring(...walked)]);
        for (const disc of allDiscs(tree, 1, 4)) {
          const [x, y] = [disc.px + disc.r * disc.nx, disc.py + disc.r * disc.ny];
          const clear = Math.sqrt(tree.d2(tree.nearest(x, y), x, y));
          expect(Math.abs(clear - disc.r)).toBeLessThan(3e-9);
          if (disc.other < 0) continue;
          expect(Math.abs(Math.hypot(disc.qx - x, disc.qy - y) - disc.r)).toBeLessThan(1e-8);
          expect(Math.sqrt(tree.d2(disc.other, disc.qx, disc.qy))).toBeLessThan(1e-9);
        }
      }),
      { seed: 41, numRuns: 200 },
    );
  });

  test('points given twice change no radius', () => {
    const plain = new SegmentTree([ring(0, 0, 20, 0, 20, 20, 10, 20, 10, 10, 0, 10)]);
    const doubled = new SegmentTree([
      ring(0, 0, 0, 0, 20, 0, 20, 20, 20, 20, 10, 20, 10, 10, 10, 10, 10, 10, 0, 10),
    ]);
    const radii = (tree: SegmentTree) => allDiscs(tree, 2, 20).map((disc) => disc.r);
    expect(radii(doubled)).toEqual(radii(plain));
  });
});

describe('bottleneck', () => {
  test('between two inward corners that stand off one another: sqrt(0.58)', () => {
    // Corners at (50, 9.6) and (50.3, 10.3): sqrt(0.3^2 + 0.7^2).
    const tree = new SegmentTree([
      ring(0, 0, 40, 0, 50, 9.6, 60, 0, 100, 0, 100, 20, 60, 20, 50.3, 10.3, 40, 20, 0, 20),
    ]);
    const samples = discsAlong(tree, { spacing: 1, limit: 3 });
    const k = Array.from({ length: samples.count }, (_, n) => n).find(
      (n) => (samples.segment[n] as number) === 1 && samples.px[n] === 50 && (samples.other[n] as number) > 2,
    )!;
    const found = bottleneck(tree, 1, samples.other[k] as number, samples.r[k] as number)!;
    expect(Math.abs(found.width - Math.sqrt(0.58))).toBeLessThan(1e-12);
  });

  test('none in a corner', () => {
    const tree = wedge(20);
    expect(bottleneck(tree, 0, 2, 5)).toBeUndefined();
  });

  test('width 0 where two outlines touch in a point', () => {
    const tree = new SegmentTree([ring(0, 0, 5, 4, 0, 8), ring(5, 4, 10, 0, 10, 8)]);
    expect(bottleneck(tree, 0, 3, 2)?.width).toBe(0);
  });
});
