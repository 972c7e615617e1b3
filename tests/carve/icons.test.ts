/** The fit on drawings nobody here made: closed with a sharp point; with a tip, held by what a plain search finds too. */
import { describe, expect, it } from 'vitest';
import { type Contact, type Fit, liftAt, makePair, type Pair } from '../../src/carve/fit.ts';
import { placesOf, seatPair } from '../../src/carve/seat.ts';
import type { Point, Region } from '../../src/geometry/shapes.ts';
import { degrees } from '../../src/units.ts';
import { type Drawing, iconDrawings, letterDrawings, someOf, tidied } from '../reference/letters.ts';
import { type Columns, columnsOver, distance, liftOf, type Outline, sweep } from '../witness/sweep.ts';
import { levelGap } from './level-gap.ts';

/** 200 drawings and ten swept cuts of each kind with DRYFIT_FULL=1; 40 and three, on a coarser grid, otherwise. */
const FULL = process.env['DRYFIT_FULL'] === '1';
const TIP = 0.1; // half of a 0.2 mm flat
const SLOPE = Math.tan(degrees(15));
const DEPTHS = { pocketStart: 0, pocketFlat: 7.6, plugStart: 5, plugFlat: 2.6 };

const drawings = (across: number): readonly Drawing[] => {
  const all = [...someOf(iconDrawings(across), 140, 3), ...someOf(letterDrawings(across), 60, 5)];
  return FULL ? all : someOf(all, 40, 11);
};

function pairOf(region: Region, half: number, depths = DEPTHS): Pair {
  const tool = { halfAngle: degrees(15), tipFlat: 2 * half };
  return makePair({ pocket: region, plug: region, pocketTool: tool, plugTool: tool, ...depths });
}

describe('the fit of real drawings', () => {
  it('closes within a micrometre with a sharp point', () => {
    let widest = 0;
    for (const drawing of drawings(100)) {
      const pair = pairOf(tidied(drawing).drawn.region, 0);
      const fit = seatPair(pair);
      expect(fit.rim.length, drawing.name).toBeGreaterThan(3);
      for (const found of [fit.worstGap, levelGap(pair)]) {
        expect(found?.gap, drawing.name).toBeLessThan(0.001);
        widest = Math.max(widest, found?.gap ?? 0);
      }
    }
    console.log(
      `sharp point: rims of ${drawings(100).length} drawings open by ${widest.toExponential(1)} mm at most`,
    );
  }, 600_000);

  it('names the tightest corner, notch or stroke with a tip', () => {
    const kinds = new Map<string, number>();
    for (const drawing of drawings(100)) {
      const { region } = tidied(drawing).drawn;
      const pair = pairOf(region, TIP);
      const fit = seatPair(pair);
      const named = expectNamed(drawing.name, region, pair, fit);
      kinds.set(named.kind, (kinds.get(named.kind) ?? 0) + 1);
      expectHighest(drawing.name, pair, fit);
    }
    console.log(`0.2 mm tip: ${[...kinds].map(([kind, count]) => `${kind} in ${count}`).join(', ')}`);
  }, 900_000);

  it('is held where swept cuts are', () => {
    const depths = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };
    const pitch = FULL ? 0.04 : 0.06;
    const offs: number[] = [];
    // Smaller drawings, so that a grid can cover them whole; of few points, so that it takes seconds.
    const small = drawings(30).filter(({ svg }) => svg.length < (FULL ? 900 : 600));
    for (const drawing of someOf(small, FULL ? 10 : 3, 2)) {
      const { region } = tidied(drawing).drawn;
      const pair = pairOf(region, TIP, depths);
      const outline = outlineOf(region);
      const over = sweptOver(outline, columnsOver(outline, 0.3, pitch), depths, levelOf(pair));
      expectOver(drawing.name, over, pitch);
      offs.push(over);
    }
    expect(offs).toHaveLength(FULL ? 10 : 3);
    console.log(
      `swept whole at ${pitch} mm: off by ${offs.map((v) => (1000 * v).toFixed(0)).join(', ')} micrometres`,
    );
  }, 900_000);

  it('is held as high by the corner or notch it names as swept cuts are', () => {
    // Less deep than such drawings are cut, so that the bit reaches less far and a fine grid ends.
    const depths = { pocketStart: 0, pocketFlat: 3, plugStart: 2, plugFlat: 1 };
    const pitches = FULL ? [0.03, 0.015] : [0.04, 0.02];
    const count = FULL ? 10 : 3;
    let told = 0;
    for (const drawing of someOf(drawings(100), 40, 17)) {
      if (told === count) break;
      const { region } = tidied(drawing).drawn;
      const { level, tight } = seatPair(pairOf(region, TIP, depths));
      const [named] = tight;
      // Strokes are told along their length: any of many places may be the highest there.
      if (named === undefined || (named.kind !== 'corner' && named.kind !== 'notch')) continue;
      told++;
      // Cut is a window about the place, with all that the bit reaches from there.
      const offs = pitches.map((pitch) => {
        const columns = columnsAbout(named.at, 0.15, pitch);
        const over = sweptOver(outlineOf(region), columns, depths, level);
        expectOver(`${drawing.name} at ${pitch}`, over, pitch);
        return (1000 * over).toFixed(1);
      });
      const angle = (((named.angle ?? 0) * 180) / Math.PI).toFixed(0);
      const lifts = (1000 * level * SLOPE).toFixed(1);
      console.log(
        `${drawing.name}: ${named.kind} of ${angle} degrees, ${lifts}; swept ${offs.join(', then ')} more`,
      );
    }
    expect(told).toBe(count);
  }, 900_000);
});

function levelOf(pair: Pair): number {
  return placesOf(pair)[0]?.lift ?? Number.NaN;
}

/** By how much more than told a swept pair stands proud, mm sideways. */
function sweptOver(outline: Outline, columns: Columns, depths: typeof DEPTHS, level: number): number {
  const bit = { t: SLOPE, r: TIP };
  const pocket = sweep(outline, true, bit, depths.pocketStart, depths.pocketFlat, columns);
  const plug = sweep(outline, false, bit, depths.plugStart, depths.plugFlat, columns);
  return (liftOf(pocket, plug, depths.plugStart) - level) * SLOPE;
}

/** The same bounds as for plain shapes: a grid leaves wood, and may miss a peak a little. */
function expectOver(name: string, over: number, pitch: number): void {
  expect(over, name).toBeGreaterThan(-0.75 * pitch);
  expect(over, name).toBeLessThan(2 * pitch);
}

function columnsAbout([x, y]: Point, within: number, pitch: number): Columns {
  const half = Math.ceil(within / pitch);
  const across = 2 * half + 1;
  return { x0: x - (half - 0.37) * pitch, y0: y - (half - 0.61) * pitch, pitch, across, down: across };
}

/** What is named must be there in the drawing, and account for the height told. */
function expectNamed(name: string, region: Region, pair: Pair, fit: Fit): Contact {
  const [named] = fit.tight;
  expect(named, name).toBeDefined();
  const { kind, alone, at, width, angle } = named as Contact;
  // Lifts within a hundredth of a micrometre are told as one.
  expect(Math.abs(alone - fit.level), name).toBeLessThan(2e-5);
  expect(fit.level, name).toBeGreaterThan(0);
  const away = distance(outlineOf(region), at[0], at[1]);
  if (kind === 'narrow-stroke') {
    // The middle of a disc that fits there or, where the plug's face cuts its ridge off, the face's edge, which is
    // less than r beside it; a level ridge holds by r at most.
    expect(Math.abs(2 * away - (width ?? 0)), `${name} ${at}`).toBeLessThan(2 * TIP);
    expect(fit.level * SLOPE, name).toBeLessThan(TIP + 1e-5);
  } else if (kind === 'corner') {
    expect(angle, name).toBeGreaterThan(0);
    // A corner alone holds by r at most; a land beside it may leave more wood on the plug there, by the lesser part.
    const more = (pair.mating - pair.plug.depth(...at)) * SLOPE - away;
    expect(fit.level * SLOPE, name).toBeLessThan(TIP + Math.max(0, more) + 1e-5);
    expect(more, name).toBeLessThan((fit.level * SLOPE) / 2);
  } else {
    // A spike or land of board: the plug's wood fills it, and rides on its edge.
    expect(['notch', 'uncut-land'], name).toContain(kind);
    expect(away, `${name} ${at}`).toBeLessThan(DEPTHS.plugStart * SLOPE + 1e-6);
  }
  return named as Contact;
}

/** Nothing holds higher: neither the closed form of any plain corner nor any of many places near the outline. */
function expectHighest(name: string, pair: Pair, fit: Fit): void {
  const { coords } = pair.plugTree;
  for (let k = 0; k < coords.length / 4; k++) {
    const least = leastAtCorner(pair, k);
    if (least !== undefined) expect(fit.level * SLOPE, `${name} corner ${k}`).toBeGreaterThan(least - 1e-5);
  }
  let state = 12345;
  const random = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  for (let n = 0; n < 1000; n++) {
    const q = 4 * Math.floor(random() * (coords.length / 4));
    const [along, turn, far] = [random(), random() * 2 * Math.PI, 1.6 * random() ** 2];
    const [ax, ay, bx, by] = [0, 1, 2, 3].map((i) => coords[q + i] as number) as [
      number,
      number,
      number,
      number,
    ];
    const [x, y] = [
      ax + along * (bx - ax) + far * Math.cos(turn),
      ay + along * (by - ay) + far * Math.sin(turn),
    ];
    expect((liftAt(pair, x, y) - fit.level) * SLOPE, `${name} ${x} ${y}`).toBeLessThan(fit.give * SLOPE);
  }
}

/**
 * What a spike of board at the start of an edge holds at the least, sideways: r (1 / sin(a/2) - 1), as long as its
 * walls are long enough to hold the bit off and no other board is so near that a bit from there reaches over.
 */
function leastAtCorner(pair: Pair, k: number): number | undefined {
  const { coords } = pair.plugTree;
  const before = pair.plugTree.prev(k);
  const [x, y] = [coords[4 * k] as number, coords[4 * k + 1] as number];
  const [ax, ay] = [x - (coords[4 * before] as number), y - (coords[4 * before + 1] as number)];
  const [bx, by] = [(coords[4 * k + 2] as number) - x, (coords[4 * k + 3] as number) - y];
  const turn = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  if (turn >= -0.3) return undefined;
  const half = (Math.PI + turn) / 2;
  const shorter = Math.min(Math.hypot(ax, ay), Math.hypot(bx, by));
  // A bit that touches both walls touches them so far out; beyond the shorter one it may come nearer.
  if (shorter < TIP / Math.tan(half)) return undefined;
  const form = TIP * (1 / Math.sin(half) - 1);
  let others = Number.POSITIVE_INFINITY;
  pair.plugTree.within(x, y, form + TIP, (i) => {
    if (i !== k && i !== before) others = Math.min(others, Math.sqrt(pair.plugTree.d2(i, x, y)));
    return undefined;
  });
  return Math.min(form, others, shorter * Math.cos(half), DEPTHS.plugStart * SLOPE);
}

function outlineOf(region: Region): Outline {
  return region.rings.map((ring) =>
    Array.from(
      { length: ring.length / 2 },
      (_, k) => [ring[2 * k] as number, ring[2 * k + 1] as number] as const,
    ),
  );
}
