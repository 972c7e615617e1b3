/** The edges of many rings in flat arrays, in drawing order, with a pyramid of boxes over runs of neighbours. */
import { hypot } from './hypot.ts';
import type { Ring } from './shapes.ts';

/** Children per box; neighbours along an outline lie close together, so runs of eight make tight boxes. */
export const FAN = 8;

export interface Edges {
  readonly rings: readonly Ring[];
  readonly count: number;
  /** ax, ay, bx, by of each edge, mm. */
  readonly coords: Float64Array;
  /** The ring each edge belongs to. */
  readonly owner: Int32Array;
  /** First edge of each ring, and the count of all edges at the end. */
  readonly first: Int32Array;
  /** Way along its ring at which each edge begins, mm. */
  readonly along: Float64Array;
  /** Length round each ring, mm. */
  readonly length: Float64Array;
  /** minX, minY, maxX, maxY: of every edge, of every FAN edges, and so on up to one box. */
  readonly levels: readonly Float64Array[];
}

export function edgesOf(rings: readonly Ring[]): Edges {
  const count = rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  const coords = new Float64Array(count * 4);
  const owner = new Int32Array(count);
  const along = new Float64Array(count);
  const first = new Int32Array(rings.length + 1);
  const length = new Float64Array(rings.length);
  let e = 0;
  rings.forEach((ring, r) => {
    const n = ring.length;
    first[r] = e;
    let way = 0;
    for (let i = 0; i < n; i += 2, e++) {
      const j = i + 2 === n ? 0 : i + 2;
      const k = e * 4;
      coords[k] = ring[i]!;
      coords[k + 1] = ring[i + 1]!;
      coords[k + 2] = ring[j]!;
      coords[k + 3] = ring[j + 1]!;
      owner[e] = r;
      along[e] = way;
      way += hypot(ring[j]! - ring[i]!, ring[j + 1]! - ring[i + 1]!);
    }
    length[r] = way;
  });
  first[rings.length] = count;
  return { rings, count, coords, owner, first, along, length, levels: levelsOf(coords, count) };
}

/** The edge that begins where this one ends. */
export function nextEdge(edges: Edges, edge: number): number {
  const ring = edges.owner[edge]!;
  return edge + 1 === edges.first[ring + 1]! ? edges.first[ring]! : edge + 1;
}

/** The edge that ends where this one begins. */
export function previousEdge(edges: Edges, edge: number): number {
  const ring = edges.owner[edge]!;
  return edge === edges.first[ring]! ? edges.first[ring + 1]! - 1 : edge - 1;
}

function levelsOf(coords: Float64Array, count: number): readonly Float64Array[] {
  const boxes = new Float64Array(count * 4);
  for (let k = 0; k < boxes.length; k += 4) {
    boxes[k] = Math.min(coords[k]!, coords[k + 2]!);
    boxes[k + 1] = Math.min(coords[k + 1]!, coords[k + 3]!);
    boxes[k + 2] = Math.max(coords[k]!, coords[k + 2]!);
    boxes[k + 3] = Math.max(coords[k + 1]!, coords[k + 3]!);
  }
  const levels: Float64Array[] = [boxes];
  for (let below: Float64Array = boxes; below.length > 4; below = levels[levels.length - 1]!)
    levels.push(joined(below));
  return levels;
}

function joined(below: Float64Array): Float64Array {
  const above = new Float64Array(Math.ceil(below.length / 4 / FAN) * 4);
  for (let node = 0; node < above.length; node += 4) {
    let minX = Number.POSITIVE_INFINITY;
    let minY = Number.POSITIVE_INFINITY;
    let maxX = Number.NEGATIVE_INFINITY;
    let maxY = Number.NEGATIVE_INFINITY;
    const end = Math.min((node + 4) * FAN, below.length);
    for (let k = node * FAN; k < end; k += 4) {
      if (below[k]! < minX) minX = below[k]!;
      if (below[k + 1]! < minY) minY = below[k + 1]!;
      if (below[k + 2]! > maxX) maxX = below[k + 2]!;
      if (below[k + 3]! > maxY) maxY = below[k + 3]!;
    }
    above[node] = minX;
    above[node + 1] = minY;
    above[node + 2] = maxX;
    above[node + 3] = maxY;
  }
  return above;
}
