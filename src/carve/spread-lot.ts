import { type Effects, ONLY_GROWS, SOURCE_KEYS, type SourceKey } from './spread-effects.ts';

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

/** The widest gap with nothing varying, mm. */
export function nominalGap(lot: Lot): number {
  const draw = new Float64Array(WIDTH);
  draw[0] = 1;
  return widestGap(lot, draw);
}

/** The widest gap of each of a number of draws, mm; the source numbered `still` does not vary. */
export function gapsOf(lot: Lot, draws: number, seed: number, still?: number): Float64Array {
  const random = randomFrom(seed);
  const draw = new Float64Array(WIDTH);
  draw[0] = 1;
  const gaps = new Float64Array(draws);
  for (let n = 0; n < draws; n++) {
    for (let k = 0; k < SOURCE_KEYS.length; k++) {
      const part = random();
      // Whatever is held still has used its number all the same, so that the others draw what they did.
      const u = k === still ? 0 : ONLY_GROWS.has(SOURCE_KEYS[k] as SourceKey) ? part : 2 * part - 1;
      draw[1 + 2 * k] = Math.max(0, u);
      draw[2 + 2 * k] = Math.max(0, -u);
    }
    gaps[n] = widestGap(lot, draw);
  }
  return gaps;
}

function widestGap({ holds, walls, t }: Lot, draw: Float64Array): number {
  let lift = Number.NEGATIVE_INFINITY;
  for (let at = 0; at < holds.length; at += WIDTH) lift = Math.max(lift, holdUnder(holds, at, draw));
  let least = Number.POSITIVE_INFINITY;
  for (let at = 0; at < walls.length; at += WIDTH) least = Math.min(least, holdUnder(walls, at, draw));
  return Math.max(0, (lift - least) * t);
}

/** The hold of one point with each source at a share of its plus or of its minus. */
function holdUnder(rows: Float64Array, at: number, draw: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < WIDTH; k++) sum += (draw[k] as number) * (rows[at + k] as number);
  return sum;
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
