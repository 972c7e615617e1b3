/** Corners as real drawings have them: closed by a hair's edge, blunted by a few micrometres, touching one another. */
import { describe, expect, it } from 'vitest';
import type { FitInput } from '../../src/carve/fit.ts';
import { makePair } from '../../src/carve/fit.ts';
import { seat } from '../../src/carve/seat.ts';
import { degrees } from '../../src/units.ts';
import { liftOfCorner, liftOfNotch } from './fit-forms.ts';

const t = Math.tan(degrees(15));
const r = 0.1;

function twins(...rings: readonly (readonly number[])[]): FitInput {
  const region = { rings: rings.map((ring) => Float64Array.from(ring)) };
  const bit = { halfAngle: degrees(15), tipFlat: 2 * r };
  const depths = { pocketStart: 0, pocketFlat: 7.6, plugStart: 5, plugFlat: 2.6 };
  return { pocket: region, plug: region, pocketTool: bit, plugTool: bit, ...depths };
}

/** A board spike of 2 atan(2/3) = 67.38 degrees into a block, its point at 20, 15; `tip` is drawn in its stead. */
const block = (tip: readonly number[]): number[] => [0, 0, 18, 12, ...tip, 22, 12, 40, 0, 40, 40, 0, 40];
const spike = 2 * Math.atan(2 / 3);

type Pair2 = readonly [number, number];

/** The centre r from two walls that leave b and c; the room between them lies left of c's and right of b's. */
function between(b: Pair2, alongB: Pair2, c: Pair2, alongC: Pair2, r: number): Pair2 {
  const [lb, lc] = [Math.hypot(...alongB), Math.hypot(...alongC)];
  const [nb, nc] = [[-alongB[1] / lb, alongB[0] / lb] as const, [alongC[1] / lc, -alongC[0] / lc] as const];
  const [kb, kc] = [nb[0] * b[0] + nb[1] * b[1] + r, nc[0] * c[0] + nc[1] * c[1] + r];
  const det = nb[0] * nc[1] - nb[1] * nc[0];
  return [(kb * nc[1] - nb[1] * kc) / det, (nb[0] * kc - kb * nc[0]) / det];
}

describe('corners as real drawings have them', () => {
  it('an edge shorter than any rounding has no direction of its own', () => {
    const plain = liftOfNotch(spike, r, 5, t);
    for (const off of [1e-14, 1e-9, 1e-7]) {
      for (const [dx, dy] of [
        [0, off],
        [off, -off],
      ] as const) {
        const lift = seat(twins(block([20, 15, 20 + dx, 15 + dy]))).level;
        expect(Math.abs(lift - plain) * t, `${dx} ${dy}`).toBeLessThan(1e-5);
      }
    }
  });

  it('a blunt point is filled as far as a bit between both walls stays away from it', () => {
    const half = spike / 2;
    for (const w of [0.0002, 0.002, 0.02, 0.04]) {
      const back = w / Math.tan(half);
      const lift = seat(twins(block([20 - w, 15 - back, 20 + w, 15 - back]))).level;
      // The end is asked at its middle: r / sin(a/2) from the sharp point, less what is missing of it.
      const form = r / Math.sin(half) - back - r;
      expect(lift * t, `${w}`).toBeGreaterThan(form - 1e-5);
      expect(lift * t, `${w}`).toBeLessThan(form + 1e-5 + w);
    }
  });

  it('a blunt point cut across aslant, its walls long or short', () => {
    for (const [b, c, long] of [
      [[-0.0122, 0.0184], [0.0122, -0.0184], 1],
      [[-0.0122, 0.0184], [0.0122, -0.0184], 12],
      [[0, 0.00039], [0, 0], 1],
      [[0, 0], [0.00039, 0], 12],
      [[0.00006, 0.00013], [-0.00013, -0.00006], 12],
    ] as const) {
      const wallB: Pair2 = [-0.8297, -0.1961];
      const wallC: Pair2 = [-0.5177, -0.3764];
      const a = [b[0] + long * wallB[0], b[1] + long * wallB[1]];
      const d = [c[0] + long * wallC[0], c[1] + long * wallC[1]];
      const outer = [d[0] as number, -20, 20, -20, 20, 20, a[0] as number, 20];
      const lift = seat(twins([...a, ...b, ...c, ...d, ...outer])).level;
      const centre = between(b, wallB, c, wallC, r);
      const farther = Math.max(...[b, c].map(([x, y]) => Math.hypot(x - centre[0], y - centre[1])));
      const nearer = Math.min(...[b, c].map(([x, y]) => Math.hypot(x - centre[0], y - centre[1])));
      expect(lift * t, `${b} ${c} ${long}`).toBeGreaterThan(nearer - r - 1e-5);
      expect(lift * t, `${b} ${c} ${long}`).toBeLessThan(farther - r + 1e-5);
    }
  });

  it('knows the board beyond a corner in which a hole touches the outline', () => {
    const outline = [0, 0, 20, 0, 20, 20, 0, 20];
    const hole = [20, 20, 17, 12, 12, 17];
    const turned = (ring: readonly number[]): number[] => [...ring.slice(2), ...ring.slice(0, 2)];
    for (const rings of [
      [outline, hole],
      [hole, outline],
      [turned(hole), turned(outline)],
      [turned(outline), turned(turned(hole))],
    ]) {
      const pair = makePair(twins(...rings));
      for (const [x, y] of [
        [20.5, 20.5],
        [20.1, 20.9],
        [21.3, 20.2],
      ] as const) {
        expect(pair.pocket.room(x, y), `${x} ${y}`).toBeCloseTo(-Math.hypot(x - 20, y - 20), 9);
        expect(pair.pocket.depth(x, y), `${x} ${y}`).toBe(0);
        expect(pair.plug.depth(x, y), `${x} ${y}`).toBeGreaterThan(5);
      }
      expect(pair.pocket.room(10, 10)).toBeGreaterThan(0);
      expect(pair.pocket.room(17, 17)).toBeLessThan(0);
    }
  });

  it('a corner of the inlay closed by a hair', () => {
    const sharp = [0, 0, 30, 0, 15, 20];
    const angle = 2 * Math.atan(15 / 20);
    const plain = Math.max(liftOfCorner(angle, r, t), liftOfCorner(Math.atan(20 / 15), r, t));
    for (const off of [1e-14, 1e-9, 1e-5]) {
      const lift = seat(twins([...sharp, 15 - off, 20 - off])).level;
      expect(Math.abs(lift - plain) * t, `${off}`).toBeLessThan(3e-5);
    }
  });

  it('finds more room on both sides of a neck between two corners', () => {
    // Two points 0.6 apart. Beside the neck, x along, the room is to both points: hypot(x, 0.3), as far as the tip.
    const ring = [-20, -10, 0, -0.3, 20, -10, 20, 10, 0, 0.3, -20, 10];
    const pair = makePair(twins(ring));
    expect(pair.pocket.depth(0, 0) * t).toBeGreaterThan(Math.hypot(r, 0.3) - r - 1e-6);
    // One point before a straight wall: level with both at y above the wall's middle.
    const half = [-20, -0.3, 20, -0.3, 20, 10, 0, 0.3, -20, 10];
    const [far, up] = [Math.cos(0.0833), Math.sin(0.0833)];
    const room = Math.min(0.3 + r * up, Math.hypot(r * far, 0.3 - r * up));
    expect(makePair(twins(half)).pocket.depth(0, 0) * t).toBeGreaterThan(room - r - 1e-6);
  });

  it('finds the room beyond a neck from beside its middle and from the stroke before it', () => {
    // A stem 2 wide opens into a bar at y 0. The bit's centre goes to y + r on the middle line: hypot(1, y + r) from
    // both corners of the neck there, which is the room that counts.
    const letter = [-1, -9, 1, -9, 1, 0, 6, 0, 6, 5, -6, 5, -6, 0, -1, 0];
    const pair = makePair(twins(letter));
    for (const x of [0, 1e-7, 1e-4, -0.003])
      for (const y of [0, -1e-7, -0.002, -0.03]) {
        const centre = y + Math.sqrt(r * r - x * x);
        const least = Math.hypot(1, centre) - r;
        expect(pair.pocket.depth(x, y) * t, `${x} ${y}`).toBeGreaterThan(least - 1e-6);
      }
  });
});
