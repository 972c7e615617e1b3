import { hypot } from '../geometry/hypot.ts';
import type { Pair } from './fit.ts';
import { type Bounds, heightOf, leastHeight, UNKNOWNS } from './seat-least.ts';
import type { Place } from './seat-places.ts';

/** A place that holds higher than another by less than this is the same, mm. */
const NO_HIGHER = 1e-7;
/** Hills walked up at most, the highest first. */
const MOST_HILLS = 100;
/** Places nearer to one another than this are one hill, mm. */
const HILL = 0.2;
const MOST_STEPS = 150;
/** Slopes are taken over this length, mm. */
const NEARBY = 1e-6;
const FLAT: Bounds = [new Float64Array(1 + UNKNOWNS)];

/**
 * Places that hold a level plug higher than all those given, found by walking uphill: where a ridge runs into a
 * corner that the bit has filled, or along a spike of board, the highest point is none that was looked at. `places`
 * come highest lift first.
 */
export function higherPlaces(pair: Pair, places: readonly Place[]): readonly Place[] {
  const top = places[0]?.lift ?? Number.NEGATIVE_INFINITY;
  const { pocket, plug } = pair;
  const t = Math.min(pocket.real.t, plug.real.t);
  const tip = (pocket.real.r + plug.real.r) / 2;
  // A sharp point fills nothing and leaves nothing between the places.
  if (tip === 0) return [];
  const near = places.filter((p) => p.lift > top - tip / t);
  return hillsOf(near).flatMap((hill) => {
    const higher = summitFrom(pair, hill, Math.max(0.02, tip));
    return higher.lift > top + NO_HIGHER ? [higher] : [];
  });
}

function hillsOf(places: readonly Place[]): readonly Place[] {
  const hills: Place[] = [];
  for (const p of places) {
    if (hills.length === MOST_HILLS) break;
    if (!hills.some((q) => hypot(p.x - q.x, p.y - q.y) < HILL)) hills.push(p);
  }
  return hills;
}

/** Walks uphill from a place by straight bounds on the clash, as the seat is found by straight bounds on the hold. */
function summitFrom(pair: Pair, from: Place, reach: number): Place {
  let here = clashAt(pair, from, from.x, from.y);
  let bounds: Bounds = [slopeAt(pair, here)].filter(isKnown);
  let pull = 1 / (pair.plug.real.t * reach);
  for (let n = 0; n < MOST_STEPS && bounds.length > 0; n++) {
    const { motion, height } = leastHeight(bounds, FLAT, placeOf(here), pull, NO_HIGHER / 10);
    const promised = -height - here.lift;
    if (promised < NO_HIGHER) break;
    const next = clashAt(pair, from, motion[0] as number, motion[1] as number);
    const slope = slopeAt(pair, next);
    // Over a brink, where nothing is cut at all, there is no hill to walk on.
    if (!Number.isFinite(next.lift) || !isKnown(slope)) {
      pull *= 4;
      continue;
    }
    const better = next.lift - here.lift > promised / 10;
    if (better) here = next;
    // What was met before still counts as far as it does not deny what was found since.
    const still = [...bounds, slope].filter((row) => -heightOf(row, placeOf(here)) >= here.lift - NO_HIGHER);
    pull *= better ? 0.5 : still.at(-1) === slope ? 1.2 : 4;
    bounds = still;
  }
  return here;
}

function isKnown(row: Float64Array): boolean {
  return row.every(Number.isFinite);
}

function placeOf({ x, y }: Place): Float64Array {
  return Float64Array.of(x, y, 0, 0, 0);
}

/** A point of the plug, taken as a place like the one it was found from. */
function clashAt(pair: Pair, like: Place, x: number, y: number): Place {
  const own = pair.plug.depth(x, y);
  const lift = pair.mating - own - pair.pocket.depth(x, y);
  return { ...like, x, y, rides: 'plug', own, lift };
}

/** The clash about a point as a straight bound, turned over: leastHeight seeks the lowest. */
function slopeAt(pair: Pair, here: Place): Float64Array {
  const gx = (clashAt(pair, here, here.x + NEARBY, here.y).lift - here.lift) / NEARBY;
  const gy = (clashAt(pair, here, here.x, here.y + NEARBY).lift - here.lift) / NEARBY;
  return Float64Array.of(-here.lift + gx * here.x + gy * here.y, -gx, -gy, 0, 0, 0);
}
