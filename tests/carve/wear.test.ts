import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compareBits,
  inlayAfter,
  landAfter,
  lossPerMm,
  sandingLeft,
  shareAfter,
  strokeAfter,
  type Wearing,
  wear,
} from '../../src/carve/wear.ts';
import { area } from '../../src/geometry/region.ts';
import { degrees, inches } from '../../src/units.ts';
import { rectangle } from './breakage-shapes.ts';

const wearing = (angle: number, change: Partial<Wearing> = {}): Wearing => ({
  halfAngle: degrees(angle / 2),
  mating: 5,
  proud: 0,
  ...change,
});

describe('sanding an inlay', () => {
  it('strokes lose 2 tan(half angle) per mm, lands gain it: 1.154701, 0.535898, 0.263305', () => {
    // Derived from the geometry of the wall, and measured once on a swept-tool height field.
    expect(lossPerMm(degrees(30))).toBeCloseTo(1.154701, 6);
    expect(lossPerMm(degrees(15))).toBeCloseTo(0.535898, 6);
    expect(lossPerMm(degrees(7.5))).toBeCloseTo(0.263305, 6);
  });

  it('0.02 in off a 30 degree inlay: 0.2722 mm narrower; off a 60 degree one 0.5866 mm', () => {
    // Check values worked out apart: 0.01072 in and 0.02309 in.
    const s = inches(0.02);
    expect(10 - strokeAfter(10, s, wearing(30))).toBeCloseTo(0.2722, 4);
    expect(10 - strokeAfter(10, s, wearing(60))).toBeCloseTo(0.5866, 4);
    expect(landAfter(3, s, wearing(60)) - 3).toBeCloseTo(0.5866, 4);
  });

  it('a stroke is gone at half width over taper less what the plug stands proud, or where the plug ends', () => {
    const taper = Math.tan(degrees(15));
    expect(sandingLeft(1, 0, wearing(30))).toBeCloseTo(0.5 / taper, 9);
    expect(sandingLeft(1, 0, wearing(30, { proud: 0.2 }))).toBeCloseTo(0.5 / taper - 0.2, 9);
    expect(sandingLeft(100, 0, wearing(30, { proud: 0.2 }))).toBeCloseTo(4.8, 9);
    expect(strokeAfter(1, 0.5 / taper, wearing(30))).toBeCloseTo(0, 9);
    expect(strokeAfter(100, 5, wearing(30))).toBe(0);
    expect(sandingLeft(0.3, 0.4, wearing(30))).toBe(0);
  });

  it('names the first stroke to vanish and counts whole resurfacings', () => {
    const strokes = [
      { width: 2, at: [0, 0] as const },
      { width: 0.536, at: [9, 9] as const },
      { width: 4, at: [1, 1] as const },
    ];
    const w = wear(strokes, wearing(30), 0.25, 0);
    expect(w.first!.at).toEqual([9, 9]);
    expect(w.firstGone).toBeCloseTo(0.536 / 2 / Math.tan(degrees(15)), 9);
    expect(w.resurfacings).toBe(4);
    expect(w.allGone).toBe(5);
    // Exactly a whole number of times counts in full.
    expect(wear([{ width: 0, at: [0, 0] }], wearing(30), 0.25, 0).resurfacings).toBe(0);
    expect(wear([], wearing(30), 0.25, 0).resurfacings).toBe(20);
  });

  it('a narrower bit stands more', () => {
    const strokes = [{ width: 1, at: [0, 0] as const }];
    const compared = compareBits(
      strokes,
      wearing(30),
      0.25,
      0,
      [15, 30, 60, 90].map((a) => degrees(a / 2)),
    );
    expect(compared.map((c) => c.wear.resurfacings)).toEqual([15, 7, 3, 2]);
  });

  it('the inlay left is the outline drawn in: 40 x 20 square corners, and its share', () => {
    const outline = { rings: [rectangle(40, 20)] };
    const inset = 2 * Math.tan(degrees(15));
    expect(area(inlayAfter(outline, 2, wearing(30)))).toBeCloseTo((40 - 2 * inset) * (20 - 2 * inset), 3);
    expect(shareAfter(outline, 0, wearing(30))).toBe(1);
    expect(shareAfter(outline, 5, wearing(30))).toBe(0);
  });

  it('more sanding never leaves more, a prouder plug never stands more', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        number(0.1, 20),
        number(0, 6),
        number(0.01, 1),
        number(10, 90),
        (width, sanded, more, angle) => {
          const now = strokeAfter(width, sanded, wearing(angle));
          expect(strokeAfter(width, sanded + more, wearing(angle))).toBeLessThanOrEqual(now);
          expect(sandingLeft(width, 0, wearing(angle, { proud: more }))).toBeLessThanOrEqual(
            sandingLeft(width, 0, wearing(angle)),
          );
        },
      ),
      { seed: 8, numRuns: 300 },
    );
  });
});
