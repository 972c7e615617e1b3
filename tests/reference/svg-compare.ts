import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Artwork } from '../../src/artwork/read.ts';
import { readArtwork } from '../../src/artwork/read.ts';
import { union, unionRings } from '../../src/geometry/combine.ts';
import { area, EMPTY, partsOf } from '../../src/geometry/region.ts';
import { boxOf } from '../../src/geometry/ring.ts';
import type { Region } from '../../src/geometry/shapes.ts';

/** What a browser filled, in the drawing's own units. */
export interface Filled {
  readonly area: number;
  readonly bbox?: readonly [number, number, number, number];
  readonly components: number;
  readonly holes: number;
  readonly specks?: number;
}

/** The region that a drawing paints: every shape by its own rule, joined. Millimetres. */
export function paintedRegion(artwork: Artwork): Region {
  let all: Region = EMPTY;
  for (const shape of artwork.shapes)
    all = union(
      all,
      unionRings(
        shape.lines.map((line) => line.points),
        shape.fillRule,
      ),
    );
  return all;
}

/** The same figures as a browser's, from our region, in the drawing's own units. */
export function measured(artwork: Artwork): Filled {
  const region = paintedRegion(artwork);
  const [sx, sy] = artwork.size.perUserUnit;
  const [ox, oy] = artwork.size.userOrigin;
  const parts = partsOf(region);
  const total = area(region) / (sx * sy);
  const holes = parts.reduce((sum, part) => sum + part.holes.length, 0);
  if (region.rings.length === 0) return { area: 0, components: 0, holes: 0 };
  const { minX, minY, maxX, maxY } = boxOf(region.rings);
  return {
    area: total,
    bbox: [(minX - ox) / sx, (minY - oy) / sy, (maxX - ox) / sx, (maxY - oy) / sy],
    components: parts.length,
    holes,
  };
}

/**
 * Compares within the record's own tolerances: area 0.4 % or 0.35 square units, box 0.8 % of the longer side or a
 * device pixel, and (an eighth of a pixel's worth of) pieces too small to be seen are not counted.
 */
export function differences(ours: Filled, theirs: Filled, pixel: number): string[] {
  const found: string[] = [];
  const slack = Math.max(0.004 * theirs.area, 0.35 * Math.min(1, pixel * pixel * 14));
  if (Math.abs(ours.area - theirs.area) > slack)
    found.push(`area ${ours.area.toFixed(3)} against ${theirs.area}`);
  if (theirs.bbox !== undefined && ours.bbox !== undefined) {
    const longer = Math.max(theirs.bbox[2] - theirs.bbox[0], theirs.bbox[3] - theirs.bbox[1]);
    const reach = Math.max(0.008 * longer, pixel);
    if (theirs.bbox.some((edge, i) => Math.abs(edge - ours.bbox![i]!) > reach))
      found.push(`box ${ours.bbox.map((v) => v.toFixed(2)).join(' ')} against ${theirs.bbox.join(' ')}`);
  } else if ((theirs.bbox === undefined) !== (ours.bbox === undefined) && ours.area > slack)
    found.push('box missing');
  if (ours.components !== theirs.components)
    found.push(`parts ${ours.components} against ${theirs.components}`);
  if (ours.holes !== theirs.holes) found.push(`holes ${ours.holes} against ${theirs.holes}`);
  return found;
}

export const readFrom = (folder: string, file: string): Artwork =>
  readArtwork(readFileSync(join(folder, file)), file);
