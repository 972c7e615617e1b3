/** Small measures of pieces and outlines that tidying needs: a point inside, how thin, how much they share. */

import { intersect } from './combine.ts';
import { hypot } from './hypot.ts';
import { area } from './region.ts';
import { perimeter, ringBox, signedArea } from './ring.ts';
import type { Box, Point, Region, Ring } from './shapes.ts';

/**
 * A point just left of the middle of the longest edge, 1e-5 mm or a tenth of the ring's mean half width off it:
 * inside a positive ring, inside the wood round a hole.
 */
export function insideEdge(ring: Ring): Point {
  const n = ring.length;
  let best = -1;
  let at: Point = [ring[0]!, ring[1]!];
  const step = Math.min(1e-5, Math.abs(signedArea(ring)) / perimeter(ring) / 10);
  for (let i = 0; i < n; i += 2) {
    const j = i + 2 === n ? 0 : i + 2;
    const dx = ring[j]! - ring[i]!;
    const dy = ring[j + 1]! - ring[i + 1]!;
    const length = hypot(dx, dy);
    if (length <= best || length === 0) continue;
    best = length;
    at = [ring[i]! + dx / 2 - (dy / length) * step, ring[i + 1]! + dy / 2 + (dx / length) * step];
  }
  return at;
}

/** A point inside a region that is not empty, in the middle of a chord of its largest outer ring. */
export function pointInside(region: Region): Point {
  const largest = region.rings.reduce((best, ring) => (signedArea(ring) > signedArea(best) ? ring : best));
  const [x, y] = insideEdge(largest);
  const levels = region.rings.flatMap((ring) => crossingsOfLevel(ring, y)).sort((a, b) => a - b);
  const right = levels.find((level) => level > x);
  const left = levels.findLast((level) => level < x);
  return left === undefined || right === undefined ? [x, y] : [(left + right) / 2, y];
}

function crossingsOfLevel(ring: Ring, y: number): number[] {
  const found: number[] = [];
  const n = ring.length;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    const ay = ring[j + 1]!;
    const by = ring[i + 1]!;
    if (ay <= y !== by <= y) found.push(ring[j]! + ((y - ay) / (by - ay)) * (ring[i]! - ring[j]!));
  }
  return found;
}

/** Twice the area over the length round, mm: the width of a long thin piece, half the width of a round one. */
export function meanWidth(ring: Ring): number {
  const length = perimeter(ring);
  return length === 0 ? 0 : (2 * Math.abs(signedArea(ring))) / length;
}

/** Rings of less mean width (mm) or area (mm2) than this, where outlines were combined, are rounding and no shape. */
const DUST_WIDTH = 0.0005;
const DUST_AREA = 1e-4;

/** Whether a ring is too small to be anything but the rounding of a drawing's digits. */
export function isDust(ring: Ring): boolean {
  return Math.abs(signedArea(ring)) < DUST_AREA || meanWidth(ring) < DUST_WIDTH;
}

/**
 * Combined rings without the dust that rounding leaves where outlines meet: real drawings whose corners are
 * written to two digits cross themselves by a hair at every second seam.
 */
export function withoutDust(rings: readonly Ring[]): readonly Ring[] {
  return rings.filter((ring) => !isDust(ring));
}

/** The region two sets of oriented rings share; the larger is first cut down to the smaller one's box. */
export function sharedBy(a: readonly Ring[], b: readonly Ring[]): Region {
  return intersect({ rings: cutToFit(a, b) }, { rings: cutToFit(b, a) });
}

/** Area two sets of oriented rings share, mm2. */
export function sharedArea(a: readonly Ring[], b: readonly Ring[]): number {
  return area(sharedBy(a, b));
}

function cutToFit(rings: readonly Ring[], other: readonly Ring[]): readonly Ring[] {
  const count = (set: readonly Ring[]): number => set.reduce((sum, ring) => sum + ring.length, 0);
  if (count(rings) < 8 * count(other)) return rings;
  const boxes = other.map(ringBox);
  const box = {
    minX: Math.min(...boxes.map((b) => b.minX)) - 1,
    minY: Math.min(...boxes.map((b) => b.minY)) - 1,
    maxX: Math.max(...boxes.map((b) => b.maxX)) + 1,
    maxY: Math.max(...boxes.map((b) => b.maxY)) + 1,
  };
  return rings.map((ring) => cutToBox(ring, box)).filter((ring) => ring.length >= 6);
}

/**
 * The ring cut side by side to a box. Runs outside are laid along the box's sides, which leaves the winding
 * inside the box as it was.
 */
function cutToBox(ring: Ring, box: Box): Ring {
  const sides = [
    (x: number, _y: number) => x - box.minX,
    (x: number, _y: number) => box.maxX - x,
    (_x: number, y: number) => y - box.minY,
    (_x: number, y: number) => box.maxY - y,
  ];
  let points: ArrayLike<number> = ring;
  for (const side of sides) points = cutBySide(points, side);
  return Float64Array.from(points);
}

function cutBySide(points: ArrayLike<number>, side: (x: number, y: number) => number): number[] {
  const kept: number[] = [];
  const n = points.length;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    const from = side(points[j]!, points[j + 1]!);
    const to = side(points[i]!, points[i + 1]!);
    if (from < 0 !== to < 0) {
      const t = from / (from - to);
      kept.push(
        points[j]! + t * (points[i]! - points[j]!),
        points[j + 1]! + t * (points[i + 1]! - points[j + 1]!),
      );
    }
    if (to >= 0) kept.push(points[i]!, points[i + 1]!);
  }
  return kept;
}
