/** Where the centre of a bit lies best when the distances to a few edges are taken as straight. Lengths in mm. */
import { hypot } from '../geometry/hypot.ts';
import type { SegmentTree } from '../geometry/nearest.ts';
import { leftNormal, neighbour } from './cut-side.ts';

/** Lengths below this are none, mm: a hundredth of the finest step any drawing is read with. */
export const NOTHING = 1e-7;

/** A distance taken as linear about the present centre: room(c) >= gx*cx + gy*cy + k for every c (convexity). */
export interface Edge {
  readonly gx: number;
  readonly gy: number;
  readonly k: number;
}

export interface Centre {
  readonly x: number;
  readonly y: number;
}

/** The best centre for straight edges: within r of p if that reaches the legal room, else the nearest legal one. */
export function solve(
  x: number,
  y: number,
  r: number,
  legal: number,
  edges: readonly Edge[],
): Centre | undefined {
  const near = bestInDisc(x, y, r, edges);
  return near.room >= legal ? near : nearestLegal(x, y, legal, edges);
}

/** Maximises the least of some straight distances over a disc, by looking at every place the maximum can be. */
export function bestInDisc(
  x: number,
  y: number,
  r: number,
  edges: readonly Edge[],
): Centre & { readonly room: number } {
  let best = { x, y, room: leastOf(edges, x, y) };
  const look = (cx: number, cy: number): void => {
    const room = leastOf(edges, cx, cy);
    if (room > best.room) best = { x: cx, y: cy, room };
  };
  edges.forEach((a, i) => {
    look(x + r * a.gx, y + r * a.gy);
    for (let j = 0; j < i; j++) {
      const b = edges[j] as Edge;
      lookAlongRidge(x, y, r, a, b, look);
      for (let k = 0; k < j; k++) lookAtPeak(x, y, r, a, b, edges[k] as Edge, look);
    }
  });
  return best;
}

type Look = (cx: number, cy: number) => void;

/** Both ends of the chord, within the disc, on which two straight distances are equal; its middle as well. */
function lookAlongRidge(x: number, y: number, r: number, a: Edge, b: Edge, look: Look): void {
  const ex = a.gx - b.gx;
  const ey = a.gy - b.gy;
  const length = hypot(ex, ey);
  if (length < 1e-12) return;
  const off = (ex * x + ey * y + a.k - b.k) / length;
  if (Math.abs(off) > r) return;
  const half = Math.sqrt(r * r - off * off);
  const mx = x - (off * ex) / length;
  const my = y - (off * ey) / length;
  look(mx, my);
  look(mx - (half * ey) / length, my + (half * ex) / length);
  look(mx + (half * ey) / length, my - (half * ex) / length);
}

function lookAtPeak(x: number, y: number, r: number, a: Edge, b: Edge, c: Edge, look: Look): void {
  const at = crossing(a.gx - b.gx, a.gy - b.gy, b.k - a.k, a.gx - c.gx, a.gy - c.gy, c.k - a.k);
  if (at !== undefined && hypot(at.x - x, at.y - y) <= r) look(at.x, at.y);
}

/** The place nearest to p where every straight distance is at least `legal`. */
function nearestLegal(x: number, y: number, legal: number, edges: readonly Edge[]): Centre | undefined {
  let best: Centre | undefined;
  let least = Number.POSITIVE_INFINITY;
  const look = (cx: number, cy: number): void => {
    const far = hypot(cx - x, cy - y);
    if (far < least && leastOf(edges, cx, cy) >= legal - NOTHING / 10) {
      least = far;
      best = { x: cx, y: cy };
    }
  };
  edges.forEach((a, i) => {
    const lack = legal - (a.gx * x + a.gy * y + a.k);
    look(x + lack * a.gx, y + lack * a.gy);
    for (let j = 0; j < i; j++) {
      const b = edges[j] as Edge;
      const at = crossing(a.gx, a.gy, legal - a.k, b.gx, b.gy, legal - b.k);
      if (at !== undefined) look(at.x, at.y);
    }
  });
  return best;
}

function leastOf(edges: readonly Edge[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < edges.length; i++) {
    const e = edges[i] as Edge;
    least = Math.min(least, e.gx * x + e.gy * y + e.k);
  }
  return least;
}

/** Where two straight lines a.p = k cross; undefined when they run alike. */
function crossing(
  ax: number,
  ay: number,
  ak: number,
  bx: number,
  by: number,
  bk: number,
): Centre | undefined {
  const det = ax * by - ay * bx;
  if (Math.abs(det) < 1e-12) return undefined;
  return { x: (ak * by - ay * bk) / det, y: (ax * bk - ak * bx) / det };
}

/**
 * From beside the end of an edge, nearer than the tip, the distance to that end says little of where the bit may
 * go: it turns on the way there. The distance to the edge's own line, which is never more, is asked instead;
 * from behind that line only once nothing else has led anywhere (`behind`).
 */
export function edgeAt(
  tree: SegmentTree,
  side: 1 | -1,
  segment: number,
  cx: number,
  cy: number,
  tip: number,
  behind: boolean,
): Edge & { readonly roundSpike: boolean } {
  const foot: [number, number] = [0, 0];
  const t = tree.foot(segment, cx, cy, foot);
  const d = hypot(cx - foot[0], cy - foot[1]);
  if (d < tip && (t <= 0 || t >= 1)) {
    const [lx, ly] = leftNormal(tree, segment);
    const line = side * ((cx - foot[0]) * lx + (cy - foot[1]) * ly);
    if (line > 0 || behind) {
      const [gx, gy] = [side * lx, side * ly];
      const step = t >= 1 ? 1 : -1;
      const [ox, oy] = leftNormal(tree, neighbour(tree, segment, step));
      const spike = side * step * (lx * oy - ly * ox) < 0;
      return { gx, gy, k: line - gx * cx - gy * cy, roundSpike: spike };
    }
  }
  const gx = d > 0 ? (cx - foot[0]) / d : 0;
  const gy = d > 0 ? (cy - foot[1]) / d : 0;
  return { gx, gy, k: d - gx * cx - gy * cy, roundSpike: false };
}
