import { hullOf } from '../geometry/hull.ts';
import { hypot } from '../geometry/hypot.ts';
import type { Point } from '../geometry/shapes.ts';
import type { Pair, Seat } from './fit.ts';
import { boundAt, highestAmong, type Known, knownOf, seatAt } from './seat-known.ts';
import { type Bounds, heightOf, leastHeight, type Motion, UNKNOWNS } from './seat-least.ts';
import type { Place } from './seat-place.ts';
import { highestHold } from './seat-pose.ts';

/** A level plug as low as this, mm sideways, is home: moving it could not be told. */
const HOME = 5e-4;
/** A face this near to where it rides on the board has not gone in, mm. */
const RIDES = 1e-5;
/** Height still to be gained when the seat is found, mm. */
const FOUND = 1e-9;
/** Share of the mating wall's width at which a motion costs as much height as itself, over that width. */
const RELUCTANCE = 0.1;
const MOST_STEPS = 100;
/** A step must bring this share of the height that its straight bounds promised. */
const KEPT = 0.1;
/** Cells across the plug and directions of wall within which places count as alike. */
const CELLS = 6;
const DIRECTIONS = 8;

/**
 * Finds the motion of a rigid plug, pressed evenly, that lets its proudest point come lowest; of motions that do
 * this equally well the least. Straight problems in few unknowns, solved again from where the last one led, with a
 * pull back to there that eases as the steps keep what they promise. Places that cannot decide are left out at first
 * and asked at the end, so the answer holds for all of them. `places` come highest lift first.
 */
export function settle(pair: Pair, places: readonly Place[]): Seat {
  const level = places[0]?.lift ?? Number.NEGATIVE_INFINITY;
  const straight = levelSeat(pair, places);
  const t = Math.min(pair.pocket.real.t, pair.plug.real.t);
  // A plug whose face still rides on the board has not gone in at all: no small motion tells where it rests.
  if (!Number.isFinite(level) || level >= pair.input.plugStart - RIDES) return straight;
  if (level > 0 && level * t < HOME) return straight;
  const known = knownOf(pair, places);
  const cost = RELUCTANCE / (pair.mating * t);
  const question: Question = { known, rises: risesOf(pair, known.arm), cost, t };
  const widest = Math.max(0.02, Math.min(0.2, Math.abs(level) * t), pair.pocket.real.r + pair.plug.real.r);
  const few = thinned(pair, places, level);
  const all = Int32Array.from(places.keys());
  const restFrom = (start: Motion): Rest =>
    descend(question, all, descend(question, few, start, widest).motion, widest / 10);
  const first = restFrom(new Float64Array(UNKNOWNS));
  const further = beyond(first.motion, widest);
  const second = further === undefined ? first : restFrom(further);
  const best = second.worth < first.worth - RIDES ? second : first;
  const seat = seatAt(pair, known.arm, best.motion, best.height);
  return { ...seat, height: highestHold(pair, places, seat).hold };
}

/** The same way again and further: past a spike of board there may be a lower rest. */
function beyond(m: Motion, widest: number): Motion | undefined {
  const far = hypot(m[0] as number, m[1] as number);
  return far < widest / 100 ? undefined : m.map((v) => v + (v * widest) / far);
}

/** The seat of a plug held level that goes straight down; `places` come highest lift first. */
export function levelSeat(pair: Pair, places: readonly Place[]): Seat {
  const height = places[0]?.lift ?? Number.NEGATIVE_INFINITY;
  return { height, tiltX: 0, tiltY: 0, dx: 0, dy: 0, turn: 0, middle: pair.middle };
}

interface Question {
  readonly known: Known;
  /** By how much the plug's proudest point is higher than its middle. */
  readonly rises: Bounds;
  /** What a motion costs, mm of height per mm2 / 2. */
  readonly cost: number;
  readonly t: number;
}

interface Rest {
  readonly motion: Motion;
  /** Height of the plug's middle, mm. */
  readonly height: number;
  /** Height of its proudest point, and the cost of the motion. */
  readonly worth: number;
  /** Places that hold it there or nearly so. */
  readonly near: readonly number[];
}

function restAt({ known, rises, cost }: Question, which: Int32Array, m: Motion, band: number): Rest {
  const { height, near } = highestAmong(known, which, m, band);
  return { motion: m, height, near, worth: height + highest(rises, m) + costOf(cost, m) };
}

function costOf(cost: number, m: Motion): number {
  return (cost / 2) * m.reduce((sum, v) => sum + v * v, 0);
}

function highest(rows: Bounds, m: Motion): number {
  return rows.reduce((most, row) => Math.max(most, heightOf(row, m)), Number.NEGATIVE_INFINITY);
}

/**
 * Steps down while it pays. Where a hold bends, one slope does not tell it: what a step that failed has met is kept
 * as further bounds, unless the hold bends the other way and the slope found before is the bound.
 */
function descend(question: Question, which: Int32Array, from: Motion, trust: number): Rest {
  const { known, rises, cost, t } = question;
  let pull = 1 / (4 * t * trust);
  let here = restAt(question, which, from, trust / t);
  let bounds: Bounds = here.near.map((k) => boundAt(known, k, here.motion));
  for (let n = 0; n < MOST_STEPS; n++) {
    const weight = cost + pull;
    const back = here.motion.map((v) => (v * pull) / weight);
    const model = leastHeight(bounds, rises, back, weight, FOUND / 100);
    const promised = here.worth - model.height - costOf(cost, model.motion);
    if (promised < FOUND) {
      if (pull < cost) break;
      pull /= 10;
      continue;
    }
    const length = Math.max(...model.motion.map((v, i) => Math.abs(v - (here.motion[i] as number))));
    const there = restAt(question, which, model.motion, (2 * length) / t);
    if (here.worth - there.worth > KEPT * promised) {
      here = there;
      bounds = here.near.map((k) => boundAt(known, k, here.motion));
      pull /= 5;
      continue;
    }
    const met = metAt(known, here, there);
    bounds = [...bounds, ...met];
    pull *= met.length === 0 ? 5 : 1.5;
  }
  return here;
}

/** Bounds from a step that failed, as far as they say no more than is true where the plug stands. */
function metAt(known: Known, here: Rest, there: Rest): Bounds {
  return there.near
    .filter((k) => (known.holds[k] as number) > there.height - FOUND * 1000)
    .map((k) => boundAt(known, k, there.motion))
    .filter((row) => heightOf(row, here.motion) <= here.height + FOUND);
}

/** How much higher than the middle each corner of the plug's hull is when it is tilted. */
function risesOf({ input, middle }: Pair, arm: number): Bounds {
  const points = input.plug.rings.flatMap((ring) =>
    Array.from(
      { length: ring.length / 2 },
      (_, k): Point => [ring[2 * k] as number, ring[2 * k + 1] as number],
    ),
  );
  return hullOf(points).map(([x, y]) =>
    Float64Array.of(0, 0, 0, 0, (x - middle[0]) / arm, (y - middle[1]) / arm),
  );
}

/**
 * Of many places alike (same part of the plug, same direction of wall, same feature) the one that holds highest:
 * the rest cannot decide before it does. Places that hold far too low to matter are left out.
 */
export function thinned(pair: Pair, places: readonly Place[], level: number): Int32Array {
  const across = Math.max(pair.box.maxX - pair.box.minX, pair.box.maxY - pair.box.minY) / CELLS + 1e-9;
  const t = Math.min(pair.pocket.real.t, pair.plug.real.t);
  const least = level - (4 * (pair.pocket.real.r + pair.plug.real.r) + 2 * Math.abs(level) * t + 0.05) / t;
  const best = new Map<string, number>();
  places.forEach((p, k) => {
    if (p.lift < least) return;
    const facing = Math.round((Math.atan2(p.ny, p.nx) / Math.PI + 1) * (DIRECTIONS / 2)) % DIRECTIONS;
    const column = Math.floor((p.x - pair.box.minX) / across);
    const row = Math.floor((p.y - pair.box.minY) / across);
    const cell = `${p.feature} ${facing} ${column} ${row}`;
    if (!best.has(cell)) best.set(cell, k);
  });
  return Int32Array.from(best.values());
}
