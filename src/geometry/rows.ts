/**
 * Finds the edges of many rings that cross the level of a point to its right. The edges stay in drawing order,
 * neighbours share a box, and boxes share bigger boxes; a query visits only boxes the ray can meet.
 */
import { rightOf } from './ring.ts';
import type { Ring } from './shapes.ts';

const FAN = 8;

export interface Rows {
  /** Calls `visit` for each edge right of (x, y) at its level, with +1 where the edge rises in y, -1 where it falls. */
  readonly crossings: (x: number, y: number, visit: (ring: number, turn: 1 | -1) => void) => void;
}

export function rowsOf(rings: readonly Ring[]): Rows {
  const edges = edgesOf(rings);
  const levels = levelsOf(edges.spans);
  const walk = (
    level: number,
    index: number,
    x: number,
    y: number,
    visit: (ring: number, turn: 1 | -1) => void,
  ): void => {
    const spans = levels[level]!;
    const at = index * 3;
    if (y < spans[at]! || y > spans[at + 1]! || x > spans[at + 2]!) return;
    if (level > 0) {
      const end = Math.min((index + 1) * FAN, levels[level - 1]!.length / 3);
      for (let child = index * FAN; child < end; child++) walk(level - 1, child, x, y, visit);
      return;
    }
    const ax = edges.coords[index * 4]!;
    const ay = edges.coords[index * 4 + 1]!;
    const bx = edges.coords[index * 4 + 2]!;
    const by = edges.coords[index * 4 + 3]!;
    if (ay <= y !== by <= y && rightOf(ax, ay, bx, by, x, y)) visit(edges.owners[index]!, by > ay ? 1 : -1);
  };
  const top = levels.length - 1;
  return {
    crossings: (x, y, visit) => {
      for (let index = 0; index < levels[top]!.length / 3; index++) walk(top, index, x, y, visit);
    },
  };
}

interface Edges {
  /** ax, ay, bx, by of each edge. */
  readonly coords: Float64Array;
  /** The ring each edge belongs to. */
  readonly owners: Int32Array;
  /** Least y, largest y, largest x of each edge. */
  readonly spans: Float64Array;
}

function edgesOf(rings: readonly Ring[]): Edges {
  const count = rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  const coords = new Float64Array(count * 4);
  const owners = new Int32Array(count);
  const spans = new Float64Array(count * 3);
  let e = 0;
  rings.forEach((ring, owner) => {
    const n = ring.length;
    for (let i = 0; i < n; i += 2, e++) {
      const j = (i + 2) % n;
      coords.set([ring[i]!, ring[i + 1]!, ring[j]!, ring[j + 1]!], e * 4);
      owners[e] = owner;
      spans[e * 3] = Math.min(ring[i + 1]!, ring[j + 1]!);
      spans[e * 3 + 1] = Math.max(ring[i + 1]!, ring[j + 1]!);
      spans[e * 3 + 2] = Math.max(ring[i]!, ring[j]!);
    }
  });
  return { coords, owners, spans };
}

/** Spans of the edges, of every FAN edges, of every FAN of those, up to a handful at the top. */
function levelsOf(spans: Float64Array): readonly Float64Array[] {
  const levels = [spans];
  for (let below = spans; below.length / 3 > FAN; below = levels[levels.length - 1]!) {
    const count = below.length / 3;
    const above = new Float64Array(Math.ceil(count / FAN) * 3);
    for (let node = 0; node < above.length / 3; node++) {
      let low = Number.POSITIVE_INFINITY;
      let high = Number.NEGATIVE_INFINITY;
      let right = Number.NEGATIVE_INFINITY;
      for (let i = node * FAN; i < Math.min((node + 1) * FAN, count); i++) {
        low = Math.min(low, below[i * 3]!);
        high = Math.max(high, below[i * 3 + 1]!);
        right = Math.max(right, below[i * 3 + 2]!);
      }
      above.set([low, high, right], node * 3);
    }
    levels.push(above);
  }
  return levels;
}
