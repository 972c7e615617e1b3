/** Plain measures of a single closed outline. All take mm and never change their input. */
import { hypot } from './hypot.ts';
import type { Box, Point, Ring } from './shapes.ts';

/**
 * Half the sum of x_i*y_(i+1) - x_(i+1)*y_i, in mm2; positive for outer rings. Taken relative to the first
 * point so that a small ring far from the origin keeps its digits.
 */
export function signedArea(ring: Ring): number {
  const n = ring.length;
  if (n < 6) return 0;
  const ox = ring[0]!;
  const oy = ring[1]!;
  let twice = 0;
  let px = ring[n - 2]! - ox;
  let py = ring[n - 1]! - oy;
  for (let i = 0; i < n; i += 2) {
    const x = ring[i]! - ox;
    const y = ring[i + 1]! - oy;
    twice += px * y - x * py;
    px = x;
    py = y;
  }
  return twice / 2;
}

/** Length round the ring, closing edge included, in mm. */
export function perimeter(ring: Ring): number {
  const n = ring.length;
  let length = 0;
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    length += hypot(ring[i]! - ring[j]!, ring[i + 1]! - ring[j + 1]!);
  }
  return length;
}

export function ringBox(ring: Ring): Box {
  return boxOf([ring]);
}

/** The box round all rings. Of no rings: minX = minY = Infinity, maxX = maxY = -Infinity. */
export function boxOf(rings: readonly Ring[]): Box {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const x = ring[i]!;
      const y = ring[i + 1]!;
      if (x < minX) minX = x;
      if (x > maxX) maxX = x;
      if (y < minY) minY = y;
      if (y > maxY) maxY = y;
    }
  }
  return { minX, minY, maxX, maxY };
}

/** The same outline walked the other way. The first point stays first. */
export function reversed(ring: Ring): Ring {
  const n = ring.length;
  const back = new Float64Array(n);
  for (let i = 0; i < n; i += 2) {
    const from = (n - i) % n;
    back[i] = ring[from]!;
    back[i + 1] = ring[from + 1]!;
  }
  return back;
}

/** Every point sent through `to`. A reflecting `to` turns the ring's orientation round. */
export function mapRing(ring: Ring, to: (x: number, y: number) => Point): Ring {
  const mapped = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) {
    const [x, y] = to(ring[i]!, ring[i + 1]!);
    mapped[i] = x;
    mapped[i + 1] = y;
  }
  return mapped;
}

/**
 * How often the ring winds round (x, y): +1 inside a simple positive ring, -1 inside a negative one, 0 outside.
 * A point on an edge counts as lying just beside it at larger x (at larger y on a level edge), so that of two
 * rings sharing an edge exactly one has it; nearer to an edge than rounding (1e-16 of the coordinates) either
 * answer may come.
 */
export function windingNumber(ring: Ring, x: number, y: number): number {
  const n = ring.length;
  let winding = 0;
  let ax = ring[n - 2]!;
  let ay = ring[n - 1]!;
  for (let i = 0; i < n; i += 2) {
    const bx = ring[i]!;
    const by = ring[i + 1]!;
    if (ay <= y !== by <= y && rightOf(ax, ay, bx, by, x, y)) winding += by > ay ? 1 : -1;
    ax = bx;
    ay = by;
  }
  return winding;
}

/** Whether the edge a-b, known to straddle the level y, passes it at an x strictly larger than the given one. */
export function rightOf(ax: number, ay: number, bx: number, by: number, x: number, y: number): boolean {
  const cross = (bx - ax) * (y - ay) - (x - ax) * (by - ay);
  return by > ay ? cross > 0 : cross < 0;
}

/** Whether the ring, of either orientation, encloses (x, y) by the non-zero rule; edges as in `windingNumber`. */
export function ringContains(ring: Ring, x: number, y: number): boolean {
  return windingNumber(ring, x, y) !== 0;
}
