import { describe, expect, it } from 'vitest';
import { largestRadiusUpTo } from '../../src/carve/reach.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { shrink } from '../../src/geometry/offset.ts';
import type { Region } from '../../src/geometry/shapes.ts';
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
