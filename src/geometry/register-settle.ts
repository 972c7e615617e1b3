import { hypot } from './hypot.ts';
import { type Matrix, matrixOf, wrapAngle } from './motion.ts';
import type { Outline } from './register-outline.ts';
import type { Motion } from './shapes.ts';

/** A motion with how well it lays the plug over the pocket. */
export interface Settled {
  readonly motion: Motion;
  /** Mean of log(1 + (d / small)^2): rewards outlines that lie exactly on each other nearly everywhere. */
  readonly cost: number;
  /** Largest distance met at the samples looked at, mm. */
  readonly most: number;
}

/** Distances well under this part of the design's size count as lying on each other. */
const SMALL = 1e-4;

/** One place of either outline: the plug's point, its distance vector from the pocket's, the direction that counts. */
export interface Meeting {
  /** The plug's point in the pocket's frame. */
  x: number;
  y: number;
  /** From the pocket's point to the plug's. */
  rx: number;
  ry: number;
  /** Unit normal of the edge met; for a corner met, the direction of the distance. */
  nx: number;
  ny: number;
  distance: number;
  /** The nearest point of the other outline is a corner. */
  corner: boolean;
  /** The nearest point, in the frame of the outline met. */
  readonly foot: [number, number];
  /** Segment met, a hint for the next time. */
  segment: number;
}

export function emptyMeeting(): Meeting {
  return { x: 0, y: 0, rx: 0, ry: 0, nx: 1, ny: 0, distance: 0, corner: false, foot: [0, 0], segment: 0 };
}

const CORNER_NEAR = 1e-9;

/** Where a place of the plug, moved, meets the pocket's outline. */
export function meetFromPlug(pocket: Outline, x: number, y: number, t: Matrix, into: Meeting): void {
  into.x = t.xx * x + t.xy * y + t.dx;
  into.y = t.yx * x + t.yy * y + t.dy;
  const along = footOn(pocket, into.x, into.y, into);
  into.rx = into.x - into.foot[0];
  into.ry = into.y - into.foot[1];
  const c = pocket.tree.coords;
  const q = 4 * into.segment;
  orient(into, c[q + 2] - c[q], c[q + 3] - c[q + 1], along);
}

/** Where a place of the pocket meets the moved plug's outline. */
export function meetFromPocket(plug: Outline, x: number, y: number, t: Matrix, into: Meeting): void {
  const px = x - t.dx;
  const py = y - t.dy;
  const along = footOn(plug, t.xx * px + t.yx * py, t.xy * px + t.yy * py, into);
  const [fx, fy] = into.foot;
  into.x = t.xx * fx + t.xy * fy + t.dx;
  into.y = t.yx * fx + t.yy * fy + t.dy;
  into.rx = into.x - x;
  into.ry = into.y - y;
  const c = plug.tree.coords;
  const q = 4 * into.segment;
  const ex = c[q + 2] - c[q];
  const ey = c[q + 3] - c[q + 1];
  orient(into, t.xx * ex + t.xy * ey, t.yx * ex + t.yy * ey, along);
}

function footOn({ tree }: Outline, x: number, y: number, into: Meeting): number {
  into.segment = tree.nearest(x, y, Number.POSITIVE_INFINITY, into.segment);
  return tree.foot(into.segment, x, y, into.foot);
}

function orient(into: Meeting, ex: number, ey: number, along: number): void {
  into.distance = hypot(into.rx, into.ry);
  const length = hypot(ex, ey);
  into.corner = (along <= 0 || along >= 1 || length === 0) && into.distance > CORNER_NEAR;
  if (into.corner) {
    into.nx = into.rx / into.distance;
    into.ny = into.ry / into.distance;
  } else if (length > 0) {
    into.nx = -ey / length;
    into.ny = ex / length;
  } else {
    into.nx = 1;
    into.ny = 0;
  }
}

/**
 * Moves the plug step by step to where most of its outline lies on the pocket's: weighted least squares of the
 * distances along the normals, far places counting little (Cauchy's weight with the median distance as its width),
 * so that missing or extra pieces do not pull. `stride` looks at every so many samples.
 */
export function settle(
  pocket: Outline,
  plug: Outline,
  start: Motion,
  steps: number,
  stride: number,
): Settled {
  const meetings = samplesOf(pocket, plug, stride);
  const small = SMALL * pocket.size;
  let motion = start;
  let best = measure(pocket, plug, motion, meetings, stride, small);
  for (let k = 0; k < steps; k++) {
    const width = Math.max(1.5 * medianDistance(meetings), small);
    const next = step(meetings, motion, pocket, width);
    const reached = measure(pocket, plug, next, meetings, stride, small);
    const gain = best.cost - reached.cost;
    motion = next;
    if (gain > 0) best = reached;
    if (gain < 1e-6 * (1 + best.cost) && k > 2) break;
  }
  return best;
}

function samplesOf(pocket: Outline, plug: Outline, stride: number): Meeting[] {
  const count = Math.ceil(pocket.x.length / stride) + Math.ceil(plug.x.length / stride);
  return Array.from({ length: count }, emptyMeeting);
}

function measure(
  pocket: Outline,
  plug: Outline,
  motion: Motion,
  meetings: Meeting[],
  stride: number,
  small: number,
): Settled {
  const t = matrixOf(motion);
  let at = 0;
  for (let k = 0; k < pocket.x.length; k += stride) {
    meetFromPocket(plug, pocket.x[k], pocket.y[k], t, meetings[at++]);
  }
  for (let k = 0; k < plug.x.length; k += stride) {
    meetFromPlug(pocket, plug.x[k], plug.y[k], t, meetings[at++]);
  }
  let cost = 0;
  let most = 0;
  for (const { distance } of meetings) {
    cost += Math.log1p((distance / small) ** 2);
    most = Math.max(most, distance);
  }
  return { motion, cost: cost / meetings.length, most };
}

export function medianDistance(meetings: readonly Meeting[]): number {
  const sorted = Float64Array.from(meetings, (m) => m.distance).sort();
  return sorted[sorted.length >> 1];
}

/** One weighted least-squares step of shift and turn about the pocket's centre. */
function step(meetings: readonly Meeting[], motion: Motion, pocket: Outline, width: number): Motion {
  const [cx, cy] = pocket.centre;
  const a = [0, 0, 0, 0, 0, 0];
  const b = [0, 0, 0];
  for (const m of meetings) {
    const w = 1 / (1 + (m.distance / width) ** 2);
    const turn = (m.ny * (m.x - cx) - m.nx * (m.y - cy)) / pocket.size;
    const off = m.nx * m.rx + m.ny * m.ry;
    a[0] += w * m.nx * m.nx;
    a[1] += w * m.nx * m.ny;
    a[2] += w * m.nx * turn;
    a[3] += w * m.ny * m.ny;
    a[4] += w * m.ny * turn;
    a[5] += w * turn * turn;
    b[0] -= w * m.nx * off;
    b[1] -= w * m.ny * off;
    b[2] -= w * turn * off;
  }
  // A little stiffness keeps a disc, which no turn changes, from spinning.
  const stiff = 1e-9 * (a[0] + a[3] + a[5]) + 1e-300;
  const z = solve3(a[0] + stiff, a[1], a[2], a[3] + stiff, a[4], a[5] + stiff, b);
  return nudge(motion, pocket, z[0], z[1], z[2] / pocket.size);
}

/** The motion followed by a turn about the pocket's centre and a shift. */
export function nudge(motion: Motion, pocket: Outline, dx: number, dy: number, turn: number): Motion {
  const [cx, cy] = pocket.centre;
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const x = motion.dx - cx;
  const y = motion.dy - cy;
  return {
    reflect: motion.reflect,
    angle: wrapAngle(motion.angle + turn),
    dx: cx + cos * x - sin * y + dx,
    dy: cy + sin * x + cos * y + dy,
  };
}

/** Solves the symmetric system [[a,b,c],[b,d,e],[c,e,f]] z = r by Cholesky's way. */
function solve3(
  a: number,
  b: number,
  c: number,
  d: number,
  e: number,
  f: number,
  r: readonly number[],
): number[] {
  const l1 = b / a;
  const l2 = c / a;
  const d2 = d - l1 * b;
  const e2 = e - l1 * c;
  const l3 = e2 / d2;
  const d3 = f - l2 * c - l3 * e2;
  const y1 = r[1] - l1 * r[0];
  const y2 = r[2] - l2 * r[0] - l3 * y1;
  const z2 = y2 / d3;
  const z1 = y1 / d2 - l3 * z2;
  return [r[0] / a - l1 * z1 - l2 * z2, z1, z2];
}
