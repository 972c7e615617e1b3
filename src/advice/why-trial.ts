import type { Pair, Seat } from '../carve/fit.ts';
import type { Place } from '../carve/seat-place.ts';
import { contactPlaces } from '../carve/seat-places.ts';
import { heightAt, highestHold, sideways } from '../carve/seat-pose.ts';
import { levelSeat, settle } from '../carve/seat-settle.ts';
import type { Point } from '../geometry/shapes.ts';
import { armOf, type Errors, pairWith } from './why-errors.ts';
import type { Site } from './why-sites.ts';
import { lengthAlong, type Span } from './why-spans.ts';

/** How far the plug stands proud at its middle, mm, and its rise a mm along x and y. */
export interface Lie {
  readonly height: number;
  readonly tiltX: number;
  readonly tiltY: number;
}

/** How a test fit comes out with certain errors: all that anybody could measure hangs on this. */
export interface Outcome extends Lie {
  readonly errors: Errors;
  /** Opening at each site, mm. */
  readonly gaps: Float64Array;
  /** How far an end of the plug goes down when it is pressed there, mm. */
  readonly rock: number;
  /** How proud the middle stands with the floor clean, mm. */
  readonly cleaned: number;
  /** How it lies once it is put in again and pressed hard. */
  readonly clamped: Lie;
  /** How much longer than meant the pocket's mouth and the plug's face are along each span, mm. */
  readonly pocketLonger: readonly number[];
  readonly plugLonger: readonly number[];
}

export type Pressed = 'hand' | 'caul';

export interface TrialSettings {
  readonly pressed: Pressed;
  readonly sites: readonly Site[];
  /** Whether rocking is asked for: it takes as long as the rest. */
  readonly rocking: boolean;
  /** The ways in which lengths are measured. */
  readonly spans: readonly Span[];
}

/** Contact places are looked for at about this many spots of the outlines. */
const SPOTS = 400;
const FINEST = 0.4;
/** Share of the plug's box that counts as an end when it is pressed there. */
const END = 0.08;
/** A plug that tips by more than this, a mm along, lies beside its pocket. */
const MOST_TILT = 0.02;
/** How a tilt is looked for: steps to all eight sides, and what a step must bring, mm. */
const WIDEST_STEP = 0.004;
const FINEST_STEP = 1e-4;
const WORTH_A_STEP = 1e-3;
/** So many places that ended a try are asked first at the next. */
const STRICT = 8;
const AROUND: readonly Point[] = [-1, 0, 1].flatMap((dx) =>
  [-1, 0, 1].filter((dy) => dx !== 0 || dy !== 0).map((dy): Point => [dx, dy]),
);

export type Trial = (pair: Pair, errors: Errors, settings: TrialSettings) => Outcome;

/** Cuts the pair with the errors, lets the plug into its pocket by the model of the dry fit, and measures it. */
export function trial(pair: Pair, errors: Errors, settings: TrialSettings): Outcome {
  const cut = pairWith(pair, errors);
  const places = placesIn(cut);
  const own = ownSeat(cut, places, errors, settings.pressed);
  const pose = heldUp(cut, own, errors);
  const { pocketLonger, plugLonger } = longerBy(pair, cut, errors, settings.spans);
  return {
    errors,
    height: pose.height,
    tiltX: pose.tiltX,
    tiltY: pose.tiltY,
    gaps: Float64Array.from(settings.sites, ({ at }) => openingAt(cut, pose, at)),
    rock: settings.rocking ? rockOf(cut, places, own) : Number.NaN,
    cleaned: errors.filling === 0 ? pose.height : heightCleaned(pair, errors, settings.pressed),
    clamped: isHeldOff(errors) ? seatOf(cut, places, settings.pressed) : pose,
    pocketLonger,
    plugLonger,
  };
}

function placesIn(cut: Pair): readonly Place[] {
  const length = (coords: Float64Array): number => {
    let sum = 0;
    for (let q = 0; q < coords.length; q += 4)
      sum += Math.hypot(
        (coords[q + 2] as number) - (coords[q] as number),
        (coords[q + 3] as number) - (coords[q + 1] as number),
      );
    return sum;
  };
  const spacing = Math.max(FINEST, (length(cut.plugTree.coords) + length(cut.pocketTree.coords)) / SPOTS);
  return [...contactPlaces(cut, spacing)].sort((a, b) => b.lift - a.lift || a.x - b.x || a.y - b.y);
}

/** Where it finds its seat: its own or a level one, unless something holds it aside. */
function ownSeat(cut: Pair, places: readonly Place[], errors: Errors, pressed: Pressed): Seat {
  return shifted(errors) ? heldAside(cut, places, errors) : seatOf(cut, places, pressed);
}

/** Not pressed home. Crooked: the side that is home stays where it was, so the middle rises by half the whole rise. */
function heldUp(cut: Pair, own: Seat, { notHome, crookedX, crookedY }: Errors): Seat {
  const rise = Math.hypot(crookedX, crookedY) * armOf(cut);
  return {
    ...own,
    height: own.height + notHome + rise,
    tiltX: own.tiltX + crookedX,
    tiltY: own.tiltY + crookedY,
  };
}

function seatOf(cut: Pair, places: readonly Place[], pressed: Pressed): Seat {
  return pressed === 'hand' ? settle(cut, places) : levelSeat(cut, places);
}

const shifted = ({ shiftX, shiftY, turn }: Errors): boolean => shiftX !== 0 || shiftY !== 0 || turn !== 0;

const isHeldOff = (errors: Errors): boolean =>
  shifted(errors) || errors.notHome !== 0 || errors.crookedX !== 0 || errors.crookedY !== 0;

/** Held level and aside, as by a pin, a pinched edge or a turn of the hand: it goes down until it touches. */
function heldAside(cut: Pair, places: readonly Place[], { shiftX, shiftY, turn }: Errors): Seat {
  const aside = { ...levelSeat(cut, places), dx: shiftX, dy: shiftY, turn };
  return { ...aside, height: highestHold(cut, places, aside).hold };
}

function heightCleaned(pair: Pair, errors: Errors, pressed: Pressed): number {
  const clean = { ...errors, filling: 0 };
  const cut = pairWith(pair, clean);
  return heldUp(cut, ownSeat(cut, placesIn(cut), clean, pressed), clean).height;
}

/**
 * Opening at a point of the drawn outline, mm in the board's face: from the pocket's wall there to the plug's, each
 * taken along its own slope. For plain walls; corners open further.
 */
export function openingAt(cut: Pair, pose: Seat, [x, y]: Point): number {
  const [vx, vy] = sideways(cut, pose, x, y, 0);
  const mouth = cut.pocket.wall(x, y) * cut.pocket.real.t;
  const foot = (cut.plug.wall(x - vx, y - vy) - cut.mating + heightAt(cut, pose, x, y)) * cut.plug.real.t;
  const open = mouth + foot;
  return Number.isFinite(open) ? Math.max(0, open) : 0;
}

/** The most that an end of the plug goes down when it is pressed there, mm: it tips until its holds bear it. */
function rockOf(cut: Pair, places: readonly Place[], own: Seat): number {
  const { minX, maxX, minY, maxY } = cut.box;
  const [ex, ey] = [(maxX - minX) * END, (maxY - minY) * END];
  const ends: readonly ((p: Place) => boolean)[] = [
    ({ x }) => x < minX + ex,
    ({ x }) => x > maxX - ex,
    ({ y }) => y < minY + ey,
    ({ y }) => y > maxY - ey,
  ];
  return ends.reduce((most, isThere) => {
    const there = places.filter(isThere);
    if (there.length === 0) return most;
    const x = there.reduce((sum, p) => sum + p.x, 0) / there.length;
    const y = there.reduce((sum, p) => sum + p.y, 0) / there.length;
    return Math.max(most, heightAt(cut, own, x, y) - lowestAt(cut, places, own, [x, y]));
  }, 0);
}

/**
 * The lowest that the plug lies at a point however it is tipped, mm: tilts are tried closer and closer. Tipped it
 * swings aside at its depth as well, so its holds do not stay what they are in its seat. A tilt is left as soon as one
 * place holds the point too high; those that did so last are asked first, for they mostly do again.
 */
function lowestAt(cut: Pair, places: readonly Place[], own: Seat, [x, y]: Point): number {
  let [tiltX, tiltY, least] = [own.tiltX, own.tiltY, heightAt(cut, own, x, y)];
  let strict: readonly Place[] = [];
  /** How low the point lies with the plug tipped so; undefined where that is no lower than `below`. */
  const lowerAt = (pose: Seat, below: number): number | undefined => {
    const enough = below - heightAt(cut, { ...pose, height: 0 }, x, y);
    const known = highestHold(cut, strict, pose, undefined, false, enough);
    if (known.hold > enough) return undefined;
    const { hold, at } = highestHold(cut, places, pose, known.hold, false, enough);
    if (at !== undefined) strict = [at, ...strict.slice(0, STRICT - 1)];
    const height = heightAt(cut, { ...pose, height: hold }, x, y);
    return height < below ? height : undefined;
  };
  for (let step = WIDEST_STEP; step > FINEST_STEP; ) {
    let best: Seat | undefined;
    let lowest = least - WORTH_A_STEP;
    for (const [dx, dy] of AROUND) {
      const pose = { ...own, tiltX: tiltX + dx * step, tiltY: tiltY + dy * step };
      if (Math.hypot(pose.tiltX, pose.tiltY) >= MOST_TILT) continue;
      const height = lowerAt(pose, lowest);
      if (height !== undefined) [best, lowest] = [pose, height];
    }
    if (best === undefined) step /= 2;
    else [tiltX, tiltY, least] = [best.tiltX, best.tiltY, lowest];
  }
  return least;
}

/**
 * How much longer the pocket's mouth and the plug's face are than with no errors, mm: what the drawn outlines are
 * larger by, and what the bit and the depths add at both ends of each span.
 */
function longerBy(
  pair: Pair,
  cut: Pair,
  errors: Errors,
  spans: TrialSettings['spans'],
): { readonly pocketLonger: readonly number[]; readonly plugLonger: readonly number[] } {
  const asDrawn = sameOutlines(errors) ? cut : pairWith(pair, { ...errors, ...DRAWN });
  const longer = (side: 'pocket' | 'plug'): readonly number[] =>
    spans.map(({ way, pointed }) => {
      const further = endsOf(pair[`${side}Tree`].coords, way).reduce((sum, [x, y], k) => {
        const by =
          asDrawn[side].wall(x, y) * asDrawn[side].real.t - pair[side].wall(x, y) * pair[side].real.t;
        if (!Number.isFinite(by)) return sum;
        // A mouth that grows goes round its corners; all else keeps them sharp.
        const round = side === 'pocket' && by > 0;
        return sum + (side === 'pocket' ? by : -by) * (round ? 1 : (pointed[k] as number));
      }, 0);
      return further + lengthAlong(cut.input[side], way) - lengthAlong(pair.input[side], way);
    });
  return { pocketLonger: longer('pocket'), plugLonger: longer('plug') };
}

const DRAWN = { pocketScale: 0, plugScale: 0, shear: 0, pocketGrowth: 0, plugGrowth: 0 } as const;

const sameOutlines = (errors: Errors): boolean =>
  (Object.keys(DRAWN) as (keyof typeof DRAWN)[]).every((key) => errors[key] === 0);

/** The points of an outline that lie farthest back and farthest on along a way. */
function endsOf(coords: Float64Array, [ux, uy]: Point): readonly Point[] {
  return [-1, 1].map((sign) => {
    let best: Point = [coords[0] as number, coords[1] as number];
    for (let q = 0; q < coords.length; q += 2) {
      const [x, y] = [coords[q] as number, coords[q + 1] as number];
      if (sign * (x * ux + y * uy) > sign * (best[0] * ux + best[1] * uy)) best = [x, y];
    }
    return best;
  });
}
