import { contains, partsOf } from '../geometry/region.ts';
import { ringBox } from '../geometry/ring.ts';
import type { Box, Point, Region, Ring } from '../geometry/shapes.ts';
import type { Island, Standing } from './breakage.ts';
import { widthThatHolds } from './breakage-mends.ts';
import { discThatHolds } from './breakage-round.ts';

/**
 * The piece that `at` lies in, standing alone; `radius` mm of its largest disc. Undefined when the place lies in none.
 */
export function islandAt(pieces: readonly LonePiece[], at: Point, radius: number): Island | undefined {
  const [x, y] = at;
  const found = pieces.find(
    ({ outline, box }) =>
      x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY && contains(outline, x, y),
  );
  return found && { kind: 'island', outline: found.outline, radius };
}

/** A piece that hangs together, with its holes. */
export interface LonePiece {
  readonly outline: Region;
  readonly box: Box;
}

export function lonePiecesOf(region: Region): readonly LonePiece[] {
  return partsOf(region).map(({ outer, holes }) => ({
    outline: { rings: [outer, ...holes].map((ring) => region.rings[ring] as Ring) },
    box: ringBox(region.rings[outer] as Ring),
  }));
}

/**
 * The width, mm, from which even the worst-placed part holds: a wall of short grain pushed at its free end, and a round
 * island. Anything narrower is worth a look. Undefined when not even 20 mm hold, or no strength is known.
 */
export function safeWidth(standing: Standing): number | undefined {
  const { grainAngle } = standing.piece;
  const axis = grainAngle + Math.PI / 2;
  const reach = [0, Number.POSITIVE_INFINITY] as const;
  const wall = widthThatHolds({ kind: 'wall', width: 0.01, axis, reach }, standing);
  const island = discThatHolds(standing);
  return wall === undefined || island === undefined ? undefined : Math.max(wall, island);
}
