import type { Pair, Seat } from '../carve/fit.ts';
import { contactPlaces, type Place } from '../carve/seat-places.ts';
import { heightAt, highestHold, sideways } from '../carve/seat-pose.ts';
import { levelSeat, settle } from '../carve/seat-settle.ts';
import type { Point } from '../geometry/shapes.ts';
import { armOf, type Errors, pairWith } from './why-errors.ts';
import { pointOf, type Site } from './why-sites.ts';

/** How a test fit comes out with certain errors: all that anybody could measure hangs on this. */
export interface Outcome {
  readonly errors: Errors;
  /** How far the plug stands proud at its middle, mm, and its rise a mm along x and y. */
  readonly height: number;
  readonly tiltX: number;
  readonly tiltY: number;
  /** Opening at each site, mm. */
  readonly gaps: Float64Array;
  /** How far an edge goes down when it is pressed, mm; only when it was asked for. */
  readonly rock: number;
  /** How proud the middle stands with the floor clean, and once pressed hard under a caul, mm. */
  readonly cleaned: number;
  readonly clamped: number;
  /** How much longer than meant the pocket's mouth and the plug's face are, along x and y, mm. */
  readonly pocketLonger: Point;
  readonly plugLonger: Point;
}

export interface TrialSettings {
  readonly pressed: 'hand' | 'caul';
  readonly sites: readonly Site[];
  /** Whether rocking is wanted: it asks for four more seats. */
  readonly rocking: boolean;
}

/** Contact places are looked for at about this many spots of the outlines. */
const SPOTS = 700;
const FINEST = 0.4;

/** Cuts the pair with the errors, lets the plug into its pocket by the model of the dry fit, and measures it. */
export function trial(pair: Pair, errors: Errors, settings: TrialSettings): Outcome {
  const cut = pairWith(pair, errors);
  const places = placesIn(cut);
  const pose = poseOf(cut, places, errors, settings.pressed);
  const { pocketLonger, plugLonger } = longerBy(pair, cut);
  return {
    errors,
    height: pose.height,
    tiltX: pose.tiltX,
    tiltY: pose.tiltY,
    gaps: Float64Array.from(settings.sites, ({ at }) => openingAt(cut, pose, at)),
    rock: settings.rocking ? rockOf(cut, places, pose) : Number.NaN,
    cleaned: errors.filling === 0 ? pose.height : heightCleaned(pair, errors, settings.pressed),
    clamped: isHeldOff(errors) ? pressedHeight(cut, places, settings.pressed) : pose.height,
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

/** The pose it takes: its own seat or a level one, unless something holds it elsewhere. */
function poseOf(cut: Pair, places: readonly Place[], errors: Errors, pressed: 'hand' | 'caul'): Seat {
  const own = shifted(errors) ? heldAside(cut, places, errors) : seatOf(cut, places, pressed);
  const { notHome, crookedX, crookedY } = errors;
  if (notHome === 0 && crookedX === 0 && crookedY === 0) return own;
  // Crooked: the side that is home stays where it was, so the middle rises by half of the whole rise.
  const rise = Math.hypot(crookedX, crookedY) * armOf(cut);
  return {
    ...own,
    height: own.height + notHome + rise,
    tiltX: own.tiltX + crookedX,
    tiltY: own.tiltY + crookedY,
  };
}

function seatOf(cut: Pair, places: readonly Place[], pressed: 'hand' | 'caul'): Seat {
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

function pressedHeight(cut: Pair, places: readonly Place[], pressed: 'hand' | 'caul'): number {
  return seatOf(cut, places, pressed).height;
}

function heightCleaned(pair: Pair, errors: Errors, pressed: 'hand' | 'caul'): number {
  const clean = { ...errors, filling: 0 };
  const cut = pairWith(pair, clean);
  return poseOf(cut, placesIn(cut), clean, pressed).height;
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

/** The most that one of four edges goes down when it is pressed, mm. */
function rockOf(cut: Pair, places: readonly Place[], pose: Seat): number {
  const sides = (['left', 'right', 'top', 'bottom'] as const).map((word) => pointOf(cut, word));
  return sides.reduce((most, middle) => {
    const pressed = settle({ ...cut, middle }, places);
    return Math.max(most, heightAt(cut, pose, middle[0], middle[1]) - pressed.height);
  }, 0);
}

/** How much longer the pocket's mouth and the plug's face are than with no errors, mm, by the walls at the outline's four ends. */
function longerBy(pair: Pair, cut: Pair): { readonly pocketLonger: Point; readonly plugLonger: Point } {
  const ends = endsOf(pair.pocketTree.coords);
  const out = (side: 'pocket' | 'plug') =>
    ends.map(([x, y]) => {
      const [now, before] = [cut[side].wall(x, y), pair[side].wall(x, y)];
      const { t } = cut[side].real;
      const further = (now * t - before * pair[side].real.t) * (side === 'pocket' ? 1 : -1);
      return Number.isFinite(further) ? further : 0;
    }) as [number, number, number, number];
  const [l, r, a, b] = out('pocket');
  const [pl, pr, pa, pb] = out('plug');
  return { pocketLonger: [l + r, a + b], plugLonger: [pl + pr, pa + pb] };
}

/** Leftmost, rightmost, topmost and lowest points of an outline. */
function endsOf(coords: Float64Array): readonly Point[] {
  const ends: Point[] = [];
  const key = [
    (x: number) => -x,
    (x: number) => x,
    (_: number, y: number) => -y,
    (_: number, y: number) => y,
  ];
  for (const far of key) {
    let best: Point = [coords[0] as number, coords[1] as number];
    for (let q = 0; q < coords.length; q += 2) {
      const [x, y] = [coords[q] as number, coords[q + 1] as number];
      if (far(x, y) > far(best[0], best[1])) best = [x, y];
    }
    ends.push(best);
  }
  return ends;
}
