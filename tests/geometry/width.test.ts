import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Ring } from '../../src/geometry/shapes.ts';
import { leastWidth, narrowRuns } from '../../src/geometry/width.ts';
import { degrees, toDegrees } from '../../src/units.ts';
import {
  COMB,
  circle,
  curve,
  DUMBBELL,
  moreOften,
  NECK,
  PEG,
  reversedRing,
  ring,
  tipped,
  turned,
} from './width-shapes.ts';

/** A micrometre, in mm: what every closed form is held to. */
const MICROMETRE = 1e-3;

const kinds = (rings: readonly Ring[], below: number) => narrowRuns(rings, below).runs.map((run) => run.kind);

describe('widths that follow from the geometry', () => {
  test.each([0, 17.3, 90, 143])('a rectangle 100 x 2 turned by %d degrees', (turn) => {
    const { runs } = narrowRuns([turned(ring(0, 0, 100, 0, 100, 2, 0, 2), degrees(turn))], 3);
    expect(runs.map((run) => run.kind)).toEqual(['thin-island']);
    expect(Math.abs(runs[0]!.width - 2)).toBeLessThan(1e-9);
    expect(toDegrees(runs[0]!.axis) % 180).toBeCloseTo(turn, 6);
    // Its middle runs from the centre of one end's disc to that of the other; corners are left out.
    expect(Math.abs(runs[0]!.length - 98)).toBeLessThan(0.1);
    expect(Math.abs(runs[0]!.area - 196)).toBeLessThan(0.2);
  });

  test('a ring 2 mm wide: the least distance of its inner corners from its outer sides', () => {
    const inner = reversedRing(circle(400, 48));
    // Both polygons have their corners on the same rays: apothem of the outer less that of the inner, as measured
    // where the sides are parallel: (50 - 48) cos(pi / 400).
    const { runs } = narrowRuns([circle(400, 50), inner], 3);
    expect(runs.map((run) => run.kind)).toEqual(['thin-island']);
    expect(Math.abs(runs[0]!.width - 2 * Math.cos(Math.PI / 400))).toBeLessThan(1e-9);
    expect(Math.abs(runs[0]!.length - 2 * Math.PI * 49)).toBeLessThan(0.1);
  });

  test.each([60, 202, 1000])('an ellipse 50 x 10 of %d points: its largest disc', (n) => {
    const outline = curve(n, (t) => [25 * Math.cos(t), 5 * Math.sin(t)]);
    // The largest disc in the middle is stopped by the sides nearest to the centre.
    let apothem = Number.POSITIVE_INFINITY;
    for (let k = 0; k < n; k++) {
      const [ax, ay] = [outline[2 * k]!, outline[2 * k + 1]!];
      const [bx, by] = [outline[(2 * k + 2) % (2 * n)]!, outline[(2 * k + 3) % (2 * n)]!];
      apothem = Math.min(apothem, Math.abs(ax * by - ay * bx) / Math.hypot(bx - ax, by - ay));
    }
    const { runs } = narrowRuns([outline], 11);
    expect(runs.map((run) => run.kind)).toEqual(['thin-island']);
    expect(Math.abs(runs[0]!.width - 2 * apothem)).toBeLessThan(MICROMETRE);
  });

  test('two parallel strips apart: the land between them', () => {
    const strips = [ring(0, 0, 50, 0, 50, 5, 0, 5), ring(0, 5.7, 50, 5.7, 50, 11, 0, 11)];
    expect(narrowRuns(strips, 1).runs).toEqual([]);
    const lands = narrowRuns(strips.map(reversedRing), 1).runs;
    expect(lands.map((run) => run.kind)).toEqual(['neck']);
    expect(lands[0]!.width).toBeCloseTo(0.7, 12);
    expect(Math.abs(lands[0]!.length - 50)).toBeLessThan(0.2);
    expect(Math.min(lands[0]!.axis, Math.PI - lands[0]!.axis)).toBeLessThan(1e-9);
  });

  test('a neck between two inward corners that stand off one another', () => {
    const { runs } = narrowRuns([NECK], 2);
    expect(runs.map((run) => run.kind)).toEqual(['neck']);
    expect(Math.abs(runs[0]!.width - Math.sqrt(0.58))).toBeLessThan(1e-12);
    expect(runs[0]!.at[0]).toBeCloseTo(50.15, 9);
    expect(runs[0]!.at[1]).toBeCloseTo(9.95, 9);
    expect(toDegrees(runs[0]!.axis)).toBeCloseTo(180 - toDegrees(Math.atan2(0.3, 0.7)), 9);
  });

  test('a taper: where its end is reached', () => {
    // Walls 10 degrees apart from an end 1 mm wide. The last disc between them touches the end too: with half angle a
    // and its centre r from the end, its distance from a wall is (0.5 + r tan a) cos a = r.
    const a = degrees(5);
    const outline = ring(
      0,
      -0.5,
      20,
      -0.5 - 20 * Math.tan(a),
      20,
      -10,
      40,
      -10,
      40,
      10,
      20,
      10,
      20,
      0.5 + 20 * Math.tan(a),
      0,
      0.5,
    );
    const r = (0.5 * Math.cos(a)) / (1 - Math.sin(a));
    const { runs } = narrowRuns([outline], 3);
    expect(runs.map((run) => run.kind)).toEqual(['dead-end']);
    expect(Math.abs(runs[0]!.width - 2 * r)).toBeLessThan(MICROMETRE);
  });

  test('round and square islands count by their largest disc', () => {
    const square = narrowRuns([ring(0, 0, 13.3, 0, 13.3, 13.3, 0, 13.3)], 14).runs;
    expect(square.map((run) => run.kind)).toEqual(['small-island']);
    expect(Math.abs(square[0]!.width - 13.3)).toBeLessThan(MICROMETRE);
    const disc = narrowRuns([circle(101, 2)], 5).runs;
    expect(disc.map((run) => run.kind)).toEqual(['small-island']);
    expect(Math.abs(disc[0]!.width - 4 * Math.cos(Math.PI / 101))).toBeLessThan(MICROMETRE);
    expect(kinds([ring(0, 0, 13.3, 0, 13.3, 13.3, 0, 13.3)], 13.2)).toEqual([]);
    // A right triangle's largest disc: (a + b - c) / 2.
    const triangle = narrowRuns([ring(0, 0, 3, 0, 0, 4)], 3).runs;
    expect(triangle.map((run) => run.kind)).toEqual(['small-island']);
    expect(Math.abs(triangle[0]!.width - 2)).toBeLessThan(MICROMETRE);
  });
});

describe('what is narrow and what is only a corner', () => {
  test.each([31, 45, 60, 90, 120])('a corner of %d degrees is left alone', (opening) => {
    expect(kinds([tipped(degrees(opening))], 1.5)).toEqual([]);
  });

  test.each([10, 20, 26, 29])('a corner of %d degrees is a sharp tip, not a narrow stroke', (opening) => {
    const { runs, least } = narrowRuns([tipped(degrees(opening))], 1.5);
    expect(runs.map((run) => run.kind)).toEqual(['sharp-tip']);
    expect(runs[0]!.width).toBe(0);
    expect(runs[0]!.at[1]).toBe(10);
    expect(least).toBeUndefined();
    // It is as long as it takes to open to the limit: 0.75 / sin of half its angle.
    expect(Math.abs(runs[0]!.length - 0.75 / Math.sin(degrees(opening / 2)))).toBeLessThan(0.15);
    expect(Math.min(runs[0]!.axis, Math.PI - runs[0]!.axis)).toBeLessThan(1e-9);
  });

  test('a short neck between two wide bodies is found though a disc of the limit reaches all round it', () => {
    const { runs } = narrowRuns([DUMBBELL], 2.05);
    expect(runs.map((run) => run.kind)).toEqual(['neck']);
    expect(runs[0]!.width).toBeCloseTo(2, 12);
  });

  test('a neck exactly at the limit holds, one just under it does not', () => {
    const width = Math.sqrt(0.58);
    expect(kinds([NECK], width)).toEqual([]);
    expect(kinds([NECK], width + 1e-6)).toEqual(['neck']);
    expect(kinds([ring(0, 0, 100, 0, 100, 2, 0, 2)], 2)).toEqual([]);
  });

  test('a stroke that ends is a dead end; a dent less deep than wide is not', () => {
    const { runs } = narrowRuns([PEG], 1.5);
    expect(runs.map((run) => run.kind)).toEqual(['dead-end']);
    expect(runs[0]!.width).toBeCloseTo(1, 12);
    expect(kinds([ring(0, 0, 10, 0, 10, 4, 10.5, 4, 10.5, 5, 10, 5, 10, 10, 0, 10)], 1.5)).toEqual([]);
  });

  test('steps in a wall are no necks', () => {
    const steps = Array.from({ length: 50 }, (_, k) => [k * 0.2, k * 0.2, (k + 1) * 0.2, k * 0.2]).flat();
    expect(kinds([ring(...steps, 10, 10, 10, 30, -20, 30, -20, 0)], 1.5)).toEqual([]);
  });

  test('a comb has narrow tines and narrow gaps', () => {
    const tines = narrowRuns([COMB], 1).runs;
    expect(tines.map((run) => [run.kind, Math.round(run.width * 1e6) / 1e6])).toEqual([
      ['dead-end', 0.8],
      ['dead-end', 0.8],
      ['dead-end', 0.8],
    ]);
    const gaps = narrowRuns([reversedRing(COMB)], 1.25).runs;
    expect(gaps.map((run) => [run.kind, Math.round(run.width * 1e6) / 1e6])).toEqual([
      ['dead-end', 1.2],
      ['dead-end', 1.2],
    ]);
    for (const run of gaps) expect(toDegrees(run.axis)).toBeCloseTo(90, 6);
  });

  test('outlines that touch in a point leave no width there, for strokes and for lands', () => {
    const wedges = [ring(0, 0, 5, 4, 0, 8), ring(5, 4, 10, 0, 10, 8)];
    for (const rings of [wedges, wedges.map(reversedRing)]) {
      const touch = narrowRuns(rings, 1).runs.find((run) => run.width === 0)!;
      expect(touch.kind).toBe('neck');
      expect(touch.at).toEqual([5, 4]);
    }
    // A corner that touches a side.
    const onSide = [ring(0, 0, 10, 0, 10, 5, 0, 5), ring(5, 5, 8, 9, 2, 9)];
    expect(narrowRuns(onSide.map(reversedRing), 1).least).toBe(0);
  });
});

describe('no accident of the drawing changes a width', () => {
  const shapes: readonly (readonly [string, Ring, number])[] = [
    ['neck', NECK, 2],
    ['dumbbell', DUMBBELL, 2.6],
    ['peg', PEG, 1.5],
    ['comb', COMB, 1],
    ['tip', tipped(degrees(20)), 1.5],
    ['square', ring(0, 0, 3, 0, 3, 3, 0, 3), 4],
    ['ellipse', curve(120, (t) => [12 * Math.cos(t), 2 * Math.sin(t)]), 5],
  ];
  const told = (rings: readonly Ring[], below: number) =>
    narrowRuns(rings, below).runs.map((run) => [run.kind, run.width] as const);

  function expectSame(a: ReturnType<typeof told>, b: ReturnType<typeof told>, scale = 1): void {
    expect(b.map(([kind]) => kind)).toEqual(a.map(([kind]) => kind));
    a.forEach(([, width], n) => {
      expect(Math.abs(b[n]![1] - width * scale)).toBeLessThan(1e-4 * Math.max(1, scale));
    });
  }

  test.each(shapes)('turning and scaling: %s', (_, outline, below) => {
    const before = told([outline], below);
    const angle = fc.double({ min: 0, max: 7, noNaN: true });
    const scale = fc.double({ min: 0.2, max: 20, noNaN: true });
    fc.assert(
      fc.property(angle, scale, (a, s) => expectSame(before, told([turned(outline, a, s)], below * s), s)),
      { seed: 51, numRuns: 25 },
    );
  });

  test.each(shapes)('points added on its sides: %s', (_, outline, below) => {
    const before = told([outline], below);
    const share = fc.double({ min: 0.001, max: 0.999, noNaN: true });
    const shares = fc.array(share, { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(shares, (ts) =>
        expectSame(
          before,
          told(
            [
              moreOften(
                outline,
                [...ts].sort((a, b) => a - b),
              ),
            ],
            below,
          ),
        ),
      ),
      { seed: 52, numRuns: 25 },
    );
  });

  test.each(shapes)('another first point, points given twice: %s', (_, outline, below) => {
    const before = told([outline], below);
    const n = outline.length / 2;
    for (let first = 0; first < n; first += Math.ceil(n / 12)) {
      const points = Array.from({ length: n }, (_, k) => [
        ...outline.slice(2 * ((k + first) % n), 2 * ((k + first) % n) + 2),
      ]);
      expectSame(before, told([ring(...points.flat())], below));
      expectSame(before, told([ring(...points.flatMap((p) => [...p, ...p]))], below));
    }
  });

  test('flattening a curve more finely changes its width by no more than the curve moves', () => {
    // A bean: a disc of 4 mm with a waist.
    const bean = (n: number) =>
      curve(n, (t) => [6 * Math.cos(t), (2 + 1.2 * Math.cos(2 * t)) * Math.sin(t) + 0.4 * Math.cos(t)]);
    const fine = narrowRuns([bean(4001)], 2.5).runs;
    for (const n of [150, 300, 777]) {
      const runs = narrowRuns([bean(n)], 2.5).runs;
      expect(runs.map((run) => run.kind)).toEqual(fine.map((run) => run.kind));
      // The chord of an arc of radius R and turn 2 pi / n falls short by about R (pi / n)^2 / 2, twice for two walls.
      expect(Math.abs(runs[0]!.width - fine[0]!.width)).toBeLessThan(2 * 12 * (Math.PI / n) ** 2);
    }
  });
});

describe('least width of a whole region', () => {
  test('whatever its size', () => {
    expect(leastWidth([NECK])?.width).toBeCloseTo(Math.sqrt(0.58), 9);
    expect(leastWidth([turned(NECK, 1, 30)])?.width).toBeCloseTo(30 * Math.sqrt(0.58), 9);
    expect(Math.abs(leastWidth([ring(0, 0, 100, 0, 100, 100, 0, 100)])!.width - 100)).toBeLessThan(
      2 * MICROMETRE,
    );
    expect(leastWidth([DUMBBELL])?.width).toBeCloseTo(2, 9);
    // A sharp tip has no width to tell of; the body behind it has.
    expect(leastWidth([tipped(degrees(20))])?.width).toBeCloseTo(20, 6);
  });

  test('the smallest of several pieces', () => {
    expect(
      Math.abs(leastWidth([PEG, circle(64, 0.3, 40, 40)])!.width - 0.6 * Math.cos(Math.PI / 64)),
    ).toBeLessThan(1e-4);
  });

  test('nothing has no width', () => {
    expect(leastWidth([])).toBeUndefined();
    expect(leastWidth([ring(1, 1), ring(2, 2, 3, 3)])).toBeUndefined();
    expect(narrowRuns([], 1)).toEqual({ runs: [], least: undefined });
  });
});

describe('a neck a hair below the limit', () => {
  /** A plate with a round hole 2.18 mm from its edge; the hole's path misses its own start, so that it folds back. */
  const plate = ring(0, 0, 60, 0, 60, 40, 0, 40);
  const hole = (fold: number): Ring => {
    const round = reversedRing(circle(225, 10, 30, 12.18));
    const start = round.findIndex((y, k) => k % 2 === 1 && Math.abs(y - 2.18) < 1e-3) - 1;
    const turnedRing = new Float64Array([...round.slice(start), ...round.slice(0, start)]);
    const [x, y] = [turnedRing[0]!, turnedRing[1]!];
    const [ux, uy] = [turnedRing[2]! - x, turnedRing[3]! - y];
    const length = Math.hypot(ux, uy);
    // The path's last point lies a little past its first, and a third of that to the side.
    const past = [
      x + (fold * ux) / length - (fold / 3) * (uy / length),
      y + (fold * uy) / length + (fold / 3) * (ux / length),
    ];
    return fold === 0 ? turnedRing : new Float64Array([...turnedRing, ...past]);
  };

  test.each([
    [225, 240],
    [225, 90],
    [60, 60],
  ])('is a neck though only one of its walls has samples below it: %d by %d points', (inner, outer) => {
    for (const aside of [0, 0.01, 0.03]) {
      const rings = [circle(outer, 12.18, 0.003, aside), reversedRing(circle(inner, 10, 0, 0.1))];
      const least = narrowRuns(rings, 2.5).runs[0]!.width;
      for (const times of [1.0002, 1.0005, 1.001, 1.0015, 1.002, 1.003])
        expect(new Set(kinds(rings, least * times))).toEqual(new Set(['neck']));
    }
  });

  test.each([0.0035, 0.01, 0.03])('has no stroke in a fold of %d mm of the path', (fold) => {
    for (const times of [1.002, 1.005, 1.01, 1.05, 1.3]) {
      const rings = [plate, hole(fold)];
      const [run, ...others] = narrowRuns(rings, 2.18 * times).runs;
      expect(others).toEqual([]);
      expect(run?.kind).toBe('neck');
      const widths = [...run!.line].filter((_, k) => k % 3 === 2).map((r) => 2 * r);
      expect(Math.min(...widths, 3)).toBeGreaterThan(run!.width - 1e-6);
    }
  });
});

describe('a hair that leaves a wider stroke', () => {
  /** A bar 2 mm wide with a hair on it, 5 mm long, that tapers from `wide` to `fine` mm. */
  const bar = (long: number, wide: number, fine: number): Ring =>
    ring(
      0,
      0,
      long,
      0,
      long,
      2,
      30 + wide / 2,
      2,
      30 + fine / 2,
      7,
      30 - fine / 2,
      7,
      30 - wide / 2,
      2,
      0,
      2,
    );

  // Its end is as wide as drawn; the walls are all but square to it (plain geometry).
  test.each([0.05, 0.1, 0.2, 0.3, 0.5, 0.8, 1])('is the least at %d mm, whatever the limit', (fine) => {
    const outline = [bar(60, 1.2 * fine + 0.05, fine)];
    for (const below of [1.4, 1.8, 2.1, 2.5, 3, 5]) {
      const { least } = narrowRuns(outline, below);
      expect(least, `${below}`).toBeGreaterThan(fine - 1e-9);
      expect(least, `${below}`).toBeLessThan(1.06 * fine);
    }
    expect(leastWidth([bar(200, 1.2 * fine + 0.05, fine)])?.width).toBeLessThan(1.06 * fine);
  });

  test('of even width keeps its length', () => {
    // Half the way round: 60 mm of bar less its ends, and 5 mm of hair less half its width at the end.
    const { runs } = narrowRuns([bar(60, 0.3, 0.3)], 2.5);
    const told = runs.reduce((sum, run) => sum + run.length, 0);
    expect(told).toBeGreaterThan(62);
  });
});
