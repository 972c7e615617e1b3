import type { Spot, TouchingDisc } from './cut-disc.ts';
import type { Pair } from './fit.ts';

/**
 * A place where plug and board may meet first. `rides` tells whether it is a feature of the plug (a ridge, the edge
 * of its face) or of the board (the mouth, a spike, a land): it moves with that part.
 */
export interface Place {
  readonly x: number;
  readonly y: number;
  readonly rides: 'plug' | 'board';
  readonly feature: 'ridge' | 'face' | 'mouth' | 'land' | 'spike';
  /** Depth of the own part's cut here, mm; it stays the same when the plug moves. */
  readonly own: number;
  /** How high this place alone holds a level plug, mm. */
  readonly lift: number;
  /** Direction from the outline into the plug (or into the board), for telling walls apart. */
  readonly nx: number;
  readonly ny: number;
  /** Half the local width, mm; Infinity where it is wider than anything here asks. */
  readonly half: number;
  /** Angle between the walls: the corner's own, 0 for parallel walls; undefined where there is only one wall. */
  readonly angle: number | undefined;
}

/** A place of the plug or of the board, with what the spot and the disc that led to it tell of its walls. */
export function placeOn(
  rides: Place['rides'],
  pair: Pair,
  x: number,
  y: number,
  feature: Place['feature'],
  spot: Spot,
  disc: TouchingDisc | undefined,
): Place {
  const [part, other] = rides === 'plug' ? [pair.plug, pair.pocket] : [pair.pocket, pair.plug];
  const own = part.depth(x, y);
  const lift = pair.mating - own - other.depth(x, y);
  return { x, y, rides, feature, own, lift, nx: spot.nx, ny: spot.ny, ...shapeOf(spot, disc) };
}

/**
 * Half width, and the angle between the walls from the two touching points: 0 when they face each other. Without a
 * disc the corner's own.
 */
function shapeOf(spot: Spot, disc: TouchingDisc | undefined): { half: number; angle: number | undefined } {
  if (disc === undefined) return { half: 0, angle: Math.PI - spot.turn };
  if (disc.other === undefined) return { half: Number.POSITIVE_INFINITY, angle: undefined };
  const ux = spot.x - disc.x;
  const uy = spot.y - disc.y;
  const vx = disc.other.x - disc.x;
  const vy = disc.other.y - disc.y;
  const between = Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  return { half: disc.r, angle: Math.PI - between };
}
