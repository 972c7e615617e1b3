import type { Pair, Seat } from './fit.ts';
import { type Demand, leastCost } from './seat-lp.ts';
import type { Place } from './seat-places.ts';
import { depthOf, highestHold, holdAt } from './seat-pose.ts';

/** What a millimetre of motion must save in height, mm, to be made: keeps the plug from wandering for nothing. */
const RELUCTANCE = 1e-4;
/** Height to which the seat is found, mm: less than 0.01 micrometres sideways for every usual bit. */
export const FINE = 1e-5;
/** A round that gained less, mm of height, is the last. */
const ENOUGH = 5e-4;
const MOST_STEPS = 40;
const MOST_ROUNDS = 5;
/** Demands remembered from earlier steps. */
const MOST_KNOWN = 300;
/** Cells across the plug and directions of wall within which places count as alike. */
const CELLS = 6;
const DIRECTIONS = 8;

/** Height, then shift x and y, turn and both tilts; the last three in mm at the plug's edge. */
type Vector = Float64Array;

/**
 * Finds the motion of a rigid plug that lets its middle come lowest: straight problems in few unknowns, solved
 * over a region of trust that shrinks when a step does not help. Places that cannot decide are left out at first
 * and asked again at the end, so the answer holds for all of them. `places` come highest lift first.
 */
export function settle(pair: Pair, places: readonly Place[]): Seat {
  const { box } = pair;
  const arm = Math.max(1e-6, Math.hypot(box.maxX - box.minX, box.maxY - box.minY) / 2);
  const level = places[0]?.lift ?? Number.NEGATIVE_INFINITY;
  let at = levelSeat(pair, places);
  // A plug whose face still rides on the board has not gone in at all: no small motion tells where it rests.
  if (!Number.isFinite(level) || level >= pair.input.plugStart - FINE) return at;
  let chosen = thinned(pair, places, level);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const next = descend(pair, chosen, at, arm, round);
    const gain = at.height - next.height;
    at = next;
    const missed = highestHold(pair, places, at, at.height + FINE, true).met;
    if (missed.length === 0 && gain < ENOUGH) break;
    chosen = [...chosen, ...thinned(pair, missed, level)];
    at = { ...at, height: highestHold(pair, chosen, at).hold };
  }
  const height = highestHold(pair, places, at).hold;
  // Moving may have helped nothing: then the plug stays where it is.
  return height < level - FINE ? { ...at, height } : levelSeat(pair, places);
}

/** The seat of a plug held level that goes straight down; `places` come highest lift first. */
export function levelSeat(pair: Pair, places: readonly Place[]): Seat {
  const height = places[0]?.lift ?? Number.NEGATIVE_INFINITY;
  return { height, tiltX: 0, tiltY: 0, dx: 0, dy: 0, turn: 0, middle: pair.middle };
}

/**
 * Steps down while it pays. Beside a ridge the hold bends both ways, and one slope does not tell it: what a step
 * that failed has met is kept as further straight demands, which hold wherever the hold is convex.
 */
function descend(pair: Pair, places: readonly Place[], from: Seat, arm: number, round: number): Seat {
  const t = Math.min(pair.pocket.real.t, pair.plug.real.t);
  let at = from;
  let values = places.map((p) => holdAt(pair, at, p));
  let height = Math.max(...values);
  const widest = Math.max(0.02, Math.min(0.2, Math.abs(height) * t), pair.pocket.real.r + pair.plug.real.r);
  let trust = widest / 4 ** round;
  let known: Slope[] = [];
  let here = slopesAt(pair, places, values, at, arm, height - (3 * trust) / t);
  for (let n = 0; n < MOST_STEPS && trust > 1e-5; n++) {
    const step = bestStep(
      [...here, ...known].map((c) => demandFrom(c, at, arm)),
      trust,
      t,
      height,
    );
    if (step === undefined || height - (step[0] as number) < FINE) break;
    const next = moved(at, step, arm);
    const there = places.map((p) => holdAt(pair, next, p));
    const heightThere = Math.max(...there);
    const gain = height - heightThere;
    const met = slopesAt(pair, places, there, next, arm, heightThere - (3 * trust) / t);
    trust = gain > 0.3 * (height - (step[0] as number)) ? trust * 1.5 : trust / 2;
    if (gain > 0) {
      known = [...here, ...known].slice(0, MOST_KNOWN);
      [at, values, height, here] = [next, there, heightThere, met];
    } else known = [...met.filter((c) => c.value > height - FINE), ...known].slice(0, MOST_KNOWN);
  }
  return { ...at, height };
}

/** The hold of one place taken as straight about a motion: hold(m) = value + slope . (m - motion). */
interface Slope {
  readonly value: number;
  readonly slope: readonly number[];
  readonly motion: readonly number[];
}

function slopesAt(
  pair: Pair,
  places: readonly Place[],
  values: readonly number[],
  at: Seat,
  arm: number,
  floor: number,
): Slope[] {
  const motion = motionOf(at, arm);
  const slopes: Slope[] = [];
  places.forEach((p, k) => {
    const value = values[k] as number;
    if (value < floor) return;
    const [gx, gy] = slopeOf(pair, at, p, value);
    const rx = (p.x - pair.middle[0]) / arm;
    const ry = (p.y - pair.middle[1]) / arm;
    const depth = depthOf(pair, at, p) / arm;
    slopes.push({ value, slope: [gx, gy, gy * rx - gx * ry, gx * depth - rx, gy * depth - ry], motion });
  });
  return slopes;
}

/** Shift, turn and tilts, all in mm at the plug's edge. */
function motionOf(s: Seat, arm: number): number[] {
  return [s.dx, s.dy, s.turn * arm, s.tiltX * arm, s.tiltY * arm];
}

/** height >= value + slope . (step from `at`), each unknown as a part up and a part down. */
function demandFrom({ value, slope, motion }: Slope, at: Seat, arm: number): Demand {
  const row = new Float64Array(11);
  row[0] = 1;
  let least = value;
  motionOf(at, arm).forEach((m, i) => {
    const g = slope[i] as number;
    least += g * (m - (motion[i] as number));
    row[i + 1] = -g;
    row[i + 6] = g;
  });
  return { row, least };
}

/** How the hold grows with a sideways motion, mm per mm. */
function slopeOf(pair: Pair, at: Seat, p: Place, value: number): readonly [number, number] {
  const h = 1e-5;
  return [
    (holdAt(pair, { ...at, dx: at.dx + h }, p) - value) / h,
    (holdAt(pair, { ...at, dy: at.dy + h }, p) - value) / h,
  ];
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
  const y = leastCost(cost, lower, upper, demands, FINE / 10);
  if (y === undefined) return undefined;
  const step = new Float64Array(6);
  step[0] = y[0] as number;
  for (let i = 1; i <= 5; i++) step[i] = (y[i] as number) - (y[i + 5] as number);
  return step;
}

function moved(s: Seat, step: Vector, arm: number): Seat {
  return {
    ...s,
    dx: s.dx + (step[1] as number),
    dy: s.dy + (step[2] as number),
    turn: s.turn + (step[3] as number) / arm,
    tiltX: s.tiltX + (step[4] as number) / arm,
    tiltY: s.tiltY + (step[5] as number) / arm,
  };
}

/**
 * Of many places alike (same part of the plug, same direction of wall, same feature) the one that holds highest:
 * the rest cannot decide before it does. Places that hold far too low to matter are left out.
 */
function thinned(pair: Pair, places: readonly Place[], level: number): Place[] {
  const across = Math.max(pair.box.maxX - pair.box.minX, pair.box.maxY - pair.box.minY) / CELLS + 1e-9;
  const t = Math.min(pair.pocket.real.t, pair.plug.real.t);
  const least = level - (4 * (pair.pocket.real.r + pair.plug.real.r) + 2 * Math.abs(level) * t + 0.05) / t;
  const best = new Map<number, Place>();
  for (const p of places) {
    if (p.lift < least) continue;
    const facing = Math.round((Math.atan2(p.ny, p.nx) / Math.PI + 1) * (DIRECTIONS / 2)) % DIRECTIONS;
    const column = Math.floor((p.x - pair.box.minX) / across);
    const row = Math.floor((p.y - pair.box.minY) / across);
    const cell = ((FEATURES.indexOf(p.feature) * DIRECTIONS + facing) * 64 + column + 8) * 64 + row + 8;
    const known = best.get(cell);
    if (known === undefined || p.lift > known.lift) best.set(cell, p);
  }
  return [...best.values()];
}

const FEATURES: readonly Place['feature'][] = ['ridge', 'face', 'mouth', 'land', 'spike'];
