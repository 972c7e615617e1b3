import { applyRegion, wrapAngle } from './motion.ts';
import { motionOnto, type Outline } from './register-outline.ts';
import { signedArea } from './ring.ts';
import type { Motion, Point, Ring } from './shapes.ts';

/** The plug's outlines are the pocket's, corner for corner. */
export interface SameOutlines {
  readonly motion: Motion;
  /** How far the corner that lies worst is off, mm; no point between corners is farther off. */
  readonly deviation: number;
  /** Where that is, in the pocket's frame. */
  readonly at: Point;
}

/** Corners this near, mm, are the same: what the deviation is found to anyway (register-deviation.ts). */
const SAME = 1e-5;
/** Turns tried, the smallest first. */
const MOST_TURNS = 64;

/**
 * The motion that lays the plug's outlines onto the pocket's corner for corner, with the smallest turn where there are
 * several; undefined when there is none. Most pairs are made by mirroring one drawing, and then no search is needed.
 */
export function sameOutlines(pocket: Outline, plug: Outline, reflect: boolean): SameOutlines | undefined {
  if (pocket.tree.count !== plug.tree.count || pocket.region.rings.length !== plug.region.rings.length)
    return undefined;
  for (const angle of turns(pocket, plug, reflect)) {
    const motion = motionOnto(angle, reflect, plug.centre, pocket.centre);
    const found = cornerForCorner(pocket.region.rings, applyRegion(motion, plug.region).rings);
    if (found !== undefined) return { motion, ...found };
  }
  return undefined;
}

/** Turns about the centre that bring a corner of the plug to the pocket's farthest corner, the smallest first. */
function turns(pocket: Outline, plug: Outline, reflect: boolean): readonly number[] {
  const [far, at] = farthestCorner(pocket);
  const angles: number[] = [];
  const [cx, cy] = plug.centre;
  for (const ring of plug.region.rings) {
    for (let k = 0; k < ring.length; k += 2) {
      const x = reflect ? cx - (ring[k] as number) : (ring[k] as number) - cx;
      const y = (ring[k + 1] as number) - cy;
      const off = Math.sqrt(x * x + y * y) - far;
      if (off > SAME) return [];
      if (off < -SAME) continue;
      const angle = wrapAngle(at - Math.atan2(y, x));
      angles.push(Math.abs(angle) < 1e-12 ? 0 : angle);
    }
  }
  return angles.sort((a, b) => Math.abs(a) - Math.abs(b) || b - a).slice(0, MOST_TURNS);
}

/** How far the farthest corner is from the centre, and in which direction. */
function farthestCorner({ region, centre }: Outline): readonly [distance: number, direction: number] {
  let far = -1;
  let direction = 0;
  for (const ring of region.rings) {
    for (let k = 0; k < ring.length; k += 2) {
      const x = (ring[k] as number) - centre[0];
      const y = (ring[k + 1] as number) - centre[1];
      const d2 = x * x + y * y;
      if (d2 <= far) continue;
      far = d2;
      direction = Math.atan2(y, x);
    }
  }
  return [Math.sqrt(far), direction];
}

function cornerForCorner(
  pocket: readonly Ring[],
  plug: readonly Ring[],
): Omit<SameOutlines, 'motion'> | undefined {
  const left = pocket.map((ring) => ({ ring, area: signedArea(ring), met: false }));
  let worst2 = 0;
  let at: Point = [pocket[0]?.[0] ?? 0, pocket[0]?.[1] ?? 0];
  for (const ring of plug) {
    const area = signedArea(ring);
    // A corner off by SAME changes the area by that times an edge; the corners themselves are compared next.
    const twin = left.find(
      (other) =>
        !other.met &&
        other.ring.length === ring.length &&
        Math.abs(other.area - area) <= 1e-3 * (1 + Math.abs(area)) &&
        offset(other.ring, ring) >= 0,
    );
    if (twin === undefined) return undefined;
    twin.met = true;
    const from = offset(twin.ring, ring);
    for (let k = 0; k < ring.length; k += 2) {
      const d2 = cornerD2(twin.ring, (from + k) % ring.length, ring, k);
      if (d2 <= worst2) continue;
      worst2 = d2;
      at = [ring[k] as number, ring[k + 1] as number];
    }
  }
  return { deviation: Math.sqrt(worst2), at };
}

/** Where in a ring another one of as many corners begins, when they are the same ring; else -1. */
function offset(ring: Ring, other: Ring): number {
  for (let from = 0; from < ring.length; from += 2) {
    let k = 0;
    while (k < ring.length && cornerD2(ring, (from + k) % ring.length, other, k) <= SAME * SAME) k += 2;
    if (k === ring.length) return from;
  }
  return -1;
}

function cornerD2(a: Ring, i: number, b: Ring, k: number): number {
  const dx = (a[i] as number) - (b[k] as number);
  const dy = (a[i + 1] as number) - (b[k + 1] as number);
  return dx * dx + dy * dy;
}
