/** Ball tips, and toolpaths made for another bit than the one that cuts: against swept cuts and closed forms. */
import { describe, expect, it } from 'vitest';
import type { ToolShape } from '../../src/carve/cut.ts';
import { makePair } from '../../src/carve/fit.ts';
import { placesOf } from '../../src/carve/seat.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import { degrees, inches } from '../../src/units.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { type Bit, columnsOver, liftOf, type Outline, sweep } from '../witness/sweep.ts';

const SMALL = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };
const LARGE = { pocketStart: 0, pocketFlat: inches(0.3), plugStart: inches(0.2), plugFlat: inches(0.1) };
const slope = (angle: number): number => Math.tan(degrees(angle / 2));

function levelOf(region: Region, pocketTool: ToolShape, depths: typeof SMALL, plugTool = pocketTool): number {
  const pair = makePair({ pocket: region, plug: region, pocketTool, plugTool, ...depths });
  return placesOf(pair)[0]?.lift ?? Number.NaN;
}

function sweptLift(outline: Outline, bit: Bit, path: Bit, pitch: number, onPath: boolean): number {
  const columns = columnsOver(outline, 0.3, pitch);
  const pocket = sweep(outline, true, bit, 0, SMALL.pocketFlat, columns, path, onPath);
  const plug = sweep(outline, false, bit, SMALL.plugStart, SMALL.plugFlat, columns, path, onPath);
  return liftOf(pocket, plug, SMALL.plugStart);
}

describe('against swept cuts', () => {
  const pitch = 0.03;
  it.each([
    ['star', 30, 0.06],
    ['letter T', 60, 0.06],
    ['rectangle', 30, 0.1],
    ['notch', 60, 0.04],
  ] as const)('%s, a ball tip at %d deg of radius %f', (name, angle, ball) => {
    const outline = SHAPES[name] as Outline;
    const tool = { halfAngle: degrees(angle / 2), tipFlat: 0, tipRadius: ball };
    const bit = { t: slope(angle), r: 0, ball };
    const over =
      (sweptLift(outline, bit, bit, pitch, true) - levelOf({ rings: ringsOf(outline) }, tool, SMALL)) * bit.t;
    // As for flat tips: a grid leaves wood, so it lifts too high, and may miss a peak a little.
    expect(over).toBeGreaterThan(-0.75 * pitch);
    expect(over).toBeLessThan(2 * pitch);
  });

  it.each([
    // true angle and half tip flat, those of the path
    ['star', 32, 0, 30, 0],
    ['letter T', 36, 0.05, 30, 0.05],
    ['rectangle', 30, 0.06, 30, 0],
    ['notch', 30, 0.05, 30, 0],
    ['acute triangle', 32, 0.05, 30, 0],
    ['star', 28, 0, 30, 0],
    ['rectangle', 28, 0.05, 30, 0.05],
    ['notch', 32, 0.05, 30, 0.05],
    ['notch', 28, 0.05, 30, 0.05],
    ['letter with a counter', 31, 0.1, 30, 0.1],
    ['letter with a counter', 29, 0.1, 30, 0.1],
  ] as const)(
    '%s, cut at %d deg with a tip of %f where the path means %d and %f',
    (name, angle, r, nominal, tip) => {
      const outline = SHAPES[name] as Outline;
      const tool = {
        halfAngle: degrees(angle / 2),
        tipFlat: 2 * r,
        toolpathHalfAngle: degrees(nominal / 2),
        toolpathTipFlat: 2 * tip,
      };
      const [bit, path] = [
        { t: slope(angle), r },
        { t: slope(nominal), r: tip },
      ];
      const over =
        (sweptLift(outline, bit, path, pitch, angle < nominal) -
          levelOf({ rings: ringsOf(outline) }, tool, SMALL)) *
        bit.t;
      expect(over).toBeGreaterThan(-0.75 * pitch);
      expect(over).toBeLessThan(2 * pitch);
    },
  );
});

/**
 * Closed forms, worked out by hand from the sweep of the bit and confirmed by brute-force cutting to 3 micrometres:
 * the sideways lift of one feature alone.
 */
describe('against closed forms', () => {
  const square = { rings: [Float64Array.from([0, 0, 40, 0, 40, 40, 0, 40])] };
  const round = (half: number, length: number): Region => ({
    rings: [Float64Array.from([...arc(length, -90, half), ...arc(0, 90, half)].flat())],
  });
  const disc = round(25, 0);

  it.each([0.05, 0.1, 0.2])('a tip flat of twice %f that the path ignores', (r) => {
    // The path takes the bit for pointed: both halves are r too loose, so walls sink by 2r, corners are rounded by
    // r (1 - sin(a/2)), and a level ridge takes r back.
    const tool = { halfAngle: degrees(15), tipFlat: 2 * r, toolpathTipFlat: 0 };
    const sideways = (region: Region): number => levelOf(region, tool, LARGE) * slope(30);
    expect(Math.abs(sideways(disc) + 2 * r)).toBeLessThan(0.003);
    expect(Math.abs(sideways(square) + 2 * r - r * (1 - Math.SQRT1_2))).toBeLessThan(0.003);
    expect(Math.abs(sideways(round(1, 30)) + r)).toBeLessThan(0.003);
  });

  it.each([31, 32, 36])('a bit of %d deg where the path means 30', (angle) => {
    const [t, tn] = [slope(angle), slope(30)];
    for (const r of [0, 0.1]) {
      const flats = { tipFlat: 2 * r, toolpathTipFlat: 2 * r };
      const tool = { halfAngle: degrees(angle / 2), toolpathHalfAngle: degrees(15), ...flats };
      const sideways = (region: Region): number => levelOf(region, tool, LARGE) * t;
      const plug = LARGE.plugFlat * (t - tn);
      // Wide walls: the pocket moves out by Fp (t - tn), the plug in by Fm (t - tn).
      expect(Math.abs(sideways(disc) + LARGE.pocketFlat * (t - tn) + plug), `disc ${r}`).toBeLessThan(0.003);
      // A sharp corner stays where it is in the pocket, so only the plug's share is free.
      expect(Math.abs(sideways(square) - r * (1 - Math.SQRT1_2) + plug), `corner ${r}`).toBeLessThan(0.003);
      // A level ridge of half width 1: the pocket moves out by (t / tn - 1)(R - r) only.
      const ridge = r - (t / tn - 1) * (1 - r) - plug;
      expect(Math.abs(sideways(round(1, 30)) - ridge), `ridge ${r}`).toBeLessThan(0.003);
    }
  });

  it.each([29.999, 30.001])('a bit of %d deg where the path means 30 lifts as one of 30 does', (angle) => {
    for (const [name, outline] of Object.entries(SHAPES))
      for (const r of [0.03, 0.06, 0.1]) {
        // Where the bit does not get between the parts at all there is no fit.
        if (name === 'two close islands' && r > 0.09) continue;
        const region = { rings: ringsOf(outline) };
        const flats = { tipFlat: 2 * r, toolpathTipFlat: 2 * r };
        const own = levelOf(region, { halfAngle: degrees(15), ...flats }, SMALL);
        const tool = { halfAngle: degrees(angle / 2), toolpathHalfAngle: degrees(15), ...flats };
        expect(Math.abs(levelOf(region, tool, SMALL) - own) * slope(30), `${name} ${r}`).toBeLessThan(0.002);
      }
  });

  it.each([
    [30, 60],
    [60, 90],
    [60, 30],
    [90, 60],
  ])('pocket cut at %d deg and plug at %d', (pocketAngle, plugAngle) => {
    const [tp, tq] = [slope(pocketAngle), slope(plugAngle)];
    const bits = (r: number): [ToolShape, ToolShape] => [
      { halfAngle: degrees(pocketAngle / 2), tipFlat: 2 * r },
      { halfAngle: degrees(plugAngle / 2), tipFlat: 2 * r },
    ];
    const { plugStart: S, pocketFlat: Fp } = LARGE;
    for (const r of [0, 0.05, 0.1]) {
      const [pocketBit, plugBit] = bits(r);
      const lift = (region: Region): number => levelOf(region, pocketBit, LARGE, plugBit);
      const rounded = r * (1 - Math.SQRT1_2);
      const corner =
        tq > tp ? rounded / tq : Math.max(S - Math.min((S * tq - rounded) / tp, Fp), rounded / tq);
      expect(Math.abs(lift(square) - corner) * tq, `corner ${r}`).toBeLessThan(0.003);
      // A level ridge of half width R = 0.9, under the plug's face for every bit here.
      const ridge = Math.max(0, 0.9 / tq - Math.min(Fp, (0.9 - r) / tp));
      if (tq > tp) expect(Math.abs(lift(round(0.9, 30)) - ridge) * tq, `ridge ${r}`).toBeLessThan(0.003);
    }
  });
});

function arc(cx: number, from: number, radius: number): number[][] {
  return Array.from({ length: 361 }, (_, k) => {
    const a = degrees(from + 0.5 * k);
    return [cx + radius * Math.cos(a), radius * Math.sin(a)];
  });
}
