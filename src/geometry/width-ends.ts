import { degrees } from '../units.ts';
import { type Disc, discAt, discOf, lengthOf, placeAt, placeOn, separation, turnAfter } from './discs.ts';
import { isNarrow, isStroke, OPPOSITE, stepOn, type Walk } from './width-walk.ts';

/** Corners turning less than this belong to a flattened curve; larger ones are corners as drawn. */
const SMOOTH = degrees(15);
/** A stroke ends bluntly where its walls' contacts come together by this much at once. */
const SUDDEN = degrees(25);

/** Where a stretch of stroke stops: the last disc of the stroke, and whether it stops bluntly or opens or rounds off. */
export interface End {
  readonly disc: Disc;
  readonly blunt: boolean;
}

/** The end of a stroke beyond sample k, which is the last of it going by `step` (+1 or -1) round the ring. */
export function endBeyond(walk: Walk, k: number, step: 1 | -1): End {
  const m = stepOn(walk, k, step);
  const inside = discOf(walk.samples, k);
  const outside = discOf(walk.samples, m);
  const path = shorten(
    walk,
    [inside.segment, share(walk, k)],
    [outside.segment, share(walk, m)],
    step,
    inside,
  );
  const [disc, beyond] = path ? halve(walk, path, inside, outside) : [inside, outside];
  return { disc, blunt: isBlunt(walk, disc, beyond) };
}

/** The largest disc of a whole island: the best samples, each carried to the top of its own rise. */
export function largestOf(walk: Walk, samples: readonly number[]): Disc {
  const { r } = walk.samples;
  const top = samples.reduce((best, k) => Math.max(best, r[k] as number), 0);
  const hopeful = samples
    .filter(
      (k) => (r[k] as number) >= top - walk.spacing && (r[k] as number) >= (r[stepOn(walk, k, 1)] as number),
    )
    .sort((a, b) => (r[b] as number) - (r[a] as number) || a - b)
    .slice(0, 2);
  let best = discOf(walk.samples, hopeful[0] ?? (samples[0] as number));
  for (const k of hopeful) {
    const disc = climb(walk, k);
    if (disc.r > best.r) best = disc;
  }
  return best;
}

/** Ends are placed to this share of the limit; where a stroke ends bluntly, so that its width counts, to FINE. */
const COARSE = 0.02;
const FINE = 1e-5;

/** A place in walking order: a segment and 0 to 1 along it, or 1 to 2 through the turn of an inward corner after it. */
type Spot = readonly [segment: number, share: number];

function discAtSpot(walk: Walk, [segment, u]: Spot, near: Disc): Disc {
  const place =
    u <= 1
      ? placeOn(walk.tree, segment, u)
      : placeAt(walk.tree, segment, turnAfter(walk.tree, segment) * (u - 1));
  return discAt(walk.tree, place, walk.below, near);
}

function share(walk: Walk, k: number): number {
  const segment = walk.samples.segment[k] as number;
  const n = k - (walk.samples.first[segment] as number);
  const on = walk.samples.onSegment[segment] as number;
  const all = (walk.samples.first[segment + 1] as number) - (walk.samples.first[segment] as number);
  return n < on ? (n + 0.5) / on : 1 + (n - on + 0.5) / (all - on);
}

/**
 * The part of the way between two spots that lies on one segment and holds the change from stroke to not stroke;
 * undefined when the change lies at a corner of a flattened curve, which is no place of its own.
 */
function shorten(
  walk: Walk,
  from: Spot,
  to: Spot,
  step: 1 | -1,
  inside: Disc,
): readonly [Spot, Spot] | undefined {
  if (from[0] === to[0]) return [from, to];
  const before = step > 0 ? from[0] : to[0];
  const turn = turnAfter(walk.tree, before);
  if (turn >= 0) {
    if (turn < SMOOTH) return undefined;
    return [from, [from[0], step > 0 ? 1 : 0]];
  }
  const middle: Spot = [from[0], step > 0 ? 2 : 0];
  if (!isStroke(walk, discAtSpot(walk, middle, inside))) return [from, middle];
  return [[to[0], step > 0 ? 0 : 2], to];
}

function halve(walk: Walk, [from, to]: readonly [Spot, Spot], inside: Disc, outside: Disc): [Disc, Disc] {
  const segment = from[0];
  let [low, high] = [from[1], to[1]];
  let [last, beyond] = [inside, outside];
  const length = Math.max(lengthOf(walk.tree, segment), walk.spacing);
  for (let gap = Math.abs(high - low) * length; gap > walk.below * FINE; gap /= 2) {
    if (gap < walk.below * COARSE && !isBlunt(walk, last, beyond)) break;
    const u = (low + high) / 2;
    const disc = discAtSpot(walk, [segment, u], last);
    if (isStroke(walk, disc)) {
      low = u;
      last = disc;
    } else {
      high = u;
      beyond = disc;
    }
  }
  return [last, beyond];
}

/** Whether the contacts of a narrow stroke's last disc come together at once rather than bit by bit. */
function isBlunt(walk: Walk, last: Disc, beyond: Disc): boolean {
  if (!isNarrow(beyond.r, walk.below)) return false;
  const apart = separation(beyond);
  return separation(last) - apart >= SUDDEN || apart >= OPPOSITE;
}

/** Golden-section search for the largest disc on one segment or corner around a sample. */
function climb(walk: Walk, k: number): Disc {
  const segment = walk.samples.segment[k] as number;
  const u = share(walk, k);
  const start = discOf(walk.samples, k);
  const on = walk.samples.onSegment[segment] as number;
  const reach = u <= 1 ? 1 / on : 1;
  let low = Math.max(u <= 1 ? 0 : 1, u - reach);
  let high = Math.min(u <= 1 ? 1 : 2, u + reach);
  const golden = (Math.sqrt(5) - 1) / 2;
  let a = discAtSpot(walk, [segment, high - golden * (high - low)], start);
  let b = discAtSpot(walk, [segment, low + golden * (high - low)], start);
  for (let n = 0; n < 24; n++) {
    if (a.r < b.r) {
      low = high - golden * (high - low);
      a = b;
      b = discAtSpot(walk, [segment, low + golden * (high - low)], start);
    } else {
      high = low + golden * (high - low);
      b = a;
      a = discAtSpot(walk, [segment, high - golden * (high - low)], start);
    }
  }
  return a.r > b.r ? a : b;
}
