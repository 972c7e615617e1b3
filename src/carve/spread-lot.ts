import { type Effects, ONLY_GROWS, SOURCE_KEYS } from './spread-effects.ts';

/** The holding places and the points of the rim that can decide a draw, ready for many draws. Lengths mm. */
export interface Lot {
  readonly holds: Float64Array;
  readonly walls: Float64Array;
  /** Slope of the wall: height to gap. */
  readonly t: number;
}

/** Numbers of one point: its hold, then what each source adds at its plus and at its minus. */
const WIDTH = 1 + 2 * SOURCE_KEYS.length;
/** Heights this near are one, mm. */
const SAME = 1e-12;

/** Leaves out points that another one beats in every draw: the widest gaps stay the same. */
export function lotOf(holds: readonly Effects[], walls: readonly Effects[], t: number): Lot {
  return { holds: packed(deciding(holds, 1)), walls: packed(deciding(walls, -1)), t };
}

/** Those of the points that can be the highest (sign 1) or the lowest (sign -1) within the ranges of the sources. */
function deciding(points: readonly Effects[], sign: 1 | -1): readonly Effects[] {
  let kept: Effects[] = [];
  for (const point of points) {
    if (kept.some((other) => mostOver(point, other, sign) <= SAME)) continue;
    kept = kept.filter((other) => mostOver(other, point, sign) > SAME);
    kept.push(point);
  }
  return kept;
}

/** By how much one point can pass another at most, each source at its best for that. */
function mostOver(a: Effects, b: Effects, sign: 1 | -1): number {
  let most = sign * (a.hold - b.hold);
  for (let k = 0; k < a.plus.length; k++) {
    const plus = sign * ((a.plus[k] as number) - (b.plus[k] as number));
    const minus = sign * ((a.minus[k] as number) - (b.minus[k] as number));
    most += Math.max(0, plus, minus);
  }
  return most;
}

function packed(points: readonly Effects[]): Float64Array {
  const rows = new Float64Array(points.length * WIDTH);
  points.forEach(({ hold, plus, minus }, n) => {
    rows[n * WIDTH] = hold;
    for (let k = 0; k < plus.length; k++) {
      rows[n * WIDTH + 1 + 2 * k] = plus[k] as number;
      rows[n * WIDTH + 2 + 2 * k] = minus[k] as number;
    }
  });
  return rows;
}

/** The widest gap of each draw, mm, and of the first draws also with one source held still, by the source's number. */
export interface Gaps {
  readonly all: Float64Array;
  readonly still: readonly Float64Array[];
}

/** Draws a lot; the first `shared` draws are told with each source held still as well. */
export function gapsOf(lot: Lot, draws: number, shared: number, seed: number): Gaps {
  const random = randomFrom(seed);
  const all = new Float64Array(draws);
  const still = SOURCE_KEYS.map(() => new Float64Array(Math.min(draws, shared)));
  const draw: Draw = {
    share: new Float64Array(SOURCE_KEYS.length),
    column: new Int32Array(SOURCE_KEYS.length),
    parts: new Float64Array(SOURCE_KEYS.length),
    lift: new Float64Array(1 + SOURCE_KEYS.length),
    least: new Float64Array(1 + SOURCE_KEYS.length),
  };
  const grows = SOURCE_KEYS.map((key) => ONLY_GROWS.has(key));
  for (let n = 0; n < draws; n++) {
    for (let k = 0; k < SOURCE_KEYS.length; k++) {
      const part = random();
      const u = grows[k] ? part : 2 * part - 1;
      draw.share[k] = Math.abs(u);
      draw.column[k] = u > 0 ? 1 + 2 * k : 2 + 2 * k;
    }
    const told = n < shared;
    highest(lot.holds, 1, draw, draw.lift, told);
    highest(lot.walls, -1, draw, draw.least, told);
    all[n] = gap(draw, SOURCE_KEYS.length, lot.t);
    if (!told) continue;
    for (let k = 0; k < still.length; k++) (still[k] as Float64Array)[n] = gap(draw, k, lot.t);
  }
  return { all, still };
}

/** The widest gap with nothing varying, mm. */
export function nominalGap({ holds, walls, t }: Lot): number {
  let lift = Number.NEGATIVE_INFINITY;
  for (let at = 0; at < holds.length; at += WIDTH) lift = Math.max(lift, holds[at] as number);
  let least = Number.POSITIVE_INFINITY;
  for (let at = 0; at < walls.length; at += WIDTH) least = Math.min(least, walls[at] as number);
  return Math.max(0, (lift - least) * t);
}

/** One draw: each source's share of its range, the column it counts in, and what it comes to. */
interface Draw {
  readonly share: Float64Array;
  readonly column: Int32Array;
  /** Room to reckon in: what each source adds to one row. */
  readonly parts: Float64Array;
  /** Highest hold of the places with each source held still, then with none; and the same for the lowest wall, negated. */
  readonly lift: Float64Array;
  readonly least: Float64Array;
}

/** The greatest (of the negated, when sign is -1) of all rows, into `into`; with `told` also with each source still. */
function highest(
  rows: Float64Array,
  sign: 1 | -1,
  { share, column, parts }: Draw,
  into: Float64Array,
  told: boolean,
) {
  const count = share.length;
  into.fill(Number.NEGATIVE_INFINITY);
  for (let at = 0; at < rows.length; at += WIDTH) {
    let sum = sign * (rows[at] as number);
    for (let k = 0; k < count; k++) {
      const part = sign * (share[k] as number) * (rows[at + (column[k] as number)] as number);
      parts[k] = part;
      sum += part;
    }
    if (sum > (into[count] as number)) into[count] = sum;
    if (!told) continue;
    for (let k = 0; k < count; k++) {
      const without = sum - (parts[k] as number);
      if (without > (into[k] as number)) into[k] = without;
    }
  }
}

function gap({ lift, least }: Draw, k: number, t: number): number {
  return Math.max(0, ((lift[k] as number) + (least[k] as number)) * t);
}

/** Even numbers from 0 to 1, always the same for one seed (a 32-bit mixing counter). */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = Math.imul(state ^ (state >>> 15), state | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) / 4294967296;
  };
}
