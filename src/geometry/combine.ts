/**
 * Combining regions. Results are clean regions: no crossings, outer rings positive, holes negative. Vertices
 * lie on a grid of 2^-20 mm (1e-6 mm): input vertices move by at most half a step, crossings land within a
 * step of their true place.
 */
import { combineRings, type FillRule, fillRings } from './clipper.ts';
import { EMPTY } from './region.ts';
import type { Region, Ring } from './shapes.ts';

export { type FillRule, GRID, loadClipper } from './clipper.ts';

/** The area a set of possibly crossing rings covers by a fill rule (SVG 2, `fill-rule`). */
export function unionRings(rings: readonly Ring[], rule: FillRule): Region {
  const usable = rings.filter((ring) => ring.length >= 6);
  return usable.length === 0 ? EMPTY : { rings: fillRings(usable, rule) };
}

export function union(a: Region, b: Region): Region {
  if (a.rings.length === 0) return b;
  if (b.rings.length === 0) return a;
  return { rings: combineRings('Union', a.rings, b.rings) };
}

export function intersect(a: Region, b: Region): Region {
  if (a.rings.length === 0 || b.rings.length === 0) return EMPTY;
  return { rings: combineRings('Intersection', a.rings, b.rings) };
}

/** What is in `a` and not in `b`. */
export function subtract(a: Region, b: Region): Region {
  if (a.rings.length === 0 || b.rings.length === 0) return a;
  return { rings: combineRings('Difference', a.rings, b.rings) };
}

/** What is in exactly one of the two. */
export function xor(a: Region, b: Region): Region {
  if (a.rings.length === 0) return b;
  if (b.rings.length === 0) return a;
  return { rings: combineRings('Xor', a.rings, b.rings) };
}
