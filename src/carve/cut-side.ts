import type { SegmentTree } from '../geometry/nearest.ts';

/** Distance to the outline, positive on the side that is cut. */
export function signedRoom(tree: SegmentTree, side: 1 | -1, x: number, y: number): number {
  const i = tree.nearest(x, y);
  const d = Math.sqrt(tree.d2(i, x, y));
  return sideOf(tree, i, x, y) * side >= 0 ? d : -d;
}

/**
 * On which side of the outline a point lies, told from its nearest segment: positive on the left. At a corner the
 * sum of both edges' normals decides, which is right for every corner.
 */
export function sideOf(tree: SegmentTree, segment: number, x: number, y: number): number {
  const n = normalAt(tree, segment, x, y);
  return (x - n[2]) * n[0] + (y - n[3]) * n[1];
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
  const bare = own[0] === 0 && own[1] === 0;
  const after = t >= 1 || bare ? leftNormal(tree, neighbour(tree, segment, 1)) : NONE;
  const before = t <= 0 || bare ? leftNormal(tree, neighbour(tree, segment, -1)) : NONE;
  return [own[0] + after[0] + before[0], own[1] + after[1] + before[1], foot[0], foot[1]];
}

const NONE: readonly [number, number] = [0, 0];

/** The next (or previous) segment that has a length: repeated points make segments without direction. */
export function neighbour(tree: SegmentTree, segment: number, step: 1 | -1): number {
  let k = segment;
  do k = step > 0 ? tree.next(k) : tree.prev(k);
  while (k !== segment && lengthOf(tree, k) === 0);
  return k;
}

function lengthOf(tree: SegmentTree, segment: number): number {
  const q = 4 * segment;
  const a = tree.coords;
  return Math.hypot((a[q + 2] as number) - (a[q] as number), (a[q + 3] as number) - (a[q + 1] as number));
}

export function leftNormal(tree: SegmentTree, segment: number): [number, number] {
  const q = 4 * segment;
  const a = tree.coords;
  const dx = (a[q + 2] as number) - (a[q] as number);
  const dy = (a[q + 3] as number) - (a[q + 1] as number);
  const length = Math.hypot(dx, dy);
  return length === 0 ? [0, 0] : [-dy / length, dx / length];
}
