import { hypot } from '../geometry/hypot.ts';
import type { Point, Region, Ring } from '../geometry/shapes.ts';
import type { ToolShape } from './cut.ts';
import { asPressed, type Contact, type Fit, type FitInput, type Pair, withInput } from './fit.ts';
import { pressed, touchingOf, widest } from './seat.ts';

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
  /** How many other places it changes alike. */
  readonly others?: number | undefined;
  /** How high the plug then stands when it goes straight down, mm. */
  readonly level: number;
  /** The widest line that then stays open at the rim once the plug has settled, mm. */
  readonly gap: number;
}

/** A change as it is tried. */
interface Try extends Pick<Mend, 'kind' | 'value' | 'at' | 'others'> {
  readonly input: FitInput;
}

/** A change must take at least this share off the lift to be worth telling. */
const WORTH = 0.2;
/** Shares of the present tip that are tried; the last is a sharp point. */
const TIPS = [0.5, 0.25, 0] as const;
/** Larger than this many times nobody draws it, common practice, no source. */
const MOST_LARGER = 2;

/**
 * Changes that lower the plug towards `wanted` mm of lift and close the rim towards `wantedGap` mm, each run through
 * the model as a check of the changed pair would be; those that do not help are left out. The best come first. Making
 * the plug's outline smaller is never among them: it moves the seat and leaves the gap.
 */
export function mendsFor(pair: Pair, fit: Fit, wanted: number, wantedGap: number): readonly Mend[] {
  const open = asPressed(fit).widest?.gap ?? 0;
  if (!(fit.level > wanted || open > wantedGap)) return [];
  const others = [...depthTries(pair, fit), ...notchTries(pair, fit, wanted), ...sizeTries(pair, fit)];
  const mends = [...tipMends(pair, wantedGap), ...others.map((one) => tried(pair, one))];
  const helpful = mends.filter(
    (m) => m.level < fit.level * (1 - WORTH) && m.gap <= Math.max(open, wantedGap),
  );
  return helpful.sort((a, b) => a.level - b.level || a.kind.localeCompare(b.kind));
}

function tried(pair: Pair, { input, ...change }: Try): Mend {
  const changed = withInput(pair, input);
  const { level, rim } = pressed(changed, touchingOf(changed));
  return { ...change, level, gap: Math.max(0, widest(rim)?.gap ?? 0) };
}

/** The largest of a few smaller tips that closes the rim, with all larger ones that were tried. */
function tipMends(pair: Pair, wantedGap: number): Mend[] {
  const { input } = pair;
  const flat = Math.max(input.pocketTool.tipFlat, input.plugTool.tipFlat);
  if (flat === 0 || input.pocketTool.tipRadius !== undefined || input.plugTool.tipRadius !== undefined)
    return [];
  const mends: Mend[] = [];
  for (const share of TIPS) {
    const value = flat * share;
    const changed = {
      ...input,
      pocketTool: withTip(input.pocketTool, value),
      plugTool: withTip(input.plugTool, value),
    };
    const mend = tried(pair, { kind: 'smaller-tip', value, input: changed });
    mends.push(mend);
    if (mend.gap <= wantedGap) break;
  }
  return mends;
}

function withTip(tool: ToolShape, flat: number): ToolShape {
  return { ...tool, tipFlat: Math.min(tool.tipFlat, flat) };
}

function depthTries({ input, pocket }: Pair, fit: Fit): Try[] {
  const tries: Try[] = [];
  const add = (kind: MendKind, value: number, change: Partial<FitInput>): void => {
    if (value > 0) tries.push({ kind, value, input: { ...input, ...change } });
  };
  const narrow = fit.tight.filter((c) => c.kind === 'narrow-stroke' && c.width !== undefined);
  if (narrow.length > 0) {
    const half = Math.min(...narrow.map((c) => (c.width as number) / 2));
    const start = startFreeOfStroke(half, pocket.real.r, pocket.real.t) - input.pocketStart;
    if (start < input.plugStart) add('shallower-mating', start, { plugStart: start });
  }
  if (fit.tight.some((c) => c.kind === 'floor')) {
    const flat = input.pocketFlat + fit.level;
    add('deeper-pocket', flat, { pocketFlat: flat });
  }
  if (fit.tight.some((c) => c.kind === 'root')) {
    const flat = input.plugFlat + fit.level;
    add('deeper-plug', flat, { plugFlat: flat });
  }
  return tries;
}

/** The greatest start depth of the plug that keeps the ridge of a stroke of half width R off its valley, mm. */
function startFreeOfStroke(R: number, r: number, t: number): number {
  return Math.max(0, (R - r) / t);
}

/** The angle (radians) to which a notch must open for its lift to be at most `lift` mm; pi when it never is. */
function notchAngleFor(lift: number, r: number, t: number): number {
  return 2 * Math.asin(1 / (1 + Math.max(0, lift * t) / r));
}

/** Opens every notch that holds higher than wanted, at once: one alone would leave the plug on the next. */
function notchTries(pair: Pair, fit: Fit, wanted: number): Try[] {
  const { input } = pair;
  const notches = fit.tight.filter((c) => c.kind === 'notch' && c.alone > wanted);
  const worst = notches[0];
  if (worst === undefined || pair.plug.real.r === 0) return [];
  const angle = notchAngleFor(wanted, pair.plug.real.r, pair.plug.real.t);
  const pocket = opened(input.pocket, notches, angle);
  const plug = opened(input.plug, notches, angle);
  // Told is what was tried: the same notches in both drawings, the worst among them.
  const same = pocket?.notches.length === plug?.notches.length && pocket?.notches.includes(worst);
  if (pocket === undefined || plug === undefined || !same) return [];
  const changed = { ...input, pocket: pocket.region, plug: plug.region };
  const others = pocket.notches.length - 1;
  return [{ kind: 'open-notch', value: angle, at: worst.at, others, input: changed }];
}

/** How far a notch's point may lie from the contact, mm, to be the one meant. */
const SAME_POINT = 0.05;

/**
 * Draws each notch's point back along its middle until the angle between its two edges is as told; answers which were
 * found in the drawing and narrower.
 */
function opened(
  region: Region,
  notches: readonly Contact[],
  angle: number,
): { readonly region: Region; readonly notches: readonly Contact[] } | undefined {
  const done: Contact[] = [];
  const rings = region.rings.map((ring) => {
    let changed: Ring | undefined;
    for (const notch of notches) {
      const k = pointAt(ring, notch.at);
      const to = k < 0 ? undefined : drawnBack(ring, k, angle);
      if (to === undefined) continue;
      changed ??= ring.slice();
      changed.set(to, 2 * k);
      done.push(notch);
    }
    return changed ?? ring;
  });
  return done.length === 0 ? undefined : { region: { rings }, notches: done };
}

function pointAt(ring: Ring, at: Point): number {
  let best = -1;
  let least = SAME_POINT;
  for (let k = 0; k < ring.length; k += 2) {
    const far = hypot((ring[k] as number) - at[0], (ring[k + 1] as number) - at[1]);
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
function sizeTries(pair: Pair, fit: Fit): Try[] {
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
  const changed = { ...input, pocket: larger(input.pocket), plug: larger(input.plug) };
  return [{ kind: 'larger-drawing', value: times, at: shut[0]?.at, input: changed }];
}
