import { hypot } from '../geometry/hypot.ts';
import type { Point, Ring } from '../geometry/shapes.ts';

/** A level cut through a standing part: mm2, its centre, and its second moments about it, mm4. */
export interface Section {
  readonly area: number;
  readonly centre: Point;
  /** Integrals of x x, y y and x y over the cut, measured from its centre. */
  readonly xx: number;
  readonly yy: number;
  readonly xy: number;
}

/** Of outer rings (positive) with their holes (negative), exact for polygons (Green's theorem edge by edge). */
export function sectionOf(rings: readonly Ring[]): Section {
  const [ox, oy] = rings[0] ? [rings[0][0]!, rings[0][1]!] : [0, 0];
  let [area, sx, sy, xx, yy, xy] = [0, 0, 0, 0, 0, 0];
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const ax = ring[j]! - ox;
      const ay = ring[j + 1]! - oy;
      const bx = ring[i]! - ox;
      const by = ring[i + 1]! - oy;
      const cross = ax * by - bx * ay;
      area += cross / 2;
      sx += (cross * (ax + bx)) / 6;
      sy += (cross * (ay + by)) / 6;
      xx += (cross * (ax * ax + ax * bx + bx * bx)) / 12;
      yy += (cross * (ay * ay + ay * by + by * by)) / 12;
      xy += (cross * (ax * by + 2 * ax * ay + 2 * bx * by + bx * ay)) / 24;
    }
  }
  const [cx, cy] = area === 0 ? [0, 0] : [sx / area, sy / area];
  return {
    area,
    centre: [cx + ox, cy + oy],
    xx: xx - area * cx * cx,
    yy: yy - area * cy * cy,
    xy: xy - area * cx * cy,
  };
}

/** The way a cut is weakest in bending: its section modulus, mm3, and the direction of the push, radians. */
export interface WeakestWay {
  readonly modulus: number;
  readonly direction: number;
}

/**
 * A sideways push F at height h raises the stress h F . J^-1 p at the point p of the cut (J the second moments); over
 * all directions of F the worst at p is h F |J^-1 p|. The largest over the corners is the cut's weakest way.
 */
export function weakestWay(section: Section, rings: readonly Ring[]): WeakestWay {
  const { xx, yy, xy, centre } = section;
  const det = xx * yy - xy * xy;
  let [worst, direction] = [0, 0];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const x = ring[i]! - centre[0];
      const y = ring[i + 1]! - centre[1];
      const u = (yy * x - xy * y) / det;
      const v = (xx * y - xy * x) / det;
      const size = hypot(u, v);
      if (size > worst) [worst, direction] = [size, Math.atan2(v, u)];
    }
  }
  return { modulus: worst > 0 ? 1 / worst : 0, direction };
}
