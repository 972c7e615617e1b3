import { hypot } from '../geometry/hypot.ts';
import type { Pair, Seat } from './fit.ts';
import { type Motion, UNKNOWNS } from './seat-least.ts';
import type { Place } from './seat-place.ts';
import { depthOf, holdAt } from './seat-pose.ts';

/**
 * The places with what is known of each: its hold at the motion it was last asked at. A hold changes by no more
 * than its motion over the wall's slope, so most places need not be asked again to know that they do not decide.
 */
export interface Known {
  readonly pair: Pair;
  readonly places: readonly Place[];
  /** Middle to the farthest corner of the plug's box, mm. */
  readonly arm: number;
  readonly holds: Float64Array;
  /** The motions asked at, UNKNOWNS numbers each. */
  readonly askedAt: Float64Array;
  /** From the middle along x and y and how deep, as parts of the arm, and the wall's rise; four numbers each. */
  readonly lies: Float64Array;
}

/** Slope of a hold is taken over this motion, mm. */
const NEARBY = 1e-6;

export function knownOf(pair: Pair, places: readonly Place[]): Known {
  const { box, middle } = pair;
  const arm = Math.max(1e-6, hypot(box.maxX - box.minX, box.maxY - box.minY) / 2);
  const straight = seatAt(pair, arm, new Float64Array(UNKNOWNS), places[0]?.lift ?? 0);
  const lies = new Float64Array(4 * places.length);
  places.forEach((p, k) => {
    lies[4 * k] = (p.x - middle[0]) / arm;
    lies[4 * k + 1] = (p.y - middle[1]) / arm;
    lies[4 * k + 2] = depthOf(pair, straight, p) / arm;
    lies[4 * k + 3] = 1 / (p.rides === 'plug' ? pair.pocket.real.t : pair.plug.real.t);
  });
  const holds = Float64Array.from(places, (p) => p.lift);
  const askedAt = new Float64Array(UNKNOWNS * places.length);
  return { pair, places, arm, holds, askedAt, lies };
}

/** The seat that a motion leads to. */
export function seatAt(pair: Pair, arm: number, m: Motion, height: number): Seat {
  const [dx, dy, turn, tiltX, tiltY] = m as unknown as [number, number, number, number, number];
  return { height, dx, dy, turn: turn / arm, tiltX: tiltX / arm, tiltY: tiltY / arm, middle: pair.middle };
}

/** The highest hold among some places for a motion, and those that hold within `band` of it. */
export function highestAmong(
  known: Known,
  which: Iterable<number> & ArrayLike<number>,
  m: Motion,
  band: number,
): { readonly height: number; readonly near: readonly number[] } {
  let height = Number.NEGATIVE_INFINITY;
  for (let n = 0; n < which.length; n++) {
    const k = which[n] as number;
    if (mostAt(known, k, m) > height) height = Math.max(height, ask(known, k, m));
  }
  const near: number[] = [];
  for (let n = 0; n < which.length; n++) {
    const k = which[n] as number;
    if (mostAt(known, k, m) > height - band && ask(known, k, m) > height - band) near.push(k);
  }
  return { height, near };
}

/** The most a place can hold at a motion, from what it held where it was asked. */
function mostAt({ holds, askedAt, lies }: Known, k: number, m: Motion): number {
  const q = UNKNOWNS * k;
  const turn = (m[2] as number) - (askedAt[q + 2] as number);
  const tiltX = (m[3] as number) - (askedAt[q + 3] as number);
  const tiltY = (m[4] as number) - (askedAt[q + 4] as number);
  const rx = lies[4 * k] as number;
  const ry = lies[4 * k + 1] as number;
  const deep = lies[4 * k + 2] as number;
  const vx = (m[0] as number) - (askedAt[q] as number) - turn * ry + tiltX * deep;
  const vy = (m[1] as number) - (askedAt[q + 1] as number) + turn * rx + tiltY * deep;
  const rise = Math.sqrt(vx * vx + vy * vy) * (lies[4 * k + 3] as number);
  return (holds[k] as number) + rise - tiltX * rx - tiltY * ry;
}

function ask(known: Known, k: number, m: Motion): number {
  const { pair, places, arm, holds, askedAt } = known;
  const q = UNKNOWNS * k;
  let same = true;
  for (let i = 0; i < UNKNOWNS; i++) same &&= askedAt[q + i] === m[i];
  if (same) return holds[k] as number;
  const level = places[0]?.lift ?? 0;
  const hold = holdAt(pair, seatAt(pair, arm, m, level), places[k] as Place);
  holds[k] = hold;
  askedAt.set(m, q);
  return hold;
}

/** The hold of a place asked at a motion, taken as straight about it: a row for leastHeight. */
export function boundAt({ pair, places, arm, holds, lies }: Known, k: number, m: Motion): Float64Array {
  const level = places[0]?.lift ?? 0;
  const s = seatAt(pair, arm, m, level);
  const p = places[k] as Place;
  const hold = holds[k] as number;
  const gx = (holdAt(pair, { ...s, dx: s.dx + NEARBY }, p) - hold) / NEARBY;
  const gy = (holdAt(pair, { ...s, dy: s.dy + NEARBY }, p) - hold) / NEARBY;
  const [rx, ry, deep] = lies.subarray(4 * k, 4 * k + 3) as unknown as [number, number, number];
  const row = Float64Array.of(hold, gx, gy, gy * rx - gx * ry, gx * deep - rx, gy * deep - ry);
  for (let i = 0; i < UNKNOWNS; i++) row[0] = (row[0] as number) - (row[i + 1] as number) * (m[i] as number);
  return row;
}
