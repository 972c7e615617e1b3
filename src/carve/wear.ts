import { shrink } from '../geometry/offset.ts';
import { area } from '../geometry/region.ts';
import type { Point, Region } from '../geometry/shapes.ts';

/**
 * What sanding meets. `halfAngle` of the bit, radians; `mating` mm from the board's surface down to the plug's face;
 * `proud` mm the plug stands higher than drawn (it then shows where it is already narrower).
 */
export interface Wearing {
  readonly halfAngle: number;
  readonly mating: number;
  readonly proud: number;
}

/**
 * Width of an inlaid stroke after `sanded` mm are gone from the face, mm; `width` as drawn. The plug narrows downward,
 * so strokes lose 2 tan(half angle) per mm and the board's strokes between them gain it. 0 once the stroke's wood is
 * used up, be it by width or because the plug's face is reached.
 */
export function strokeAfter(width: number, sanded: number, wearing: Wearing): number {
  const { halfAngle, mating, proud } = wearing;
  if (sanded + proud >= mating) return 0;
  return Math.max(0, width - 2 * (sanded + proud) * Math.tan(halfAngle));
}

/** Width of the board's land between strokes after sanding, mm. `open` of it is bare where the plug has ended. */
export function landAfter(width: number, sanded: number, { halfAngle, proud }: Wearing): number {
  return width + 2 * (sanded + proud) * Math.tan(halfAngle);
}

/** Stroke width lost for each mm sanded, mm (no unit): 0.536 for a 30 degree bit, 1.155 for 60. */
export function lossPerMm(halfAngle: number): number {
  return 2 * Math.tan(halfAngle);
}

/**
 * How much may be sanded, mm, before a stroke of `width` mm is narrower than `least` mm (0: gone): (width - least) /
 * 2 tan(half angle) less what the plug stands proud, and never deeper than the plug's face. 0 when it is so already.
 */
export function sandingLeft(width: number, least: number, wearing: Wearing): number {
  const { halfAngle, mating, proud } = wearing;
  const byWidth = (width - least) / lossPerMm(halfAngle);
  return Math.max(0, Math.min(byWidth, mating) - proud);
}

/** A stroke and how wide it is drawn at its narrowest, mm. */
export interface StrokeWidth {
  readonly width: number;
  readonly at: Point;
}

export interface Wear {
  /** The stroke that goes first; undefined when none was given (then only the plug's face bounds the sanding). */
  readonly first: StrokeWidth | undefined;
  /** What may be sanded before that stroke is narrower than the least width, mm. */
  readonly firstGone: number;
  /** What may be sanded before no inlay is left at all, mm. */
  readonly allGone: number;
  /** Whole resurfacings of `each` mm the design stands. */
  readonly resurfacings: number;
  readonly lossPerMm: number;
}

/** The first place to vanish and the resurfacings a design stands. `each` mm a resurfacing; `least` width that shows. */
export function wear(strokes: readonly StrokeWidth[], wearing: Wearing, each: number, least: number): Wear {
  const first = strokes.reduce<StrokeWidth | undefined>(
    (a, b) => (a && a.width <= b.width ? a : b),
    undefined,
  );
  const allGone = Math.max(0, wearing.mating - wearing.proud);
  const firstGone = first ? sandingLeft(first.width, least, wearing) : allGone;
  return {
    first,
    firstGone,
    allGone,
    resurfacings: wholeTimes(firstGone, each),
    lossPerMm: lossPerMm(wearing.halfAngle),
  };
}

/** The same design with other bits, everything else as it is. */
export function compareBits(
  strokes: readonly StrokeWidth[],
  wearing: Wearing,
  each: number,
  least: number,
  halfAngles: readonly number[],
): readonly { readonly halfAngle: number; readonly wear: Wear }[] {
  return halfAngles.map((halfAngle) => ({
    halfAngle,
    wear: wear(strokes, { ...wearing, halfAngle }, each, least),
  }));
}

/** The inlay still to be seen after `sanded` mm, from the plug's outline at the surface (in the board's frame). */
export function inlayAfter(outline: Region, sanded: number, wearing: Wearing): Region {
  const depth = sanded + wearing.proud;
  if (depth >= wearing.mating) return { rings: [] };
  return shrink(outline, depth * Math.tan(wearing.halfAngle));
}

/** Its share of the inlay's area as drawn, 0 to 1. */
export function shareAfter(outline: Region, sanded: number, wearing: Wearing): number {
  return area(inlayAfter(outline, sanded, wearing)) / area(outline);
}

/** Whole times `each` goes into `total`; a hair of rounding (1e-9) does not cost a time. */
function wholeTimes(total: number, each: number): number {
  return Math.floor(total / each + 1e-9);
}
