/**
 * Growing and shrinking by a disc. Where a wall turns round a corner the arc is drawn with chords, whose
 * middle falls short of the true circle by at most `arcError`; straight walls are exact to the grid (1e-6 mm).
 */
import { apart } from './apart.ts';
import { GRID, inflateRings } from './clipper.ts';
import { EMPTY } from './region.ts';
import type { Region } from './shapes.ts';

/** Half a micrometre, in mm: below the flattening error of a drawing, with about 100 chords round a 1 mm disc. */
export const ARC_ERROR = 0.0005;

export interface OffsetOptions {
  /** How far, in mm, a chord of a round corner may fall short of its circle. */
  readonly arcError?: number;
}

/** All points within `by` mm of the region; a negative `by` shrinks. Corners come out round. */
export function grow(region: Region, by: number, options: OffsetOptions = {}): Region {
  if (!Number.isFinite(by)) throw new RangeError(`a region cannot be grown by ${by} mm`);
  if (by === 0 || region.rings.length === 0) return region;
  // The engine goes through all edges at one height for each of them, so what lies apart is given to it by itself.
  const rings = apart(region.rings, Math.max(0, by) + GRID).flatMap((group) =>
    inflateRings(group, by, options.arcError ?? ARC_ERROR),
  );
  return rings.length === 0 ? EMPTY : { rings };
}

/** All points at least `by` mm inside the region: what the centre of a disc of that radius can reach. */
export function shrink(region: Region, by: number, options: OffsetOptions = {}): Region {
  return grow(region, -by, options);
}

/** The part of the region a disc of radius `radius` mm can sweep while staying inside. */
export function open(region: Region, radius: number, options: OffsetOptions = {}): Region {
  return grow(shrink(region, radius, options), radius, options);
}

/** The region with every place outside filled that a disc of radius `radius` mm cannot reach. */
export function close(region: Region, radius: number, options: OffsetOptions = {}): Region {
  return shrink(grow(region, radius, options), radius, options);
}
