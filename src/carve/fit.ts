import { SegmentTree } from '../geometry/nearest.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Box, Point, Region } from '../geometry/shapes.ts';
import { type Cut, makeCut, type ToolShape } from './cut.ts';

/** How far the width of a line at the rim may be off by the method, mm. */
export const RIM_GIVE = 0.002;

/** A pocket, its plug and how each is cut. Lengths mm, angles radians. */
export interface FitInput {
  readonly pocket: Region;
  /** The plug's outline, laid onto the pocket's drawing. */
  readonly plug: Region;
  readonly pocketTool: ToolShape;
  readonly plugTool: ToolShape;
  readonly pocketStart: number;
  readonly pocketFlat: number;
  readonly plugStart: number;
  readonly plugFlat: number;
}

/** What can hold a plug up. */
export type HoldKind =
  | 'narrow-stroke'
  | 'corner'
  | 'notch'
  | 'outline'
  | 'different-bits'
  | 'uncut-stroke'
  | 'uncut-land'
  | 'floor'
  | 'root';

/** One place where plug and board meet before the outlines do. */
export interface Contact {
  readonly kind: HoldKind;
  /** In the pocket's frame, mm. */
  readonly at: Point;
  /** How high this place alone would hold a plug that goes straight down, mm; negative: it lets it sink. */
  readonly alone: number;
  /** Local width of the stroke or land, mm, where that is what matters. */
  readonly width?: number | undefined;
  /** Angle of the corner or of the board's spike, radians. */
  readonly angle?: number | undefined;
}

/**
 * Where the plug comes to rest. Height is above the place where both outlines meet the board's face, at the
 * middle of the plug, mm; tilts are the rise of that height along x and along y, mm per mm; the shift is in mm
 * and the turn in radians about the middle.
 */
export interface Seat {
  readonly height: number;
  readonly tiltX: number;
  readonly tiltY: number;
  readonly dx: number;
  readonly dy: number;
  readonly turn: number;
  readonly middle: Point;
}

export interface GapAt {
  readonly gap: number;
  readonly at: Point;
}

/** How the two parts go together. All lengths mm. */
export interface Fit {
  /** How far the plug stands above where it should, at its proudest place, the least it can (negative: low). */
  readonly proud: number;
  /** The same when it is held level and goes straight down: the greatest `alone` of all places. */
  readonly level: number;
  /** How far `proud`, in mm, may be off by the method. */
  readonly give: number;
  readonly seat: Seat;
  /** What it rests on, the highest `alone` first. */
  readonly holds: readonly Contact[];
  /** The tightest places, whether or not it rests on them, the highest `alone` first. */
  readonly tight: readonly Contact[];
  readonly rim: readonly GapAt[];
  /** Widest opening of the rim once the plug has settled as it will; undefined when the pocket has no rim. */
  readonly worstGap: GapAt | undefined;
  /** Room left under the plug: its face above the floor. */
  readonly glueGap: { readonly face: number };
  /** Room between the board's face and the plug stock: over wide board, and over the narrowest land. */
  readonly sawGap: { readonly wide: number; readonly least: number; readonly at: Point | undefined };
}

/** What the joint comes to when the plug is pressed evenly: one seat for the height and for the line. */
export function asPressed(fit: Fit): { readonly proud: number; readonly widest: GapAt | undefined } {
  return { proud: fit.proud, widest: fit.worstGap };
}

/** Both cuts, ready to be asked. */
export interface Pair {
  readonly input: FitInput;
  readonly pocket: Cut;
  /** The cut round the plug, in depths below the plug's own face. */
  readonly plug: Cut;
  readonly pocketTree: SegmentTree;
  readonly plugTree: SegmentTree;
  /** Board's face to plug's face when both outlines meet, mm. */
  readonly mating: number;
  readonly box: Box;
  readonly middle: Point;
}

export function makePair(input: FitInput): Pair {
  const pocketTree = new SegmentTree(input.pocket.rings);
  const plugTree = new SegmentTree(input.plug.rings);
  return pairOf(input, pocketTree, plugTree);
}

/** The same outlines cut otherwise: the search trees are kept. */
export function withInput(pair: Pair, input: FitInput): Pair {
  const pocketTree =
    input.pocket === pair.input.pocket ? pair.pocketTree : new SegmentTree(input.pocket.rings);
  const plugTree = input.plug === pair.input.plug ? pair.plugTree : new SegmentTree(input.plug.rings);
  return pairOf(input, pocketTree, plugTree);
}

function pairOf(input: FitInput, pocketTree: SegmentTree, plugTree: SegmentTree): Pair {
  const pocket = makeCut({
    tree: pocketTree,
    side: 1,
    tool: input.pocketTool,
    start: input.pocketStart,
    flat: input.pocketFlat,
  });
  const plug = makeCut({
    tree: plugTree,
    side: -1,
    tool: input.plugTool,
    start: input.plugStart,
    flat: input.plugFlat,
  });
  const box = boxOf(input.plug.rings);
  const middle = centroid(input.plug);
  return {
    input,
    pocket,
    plug,
    pocketTree,
    plugTree,
    mating: input.pocketStart + input.plugStart,
    box,
    middle,
  };
}

/** Centre of the plug's face: where an even pressure presses. Sums are over twice the area. */
function centroid(region: Region): Point {
  let [twice, sx, sy] = [0, 0, 0];
  for (const ring of region.rings) {
    // Taken from the ring's own first point: far from the origin the sums would lose digits.
    const [ox, oy] = [ring[0] as number, ring[1] as number];
    let [ringTwice, rx, ry] = [0, 0, 0];
    for (let k = 0; k < ring.length; k += 2) {
      const [ax, ay] = [(ring[k] as number) - ox, (ring[k + 1] as number) - oy];
      const next = k + 2 === ring.length ? 0 : k + 2;
      const [bx, by] = [(ring[next] as number) - ox, (ring[next + 1] as number) - oy];
      const cross = ax * by - bx * ay;
      ringTwice += cross;
      rx += (cross * (ax + bx)) / 3;
      ry += (cross * (ay + by)) / 3;
    }
    twice += ringTwice;
    sx += rx + ringTwice * ox;
    sy += ry + ringTwice * oy;
  }
  return twice === 0 ? [0, 0] : [sx / twice, sy / twice];
}

/**
 * How high one column holds a level plug, mm: the plug's wood at p reaches down to mating - lift - plugDepth(p) and
 * the board begins at pocketDepth(p), so lift >= mating - plugDepth - pocketDepth at every p. The greatest of these
 * is the lift. This is the whole law: tips, corners, notches, mismatch, floor and root are all cases of it.
 */
export function liftAt(pair: Pair, x: number, y: number): number {
  return pair.mating - pair.plug.depth(x, y) - pair.pocket.depth(x, y);
}
