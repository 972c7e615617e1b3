import { hypot } from './hypot.ts';
import { applyRegion, IDENTITY } from './motion.ts';
import { SegmentTree } from './nearest.ts';
import { registration } from './register.ts';
import { farPlaces } from './register-deviation.ts';
import { areaCentre, type Outline, outlineOf, spread } from './register-outline.ts';
import { perimeter, ringBox, signedArea } from './ring.ts';
import type { Box, Motion, Point, Ring } from './shapes.ts';

/** A closed outline that one drawing has and the other has not. */
export interface PieceDiff {
  /** An outer outline, or the outline of a hole. */
  readonly kind: 'piece' | 'hole';
  /** Its centre in the pocket's frame, mm. */
  readonly at: Point;
  /** mm2, positive. */
  readonly area: number;
  /** Its number in its own region's rings. */
  readonly ring: number;
}

/** A closed outline of the same shape in another place. */
export interface PieceMove {
  readonly kind: 'piece' | 'hole';
  /** Centre in the pocket, mm. */
  readonly at: Point;
  readonly area: number;
  /** From its place in the pocket to its place in the plug, in the pocket's frame, mm. */
  readonly by: Point;
  /** Turned by, radians. */
  readonly turn: number;
}

/** A place where the outlines of one piece part. */
export interface PieceEdit {
  readonly at: Point;
  /** How far apart, mm. */
  readonly by: number;
}

export interface Pieces {
  readonly missing: readonly PieceDiff[];
  readonly extra: readonly PieceDiff[];
  readonly moved: readonly PieceMove[];
  /** Worst first, at most fifty. */
  readonly edited: readonly PieceEdit[];
}

/** Places listed; more than these no reader follows. */
const MOST_PLACES = 50;
/** Rings compared with each other in search of moved ones. */
const MOST_RINGS = 200;

/** The differences of two aligned outlines beyond `tolerance` (mm), sorted into kinds. */
export function piecesOf(pocket: Outline, plug: Outline, motion: Motion, tolerance: number): Pieces {
  const laid = applyRegion(motion, plug.region).rings;
  const laidTree = new SegmentTree(laid);
  const lostPocket = lostRings(pocket.region.rings, laidTree, tolerance);
  const lostPlug = lostRings(laid, pocket.tree, tolerance);
  const { moved, reshaped, pocketLeft, plugLeft } = pairUp(
    pocket.region.rings,
    laid,
    lostPocket,
    lostPlug,
    tolerance,
  );
  const lost = {
    pocket: new Set(lostPocket.filter((r) => !reshaped.pocket.has(r))),
    plug: new Set(lostPlug.filter((r) => !reshaped.plug.has(r))),
  };
  const edited = editsOf(
    pocket.region.rings.filter((_, r) => !lost.pocket.has(r)),
    laid.filter((_, r) => !lost.plug.has(r)),
    { pocket: pocket.tree, plug: laidTree },
    tolerance,
  );
  return {
    missing: pocketLeft.map((r) => diffOf(pocket.region.rings[r], r)).sort(byArea),
    extra: plugLeft.map((r) => diffOf(laid[r], r)).sort(byArea),
    moved,
    edited,
  };
}

function byArea(a: PieceDiff, b: PieceDiff): number {
  return b.area - a.area || a.ring - b.ring;
}

/** Rings with less than half of their length near the other outline. */
function lostRings(rings: readonly Ring[], other: SegmentTree, tolerance: number): readonly number[] {
  const lost: number[] = [];
  rings.forEach((ring, r) => {
    const { x, y } = spread([ring], 64);
    let near = 0;
    for (let k = 0; k < x.length; k++) if (other.nearest(x[k], y[k], tolerance * tolerance) >= 0) near++;
    if (near < x.length / 2) lost.push(r);
  });
  return lost;
}

interface Paired {
  readonly moved: readonly PieceMove[];
  readonly reshaped: { readonly pocket: ReadonlySet<number>; readonly plug: ReadonlySet<number> };
  readonly pocketLeft: readonly number[];
  readonly plugLeft: readonly number[];
}

/** Lost rings of the pocket matched with lost rings of the plug: moved ones first, then those in the same place. */
function pairUp(
  pocket: readonly Ring[],
  plug: readonly Ring[],
  lostPocket: readonly number[],
  lostPlug: readonly number[],
  tolerance: number,
): Paired {
  const moved: PieceMove[] = [];
  const plugLeft = new Set(lostPlug);
  const pocketLeft = new Set(lostPocket);
  for (const r of lostPocket.slice(0, MOST_RINGS)) {
    const found = sameShape(pocket[r], plug, [...plugLeft].slice(0, MOST_RINGS), tolerance);
    if (found === undefined) continue;
    moved.push(found.move);
    plugLeft.delete(found.ring);
    pocketLeft.delete(r);
  }
  const reshaped = { pocket: new Set<number>(), plug: new Set<number>() };
  for (const r of [...pocketLeft].slice(0, MOST_RINGS)) {
    const twin = [...plugLeft].find((s) => samePlace(pocket[r], plug[s]));
    if (twin === undefined) continue;
    reshaped.pocket.add(r);
    reshaped.plug.add(twin);
    plugLeft.delete(twin);
    pocketLeft.delete(r);
  }
  return { moved, reshaped, pocketLeft: [...pocketLeft], plugLeft: [...plugLeft] };
}

function sameShape(
  ring: Ring,
  plug: readonly Ring[],
  among: readonly number[],
  tolerance: number,
): { ring: number; move: PieceMove } | undefined {
  const area = signedArea(ring);
  const length = perimeter(ring);
  const from = areaCentre([ring]);
  const own = outlineOf({ rings: [ring] });
  const like = among
    .filter((s) => {
      const slack = 2 * tolerance * length + 1e-3 * Math.abs(area);
      return (
        Math.abs(signedArea(plug[s]) - area) <= slack &&
        Math.abs(perimeter(plug[s]) - length) <= 0.02 * length + 8 * tolerance
      );
    })
    .map((s) => ({ s, to: areaCentre([plug[s]]) }))
    .sort((a, b) => distance(from, a.to) - distance(from, b.to));
  for (const { s, to } of like.slice(0, 4)) {
    // The move carries the pocket's ring to the plug's.
    const { least } = registration(outlineOf({ rings: [plug[s]] }), own, {
      reflect: false,
      enough: tolerance,
    });
    if (least.deviation > tolerance) continue;
    const by: Point = [to[0] - from[0], to[1] - from[1]];
    const kind = area > 0 ? 'piece' : 'hole';
    return { ring: s, move: { kind, at: from, area: Math.abs(area), by, turn: least.motion.angle } };
  }
  return undefined;
}

function distance(a: Point, b: Point): number {
  return hypot(a[0] - b[0], a[1] - b[1]);
}

/** Whether two rings of one sense fill much the same box. */
function samePlace(a: Ring, b: Ring): boolean {
  if (signedArea(a) > 0 !== signedArea(b) > 0) return false;
  const p = ringBox(a);
  const q = ringBox(b);
  const wide = Math.min(p.maxX, q.maxX) - Math.max(p.minX, q.minX);
  const high = Math.min(p.maxY, q.maxY) - Math.max(p.minY, q.minY);
  if (!(wide > 0 && high > 0)) return false;
  const both = (p.maxX - p.minX) * (p.maxY - p.minY) + (q.maxX - q.minX) * (q.maxY - q.minY) - wide * high;
  return wide * high > 0.5 * both;
}

function diffOf(ring: Ring, number: number): PieceDiff {
  const area = signedArea(ring);
  return { kind: area > 0 ? 'piece' : 'hole', at: areaCentre([ring]), area: Math.abs(area), ring: number };
}

/** Edges in a row of one outline that lie away from the other outline. */
interface Run {
  readonly worst: PieceEdit;
  readonly box: Box;
}

/** A place seen from both outlines counts once when its two worst points are this near, mm, or one run holds both. */
const ONE_PLACE = 2;

/** Separate places beyond the tolerance on the rings that are neither lost nor moved, worst first. */
function editsOf(
  pocket: readonly Ring[],
  plug: readonly Ring[],
  whole: { readonly pocket: SegmentTree; readonly plug: SegmentTree },
  tolerance: number,
): readonly PieceEdit[] {
  const runs = [...runsOf(pocket, whole.plug, tolerance), ...runsOf(plug, whole.pocket, tolerance)];
  runs.sort(
    (a, b) => b.worst.by - a.worst.by || a.worst.at[0] - b.worst.at[0] || a.worst.at[1] - b.worst.at[1],
  );
  const places: Run[] = [];
  for (const run of runs) {
    if (places.length === MOST_PLACES) break;
    if (!places.some((p) => onePlace(p, run))) places.push(run);
  }
  return places.map((p) => p.worst);
}

function onePlace(a: Run, b: Run): boolean {
  const near = Math.max(a.worst.by, ONE_PLACE);
  return (
    distance(a.worst.at, b.worst.at) <= near ||
    holds(a.box, b.worst.at, near) ||
    holds(b.box, a.worst.at, near)
  );
}

function holds(box: Box, [x, y]: Point, near: number): boolean {
  return x >= box.minX - near && x <= box.maxX + near && y >= box.minY - near && y <= box.maxY + near;
}

function runsOf(rings: readonly Ring[], other: SegmentTree, tolerance: number): readonly Run[] {
  const tree = new SegmentTree(rings);
  const far = new Map<number, PieceEdit>();
  farPlaces(tree, other, IDENTITY, tolerance, (x, y, by, segment) => {
    const known = far.get(segment);
    if (known === undefined || by > known.by) far.set(segment, { at: [x, y], by });
  });
  const runs: Run[] = [];
  const seen = new Set<number>();
  for (const segment of far.keys()) {
    if (seen.has(segment)) continue;
    let first = segment;
    while (far.has(tree.prev(first)) && tree.prev(first) !== segment) first = tree.prev(first);
    const members: PieceEdit[] = [];
    for (let i = first; far.has(i) && !seen.has(i); i = tree.next(i)) {
      seen.add(i);
      members.push(far.get(i) as PieceEdit);
    }
    runs.push(runFrom(members));
  }
  return runs;
}

function runFrom(members: readonly PieceEdit[]): Run {
  const worst = members.reduce((a, b) => (b.by > a.by ? b : a));
  const box = { minX: worst.at[0], minY: worst.at[1], maxX: worst.at[0], maxY: worst.at[1] };
  for (const { at } of members) {
    box.minX = Math.min(box.minX, at[0]);
    box.minY = Math.min(box.minY, at[1]);
    box.maxX = Math.max(box.maxX, at[0]);
    box.maxY = Math.max(box.maxY, at[1]);
  }
  return { worst, box };
}
