/** Edges finer than any drawing is meant to have, taken off a finished outline. */
import type { Ring } from './shapes.ts';

/** Points nearer to each other than this are one, mm: a fiftieth of what a curve may be off as it is read. */
export const CRUMB = 1e-4;

/**
 * The outline without points that lie within CRUMB of the one before, and without tips whose two sides do: joining
 * and offsetting leave such hooks, and the direction of an edge of a few nanometres says nothing of the wall there.
 * No point of the outline moves by more than CRUMB, a tip without width apart; the ring itself when there are none,
 * empty when nothing else is left. Rings in mm.
 */
export function withoutCrumbs(ring: Ring): Ring {
  if (!hasCrumbs(ring)) return ring;
  const n = ring.length;
  const kept: number[] = [];
  const near = (k: number, x: number, y: number): boolean =>
    Math.abs((kept[k] as number) - x) <= CRUMB && Math.abs((kept[k + 1] as number) - y) <= CRUMB;
  for (let i = 0; i < n; i += 2) {
    const [x, y] = [ring[i] as number, ring[i + 1] as number];
    const end = kept.length;
    if (end >= 2 && near(end - 2, x, y)) continue;
    if (end >= 4 && near(end - 4, x, y)) kept.length = end - 2;
    else kept.push(x, y);
  }
  return Float64Array.from(acrossSeam(kept, near));
}

/** Whether any point lies so near to the next but one, or to the next. */
function hasCrumbs(ring: Ring): boolean {
  const n = ring.length;
  for (let i = 0; i < n; i += 2) {
    const x = ring[i] as number;
    const y = ring[i + 1] as number;
    for (let step = 2; step <= 4; step += 2) {
      const j = (i + step) % n;
      if (Math.abs((ring[j] as number) - x) <= CRUMB && Math.abs((ring[j + 1] as number) - y) <= CRUMB)
        return true;
    }
  }
  return false;
}

/** The same across the seam, where the last point meets the first. */
function acrossSeam(kept: number[], near: (k: number, x: number, y: number) => boolean): readonly number[] {
  let from = 0;
  while (kept.length - from >= 6) {
    const end = kept.length;
    const [x, y] = [kept[from] as number, kept[from + 1] as number];
    if (near(end - 2, x, y)) kept.length = end - 2;
    else if (near(end - 4, x, y)) kept.length = end - 4;
    else if (near(from + 2, kept[end - 2] as number, kept[end - 1] as number)) {
      // The first point is the tip: the last and the second are one.
      from += 2;
    } else break;
  }
  return kept.length - from >= 6 ? kept.slice(from) : [];
}
