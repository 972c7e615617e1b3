import { describe, expect, it } from 'vitest';
import { type Cut, makeCut, type ToolShape } from '../../src/carve/cut.ts';
import { nearestWood } from '../../src/carve/seat-wood.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';
import { ring, seeded } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import type { Outline } from '../witness/sweep.ts';

const t = Math.tan(degrees(15));
const r = 0.1;
const START = 1;

const plugOf = (rings: Float64Array[], change: Partial<ToolShape> = {}): Cut =>
  makeCut({
    tree: new SegmentTree(rings),
    side: -1,
    tool: { halfAngle: degrees(15), tipFlat: 2 * r, ...change },
    start: START,
    flat: 2,
  });

describe('how far the nearest wood of a plug is', () => {
  const square = plugOf([ring(0, 0, 20, 0, 20, 20, 0, 20)]);

  it('beside a plain wall goes with the depth by its slope', () => {
    for (const depth of [0.3, 0.8, 1, 1.2])
      for (const out of [0.1, 0.25, 0.6]) {
        const far = Math.max(0, out + (START - depth) * t);
        expect(nearestWood(square, depth, 10, -out, 9)).toBeCloseTo(far, 4);
        expect(nearestWood(square, depth, 20 + out, 10, 9)).toBeCloseTo(far, 4);
      }
  });

  it('is none within the wood, and no more than is asked for', () => {
    expect(nearestWood(square, 1, 10, 5, 9)).toBe(0);
    expect(nearestWood(square, 1.5, 10, -0.05, 9)).toBe(0);
    expect(nearestWood(square, 1, 10, -0.6, 0.2)).toBe(0.2);
    expect(nearestWood(square, 1, 10, -0.6, 0)).toBe(0);
  });

  it('round a corner of the plug is the way to its point, which stays sharp', () => {
    for (const [x, y] of [
      [0.2, 0.2],
      [0.3, 0.1],
      [0.05, 0.4],
    ] as const)
      expect(nearestWood(square, START, -x, -y, 9)).toBeCloseTo(Math.hypot(x, y), 4);
    // Nearer to its face the plug is drawn back all round: the corner's point by as much along both walls.
    const back = 0.5 * t;
    expect(nearestWood(square, START - 0.5, -0.2, -0.1, 9)).toBeCloseTo(
      Math.hypot(0.2 + back, 0.1 + back),
      4,
    );
  });

  it.each([40, 60, 90, 120])('in a notch of %d degrees is that of the round the bit has left', (angle) => {
    const half = degrees(angle / 2);
    // A notch 3 mm deep in a wide plug, its point at (10, 3).
    const wide = 3 * Math.tan(half);
    const notched = plugOf([ring(0, 0, 10 - wide, 0, 10, 3, 10 + wide, 0, 20, 0, 20, 20, 0, 20)]);
    for (const depth of [0.4, 0.8, 1, 1.3]) {
      // Over the start depth the bit is wider than its tip, with its centre no nearer to the edges than the tip's
      // half; below, its centre keeps off by the slope as well.
      const bit = r + Math.max(0, START - depth) * t;
      const keeps = r + Math.max(0, depth - START) * t;
      const centre = keeps / Math.sin(half);
      for (const share of [0.3, 0.6, 0.9]) {
        const s = share * centre;
        const far = Math.max(0, bit - (centre - s));
        expect(nearestWood(notched, depth, 10, 3 - s, 9), `${depth} ${share}`).toBeCloseTo(far, 4);
      }
    }
  });

  it('beside a wall cut at another angle than its path means goes out with the flat depth too', () => {
    const other = plugOf([ring(0, 0, 20, 0, 20, 20, 0, 20)], {
      toolpathHalfAngle: degrees(14),
      toolpathTipFlat: 2 * r,
    });
    const out = 2 * (t - Math.tan(degrees(14)));
    for (const depth of [0.4, 1, 1.3])
      for (const d of [0.2, 0.4])
        expect(nearestWood(other, depth, 10, -d, 9)).toBeCloseTo(d + (START - depth) * t + out, 3);
  });

  it('is where a circle of points round a place is first in wood', () => {
    const random = seeded(81);
    for (const name of ['notch', 'letter with a counter', 'star']) {
      const small = makeCut({
        tree: new SegmentTree(ringsOf(SHAPES[name] as Outline)),
        side: -1,
        tool: { halfAngle: degrees(15), tipFlat: 0.12 },
        start: 1,
        flat: 0.8,
      });
      const corners = (SHAPES[name] as Outline).flat();
      for (let n = 0; n < 25; n++) {
        const [cx, cy] = corners[n % corners.length] as readonly [number, number];
        const [x, y] = [cx + 0.3 * (random() - 0.5), cy + 0.3 * (random() - 0.5)];
        const depth = 0.4 + 0.8 * random();
        const isWood = (far: number, turn: number): boolean =>
          small.depth(x + far * Math.cos(degrees(turn)), y + far * Math.sin(degrees(turn))) < depth;
        const around = (far: number): boolean =>
          Array.from({ length: 360 }, (_, k) => k).some((turn) => isWood(far, turn));
        const found = nearestWood(small, depth, x, y, 0.5);
        const says = `${name} ${x} ${y} ${depth}`;
        if (found > 2e-3) expect(around(found - 1e-3), says).toBe(false);
        // A sharp point of wood may stand between two of the circle's points.
        const more = name === 'star' ? 0.03 : 0.005;
        if (found < 0.5) expect(around(found + more), says).toBe(true);
      }
    }
  });
});
