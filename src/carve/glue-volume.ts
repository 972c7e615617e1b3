import { open, shrink } from '../geometry/offset.ts';
import { area } from '../geometry/region.ts';
import type { Region } from '../geometry/shapes.ts';

/** How far round corners may be off, mm, where only an area is wanted: coarser than for outlines, and quicker. */
const ARC_ERROR = 0.001;

/** The outline drawn in by `inset` mm (out when negative), as a bit with half tip flat `tip` mm cuts it. */
export function levelOutline(outline: Region, inset: number, tip = 0): Region {
  const level = shrink(outline, inset, { arcError: ARC_ERROR });
  return tip > 0 ? open(level, tip, { arcError: ARC_ERROR }) : level;
}

/** Its area, mm2. */
export function levelArea(outline: Region, inset: number, tip = 0): number {
  return area(levelOutline(outline, inset, tip));
}

/**
 * Integral of level areas over depth, mm3: Gauss-Legendre with six levels. Exact while no part of the outline vanishes,
 * for areas are then quadratic in depth; where narrow strokes end on the way it follows to about one part in a hundred.
 */
export function volumeBetween(areaAt: (depth: number) => number, from: number, to: number): number {
  const [middle, half] = [(from + to) / 2, (to - from) / 2];
  const sum = SIX_POINTS.reduce(
    (total, [x, weight]) => total + weight * (areaAt(middle - half * x) + areaAt(middle + half * x)),
    0,
  );
  return sum * half;
}

/** Abscissae and weights: Abramowitz and Stegun, chapter 25 (Gaussian integration), n = 6. */
const SIX_POINTS = [
  [0.238619186083197, 0.467913934572691],
  [0.661209386466265, 0.360761573048139],
  [0.932469514203152, 0.17132449237917],
] as const;
