import type { RawLine } from '../geometry/shapes.ts';
import { degrees } from '../units.ts';
import type { PathSink } from './path.ts';
import type { Matrix } from './transform.ts';

/** Largest distance between a drawn curve and the straight lines that stand for it, millimetres. */
export const CHORD_ERROR = 0.005;

/** Halving a curve this often reaches the last bit of its coordinates. */
const MOST_HALVINGS = 40;

/** A point that cannot be taken: beyond the reach of any machine, or too many of them. */
export class FlattenFault extends Error {}

/**
 * Farther than this from the page's corner, mm, is no router's work (common practice, no source: the longest beds are
 * some metres), and outlines so long would be looked along for many seconds.
 */
export const FARTHEST = 10_000;

/** Counts the points of a whole drawing, so that a small file cannot fill the memory. */
export interface PointBudget {
  left: number;
}

/**
 * Turns pen strokes into straight lines, after the matrix, so that the error is in the target's units: no curve lies
 * farther than `error` from its chord (both ways). Repeated points are dropped. A subpath counts as closed when it
 * was closed, or when its ends meet exactly.
 */
export class Flattener implements PathSink {
  private readonly matrix: Matrix;
  private readonly error: number;
  private readonly budget: PointBudget;
  private readonly lines: RawLine[] = [];
  private points: number[] = [];
  /** Pen position in the shape's own units. */
  private x = 0;
  private y = 0;

  constructor(matrix: Matrix, error: number, budget: PointBudget) {
    this.matrix = matrix;
    this.error = error;
    this.budget = budget;
  }

  finish(): readonly RawLine[] {
    this.end(false);
    return this.lines;
  }

  move(x: number, y: number): void {
    this.end(false);
    this.line(x, y);
  }

  line(x: number, y: number): void {
    const [a, b, c, d, e, f] = this.matrix;
    this.push(a * x + c * y + e, b * x + d * y + f);
    this.x = x;
    this.y = y;
  }

  close(): void {
    this.end(true);
  }

  quad(x1: number, y1: number, x: number, y: number): void {
    // The same curve, raised to a cubic.
    this.cubic(
      this.x + (2 / 3) * (x1 - this.x),
      this.y + (2 / 3) * (y1 - this.y),
      x + (2 / 3) * (x1 - x),
      y + (2 / 3) * (y1 - y),
      x,
      y,
    );
  }

  cubic(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void {
    const [a, b, c, d, e, f] = this.matrix;
    this.halve(
      a * this.x + c * this.y + e,
      b * this.x + d * this.y + f,
      a * x1 + c * y1 + e,
      b * x1 + d * y1 + f,
      a * x2 + c * y2 + e,
      b * x2 + d * y2 + f,
      a * x + c * y + e,
      b * x + d * y + f,
      0,
    );
    this.x = x;
    this.y = y;
  }

  /**
   * Halves a cubic (de Casteljau) until it keeps to its chord. The curve is a weighted mean of its four control
   * points; the two inner ones weigh 3/4 together at most, and distance to the chord is convex, so that 3/4 of the
   * inner points' distance bounds the curve's. So does an eighth of the largest second derivative, which is smaller
   * on evenly run curves. Squares are compared: 3/4 squared is 0.5625.
   */
  private halve(
    x0: number,
    y0: number,
    x1: number,
    y1: number,
    x2: number,
    y2: number,
    x3: number,
    y3: number,
    depth: number,
  ): void {
    const limit2 = (this.error * this.error) / 0.5625;
    const flat =
      Math.max(square(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), square(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3)) <=
        limit2 || Math.max(toSegment2(x1, y1, x0, y0, x3, y3), toSegment2(x2, y2, x0, y0, x3, y3)) <= limit2;
    if (flat || depth === MOST_HALVINGS) {
      this.push(x3, y3);
      return;
    }
    const ax = (x0 + x1) / 2;
    const ay = (y0 + y1) / 2;
    const bx = (x1 + x2) / 2;
    const by = (y1 + y2) / 2;
    const cx = (x2 + x3) / 2;
    const cy = (y2 + y3) / 2;
    const px = (ax + bx) / 2;
    const py = (ay + by) / 2;
    const qx = (bx + cx) / 2;
    const qy = (by + cy) / 2;
    const mx = (px + qx) / 2;
    const my = (py + qy) / 2;
    this.halve(x0, y0, ax, ay, px, py, mx, my, depth + 1);
    this.halve(mx, my, qx, qy, cx, cy, x3, y3, depth + 1);
  }

  /**
   * An arc is an affine image of a piece of the unit circle. A chord over `step` radians leaves that circle by
   * 1 - cos(step / 2); the matrix stretches this by its largest factor `reach` at most.
   */
  arc(rx: number, ry: number, turn: number, large: boolean, sweep: boolean, x: number, y: number): void {
    const piece = arcPiece(this.x, this.y, rx, ry, turn, large, sweep, x, y);
    if (piece === undefined) {
      this.line(x, y);
      return;
    }
    const [a, b, c, d, e, f] = this.matrix;
    const ux = a * piece.ux + c * piece.uy;
    const uy = b * piece.ux + d * piece.uy;
    const vx = a * piece.vx + c * piece.vy;
    const vy = b * piece.vx + d * piece.vy;
    const centreX = a * piece.cx + c * piece.cy + e;
    const centreY = b * piece.cx + d * piece.cy + f;
    const sum = (ux * ux + uy * uy + vx * vx + vy * vy) / 2;
    const difference = (ux * ux + uy * uy - vx * vx - vy * vy) / 2;
    const reach = Math.sqrt(sum + Math.hypot(difference, ux * vx + uy * vy));
    if (!Number.isFinite(reach)) throw new FlattenFault('An arc is too large to be drawn.');
    const step = reach > this.error ? 2 * Math.acos(1 - this.error / reach) : Math.PI;
    const count = Math.max(1, Math.ceil(Math.abs(piece.through) / Math.min(step, Math.PI / 2) - 1e-9));
    if (count > this.budget.left) this.refuseMore();
    for (let i = 1; i < count; i++) {
      const at = piece.from + (piece.through * i) / count;
      const cos = Math.cos(at);
      const sin = Math.sin(at);
      this.push(centreX + cos * ux + sin * vx, centreY + cos * uy + sin * vy);
    }
    this.line(x, y);
  }

  private push(x: number, y: number): void {
    // Written so that NaN is refused too.
    if (!(Math.abs(x) <= FARTHEST && Math.abs(y) <= FARTHEST))
      throw new FlattenFault(
        `A point lies more than ${FARTHEST / 1000} m from the page's corner (x ${tell(x)}, y ${tell(y)} mm).`,
      );
    const { points } = this;
    const n = points.length;
    if (n > 0 && points[n - 2] === x && points[n - 1] === y) return;
    if (--this.budget.left < 0) this.refuseMore();
    points.push(x, y);
  }

  private refuseMore(): never {
    throw new FlattenFault('The drawing comes to more points than are measured; simplify its curves.');
  }

  private end(closed: boolean): void {
    const { points } = this;
    if (points.length === 0) return;
    const n = points.length;
    const meets = n > 2 && points[0] === points[n - 2] && points[1] === points[n - 1];
    if (meets) points.length = n - 2;
    this.lines.push({ points: Float64Array.from(points), closed: closed || meets });
    this.points = [];
  }
}

const tell = (value: number): string => (Number.isNaN(value) ? 'none' : value.toPrecision(3));

const square = (x: number, y: number): number => x * x + y * y;

/** Squared distance of a point from a segment; squares spare the roots in the innermost loop. */
function toSegment2(px: number, py: number, ax: number, ay: number, bx: number, by: number): number {
  const dx = bx - ax;
  const dy = by - ay;
  const length2 = dx * dx + dy * dy;
  const along = length2 === 0 ? 0 : ((px - ax) * dx + (py - ay) * dy) / length2;
  const t = along < 0 ? 0 : Math.min(1, along);
  return square(px - ax - t * dx, py - ay - t * dy);
}

interface ArcPiece {
  readonly cx: number;
  readonly cy: number;
  /** Images of (1, 0) and (0, 1) of the unit circle. */
  readonly ux: number;
  readonly uy: number;
  readonly vx: number;
  readonly vy: number;
  readonly from: number;
  readonly through: number;
}

/**
 * End points to centre (SVG 2, appendix B.2): radii lose their sign and grow until they reach; `undefined` where the
 * standard draws a straight line or nothing.
 */
function arcPiece(
  x0: number,
  y0: number,
  rxWritten: number,
  ryWritten: number,
  turn: number,
  large: boolean,
  sweep: boolean,
  x: number,
  y: number,
): ArcPiece | undefined {
  let rx = Math.abs(rxWritten);
  let ry = Math.abs(ryWritten);
  if (rx === 0 || ry === 0 || (x0 === x && y0 === y)) return undefined;
  const angle = degrees(turn);
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const halfX = (x0 - x) / 2;
  const halfY = (y0 - y) / 2;
  const px = cos * halfX + sin * halfY;
  const py = -sin * halfX + cos * halfY;
  const stretch = (px * px) / (rx * rx) + (py * py) / (ry * ry);
  let k = 0;
  if (stretch > 1) {
    rx *= Math.sqrt(stretch);
    ry *= Math.sqrt(stretch);
  } else k = Math.sqrt(Math.max(0, (1 - stretch) / stretch)) * (large === sweep ? -1 : 1);
  const qx = (k * rx * py) / ry;
  const qy = (-k * ry * px) / rx;
  const from = Math.atan2((py - qy) / ry, (px - qx) / rx);
  let through = Math.atan2((-py - qy) / ry, (-px - qx) / rx) - from;
  if (sweep && through < 0) through += 2 * Math.PI;
  else if (!sweep && through > 0) through -= 2 * Math.PI;
  return {
    cx: cos * qx - sin * qy + (x0 + x) / 2,
    cy: sin * qx + cos * qy + (y0 + y) / 2,
    ux: rx * cos,
    uy: rx * sin,
    vx: -ry * sin,
    vy: ry * cos,
    from,
    through,
  };
}
