import { perimeter } from '../geometry/ring.ts';
import type { Region } from '../geometry/shapes.ts';
import { levelArea, levelOutline, volumeBetween } from './glue-volume.ts';

/**
 * The pair as glued: the outlines at the board's surface (both in the board's frame), half the bit's angle (radians),
 * half its tip flat, the pocket's depth and the mating depth, and how far the plug stands proud of it (all mm).
 */
export interface GluePair {
  readonly pocket: Region;
  readonly plug: Region;
  readonly halfAngle: number;
  readonly tip: number;
  readonly pocketDepth: number;
  readonly mating: number;
  readonly proud: number;
}

/** A face narrower than this is an edge rather than a piston: glue goes past it, mm. Common practice, no source. */
const LEAST_FACE = 2;

export interface Glue {
  /** Sloping wall of the plug inside the pocket, mm2: mating when the plug seats, otherwise bonded across `film`. */
  readonly wallArea: number;
  /** The part of it that stands over the edge of the plug's face where that is wide, mm2; narrow strokes have none. */
  readonly faceWall: number;
  /** All room between plug and pocket, mm3: what glue can fill and where what is squeezed off the walls must go. */
  readonly room: number;
  /** Thickness of glue along the walls that the plug's standing proud leaves, mm. */
  readonly film: number;
}

/**
 * Walls and room of a pair. Level outlines are the drawn ones offset, so areas come from the offset engine and volumes
 * from them (glue-volume.ts). The room is summed in two stretches, beside the plug and below its face, so that what
 * pocket and plug have in common never comes in.
 */
export function glueOf(pair: GluePair): Glue {
  const { pocket, plug, halfAngle, tip, pocketDepth, mating, proud } = pair;
  const taper = Math.tan(halfAngle);
  const pocketAt = (depth: number): number => levelArea(pocket, depth * taper, tip);
  const plugAt = (depth: number): number => levelArea(plug, (depth + proud) * taper);
  const plugTo = Math.min(Math.max(0, mating - proud), pocketDepth);
  const inset = (plugTo + proud) * taper;
  const wallArea = (plugAt(0) - levelArea(plug, inset)) / Math.sin(halfAngle);
  const face = levelOutline(plug, inset, LEAST_FACE / 2);
  return {
    wallArea,
    faceWall: Math.min(wallArea, (edgeLength(face) * plugTo) / Math.cos(halfAngle)),
    // Nothing is left by rounding below nothing where plug and pocket are all but one.
    room: Math.max(
      0,
      volumeBetween((depth) => pocketAt(depth) - plugAt(depth), 0, plugTo) +
        volumeBetween(pocketAt, plugTo, pocketDepth),
    ),
    film: Math.max(0, proud) * Math.sin(halfAngle),
  };
}

function edgeLength({ rings }: Region): number {
  return rings.reduce((sum, ring) => sum + perimeter(ring), 0);
}

/**
 * Glue for the walls, mm3, with a film of `thickness` mm on each of the two faces; what of it is spread over the edge
 * of the plug's face, where a full floor is a piston; and what finds no room below and has to come out at the rim.
 */
export function glueNeeded(
  glue: Glue,
  thickness: number,
): { readonly needed: number; readonly overFace: number; readonly squeezed: number } {
  const needed = 2 * glue.wallArea * thickness;
  return { needed, overFace: 2 * glue.faceWall * thickness, squeezed: Math.max(0, needed - glue.room) };
}
