import { hypot } from '../geometry/hypot.ts';
import { SegmentTree } from '../geometry/nearest.ts';
import { shrink } from '../geometry/offset.ts';
import { boxOf, perimeter } from '../geometry/ring.ts';
import type { Box, Region } from '../geometry/shapes.ts';
import type { Bit } from '../job/schema.ts';
import { largestNearby, type Spot, spotsAlong, type TouchingDisc, touchingDisc } from './cut-disc.ts';
import { signedRoom } from './cut-side.ts';

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

/** Spots along the outline are this share of the radius apart, but no more of them in all; and so many are climbed from. */
const SPACING = 0.25;
const MOST_SPOTS = 20_000;
const STARTS = 24;

/** The step by which a radius found is tried for a larger one, mm; twice the arc error of the offset it is tried with. */
const BEYOND = 0.001;

/**
 * The largest inscribed radius of a region, or `most` when it is larger; never more than 2 micrometres too small. Wide designs show a disc
 * at one of a few places inside; else the largest discs along the outline are slid to where they are largest.
 */
export function largestRadiusUpTo(region: Region, most: number): number {
  if (most <= 0) return 0;
  const tree = new SegmentTree(region.rings);
  if (hasRoom(tree, boxOf(region.rings), most)) return most;
  const length = region.rings.reduce((sum, ring) => sum + perimeter(ring), 0);
  // A first look tells how wide the strokes are, and so how near together the spots must lie.
  const wide = discsEvery(tree, Math.max(most, length / MOST_SPOTS), most)[0]?.disc.r ?? 0;
  if (wide >= most) return most;
  const starts = discsEvery(tree, Math.max(SPACING * wide, length / MOST_SPOTS), most);
  const climbed: TouchingDisc[] = [];
  let largest = 0;
  for (const { spot, disc } of starts) {
    if (climbed.length === STARTS) break;
    // Discs that overlap deeply lead to the same place.
    if (climbed.some((other) => hypot(other.x - disc.x, other.y - disc.y) < disc.r / 2)) continue;
    climbed.push(disc);
    largest = Math.max(largest, largestNearby(tree, 1, disc, spot.x, spot.y, most).r);
  }
  if (largest >= most) return most;
  // A wider place may lie between the spots. What is left when the region is drawn in by a little more than the
  // radius found has a radius of its own, and the two add up (erosions by discs do).
  const drawnIn = largest + BEYOND;
  const rest = shrink(region, drawnIn);
  return rest.rings.length === 0 ? largest : drawnIn + largestRadiusUpTo(rest, most - drawnIn);
}

interface Start {
  readonly spot: Spot;
  readonly disc: TouchingDisc;
}

/** The discs inside that touch the outline at spots so far apart, the largest first. */
function discsEvery(tree: SegmentTree, spacing: number, most: number): readonly Start[] {
  return spotsAlong(tree, 1, spacing, Number.POSITIVE_INFINITY)
    .map((spot) => ({
      spot,
      disc: touchingDisc(tree, spot.segment, spot.x, spot.y, spot.nx, spot.ny, most),
    }))
    .sort((a, b) => b.disc.r - a.disc.r);
}

/** Places across the box, and half as many each time before. */
const MOST_ACROSS = 32;

/** Whether one of the places of a grid, coarse ones first, has so much room round it; `false` proves nothing. */
function hasRoom(tree: SegmentTree, box: Box, radius: number): boolean {
  for (let across = 2; across <= MOST_ACROSS; across *= 2) {
    for (let k = 0; k < across * across; k++) {
      const x = box.minX + ((0.5 + (k % across)) / across) * (box.maxX - box.minX);
      const y = box.minY + ((0.5 + Math.floor(k / across)) / across) * (box.maxY - box.minY);
      if (signedRoom(tree, 1, x, y) >= radius) return true;
    }
  }
  return false;
}
