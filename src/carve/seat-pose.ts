import { hypot } from '../geometry/hypot.ts';
import type { Point } from '../geometry/shapes.ts';
import type { Pair, Seat } from './fit.ts';
import type { Place } from './seat-place.ts';

/** Height of the seated plug above its right place at a point, mm. */
export function heightAt(pair: Pair, s: Seat, x: number, y: number): number {
  return s.height + s.tiltX * (x - pair.middle[0]) + s.tiltY * (y - pair.middle[1]);
}

/**
 * How far a point of the plug at a depth (mm below the board's face) moves sideways. A tilt swings it about the
 * face: rigid turning, not shearing.
 */
export function sideways(pair: Pair, s: Seat, x: number, y: number, depth: number): Point {
  return [
    s.dx - s.turn * (y - pair.middle[1]) + s.tiltX * depth,
    s.dy + s.turn * (x - pair.middle[0]) + s.tiltY * depth,
  ];
}

/** How high a place holds the plug at its middle, for a plug moved as told (its height does not matter). */
export function holdAt(pair: Pair, s: Seat, p: Place): number {
  const [vx, vy] = sideways(pair, s, p.x, p.y, depthOf(pair, s, p));
  if (vx === 0 && vy === 0) return p.lift - tiltRise(pair, s, p);
  const other =
    p.rides === 'plug' ? pair.pocket.depth(p.x + vx, p.y + vy) : pair.plug.depth(p.x - vx, p.y - vy);
  return pair.mating - p.own - other - tiltRise(pair, s, p);
}

function tiltRise(pair: Pair, s: Seat, p: Place): number {
  return s.tiltX * (p.x - pair.middle[0]) + s.tiltY * (p.y - pair.middle[1]);
}

/** How deep below the board's face the place is with the plug seated so, mm. */
export function depthOf(pair: Pair, s: Seat, p: Place): number {
  return p.rides === 'plug' ? pair.mating - p.own - heightAt(pair, s, p.x, p.y) : p.own;
}

/** A place and how high it holds a plug that has moved, mm. */
export interface Held {
  readonly place: Place;
  readonly hold: number;
}

/**
 * The highest hold of all places, and those that hold above `over`. Walls rise by 1/t at most, so a place whose
 * lift and motion cannot bring it that high is not asked: the answer is the same. `all`: every place above `over`
 * is wanted, else only the highest. Asking ends with a place that holds higher than `enough`.
 */
export function highestHold(
  pair: Pair,
  places: readonly Place[],
  s: Seat,
  over = Number.NEGATIVE_INFINITY,
  all = false,
  enough = Number.POSITIVE_INFINITY,
): { hold: number; at: Place | undefined; met: Held[] } {
  let hold = over;
  let at: Place | undefined;
  const met: Held[] = [];
  for (let n = 0; n < places.length; n++) {
    const p = places[n] as Place;
    const deep = depthOf(pair, s, p);
    const vx = s.dx - s.turn * (p.y - pair.middle[1]) + s.tiltX * deep;
    const vy = s.dy + s.turn * (p.x - pair.middle[0]) + s.tiltY * deep;
    const t = p.rides === 'plug' ? pair.pocket.real.t : pair.plug.real.t;
    if (p.lift + hypot(vx, vy) / t - tiltRise(pair, s, p) <= (all ? over : hold)) continue;
    const here = holdAt(pair, s, p);
    if (all && here > over) met.push({ place: p, hold: here });
    if (here > hold) {
      hold = here;
      at = p;
      if (hold > enough) break;
    }
  }
  return { hold, at, met };
}
