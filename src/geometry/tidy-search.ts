/**
 * Every pair of edges that touch, cross or come nearer than a limit, found by walking the pyramid of boxes
 * against itself: about n log n as long as edges are short beside the drawing.
 */
import { InputFault } from '../fault.ts';
import type { Point } from './shapes.ts';
import { type Edges, FAN, nextEdge } from './tidy-edges.ts';

/** Two edges this near count as touching, mm: two steps of the polygon engine's grid. */
export const TOUCH = 2e-6;

/**
 * Two places of one outline are neighbours, and not a near touch, while the way along the outline is less than
 * this many times the straight way: smooth curves, and corners of more than 29 degrees (1 / sin 14.5 = 4).
 */
const ROUND_ABOUT = 4;

/**
 * While an outline has turned, left and right added up, by less than this (radians), all its directions fit into a
 * fan of half that angle to either side, and the straight way is at least its cosine, 1 / ROUND_ABOUT, of the way
 * along: every two places on it are neighbours.
 */
const STRAIGHT_ON = 2 * Math.acos(1 / ROUND_ABOUT);

/**
 * Pairs of boxes and edges looked at before giving up, and more for each edge: some seconds of work. Coastlines of
 * 305,000 edges in 400 mm, far denser than any inlay, take 320 for each edge.
 */
const WORK_MOST = 2e7;
const WORK_PER_EDGE = 600;

/** Near pairs listed before the limit is halved; an eighth of the number of edges is added. */
const NEARS_MOST = 20_000;

/** Contacts, and crossings among them, that are still listed one by one. */
const CONTACTS_MOST = 1_000_000;
const CROSSINGS_MOST = 100_000;

/** Two edges that touch or cross. `i` < `j`. */
export interface Contact {
  readonly i: number;
  readonly j: number;
  readonly at: Point;
  /** Whether they cross well inside both edges, not at or near an end. */
  readonly proper: boolean;
}

/** Two edges that come near without touching. `i` < `j`. */
export interface Near {
  readonly i: number;
  readonly j: number;
  readonly distance: number;
}

export interface Found {
  readonly contacts: readonly Contact[];
  readonly nears: readonly Near[];
}

/** Finds all contacts, and all near pairs below `near` mm; of a drawing with very many, only the nearest. */
export function search(edges: Edges, near: number): Found {
  const contacts: Contact[] = [];
  let nears: Near[] = [];
  let crossings = 0;
  const reach = { limit: Math.max(near, TOUCH) };
  const nearsMost = NEARS_MOST + edges.count / 8;
  const gap = newGap();
  visitPairs(edges, reach, (i, j) => {
    if (nextEdge(edges, i) === j || nextEdge(edges, j) === i) return;
    measureGap(edges, i, j, gap);
    if (!(gap.distance <= reach.limit) || (!gap.proper && neighbours(edges, i, j, gap))) return;
    if (gap.distance <= TOUCH) {
      contacts.push({ i, j, at: [gap.px, gap.py], proper: gap.proper });
      if (gap.proper) crossings++;
      if (contacts.length > CONTACTS_MOST || crossings > CROSSINGS_MOST) throw tooTangled();
    } else {
      nears.push({ i, j, distance: gap.distance });
      if (nears.length <= nearsMost) return;
      reach.limit = Math.max(reach.limit / 2, TOUCH);
      nears = nears.filter((pair) => pair.distance <= reach.limit);
    }
  });
  return { contacts, nears };
}

function tooTangled(): InputFault {
  return new InputFault(
    'The outlines of this drawing cross, touch or crowd each other in too many places to measure; a drawing with clear outlines is needed.',
  );
}

/** Visits each pair of edges whose boxes come within the limit (mm; may shrink on the way), lower number first. */
function visitPairs(
  edges: Edges,
  reach: { readonly limit: number },
  visit: (i: number, j: number) => void,
): void {
  const { levels } = edges;
  let work = 0;
  const workMost = WORK_MOST + WORK_PER_EDGE * edges.count;
  const turned = turnsOf(edges);
  const straightOn = (from: number, to: number): boolean =>
    edges.owner[from] === edges.owner[to] && turned[to]! - turned[from]! < STRAIGHT_ON;
  const walk = (level: number, size: number, a: number, b: number): void => {
    if (++work > workMost) throw tooTangled();
    const boxes = levels[level]!;
    const p = a * 4;
    const q = b * 4;
    const limit = reach.limit;
    if (
      boxes[p]! - boxes[q + 2]! > limit ||
      boxes[q]! - boxes[p + 2]! > limit ||
      boxes[p + 1]! - boxes[q + 3]! > limit ||
      boxes[q + 1]! - boxes[p + 3]! > limit
    ) {
      return;
    }
    if (straightOn(a * size, Math.min((b + 1) * size, edges.count) - 1)) return;
    if (level === 0) {
      if (a !== b) visit(a, b);
      return;
    }
    const below = levels[level - 1]!.length / 4;
    const endA = Math.min(a * FAN + FAN, below);
    const endB = Math.min(b * FAN + FAN, below);
    for (let i = a * FAN; i < endA; i++) {
      for (let j = a === b ? i : b * FAN; j < endB; j++) walk(level - 1, size / FAN, i, j);
    }
  };
  if (edges.count > 0) walk(levels.length - 1, FAN ** (levels.length - 1), 0, 0);
}

/** How far each edge's outline has turned since its first edge, left and right turns both counted up, radians. */
function turnsOf({ coords, owner, count }: Edges): Float64Array {
  const turned = new Float64Array(count);
  for (let e = 1; e < count; e++) {
    if (owner[e] !== owner[e - 1]) continue;
    const k = e * 4;
    const ux = coords[k - 2]! - coords[k - 4]!;
    const uy = coords[k - 1]! - coords[k - 3]!;
    const vx = coords[k + 2]! - coords[k]!;
    const vy = coords[k + 3]! - coords[k + 1]!;
    turned[e] = turned[e - 1]! + Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  }
  return turned;
}

/** The shortest line between two edges, from (px, py) on the first to (qx, qy) on the second. */
export interface Gap {
  distance: number;
  proper: boolean;
  px: number;
  py: number;
  qx: number;
  qy: number;
}

export function newGap(): Gap {
  return { distance: 0, proper: false, px: 0, py: 0, qx: 0, qy: 0 };
}

/** Writes the gap between two edges into `gap` (written over so that millions of pairs make no garbage). */
export function measureGap(edges: Edges, i: number, j: number, gap: Gap): void {
  const c = edges.coords;
  const ax = c[i * 4]!;
  const ay = c[i * 4 + 1]!;
  const bx = c[i * 4 + 2]!;
  const by = c[i * 4 + 3]!;
  const cx = c[j * 4]!;
  const cy = c[j * 4 + 1]!;
  const dx = c[j * 4 + 2]!;
  const dy = c[j * 4 + 3]!;
  gap.distance = Number.POSITIVE_INFINITY;
  gap.proper = false;
  fromEnd(gap, ax, ay, cx, cy, dx, dy, false);
  fromEnd(gap, bx, by, cx, cy, dx, dy, false);
  fromEnd(gap, cx, cy, ax, ay, bx, by, true);
  fromEnd(gap, dx, dy, ax, ay, bx, by, true);
  const ux = bx - ax;
  const uy = by - ay;
  const vx = dx - cx;
  const vy = dy - cy;
  const c1 = ux * (cy - ay) - uy * (cx - ax);
  const c2 = ux * (dy - ay) - uy * (dx - ax);
  const c3 = vx * (ay - cy) - vy * (ax - cx);
  const c4 = vx * (by - cy) - vy * (bx - cx);
  if (!((c1 < 0 && c2 > 0) || (c1 > 0 && c2 < 0)) || !((c3 < 0 && c4 > 0) || (c3 > 0 && c4 < 0))) return;
  const t = c3 / (c3 - c4);
  gap.proper = gap.distance > TOUCH; // no end lies near the other edge
  gap.distance = 0;
  if (!gap.proper) return; // the end that lies on the other edge stays the place
  gap.px = gap.qx = ax + t * ux;
  gap.py = gap.qy = ay + t * uy;
}

/** Shortens the gap to that between the end (x, y) and the edge c-d, when it is shorter. */
function fromEnd(
  gap: Gap,
  x: number,
  y: number,
  cx: number,
  cy: number,
  dx: number,
  dy: number,
  second: boolean,
): void {
  const vx = dx - cx;
  const vy = dy - cy;
  const length2 = vx * vx + vy * vy;
  const t = length2 > 0 ? Math.max(0, Math.min(1, ((x - cx) * vx + (y - cy) * vy) / length2)) : 0;
  const fx = cx + t * vx;
  const fy = cy + t * vy;
  const distance = Math.sqrt((x - fx) * (x - fx) + (y - fy) * (y - fy));
  if (distance >= gap.distance) return;
  gap.distance = distance;
  gap.px = second ? fx : x;
  gap.py = second ? fy : y;
  gap.qx = second ? x : fx;
  gap.qy = second ? y : fy;
}

/** Whether two places of one outline lie about as near along it as straight across. */
export function neighbours(edges: Edges, i: number, j: number, gap: Gap): boolean {
  const ring = edges.owner[i]!;
  if (ring !== edges.owner[j]!) return false;
  const way = Math.abs(wayTo(edges, i, gap.px, gap.py) - wayTo(edges, j, gap.qx, gap.qy));
  return Math.min(way, edges.length[ring]! - way) <= ROUND_ABOUT * (gap.distance + TOUCH);
}

function wayTo(edges: Edges, edge: number, x: number, y: number): number {
  const dx = x - edges.coords[edge * 4]!;
  const dy = y - edges.coords[edge * 4 + 1]!;
  return edges.along[edge]! + Math.sqrt(dx * dx + dy * dy);
}
