/**
 * Places where two edges nearly touch. The two sides of a pointed corner, or of a slot's closed end, come near
 * because they are about to meet: walking them towards each other, they stay near until they do. Those are
 * corners and narrow ends, and left to the check of widths; all others are near touches.
 */
import { hypot } from './hypot.ts';
import type { Point } from './shapes.ts';
import { type Edges, nextEdge, previousEdge } from './tidy-edges.ts';
import { type Found, measureGap, type Near, neighbours, newGap } from './tidy-search.ts';

/** One near touch, at the nearest place of the run of edges that lie near each other. */
export interface NearTouch {
  readonly distance: number;
  readonly p: Point;
  readonly q: Point;
}

export function nearTouches(edges: Edges, found: Found, limit: number): readonly NearTouch[] {
  const touching = found.contacts.map(({ i, j }) => ({ i, j, distance: 0 }));
  return runsOf(edges, [...touching, ...found.nears])
    .filter((run) => !run.some((pair) => meetsAhead(edges, pair, limit)))
    .map(([nearest]) => touchAt(edges, nearest as Near));
}

/**
 * Whether the two edges, followed towards each other along their outline, stay near until they meet: each corner
 * passed on the way must lie near the edge it is passed by.
 */
function meetsAhead(edges: Edges, pair: Near, limit: number): boolean {
  if (edges.owner[pair.i] !== edges.owner[pair.j]) return false;
  let [i, j] = towardsEachOther(edges, pair);
  const gap = newGap();
  for (let steps = 0; steps < edges.count && i !== j && nextEdge(edges, i) !== j; steps++) {
    const forward = cornerGap(edges, nextEdge(edges, i), j);
    const back = cornerGap(edges, j, i);
    if (Math.min(forward, back) > limit) return false;
    if (forward <= back) i = nextEdge(edges, i);
    else j = previousEdge(edges, j);
    measureGap(edges, i, j, gap);
    if (neighbours(edges, i, j, gap)) return true;
  }
  return true;
}

/** How far the corner where an edge starts lies from another edge, mm. */
function cornerGap({ coords }: Edges, edge: number, other: number): number {
  const [x, y] = [coords[edge * 4]!, coords[edge * 4 + 1]!];
  const [cx, cy] = [coords[other * 4]!, coords[other * 4 + 1]!];
  const [vx, vy] = [coords[other * 4 + 2]! - cx, coords[other * 4 + 3]! - cy];
  const t = Math.max(0, Math.min(1, ((x - cx) * vx + (y - cy) * vy) / (vx * vx + vy * vy)));
  return hypot(x - cx - t * vx, y - cy - t * vy);
}

/** The pair ordered so that walking forward from the first leads the shorter way to the second. */
function towardsEachOther(edges: Edges, { i, j }: Near): readonly [number, number] {
  const way = edges.along[j]! - edges.along[i]!;
  return way <= edges.length[edges.owner[i]!]! / 2 ? [i, j] : [j, i];
}

/**
 * Pairs of neighbouring edges make one run, its nearest pair first. A run that meets anywhere is one narrow end, with
 * all that comes near in it: past a hair beside a corner an edge leads away from the other before it comes back.
 */
function runsOf(edges: Edges, pairs: readonly Near[]): readonly (readonly Near[])[] {
  const sorted = [...pairs].sort((a, b) => a.distance - b.distance || a.i - b.i || a.j - b.j);
  const key = (i: number, j: number): number => Math.min(i, j) * edges.count + Math.max(i, j);
  const waiting = new Map(sorted.map((pair) => [key(pair.i, pair.j), pair]));
  const runs: (readonly Near[])[] = [];
  for (const pair of sorted) {
    if (!waiting.delete(key(pair.i, pair.j))) continue;
    const run = [pair];
    for (let next = 0; next < run.length; next++) {
      const at = run[next] as Near;
      for (const i of [previousEdge(edges, at.i), at.i, nextEdge(edges, at.i)]) {
        for (const j of [previousEdge(edges, at.j), at.j, nextEdge(edges, at.j)]) {
          const neighbour = waiting.get(key(i, j));
          if (neighbour === undefined) continue;
          waiting.delete(key(i, j));
          run.push(neighbour);
        }
      }
    }
    runs.push(run);
  }
  return runs;
}

function touchAt(edges: Edges, { i, j, distance }: Near): NearTouch {
  const gap = newGap();
  measureGap(edges, i, j, gap);
  return { distance, p: [gap.px, gap.py], q: [gap.qx, gap.qy] };
}
