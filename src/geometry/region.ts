/** Measures and views of a clean region (see `Region`): islands, holes, the outside. */
import { reversed, signedArea, windingNumber } from './ring.ts';
import { type Around, aroundIn } from './rows.ts';
import type { Part, Point, Region, Ring } from './shapes.ts';
import { edgesOf } from './tidy-edges.ts';

export const EMPTY: Region = { rings: [] };

/** Area in mm2: outer rings count up, holes down. */
export function area(region: Region): number {
  return region.rings.reduce((sum, ring) => sum + signedArea(ring), 0);
}

/** Whether (x, y) lies in the region. Points on an edge: as `windingNumber` in ring.ts. */
export function contains(region: Region, x: number, y: number): boolean {
  let winding = 0;
  for (const ring of region.rings) winding += windingNumber(ring, x, y);
  return winding !== 0;
}

/** The same outlines seen from the outside: wood of the outside lies on the left of every edge. */
export function reverseRegion(region: Region): readonly Ring[] {
  return region.rings.map(reversed);
}

/**
 * The connected pieces: each outer ring with the holes directly inside it, in the order of the outer rings.
 * A hole belongs to the smallest outer ring that encloses a point on its longest edge; rings may touch in
 * points, since that point is taken where touching is not to be expected. A hole enclosed by nothing belongs
 * to no piece.
 */
export function partsOf(region: Region): readonly Part[] {
  const areas = region.rings.map(signedArea);
  const holesOf = new Map<number, number[]>();
  const holes: number[] = [];
  areas.forEach((value, ring) => {
    if (value > 0) holesOf.set(ring, []);
    else if (value < 0) holes.push(ring);
  });
  if (holes.length > 0) {
    const around = aroundIn(edgesOf(region.rings));
    for (const hole of holes) {
      const outer = smallestAround(hole, region.rings[hole]!, around, areas);
      if (outer !== undefined) holesOf.get(outer)?.push(hole);
    }
  }
  return [...holesOf].map(([outer, inside]) => ({ outer, holes: inside }));
}

function smallestAround(
  hole: number,
  ring: Ring,
  around: Around,
  areas: readonly number[],
): number | undefined {
  const [x, y] = pointOnLongestEdge(ring);
  let found: number | undefined;
  around(x, y, (candidate) => {
    const size = areas[candidate]!;
    if (candidate !== hole && size > 0 && (found === undefined || size < areas[found]!)) found = candidate;
  });
  return found;
}

/** A point along the longest edge, off its middle: another ring touching exactly there is next to impossible. */
function pointOnLongestEdge(ring: Ring): Point {
  const n = ring.length;
  let longest = -1;
  let x = 0;
  let y = 0;
  for (let i = 0; i < n; i += 2) {
    const j = (i + 2) % n;
    const dx = ring[j]! - ring[i]!;
    const dy = ring[j + 1]! - ring[i + 1]!;
    const length = dx * dx + dy * dy;
    if (length > longest) {
      longest = length;
      x = ring[i]! + dx * 0.4142;
      y = ring[i + 1]! + dy * 0.4142;
    }
  }
  return [x, y];
}
