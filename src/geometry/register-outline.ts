import { hypot } from './hypot.ts';
import { wrapAngle } from './motion.ts';
import { SegmentTree } from './nearest.ts';
import { perimeter } from './ring.ts';
import type { Motion, Point, Region, Ring } from './shapes.ts';

/** An outline made ready for being laid over another one. */
export interface Outline {
  readonly region: Region;
  readonly tree: SegmentTree;
  /** Places spread evenly along all rings, mm. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Centre of the area, mm. */
  readonly centre: Point;
  /** Largest distance of a sample from the centre, mm. */
  readonly size: number;
}

/** Places along an outline that the search looks at; a fitted start needs far fewer than an exact answer. */
const SAMPLES = 512;

export function outlineOf(region: Region): Outline {
  const { x, y } = spread(region.rings, SAMPLES);
  const centre = areaCentre(region.rings);
  let size = 0;
  for (let k = 0; k < x.length; k++) size = Math.max(size, hypot(x[k] - centre[0], y[k] - centre[1]));
  return { region, tree: new SegmentTree(region.rings), x, y, centre, size };
}

/** About `count` places evenly along the rings, at least one on each of them. */
export function spread(rings: readonly Ring[], count: number): { x: Float64Array; y: Float64Array } {
  const lengths = rings.map(perimeter);
  const step = lengths.reduce((sum, l) => sum + l, 0) / count;
  const numbers = lengths.map((l) => (step > 0 ? Math.max(1, Math.round(l / step)) : 1));
  const total = numbers.reduce((sum, n) => sum + n, 0);
  const x = new Float64Array(total);
  const y = new Float64Array(total);
  let at = 0;
  rings.forEach((ring, r) => {
    spreadRing(ring, lengths[r], x, y, at, numbers[r]);
    at += numbers[r];
  });
  return { x, y };
}

function spreadRing(
  ring: Ring,
  length: number,
  x: Float64Array,
  y: Float64Array,
  first: number,
  count: number,
): void {
  let gone = 0;
  let k = 0;
  for (let i = 0; i < ring.length && k < count; i += 2) {
    const j = i + 2 === ring.length ? 0 : i + 2;
    const edge = hypot(ring[j] - ring[i], ring[j + 1] - ring[i + 1]);
    for (; k < count; k++) {
      const t = ((k + 0.5) / count) * length - gone;
      if (t > edge && j !== 0) break;
      const part = edge > 0 ? Math.min(1, t / edge) : 0;
      x[first + k] = ring[i] + part * (ring[j] - ring[i]);
      y[first + k] = ring[i + 1] + part * (ring[j + 1] - ring[i + 1]);
    }
    gone += edge;
  }
}

/** Centre of area of the rings taken together; without any area the middle of their points. */
export function areaCentre(rings: readonly Ring[]): Point {
  if (rings.length === 0) return [0, 0];
  const ox = rings[0][0];
  const oy = rings[0][1];
  let area = 0;
  let mx = 0;
  let my = 0;
  let size = 0;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const ax = ring[j] - ox;
      const ay = ring[j + 1] - oy;
      const bx = ring[i] - ox;
      const by = ring[i + 1] - oy;
      const cross = ax * by - bx * ay;
      area += cross;
      mx += (ax + bx) * cross;
      my += (ay + by) * cross;
      size = Math.max(size, ax * ax + ay * ay);
    }
  }
  if (Math.abs(area) <= 1e-12 * size) return middle(rings);
  return [ox + mx / (3 * area), oy + my / (3 * area)];
}

function middle(rings: readonly Ring[]): Point {
  let count = 0;
  let x = 0;
  let y = 0;
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      x += ring[i];
      y += ring[i + 1];
      count++;
    }
  }
  return [x / count, y / count];
}

/** The motion with this turn that carries `from` to `to`. */
export function motionOnto(angle: number, reflect: boolean, from: Point, to: Point): Motion {
  const x = reflect ? -from[0] : from[0];
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  return {
    reflect,
    angle: wrapAngle(angle),
    dx: to[0] - (cos * x - sin * from[1]),
    dy: to[1] - (sin * x + cos * from[1]),
  };
}
