import { degrees } from '../units.ts';
import { type Disc, type DiscSamples, discOf, discsAlong, separation } from './discs.ts';
import { hypot } from './hypot.ts';
import { SegmentTree } from './nearest.ts';
import type { Point, Ring } from './shapes.ts';

/** Walls whose contacts stand this far apart, seen from the disc between them, run side by side: a stroke. */
export const OPPOSITE = degrees(150);
/** A disc's two contacts closer than this many disc widths along the outline are the two sides of one rounding. */
const ROUNDING = 1.5;
/** Repeated points: nearer than this, in mm. */
const SAME = 1e-9;
/** Discs are looked for a little beyond the limit, so that a neck just under it is seen from both its corners. */
const BEYOND = 1.05;
/** Samples per limit width along the outline. */
const PER_LIMIT = 3;
/** Samples looked at on either side of a place. */
const BESIDE = 3;

/** A stretch of outline whose largest discs are all narrower than the limit. */
export interface Arc {
  readonly ring: number;
  /** Its samples, first to last; a closed arc is a whole ring, an open one may run over the ring's start. */
  readonly samples: readonly number[];
  readonly closed: boolean;
}

/** The outlines walked once round with their largest discs. Lengths in mm. */
export interface Walk {
  readonly tree: SegmentTree;
  readonly samples: DiscSamples;
  /** The limit: narrow means less than this across. */
  readonly below: number;
  readonly spacing: number;
  /** Length of outline before each segment of its ring. */
  readonly before: Float64Array;
  /** Length of each ring. */
  readonly around: Float64Array;
  /** Number of the arc of each sample, -1 where the region is wide enough. */
  readonly arcOf: Int32Array;
  readonly arcs: readonly Arc[];
  /** How many wide samples come before each sample. */
  readonly wideBefore: Int32Array;
}

/** Walks rings (the region on the left of each) with discs up to the limit. */
export function walk(rings: readonly Ring[], below: number): Walk {
  const tree = new SegmentTree(rings.map(withoutRepeats).filter((ring) => ring.length >= 6));
  const spacing = below / PER_LIMIT;
  const samples = discsAlong(tree, { spacing, limit: (below / 2) * BEYOND });
  const before = new Float64Array(tree.count);
  const around = new Float64Array(tree.starts.length - 1);
  for (let i = 0; i < tree.count; i++) {
    const ring = tree.ringOf(i);
    before[i] = around[ring] as number;
    around[ring] = (before[i] as number) + tree.lengthOf(i);
  }
  const wideBefore = new Int32Array(samples.count + 1);
  for (let k = 0; k < samples.count; k++) {
    wideBefore[k + 1] = (wideBefore[k] as number) + (isNarrow(samples.r[k] as number, below) ? 0 : 1);
  }
  const arcOf = new Int32Array(samples.count).fill(-1);
  const arcs = arcsOf(tree, samples, wideBefore, arcOf);
  return { tree, samples, below, spacing, before, around, arcOf, arcs, wideBefore };
}

/** Narrower than the limit by more than the rounding of a long sum: exactly at the limit holds. */
export function isNarrow(r: number, below: number): boolean {
  return 2 * r < below * (1 - 1e-9);
}

/** Whether a disc lies between two walls of a stroke, rather than in a corner or at a rounding. */
export function isStroke(walk: Walk, disc: Disc): boolean {
  if (disc.other < 0 || disc.r < SAME || !isNarrow(disc.r, walk.below)) return false;
  return separation(disc) >= OPPOSITE - 1e-9 && lapOfDisc(walk, disc) >= ROUNDING * 2 * disc.r;
}

export function isStrokeSample(walk: Walk, k: number): boolean {
  return (walk.arcOf[k] as number) >= 0 && isStroke(walk, discOf(walk.samples, k));
}

export function lapOfDisc(walk: Walk, disc: Disc): number {
  return lap(walk, disc.segment, disc.px, disc.py, disc.other, disc.qx, disc.qy);
}

/** The shorter way along the outline from one place to another, mm; infinite between different outlines. */
export function lap(
  walk: Walk,
  i: number,
  px: number,
  py: number,
  j: number,
  qx: number,
  qy: number,
): number {
  const ring = walk.tree.ringOf(i);
  if (ring !== walk.tree.ringOf(j)) return Number.POSITIVE_INFINITY;
  const way = Math.abs(position(walk, i, px, py) - position(walk, j, qx, qy));
  return Math.min(way, (walk.around[ring] as number) - way);
}

/** The sample `step` places on, round the ring. */
export function stepOn(walk: Walk, k: number, step: number): number {
  const ring = walk.tree.ringOf(walk.samples.segment[k] as number);
  const from = walk.samples.first[walk.tree.starts[ring] as number] as number;
  const end = walk.samples.first[walk.tree.starts[ring + 1] as number] as number;
  const size = end - from;
  return from + ((((k - from + step) % size) + size) % size);
}

/**
 * The narrow sample that sees the same disc from the other wall: contact q on a segment, centre c. Of the samples
 * beside q the one whose own disc has its centre nearest, at most a spacing away; -1 when there is none.
 */
export function narrowSampleAt(walk: Walk, segment: number, q: Point, c: Point): number {
  const { px, py, nx, ny, r } = walk.samples;
  const { before, after } = cut(walk, segment, q);
  const size = Math.max(0, after - before) + 2 * BESIDE;
  let best = walk.spacing ** 2;
  let found = -1;
  let k = stepOn(walk, before, -BESIDE);
  for (let n = 0; n < size; n++, k = stepOn(walk, k, 1)) {
    if ((walk.arcOf[k] as number) < 0) continue;
    const x = (px[k] as number) + (r[k] as number) * (nx[k] as number) - c[0];
    const y = (py[k] as number) + (r[k] as number) * (ny[k] as number) - c[1];
    if (x * x + y * y >= best) continue;
    best = x * x + y * y;
    found = k;
  }
  return found;
}

/**
 * The samples on either side of a place: those before `before` and those from `after` on. Samples of a corner at that
 * very place look both ways and are on neither side; at a ring's very start they stand at the end of its samples, so
 * that `before` is larger than `after`.
 */
export function cut(
  walk: Walk,
  segment: number,
  [x, y]: Point,
): { readonly before: number; readonly after: number } {
  const { first, onSegment } = walk.samples;
  const t = walk.tree.foot(segment, x, y, [0, 0]);
  const from = first[segment] as number;
  const on = onSegment[segment] as number;
  const prev = walk.tree.prev(segment);
  if (t <= 0) return { before: (first[prev] as number) + (onSegment[prev] as number), after: from };
  if (t >= 1) return { before: from + on, after: first[segment + 1] as number };
  const at = from + Math.min(on, Math.ceil(t * on - 0.5));
  return { before: at, after: at };
}

function position(walk: Walk, segment: number, x: number, y: number): number {
  const q = 4 * segment;
  const ax = walk.tree.coords[q] as number;
  const ay = walk.tree.coords[q + 1] as number;
  return (walk.before[segment] as number) + hypot(x - ax, y - ay);
}

/** The ring without points given twice in a row, which have no direction to look in. */
function withoutRepeats(ring: Ring): Ring {
  if (!hasRepeats(ring)) return ring;
  const kept: number[] = [];
  for (let k = 0; k < ring.length; k += 2) {
    const x = ring[k] as number;
    const y = ring[k + 1] as number;
    const n = kept.length;
    if (n > 0 && hypot(x - (kept[n - 2] as number), y - (kept[n - 1] as number)) < SAME) continue;
    kept.push(x, y);
  }
  while (kept.length > 2 && hypot(kept[0]! - kept.at(-2)!, kept[1]! - kept.at(-1)!) < SAME) kept.length -= 2;
  return new Float64Array(kept);
}

function hasRepeats(ring: Ring): boolean {
  for (let k = 0, last = ring.length - 2; k < ring.length; last = k, k += 2) {
    const dx = (ring[k] as number) - (ring[last] as number);
    if (hypot(dx, (ring[k + 1] as number) - (ring[last + 1] as number)) < SAME) return true;
  }
  return false;
}

function arcsOf(tree: SegmentTree, samples: DiscSamples, wideBefore: Int32Array, arcOf: Int32Array): Arc[] {
  const arcs: Arc[] = [];
  for (let ring = 0; ring + 1 < tree.starts.length; ring++) {
    const from = samples.first[tree.starts[ring] as number] as number;
    const end = samples.first[tree.starts[ring + 1] as number] as number;
    const isWide = (k: number) => (wideBefore[k + 1] as number) > (wideBefore[k] as number);
    let start = from;
    while (start < end && !isWide(start)) start++;
    const closed = start === end;
    if (closed) start = from;
    let open: number[] = [];
    for (let n = 0; n < end - from; n++) {
      const k = from + ((start - from + n) % (end - from));
      if (!isWide(k)) {
        arcOf[k] = arcs.length;
        open.push(k);
      }
      if (open.length > 0 && (isWide(k) || n === end - from - 1)) {
        arcs.push({ ring, samples: open, closed });
        open = [];
      }
    }
  }
  return arcs;
}
