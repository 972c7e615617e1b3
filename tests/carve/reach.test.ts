import { describe, expect, it } from 'vitest';
import { largestRadiusUpTo, plugDemand, pocketDemand, tipWidth } from '../../src/carve/reach.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { shrink } from '../../src/geometry/offset.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import type { Bit } from '../../src/job/schema.ts';
import { degrees, inches } from '../../src/units.ts';
import { icons } from '../geometry/register-outlines.ts';

await loadClipper();

const polygon = (...points: number[]): Region => ({ rings: [Float64Array.from(points)] });

describe('the largest inscribed radius', () => {
  it('is that of the closed form', () => {
    expect(largestRadiusUpTo(polygon(0, 0, 30, 0, 30, 4, 0, 4), 50)).toBeCloseTo(2, 5);
    // Right triangle: (a + b - c) / 2.
    expect(largestRadiusUpTo(polygon(0, 0, 30, 0, 0, 40), 50)).toBeCloseTo(10, 4);
    // In the bend of an angle iron with legs 4 wide the disc reaches the inner corner: r sqrt(2) + r = 4 sqrt(2).
    const iron = polygon(0, 0, 30, 0, 30, 4, 4, 4, 4, 30, 0, 30);
    expect(largestRadiusUpTo(iron, 50)).toBeCloseTo((4 * Math.SQRT2) / (Math.SQRT2 + 1), 4);
  });

  it('is no more than asked for, and nothing for nothing', () => {
    expect(largestRadiusUpTo(polygon(0, 0, 30, 0, 30, 4, 0, 4), 1.5)).toBe(1.5);
    // A frame 1 mm wide, whose corners alone are wider: r + r sqrt(2) = sqrt(2).
    const frame = {
      rings: [0, 1].map((k) => Float64Array.of(k, k, ...(k ? [1, 9, 9, 9, 9, 1] : [10, 0, 10, 10, 0, 10]))),
    };
    expect(largestRadiusUpTo(frame, 0.55)).toBe(0.55);
    expect(largestRadiusUpTo(frame, 0.5)).toBe(0.5);
    expect(largestRadiusUpTo(frame, 0.6)).toBeCloseTo(Math.SQRT2 / (1 + Math.SQRT2), 4);
    expect(largestRadiusUpTo({ rings: [] }, 3)).toBe(0);
    expect(largestRadiusUpTo(polygon(0, 0, 1, 0, 0, 1), 0)).toBe(0);
  });

  it('is found in the one crossing of a thousand bars, where places along the outline lie too far apart to show it', () => {
    const bars = Array.from({ length: 1000 }, (_, k) => {
      const y = 3 * k;
      return Float64Array.of(0, y, 50, y, 50, y + 1, 0, y + 1);
    });
    const [a, b] = [25, 26];
    const cross = Float64Array.from(
      [a, 0, b, 0, b, a, 51, a, 51, b, b, b, b, 51, a, 51, a, b, 0, b, 0, a, a, a].map((v) => v + 3100),
    );
    const radius = largestRadiusUpTo({ rings: [...bars, cross] }, 5);
    // A disc through the four inner corners of a crossing of bars 1 mm wide: half the diagonal of 1 mm.
    expect(radius).toBeGreaterThan(Math.SQRT1_2 - 1e-6);
    expect(radius).toBeLessThan(Math.SQRT1_2 + 0.003);
  });

  it('is where the drawing drawn in by it vanishes (offsets by clipper2-wasm), in icons nobody here drew', () => {
    for (const { name, region } of icons(12)) {
      const radius = largestRadiusUpTo(region, 40);
      expect(shrink(region, radius - 0.002).rings.length, name).toBeGreaterThan(0);
      expect(shrink(region, radius + 0.002).rings.length, name).toBe(0);
    }
  });
});

/** The bit as far as these ask it. */
const bitOf = (angle: number, tip: { readonly tipFlat?: number; readonly tipRadius?: number }): Bit =>
  ({ angle: degrees(angle), ...tip }) as unknown as Bit;
const WIDE = polygon(0, 0, 300, 0, 300, 300, 0, 300);

describe('how wide a bit must be', () => {
  // Check values in inches: 2 (r + Fp t) and 2 (r + (S + Fm) t) at S 0.2, Fp 0.3, Fm 0.1, confirmed by swept cuts.
  it.each([
    [30, 0, 0.16077],
    [30, 0.005, 0.17077],
    [60, 0, 0.34641],
    [60, 0.01, 0.36641],
  ])('%d degrees, half the tip %f in', (angle, r, wanted) => {
    const bit = bitOf(angle, { tipFlat: inches(2 * r) });
    const pocket = pocketDemand(WIDE, bit, 0, inches(0.3));
    expect(pocket.diameter / inches(1)).toBeCloseTo(wanted, 5);
    expect(pocket.depth).toBeCloseTo(inches(0.3), 9);
    const plug = plugDemand(WIDE, bit, inches(0.2), inches(0.1));
    expect(plug.diameter / inches(1)).toBeCloseTo(wanted, 5);
    expect(plug.depth).toBeCloseTo(inches(0.3), 9);
  });

  it('a narrow stroke lets the bit no deeper than it is wide, and a start depth widens the mouth by its slope', () => {
    const bit = bitOf(90, { tipFlat: 0.2 });
    const stroke = polygon(0, 0, 30, 0, 30, 2, 0, 2);
    expect(pocketDemand(stroke, bit, 0, 7).diameter).toBeCloseTo(2, 4);
    expect(pocketDemand(stroke, bit, 0.5, 7)).toEqual({ depth: 7.5, diameter: expect.closeTo(3, 4) });
    expect(pocketDemand(stroke, bit, 0.5, 0.3).diameter).toBeCloseTo(2 * (0.1 + 0.3 + 0.5), 6);
    const steep = bitOf(60, { tipFlat: 0.2 });
    const slope = Math.tan(degrees(30));
    expect(pocketDemand(stroke, steep, 0.5, 0.3).diameter).toBeCloseTo(2 * (0.1 + 0.8 * slope), 6);
    expect(plugDemand(stroke, steep, 0.6, 3).diameter).toBeCloseTo(2 * (0.1 + 3.6 * slope), 6);
    // Over the plug's face the slope ends in the stroke's middle.
    expect(plugDemand(stroke, bit, 5, 3).diameter).toBeCloseTo(2 * (0.1 + 3 + 1), 4);
    expect(plugDemand(stroke, bit, 0.6, 3).diameter).toBeCloseTo(2 * (0.1 + 3 + 0.6), 6);
  });

  it('with a ball is that of a circle as far as the ball goes, then of the cone that touches it', () => {
    const q = 2;
    const half = degrees(30);
    const bit = bitOf(60, { tipRadius: q });
    const width = (height: number): number => pocketDemand(WIDE, bit, 0, height).diameter / 2;
    const joint = q * (1 - Math.sin(half));
    for (const height of [0.1, 0.5, joint - 0.01])
      expect(width(height) ** 2 + (q - height) ** 2).toBeCloseTo(q * q, 9);
    expect(width(joint)).toBeCloseTo(q * Math.cos(half), 9);
    expect(width(joint - 1e-9)).toBeCloseTo(q * Math.cos(half), 6);
    for (const more of [0.01, 1, 5])
      expect(width(joint + more)).toBeCloseTo(q * Math.cos(half) + more * Math.tan(half), 9);
    expect(tipWidth(bit)).toBeCloseTo(2 * width(joint), 9);
  });

  it('of a tip that the job does not know is that of a point', () => {
    expect(tipWidth(bitOf(60, {}))).toBeUndefined();
    expect(tipWidth(bitOf(60, { tipFlat: 0.3 }))).toBe(0.3);
    expect(pocketDemand(WIDE, bitOf(90, {}), 0, 3).diameter).toBeCloseTo(6, 9);
  });
});

describe('the largest inscribed radius, where it is told by other ways', () => {
  it('a wide place is seen wherever it lies in the box, and whatever its offset from the origin', () => {
    for (const [dx, dy] of [
      [0, 0],
      [500, -300],
      [-500, 300],
    ] as const)
      for (const [cx, cy] of [
        [5, 5],
        [95, 5],
        [5, 95],
        [95, 95],
      ] as const) {
        // A square 8 mm wide, and a frame 1 mm wide whose corners are its widest places.
        const at = (points: readonly number[]) =>
          Float64Array.from(points, (v, k) => v + (k % 2 === 0 ? dx : dy));
        const frame = at([0, 0, 100, 0, 100, 100, 0, 100]);
        const hole = at([1, 1, 1, 99, 99, 99, 99, 1]);
        const [x, y] = [cx - 4, cy - 4];
        const square = at([x, y, x + 8, y, x + 8, y + 8, x, y + 8]);
        const region = { rings: [square] };
        expect(largestRadiusUpTo(region, 50)).toBeCloseTo(4, 4);
        expect(largestRadiusUpTo(region, 3.999)).toBe(3.999);
        expect(largestRadiusUpTo({ rings: [frame, hole] }, 50)).toBeCloseTo(Math.SQRT2 / (Math.SQRT2 + 1), 4);
      }
  });
});
