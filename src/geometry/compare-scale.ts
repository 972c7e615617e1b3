import { MM_PER_INCH } from '../units.ts';
import { leastSquares } from './compare-squares.ts';
import { hypot } from './hypot.ts';
import { type Matrix, matrixOf } from './motion.ts';
import { fitAt, polishAll } from './register.ts';
import { type Outline, outlineOf } from './register-outline.ts';
import { candidates } from './register-search.ts';
import { emptyMeeting, medianDistance, meetFromPlug } from './register-settle.ts';
import { mapRing, signedArea } from './ring.ts';
import type { Motion, Point, Region } from './shapes.ts';

/** How many times the pocket's size the plug is. */
export interface Scale {
  /** Along the plug drawing's own x and y. */
  readonly x: number;
  readonly y: number;
  /** The one factor that comes nearest when both are the same. */
  readonly uniform: number;
  /** Direction (radians, mod pi, in the plug's drawing) of the factor farthest from 1, when it is neither x nor y. */
  readonly axis?: number;
  /** A mix-up of units that makes this very factor. */
  readonly known?: string;
  /** What that mix-up makes exactly. */
  readonly exact?: number;
  /** Deviation left when the scale is taken out, mm. */
  readonly residual: number;
}

export const NO_SCALE: Scale = { x: 1, y: 1, uniform: 1, residual: 0 };

/**
 * Factors that come of reading a drawing in the wrong unit: inches for millimetres, 72 or 90 dots an inch for 96,
 * dots for millimetres.
 */
const MIX_UPS: readonly (readonly [string, number])[] = [
  ['inch', MM_PER_INCH],
  ['1/inch', 1 / MM_PER_INCH],
  ['96/72', 96 / 72],
  ['72/96', 72 / 96],
  ['96/90', 96 / 90],
  ['90/96', 90 / 96],
  ['px/mm', 96 / MM_PER_INCH],
  ['mm/px', MM_PER_INCH / 96],
  ['pt/mm', 72 / MM_PER_INCH],
  ['mm/pt', MM_PER_INCH / 72],
  ['10', 10],
  ['1/10', 0.1],
];
/** Nearness, as part of the factor, at which a mix-up is recognised. */
const KNOWN_WITHIN = 5e-4;

/** The plug with its scale taken out, laid on the pocket. */
export interface Unscaled {
  readonly scale: Scale;
  readonly plug: Outline;
  readonly motion: Motion;
  /** From this plug's frame to that of the plug as drawn. */
  readonly back: (at: Point) => Point;
  /** One factor for both directions. */
  readonly even: boolean;
}

/** Linear part and shift that carry the plug onto the pocket. */
interface Affine extends Matrix {
  readonly cost: number;
}

/**
 * The scale that brings the plug nearest to the pocket: one factor for both directions, or one each when that leaves
 * much less. `motion` is the best rigid fit found, a start for scales near 1; the others come from the areas, from
 * the second moments of area (two factors) and from the known mix-ups.
 */
export function scaleOf(
  pocket: Outline,
  plug: Outline,
  reflect: boolean,
  motion: Motion,
  tolerance: number,
): Unscaled {
  const rigid = affineOf(motion, 1, 1, 0);
  const better = (x: Unscaled, y: Unscaled): Unscaled =>
    y.scale.residual < (y.even === x.even ? 1 : 0.5) * x.scale.residual ? y : x;
  const attempt = (starts: readonly Affine[], unknowns: 4 | 6): Unscaled =>
    unscale(
      pocket,
      plug,
      cheapest(starts.map((s) => refine(pocket, plug, s, unknowns))),
      unknowns === 4,
      tolerance,
    );
  let best = attempt([rigid], 4);
  if (best.scale.residual <= tolerance / 4) return best;
  best = better(best, attempt([rigid], 6));
  if (best.scale.residual <= tolerance / 4) return best;
  const thinPocket = outlineOf(thinned(pocket.region));
  const thinPlug = outlineOf(thinned(plug.region));
  const even = evenStarts(thinPocket, thinPlug, reflect);
  if (even.length > 0) best = better(best, attempt(even, 4));
  if (best.scale.residual <= tolerance / 4) return best;
  const uneven = momentStarts(thinPocket, thinPlug, reflect);
  return uneven.length > 0 ? better(best, attempt(uneven, 6)) : best;
}

/** Corners that starts are sought with: those are refined on the whole outlines afterwards. */
const START_CORNERS = 3000;

function thinned(region: Region): Region {
  const corners = region.rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  const every = Math.floor(corners / START_CORNERS);
  if (every < 2) return region;
  return {
    rings: region.rings.map((ring) => {
      const step = Math.max(1, Math.min(every, Math.floor(ring.length / 16)));
      return ring.filter((_, k) => (k >> 1) % step === 0);
    }),
  };
}

function cheapest(all: readonly Affine[]): Affine {
  return all.reduce((a, b) => (b.cost < a.cost ? b : a));
}

/** Starts with one factor, each with its own best rigid fit. */
function evenStarts(pocket: Outline, plug: Outline, reflect: boolean): readonly Affine[] {
  const byArea = Math.sqrt(Math.abs(totalArea(pocket.region) / totalArea(plug.region)));
  const bySpread = Math.sqrt(trace(momentsOf(pocket.region)) / trace(momentsOf(plug.region)));
  const bySize = pocket.size / plug.size;
  const near = (f: number): boolean => Math.abs(Math.log(f / byArea)) < 0.25;
  const factors = [byArea, bySpread, bySize, ...MIX_UPS.map(([, f]) => f).filter(near)];
  return factors
    .filter(
      (f, k) => Number.isFinite(f) && f > 0 && !factors.slice(0, k).some((g) => Math.abs(f / g - 1) < 1e-3),
    )
    .map((factor) => {
      const resized = outlineOf(stretch(plug.region, factor, factor, 0));
      const [found] = candidates(pocket, resized, { reflect, quick: true });
      return affineOf(found.motion, factor, factor, 0);
    });
}

/**
 * Starts with two factors: both designs stretched until their second moments of area are those of a disc differ by
 * a turn only.
 */
function momentStarts(pocket: Outline, plug: Outline, reflect: boolean): readonly Affine[] {
  const a = rootOf(momentsOf(pocket.region));
  const b = rootOf(momentsOf(plug.region));
  if (a === undefined || b === undefined) return [];
  const p = inverse(a);
  const q = inverse(b);
  const round = outlineOf(stretch(pocket.region, p[0], p[2], p[1]));
  const other = outlineOf(stretch(plug.region, q[0], q[2], q[1]));
  const [found] = candidates(round, other, { reflect, quick: true });
  const t = matrixOf(found.motion);
  const left = product([a[0], a[1], a[1], a[2]], [t.xx, t.xy, t.yx, t.yy]);
  const [xx, xy, yx, yy] = product(left, [q[0], q[1], q[1], q[2]]);
  const dx = a[0] * t.dx + a[1] * t.dy;
  const dy = a[1] * t.dx + a[2] * t.dy;
  return [{ xx, xy, yx, yy, dx, dy, cost: Number.POSITIVE_INFINITY }];
}

function affineOf(m: Motion, sx: number, sy: number, sxy: number): Affine {
  const t = matrixOf(m);
  const [xx, xy, yx, yy] = product([t.xx, t.xy, t.yx, t.yy], [sx, sxy, sxy, sy]);
  return { xx, xy, yx, yy, dx: t.dx, dy: t.dy, cost: Number.POSITIVE_INFINITY };
}

const REFINEMENTS = 10;

/** Weighted least squares over shift, turn and one factor (4 unknowns) or a general linear map (6). */
function refine(pocket: Outline, plug: Outline, start: Affine, unknowns: 4 | 6): Affine {
  const meetings = Array.from({ length: plug.x.length }, emptyMeeting);
  const small = 1e-4 * pocket.size;
  let t: Matrix = start;
  let best: Affine = start;
  for (let round = 0; round <= REFINEMENTS; round++) {
    let cost = 0;
    for (let k = 0; k < meetings.length; k++) {
      meetFromPlug(pocket, plug.x[k], plug.y[k], t, meetings[k]);
      cost += Math.log1p((meetings[k].distance / small) ** 2) / meetings.length;
    }
    if (!Number.isFinite(cost)) break;
    const gain = best.cost - cost;
    if (gain > 0) best = { ...t, cost };
    if (gain < 1e-6 && round > 2) break;
    const width = Math.max(1.5 * medianDistance(meetings), small);
    const z = leastSquares(
      meetings.map((m) => {
        const x = (m.x - pocket.centre[0]) / pocket.size;
        const y = (m.y - pocket.centre[1]) / pocket.size;
        const turnAndScale = [m.ny * x - m.nx * y, m.nx * x + m.ny * y];
        const linear = unknowns === 4 ? turnAndScale : [m.nx * x, m.nx * y, m.ny * x, m.ny * y];
        return {
          row: [m.nx, m.ny, ...linear],
          value: -(m.nx * m.rx + m.ny * m.ry),
          weight: 1 / (1 + (m.distance / width) ** 2),
        };
      }),
      unknowns,
    );
    if (z === undefined) break;
    t = moveOn(t, pocket, unknowns === 4 ? [z[0], z[1], z[3], -z[2], z[2], z[3]] : z);
  }
  return best;
}

/** The map followed by x -> x + E (x - centre) / size + shift. */
function moveOn(t: Matrix, { centre, size }: Outline, z: readonly number[]): Matrix {
  const e = [1 + z[2] / size, z[3] / size, z[4] / size, 1 + z[5] / size];
  const [xx, xy, yx, yy] = product(e, [t.xx, t.xy, t.yx, t.yy]);
  const x = t.dx - centre[0];
  const y = t.dy - centre[1];
  return {
    xx,
    xy,
    yx,
    yy,
    dx: e[0] * x + e[1] * y + centre[0] + z[0],
    dy: e[2] * x + e[3] * y + centre[1] + z[1],
  };
}

/** Splits the map into a stretch in the plug's own drawing and a motion, and measures what is left. */
function unscale(pocket: Outline, plug: Outline, t: Affine, even: boolean, tolerance: number): Unscaled {
  // t = Q S with S symmetric: S^2 = t't.
  const s = rootOf([t.xx * t.xx + t.yx * t.yx, t.xx * t.xy + t.yx * t.yy, t.xy * t.xy + t.yy * t.yy]) ?? [
    1, 0, 1,
  ];
  const mean = Math.sqrt(Math.abs(t.xx * t.yy - t.xy * t.yx)) || 1;
  const [sx, sxy, sy] = even ? [mean, 0, mean] : s;
  const back = inverse([sx, sxy, sy]);
  const [, xy, , yy] = product([t.xx, t.xy, t.yx, t.yy], [back[0], back[1], back[1], back[2]]);
  const reflect = t.xx * t.yy - t.xy * t.yx < 0;
  const start: Motion = { reflect, angle: Math.atan2(-xy, yy), dx: t.dx, dy: t.dy };
  const resized = outlineOf(stretch(plug.region, sx, sy, sxy));
  const first = fitAt(pocket, resized, start);
  // Least squares lands within the noise of a true scale; what is far off now is no scale.
  const least = first.deviation > 10 * tolerance ? first : polishAll(pocket, resized, start);
  return {
    even,
    plug: resized,
    back: ([x, y]) => [back[0] * x + back[1] * y, back[1] * x + back[2] * y],
    motion: least.motion,
    scale: scaleFrom([sx, sxy, sy], mean, even, least.deviation),
  };
}

/** Two factors that differ by less than this share cannot be told from one. */
const ONE_FACTOR = 1e-4;

/** The plug's factors are one over those that mend it. */
function scaleFrom(s: readonly number[], mean: number, even: boolean, residual: number): Scale {
  const uniform = 1 / mean;
  const mixUp = MIX_UPS.find(([, factor]) => Math.abs(uniform / factor - 1) < KNOWN_WITHIN);
  const known = mixUp === undefined ? {} : { known: mixUp[0], exact: mixUp[1] };
  if (even) return { x: uniform, y: uniform, uniform, ...known, residual };
  const [a, b, d] = inverse(s);
  // Curves are flattened to a few micrometres, which two factors can feed on: so near to one they are one.
  const apart = hypot(a - d, 2 * b) / uniform;
  if (apart < ONE_FACTOR) return { x: uniform, y: uniform, uniform, ...known, residual };
  const aslant = Math.abs(b) > 0.05 * Math.abs(a - d) && Math.abs(b) > 1e-5;
  if (!aslant) return { x: a, y: d, uniform, residual };
  const turn = Math.atan2(2 * b, a - d) / 2;
  const half = hypot((a - d) / 2, b);
  const [more, less] = [(a + d) / 2 + half, (a + d) / 2 - half];
  const axis = Math.abs(Math.log(more)) >= Math.abs(Math.log(less)) ? turn : turn + Math.PI / 2;
  return { x: a, y: d, uniform, axis: axis - Math.PI * Math.floor(axis / Math.PI), residual };
}

function stretch(region: Region, sx: number, sy: number, sxy: number): Region {
  return { rings: region.rings.map((ring) => mapRing(ring, (x, y) => [sx * x + sxy * y, sxy * x + sy * y])) };
}

function totalArea(region: Region): number {
  return region.rings.reduce((sum, ring) => sum + signedArea(ring), 0);
}

/** Central second moments of area over the area: xx, xy, yy (mm2). */
function momentsOf(region: Region): readonly [number, number, number] {
  const [ox, oy] = [region.rings[0][0], region.rings[0][1]];
  const m = [0, 0, 0, 0, 0, 0];
  for (const ring of region.rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [ax, ay, bx, by] = [ring[j] - ox, ring[j + 1] - oy, ring[i] - ox, ring[i + 1] - oy];
      const cross = ax * by - bx * ay;
      m[0] += cross / 2;
      m[1] += (cross * (ax + bx)) / 6;
      m[2] += (cross * (ay + by)) / 6;
      m[3] += (cross * (ax * ax + ax * bx + bx * bx)) / 12;
      m[4] += (cross * (2 * ax * ay + ax * by + bx * ay + 2 * bx * by)) / 24;
      m[5] += (cross * (ay * ay + ay * by + by * by)) / 12;
    }
  }
  const [x, y] = [m[1] / m[0], m[2] / m[0]];
  return [m[3] / m[0] - x * x, m[4] / m[0] - x * y, m[5] / m[0] - y * y];
}

function trace(m: readonly number[]): number {
  return m[0] + m[2];
}

/** Square root of the symmetric matrix xx, xy, yy; undefined when it has none. */
function rootOf([a, b, d]: readonly [number, number, number]): readonly [number, number, number] | undefined {
  const det = a * d - b * b;
  if (!(det > 0) || !(a > 0)) return undefined;
  const s = Math.sqrt(det);
  const t = Math.sqrt(a + d + 2 * s);
  return [(a + s) / t, b / t, (d + s) / t];
}

function inverse([a, b, d]: readonly number[]): readonly [number, number, number] {
  const det = a * d - b * b;
  return [d / det, -b / det, a / det];
}

function product(a: readonly number[], b: readonly number[]): readonly [number, number, number, number] {
  return [
    a[0] * b[0] + a[1] * b[2],
    a[0] * b[1] + a[1] * b[3],
    a[2] * b[0] + a[3] * b[2],
    a[2] * b[1] + a[3] * b[3],
  ];
}
