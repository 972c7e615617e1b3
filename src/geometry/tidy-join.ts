/**
 * Shapes against each other: the same outline twice counts once, partly overlapping pieces are joined, and
 * whole closed outlines nest by even-odd, as a toolpath treats them.
 */
import { InputFault } from '../fault.ts';
import { fillRings } from './clipper.ts';
import { area, partsOf } from './region.ts';
import { perimeter, reversed, signedArea } from './ring.ts';
import { aroundIn } from './rows.ts';
import type { Point, RawShape, Region, Ring } from './shapes.ts';
import { type Edges, edgesOf } from './tidy-edges.ts';
import type { TidyFault } from './tidy-fault.ts';
import { hiddenHole, type Outlines, REPEAT_WIDTH } from './tidy-fill.ts';
import { insideEdge, pointInside, sharedBy, withoutDust } from './tidy-parts.ts';
import type { Contact } from './tidy-search.ts';

/** Pieces that stick out of, or into, each other by less than this width along their outline only touch, mm. */
const EDGE_WIDTH = 0.0005;

/** Pairs of touching pieces that are compared one by one. */
const PAIRS_MOST = 100_000;

export interface Joined {
  readonly rings: readonly Ring[];
  readonly faults: readonly TidyFault[];
}

/**
 * Outlines that lie wholly on paint of their own colour, or under other paint, so that nobody sees them.
 * `touched` names, as "ring shape", the outlines that touch an outline of that shape: those are told by `join`.
 */
export function hiddenHoles(
  shapes: readonly RawShape[],
  outlines: Outlines,
  touched: ReadonlySet<string>,
): readonly TidyFault[] {
  if (new Set(outlines.shapeOf).size < 2) return [];
  const around = aroundIn(edgesOf(outlines.rings));
  const faults: TidyFault[] = [];
  outlines.rings.forEach((ring, r) => {
    if (signedArea(ring) < 0) return;
    const own = outlines.shapeOf[r]!;
    const windings = new Map<number, number>();
    const [x, y] = insideEdge(ring);
    around(x, y, (other, winding) => {
      const shape = outlines.shapeOf[other]!;
      if (shape !== own && !touched.has(`${r} ${shape}`))
        windings.set(shape, (windings.get(shape) ?? 0) + winding);
    });
    const covers = [...windings].filter(([, winding]) => winding !== 0).map(([shape]) => shape);
    const above = covers.find((shape) => shape > own);
    const below = Math.max(...covers);
    if (covers.length === 0 || (above === undefined && shapes[below]!.paint !== shapes[own]!.paint)) return;
    faults.push(hiddenHole([shapes[own]!.source, shapes[above ?? below]!.source], ring));
  });
  return faults;
}

/**
 * Outlines that do not cross, turned so that even depths are filled and odd ones are holes. `edges` are
 * those of the same rings, of either orientation.
 */
export function nest(rings: readonly Ring[], edges: Edges = edgesOf(rings)): Region {
  if (rings.length === 1)
    return { rings: rings.map((ring) => (signedArea(ring) < 0 ? reversed(ring) : ring)) };
  const around = aroundIn(edges);
  return {
    rings: rings.map((ring, r) => {
      let depth = 0;
      const [x, y] = insideEdge(ring);
      around(x, y, (other) => {
        if (other !== r) depth++;
      });
      return (depth % 2 === 0) === signedArea(ring) > 0 ? ring : reversed(ring);
    }),
  };
}

/** What a painter shows of outlines that neither touch nor cross: those not lying on another shape's paint. */
export function paintedOf(outlines: Outlines): Region {
  if (new Set(outlines.shapeOf).size < 2) return { rings: outlines.rings };
  const around = aroundIn(edgesOf(outlines.rings));
  return {
    rings: outlines.rings.filter((ring, r) => {
      const windings = new Map<number, number>();
      around(ring[0]!, ring[1]!, (other, winding) => {
        const shape = outlines.shapeOf[other]!;
        if (shape !== outlines.shapeOf[r]) windings.set(shape, (windings.get(shape) ?? 0) + winding);
      });
      return [...windings.values()].every((winding) => winding === 0);
    }),
  };
}

/** A connected piece of one shape. */
interface Piece {
  readonly shape: number;
  readonly rings: readonly Ring[];
  readonly area: number;
  readonly length: number;
}

type Relation = 'same' | 'inside' | 'beside' | 'partly';

/** Joins the shapes of a drawing in which outlines of different shapes touch or cross. */
export function join(
  shapes: readonly RawShape[],
  outlines: Outlines,
  edges: Edges,
  contacts: readonly Contact[],
): Joined {
  const { pieces, pieceOf } = piecesOf(outlines);
  const faults: TidyFault[] = [];
  const sourcesOf = (a: number, b: number): number[] => [
    shapes[pieces[a]!.shape]!.source,
    shapes[pieces[b]!.shape]!.source,
  ];
  const touching = [...touchingPairs(edges, contacts, pieces, pieceOf).values()];
  const related = touching
    .sort((one, other) => one.a - other.a || one.b - other.b)
    .map(({ a, b, at }) => {
      const shared = sharedBy(pieces[a]!.rings, pieces[b]!.rings);
      return { a, b, at, shared, size: area(shared) };
    });
  const relations = related.map((pair) => ({
    ...pair,
    relation: relationOf(pieces[pair.a]!, pieces[pair.b]!, pair.size),
  }));
  const dropped = new Set<number>();
  const nested = new Set<number>();
  for (const { a, b, relation, size } of relations) {
    if (relation === 'same' && !dropped.has(a)) {
      dropped.add(b);
      faults.push({
        kind: 'repeat',
        sources: sourcesOf(a, b),
        at: insideEdge(pieces[a]!.rings[0]!),
        measured: size,
        unit: 'mm2',
      });
    }
    if (relation !== 'inside') continue;
    nested.add(a).add(b);
    const inner = pieces[a]!.area < pieces[b]!.area ? a : b;
    const [under, over] = [shapes[pieces[a]!.shape]!, shapes[pieces[b]!.shape]!];
    if (inner === a || under.paint === over.paint)
      faults.push(hiddenHole(sourcesOf(a, b), pieces[inner]!.rings[0]!));
  }
  const live = relations.filter(({ a, b }) => !dropped.has(a) && !dropped.has(b));
  const groups = newGroups(pieces.length);
  for (const { a, b, at, relation, shared, size } of live) {
    if (relation === 'partly') {
      faults.push({
        kind: 'overlap',
        sources: sourcesOf(a, b),
        at: pointInside(shared),
        measured: size,
        unit: 'mm2',
      });
    } else {
      faults.push({ kind: 'near-touch', sources: sourcesOf(a, b), at, measured: 0, unit: 'mm' });
    }
    // Pieces that only touch are joined along the edge they share, unless a hole lies against one of them.
    if (relation === 'partly' || (relation === 'beside' && !nested.has(a) && !nested.has(b)))
      groups.merge(a, b);
  }
  const kept = pieces.map((_, piece) => piece).filter((piece) => !dropped.has(piece));
  return { rings: combined(pieces, kept, groups, live), faults };
}

function piecesOf(outlines: Outlines): { pieces: readonly Piece[]; pieceOf: Int32Array } {
  const pieces: Piece[] = [];
  const pieceOf = new Int32Array(outlines.rings.length).fill(-1);
  const ofShape = new Map<number, number[]>();
  outlines.shapeOf.forEach((shape, ring) => {
    const own = ofShape.get(shape);
    if (own === undefined) ofShape.set(shape, [ring]);
    else own.push(ring);
  });
  for (const [shape, own] of ofShape) {
    const region = { rings: own.map((ring) => outlines.rings[ring]!) };
    for (const part of partsOf(region)) {
      const members = [part.outer, ...part.holes];
      for (const ring of members) pieceOf[own[ring]!] = pieces.length;
      const rings = members.map((ring) => region.rings[ring]!);
      const length = rings.reduce((sum, ring) => sum + perimeter(ring), 0);
      pieces.push({ shape, rings, area: area({ rings }), length });
    }
  }
  return { pieces, pieceOf };
}

interface Pair {
  readonly a: number;
  readonly b: number;
  readonly at: Point;
}

/** Each pair of pieces of different shapes with touching edges, and where. The piece drawn first comes first. */
function touchingPairs(
  edges: Edges,
  contacts: readonly Contact[],
  pieces: readonly Piece[],
  pieceOf: Int32Array,
): ReadonlyMap<number, Pair> {
  const pairs = new Map<number, Pair>();
  for (const { i, j, at } of contacts) {
    const one = pieceOf[edges.owner[i]!]!;
    const other = pieceOf[edges.owner[j]!]!;
    if (one < 0 || other < 0 || pieces[one]!.shape === pieces[other]!.shape) continue;
    const [a, b] = pieces[one]!.shape < pieces[other]!.shape ? [one, other] : [other, one];
    const key = a * pieces.length + b;
    if (!pairs.has(key)) pairs.set(key, { a, b, at });
    if (pairs.size > PAIRS_MOST) {
      throw new InputFault(
        `More than ${PAIRS_MOST} pairs of shapes overlap or touch in this drawing; join the shapes in the drawing program first.`,
      );
    }
  }
  return pairs;
}

function relationOf(a: Piece, b: Piece, shared: number): Relation {
  const leftover = (piece: Piece): number => (piece.area - shared) / piece.length;
  if (leftover(a) <= REPEAT_WIDTH && leftover(b) <= REPEAT_WIDTH && shared > 0) return 'same';
  if (shared <= EDGE_WIDTH * Math.min(a.length, b.length)) return 'beside';
  if (leftover(a) <= EDGE_WIDTH || leftover(b) <= EDGE_WIDTH) return 'inside';
  return 'partly';
}

interface Groups {
  readonly of: (piece: number) => number;
  readonly merge: (a: number, b: number) => void;
}

function newGroups(count: number): Groups {
  const leader = Int32Array.from({ length: count }, (_, piece) => piece);
  const of = (piece: number): number => {
    let at = piece;
    while (leader[at] !== at) at = leader[at] = leader[leader[at]!]!;
    return at;
  };
  return {
    of,
    merge: (a, b) => {
      leader[Math.max(of(a), of(b))] = Math.min(of(a), of(b));
    },
  };
}

/** Each group made one; groups that still touch one another combined by even-odd; the rest as they were. */
function combined(
  pieces: readonly Piece[],
  kept: readonly number[],
  groups: Groups,
  pairs: readonly Pair[],
): readonly Ring[] {
  const members = new Map<number, Ring[][]>();
  for (const piece of kept) {
    const group = groups.of(piece);
    const rings = [...pieces[piece]!.rings];
    const own = members.get(group);
    if (own === undefined) members.set(group, [rings]);
    else own.push(rings);
  }
  const touching = new Set(
    pairs
      .filter(({ a, b }) => groups.of(a) !== groups.of(b))
      .flatMap(({ a, b }) => [groups.of(a), groups.of(b)]),
  );
  const apart: Ring[] = [];
  const against: Ring[] = [];
  for (const [group, sets] of members) {
    const rings = sets.length === 1 ? sets[0]! : withoutDust(fillRings(sets.flat(), 'nonzero'));
    (touching.has(group) ? against : apart).push(...rings);
  }
  return against.length === 0 ? apart : [...apart, ...withoutDust(fillRings(against, 'evenodd'))];
}
