import { largestNearby, spotsAlong, type TouchingDisc, touchingDisc } from '../carve/cut-disc.ts';
import type { Facts } from '../carve/facts.ts';
import type { Contact, Fit, Pair } from '../carve/fit.ts';
import type { SegmentTree } from '../geometry/nearest.ts';
import { perimeter } from '../geometry/ring.ts';
import type { Point } from '../geometry/shapes.ts';

/** A place where something is measured, in the pocket's drawing: the middle of a stroke, and the way across it. */
export interface Across {
  readonly at: Point;
  /** Unit vector from one wall to the other. */
  readonly way: Point;
  /** Width of the stroke as drawn, mm. */
  readonly width: number;
}

/** Where the bench looks: the widest and the narrowest stroke, and where the plug touches first. */
export interface Places {
  readonly pair: Pair;
  readonly fit: Fit;
  readonly widest: Across | undefined;
  readonly narrowest: Across | undefined;
  /** Places that would each hold the plug up, the highest first; none when the walls meet all round at once. */
  readonly touches: readonly Contact[];
}

/** So many places are numbered on the plan. */
const MOST_TOUCHES = 4;

/** The places of one pair, or why there is no dry fit to find them by. */
export function placesOf(facts: Facts): Places | { readonly none: string } {
  const fitted = facts.fitted();
  if (!('fit' in fitted)) return { none: 'moot' in fitted ? fitted.moot : fitted.untold };
  const { pair, fit } = fitted;
  const narrow = facts.leastStroke('pocket');
  return {
    pair,
    fit,
    widest: widestOf(pair),
    narrowest: narrow && acrossOf(narrow.at, narrow.contacts, narrow.width),
    touches: fit.tight.filter(({ alone }) => alone > fit.give).slice(0, MOST_TOUCHES),
  };
}

function acrossOf(at: Point, [p, q]: readonly [Point, Point], width: number): Across {
  const long = Math.hypot(q[0] - p[0], q[1] - p[1]);
  return { at, way: long > 0 ? [(q[0] - p[0]) / long, (q[1] - p[1]) / long] : [1, 0], width };
}

/** Discs along the outline: so many in all at most, and the climb starts from so many of the largest. */
const MOST_SPOTS = 3000;
const STARTS = 8;

/** The widest place of the pocket, as far as discs along its outline show it: where its floor is measured. */
function widestOf({ pocketTree: tree, input }: Pair): Across | undefined {
  const length = input.pocket.rings.reduce((sum, ring) => sum + perimeter(ring), 0);
  const enough = length;
  let best: Touched | undefined;
  for (const start of largestDiscs(tree, length / MOST_SPOTS, enough)) {
    const disc = largestNearby(tree, 1, start.disc, start.from[0], start.from[1], enough);
    if (best === undefined || disc.r > best.disc.r) best = { disc, from: start.from };
  }
  if (best === undefined || best.disc.r <= 0) return undefined;
  const { disc } = best;
  const { other } = disc;
  // The climb tells one of the two walls; the way across goes through it and the middle.
  const to: Point = other === undefined ? best.from : [other.x, other.y];
  return acrossOf([disc.x, disc.y], [[2 * disc.x - to[0], 2 * disc.y - to[1]], to], 2 * disc.r);
}

interface Touched {
  readonly disc: TouchingDisc;
  readonly from: Point;
}

function largestDiscs(tree: SegmentTree, spacing: number, most: number): readonly Touched[] {
  return spotsAlong(tree, 1, spacing, Number.POSITIVE_INFINITY)
    .map(({ segment, x, y, nx, ny }) => ({
      disc: touchingDisc(tree, segment, x, y, nx, ny, most),
      from: [x, y] as const,
    }))
    .sort((a, b) => b.disc.r - a.disc.r)
    .slice(0, STARTS);
}

/** How far a surface reaches from a place along the way across, to both sides together, mm; 0 when it is not there. */
export function widthWhere(there: (at: Point) => boolean, { at, way, width }: Across): number {
  if (!there(at)) return 0;
  const reach = (sign: 1 | -1): number => {
    const point = (far: number): Point => [at[0] + sign * far * way[0], at[1] + sign * far * way[1]];
    let [inside, outside] = [0, Math.max(width, 1)];
    while (there(point(outside)) && outside < MOST_REACH) [inside, outside] = [outside, 2 * outside];
    for (let n = 0; n < 40; n++) {
      const middle = (inside + outside) / 2;
      if (there(point(middle))) inside = middle;
      else outside = middle;
    }
    return inside;
  };
  return reach(1) + reach(-1);
}

/** No stroke is followed farther than this, mm. */
const MOST_REACH = 10_000;
