import { degrees } from '../units.ts';
import { hypot } from './hypot.ts';
import type { SegmentTree, Shrinking } from './nearest.ts';
import type { Point } from './shapes.ts';

/**
 * Two lengths closer than this, in mm, are the same: a thousandth of the grid the outlines are joined on, and
 * far above the rounding of coordinates of some metres (about 1e-12).
 */
const SAME = 1e-9;
/** How far apart the directions looked in from one inward corner may be. */
const FAN_STEP = degrees(12);
/** Corners turning less than this are straight on. */
const STRAIGHT = 1e-9;

/** What stops a growing disc: its radius, the segment met (-1: none within the limit) and where it is met. */
export interface Touch {
  r: number;
  other: number;
  qx: number;
  qy: number;
}

/** The largest disc inside the region that touches the outline at p. Millimetres; n is a unit vector. */
export interface Disc extends Readonly<Touch> {
  readonly segment: number;
  readonly px: number;
  readonly py: number;
  readonly nx: number;
  readonly ny: number;
}

/**
 * Largest discs along outlines, in the order of walking them: for every segment its own samples, then those of an
 * inward corner at its end (all at the corner, looking in several directions). Arrays are read-only for callers.
 */
export interface DiscSamples {
  readonly count: number;
  /** Samples of segment i are first[i] to first[i + 1] - 1. */
  readonly first: Int32Array;
  /** How many of them lie on the segment itself; the rest are at the corner at its end. */
  readonly onSegment: Int32Array;
  /** How much the outline turns at the end of each segment, as turnAfter has it. */
  readonly turn: Float64Array;
  readonly segment: Int32Array;
  readonly px: Float64Array;
  readonly py: Float64Array;
  readonly nx: Float64Array;
  readonly ny: Float64Array;
  /** Radius, at most the limit asked for. */
  readonly r: Float64Array;
  /** The segment that stops the disc, or -1 when the limit did. */
  readonly other: Int32Array;
  readonly qx: Float64Array;
  readonly qy: Float64Array;
}

/** Two places of the outline with an empty disc exactly between them: no narrower place is near. */
export interface Bottleneck {
  readonly width: number;
  readonly segments: readonly [number, number];
  readonly contacts: readonly [Point, Point];
}

/**
 * Largest discs at places not more than `spacing` mm apart along every segment (at least one each) and at every
 * inward corner. `limit` is the largest radius looked for: cost per disc grows with what lies within it.
 * The region lies on the left (-dy, dx) of every segment, as region rings have it; reversed rings measure the outside.
 */
export function discsAlong(
  tree: SegmentTree,
  options: { readonly spacing: number; readonly limit: number },
): DiscSamples {
  const samples = roomFor(tree, options.spacing);
  const place = nowhere();
  const probe = probeAt(tree, place, options.limit, -1);
  for (let i = 0; i < tree.count; i++) {
    const from = samples.first[i] as number;
    const end = samples.first[i + 1] as number;
    if (from === end) continue;
    const on = samples.onSegment[i] as number;
    const turn = samples.turn[i] as number;
    for (let k = from; k < end; k++) {
      if (k - from < on) placeOn(tree, i, (k - from + 0.5) / on, place);
      else placeAt(tree, i, (turn * (k - from - on + 0.5)) / (end - from - on), place);
      growDisc(tree, probe, options.limit);
      store(samples, k, place, probe);
    }
  }
  return samples;
}

/** The largest disc at one place, of a radius up to `limit` mm. Found faster when a similar disc is `near`. */
export function discAt(tree: SegmentTree, place: Place, limit: number, near?: Disc): Disc {
  const probe = probeAt(tree, place, near?.r ?? limit, near?.other ?? -1);
  growDisc(tree, probe, limit);
  const { segment, px, py, nx, ny } = place;
  return { segment, px, py, nx, ny, r: probe.r, other: probe.other, qx: probe.qx, qy: probe.qy };
}

export function discOf(samples: DiscSamples, k: number): Disc {
  return {
    segment: samples.segment[k] as number,
    px: samples.px[k] as number,
    py: samples.py[k] as number,
    nx: samples.nx[k] as number,
    ny: samples.ny[k] as number,
    r: samples.r[k] as number,
    other: samples.other[k] as number,
    qx: samples.qx[k] as number,
    qy: samples.qy[k] as number,
  };
}

export function centreOf(disc: Disc): Point {
  return [disc.px + disc.r * disc.nx, disc.py + disc.r * disc.ny];
}

/** The angle between the two contacts seen from the disc's centre, radians: pi between parallel walls. */
export function separation(disc: Disc): number {
  if (disc.other < 0) return 0;
  if (disc.r === 0) return Math.PI;
  const ux = (disc.qx - disc.px) / disc.r - 2 * disc.nx;
  const uy = (disc.qy - disc.py) / disc.r - 2 * disc.ny;
  // From the chord between q and the point opposite p: exact where it matters, near a half turn.
  return Math.PI - 2 * Math.asin(Math.min(1, hypot(ux, uy) / 2));
}

/** A place to look from: a point of the outline and the direction looked in, into the region. */
export interface Place {
  readonly segment: number;
  readonly px: number;
  readonly py: number;
  readonly nx: number;
  readonly ny: number;
}

type Moving<T> = { -readonly [K in keyof T]: T[K] };

const nowhere = (): Moving<Place> => ({ segment: -1, px: 0, py: 0, nx: 0, ny: 0 });

/** A place along a segment, t from 0 to 1, looking straight in. The segment must have a length. `at` is made that place. */
export function placeOn(tree: SegmentTree, segment: number, t: number, at = nowhere()): Place {
  const a = tree.coords;
  const q = 4 * segment;
  const ax = a[q] as number;
  const ay = a[q + 1] as number;
  const dx = (a[q + 2] as number) - ax;
  const dy = (a[q + 3] as number) - ay;
  const length = tree.lengthOf(segment);
  at.segment = segment;
  at.px = ax + t * dx;
  at.py = ay + t * dy;
  at.nx = -dy / length;
  at.ny = dx / length;
  return at;
}

/** The corner at the end of a segment, looking in the segment's own inward direction turned by `angle`. */
export function placeAt(tree: SegmentTree, segment: number, angle: number, at = nowhere()): Place {
  const { nx, ny } = placeOn(tree, segment, 1, at);
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  at.px = tree.coords[4 * segment + 2] as number;
  at.py = tree.coords[4 * segment + 3] as number;
  at.nx = nx * cos - ny * sin;
  at.ny = nx * sin + ny * cos;
  return at;
}

/**
 * How much the outline turns at the end of a segment, radians: positive at a corner that sticks out of the region,
 * negative at an inward one. Segments of no length are stepped over.
 */
export function turnAfter(tree: SegmentTree, segment: number): number {
  let next = tree.next(segment);
  while (next !== segment && tree.lengthOf(next) === 0) next = tree.next(next);
  const a = tree.coords;
  const p = 4 * segment;
  const q = 4 * next;
  const dx = (a[p + 2] as number) - (a[p] as number);
  const dy = (a[p + 3] as number) - (a[p + 1] as number);
  const ex = (a[q + 2] as number) - (a[q] as number);
  const ey = (a[q + 3] as number) - (a[q + 1] as number);
  return Math.atan2(dx * ey - dy * ex, dx * ex + dy * ey);
}

/**
 * From two segments that stop one disc, the narrowest place they lead to: the closest points of the two, if the
 * disc on them is empty; otherwise the pair formed with what stands in it, and so on. Undefined when the walls
 * run together in a corner, so that there is no narrowest place. Width 0 where outlines touch in a point.
 */
export function bottleneck(tree: SegmentTree, i: number, j: number, r: number): Bottleneck | undefined {
  let [a, b] = [i, j];
  let reach = r;
  for (let step = 0; step < 60; step++) {
    if (a === b || meet(tree, a, b)) return undefined;
    const contacts = closest(tree, a, b);
    const [[px, py], [qx, qy]] = contacts;
    const width = hypot(qx - px, qy - py);
    if (width < SAME) return { width: 0, segments: [a, b], contacts };
    if (width / 2 > reach * (1 + 1e-9)) return undefined;
    reach = width / 2;
    const x = (px + qx) / 2;
    const y = (py + qy) / 2;
    const hit = tree.nearest(x, y, Math.max(0, reach - SAME) ** 2);
    if (hit < 0) return isInside(tree, a, px, py, x, y) ? { width, segments: [a, b], contacts } : undefined;
    const foot: [number, number] = [0, 0];
    tree.foot(hit, x, y, foot);
    const nearP = hypot(foot[0] - px, foot[1] - py) < hypot(foot[0] - qx, foot[1] - qy);
    if (hit === (nearP ? a : b)) return undefined;
    if (nearP) a = hit;
    else b = hit;
  }
  return undefined;
}

function roomFor(tree: SegmentTree, spacing: number): DiscSamples {
  const first = new Int32Array(tree.count + 1);
  const onSegment = new Int32Array(tree.count);
  const turns = new Float64Array(tree.count);
  for (let i = 0; i < tree.count; i++) {
    const length = tree.lengthOf(i);
    const on = length === 0 ? 0 : Math.max(1, Math.ceil(length / spacing));
    const turn = on === 0 ? 0 : turnAfter(tree, i);
    const fan = turn < -STRAIGHT ? Math.ceil(-turn / FAN_STEP) : 0;
    onSegment[i] = on;
    turns[i] = turn;
    first[i + 1] = (first[i] as number) + on + fan;
  }
  const count = first[tree.count] as number;
  const column = () => new Float64Array(count);
  return {
    count,
    first,
    onSegment,
    turn: turns,
    segment: new Int32Array(count),
    px: column(),
    py: column(),
    nx: column(),
    ny: column(),
    r: column(),
    other: new Int32Array(count),
    qx: column(),
    qy: column(),
  };
}

function store(samples: DiscSamples, k: number, place: Place, touch: Touch): void {
  samples.segment[k] = place.segment;
  samples.px[k] = place.px;
  samples.py[k] = place.py;
  samples.nx[k] = place.nx;
  samples.ny[k] = place.ny;
  samples.r[k] = touch.r;
  samples.other[k] = touch.other;
  samples.qx[k] = touch.qx;
  samples.qy[k] = touch.qy;
}

/** A disc being sought: where from, what stopped it so far, its centre and the square of what stands in it. */
interface Probe extends Shrinking, Touch {
  readonly tree: SegmentTree;
  readonly place: Place;
}

/** `r` and `other` of a similar disc, as a first guess. */
function probeAt(tree: SegmentTree, place: Place, r: number, other: number): Probe {
  return { tree, place, x: 0, y: 0, within2: 0, r, other, qx: 0, qy: 0 };
}

/**
 * Finds the largest disc at a place that nothing stands in. What stopped a neighbouring disc (`r`, `other`) mostly
 * bounds this one closely from the start; where it does not, a little more than the neighbour's radius is tried, then
 * twice as much, and so on. Each step is exact, so the radius is right to rounding whatever the guess.
 */
function growDisc(tree: SegmentTree, probe: Probe, limit: number): void {
  const { r: guess, other: hint } = probe;
  probe.other = -1;
  probe.qx = Number.NaN;
  probe.qy = Number.NaN;
  sizeTo(probe, limit);
  if (hint >= 0 && tree.d2(hint, probe.x, probe.y) < probe.within2) shrinkTo(probe, hint);
  if (probe.other < 0) sizeTo(probe, Math.min(limit, Math.max(guess * 1.25, 1e-6)));
  tree.shrink(probe, shrinkTo);
  while (probe.other < 0 && probe.r < limit) {
    sizeTo(probe, Math.min(limit, probe.r * 2));
    tree.shrink(probe, shrinkTo);
  }
}

function sizeTo(probe: Probe, r: number): void {
  const { px, py, nx, ny } = probe.place;
  probe.r = r;
  probe.x = px + r * nx;
  probe.y = py + r * ny;
  probe.within2 = r > SAME ? (r - SAME) ** 2 : 0;
}

/** Makes the disc touch segment j, if that makes it smaller. Its own segment never does. */
function shrinkTo(probe: Probe, j: number): void {
  const { segment, px, py, nx, ny } = probe.place;
  if (j === segment) return;
  const a = probe.tree.coords;
  const ax = a[4 * j] as number;
  const ay = a[4 * j + 1] as number;
  const bx = a[4 * j + 2] as number;
  const by = a[4 * j + 3] as number;
  if (probe.tree.d2(j, px, py) < SAME * SAME) {
    settle(probe, 0, j, px, py);
    return;
  }
  const length = probe.tree.lengthOf(j);
  if (length > 0) {
    const dx = (bx - ax) / length;
    const dy = (by - ay) / length;
    const height = (px - ax) * -dy + (py - ay) * dx;
    const lean = 1 - Math.sign(height) * (nx * -dy + ny * dx);
    const r = lean > 1e-14 ? Math.abs(height) / lean : Number.POSITIVE_INFINITY;
    const s = (px + r * nx - ax) * dx + (py + r * ny - ay) * dy;
    if (r > 0 && r < probe.r && s >= 0 && s <= length) settle(probe, r, j, ax + s * dx, ay + s * dy);
  }
  shrinkToPoint(probe, ax, ay, j);
  shrinkToPoint(probe, bx, by, j);
}

function shrinkToPoint(probe: Probe, x: number, y: number, j: number): void {
  const { px, py, nx, ny } = probe.place;
  const vx = x - px;
  const vy = y - py;
  const ahead = vx * nx + vy * ny;
  const far2 = vx * vx + vy * vy;
  if (ahead <= 1e-14 * Math.sqrt(far2)) return;
  const r = far2 / (2 * ahead);
  if (r < probe.r) settle(probe, r, j, x, y);
}

function settle(probe: Probe, r: number, other: number, qx: number, qy: number): void {
  sizeTo(probe, r);
  probe.other = other;
  probe.qx = qx;
  probe.qy = qy;
}

/** Whether two segments follow one another round their ring (over segments of no length, too). */
function meet(tree: SegmentTree, i: number, j: number): boolean {
  return follows(tree, i, j) || follows(tree, j, i);
}

function follows(tree: SegmentTree, i: number, j: number): boolean {
  let next = tree.next(i);
  while (next !== j && next !== i && tree.lengthOf(next) === 0) next = tree.next(next);
  return next === j;
}

/** The closest points of two segments that do not cross: one of them is always an end. */
function closest(tree: SegmentTree, i: number, j: number): readonly [Point, Point] {
  const a = tree.coords;
  let best = Number.POSITIVE_INFINITY;
  let pair: readonly [Point, Point] = [
    [0, 0],
    [0, 0],
  ];
  for (let side = 0; side < 4; side++) {
    const [own, over] = side < 2 ? [i, j] : [j, i];
    const q = 4 * own + 2 * (side % 2);
    const end: Point = [a[q] as number, a[q + 1] as number];
    const foot: [number, number] = [0, 0];
    tree.foot(over, end[0], end[1], foot);
    const d2 = (end[0] - foot[0]) ** 2 + (end[1] - foot[1]) ** 2;
    if (d2 >= best) continue;
    best = d2;
    pair = side < 2 ? [end, foot] : [foot, end];
  }
  return pair;
}

/** Whether x,y, which sees p on segment i, lies in the region: left of the segment or of its neighbour at p. */
function isInside(tree: SegmentTree, i: number, px: number, py: number, x: number, y: number): boolean {
  if (leftOf(tree, i, x, y)) return true;
  const a = tree.coords;
  const atStart = px === a[4 * i] && py === a[4 * i + 1];
  const atEnd = px === a[4 * i + 2] && py === a[4 * i + 3];
  return (atStart && leftOf(tree, tree.prev(i), x, y)) || (atEnd && leftOf(tree, tree.next(i), x, y));
}

function leftOf(tree: SegmentTree, i: number, x: number, y: number): boolean {
  const a = tree.coords;
  const ax = a[4 * i] as number;
  const ay = a[4 * i + 1] as number;
  return ((a[4 * i + 2] as number) - ax) * (y - ay) - ((a[4 * i + 3] as number) - ay) * (x - ax) > 0;
}
