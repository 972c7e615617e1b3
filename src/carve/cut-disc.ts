import { hypot } from '../geometry/hypot.ts';
import type { SegmentTree } from '../geometry/nearest.ts';
import { leftNormal, neighbour, sideOf } from './cut-side.ts';

/** The largest disc that touches an outline at a given point from one side. */
export interface TouchingDisc {
  readonly x: number;
  readonly y: number;
  readonly r: number;
  /** Where it also touches; undefined when the limit stopped it first. */
  readonly other: { readonly segment: number; readonly x: number; readonly y: number } | undefined;
}

const NOTHING = 1e-9;

/**
 * Grows a disc from a point of the outline along the unit direction n until it touches another place, or until
 * its radius is `limit` (mm). Each step takes the exact disc through the first point and tangent to the segment
 * found in the way; it shrinks every time, so it ends.
 */
export function touchingDisc(
  tree: SegmentTree,
  own: number,
  px: number,
  py: number,
  nx: number,
  ny: number,
  limit: number,
): TouchingDisc {
  let r = limit;
  let met = -1;
  let mx = 0;
  let my = 0;
  const next: Tangent = { r: 0, x: 0, y: 0 };
  for (;;) {
    const hit = tree.nearest(px + r * nx, py + r * ny, Math.max(0, r - NOTHING) ** 2, own);
    if (hit < 0) break;
    tangentTo(tree, hit, px, py, nx, ny, next);
    if (next.r >= r) break;
    r = next.r;
    met = hit;
    mx = next.x;
    my = next.y;
  }
  const other = met >= 0 ? { segment: met, x: mx, y: my } : undefined;
  return { x: px + r * nx, y: py + r * ny, r, other };
}

/** A disc's radius and where it touches. */
interface Tangent {
  r: number;
  x: number;
  y: number;
}

/**
 * Sets `to` to the disc through p with its centre on the ray p + s n that touches a segment; a radius without end when
 * there is none. Written out without new records, for it is asked so often.
 */
function tangentTo(
  tree: SegmentTree,
  segment: number,
  px: number,
  py: number,
  nx: number,
  ny: number,
  to: Tangent,
): void {
  const a = tree.coords;
  const q = 4 * segment;
  const ax = a[q] as number;
  const ay = a[q + 1] as number;
  const bx = a[q + 2] as number;
  const by = a[q + 3] as number;
  to.r = Number.POSITIVE_INFINITY;
  // A segment of no length gives no numbers here, and then only its point counts.
  const length = tree.lengthOf(segment);
  const dx = (bx - ax) / length;
  const dy = (by - ay) / length;
  // Nothing to the last bit where p is either end: the edges that meet in p are not in the way.
  const signed = ((py - ay) * (bx - ax) - (px - ax) * (by - ay)) / length;
  const closing = 1 - (nx * -dy + ny * dx) * Math.sign(signed);
  if (signed !== 0 && closing > 1e-14) {
    const r = Math.abs(signed) / closing;
    const along = (px + r * nx - ax) * dx + (py + r * ny - ay) * dy;
    if (along >= 0 && along <= length) {
      to.r = r;
      to.x = ax + along * dx;
      to.y = ay + along * dy;
    }
  }
  tangentThrough(ax, ay, px, py, nx, ny, to);
  tangentThrough(bx, by, px, py, nx, ny, to);
}

/** The same for the disc through a point, where that is smaller. */
function tangentThrough(
  x: number,
  y: number,
  px: number,
  py: number,
  nx: number,
  ny: number,
  to: Tangent,
): void {
  const along = (x - px) * nx + (y - py) * ny;
  if (along <= 0) return;
  const r = ((x - px) ** 2 + (y - py) ** 2) / (2 * along);
  if (r >= to.r) return;
  to.r = r;
  to.x = x;
  to.y = y;
}

/**
 * Slides a disc uphill along the line of discs that touch the outline twice, to the locally largest one or until
 * its radius passes `enough`. Answers where it came to rest.
 */
export function largestNearby(
  tree: SegmentTree,
  side: 1 | -1,
  from: TouchingDisc,
  px: number,
  py: number,
  enough: number,
): TouchingDisc {
  let disc = from;
  let first = { x: px, y: py };
  let step = from.r / 4;
  for (let n = 0; n < 60 && step > 1e-6 && disc.r < enough && disc.other !== undefined; n++) {
    const ux = 2 * disc.x - first.x - disc.other.x;
    const uy = 2 * disc.y - first.y - disc.other.y;
    const length = hypot(ux, uy);
    if (length < 1e-6 * disc.r) break;
    const next = discRound(tree, side, disc.x + (step * ux) / length, disc.y + (step * uy) / length, enough);
    if (next !== undefined && next.disc.r > disc.r) {
      disc = next.disc;
      first = next.foot;
      step *= 1.5;
    } else step /= 3;
  }
  return disc;
}

/** The touching disc on the ray from the outline's nearest point through x,y. */
function discRound(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  limit: number,
): { disc: TouchingDisc; foot: { x: number; y: number } } | undefined {
  const i = tree.nearest(x, y);
  if (sideOf(tree, i, x, y) * side <= 0) return undefined;
  const foot: [number, number] = [0, 0];
  tree.foot(i, x, y, foot);
  const d = hypot(x - foot[0], y - foot[1]);
  const disc = touchingDisc(tree, i, foot[0], foot[1], (x - foot[0]) / d, (y - foot[1]) / d, limit);
  return { disc, foot: { x: foot[0], y: foot[1] } };
}

/** A point of the outline with the direction, of unit length, into the side asked for. */
export interface Spot {
  readonly segment: number;
  readonly x: number;
  readonly y: number;
  readonly nx: number;
  readonly ny: number;
  /** Turn of the outline here, radians: positive at a convex corner of the side asked for, 0 along an edge. */
  readonly turn: number;
}

/** Spots along every edge at most `spacing` apart, in order; and one at each corner that turns by `turnLeast`. */
export function spotsAlong(
  tree: SegmentTree,
  side: 1 | -1,
  spacing: number,
  turnLeast: number,
): readonly Spot[] {
  const spots: Spot[] = [];
  let since = 0;
  for (let i = 0; i < tree.count; i++) {
    if (i === tree.starts[tree.ringOf(i)]) since = Number.POSITIVE_INFINITY;
    const q = 4 * i;
    const ax = tree.coords[q] as number;
    const ay = tree.coords[q + 1] as number;
    const dx = (tree.coords[q + 2] as number) - ax;
    const dy = (tree.coords[q + 3] as number) - ay;
    const length = tree.lengthOf(i);
    if (length === 0) continue;
    const [lx, ly] = leftNormal(tree, i);
    const corner = cornerAt(tree, i, side);
    const sharp = Math.abs(corner.turn) >= turnLeast;
    if (sharp) spots.push(corner);
    if (!sharp && since + length / 2 < spacing / 2) {
      since += length;
      continue;
    }
    const count = Math.max(1, Math.ceil(length / spacing));
    for (let k = 0; k < count; k++) {
      const s = (k + 0.5) / count;
      spots.push({ segment: i, x: ax + s * dx, y: ay + s * dy, nx: side * lx, ny: side * ly, turn: 0 });
    }
    since = length / count / 2;
  }
  return spots;
}

/** The corner at the start of a segment. */
export function cornerAt(tree: SegmentTree, segment: number, side: 1 | -1): Spot {
  const q = 4 * segment;
  const [bx, by] = leftNormal(tree, segment);
  const [ax, ay] = leftNormal(tree, neighbour(tree, segment, -1));
  const mx = ax + bx;
  const my = ay + by;
  const length = hypot(mx, my);
  // A spike that turns right back has no middle normal: it points along the edges.
  const [ux, uy] = length > 1e-9 ? [mx / length, my / length] : [-by, bx];
  const turn = side * Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
  const x = tree.coords[q] as number;
  const y = tree.coords[q + 1] as number;
  return { segment, x, y, nx: side * ux, ny: side * uy, turn };
}
