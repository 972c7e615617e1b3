import type { Motion, Point, Region, Ring } from './shapes.ts';

/** The motion that leaves everything where it is. */
export const IDENTITY: Motion = { reflect: false, angle: 0, dx: 0, dy: 0 };

/** A motion as numbers to compute with: x' = xx x + xy y + dx, y' = yx x + yy y + dy (mm). */
export interface Matrix {
  readonly xx: number;
  readonly xy: number;
  readonly yx: number;
  readonly yy: number;
  readonly dx: number;
  readonly dy: number;
}

/** The line a reflection flips about, and how far it slides along that line. */
export interface MirrorAxis {
  /** Direction of the line, radians in [0, pi), measured from x towards y. */
  readonly angle: number;
  /** The point of the line nearest to the drawing's origin, mm. */
  readonly through: Point;
  /** Slide along the line after the flip, mm; 0 for a plain reflection. */
  readonly glide: number;
}

export function matrixOf(m: Motion): Matrix {
  const cos = Math.cos(m.angle);
  const sin = Math.sin(m.angle);
  const side = m.reflect ? -1 : 1;
  return { xx: side * cos, xy: -sin, yx: side * sin, yy: cos, dx: m.dx, dy: m.dy };
}

export function apply(m: Motion, x: number, y: number): Point {
  const t = matrixOf(m);
  return [t.xx * x + t.xy * y + t.dx, t.yx * x + t.yy * y + t.dy];
}

/**
 * The ring moved. A reflection turns an outline's sense of rotation over, so the points of a reflected ring are
 * listed backwards: an outer ring stays an outer ring and a hole stays a hole.
 */
function applyRing(m: Motion, ring: Ring): Ring {
  const t = matrixOf(m);
  const moved = new Float64Array(ring.length);
  for (let k = 0; k < ring.length; k += 2) {
    const to = m.reflect ? ring.length - 2 - k : k;
    moved[to] = t.xx * ring[k] + t.xy * ring[k + 1] + t.dx;
    moved[to + 1] = t.yx * ring[k] + t.yy * ring[k + 1] + t.dy;
  }
  return moved;
}

export function applyRegion(m: Motion, region: Region): Region {
  return { rings: region.rings.map((ring) => applyRing(m, ring)) };
}

/** The motion that undoes `m`. */
export function invert(m: Motion): Motion {
  const t = matrixOf(m);
  return {
    reflect: m.reflect,
    angle: m.reflect ? m.angle : -m.angle,
    dx: -(t.xx * m.dx + t.yx * m.dy),
    dy: -(t.xy * m.dx + t.yy * m.dy),
  };
}

/** First `first`, then `second`. */
export function compose(second: Motion, first: Motion): Motion {
  // Sliding a turn through a reflection turns it the other way.
  const [dx, dy] = apply(second, first.dx, first.dy);
  return {
    reflect: second.reflect !== first.reflect,
    angle: wrapAngle(second.angle + (second.reflect ? -first.angle : first.angle)),
    dx,
    dy,
  };
}

/** The same direction between -pi (left out) and pi. */
export function wrapAngle(angle: number): number {
  const turn = 2 * Math.PI;
  const wrapped = angle - turn * Math.round(angle / turn);
  return wrapped <= -Math.PI ? wrapped + turn : wrapped;
}

/**
 * The line a reflecting motion flips about, undefined when it does not reflect. Any reflection followed by a turn
 * and a shift is a flip about one line and a slide along it.
 */
export function mirrorAxis(m: Motion): MirrorAxis | undefined {
  if (!m.reflect) return undefined;
  const half = (m.angle + Math.PI) / 2;
  const angle = half - Math.PI * Math.floor(half / Math.PI);
  const ux = Math.cos(angle);
  const uy = Math.sin(angle);
  const glide = m.dx * ux + m.dy * uy;
  // The flip carries the origin straight across the line, so the line lies half way.
  return { angle, through: [(m.dx - glide * ux) / 2, (m.dy - glide * uy) / 2], glide };
}
