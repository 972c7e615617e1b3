import { hypot } from './hypot.ts';
import { invert, type Matrix, matrixOf } from './motion.ts';
import type { SegmentTree } from './nearest.ts';
import type { Motion, Point } from './shapes.ts';

/** The farthest place of one outline from another. */
export interface Farthest {
  readonly distance: number;
  /** In the pocket's frame, mm. */
  readonly at: Point;
  readonly from: 'pocket' | 'plug';
}

/** Called with every place found farther than asked: x and y in the frame of its own outline, and its segment there. */
export type FarVisit = (x: number, y: number, distance: number, segment: number) => void;

/** Deviations are found to this much, in mm: a hundredth of a micrometre. */
export const DEVIATION_GIVE = 1e-5;

/** Edges are halved at most this often in search of their farthest point. */
const MOST_HALVINGS = 30;
/** When every far place is wanted a few halvings show enough of them. */
const FEW_HALVINGS = 3;

/**
 * The largest distance, both ways, between the pocket's outline and the plug's outline moved by `motion`, over every
 * point of every edge (not only the corners), to within `DEVIATION_GIVE`.
 *
 * An edge needs no closer look when one segment of the other outline is within reach of both its ends, because the
 * distance to one segment is convex along the edge; or when its ends are near and it is short. All others are halved.
 * `known` may give a distance known to occur, which makes it faster: with nothing beyond it the answer is undefined.
 * An outline without points is infinitely far from one with points.
 */
export function farthest(
  pocket: SegmentTree,
  plug: SegmentTree,
  motion: Motion,
  known = 0,
): Farthest | undefined {
  if (pocket.count === 0 || plug.count === 0) return missingOutline(pocket, plug, motion);
  const there = matrixOf(motion);
  const fromPlug = walk(plug, pocket, there, known);
  const least = fromPlug?.distance ?? known;
  const fromPocket = walk(pocket, plug, matrixOf(invert(motion)), least);
  if (fromPocket !== undefined) {
    return { distance: fromPocket.distance, at: [fromPocket.x, fromPocket.y], from: 'pocket' };
  }
  if (fromPlug === undefined) return undefined;
  const { x, y } = fromPlug;
  const at: Point = [there.xx * x + there.xy * y + there.dx, there.yx * x + there.yy * y + there.dy];
  return { distance: fromPlug.distance, at, from: 'plug' };
}

/**
 * Places of outline `from`, carried by `motion`, farther than `level` mm from `to`: both ends of every edge with
 * such an end, and some between.
 */
export function farPlaces(
  from: SegmentTree,
  to: SegmentTree,
  motion: Motion,
  level: number,
  visit: FarVisit,
): void {
  if (to.count > 0) walk(from, to, matrixOf(motion), level, visit);
}

interface Far {
  readonly distance: number;
  readonly x: number;
  readonly y: number;
}

function missingOutline(pocket: SegmentTree, plug: SegmentTree, motion: Motion): Farthest | undefined {
  if (pocket.count === plug.count) return undefined;
  const at: Point = pocket.count > 0 ? [pocket.coords[0], pocket.coords[1]] : [motion.dx, motion.dy];
  return { distance: Number.POSITIVE_INFINITY, at, from: pocket.count > 0 ? 'pocket' : 'plug' };
}

/** Where outline `from`, carried by `t` into the frame of `to`, is farthest from it and beyond `known`. */
function walk(
  from: SegmentTree,
  to: SegmentTree,
  t: Matrix,
  known: number,
  found?: FarVisit,
): Far | undefined {
  const c = from.coords;
  const every = found !== undefined;
  let worst = known;
  let far: Far | undefined;
  let hint = 0;
  let edge = 0;
  const see = (x: number, y: number, d: number): void => {
    if (found !== undefined && d > known) found(x, y, d, edge);
    if (d > (far?.distance ?? known)) far = { distance: d, x, y };
    if (!every && d > worst) worst = d;
  };
  const distance = (x: number, y: number): number => {
    const px = t.xx * x + t.xy * y + t.dx;
    const py = t.yx * x + t.yy * y + t.dy;
    hint = to.nearest(px, py, Number.POSITIVE_INFINITY, hint);
    return Math.sqrt(to.d2(hint, px, py));
  };
  const reach = (segment: number, x: number, y: number): number =>
    to.d2(segment, t.xx * x + t.xy * y + t.dx, t.yx * x + t.yy * y + t.dy);
  /** Whether one segment is within `worst` of the whole edge. */
  const covers = (segment: number, q: number): boolean =>
    reach(segment, c[q], c[q + 1]) <= worst * worst && reach(segment, c[q + 2], c[q + 3]) <= worst * worst;
  const look = (
    ax: number,
    ay: number,
    da: number,
    ja: number,
    bx: number,
    by: number,
    db: number,
    jb: number,
    depth: number,
  ): void => {
    const length = hypot(bx - ax, by - ay);
    const enough = worst + DEVIATION_GIVE;
    if ((da + db + length) / 2 <= enough || depth === 0) return;
    if (Math.sqrt(reach(ja, bx, by)) <= Math.max(enough, da, db)) return;
    if (Math.sqrt(reach(jb, ax, ay)) <= Math.max(enough, da, db)) return;
    const mx = (ax + bx) / 2;
    const my = (ay + by) / 2;
    const dm = distance(mx, my);
    const jm = hint;
    see(mx, my, dm);
    if (
      Math.max(Math.sqrt(reach(jm, ax, ay)), Math.sqrt(reach(jm, bx, by))) <=
      Math.max(worst, dm) + DEVIATION_GIVE
    )
      return;
    look(ax, ay, da, ja, mx, my, dm, jm, depth - 1);
    look(mx, my, dm, jm, bx, by, db, jb, depth - 1);
  };
  if (!every) worst = coarseWorst(from, distance, see, worst);
  let slack = 0;
  for (let i = 0; i < from.count; i++) {
    const q = 4 * i;
    const length = hypot(c[q + 2] - c[q], c[q + 3] - c[q + 1]);
    if (slack > length) {
      slack = from.next(i) === i + 1 ? slack - length : 0;
      continue;
    }
    if (covers(hint, q)) {
      slack = 0;
      continue;
    }
    const after = to.next(hint);
    const before = to.prev(hint);
    if (covers(after, q) || covers(before, q)) {
      hint = covers(after, q) ? after : before;
      slack = 0;
      continue;
    }
    edge = i;
    const da = distance(c[q], c[q + 1]);
    const ja = hint;
    const db = distance(c[q + 2], c[q + 3]);
    const jb = hint;
    see(c[q], c[q + 1], da);
    see(c[q + 2], c[q + 3], db);
    look(c[q], c[q + 1], da, ja, c[q + 2], c[q + 3], db, jb, every ? FEW_HALVINGS : MOST_HALVINGS);
    // Nothing on the way can be beyond `worst` until the path is longer than what is left to it.
    slack = from.next(i) === i + 1 ? worst - db : 0;
  }
  return far;
}

/** A first look at some corners, so that the walk can pass over most edges quickly. */
function coarseWorst(
  from: SegmentTree,
  distance: (x: number, y: number) => number,
  see: (x: number, y: number, d: number) => void,
  known: number,
): number {
  const stride = Math.max(1, Math.floor(from.count / 400));
  let worst = known;
  for (let i = 0; i < from.count; i += stride) {
    const x = from.coords[4 * i];
    const y = from.coords[4 * i + 1];
    const d = distance(x, y);
    see(x, y, d);
    worst = Math.max(worst, d);
  }
  return worst;
}
