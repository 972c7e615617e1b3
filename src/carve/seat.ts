import type { Point } from '../geometry/shapes.ts';
import { type Fit, type FitInput, type GapAt, makePair, type Pair, type Seat } from './fit.ts';
import { contactsOf } from './seat-holds.ts';
import { type Demand, leastCost } from './seat-lp.ts';
import { contactPlaces, type Place } from './seat-places.ts';
import { depthOf, heightAt, holdAt } from './seat-pose.ts';
import { gapsAlong } from './seat-rim.ts';

/** What a millimetre of motion must save in height, mm, to be made: keeps the plug from wandering for nothing. */
const RELUCTANCE = 1e-4;
/** Height to which the seat is found, mm. */
const FINE = 2e-7;
const MOST_ROUNDS = 30;
/** Spots along the outlines: about this many in all, but never finer or coarser than the two lengths, mm. */
const SPOTS = 3000;
const FINEST = 0.25;
const COARSEST = 1;

/**
 * Lets the plug settle into its pocket: height, two tilts, two shifts and a turn, to the least height at its
 * middle (the place a clamp presses). The plug is rigid and the motions small.
 */
export function seat(input: FitInput): Fit {
  return seatPair(makePair(input));
}

/** The same for a pair whose search trees exist already. */
export function seatPair(pair: Pair): Fit {
  const spacing = spacingFor(pair);
  const places = contactPlaces(pair, spacing);
  const settled = settle(pair, places);
  const rim = gapsAlong(pair, settled, spacing);
  const proudest = places.reduce(
    (most, p) => Math.max(most, heightAt(pair, settled, p.x, p.y)),
    Number.NEGATIVE_INFINITY,
  );
  const { holds, tight } = contactsOf(pair, places, settled);
  return {
    proud: proudest,
    level: greatest(places),
    give: (0.002 + 2 * FINE) / Math.min(pair.pocket.real.t, pair.plug.real.t),
    seat: settled,
    holds,
    tight,
    rim,
    worstGap: rim.reduce<GapAt | undefined>(
      (worst, g) => (worst === undefined || g.gap > worst.gap ? g : worst),
      undefined,
    ),
    glueGap: glueGap(pair, places, settled),
    sawGap: sawGap(pair, places, settled),
  };
}

function spacingFor(pair: Pair): number {
  const length = outlineLength(pair.plugTree.coords) + outlineLength(pair.pocketTree.coords);
  return Math.min(COARSEST, Math.max(FINEST, length / SPOTS));
}

function outlineLength(coords: Float64Array): number {
  let sum = 0;
  for (let q = 0; q < coords.length; q += 4) {
    sum += Math.hypot(
      (coords[q + 2] as number) - (coords[q] as number),
      (coords[q + 3] as number) - (coords[q + 1] as number),
    );
  }
  return sum;
}

function greatest(places: readonly Place[]): number {
  return places.reduce((most, p) => Math.max(most, p.lift), Number.NEGATIVE_INFINITY);
}

/** Height, then shift and turn and tilt, the last three as millimetres at the plug's edge. */
type Vector = Float64Array;

function settle(pair: Pair, places: readonly Place[]): Seat {
  const arm = Math.max(1e-6, Math.hypot(pair.box.maxX - pair.box.minX, pair.box.maxY - pair.box.minY) / 2);
  const level = greatest(places);
  let at = seatOf(pair, new Float64Array(6), arm, level);
  if (!Number.isFinite(level)) return at;
  let chosen = thinned(pair, places, level);
  let height = level;
  for (let round = 0; round < 4; round++) {
    ({ at, height } = descend(pair, chosen, at, arm));
    const missed = places.filter((p) => holdAt(pair, at, p) > height + FINE * 5);
    if (missed.length === 0) break;
    chosen = [...chosen, ...thinned(pair, missed, level)];
    height = Math.max(...chosen.map((p) => holdAt(pair, at, p)));
  }
  return {
    ...at,
    height: places.reduce((most, p) => Math.max(most, holdAt(pair, at, p)), Number.NEGATIVE_INFINITY),
  };
}

/** Successive straight problems in a region of trust that shrinks when a step does not help. */
function descend(
  pair: Pair,
  places: readonly Place[],
  from: Seat,
  arm: number,
): { at: Seat; height: number } {
  const t = Math.min(pair.pocket.real.t, pair.plug.real.t);
  let at = from;
  let values = places.map((p) => holdAt(pair, at, p));
  let height = Math.max(...values);
  let trust = Math.max(0.02, Math.min(0.5, Math.abs(height) * t), pair.pocket.real.r + pair.plug.real.r);
  for (let round = 0; round < MOST_ROUNDS && trust > 1e-6; round++) {
    const demands = straightDemands(pair, places, values, at, arm, height - (4 * trust) / t);
    const step = bestStep(demands, trust, t, height);
    if (step === undefined || height - (step[0] as number) < FINE) break;
    const next = moved(pair, at, step, arm);
    const there = places.map((p) => holdAt(pair, next, p));
    const heightThere = Math.max(...there);
    const gain = height - heightThere;
    if (gain > 0.3 * (height - (step[0] as number))) trust *= 1.5;
    else trust /= 3;
    if (gain <= 0) continue;
    at = next;
    values = there;
    height = heightThere;
  }
  return { at: { ...at, height }, height };
}

function straightDemands(
  pair: Pair,
  places: readonly Place[],
  values: readonly number[],
  at: Seat,
  arm: number,
  floor: number,
): Demand[] {
  const demands: Demand[] = [];
  places.forEach((p, k) => {
    const value = values[k] as number;
    if (value < floor) return;
    const [gx, gy] = slopeOf(pair, at, p);
    const rx = (p.x - pair.middle[0]) / arm;
    const ry = (p.y - pair.middle[1]) / arm;
    const depth = depthOf(pair, p) / arm;
    // height + tilt . r >= value + g . (motion), for motion = shift + turn x r + tilt * depth
    const half = [-gx, -gy, gx * ry - gy * rx, rx - gx * depth, ry - gy * depth];
    demands.push({ row: Float64Array.from([1, ...half, ...half.map((v) => -v)]), least: value });
  });
  return demands;
}

/** How the hold grows with a sideways motion, mm per mm, from the walls a hair to either side. */
function slopeOf(pair: Pair, at: Seat, p: Place): readonly [number, number] {
  const h = 1e-4;
  const shifted = (dx: number, dy: number): number =>
    holdAt(pair, { ...at, dx: at.dx + dx, dy: at.dy + dy }, p);
  return [(shifted(h, 0) - shifted(-h, 0)) / (2 * h), (shifted(0, h) - shifted(0, -h)) / (2 * h)];
}

function bestStep(demands: readonly Demand[], trust: number, t: number, height: number): Vector | undefined {
  const lower = new Float64Array(11);
  const upper = new Float64Array(11).fill(trust);
  const cost = new Float64Array(11).fill(RELUCTANCE);
  cost[0] = 1;
  // A tilt is told by its rise at the edge, which may be as much more than a shift as the wall is steep.
  for (const i of [4, 5, 9, 10]) upper[i] = trust / t;
  lower[0] = height - (10 * trust) / t - 1;
  upper[0] = height + 1;
  const y = leastCost(cost, lower, upper, demands, 1e-9);
  if (y === undefined) return undefined;
  const step = new Float64Array(6);
  step[0] = y[0] as number;
  for (let i = 1; i <= 5; i++) step[i] = (y[i] as number) - (y[i + 5] as number);
  return step;
}

function moved(pair: Pair, s: Seat, step: Vector, arm: number): Seat {
  return {
    height: s.height,
    dx: s.dx + (step[1] as number),
    dy: s.dy + (step[2] as number),
    turn: s.turn + (step[3] as number) / arm,
    tiltX: s.tiltX + (step[4] as number) / arm,
    tiltY: s.tiltY + (step[5] as number) / arm,
    middle: pair.middle,
  };
}

function seatOf(pair: Pair, v: Vector, arm: number, height: number): Seat {
  const none = { height, tiltX: 0, tiltY: 0, dx: 0, dy: 0, turn: 0, middle: pair.middle };
  return { ...moved(pair, none, v, arm), height };
}

/**
 * Of many places alike (same quarter of the plug, same direction of wall, same feature) the one that holds
 * highest: the rest cannot decide before it does. Those left out are asked again at the end.
 */
function thinned(pair: Pair, places: readonly Place[], level: number): Place[] {
  const across = Math.max(pair.box.maxX - pair.box.minX, pair.box.maxY - pair.box.minY) / 8 + 1e-9;
  const best = new Map<string, Place>();
  const t = Math.min(pair.pocket.real.t, pair.plug.real.t);
  const least = level - (4 * (pair.pocket.real.r + pair.plug.real.r) + 2 * Math.abs(level) * t + 0.05) / t;
  for (const p of places) {
    if (p.lift < least) continue;
    const facing = Math.round((Math.atan2(p.ny, p.nx) / Math.PI) * 6);
    const cell = `${p.feature}${facing}:${Math.floor((p.x - pair.box.minX) / across)}:${Math.floor((p.y - pair.box.minY) / across)}`;
    const known = best.get(cell);
    if (known === undefined || p.lift > known.lift) best.set(cell, p);
  }
  return [...best.values()];
}

function glueGap(pair: Pair, places: readonly Place[], s: Seat): Fit['glueGap'] {
  const face = pair.input.pocketFlat - pair.input.plugStart + s.height;
  let least = face;
  let at: Point | undefined;
  for (const p of places) {
    if (p.rides !== 'plug') continue;
    const room = s.height - holdAt(pair, s, p);
    if (room < least) {
      least = room;
      at = [p.x, p.y];
    }
  }
  return { face, least, at };
}

function sawGap(pair: Pair, places: readonly Place[], s: Seat): Fit['sawGap'] {
  const wide = pair.input.plugFlat - pair.input.pocketStart + s.height;
  let least = wide;
  let at: Point | undefined;
  for (const p of places) {
    if (p.feature !== 'land') continue;
    const room = s.height - holdAt(pair, s, p);
    if (room < least) {
      least = room;
      at = [p.x, p.y];
    }
  }
  return { wide, least, at };
}
