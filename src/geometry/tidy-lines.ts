/** From drawn lines to closed rings: which stand open, which enclose nothing, which run back on themselves. */
import { hypot } from './hypot.ts';
import type { Point, RawLine, RawShape, Ring } from './shapes.ts';
import type { TidyFault } from './tidy-fault.ts';
import { TOUCH } from './tidy-search.ts';

/** A line whose points all lie within this of a straight chord encloses nothing, mm. */
const FLAT = 1e-6;

/** A tip whose two sides stay this near each other over their shared length is a spike, mm. */
const SPIKE_WIDTH = 1e-4;

/** Spikes shorter than this are rounding of the drawing's own digits, mm: taken off without a word. */
const SPIKE_LENGTH_LEAST = 0.01;

export interface DrawnRings {
  readonly rings: readonly Ring[];
  /** Position in `shapes` of the shape each ring was drawn by. */
  readonly shapeOf: readonly number[];
  /** Shapes with a spike: their outline has parts without area, even where no edges cross. */
  readonly spiky: ReadonlySet<number>;
  readonly faults: readonly TidyFault[];
}

export function drawnRings(shapes: readonly RawShape[]): DrawnRings {
  const rings: Ring[] = [];
  const shapeOf: number[] = [];
  const spiky = new Set<number>();
  const faults: TidyFault[] = [];
  shapes.forEach((shape, index) => {
    const sources = [shape.source];
    for (const line of shape.lines) {
      const ring = withoutRepeats(line.points);
      const chord = flatLength(ring);
      if (chord !== undefined) {
        faults.push({ kind: 'no-area', sources, at: pointOf(ring, 0), measured: chord, unit: 'mm' });
        continue;
      }
      const gap = openGap(line);
      if (gap > TOUCH) {
        faults.push({
          kind: 'open',
          sources,
          at: pointOf(line.points, line.points.length - 2),
          measured: gap,
          unit: 'mm',
        });
      }
      for (const { at, length } of spikesOf(ring)) {
        spiky.add(index);
        if (length < SPIKE_LENGTH_LEAST) continue;
        faults.push({ kind: 'spike', sources, at, measured: length, unit: 'mm' });
      }
      rings.push(ring);
      shapeOf.push(index);
    }
  });
  return { rings, shapeOf, spiky, faults };
}

function pointOf(points: Float64Array, at: number): Point {
  return [points[at] ?? 0, points[at + 1] ?? 0];
}

/** The points without exact repeats of the one before, and without a repeated closing point. */
function withoutRepeats(points: Float64Array): Ring {
  const n = points.length;
  let repeats = 0;
  const repeated = (i: number): boolean => {
    const j = i === 0 ? n - 2 : i - 2;
    return n > 2 && points[i] === points[j] && points[i + 1] === points[j + 1];
  };
  for (let i = 0; i < n; i += 2) {
    if (!Number.isFinite(points[i]) || !Number.isFinite(points[i + 1])) {
      throw new RangeError(
        `an outline holds the point ${points[i]}, ${points[i + 1]}; finite millimetres are needed`,
      );
    }
    if (repeated(i)) repeats++;
  }
  if (repeats === 0) return points;
  const kept = new Float64Array(Math.max(n - 2 * repeats, 0));
  let k = 0;
  for (let i = 0; i < n; i += 2) {
    if (repeated(i)) continue;
    kept[k++] = points[i]!;
    kept[k++] = points[i + 1]!;
  }
  // A line that is one point over and over keeps that point, so that its place can be told.
  return k > 0 ? kept : points.slice(0, 2);
}

/** Length of the chord a ring without area lies along, mm; undefined for a ring that may enclose something. */
function flatLength(ring: Ring): number | undefined {
  const n = ring.length;
  let far = 0;
  let ux = 0;
  let uy = 0;
  for (let i = 2; i < n; i += 2) {
    const dx = ring[i]! - ring[0]!;
    const dy = ring[i + 1]! - ring[1]!;
    const length = hypot(dx, dy);
    if (length <= far) continue;
    far = length;
    ux = dx / length;
    uy = dy / length;
  }
  if (n < 6 || far === 0) return far;
  for (let i = 2; i < n; i += 2) {
    if (Math.abs(ux * (ring[i + 1]! - ring[1]!) - uy * (ring[i]! - ring[0]!)) > FLAT) return undefined;
  }
  return far;
}

function openGap({ points, closed }: RawLine): number {
  const n = points.length;
  return closed ? 0 : hypot(points[n - 2]! - points[0]!, points[n - 1]! - points[1]!);
}

function spikesOf(ring: Ring): readonly { readonly at: Point; readonly length: number }[] {
  const spikes: { at: Point; length: number }[] = [];
  const n = ring.length;
  for (let i = 0; i < n; i += 2) {
    const before = i === 0 ? n - 2 : i - 2;
    const after = i + 2 === n ? 0 : i + 2;
    const ux = ring[i]! - ring[before]!;
    const uy = ring[i + 1]! - ring[before + 1]!;
    const vx = ring[after]! - ring[i]!;
    const vy = ring[after + 1]! - ring[i + 1]!;
    if (ux * vx + uy * vy >= 0) continue;
    const u = hypot(ux, uy);
    const v = hypot(vx, vy);
    const width = Math.abs(ux * vy - uy * vx) / Math.max(u, v);
    const length = Math.min(u, v);
    if (width <= SPIKE_WIDTH && length > TOUCH) spikes.push({ at: pointOf(ring, i), length });
  }
  return spikes;
}
