import { describe, expect, it } from 'vitest';
import { makePair } from '../../src/carve/fit.ts';
import { seat, seatPair } from '../../src/carve/seat.ts';
import { degrees } from '../../src/units.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { columnsOver, liftOf, type Outline, sweep, widestGap } from '../witness/sweep.ts';
import { levelGap } from './level-gap.ts';

/** Depths that let even small drawings show every case, mm: mating 1, glue gap 0.5, saw gap 0.5. */
const DEPTHS = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };
const FULL = process.env['DRYFIT_FULL_WITNESS'] === '1';

const tool = (angle: number, r: number) => ({ halfAngle: degrees(angle / 2), tipFlat: 2 * r });

function modelOf(outline: Outline, angle: number, r: number) {
  const region = { rings: ringsOf(outline) };
  return { pocket: region, plug: region, pocketTool: tool(angle, r), plugTool: tool(angle, r), ...DEPTHS };
}

function bruteOf(outline: Outline, angle: number, r: number, pitch: number) {
  const bit = { t: Math.tan(degrees(angle / 2)), r };
  const columns = columnsOver(outline, 0.3, pitch);
  const pocket = sweep(outline, true, bit, DEPTHS.pocketStart, DEPTHS.pocketFlat, columns);
  const plug = sweep(outline, false, bit, DEPTHS.plugStart, DEPTHS.plugFlat, columns);
  return { pocket, plug, columns, lift: liftOf(pocket, plug, DEPTHS.plugStart) };
}

const cases = Object.entries(SHAPES).flatMap(([name, outline]) =>
  [30, 60].flatMap((angle) => [0, 0.03, 0.06].map((r) => ({ name, outline, angle, r }))),
);
/** Every third case each run; all of them with DRYFIT_FULL_WITNESS=1. */
const chosen = FULL ? cases : cases.filter((_, k) => k % 3 === Math.floor(k / 6) % 3);

describe('the seat against brute-force cutting', () => {
  it.each(chosen)('$name, $angle deg, tip $r', ({ outline, angle, r }) => {
    const pitch = FULL ? 0.01 : 0.025;
    const t = Math.tan(degrees(angle / 2));
    const fit = seat(modelOf(outline, angle, r));
    const brute = bruteOf(outline, angle, r, pitch);
    // A grid of centres leaves wood, so the brute lift is too high: by up to 1.44 pitches sideways at plain places,
    // and by 1.84 seen at the sharpest board spikes. It samples columns, so it may also miss a peak a little.
    const over = brute.lift * t - fit.level * t;
    expect(over).toBeGreaterThan(-0.75 * pitch);
    expect(over).toBeLessThan(2 * pitch);
  });

  it('comes nearer as the grid gets finer', () => {
    for (const [name, angle, r] of [
      ['star', 30, 0.06],
      ['letter with a counter', 30, 0.06],
      ['rectangle', 60, 0.06],
    ] as const) {
      const outline = SHAPES[name] as Outline;
      const t = Math.tan(degrees(angle / 2));
      const fit = seat(modelOf(outline, angle, r));
      const errors = [0.04, 0.02, 0.01].map(
        (pitch) => Math.abs(bruteOf(outline, angle, r, pitch).lift - fit.level) * t,
      );
      expect(errors[1], name).toBeLessThan((errors[0] as number) * 0.75);
      expect(errors[2], name).toBeLessThan((errors[1] as number) * 0.75);
    }
  });

  it('cuts the same section everywhere', () => {
    // A column may lie 1.44 pitches from the centres that matter; up to 1.94 was seen at a board spike of 31 deg.
    const spread = 2;
    for (const [name, angle, r] of [
      ['star', 30, 0.06],
      ['letter with a counter', 60, 0.06],
      ['notch', 30, 0],
    ] as const) {
      const outline = SHAPES[name] as Outline;
      const pitch = 0.025;
      const t = Math.tan(degrees(angle / 2));
      const pair = makePair(modelOf(outline, angle, r));
      const { pocket, plug, columns } = bruteOf(outline, angle, r, pitch);
      for (let k = 0; k < pocket.length; k += 3) {
        const x = columns.x0 + (k % columns.across) * pitch;
        const y = columns.y0 + Math.floor(k / columns.across) * pitch;
        const pocketOver = (pair.pocket.depth(x, y) - (pocket[k] as number)) * t;
        const plugOver = (pair.plug.depth(x, y) - (plug[k] as number)) * t;
        expect(pocketOver, `${name} pocket ${x} ${y}`).toBeGreaterThan(-1e-6);
        expect(pocketOver, `${name} pocket ${x} ${y}`).toBeLessThan(spread * pitch);
        expect(plugOver, `${name} plug ${x} ${y}`).toBeGreaterThan(-1e-6);
        expect(plugOver, `${name} plug ${x} ${y}`).toBeLessThan(spread * pitch);
      }
    }
  });

  it('opens the same gap at the rim', () => {
    for (const [name, angle, r] of [
      ['letter T', 30, 0.06],
      ['star', 60, 0.06],
    ] as const) {
      const outline = SHAPES[name] as Outline;
      const pair = makePair(modelOf(outline, angle, r));
      const fit = seatPair(pair);
      const pitch = 0.0125;
      const brute = bruteOf(outline, angle, r, pitch);
      const gap = widestGap(brute.pocket, brute.plug, DEPTHS.plugStart, brute.lift, brute.columns);
      const t = Math.tan(degrees(angle / 2));
      const expected = (levelGap(pair)?.gap ?? Number.NaN) + (brute.lift - fit.level) * t;
      // Two edges, each told to a column.
      expect(Math.abs(gap - expected), name).toBeLessThan(2 * pitch);
    }
  });
});
