/** What a search tree is built from: the figures of its segments, and boxes round runs of them. */
import { hypot } from './hypot.ts';
import { boxOf } from './ring.ts';
import type { Ring } from './shapes.ts';

/** Boxes per parent box; 4, 8 and 16 take the same time on 59,000 segments. */
export const FAN = 8;

export function ringStarts(rings: readonly Ring[]): Int32Array {
  const starts = new Int32Array(rings.length + 1);
  rings.forEach((ring, r) => {
    starts[r + 1] = (starts[r] as number) + ring.length / 2;
  });
  return starts;
}

export function fillSegments(coords: Float64Array, first: number, ring: Ring): void {
  const n = ring.length;
  for (let k = 0; k < n; k += 2) {
    const q = 4 * first + 2 * k;
    const next = k + 2 === n ? 0 : k + 2;
    coords[q] = ring[k] as number;
    coords[q + 1] = ring[k + 1] as number;
    coords[q + 2] = ring[next] as number;
    coords[q + 3] = ring[next + 1] as number;
  }
}

export function segmentLengths(coords: Float64Array): Float64Array {
  const lengths = new Float64Array(coords.length / 4);
  for (let i = 0, q = 0; i < lengths.length; i++, q += 4) {
    const dx = (coords[q + 2] as number) - (coords[q] as number);
    lengths[i] = hypot(dx, (coords[q + 3] as number) - (coords[q + 1] as number));
  }
  return lengths;
}

/** Marks segments with the same figure for their start as another: the same point has the same figure. */
export function sharedStarts(coords: Float64Array): Uint8Array {
  const shared = new Uint8Array(coords.length / 4);
  const known = new Map<number, number>();
  for (let i = 0; i < shared.length; i++) {
    const figure = (coords[4 * i] as number) + Math.PI * (coords[4 * i + 1] as number);
    const other = known.get(figure);
    if (other === undefined) known.set(figure, i);
    else {
      shared[i] = 1;
      shared[other] = 1;
    }
  }
  return shared;
}

/** Neighbouring segments, from the first to before the end: what the lowest boxes are put round. */
export interface Runs {
  readonly from: Int32Array;
  readonly end: Int32Array;
}

/** Of fewer rings than this the odd box round the end of one and the start of the next costs nothing. */
const MANY_RINGS = 32;

/**
 * Runs of eight segments or fewer. Of many rings each has runs of its own, and rings near one another come one after
 * the other, for their boxes are joined: a box from one island to another far off is in the way of every question.
 */
export function runsOf(coords: Float64Array, starts: Int32Array): Runs {
  const from: number[] = [];
  const end: number[] = [];
  const cut = (first: number, last: number): void => {
    for (let i = first; i < last; i += FAN) {
      from.push(i);
      end.push(Math.min(last, i + FAN));
    }
  };
  if (starts.length <= MANY_RINGS) cut(0, coords.length / 4);
  else
    for (const ring of nearOnesTogether(coords, starts))
      cut(starts[ring] as number, starts[ring + 1] as number);
  return { from: Int32Array.from(from), end: Int32Array.from(end) };
}

/** Cells across the drawing, a power of two. */
const CELLS = 1024;

/** Ring numbers in the order of their first points along Morton's curve, which goes through four quarters in turn. */
function nearOnesTogether(coords: Float64Array, starts: Int32Array): readonly number[] {
  const rings = Array.from({ length: starts.length - 1 }, (_, r) => r);
  const box = boxOf([coords]);
  const cell = Math.max(box.maxX - box.minX, box.maxY - box.minY) / (CELLS - 1) || 1;
  const place = rings.map((r) => {
    const q = 4 * (starts[r] as number);
    const column = Math.floor(((coords[q] as number) - box.minX) / cell);
    const row = Math.floor(((coords[q + 1] as number) - box.minY) / cell);
    let along = 0;
    for (let bit = 1; bit < CELLS; bit *= 2)
      along += bit * bit * ((column & bit ? 1 : 0) + (row & bit ? 2 : 0));
    return along;
  });
  return rings.sort((a, b) => (place[a] as number) - (place[b] as number) || a - b);
}

/** Boxes of runs of segments, boxes of eight boxes, and so on up to one. */
export function boxPyramid(coords: Float64Array, { from, end }: Runs): readonly Float64Array[] {
  if (from.length === 0) return [];
  let below = new Float64Array(4 * from.length);
  // The corners of a segment taken as a box may be the wrong way round, which only the lowest pass has to mind.
  for (let k = 0; k < from.length; k++) joinBoxes(coords, from[k] as number, end[k] as number, below, k);
  const levels = [below];
  while (below.length > 4) {
    const count = below.length / 4;
    const above = new Float64Array(4 * Math.ceil(count / FAN));
    for (let k = 0; 4 * k < above.length; k++)
      joinBoxes(below, k * FAN, Math.min(count, k * FAN + FAN), above, k);
    levels.push(above);
    below = above;
  }
  return levels;
}

/** Writes the box round some boxes as number `at` of others. */
function joinBoxes(parts: Float64Array, from: number, end: number, into: Float64Array, at: number): void {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (let q = 4 * from; q < 4 * end; q += 4) {
    minX = Math.min(minX, parts[q] as number, parts[q + 2] as number);
    maxX = Math.max(maxX, parts[q] as number, parts[q + 2] as number);
    minY = Math.min(minY, parts[q + 1] as number, parts[q + 3] as number);
    maxY = Math.max(maxY, parts[q + 1] as number, parts[q + 3] as number);
  }
  into[4 * at] = minX;
  into[4 * at + 1] = minY;
  into[4 * at + 2] = maxX;
  into[4 * at + 3] = maxY;
}

/** The larger side of a box, on average over some boxes. */
export function meanSize(boxes: Float64Array | undefined): number {
  if (boxes === undefined) return 0;
  let sum = 0;
  for (let q = 0; q < boxes.length; q += 4) {
    const width = (boxes[q + 2] as number) - (boxes[q] as number);
    sum += Math.max(width, (boxes[q + 3] as number) - (boxes[q + 1] as number));
  }
  return sum / (boxes.length / 4);
}
