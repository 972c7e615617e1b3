import { hypot } from '../geometry/hypot.ts';
import { straightWalls, unlikeWalls } from './cut.ts';
import { liftAt, type Pair, type Seat } from './fit.ts';
import { type Bounds, heightOf, leastHeight, UNKNOWNS } from './seat-least.ts';
import type { Place } from './seat-place.ts';
import { depthOf, type Held, heightAt, highestHold, sideways } from './seat-pose.ts';

/** A place that holds higher than another by less than this is the same, mm. */
const NO_HIGHER = 1e-7;
/** Places nearer to one another than this are one hill, in halves of the tip flat; half as far for unlike walls. */
const HILL = 2;
const MOST_STEPS = 150;
/** Walls of other slopes are walked at least so far, mm, as if the tips were this wide. */
const LEAST_REACH = 0.05;
/** Steps along an edge end at this length, mm. */
const FINEST_STEP = 1e-4;
/** Slopes are taken over this length, mm. */
const NEARBY = 1e-6;
const FLAT: Bounds = [new Float64Array(1 + UNKNOWNS)];

/** A point of the plug and how high it holds. */
interface Clash {
  readonly x: number;
  readonly y: number;
  readonly hold: number;
}

/**
 * Places that hold a plug, moved as told, higher than all those given, found by walking uphill: where a ridge runs
 * into a corner that the bit has filled, or along a spike of board, the highest point is none that was looked at.
 * `places` come highest lift first; up the `mostHills` highest hills is walked.
 */
export function higherPlaces(
  pair: Pair,
  places: readonly Place[],
  moved: Seat,
  mostHills: number,
): readonly Place[] {
  const { pocket, plug } = pair;
  const t = Math.min(pocket.real.t, plug.real.t);
  const between = (pocket.real.r + plug.real.r) / 2;
  const unlike = unlikeWalls(pocket, plug);
  const tip = unlike ? Math.max(LEAST_REACH, between) : between;
  // A sharp point fills nothing and leaves nothing between the places.
  if (tip === 0) return [];
  // The height of a seat is the highest hold of its places.
  const top = moved.height;
  const { met } = highestHold(pair, places, moved, top - tip / t, true);
  const hills = hillsOf(
    met.map((held) => hillAt(pair, moved, held)),
    (unlike ? HILL / 2 : HILL) * tip,
    mostHills,
  );
  return hills.flatMap((hill) => {
    const start = straightWalls(pocket, plug)
      ? alongEdge(pair, moved, hill, tip)
      : clashAt(pair, moved, hill.x, hill.y);
    const { x, y, hold } = summitFrom(pair, moved, start, tip);
    return hold > top + NO_HIGHER ? [plugPlaceAt(pair, hill.place, x, y)] : [];
  });
}

/** The point of the plug that a place is about, and how high the place holds. */
interface Hill extends Clash {
  readonly place: Place;
}

function hillAt(pair: Pair, moved: Seat, { place, hold }: Held): Hill {
  const { x, y } = place;
  if (place.rides === 'plug') return { place, x, y, hold };
  const [vx, vy] = sideways(pair, moved, x, y, depthOf(pair, moved, place));
  return { place, x: x - vx, y: y - vy, hold };
}

function hillsOf(all: readonly Hill[], size: number, most: number): readonly Hill[] {
  const hills: Hill[] = [];
  for (const p of [...all].sort((a, b) => b.hold - a.hold)) {
    if (hills.length === most) break;
    if (!hills.some((q) => hypot(p.x - q.x, p.y - q.y) < size)) hills.push(p);
  }
  return hills;
}

/**
 * Uphill along the direction in which the place looks: over the edge that runs from a corner all slopes lead down on
 * both sides, and none tells that it rises along the edge.
 */
function alongEdge(pair: Pair, moved: Seat, { place, x, y }: Hill, reach: number): Clash {
  let here = clashAt(pair, moved, x, y);
  for (let step = reach; step > FINEST_STEP; ) {
    const [there, back] = [step, -step].map((d) =>
      clashAt(pair, moved, here.x + d * place.nx, here.y + d * place.ny),
    ) as [Clash, Clash];
    const best = there.hold > back.hold ? there : back;
    if (best.hold > here.hold + NO_HIGHER) here = best;
    else step /= 2;
  }
  return here;
}

/** Walks uphill from a place by straight bounds on the clash, as the seat is found by straight bounds on the hold. */
function summitFrom(pair: Pair, moved: Seat, from: Clash, reach: number): Clash {
  let here = from;
  let bounds: Bounds = [slopeAt(pair, moved, here)].filter(isKnown);
  let pull = 1 / (pair.plug.real.t * reach);
  for (let n = 0; n < MOST_STEPS && bounds.length > 0; n++) {
    const { motion, height } = leastHeight(bounds, FLAT, placeOf(here), pull, NO_HIGHER / 10);
    const promised = -height - here.hold;
    if (promised < NO_HIGHER) break;
    const next = clashAt(pair, moved, motion[0] as number, motion[1] as number);
    const slope = slopeAt(pair, moved, next);
    // Over a brink, where nothing is cut at all, there is no hill to walk on.
    if (!Number.isFinite(next.hold) || !isKnown(slope)) {
      pull *= 4;
      continue;
    }
    const better = next.hold - here.hold > promised / 10;
    if (better) here = next;
    // What was met before still counts as far as it does not deny what was found since.
    const still = [...bounds, slope].filter((row) => -heightOf(row, placeOf(here)) >= here.hold - NO_HIGHER);
    pull *= better ? 0.5 : still.at(-1) === slope ? 1.2 : 4;
    bounds = still;
  }
  return here;
}

function isKnown(row: Float64Array): boolean {
  return row.every(Number.isFinite);
}

function placeOf({ x, y }: Clash): Float64Array {
  return Float64Array.of(x, y, 0, 0, 0);
}

/** How high a point of the plug holds it at its middle, moved as told. */
function clashAt(pair: Pair, moved: Seat, x: number, y: number): Clash {
  const own = pair.plug.depth(x, y);
  const height = heightAt(pair, moved, x, y);
  const [vx, vy] = sideways(pair, moved, x, y, pair.mating - own - height);
  const lift = pair.mating - own - pair.pocket.depth(x + vx, y + vy);
  return { x, y, hold: lift - (height - moved.height) };
}

/** A point of the plug, taken as a place like the one it was found from. */
function plugPlaceAt(pair: Pair, like: Place, x: number, y: number): Place {
  return { ...like, x, y, rides: 'plug', own: pair.plug.depth(x, y), lift: liftAt(pair, x, y) };
}

/** The clash about a point as a straight bound, turned over: leastHeight seeks the lowest. */
function slopeAt(pair: Pair, moved: Seat, here: Clash): Float64Array {
  const gx = (clashAt(pair, moved, here.x + NEARBY, here.y).hold - here.hold) / NEARBY;
  const gy = (clashAt(pair, moved, here.x, here.y + NEARBY).hold - here.hold) / NEARBY;
  return Float64Array.of(-here.hold + gx * here.x + gy * here.y, -gx, -gy, 0, 0, 0);
}
