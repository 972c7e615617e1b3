import { describe, expect, it } from 'vitest';
import { makePair } from '../../src/carve/fit.ts';
import { type Spread, spread } from '../../src/carve/spread.ts';
import type { Sources } from '../../src/carve/spread-effects.ts';
import { degrees } from '../../src/units.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import type { Outline } from '../witness/sweep.ts';

const NONE: Sources = {
  tipWear: 0,
  angle: 0,
  pocketZero: 0,
  plugZero: 0,
  pocketFlatness: 0,
  plugFlatness: 0,
  scale: 0,
  squareness: 0,
  runout: 0,
};

const rectangle = { rings: [Float64Array.from([-30, -20, 30, -20, 30, 20, -30, 20])] };
const t = Math.tan(degrees(15));

function run(
  sources: Partial<Sources>,
  over: { r?: number; draws?: number; seed?: number; limit?: number } = {},
): Spread {
  const bit = { halfAngle: degrees(15), tipFlat: 2 * (over.r ?? 0) };
  const pair = makePair({
    pocket: rectangle,
    plug: rectangle,
    pocketTool: bit,
    plugTool: bit,
    pocketStart: 0,
    pocketFlat: 7.6,
    plugStart: 5,
    plugFlat: 2.6,
  });
  const settings = { draws: over.draws ?? 2000, seed: over.seed ?? 1, limit: over.limit ?? 0.05 };
  return spread(pair, { sources: { ...NONE, ...sources }, ...settings });
}

describe('the fit under what varies', () => {
  it('is the plain fit when nothing varies', () => {
    const still = run({});
    expect(still.nominal).toBeLessThan(1e-6);
    expect(still.p95).toBeLessThan(1e-6);
    expect(still.chance).toBe(0);
    expect(still.worst?.gap).toBeLessThan(1e-6);
    // r (1 - sin 45) on plain walls: closed form of the square corner.
    expect(run({}, { r: 0.1 }).nominal).toBeCloseTo(0.1 * (1 - Math.SQRT1_2), 6);
  });

  it('opens no line for depth zeros alone: the plug sinks or rises and the walls still meet', () => {
    const zeros = run({ pocketZero: 0.1, plugZero: 0.1 });
    expect(zeros.worst?.gap).toBeLessThan(1e-6);
    expect(zeros.chance).toBe(0);
  });

  it('opens at sharp corners what a bit that cuts wider rounds off: r (1 - sin 45)', () => {
    // Wear counts over the whole width of the flat, runout to either side of the axis.
    expect(run({ tipWear: 0.1 }).worst?.gap).toBeCloseTo(0.05 * (1 - Math.SQRT1_2), 3);
    expect(run({ runout: 0.1 }).worst?.gap).toBeCloseTo(0.1 * (1 - Math.SQRT1_2), 3);
  });

  it('opens the bow times the slope', () => {
    // Gap at x = (E(x) - least E) t with E the bow: nothing at the middle, its full value at the corners.
    const bow = run({ pocketFlatness: 0.1 });
    const edge = 20 ** 2 / (30 ** 2 + 20 ** 2);
    expect(bow.worst?.gap).toBeGreaterThan(0.1 * t * (1 - edge) * 0.97);
    expect(bow.worst?.gap).toBeLessThan(0.1 * t * (1 - edge) * 1.001);
  });

  it('opens what a scale error leaves over, wherever it is least', () => {
    // Smaller plug: it sinks until the long sides meet, 20 mm from the middle; its corners, hypot(30, 20) from it,
    // are then rounded off by what it sank.
    const scale = run({ scale: 0.001 });
    const open = 0.001 * (Math.hypot(30, 20) - 20);
    expect(scale.worst?.gap).toBeGreaterThan(open * 0.99);
    // Ridges are taken to scale with the drawing though the bit does not: 0.1 percent of their 1.34 mm too much.
    expect(scale.worst?.gap).toBeLessThan(open * 1.01 + 0.001 * 5 * t);
  });

  it('names the source that matters', () => {
    const mixed = run({ pocketFlatness: 0.2, scale: 0.0001, pocketZero: 0.3, runout: 0.02 });
    expect(mixed.shares()[0]?.source).toBe('pocketFlatness');
    expect(mixed.shares()[0]?.share).toBeGreaterThan(0.8);
    expect(mixed.shares().find((s) => s.source === 'pocketZero')?.share).toBeLessThan(0.02);
  });

  it('never draws worse than its worst case, and counts what is over the limit', () => {
    const all = run(
      {
        pocketFlatness: 0.1,
        plugFlatness: 0.1,
        scale: 0.0002,
        squareness: 0.0003,
        angle: degrees(0.25),
        tipWear: 0.03,
        runout: 0.02,
      },
      { limit: 0.02 },
    );
    expect(all.p95).toBeLessThanOrEqual(all.worst?.gap ?? 0);
    expect(all.median).toBeLessThanOrEqual(all.p95);
    expect(all.chanceFrom).toBeLessThan(all.chance);
    expect(all.chanceTo).toBeGreaterThan(all.chance);
    expect(all.chanceTo - all.chanceFrom).toBeLessThan(0.05);
    // Each end is a share w of which what was seen lies 1.96 standard errors off: (p - w)^2 = z^2 w (1 - w) / n.
    for (const end of [all.chanceFrom, all.chanceTo])
      expect((all.chance - end) ** 2).toBeCloseTo((1.96 ** 2 * end * (1 - end)) / all.draws, 12);
    // A tighter limit is passed by more draws.
    expect(run({ pocketFlatness: 0.1 }, { limit: 0.001 }).chance).toBeGreaterThan(
      run({ pocketFlatness: 0.1 }, { limit: 0.015 }).chance,
    );
  });

  it('gives the same figures for the same seed, others for another', () => {
    const sources = { pocketFlatness: 0.1, scale: 0.0002 };
    expect(JSON.stringify(run(sources))).toBe(JSON.stringify(run(sources)));
    expect(run(sources).median).not.toBe(run(sources, { seed: 2 }).median);
    expect(Math.abs(run(sources).median - run(sources, { seed: 2 }).median)).toBeLessThan(0.002);
  });

  it('of a plug larger or smaller all round opens no wall: it stands or sinks, and its corners above the face are round', () => {
    const bit = { halfAngle: degrees(15), tipFlat: 0 };
    for (const grow of [0.02, -0.02]) {
      const plug = { rings: [rectangle.rings[0]!.map((v) => v + Math.sign(v) * grow)] };
      const depths = { pocketStart: 0, pocketFlat: 7.6, plugStart: 5, plugFlat: 2.6 };
      const pair = makePair({ pocket: rectangle, plug, pocketTool: bit, plugTool: bit, ...depths });
      const out = spread(pair, { sources: NONE, draws: 20, seed: 1, limit: 0.02 });
      // Sunk, its corner in the board's face is a round of radius e about the drawn one: sqrt(2) e - e short.
      const open = grow > 0 ? 0 : 0.02 * (Math.SQRT2 - 1);
      for (const gap of [out.worst?.gap, out.nominal, out.median, out.p95]) expect(gap).toBeCloseTo(open, 6);
      // Nothing varies, so nothing has a part in it.
      expect(out.shares().every(({ share }) => share === 0)).toBe(true);
    }
  });

  it('follows a drawing with corners too', () => {
    const bit = { halfAngle: degrees(15), tipFlat: 0.06 };
    const region = { rings: ringsOf(SHAPES['letter with a counter'] as Outline) };
    const depths = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };
    const pair = makePair({ pocket: region, plug: region, pocketTool: bit, plugTool: bit, ...depths });
    const out = spread(pair, { sources: { ...NONE, runout: 0.01 }, draws: 500, seed: 1, limit: 0.02 });
    expect(out.nominal).toBeGreaterThan(0.01);
    expect(out.worst?.gap).toBeGreaterThanOrEqual(out.nominal - 1e-9);
  });
});
