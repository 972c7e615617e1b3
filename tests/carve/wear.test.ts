import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  inlayAfter,
  lossPerMm,
  sandingLeft,
  shareAfter,
  type Wearing,
  wholeTimes,
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
    expect(lossPerMm(degrees(15)) * s).toBeCloseTo(0.2722, 4);
    expect(lossPerMm(degrees(30)) * s).toBeCloseTo(0.5866, 4);
  });

  it('a stroke is gone at half width over taper less what the plug stands proud, or where the plug ends', () => {
    const taper = Math.tan(degrees(15));
    expect(sandingLeft(1, 0, wearing(30))).toBeCloseTo(0.5 / taper, 9);
    expect(sandingLeft(1, 0, wearing(30, { proud: 0.2 }))).toBeCloseTo(0.5 / taper - 0.2, 9);
    expect(sandingLeft(100, 0, wearing(30, { proud: 0.2 }))).toBeCloseTo(4.8, 9);
    expect(sandingLeft(0.3, 0.4, wearing(30))).toBe(0);
  });

  it('counts whole resurfacings, a hair of rounding not costing one', () => {
    // 7 x 0.1 = 0.7000000000000001 in binary: what is left after seven of 0.1 counts as seven.
    expect(wholeTimes(0.7, 0.1)).toBe(7);
    expect(wholeTimes(0.69, 0.1)).toBe(6);
    expect(wholeTimes(0, 0.25)).toBe(0);
    // A narrower bit stands more: a stroke of 1 mm, by the slope of its wall.
    const stands = [15, 30, 60, 90].map((angle) => wholeTimes(sandingLeft(1, 0, wearing(angle)), 0.25));
    expect(stands).toEqual([15, 7, 3, 2]);
  });

  it('the inlay left is the outline drawn in: 40 x 20 square corners, and its share', () => {
    const outline = { rings: [rectangle(40, 20)] };
    const inset = 2 * Math.tan(degrees(15));
    expect(area(inlayAfter(outline, 2, wearing(30)))).toBeCloseTo((40 - 2 * inset) * (20 - 2 * inset), 3);
    // Standing 0.5 mm proud it shows what lay 0.5 mm deeper.
    const proud = 2.5 * Math.tan(degrees(15));
    expect(area(inlayAfter(outline, 2, wearing(30, { proud: 0.5 })))).toBeCloseTo(
      (40 - 2 * proud) * (20 - 2 * proud),
      3,
    );
    expect(shareAfter(outline, 0, wearing(30))).toBe(1);
    expect(shareAfter(outline, 5, wearing(30))).toBe(0);
  });

  it('more sanding never leaves more, a prouder plug never stands more', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    const outline = { rings: [rectangle(40, 20)] };
    fc.assert(
      fc.property(
        number(0.1, 20),
        number(0, 6),
        number(0.01, 1),
        number(10, 90),
        (width, sanded, more, angle) => {
          const now = shareAfter(outline, sanded, wearing(angle));
          expect(shareAfter(outline, sanded + more, wearing(angle))).toBeLessThanOrEqual(now + 1e-9);
          expect(sandingLeft(width, 0, wearing(angle, { proud: more }))).toBeLessThanOrEqual(
            sandingLeft(width, 0, wearing(angle)),
          );
        },
      ),
      { seed: 8, numRuns: 300 },
    );
  });
});
