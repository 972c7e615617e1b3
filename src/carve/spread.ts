import type { Point } from '../geometry/shapes.ts';
import type { GapAt, Pair } from './fit.ts';
import { type Touching, touchingOf } from './seat.ts';
import type { Place } from './seat-place.ts';
import {
  type Effects,
  type Shifted,
  SOURCE_KEYS,
  type SourceKey,
  type Sources,
  shiftedPairs,
  type Varied,
} from './spread-effects.ts';
import { gapsOf, lotOf, nominalGap } from './spread-lot.ts';

export interface SpreadSettings {
  readonly sources: Sources;
  /** A rim gap above this shows, mm. */
  readonly limit: number;
  readonly draws: number;
  readonly seed: number;
}

export interface Share {
  readonly source: SourceKey;
  /** Part of the widest gap's variance that goes away when this source is held still, 0 to 1. */
  readonly share: number;
}

/** The rim gap under what varies, mm. */
export interface Spread {
  readonly draws: number;
  /** Gap with nothing varying, by the same straight-down reckoning. */
  readonly nominal: number;
  readonly median: number;
  /** 95 of 100 joints are better. */
  readonly p95: number;
  /** Share of draws whose widest gap is over the limit, and its 95 percent interval (Wilson). */
  readonly chance: number;
  readonly chanceFrom: number;
  readonly chanceTo: number;
  /** The widest gap any combination within the ranges can open. */
  readonly worst: GapAt | undefined;
  /** What each source is worth, the weightiest first; from draws of their own, made each time it is asked. */
  readonly shares: () => readonly Share[];
}

/** Places and rim points followed through every draw. */
const MOST_PLACES = 160;
const MOST_RIM = 120;
const SHARE_DRAWS = 1500;

/**
 * Worst case and a seeded lot of draws, each source even over its range and alone. The plug goes straight down and
 * stays level. Each place's hold is taken to grow straight with each source to either side of its stated value, so
 * a draw costs a few hundred sums; the slopes are found once by cutting again with one source at its full value.
 */
export function spread(pair: Pair, settings: SpreadSettings, touching: Touching = touchingOf(pair)): Spread {
  const shifted = shiftedPairs(pair, settings.sources);
  const holds = followed(touching.places).map((p) => effectsOf(pair, shifted, holdPoint(pair, p)));
  const rim = everyFew(touching.mouth, MOST_RIM);
  const walls = rim.map((at) => effectsOf(pair, shifted, wallPoint(pair, at)));
  const lot = lotOf(holds, walls, pair.plug.real.t);
  const gaps = gapsOf(lot, settings.draws, 0, settings.seed).all;
  const over = gaps.reduce((count, gap) => count + (gap > settings.limit ? 1 : 0), 0);
  const [chanceFrom, chanceTo] = wilson(over, gaps.length);
  const sorted = Float64Array.from(gaps).sort();
  return {
    draws: settings.draws,
    nominal: nominalGap(lot),
    median: quantile(sorted, 0.5),
    p95: quantile(sorted, 0.95),
    chance: over / gaps.length,
    chanceFrom,
    chanceTo,
    worst: worstOf(holds, walls, rim, lot.t),
    shares: () => {
      const count = Math.min(settings.draws, SHARE_DRAWS);
      const { all, still } = gapsOf(lot, count, count, settings.seed);
      return sharesOf(all, still);
    },
  };
}

/** Of each part of the plug and direction of wall the highest places: the others follow them. */
function followed(places: readonly Place[]): Place[] {
  const taken = new Map<string, Place>();
  for (const p of places) {
    const facing = Math.round((Math.atan2(p.ny, p.nx) * 4) / Math.PI);
    const key = `${p.feature}${facing}${p.lift > 0 ? Math.round(p.lift * 200) : 'low'}`;
    if (!taken.has(key)) taken.set(key, p);
  }
  return [...taken.values()].sort((a, b) => b.lift - a.lift).slice(0, MOST_PLACES);
}

/** The point of the plug's outline a place on its wall belongs to; a ridge lies between two and moves as itself. */
function outlineNear(pair: Pair, p: Place): Point {
  if (p.feature !== 'face') return [p.x, p.y];
  const foot: [number, number] = [0, 0];
  pair.plugTree.foot(pair.plugTree.nearest(p.x, p.y), p.x, p.y, foot);
  return foot;
}

function everyFew(rim: readonly Point[], most: number): Point[] {
  const step = Math.max(1, rim.length / most);
  return Array.from({ length: Math.min(rim.length, most) }, (_, k) => rim[Math.floor(k * step)] as Point);
}

/** A place that may hold the plug up, asked for its hold. */
function holdPoint(pair: Pair, p: Place): Varied {
  const { x, y, rides, own } = p;
  const other = pair.mating - own - p.lift;
  const [board, taken] = rides === 'plug' ? [other, own] : [own, other];
  return { x, y, kind: 'hold', rides, moves: outlineNear(pair, p), board, taken };
}

/** A point of the rim, asked where the walls lie. */
function wallPoint(pair: Pair, at: Point): Varied {
  const [x, y] = at;
  const [board, taken] = [pair.pocket.wall(x, y), pair.plug.wall(x, y)];
  return { x, y, kind: 'wall', rides: 'board', moves: at, board, taken };
}

function effectsOf(pair: Pair, shifted: readonly Shifted[], point: Varied): Effects {
  const change = (k: number): number => {
    const grows = (shifted[k] as Shifted)(point);
    return Number.isFinite(grows) ? grows : 0;
  };
  const plus = Float64Array.from(SOURCE_KEYS, (_, k) => change(2 * k));
  const minus = Float64Array.from(SOURCE_KEYS, (_, k) => change(2 * k + 1));
  return { hold: pair.mating - point.board - point.taken, plus, minus };
}

/** What is left of the variance when a source is held still, from the same draws with and without it. */
function sharesOf(gaps: Float64Array, still: readonly Float64Array[]): Share[] {
  const whole = variance(gaps);
  const shares = SOURCE_KEYS.map((source, k) => {
    const left = variance(still[k] as Float64Array);
    return { source, share: whole > 0 ? Math.max(0, 1 - left / whole) : 0 };
  });
  return shares.sort((a, b) => b.share - a.share);
}

/** Every pair of one holding place and one rim point, each source at whichever end opens that pair most. */
function worstOf(
  holds: readonly Effects[],
  walls: readonly Effects[],
  rim: readonly Point[],
  t: number,
): GapAt | undefined {
  let worst: GapAt | undefined;
  walls.forEach((wall, j) => {
    for (const hold of holds) {
      let open = hold.hold - wall.hold;
      for (let k = 0; k < SOURCE_KEYS.length; k++) {
        const plus = (hold.plus[k] as number) - (wall.plus[k] as number);
        const minus = (hold.minus[k] as number) - (wall.minus[k] as number);
        open += Math.max(0, plus, minus);
      }
      if (worst === undefined || open * t > worst.gap)
        worst = { gap: Math.max(0, open * t), at: rim[j] as Point };
    }
  });
  return worst;
}

/** Wilson's 95 percent interval of a share. E. B. Wilson 1927 (from memory). */
function wilson(hits: number, n: number): readonly [number, number] {
  if (n === 0) return [0, 1];
  const z = 1.96;
  const p = hits / n;
  const middle = p + (z * z) / (2 * n);
  const half = z * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
  const whole = 1 + (z * z) / n;
  return [Math.max(0, (middle - half) / whole), Math.min(1, (middle + half) / whole)];
}

function variance(values: Float64Array): number {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  return values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length;
}

function quantile(sorted: Float64Array, q: number): number {
  return sorted[Math.floor(q * sorted.length)] ?? Number.NaN;
}
