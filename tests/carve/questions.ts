import { SegmentTree } from '../../src/geometry/nearest.ts';

/** How often outlines are asked for their nearest edge while something runs; nearly all time goes into that. */
export function questionsOf(run: () => unknown): number {
  const { nearest } = SegmentTree.prototype;
  let asked = 0;
  SegmentTree.prototype.nearest = function (this: SegmentTree, ...where: Parameters<typeof nearest>) {
    asked++;
    return nearest.apply(this, where);
  };
  try {
    run();
  } finally {
    SegmentTree.prototype.nearest = nearest;
  }
  return asked;
}
