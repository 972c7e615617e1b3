import type { Point } from '../geometry/shapes.ts';
import type { Pair, Seat } from './fit.ts';
import type { Place } from './seat-places.ts';

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
  const [vx, vy] = sideways(pair, s, p.x, p.y, depthOf(pair, p));
  const other =
    p.rides === 'plug' ? pair.pocket.depth(p.x + vx, p.y + vy) : pair.plug.depth(p.x - vx, p.y - vy);
  const tilt = s.tiltX * (p.x - pair.middle[0]) + s.tiltY * (p.y - pair.middle[1]);
  return pair.mating - p.own - other - tilt;
}

export function depthOf(pair: Pair, p: Place): number {
  return p.rides === 'plug' ? pair.mating - p.own : p.own;
}
