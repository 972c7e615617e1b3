import { grow } from '../geometry/offset.ts';
import type { Box, Point, Region } from '../geometry/shapes.ts';
import { ALONG, type Along } from '../job/seen.ts';

/** A way in which callipers are laid over a part, and how pointed its two ends are. */
export interface Span {
  readonly along: Along;
  /** The way, from one end to the other. */
  readonly way: Point;
  /** By how much more than its walls the face of the plug draws in at the end where the way comes from, and at the other. */
  readonly pointed: readonly [from: number, to: number];
}

/** How far a face is drawn in to see how pointed its ends are, mm, and the most that is believed. */
const DRAWN_IN = 0.05;
const MOST_POINTED = 20;

/** The four ways of callipers over a plug with this face and box. */
export function spansOf(face: Region, box: Box): readonly Span[] {
  const less = grow(face, -DRAWN_IN);
  return ALONG.map((along) => {
    const way = wayOf(box, along);
    if (less.rings.length === 0) return { along, way, pointed: [1, 1] };
    const [[from, to], [lessFrom, lessTo]] = [endsAlong(face, way), endsAlong(less, way)];
    return { along, way, pointed: [pointedBy(lessFrom - from), pointedBy(to - lessTo)] };
  });
}

const pointedBy = (drawnIn: number): number => Math.min(MOST_POINTED, Math.max(1, drawnIn / DRAWN_IN));

/** Along x, along y, or aslant from one corner of the box to the opposite one; falling and rising as seen, y down. */
export function wayOf({ minX, maxX, minY, maxY }: Box, along: Along): Point {
  if (along === 'x') return [1, 0];
  if (along === 'y') return [0, 1];
  const [wide, high] = [maxX - minX, maxY - minY];
  const length = Math.max(Number.EPSILON, Math.hypot(wide, high));
  return [wide / length, (along === 'falling' ? high : -high) / length];
}

/** How long a region is between the jaws of callipers laid along a way, mm. */
export function lengthAlong(region: Region, way: Point): number {
  const [from, to] = endsAlong(region, way);
  return to - from;
}

function endsAlong({ rings }: Region, [ux, uy]: Point): readonly [from: number, to: number] {
  let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const ring of rings)
    for (let k = 0; k < ring.length; k += 2) {
      const out = (ring[k] as number) * ux + (ring[k + 1] as number) * uy;
      from = Math.min(from, out);
      to = Math.max(to, out);
    }
  return to < from ? [0, 0] : [from, to];
}
