import { subtract } from '../geometry/combine.ts';
import { grow, shrink } from '../geometry/offset.ts';
import { area } from '../geometry/region.ts';
import { perimeter } from '../geometry/ring.ts';
import type { Region } from '../geometry/shapes.ts';
import { levelArea, volumeBetween } from './glue-volume.ts';

/**
 * One side of the work to be cleared. `wood`: what is to be cut away at the line where the outline is drawn (the
 * pocket's outline, or for a plug the frame round it with the plug's outline as holes). Depths in mm from the stock's
 * face: the outline lies at `start`, the flat `flat` below. `taper`: tan of half the V-bit's angle; `tip`: half its
 * flat, mm.
 */
export interface ToClear {
  readonly wood: Region;
  readonly start: number;
  readonly flat: number;
  readonly taper: number;
  readonly tip: number;
}

export interface Clearing {
  /** What the clearing bit takes, seen from above. */
  readonly region: Region;
  /** Its area, mm2; 0 when the bit fits nowhere. */
  readonly area: number;
  /** How deep it may go, mm from the stock's face: start + flat. */
  readonly depth: number;
  /** Wood it takes, and what it leaves for the V-bit, mm3. */
  readonly cleared: number;
  readonly left: number;
}

/**
 * Where an end mill of `diameter` mm at full depth never touches the sloping wall: its centre keeps flat x taper +
 * diameter / 2 off the outline. Measured there, less of the wall is touched at any lesser depth.
 */
export function clearing(side: ToClear, diameter: number): Clearing {
  const { wood, start, flat, taper } = side;
  const region = grow(shrink(wood, flat * taper + diameter / 2), diameter / 2);
  const cleared = area(region) * (start + flat);
  return { region, area: area(region), depth: start + flat, cleared, left: volume(side) - cleared };
}

/** All wood one side loses, from the stock's face to the flat, mm3 (see glue-volume.ts for how exact). */
export function volume({ wood, start, flat, taper, tip }: ToClear): number {
  return volumeBetween((depth) => levelArea(wood, depth * taper, tip), -start, flat);
}

/** How a bit is driven: mm/min along the path, mm deeper each pass, mm between neighbouring paths. */
export interface Feed {
  readonly feed: number;
  readonly passDepth: number;
  readonly stepover: number;
}

/**
 * A first estimate of the clearing time, min: the cleared area laid out in paths one stepover apart, once for every
 * pass. Lifts, plunges and corners come on top: expect more, not less.
 */
export function clearingTime(
  { area: cleared, depth }: Clearing,
  { feed, passDepth, stepover }: Feed,
): number {
  return ((cleared / stepover) * Math.ceil(depth / passDepth - 1e-9)) / feed;
}

/**
 * The same for the V-bit, min: once round every outline for each pass, and the wood that the clearing bit left on the
 * flat floor in paths one stepover apart. Without a clearing bit give no `cleared`: then the whole floor is its work.
 */
export function carvingTime(
  side: ToClear,
  cleared: Region | undefined,
  { feed, passDepth, stepover }: Feed,
): number {
  const passes = Math.ceil((side.start + side.flat) / passDepth - 1e-9);
  const round = side.wood.rings.reduce((sum, ring) => sum + perimeter(ring), 0);
  const floor = shrink(side.wood, side.flat * side.taper);
  const rest = cleared ? area(subtract(floor, cleared)) : area(floor);
  return (round * passes + rest / stepover) / feed;
}
