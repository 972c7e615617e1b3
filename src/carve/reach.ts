import { SegmentTree } from '../geometry/nearest.ts';
import { shrink } from '../geometry/offset.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Region } from '../geometry/shapes.ts';
import type { Bit } from '../job/schema.ts';
import { touchingDisc } from './cut-disc.ts';
import { leftNormal } from './cut-side.ts';

/**
 * The width at which the sloping walls of a bit begin, mm: its tip flat, or for a ball tip of radius q the width
 * 2 q cos(h) where the ball passes into the cone (both share the tangent there; h = half the included angle).
 * A stroke narrower than this gets no sloping wall. Undefined when the job does not know the tip.
 */
export function tipWidth(bit: Bit): number | undefined {
  if (bit.tipFlat !== undefined) return bit.tipFlat;
  if (bit.tipRadius !== undefined) return 2 * bit.tipRadius * Math.cos(bit.angle / 2);
  return undefined;
}

/** Where the cone of a ball-tipped bit, carried on to a point, would end: this far below the ball's end, mm. */
function pointBelowBall(radius: number, halfAngle: number): number {
  return radius / Math.sin(halfAngle) - radius;
}

/** Half the width of the bit at a height above its end, mm. */
function halfWidthAt(bit: Bit, height: number): number {
  const half = bit.angle / 2;
  if (bit.tipRadius !== undefined) {
    const q = bit.tipRadius;
    if (height < q * (1 - Math.sin(half))) return Math.sqrt(Math.max(0, height * (2 * q - height)));
    return (height + pointBelowBall(q, half)) * Math.tan(half);
  }
  return (bit.tipFlat ?? 0) / 2 + height * Math.tan(half);
}

/** What a side asks of its bit: how deep it goes and how wide it must be where it meets the face of the piece. */
export interface Demand {
  readonly depth: number;
  readonly diameter: number;
}

/**
 * Diameter of the pocket's bit at the board's face: twice min(R, half width at the full depth), R the largest
 * inscribed radius of the strokes (in a stroke that never reaches the floor the bit stands no deeper than the
 * stroke lets it).
 */
export function pocketDemand(pocket: Region, bit: Bit, startDepth: number, flatDepth: number): Demand {
  const depth = startDepth + flatDepth;
  const wide = halfWidthAt(bit, flatDepth);
  const half = largestRadiusUpTo(pocket, wide);
  // The start depth's wood above the outline widens the cut by its slope.
  return { depth, diameter: 2 * (half + startDepth * Math.tan(bit.angle / 2)) };
}

/**
 * The plug's bit cuts start + flat deep from the blank's own face, beside a wall that leans away from it:
 * it needs the half width at the flat depth (or half the widest land, when that is less) and, above it, the slope
 * over the start depth, limited by the largest inscribed radius of the plug itself.
 */
export function plugDemand(plug: Region, bit: Bit, startDepth: number, flatDepth: number): Demand {
  const slope = startDepth * Math.tan(bit.angle / 2);
  // The board around the plug is open to the blank's edge, so the land is as wide as the bit wants it.
  const half = halfWidthAt(bit, flatDepth) + largestRadiusUpTo(plug, slope);
  return { depth: startDepth + flatDepth, diameter: 2 * half };
}

/** The largest inscribed radius of a region, or `most` when it is larger; within a micrometre, never too small. */
function largestRadiusUpTo(region: Region, most: number): number {
  if (region.rings.length === 0 || most <= 0) return 0;
  if (holdsDisc(region, most) || shrink(region, most).rings.length > 0) return most;
  let fits = 0;
  const box = boxOf(region.rings);
  let fails = Math.min(most, Math.min(box.maxX - box.minX, box.maxY - box.minY) / 2 + 1e-6);
  while (fails - fits > 0.001) {
    const middle = (fits + fails) / 2;
    if (shrink(region, middle).rings.length > 0) fits = middle;
    else fails = middle;
  }
  return fails;
}

/** Edges looked at for a disc: wide designs show one at once. */
const MOST_EDGES = 64;

/** Whether a disc of that radius is seen to fit against the middle of one of a few edges; `false` proves nothing. */
function holdsDisc(region: Region, radius: number): boolean {
  const tree = new SegmentTree(region.rings);
  const stride = Math.max(1, Math.floor(tree.count / MOST_EDGES));
  for (let i = 0; i < tree.count; i += stride) {
    const [ax, ay, bx, by] = tree.coords.subarray(4 * i, 4 * i + 4) as unknown as Four;
    const [nx, ny] = leftNormal(tree, i);
    if (nx === 0 && ny === 0) continue;
    if (touchingDisc(tree, i, (ax + bx) / 2, (ay + by) / 2, nx, ny, radius).r === radius) return true;
  }
  return false;
}

type Four = readonly [number, number, number, number];
