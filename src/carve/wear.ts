import { shrink } from '../geometry/offset.ts';
import { area } from '../geometry/region.ts';
import type { Region } from '../geometry/shapes.ts';

/**
 * What sanding meets. `halfAngle` of the bit, radians; `mating` mm from the board's surface down to the plug's face;
 * `proud` mm the plug stands higher than drawn (it then shows where it is already narrower).
 */
export interface Wearing {
  readonly halfAngle: number;
  readonly mating: number;
  readonly proud: number;
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
export function wholeTimes(total: number, each: number): number {
  return Math.floor(total / each + 1e-9);
}
