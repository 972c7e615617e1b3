import { describe, expect, it } from 'vitest';
import { coarser } from '../../src/carve/facts-wood-coarse.ts';
import { area } from '../../src/geometry/region.ts';
import { seeded, starShaped } from '../geometry/shapes-for-tests.ts';
import { distance, type Outline } from '../witness/sweep.ts';

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

  it('keeps corners of the drawing alone, as near to all others as asked, and as many as are needed', () => {
    const random = seeded(51);
    const within = 0.4;
    let fewer = 0;
    for (let n = 0; n < 40; n++) {
      const [x, y] = [40 * random() - 20, 40 * random() - 20];
      const ring = starShaped(random, x, y, 6, 8 + 4 * n);
      const [kept = ring] = coarser({ rings: [ring] }, within).rings;
      const corners = (of: Float64Array) =>
        Array.from({ length: of.length / 2 }, (_, k) => [of[2 * k]!, of[2 * k + 1]!] as const);
      const outline: Outline = [corners(kept)];
      // They stand in the drawing's order, from its first.
      const places = corners(kept).map(([px, py]) =>
        corners(ring).findIndex(([qx, qy]) => px === qx && py === qy),
      );
      expect(places[0]).toBe(0);
      expect(places).toEqual([...places].sort((a, b) => a - b));
      expect(places).not.toContain(-1);
      for (const [px, py] of corners(ring))
        expect(distance(outline, px, py)).toBeLessThanOrEqual(within + 1e-9);
      // Between two kept ones all lie near their chord, not just near some other stretch.
      places.forEach((from, k) => {
        const to = places[k + 1] ?? ring.length / 2;
        const chord: Outline = [[corners(ring)[from]!, corners(ring)[to % (ring.length / 2)]!]];
        for (const [px, py] of corners(ring).slice(from + 1, to))
          expect(distance(chord, px, py)).toBeLessThanOrEqual(within + 1e-9);
      });
      fewer += ring.length - kept.length;
    }
    expect(fewer).toBeGreaterThan(100);
  });

  it('a dent is kept as soon as it is deeper than asked, and no sooner', () => {
    const dented = (by: number) => Float64Array.of(0, 0, 5, by, 10, 0, 10, 10, 0, 10);
    expect(coarser({ rings: [dented(0.11)] }, 0.1).rings[0]).toHaveLength(10);
    expect(coarser({ rings: [dented(0.09)] }, 0.1).rings[0]).toHaveLength(8);
    // One that runs back along its own edge is as deep as it is long.
    const back = Float64Array.of(0, 0, 10, 0, -3, 0, 10, 10);
    expect([...(coarser({ rings: [back] }, 0.1).rings[0] ?? [])]).toEqual([...back]);
  });
});
