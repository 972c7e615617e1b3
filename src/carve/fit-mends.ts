import type { Point, Region, Ring } from '../geometry/shapes.ts';
import type { ToolShape } from './cut.ts';
import { type Contact, type Fit, type FitInput, liftAt, type Pair, withInput } from './fit.ts';
import { notchAngleFor, startFreeOfStroke } from './fit-forms.ts';
import { placesOf } from './seat.ts';
import type { Place } from './seat-places.ts';

export type MendKind =
  | 'smaller-tip'
  | 'shallower-mating'
  | 'open-notch'
  | 'deeper-pocket'
  | 'deeper-plug'
  | 'larger-drawing';

/** One change, tried by running the model again, with what came of it. */
export interface Mend {
  readonly kind: MendKind;
  /**
   * The value to change to: tip flat mm, plug start depth mm, notch angle radians, pocket or plug flat depth mm,
   * or how many times larger both drawings.
   */
  readonly value: number;
  /** The place it is for, when it is for one. */
  readonly at?: Point | undefined;
  /** How high the plug then stands when it goes straight down, mm. */
  readonly level: number;
  /** The opening that leaves along plain walls, mm. */
  readonly gap: number;
}

/** A change must take at least this share off the lift to be worth telling. */
const WORTH = 0.2;
/** Shares of the present tip that are tried; the last is a sharp point. */
const TIPS = [0.5, 0.25, 0] as const;
/** Larger than this many times nobody draws it, common practice, no source. */
const MOST_LARGER = 2;

/**
 * Changes that lower the plug towards `wanted` mm of lift, each run through the model; those that do not help are
 * left out. The best come first. Making the plug's outline smaller is never among them: it moves the seat and leaves
 * the gap.
 */
export function mendsFor(
  pair: Pair,
  fit: Fit,
  wanted: number,
  places: readonly Place[] = placesOf(pair),
): readonly Mend[] {
  if (!(fit.level > wanted)) return [];
  const tries = [
    ...tipMends(pair, places),
    ...depthMends(pair, fit),
    ...notchMends(pair, fit, wanted),
    ...sizeMends(pair, fit),
  ];
  const helpful = tries.filter((m) => m.level < fit.level * (1 - WORTH));
  return helpful.sort((a, b) => a.level - b.level || a.kind.localeCompare(b.kind));
}

function mend(pair: Pair, kind: MendKind, value: number, level: number, at?: Point): Mend {
  const gap = Math.max(0, level) * pair.plug.real.t;
  return at === undefined ? { kind, value, level, gap } : { kind, value, level, gap, at };
}

/** The greatest lift of a pair, straight down. */
function levelOf(pair: Pair): number {
  return placesOf(pair)[0]?.lift ?? Number.NaN;
}

/**
 * With a smaller tip no place holds higher than before, so places are asked from the highest down, and no further
 * than the highest answer so far.
 */
function tipMends(pair: Pair, places: readonly Place[]): Mend[] {
  const { input } = pair;
  const flat = Math.max(input.pocketTool.tipFlat, input.plugTool.tipFlat);
  if (flat === 0 || input.pocketTool.tipRadius !== undefined || input.plugTool.tipRadius !== undefined)
    return [];
  return TIPS.map((share) => {
    const most = flat * share;
    const changed = withInput(pair, {
      ...input,
      pocketTool: withTip(input.pocketTool, most),
      plugTool: withTip(input.plugTool, most),
    });
    let level = Number.NEGATIVE_INFINITY;
    for (const p of places) {
      if (p.lift <= level) break;
      level = Math.max(level, liftAt(changed, p.x, p.y));
    }
    return mend(pair, 'smaller-tip', most, level);
  });
}

function withTip(tool: ToolShape, flat: number): ToolShape {
  return { ...tool, tipFlat: Math.min(tool.tipFlat, flat) };
}

function depthMends(pair: Pair, fit: Fit): Mend[] {
  const { input } = pair;
  const tries: Mend[] = [];
  const attempt = (kind: MendKind, value: number, change: Partial<FitInput>): void => {
    if (value > 0) tries.push(mend(pair, kind, value, levelOf(withInput(pair, { ...input, ...change }))));
  };
  const narrow = fit.tight.filter((c) => c.kind === 'narrow-stroke' && c.width !== undefined);
  if (narrow.length > 0) {
    const half = Math.min(...narrow.map((c) => (c.width as number) / 2));
    const start = startFreeOfStroke(half, pair.pocket.real.r, pair.pocket.real.t) - input.pocketStart;
    if (start < input.plugStart) attempt('shallower-mating', start, { plugStart: start });
  }
  if (fit.tight.some((c) => c.kind === 'floor')) {
    const flat = input.pocketFlat + fit.level;
    attempt('deeper-pocket', flat, { pocketFlat: flat });
  }
  if (fit.tight.some((c) => c.kind === 'root')) {
    const flat = input.plugFlat + fit.level;
    attempt('deeper-plug', flat, { plugFlat: flat });
  }
  return tries;
}

/** Opens every notch that holds higher than wanted, at once: one alone would leave the plug on the next. */
function notchMends(pair: Pair, fit: Fit, wanted: number): Mend[] {
  const { input } = pair;
  const notches = fit.tight.filter((c) => c.kind === 'notch' && c.alone > wanted);
  const worst = notches[0];
  if (worst === undefined || pair.plug.real.r === 0) return [];
  const angle = notchAngleFor(wanted, pair.plug.real.r, pair.plug.real.t);
  const pocket = opened(input.pocket, notches, angle);
  const plug = opened(input.plug, notches, angle);
  if (pocket === undefined || plug === undefined) return [];
  return [mend(pair, 'open-notch', angle, levelOf(withInput(pair, { ...input, pocket, plug })), worst.at)];
}

/** How far a notch's point may lie from the contact, mm, to be the one meant. */
const SAME_POINT = 0.05;

/** Draws each notch's point back along its middle until the angle between its two edges is as told. */
function opened(region: Region, notches: readonly Contact[], angle: number): Region | undefined {
  let done = 0;
  const rings = region.rings.map((ring) => {
    let changed: Ring | undefined;
    for (const notch of notches) {
      const k = pointAt(ring, notch.at);
      const to = k < 0 ? undefined : drawnBack(ring, k, angle);
      if (to === undefined) continue;
      changed ??= ring.slice();
      changed.set(to, 2 * k);
      done++;
    }
    return changed ?? ring;
  });
  return done === 0 ? undefined : { rings };
}

function pointAt(ring: Ring, at: Point): number {
  let best = -1;
  let least = SAME_POINT;
  for (let k = 0; k < ring.length; k += 2) {
    const far = Math.hypot((ring[k] as number) - at[0], (ring[k + 1] as number) - at[1]);
    if (far < least) {
      least = far;
      best = k / 2;
    }
  }
  return best;
}

function drawnBack(ring: Ring, k: number, angle: number): Point | undefined {
  const n = ring.length / 2;
  const at = (i: number): Point => [ring[2 * ((i + n) % n)] as number, ring[2 * ((i + n) % n) + 1] as number];
  const [before, tip, after] = [at(k - 1), at(k), at(k + 1)];
  const middle: Point = [(before[0] + after[0]) / 2, (before[1] + after[1]) / 2];
  const between = (share: number): Point => [
    tip[0] + share * (middle[0] - tip[0]),
    tip[1] + share * (middle[1] - tip[1]),
  ];
  if (angleAt(before, tip, after) >= angle) return undefined;
  let [low, high] = [0, 1];
  for (let i = 0; i < 50; i++) {
    const share = (low + high) / 2;
    if (angleAt(before, between(share), after) < angle) low = share;
    else high = share;
  }
  return between(high);
}

function angleAt(a: Point, tip: Point, b: Point): number {
  const [ux, uy, vx, vy] = [a[0] - tip[0], a[1] - tip[1], b[0] - tip[0], b[1] - tip[1]];
  return Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
}

/** A stroke or land the tip does not get into opens when both drawings are made larger. */
function sizeMends(pair: Pair, fit: Fit): Mend[] {
  const shut = fit.tight.filter((c) => c.kind === 'uncut-land' || c.kind === 'uncut-stroke');
  const widths = shut.map((c) => c.width ?? 0).filter((w) => w > 0);
  if (widths.length === 0) return [];
  const tip = 2 * Math.max(pair.pocket.real.r, pair.plug.real.r);
  const times = Math.ceil((110 * tip) / Math.min(...widths)) / 100;
  if (!(times > 1 && times <= MOST_LARGER)) return [];
  const larger = (region: Region): Region => ({
    rings: region.rings.map((ring) => ring.map((v) => v * times)),
  });
  const { input } = pair;
  const changed = withInput(pair, { ...input, pocket: larger(input.pocket), plug: larger(input.plug) });
  return [mend(pair, 'larger-drawing', times, levelOf(changed), shut[0]?.at)];
}
