import { degrees } from '../units.ts';
import { type Disc, discAt, discOf, placeAt, placeOn, separation } from './discs.ts';
import { hypot } from './hypot.ts';
import { isNarrow, isStroke, OPPOSITE, stepOn, type Walk } from './width-walk.ts';

/** Corners turning less than this belong to a flattened curve; larger ones are corners as drawn. */
const SMOOTH = degrees(15);
/** A stroke ends bluntly where its walls' contacts come together by this much at once. */
const SUDDEN = degrees(25);

/** A flaw is shorter than this share of the radius and holds no more than so many samples. */
const FLAW = 0.5;
const FLAW_SAMPLES = 8;

/** Where a stretch of stroke stops: the last disc of the stroke, and whether it stops bluntly or opens or rounds off. */
export interface End {
  readonly disc: Disc;
  readonly blunt: boolean;
}

/** The end of a stroke beyond sample k, which is the last of it going by `step` (+1 or -1) round the ring. */
export function endBeyond(walk: Walk, k: number, step: 1 | -1): End {
  const m = stepOn(walk, k, step);
  const inside = discOf(walk.samples, k);
  if (fades(walk, k, step, inside)) return { disc: inside, blunt: false };
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

/**
 * Whether the walls go on closing bit by bit beyond sample k, though the next sample stands in the corner beside a
 * point of a flattened curve, where a short side has contacts close together.
 */
function fades(walk: Walk, k: number, step: 1 | -1, inside: Disc): boolean {
  const least = separation(inside) - SUDDEN;
  for (let n = 1; n <= FLAW_SAMPLES; n++) {
    const disc = discOf(walk.samples, stepOn(walk, k, step * n));
    if (hypot(disc.px - inside.px, disc.py - inside.py) > FLAW * inside.r) return false;
    if (separation(disc) >= least) return n > 1;
  }
  return false;
}

/**
 * The largest disc of a whole island. From the largest sample it climbs along the wall, then along the neighbouring
 * walls and the wall across, as long as one of them leads higher.
 */
export function largestOf(walk: Walk, samples: readonly number[]): Disc {
  const { r } = walk.samples;
  let k = samples[0] as number;
  for (const n of samples) if ((r[n] as number) > (r[k] as number)) k = n;
  let best = discOf(walk.samples, k);
  let rise: Rise = [best.segment, 0];
  const climbed = new Set<number>();
  for (let hopeful = [best.segment]; hopeful.length > 0; ) {
    const before = best.r;
    for (const next of hopeful.flatMap((segment) => rises(walk, segment))) {
      climbed.add(next[0]);
      const disc = climb(walk, next, best, COARSE_CLIMB);
      if (disc.r <= best.r) continue;
      best = disc;
      rise = next;
    }
    if (best.r - before < walk.below * FINE) break;
    hopeful = beside(walk, best).filter((segment) => !climbed.has(segment));
  }
  const top = climb(walk, rise, best, FINE);
  return top.r > best.r ? top : best;
}

/** A wall to climb along: a segment (from 0), or the corner at its end (from 1). */
type Rise = readonly [segment: number, from: number];

function rises(walk: Walk, segment: number): Rise[] {
  return (walk.samples.turn[segment] as number) < -SMOOTH
    ? [
        [segment, 0],
        [segment, 1],
      ]
    : [[segment, 0]];
}

/** The segments a disc touches, with the neighbours of both. */
function beside(walk: Walk, disc: Disc): number[] {
  const touched = disc.other < 0 ? [disc.segment] : [disc.segment, disc.other];
  return [...new Set(touched.flatMap((i) => [i, walk.tree.next(i), walk.tree.prev(i)]))];
}

/** Ends are placed to this share of the limit; where a stroke ends bluntly, so that its width counts, to FINE. */
const COARSE = 0.1;
const FINE = 1e-5;
/** The largest disc of an island is sought to this share of the limit, then to FINE on the wall that leads highest. */
const COARSE_CLIMB = 1e-3;

/** A place in walking order: a segment and 0 to 1 along it, or 1 to 2 through the turn of an inward corner after it. */
type Spot = readonly [segment: number, share: number];

function discAtSpot(walk: Walk, [segment, u]: Spot, near: Disc): Disc {
  const place =
    u <= 1
      ? placeOn(walk.tree, segment, u)
      : placeAt(walk.tree, segment, (walk.samples.turn[segment] as number) * (u - 1));
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
  const turn = walk.samples.turn[before] as number;
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
  const length = Math.max(walk.tree.lengthOf(segment), walk.spacing);
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

/** Golden-section search for the largest disc along a wall, its place to a share of the limit. */
function climb(walk: Walk, [segment, from]: Rise, near: Disc, share: number): Disc {
  const golden = (Math.sqrt(5) - 1) / 2;
  const length = Math.max(walk.tree.lengthOf(segment), from * near.r);
  let low = from;
  let high = from + 1;
  const inner = (part: number) => discAtSpot(walk, [segment, low + part * (high - low)], near);
  let a = inner(1 - golden);
  let b = inner(golden);
  while ((high - low) * length > walk.below * share) {
    if (a.r < b.r) {
      low += (1 - golden) * (high - low);
      a = b;
      b = inner(golden);
    } else {
      high -= (1 - golden) * (high - low);
      b = a;
      a = inner(1 - golden);
    }
  }
  return a.r > b.r ? a : b;
}
