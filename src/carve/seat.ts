import type { SegmentTree } from '../geometry/nearest.ts';
import type { Point } from '../geometry/shapes.ts';
import { type Fit, type FitInput, type GapAt, makePair, type Pair, type Seat } from './fit.ts';
import { contactsOf } from './seat-holds.ts';
import { higherPlaces } from './seat-peaks.ts';
import type { Place } from './seat-place.ts';
import { contactPlaces } from './seat-places.ts';
import { heightAt, highestHold } from './seat-pose.ts';
import { gapsAlong, rimOf } from './seat-rim.ts';
import { levelSeat, settle } from './seat-settle.ts';

/** Spots along the outlines: about this many in all, but never finer or coarser than the two lengths, mm. */
const SPOTS = 3000;
const FINEST = 0.25;
const COARSEST = 1;

/** Hills walked up at most, the highest first: before the plug has moved, and after. */
const MOST_HILLS = 100;
const FEW_HILLS = 20;

/** Sideways error of the method, mm: largest seen against closed forms and finer sampling (tests/carve/seat.test.ts). */
const GIVE = 0.002;

/**
 * Lets the plug settle into its pocket: height, two tilts, two shifts and a turn, to the least height at its
 * middle (the place a clamp presses). The plug is rigid and the motions small.
 */
export function seat(input: FitInput): Fit {
  return seatPair(makePair(input));
}

/** Where a pair may meet, found once for all that ask. */
export interface Touching {
  /** Every place worth asking, the highest lift first. */
  readonly places: readonly Place[];
  /** The rim, mm, in the pocket's frame. */
  readonly mouth: readonly Point[];
}

export function touchingOf(pair: Pair): Touching {
  return { places: placesOf(pair), mouth: rimOf(pair, spacingFor(pair)) };
}

/** The same for a pair whose search trees exist already. */
export function seatPair(pair: Pair, touching: Touching = touchingOf(pair)): Fit {
  const { settled, places, level, rim } = pressed(pair, touching);
  const { holds, tight } = contactsOf(pair, places, settled);
  return {
    proud: places.reduce((most, p) => Math.max(most, heightAt(pair, settled, p.x, p.y)), settled.height),
    level,
    give: GIVE / Math.min(pair.pocket.real.t, pair.plug.real.t),
    seat: settled,
    holds,
    tight,
    rim,
    worstGap: widest(rim),
    glueGap: { face: pair.input.pocketFlat - pair.input.plugStart + settled.height },
    sawGap: sawGap(pair, places, settled),
  };
}

interface Pressed extends Rest {
  /** How high it stands when it is held level and goes straight down, mm. */
  readonly level: number;
  readonly rim: readonly GapAt[];
}

/** Where the plug comes to rest and what then stays open at the rim, without what holds it. */
export function pressed(pair: Pair, { places: level, mouth }: Touching): Pressed {
  const rest = restOf(pair, level);
  return { ...rest, level: rest.places[0]?.lift ?? Number.NaN, rim: gapsAlong(pair, rest.settled, mouth) };
}

/** Every place worth asking, the highest lift first. */
export function placesOf(pair: Pair): readonly Place[] {
  const met = [...contactPlaces(pair, spacingFor(pair))].sort(highestFirst);
  return [...[...higherPlaces(pair, met, levelSeat(pair, met), MOST_HILLS)].sort(highestFirst), ...met];
}

interface Rest {
  readonly settled: Seat;
  /** The places that tell it, the highest lift first. */
  readonly places: readonly Place[];
}

/**
 * Where the plug rests, and the places that tell it: once it has moved, it may be held higher between those that
 * were asked. What is found there lifts it; it is not let settle again, which would gain a hundredth of a millimetre
 * at most and cost as much as the whole search.
 */
function restOf(pair: Pair, level: readonly Place[]): Rest {
  const settled = settle(pair, level);
  const higher = hasMoved(settled) ? higherPlaces(pair, level, settled, FEW_HILLS) : [];
  if (higher.length === 0) return { settled, places: level };
  const places = [...level, ...higher].sort(highestFirst);
  return { settled: { ...settled, height: highestHold(pair, places, settled).hold }, places };
}

const hasMoved = ({ dx, dy, turn, tiltX, tiltY }: Seat): boolean =>
  [dx, dy, turn, tiltX, tiltY].some((v) => v !== 0);

function highestFirst(a: Place, b: Place): number {
  return b.lift - a.lift || a.x - b.x || a.y - b.y;
}

/** How far apart the outlines are asked, mm. */
function spacingFor(pair: Pair): number {
  const length = outlineLength(pair.plugTree) + outlineLength(pair.pocketTree);
  return Math.min(COARSEST, Math.max(FINEST, length / SPOTS));
}

function outlineLength(tree: SegmentTree): number {
  let sum = 0;
  for (let i = 0; i < tree.count; i++) sum += tree.lengthOf(i);
  return sum;
}

export function widest(rim: readonly GapAt[]): GapAt | undefined {
  return rim.reduce<GapAt | undefined>(
    (worst, g) => (worst === undefined || g.gap > worst.gap ? g : worst),
    undefined,
  );
}

function sawGap(pair: Pair, places: readonly Place[], s: Seat): Fit['sawGap'] {
  const wide = pair.input.plugFlat - pair.input.pocketStart + s.height;
  const lands = places.filter((p) => p.feature === 'land');
  const { hold, at } = highestHold(pair, lands, s, s.height - wide);
  return { wide, least: s.height - hold, at: at === undefined ? undefined : [at.x, at.y] };
}
