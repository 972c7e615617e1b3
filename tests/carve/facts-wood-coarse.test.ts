import { describe, expect, it } from 'vitest';
import { coarser } from '../../src/carve/facts-wood-coarse.ts';
import { area } from '../../src/geometry/region.ts';

const disc = (radius: number, corners: number): Float64Array =>
  Float64Array.from({ length: 2 * corners }, (_, i) => {
    const angle = (2 * Math.PI * Math.floor(i / 2)) / corners;
    return radius * (i % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
  });

describe('outlines followed coarsely', () => {
  it('a disc keeps to within what was asked, with the corners that its chords need', () => {
    // A chord of a circle of radius R that leaves it by e spans the angle 2 acos(1 - e / R).
    const [ring] = coarser({ rings: [disc(20, 2000)] }, 0.05).rings;
    const least = Math.PI / Math.acos(1 - 0.05 / 20);
    expect((ring?.length ?? 0) / 2).toBeGreaterThanOrEqual(least - 1);
    expect((ring?.length ?? 0) / 2).toBeLessThan(2.1 * least);
    const before = area({ rings: [disc(20, 2000)] });
    const after = area({ rings: [ring ?? new Float64Array(0)] });
    expect(before - after).toBeGreaterThan(0);
    expect(before - after).toBeLessThan(0.05 * 2 * Math.PI * 20);
  });

  it('straight stretches lose their corners and real corners stay', () => {
    const square = Float64Array.of(0, 0, 5, 0, 10, 0, 10, 5, 10, 10, 5, 10, 0, 10, 0, 5);
    expect([...(coarser({ rings: [square] }, 0.01).rings[0] ?? [])]).toEqual([0, 0, 10, 0, 10, 10, 0, 10]);
  });

  it('a speck smaller than what was asked stays as it is, and nothing stays nothing', () => {
    const speck = Float64Array.of(0, 0, 0.01, 0, 0.01, 0.01);
    expect(coarser({ rings: [speck] }, 0.05).rings[0]).toBe(speck);
    expect(coarser({ rings: [] }, 0.05).rings).toEqual([]);
  });
});
