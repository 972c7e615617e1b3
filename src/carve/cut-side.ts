import { hypot } from '../geometry/hypot.ts';
import type { SegmentTree } from '../geometry/nearest.ts';

/** Distance to the outline, positive on the side that is cut. */
export function signedRoom(tree: SegmentTree, side: 1 | -1, x: number, y: number): number {
  const i = tree.nearest(x, y);
  const d = Math.sqrt(tree.d2(i, x, y));
  return sideOf(tree, i, x, y) * side >= 0 ? d : -d;
}

/** Edges shorter than this are rounding and have no direction of their own, mm. */
const NO_LENGTH = 1e-6;

/**
 * On which side of the outline a point lies, told from its nearest segment: positive on the left. At a corner the
 * sum of both edges' normals decides, which is right for every corner; where outlines touch in a corner, the edge
 * that leaves it nearest to the point's direction does.
 */
export function sideOf(tree: SegmentTree, segment: number, x: number, y: number): number {
  return sideBy(tree, segment, x, y, normalAt(tree, segment, x, y));
}

/** The same where the normal at the nearest point is known. */
export function sideBy(
  tree: SegmentTree,
  segment: number,
  x: number,
  y: number,
  n: readonly [number, number, number, number],
): number {
  if (mayTouch(tree, segment, n[2], n[3])) return sideAtTouch(tree, x, y, n[2], n[3]);
  return (x - n[2]) * n[0] + (y - n[3]) * n[1];
}

/** Whether a point is an end of the segment where other stretches of outline may pass. */
function mayTouch(tree: SegmentTree, segment: number, x: number, y: number): boolean {
  const q = 4 * segment;
  const a = tree.coords;
  if (a[q] === x && a[q + 1] === y && tree.mayShareStart(segment)) return true;
  return a[q + 2] === x && a[q + 3] === y && tree.mayShareStart(tree.next(segment));
}

/** The side of a point whose nearest point is a corner, however many stretches of outline pass it. */
function sideAtTouch(tree: SegmentTree, x: number, y: number, cx: number, cy: number): number {
  let nearest = Number.NEGATIVE_INFINITY;
  let side = 0;
  tree.within(cx, cy, 0, (i) => {
    const q = 4 * i;
    const a = tree.coords;
    const isStart = a[q] === cx && a[q + 1] === cy;
    const [dx, dy] = [(a[q + 2] as number) - (a[q] as number), (a[q + 3] as number) - (a[q + 1] as number)];
    const length = hypot(dx, dy);
    if (length < NO_LENGTH) return undefined;
    const along = ((isStart ? 1 : -1) * ((x - cx) * dx + (y - cy) * dy)) / length;
    if (along > nearest) {
      nearest = along;
      side = dx * (y - cy) - dy * (x - cx);
    }
    return undefined;
  });
  return side;
}

/** Left normal of the outline at the point of `segment` nearest to x,y (not of unit length), then that point. */
export function normalAt(
  tree: SegmentTree,
  segment: number,
  x: number,
  y: number,
): readonly [number, number, number, number] {
  const foot: [number, number] = [0, 0];
  const t = tree.foot(segment, x, y, foot);
  const own = leftNormal(tree, segment);
  const bare = tree.lengthOf(segment) < NO_LENGTH;
  const after = t >= 1 || bare ? leftNormal(tree, neighbour(tree, segment, 1)) : NONE;
  const before = t <= 0 || bare ? leftNormal(tree, neighbour(tree, segment, -1)) : NONE;
  return [own[0] + after[0] + before[0], own[1] + after[1] + before[1], foot[0], foot[1]];
}

const NONE: readonly [number, number] = [0, 0];

/** The next (or previous) segment that has a direction: points drawn twice make segments without. */
export function neighbour(tree: SegmentTree, segment: number, step: 1 | -1): number {
  let k = segment;
  do k = step > 0 ? tree.next(k) : tree.prev(k);
  while (k !== segment && tree.lengthOf(k) < NO_LENGTH);
  return k;
}

export function leftNormal(tree: SegmentTree, segment: number): [number, number] {
  const q = 4 * segment;
  const a = tree.coords;
  const dx = (a[q + 2] as number) - (a[q] as number);
  const dy = (a[q + 3] as number) - (a[q + 1] as number);
  const length = tree.lengthOf(segment);
  return length < NO_LENGTH ? [0, 0] : [-dy / length, dx / length];
}

/** An edge so short is a hook that rounding has left in an outline rather than a wall, mm. */
const HOOK = 2e-3;
/** One that folds back on its neighbour is a hook up to this length: a path's end that misses its start. */
const FOLD = 0.05;

/**
 * How long the longest hook at an edge is, among it and its neighbours; 0 where there is none. Folds count, and with
 * `every` all that is as short as a hook.
 */
export function hookAt(tree: SegmentTree, segment: number, every: boolean): number {
  return [segment, neighbour(tree, segment, 1), neighbour(tree, segment, -1)].reduce((most, edge) => {
    const length = tree.lengthOf(edge);
    const isHook =
      (every && length < HOOK) || (length < FOLD && (foldsBack(tree, edge, 1) || foldsBack(tree, edge, -1)));
    return isHook ? Math.max(most, length) : most;
  }, 0);
}

function foldsBack(tree: SegmentTree, segment: number, step: 1 | -1): boolean {
  const [ax, ay] = leftNormal(tree, segment);
  const [bx, by] = leftNormal(tree, neighbour(tree, segment, step));
  return ax * bx + ay * by < 0;
}
