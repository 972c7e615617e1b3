import { hypot } from '../geometry/hypot.ts';
import type { Region, Ring } from '../geometry/shapes.ts';

/**
 * Sums over a whole design follow its outlines no closer than this, mm. On two designs with 1500 mm of outline it put
 * wall and room off by 0.1 and 0.6 parts in a hundred, and takes a third of the time.
 */
export const CLOSE_ENOUGH = 0.05;

/**
 * The region with fewer corners, for sums over the whole design (areas, volumes, widths) that need no more: no place
 * of an outline moves by more than `within` mm. A ring that would be left with less than a triangle stays as it is.
 * Outlines nearer than that may touch or cross afterwards, which the offset engine takes.
 */
export function coarser({ rings }: Region, within: number): Region {
  return { rings: rings.map((ring) => coarserRing(ring, within)) };
}

/** Corners are kept where the chord between kept ones would leave the outline too far (Douglas and Peucker, 1973). */
function coarserRing(ring: Ring, within: number): Ring {
  const count = ring.length / 2;
  const kept = new Uint8Array(count);
  kept[0] = 1;
  // From the first corner round to itself: the farthest from it is kept first.
  const open: (readonly [number, number])[] = [[0, count]];
  for (let pair = open.pop(); pair !== undefined; pair = open.pop()) {
    const [from, to] = pair;
    const { at, distance } = farthestFromChord(ring, from, to);
    if (distance <= within) continue;
    kept[at] = 1;
    open.push([from, at], [at, to]);
  }
  const points: number[] = [];
  for (let i = 0; i < count; i++) if (kept[i]) points.push(ring[2 * i]!, ring[2 * i + 1]!);
  return points.length < 6 ? ring : Float64Array.from(points);
}

/** The corner between two others that lies farthest from the straight stretch between them; `to` may be past the end. */
function farthestFromChord(
  ring: Ring,
  from: number,
  to: number,
): { readonly at: number; readonly distance: number } {
  const [ax, ay] = [ring[2 * from]!, ring[2 * from + 1]!];
  const end = (2 * to) % ring.length;
  const [dx, dy] = [ring[end]! - ax, ring[end + 1]! - ay];
  const square = dx * dx + dy * dy;
  let [at, distance] = [from, -1];
  for (let i = from + 1; i < to; i++) {
    const px = ring[2 * i]! - ax;
    const py = ring[2 * i + 1]! - ay;
    const along = square > 0 ? Math.min(1, Math.max(0, (px * dx + py * dy) / square)) : 0;
    const off = hypot(px - along * dx, py - along * dy);
    if (off > distance) {
      at = i;
      distance = off;
    }
  }
  return { at, distance };
}
