/** The line at the rim beside notches that the bit has filled, against brute-force cutting. */
import { describe, expect, it } from 'vitest';
import { NO_ERRORS, pairWith } from '../../src/advice/why-errors.ts';
import type { ToolShape } from '../../src/carve/cut.ts';
import { makePair, type Pair } from '../../src/carve/fit.ts';
import { placesOf } from '../../src/carve/seat.ts';
import { gapAt, gapsAlong, rimOf } from '../../src/carve/seat-rim.ts';
import { levelSeat } from '../../src/carve/seat-settle.ts';
import type { Point } from '../../src/geometry/shapes.ts';
import { degrees } from '../../src/units.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { type Bit, type Outline, sweep } from '../witness/sweep.ts';

const DEPTHS = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };
const BIT: Bit = { t: Math.tan(degrees(15)), r: 0.1 };
/** Half the window that is cut about a place, mm. */
const WITHIN = 0.45;
const PITCHES = [0.02, 0.01, 0.005];

function pairOf(outline: Outline, r: number, more: Partial<ToolShape> = {}): Pair {
  const region = { rings: ringsOf(outline) };
  const tool = { halfAngle: degrees(15), tipFlat: 2 * r, ...more };
  return makePair({ pocket: region, plug: region, pocketTool: tool, plugTool: tool, ...DEPTHS });
}

/** From a place to the nearest column of swept plug wood in the board's face, mm; only a window about it is cut. */
function sweptGap(
  outline: Outline,
  lift: number,
  [x, y]: Point,
  pitch: number,
  bit: Bit,
  path = bit,
  onPath = false,
): number {
  const across = 2 * Math.ceil(WITHIN / pitch) + 1;
  const columns = {
    x0: x - ((across - 1) / 2) * pitch + 0.37 * pitch,
    y0: y - ((across - 1) / 2) * pitch + 0.61 * pitch,
    pitch,
    across,
    down: across,
  };
  const plug = sweep(outline, false, bit, DEPTHS.plugStart, DEPTHS.plugFlat, columns, path, onPath);
  let nearest = Number.POSITIVE_INFINITY;
  plug.forEach((depth, k) => {
    if (DEPTHS.plugStart - lift - depth < 0) return;
    const ex = columns.x0 + (k % across) * pitch - x;
    const ey = columns.y0 + Math.floor(k / across) * pitch - y;
    nearest = Math.min(nearest, Math.hypot(ex, ey));
  });
  return nearest;
}

describe('the line beside filled notches', () => {
  it.each([
    // Along the counter's foot, between two notches that the bit fills in part: both reach as far as its middle.
    [[1.3, 1.2]],
    [[1.145, 1.2]],
    [[1.126, 1.2]],
    [[1.2806, 1.2]],
  ] as const)('is as wide at %j as the swept cut leaves it', (at) => {
    const outline = SHAPES['letter with a counter'] as Outline;
    const pair = pairOf(outline, BIT.r);
    const level = levelSeat(pair, placesOf(pair));
    const told = gapAt(pair, level, at);
    for (const pitch of PITCHES) {
      const off = told - sweptGap(outline, level.height, at, pitch, BIT);
      // A grid of centres leaves wood, up to two pitches of it, and columns may miss its point by as much.
      expect(off, `at ${pitch}`).toBeGreaterThan(-2 * pitch);
      expect(off, `at ${pitch}`).toBeLessThan(2 * pitch);
    }
  });

  it.each([
    ['letter with a counter', 0.06, 29, [1.0098, 1.2069]],
    ['star', 0.03, 29, [0.4295, 0.4005]],
    ['notch', 0.06, 31, [1.526, 0.8588]],
  ] as const)(
    'in the %s, tip %f, path for %d deg, is as wide at %j as the swept cut leaves it',
    (name, r, angle, at) => {
      const outline = SHAPES[name] as Outline;
      const pair = pairOf(outline, r, { toolpathHalfAngle: degrees(angle / 2), toolpathTipFlat: 2 * r });
      const path = { t: Math.tan(degrees(angle / 2)), r };
      const level = levelSeat(pair, placesOf(pair));
      const told = gapAt(pair, level, at);
      for (const pitch of PITCHES) {
        const off = told - sweptGap(outline, level.height, at, pitch, { ...BIT, r }, path, angle > 30);
        expect(off, `at ${pitch}`).toBeGreaterThan(-2 * pitch);
        expect(off, `at ${pitch}`).toBeLessThan(2 * pitch);
      }
    },
  );

  it.each([
    ['notch', [1.5, 0.9]],
    ['letter with a counter', [1.7667, 0.7556]],
  ] as const)('in the %s under a ball is as wide at %j as the swept cut leaves it', (name, at) => {
    const outline = SHAPES[name] as Outline;
    const ball = { t: BIT.t, r: 0, ball: 0.12 };
    const pair = pairOf(outline, 0, { tipRadius: 0.12 });
    const level = levelSeat(pair, placesOf(pair));
    const told = gapAt(pair, level, at);
    for (const pitch of PITCHES) {
      const off = told - sweptGap(outline, level.height, at, pitch, ball, ball, true);
      // At the board's spike of 31 degrees a grid leaves a little more wood than beside plain corners.
      expect(off, `at ${pitch}`).toBeGreaterThan(-2 * pitch);
      expect(off, `at ${pitch}`).toBeLessThan(2.5 * pitch);
    }
  });

  it('opens by a cut that is deeper all over as by a plug that stands so much higher', () => {
    const pair = pairOf(SHAPES['letter with a counter'] as Outline, BIT.r);
    const level = levelSeat(pair, placesOf(pair));
    const deeper = pairWith(pair, { ...NO_ERRORS, plugZero: 0.1 });
    const higher = { ...level, height: level.height + 0.1 };
    for (const at of rimOf(pair, 0.05))
      expect(Math.abs(gapAt(deeper, level, at) - gapAt(pair, higher, at)), `${at}`).toBeLessThan(1e-4);
  });

  it('changes along the rim by no more than the way from place to place', () => {
    for (const [name, outline] of Object.entries(SHAPES))
      for (const r of [0.03, 0.06, 0.085, 0.1]) {
        // Where the bit does not get between the parts at all there is no fit.
        if (name === 'two close islands' && r > 0.09) continue;
        const pair = pairOf(outline, r);
        const level = levelSeat(pair, placesOf(pair));
        const rim = gapsAlong(pair, level, rimOf(pair, 0.02));
        rim.forEach(({ gap, at }, k) => {
          const before = rim[k - 1];
          if (before === undefined) return;
          const way = Math.hypot(at[0] - before.at[0], at[1] - before.at[1]);
          expect(Math.abs(gap - before.gap), `${name} ${r} ${at}`).toBeLessThan(way + 1e-4);
        });
      }
  });
});
