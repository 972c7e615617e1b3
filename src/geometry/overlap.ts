/**
 * Overlap of two unrelated regions: a shape and a keep-out, two shapes of a drawing. The engine that
 * every verdict rests on gives the area and the place; an unrelated library is asked for the area as well, on a
 * grid and within a size it can bear, and the larger of the two counts: what is swept is better told too large.
 */
import polygonClipping, { type MultiPolygon, type Pair } from 'polygon-clipping';
import { intersect } from './combine.ts';
import { area, partsOf } from './region.ts';
import { perimeter } from './ring.ts';
import type { Point, Region, Ring } from './shapes.ts';
import { pointInside } from './tidy-parts.ts';

/** Both operands are put on one grid of this step, mm: it keeps the library off the noise it cannot bear. */
const SNAP = 1e-4;

/** The library slows down and fails on more vertices than this, so they are left to the engine. */
const VERTICES_MOST = 20_000;

export interface Overlap {
  /** mm2. */
  readonly area: number;
  /** A point inside the largest piece of the overlap. */
  readonly at: Point;
  /** How far the area may be off by the grid of the second opinion, mm2. */
  readonly give: number;
}

/** Where and how much two regions overlap; undefined when they share no area. */
export function overlapArea(a: Region, b: Region): Overlap | undefined {
  const shared = intersect(a, b);
  const size = area(shared);
  if (!(size > 0)) return undefined;
  const witness = witnessArea(a, b);
  const give = SNAP * 2 * shared.rings.reduce((sum, ring) => sum + perimeter(ring), 0);
  return { area: Math.max(size, witness ?? 0), at: pointInside(shared), give };
}

/** The overlap's area by the unrelated library, mm2; undefined when it is too large for it or it gave up. */
export function witnessArea(a: Region, b: Region): number | undefined {
  const vertices = [...a.rings, ...b.rings].reduce((sum, ring) => sum + ring.length / 2, 0);
  if (vertices > VERTICES_MOST) return undefined;
  try {
    return multiArea(polygonClipping.intersection(toMulti(a), toMulti(b)));
  } catch {
    return undefined; // its own faults on nearly coincident edges; the caller has the engine's answer
  }
}

function toMulti(region: Region): MultiPolygon {
  return partsOf(region).map((part) =>
    [part.outer, ...part.holes].map((ring) => toPairs(region.rings[ring]!)),
  );
}

function toPairs(ring: Ring): Pair[] {
  const pairs: Pair[] = [];
  for (let i = 0; i < ring.length; i += 2) pairs.push([snap(ring[i]!), snap(ring[i + 1]!)]);
  return pairs;
}

function snap(value: number): number {
  return Math.round(value / SNAP) * SNAP;
}

function multiArea(multi: MultiPolygon): number {
  let total = 0;
  for (const polygon of multi) {
    polygon.forEach((ring, r) => {
      const size = Math.abs(pairsArea(ring));
      total += r === 0 ? size : -size;
    });
  }
  return total;
}

function pairsArea(ring: readonly Pair[]): number {
  const [ox, oy] = ring[0] ?? [0, 0];
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    twice += (x - ox) * (ny - oy) - (nx - ox) * (y - oy);
  });
  return twice / 2;
}
