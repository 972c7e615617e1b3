import { describe, expect, it } from 'vitest';
import { comparePair } from '../../src/geometry/compare.ts';
import { applyRegion, mirrorAxis } from '../../src/geometry/motion.ts';
import { grow } from '../../src/geometry/offset.ts';
import { mapRing, reversed } from '../../src/geometry/ring.ts';
import type { Motion, Region } from '../../src/geometry/shapes.ts';
import { anyMotion, icons, noisy } from './register-outlines.ts';
import { circle, regionOf, ring, seeded, square, starShaped } from './shapes-for-tests.ts';

const TOLERANCE = 0.05; // mm, the rim-gap limit
const STILL: Motion = { reflect: false, angle: 0, dx: 0, dy: 0 };
const FLIP: Motion = { reflect: true, angle: 0.7, dx: 400, dy: 30 };

/** Four pieces and a hole, none of them like another. */
function design(): Region {
  const random = seeded(101);
  return regionOf(
    starShaped(random, 60, 60, 45, 60),
    reversed(circle(60, 60, 9, 50)),
    starShaped(random, 170, 60, 35, 40),
    starShaped(random, 70, 170, 35, 45),
    starShaped(random, 180, 180, 25, 30),
  );
}

const stretched = (region: Region, x: number, y: number): Region => ({
  rings: region.rings.map((r) => mapRing(r, (u, v) => [x * u, y * v])),
});

const without = (region: Region, number: number): Region => ({
  rings: region.rings.filter((_, k) => k !== number),
});

describe('handedness', () => {
  it('a mirror about any axis is a mirror', () => {
    const random = seeded(7);
    for (let k = 0; k < 6; k++) {
      const match = comparePair(design(), applyRegion(anyMotion(random, true), design()), TOLERANCE);
      expect(match.verdict).toBe('mirror');
      expect(match.mirrored.deviation).toBeLessThan(1e-4);
      expect(match.copied.deviation).toBeGreaterThan(5);
    }
  });

  it('says about which axis', () => {
    const match = comparePair(
      design(),
      applyRegion({ ...STILL, reflect: true, dx: 240 }, design()),
      TOLERANCE,
    );
    const axis = mirrorAxis(match.mirrored.motion);
    expect(axis?.angle).toBeCloseTo(Math.PI / 2, 6);
    expect(axis?.through[0]).toBeCloseTo(120, 3);
  });

  it('a copy is a copy, also when moved or turned', () => {
    expect(comparePair(design(), design(), TOLERANCE).verdict).toBe('copy');
    expect(comparePair(design(), applyRegion({ ...STILL, dx: 30 }, design()), TOLERANCE).verdict).toBe(
      'copy',
    );
    const turned = comparePair(design(), applyRegion({ ...STILL, angle: 1 }, design()), TOLERANCE);
    expect(turned.verdict).toBe('turned-copy');
    expect(turned.copied.motion.angle).toBeCloseTo(-1, 6);
  });

  it('the copy of a symmetric design is its mirror', () => {
    for (const region of [
      regionOf(square(0, 0, 30)),
      regionOf(circle(0, 0, 30, 100)),
      regionOf(ring(0, 0, 40, 0, 20, 50)),
    ]) {
      const match = comparePair(region, region, TOLERANCE);
      expect(match.verdict).toBe('mirror');
      expect(match.selfSymmetry).toBeLessThan(1e-4);
    }
  });

  it('the copy of a nearly symmetric design is still caught: the tolerance decides, not the other fit', () => {
    // A triangle of two equal sides, with the tip 0.3 mm off the middle: its own mirror image to about 0.1 mm.
    const nearly = regionOf(ring(0, 0, 40, 0, 20.3, 50));
    const match = comparePair(nearly, nearly, TOLERANCE);
    expect(match.verdict).toBe('copy');
    expect(match.mirrored.deviation).toBeGreaterThan(TOLERANCE);
    expect(match.mirrored.deviation).toBeLessThan(0.5);
    expect(match.selfSymmetry).toBeCloseTo(match.mirrored.deviation, 6);
    expect(comparePair(nearly, applyRegion(FLIP, nearly), TOLERANCE).verdict).toBe('mirror');
  });

  it('a moved piece does not make a copy of a plug whose design is its own mirror image', () => {
    // A face with two eyes and a mouth on its axis; of the plug's the mouth has slipped. Whatever is drawn elsewhere
    // off its axis by less than the tolerance, the sides may be exchanged.
    const face = (mouthX: number, mouthY: number): Region =>
      regionOf(
        circle(60, 60, 55, 160),
        reversed(circle(40, 45.03, 8, 60)),
        reversed(circle(80, 45, 8, 60)),
        reversed(circle(mouthX, mouthY, 14, 60)),
      );
    for (const [x, y] of [
      [0.9, 0.3],
      [-0.9, 0.3],
      [0.1, 1],
      [-0.6, -0.7],
    ] as const) {
      const plug = applyRegion(FLIP, face(60 + x, 85 + y));
      const match = comparePair(face(60, 85), plug, TOLERANCE);
      expect(match.verdict).toBe('mirror');
      expect(match.moved.map(({ at }) => at[1])).toEqual([expect.closeTo(85, 0)]);
    }
  });

  it('a frame with the design cut out of it is inside out', () => {
    const frame = regionOf(square(-40, -40, 320), ...design().rings.map(reversed));
    expect(comparePair(design(), applyRegion(FLIP, frame), TOLERANCE).verdict).toBe('inside-out');
    expect(comparePair(frame, applyRegion(FLIP, design()), TOLERANCE).verdict).toBe('inside-out');
    expect(comparePair(frame, applyRegion(FLIP, frame), TOLERANCE).verdict).toBe('mirror');
  });

  it('a lattice with a piece more is no lattice inside out, though most of its lines are those of its holes', () => {
    const holes = [5, 15, 25].flatMap((x) => [5, 16, 27].map((y) => reversed(square(x, y, 9 + x / 100))));
    const lattice = regionOf(square(0, 0, 40), ...holes);
    const more = regionOf(square(0, 0, 40), ...holes, square(60, 3, 4));
    const match = comparePair(lattice, applyRegion(FLIP, more), TOLERANCE);
    expect(match.verdict).toBe('mirror');
    expect(match.extra).toHaveLength(1);
  });

  it('another design is different, and so is nothing', () => {
    const random = seeded(55);
    const other = regionOf(starShaped(random, 0, 0, 60, 90), starShaped(random, 150, 20, 40, 70));
    expect(comparePair(design(), other, TOLERANCE).verdict).toBe('different');
    expect(comparePair(design(), { rings: [] }, TOLERANCE).verdict).toBe('different');
    expect(comparePair({ rings: [] }, design(), TOLERANCE).verdict).toBe('different');
  });
});

describe('size', () => {
  it.each([
    [1.005, undefined],
    [25.4, 'inch'],
    [1 / 25.4, '1/inch'],
    [96 / 72, '96/72'],
    [72 / 96, '72/96'],
    [96 / 90, '96/90'],
    [0.9, undefined],
  ])('a plug %f times as large is a scaled mirror, never a missing one', (factor, known) => {
    const match = comparePair(design(), stretched(applyRegion(FLIP, design()), factor, factor), TOLERANCE);
    expect(match.verdict).toBe('scaled-mirror');
    expect(match.scale.uniform / factor).toBeCloseTo(1, 5);
    expect(match.scale.known).toBe(known);
    expect(match.scale.residual).toBeLessThan(0.001);
    expect(match.mirrored.deviation).toBeGreaterThan(TOLERANCE);
  });

  it('a scaled copy is still a copy', () => {
    const match = comparePair(design(), stretched(design(), 1.01, 1.01), TOLERANCE);
    expect(match.verdict).toBe('scaled-copy');
  });

  it.each([
    [1.02, 1],
    [1, 0.97],
    [2, 1],
    [1.003, 0.996],
  ])('tells %f along x and %f along y', (x, y) => {
    const match = comparePair(design(), stretched(applyRegion(FLIP, design()), x, y), TOLERANCE);
    expect(match.verdict).toBe('scaled-mirror');
    expect(match.scale.x).toBeCloseTo(x, 4);
    expect(match.scale.y).toBeCloseTo(y, 4);
    expect(match.scale.axis).toBeUndefined();
  });

  it('tells a stretch along neither by its direction', () => {
    const plug = applyRegion({ ...STILL, angle: 0.5 }, stretched(applyRegion(FLIP, design()), 1.02, 1));
    const { scale } = comparePair(design(), plug, TOLERANCE);
    expect(scale.axis).toBeCloseTo(0.5, 3);
  });

  it.each([0.12, -0.12, 0.4])('tells a growth of %f mm all round', (by) => {
    const match = comparePair(design(), applyRegion(FLIP, grow(design(), by)), TOLERANCE);
    expect(match.verdict).toBe('grown-mirror');
    expect(match.growth.by).toBeCloseTo(by, 3);
    expect(match.growth.residual).toBeLessThan(0.002);
    // Round growing moves no point farther than `by`; inner corners move by more, and the mirror is not at fault.
    expect(match.mirrored.deviation).toBeGreaterThanOrEqual(Math.abs(by) - 0.001);
  });

  it('a growth within the tolerance passes and is still measured', () => {
    const match = comparePair(design(), applyRegion(FLIP, grow(design(), 0.01)), TOLERANCE);
    expect(match.verdict).toBe('mirror');
    expect(match.growth.by).toBeCloseTo(0.01, 3);
  });
});

describe('a design that is nearly its own image in every quarter turn', () => {
  // A die's five: square with round corners, its pips off the exact places by some hundredths.
  const off = seeded(11);
  const slip = (v: number): number => v + 0.06 * (2 * off() - 1);
  const die = grow(
    regionOf(
      square(15, 15, 130),
      ...[
        [45, 45],
        [115, 45],
        [80, 80],
        [45, 115],
        [115, 115],
      ].map(([x, y]) => reversed(circle(slip(x as number), slip(y as number), 14, 200))),
    ),
    -1,
  );

  it.each([0.15, 0.5, -0.5])('has grown by %s, wherever the plug lies', (by) => {
    const random = seeded(5);
    for (let k = 0; k < 4; k++) {
      const plug = applyRegion(anyMotion(random, true), grow(die, by));
      const match = comparePair(die, plug, TOLERANCE);
      expect(match.verdict).toBe('grown-mirror');
      expect(match.growth.by).toBeCloseTo(by, 2);
    }
  });
});

describe('pieces', () => {
  it.each([0, 2, 3, 4])('names piece %i when it is missing', (number) => {
    const match = comparePair(design(), applyRegion(FLIP, without(design(), number)), TOLERANCE);
    expect(match.verdict).toBe('mirror');
    expect(match.missing.map((m) => m.ring)).toEqual([number]);
    expect(match.missing[0].kind).toBe('piece');
    expect([match.extra, match.moved, match.edited]).toEqual([[], [], []]);
  });

  it('names a hole that is missing and a piece too many', () => {
    const hole = comparePair(design(), applyRegion(FLIP, without(design(), 1)), TOLERANCE);
    expect(hole.missing.map((m) => [m.kind, m.ring])).toEqual([['hole', 1]]);
    expect(hole.missing[0].at[0]).toBeCloseTo(60, 6);
    const more = regionOf(...design().rings, square(300, 40, 12));
    const extra = comparePair(design(), applyRegion(FLIP, more), TOLERANCE);
    expect(extra.extra).toHaveLength(1);
    expect(extra.extra[0].area).toBeCloseTo(144, 3);
    expect(extra.extra[0].at[0]).toBeCloseTo(306, 2);
    expect(extra.missing).toEqual([]);
  });

  it('names a piece that moved and how far', () => {
    const rings = design().rings.map((r, k) => (k === 4 ? mapRing(r, (x, y) => [x + 1.5, y - 0.4]) : r));
    const match = comparePair(design(), applyRegion(FLIP, { rings }), TOLERANCE);
    expect(match.verdict).toBe('mirror');
    expect(match.moved).toHaveLength(1);
    expect(match.moved[0].by[0]).toBeCloseTo(1.5, 2);
    expect(match.moved[0].by[1]).toBeCloseTo(-0.4, 2);
    expect([match.missing, match.extra]).toEqual([[], []]);
  });

  it('names the places where nodes were edited, worst first', () => {
    const rings = design().rings.map((r) => r.slice());
    const push = (k: number, node: number, by: number, cx: number, cy: number): readonly [number, number] => {
      const [x, y] = [rings[k][2 * node], rings[k][2 * node + 1]];
      const r = Math.hypot(x - cx, y - cy);
      rings[k][2 * node] += (by * (x - cx)) / r;
      rings[k][2 * node + 1] += (by * (y - cy)) / r;
      return [x, y];
    };
    const first = push(2, 7, 1.2, 170, 60);
    const second = push(0, 30, 0.6, 60, 60);
    const match = comparePair(design(), applyRegion(FLIP, { rings }), TOLERANCE);
    expect(match.verdict).toBe('mirror');
    expect(match.edited).toHaveLength(2);
    expect(Math.hypot(match.edited[0].at[0] - first[0], match.edited[0].at[1] - first[1])).toBeLessThan(2);
    expect(Math.hypot(match.edited[1].at[0] - second[0], match.edited[1].at[1] - second[1])).toBeLessThan(2);
    expect(match.edited[0].by).toBeGreaterThan(match.edited[1].by);
    expect([match.missing, match.extra, match.moved]).toEqual([[], [], []]);
  });

  it('names the piece missing from a plug that was read in the wrong unit besides', () => {
    const plug = stretched(applyRegion(FLIP, without(design(), 3)), 25.4, 25.4);
    const match = comparePair(design(), plug, TOLERANCE);
    expect(match.verdict).toBe('scaled-mirror');
    expect(match.scale.known).toBe('inch');
    expect(match.missing.map((m) => m.ring)).toEqual([3]);
  });

  it('finds no scale and no growth in a plug that only lacks a piece', () => {
    const match = comparePair(design(), applyRegion(FLIP, without(design(), 3)), TOLERANCE);
    expect([match.scale.x, match.scale.y, match.scale.uniform]).toEqual([1, 1, 1]);
    expect(match.verdict).toBe('mirror');
  });

  it('tells a copy with a piece missing from a mirror', () => {
    expect(comparePair(design(), without(design(), 3), TOLERANCE).verdict).toBe('copy');
  });
});

describe('icons', () => {
  const many = process.env.DRYFIT_SWEEP === '1' ? 1000 : 20;
  it(`${many} icons: the mirror passes, the copy does not unless the icon is its own mirror image, the scale is seen`, () => {
    const random = seeded(71);
    let copies = 0;
    for (const { name, region } of icons(many)) {
      const plug = noisy(applyRegion(anyMotion(random, true), region), random, 0.001);
      const mirror = comparePair(region, plug, TOLERANCE);
      expect(mirror.verdict, name).toBe('mirror');
      const copy = comparePair(region, region, TOLERANCE);
      const symmetric = copy.mirrored.deviation <= TOLERANCE;
      expect(copy.verdict, name).toBe(symmetric ? 'mirror' : 'copy');
      if (!symmetric) copies++;
      const scaled = comparePair(region, stretched(plug, 1.005, 1.005), TOLERANCE);
      expect(scaled.mirrored.deviation, name).toBeGreaterThan(TOLERANCE);
      expect(['scaled-mirror', 'grown-mirror'], name).toContain(scaled.verdict);
    }
    expect(copies).toBeGreaterThan(10);
  });
});
