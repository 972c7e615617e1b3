import {
  boxPyramid,
  FAN,
  fillSegments,
  meanSize,
  type Runs,
  ringStarts,
  runsOf,
  segmentLengths,
  sharedStarts,
} from './nearest-boxes.ts';
import type { Box, Ring } from './shapes.ts';

/** Called with the number of each segment found; returning `true` ends the search. */
export type SegmentVisit = (segment: number) => boolean | undefined;

/** A disc that is made smaller as segments are met in it: its centre, and the square of the distance that counts. */
export interface Shrinking {
  x: number;
  y: number;
  within2: number;
}

/** The runs of segments whose boxes meet a box, unless there are more than MOST_NEARBY. */
interface Nearby {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
  readonly runs: Int32Array;
  count: number;
}

/** Among more runs than this the tree is the quicker way. */
const MOST_NEARBY = 64;

/**
 * The segments of some closed rings, ready to be asked which lies nearest.
 *
 * Segment numbers run through the rings in the order given: segment k of a ring joins its point k to its next.
 * A ring of one point is one segment of no length; repeated points make segments of no length, which are measured
 * as points. Lengths in millimetres, squared lengths in square millimetres.
 *
 * The tree is a pyramid of boxes over runs of eight neighbouring segments, so building costs one pass and a
 * question about log n. Its working store is reused between questions: a visit must not ask the same tree again.
 */
export class SegmentTree {
  /** How many segments there are. */
  readonly count: number;
  /** ax, ay, bx, by of every segment. */
  readonly coords: Float64Array;
  /** Number of the first segment of every ring, with the count as last entry. */
  readonly starts: Int32Array;
  private readonly ringNumbers: Int32Array;
  private readonly lengths: Float64Array;
  private shared: Uint8Array | undefined;
  private readonly runs: Runs;
  private readonly levels: readonly Float64Array[];
  /** How large a run's box is, on average. */
  private readonly reach: number;
  private readonly stackLevel: Int32Array;
  private readonly stackGroup: Int32Array;
  private readonly stackD2: Float64Array;
  private last = 0;
  private readonly nearby: Nearby = {
    minX: 1,
    minY: 1,
    maxX: 0,
    maxY: 0,
    runs: new Int32Array(MOST_NEARBY),
    count: 0,
  };

  constructor(rings: readonly Ring[]) {
    this.starts = ringStarts(rings);
    this.count = this.starts[rings.length] as number;
    this.coords = new Float64Array(4 * this.count);
    this.ringNumbers = new Int32Array(this.count);
    rings.forEach((ring, r) => {
      fillSegments(this.coords, this.starts[r] as number, ring);
      this.ringNumbers.fill(r, this.starts[r], this.starts[r + 1]);
    });
    this.lengths = segmentLengths(this.coords);
    this.runs = runsOf(this.coords, this.starts);
    this.levels = boxPyramid(this.coords, this.runs);
    this.reach = meanSize(this.levels[0]);
    const room = FAN * (this.levels.length + 1);
    this.stackLevel = new Int32Array(room);
    this.stackGroup = new Int32Array(room);
    this.stackD2 = new Float64Array(room);
  }

  /** Which ring a segment belongs to. */
  ringOf(segment: number): number {
    return this.ringNumbers[segment] as number;
  }

  /** The segment that starts where this one ends. */
  next(segment: number): number {
    const ring = this.ringOf(segment);
    return segment + 1 === this.starts[ring + 1] ? (this.starts[ring] as number) : segment + 1;
  }

  /** The segment that ends where this one starts. */
  prev(segment: number): number {
    const ring = this.ringOf(segment);
    return segment === this.starts[ring] ? (this.starts[ring + 1] as number) - 1 : segment - 1;
  }

  /** Length of a segment. */
  lengthOf(segment: number): number {
    return this.lengths[segment] as number;
  }

  /** Whether another segment may start at the very point where this one does: `false` is certain. */
  mayShareStart(segment: number): boolean {
    this.shared ??= sharedStarts(this.coords);
    return this.shared[segment] === 1;
  }

  /** Squared distance from a point to a segment. */
  d2(segment: number, x: number, y: number): number {
    return segmentD2(this.coords, 4 * segment, x, y);
  }

  /** Writes the segment's point nearest to x,y into `out`; returns where along it that is, 0 at its start to 1. */
  foot(segment: number, x: number, y: number, out: [number, number]): number {
    const a = this.coords;
    const q = 4 * segment;
    const ax = a[q] as number;
    const ay = a[q + 1] as number;
    const dx = (a[q + 2] as number) - ax;
    const dy = (a[q + 3] as number) - ay;
    const t = along(x - ax, y - ay, dx, dy);
    // At the far end the corner's own figures are given, so that both its segments name the same point.
    out[0] = t === 1 ? (a[q + 2] as number) : ax + t * dx;
    out[1] = t === 1 ? (a[q + 3] as number) : ay + t * dy;
    return t;
  }

  /**
   * The segment nearest to a point, or -1 when none is nearer than the square root of `limit2`.
   * A good guess in `hint` (the answer for a neighbouring point) makes it faster and never changes the distance.
   * Of equally near segments any one may be named.
   */
  nearest(x: number, y: number, limit2 = Number.POSITIVE_INFINITY, hint = -1): number {
    let best = limit2;
    let found = -1;
    // Without a guess the last answer is one: questions mostly run along an outline.
    const guess = hint >= 0 ? hint : this.last;
    if (guess < this.count) {
      const d = segmentD2(this.coords, 4 * guess, x, y);
      if (d < best) {
        best = d;
        found = guess;
      }
    }
    const { coords, runs, levels, stackLevel, stackGroup, stackD2 } = this;
    let depth = this.pushTop(x, y, best);
    while (depth > 0) {
      depth--;
      if ((stackD2[depth] as number) >= best) continue;
      const group = stackGroup[depth] as number;
      const level = stackLevel[depth] as number;
      if (level > 0) {
        const below = levels[level - 1] as Float64Array;
        depth = this.pushChildren(below, level - 1, group * FAN, x, y, best, depth);
        continue;
      }
      const end = runs.end[group] as number;
      for (let i = runs.from[group] as number; i < end; i++) {
        const d = segmentD2(coords, 4 * i, x, y);
        if (d < best) {
          best = d;
          found = i;
        }
      }
    }
    if (found >= 0) this.last = found;
    return found;
  }

  /**
   * Shows every segment that stands in a disc to `meet`, which may make the disc smaller, to lie within what it was:
   * after one pass over what is near, nothing that could be met is left.
   */
  shrink<D extends Shrinking>(disc: D, meet: (disc: D, segment: number) => void): void {
    const { coords, runs, levels, stackLevel, stackGroup, nearby } = this;
    this.lookRound(disc);
    if (nearby.count <= MOST_NEARBY) {
      const boxes = levels[0] as Float64Array;
      for (let n = 0; n < nearby.count; n++) {
        const run = nearby.runs[n] as number;
        if (boxD2(boxes, 4 * run, disc.x, disc.y) >= disc.within2) continue;
        const end = runs.end[run] as number;
        for (let i = runs.from[run] as number; i < end; i++) {
          if (segmentD2(coords, 4 * i, disc.x, disc.y) < disc.within2) meet(disc, i);
        }
      }
      return;
    }
    let depth = this.pushTop(disc.x, disc.y, disc.within2);
    while (depth > 0) {
      depth--;
      const group = stackGroup[depth] as number;
      const level = stackLevel[depth] as number;
      if (boxD2(levels[level] as Float64Array, 4 * group, disc.x, disc.y) >= disc.within2) continue;
      if (level > 0) {
        const below = levels[level - 1] as Float64Array;
        depth = this.pushChildren(below, level - 1, group * FAN, disc.x, disc.y, disc.within2, depth);
        continue;
      }
      const end = runs.end[group] as number;
      for (let i = runs.from[group] as number; i < end; i++) {
        if (segmentD2(coords, 4 * i, disc.x, disc.y) < disc.within2) meet(disc, i);
      }
    }
  }

  /** Sees to it that what is kept as near is all that a disc may meet: mostly it is, for discs follow outlines. */
  private lookRound({ x, y, within2 }: Shrinking): void {
    const { nearby, levels, stackLevel, stackGroup } = this;
    const r = Math.sqrt(within2);
    const far = r + Math.max(r, this.reach);
    const isIn = x - r >= nearby.minX && x + r <= nearby.maxX && y - r >= nearby.minY && y + r <= nearby.maxY;
    // Where it is too crowded for a large disc it need not be for a much smaller one.
    const tooWide = nearby.count > MOST_NEARBY && 4 * far < nearby.maxX - nearby.minX;
    if (isIn && !tooWide) return;
    nearby.minX = x - far;
    nearby.minY = y - far;
    nearby.maxX = x + far;
    nearby.maxY = y + far;
    nearby.count = 0;
    stackLevel[0] = levels.length - 1;
    stackGroup[0] = 0;
    for (let depth = this.count > 0 ? 1 : 0; depth > 0 && nearby.count <= MOST_NEARBY; ) {
      depth--;
      const level = stackLevel[depth] as number;
      const group = stackGroup[depth] as number;
      if (apart(levels[level] as Float64Array, 4 * group, nearby)) continue;
      if (level === 0) {
        nearby.runs[nearby.count++] = group;
        continue;
      }
      const from = group * FAN;
      const end = Math.min((levels[level - 1] as Float64Array).length / 4, from + FAN);
      for (let g = end - 1; g >= from; g--) {
        stackLevel[depth] = level - 1;
        stackGroup[depth++] = g;
      }
    }
  }

  /** Visits every segment with a point not farther than `r` from x,y, in no stated order. */
  within(x: number, y: number, r: number, visit: SegmentVisit): void {
    const limit = r * r;
    this.inBox({ minX: x - r, minY: y - r, maxX: x + r, maxY: y + r }, (i) =>
      this.d2(i, x, y) <= limit ? visit(i) : undefined,
    );
  }

  /** Visits every segment whose own box meets the given box (edges count), in no stated order. */
  inBox(box: Box, visit: SegmentVisit): void {
    if (this.count === 0) return;
    const { runs, levels, stackLevel, stackGroup } = this;
    stackLevel[0] = levels.length - 1;
    stackGroup[0] = 0;
    for (let depth = 1; depth > 0; ) {
      depth--;
      const level = stackLevel[depth] as number;
      const group = stackGroup[depth] as number;
      if (apart(levels[level] as Float64Array, 4 * group, box)) continue;
      if (level > 0) {
        const from = group * FAN;
        const end = Math.min((levels[level - 1] as Float64Array).length / 4, from + FAN);
        for (let g = end - 1; g >= from; g--) {
          stackLevel[depth] = level - 1;
          stackGroup[depth++] = g;
        }
        continue;
      }
      const end = runs.end[group] as number;
      for (let i = runs.from[group] as number; i < end; i++) {
        if (!segmentApart(this.coords, 4 * i, box) && visit(i) === true) return;
      }
    }
  }

  private pushTop(x: number, y: number, best: number): number {
    if (this.count === 0) return 0;
    const top = this.levels.length - 1;
    const d = boxD2(this.levels[top] as Float64Array, 0, x, y);
    if (d >= best) return 0;
    this.stackLevel[0] = top;
    this.stackGroup[0] = 0;
    this.stackD2[0] = d;
    return 1;
  }

  /** Puts the boxes from number `from` on the stack, the nearest last so that it is looked into first. */
  private pushChildren(
    boxes: Float64Array,
    level: number,
    from: number,
    x: number,
    y: number,
    best: number,
    depth: number,
  ): number {
    const { stackLevel, stackGroup, stackD2 } = this;
    const end = Math.min(boxes.length / 4, from + FAN);
    let top = depth;
    for (let g = from; g < end; g++) {
      const d = boxD2(boxes, 4 * g, x, y);
      if (d >= best) continue;
      let k = top++;
      for (; k > depth && (stackD2[k - 1] as number) < d; k--) {
        stackD2[k] = stackD2[k - 1] as number;
        stackGroup[k] = stackGroup[k - 1] as number;
      }
      stackD2[k] = d;
      stackGroup[k] = g;
    }
    for (let k = depth; k < top; k++) stackLevel[k] = level;
    return top;
  }
}

function segmentD2(a: Float64Array, q: number, x: number, y: number): number {
  const ax = a[q] as number;
  const ay = a[q + 1] as number;
  const dx = (a[q + 2] as number) - ax;
  const dy = (a[q + 3] as number) - ay;
  const px = x - ax;
  const py = y - ay;
  const dot = px * dx + py * dy;
  if (dot <= 0) return px * px + py * py;
  const length2 = dx * dx + dy * dy;
  if (dot >= length2) return (px - dx) * (px - dx) + (py - dy) * (py - dy);
  const t = dot / length2;
  const ex = px - t * dx;
  const ey = py - t * dy;
  return ex * ex + ey * ey;
}

/** Where the foot of (x, y) falls along the vector d, held between 0 and 1; 0 for a vector of no length. */
function along(x: number, y: number, dx: number, dy: number): number {
  const length2 = dx * dx + dy * dy;
  const t = length2 > 0 ? (x * dx + y * dy) / length2 : 0;
  return Math.max(0, Math.min(t, 1));
}

function boxD2(boxes: Float64Array, q: number, x: number, y: number): number {
  const minX = boxes[q] as number;
  const minY = boxes[q + 1] as number;
  const maxX = boxes[q + 2] as number;
  const maxY = boxes[q + 3] as number;
  const dx = x < minX ? minX - x : x > maxX ? x - maxX : 0;
  const dy = y < minY ? minY - y : y > maxY ? y - maxY : 0;
  return dx * dx + dy * dy;
}

function apart(boxes: Float64Array, q: number, box: Box): boolean {
  return (
    (boxes[q] as number) > box.maxX ||
    (boxes[q + 1] as number) > box.maxY ||
    (boxes[q + 2] as number) < box.minX ||
    (boxes[q + 3] as number) < box.minY
  );
}

function segmentApart(coords: Float64Array, q: number, box: Box): boolean {
  const ax = coords[q] as number;
  const ay = coords[q + 1] as number;
  const bx = coords[q + 2] as number;
  const by = coords[q + 3] as number;
  return (
    Math.min(ax, bx) > box.maxX ||
    Math.min(ay, by) > box.maxY ||
    Math.max(ax, bx) < box.minX ||
    Math.max(ay, by) < box.minY
  );
}
