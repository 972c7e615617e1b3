import { type FitInput, makePair, type Pair, type Seat } from '../carve/fit.ts';
import type { Motion, Point } from '../geometry/shapes.ts';
import type { LengthStyle } from '../units.ts';

/** A balloon's place in the drawing of one part, mm. */
export interface Marked {
  readonly number: number;
  readonly side: 'pocket' | 'plug';
  readonly at: Point;
  readonly outcome: 'close' | 'fail';
  readonly label: string;
}

/** Strokes at least so wide (mm), as outlines, with what that width means for the cut. */
export interface WidthClass {
  readonly from: number;
  /** Its shade, 0 the narrowest. */
  readonly tone: number;
  readonly rings: readonly (readonly number[])[];
  readonly means: string;
}

/** Everything the page draws one job from: plain data, mm. Rings are x,y interleaved. */
export interface SheetData {
  readonly units: LengthStyle;
  readonly pocket: readonly (readonly number[])[];
  readonly plug: readonly (readonly number[])[];
  /** How the plug's drawing is laid over the pocket's. */
  readonly laid: Motion;
  /** How far the outlines above may lie from the checked ones. */
  readonly thinned: number;
  readonly marks: readonly Marked[];
  readonly fit: FitData | undefined;
  /** Why there is no section, when there is none. */
  readonly noFit: string | undefined;
  readonly boardThickness: number | undefined;
  readonly stockThickness: number | undefined;
  readonly sanding: Sanding | undefined;
  readonly narrowest: { readonly at: Point; readonly width: number } | undefined;
  /** Where the first section is taken. */
  readonly cut: readonly [Point, Point];
}

/** What the drawings show beside; drawn once, so that the page's script needs none of it. */
export interface PlanData extends SheetData {
  readonly widths: readonly WidthClass[];
  /** Gaps along the rim: x, y, gap; the limits are what is wanted at most, and the hard limit. */
  readonly rim: readonly number[];
  readonly rimLimits: readonly [number, number];
  readonly widest: number | undefined;
}

/** One job's part of the page that needs its facts: plain data, so that it may come from another thread. */
export interface HtmlSheet {
  readonly summary: readonly string[];
  readonly files: { readonly pocket: string; readonly plug: string };
  readonly data: PlanData;
}

export interface FitData extends Omit<FitInput, 'pocket' | 'plug'> {
  readonly seat: Seat;
  readonly proud: number;
}

/** How the inlay shrinks: share of its area left at equal steps of sanding up to `most` mm. */
export interface Sanding {
  readonly most: number;
  readonly proud: number;
  readonly taper: number;
  readonly shares: readonly number[];
}

/** The pair cut from the page's own outlines, so that page and program section it by the same code. */
export function pairOf(data: SheetData): { readonly pair: Pair; readonly seat: Seat } | undefined {
  if (data.fit === undefined) return undefined;
  const { seat, proud: _, ...input } = data.fit;
  const plug = { rings: laidRings(data).map((ring) => Float64Array.from(ring)) };
  const pocket = { rings: data.pocket.map((ring) => Float64Array.from(ring)) };
  // The seat turns about the middle of the outlines as checked, not of the thinned ones.
  return { pair: { ...makePair({ ...input, pocket, plug }), middle: seat.middle }, seat };
}

/** The plug's rings in the pocket's drawing. */
export function laidRings({ plug, laid }: SheetData): number[][] {
  const [cos, sin] = [Math.cos(laid.angle), Math.sin(laid.angle)];
  return plug.map((ring) => {
    const moved: number[] = [];
    for (let k = 0; k < ring.length; k += 2) {
      // A reflection turns the sense of a ring over, so its points are listed backwards.
      const from = laid.reflect ? ring.length - 2 - k : k;
      const x = (laid.reflect ? -1 : 1) * (ring[from] as number);
      const y = ring[from + 1] as number;
      moved.push(cos * x - sin * y + laid.dx, sin * x + cos * y + laid.dy);
    }
    return moved;
  });
}
