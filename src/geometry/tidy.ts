/**
 * From drawn shapes to one clean region, and every fault met on the way.
 *
 * Each shape is filled by its own rule. An outline drawn twice counts once; shapes that overlap in part are
 * joined; whole closed outlines nest by even-odd, so that a shape lying wholly inside another becomes a hole,
 * as a toolpath would treat it. Drawings whose outlines neither touch nor cross keep their vertices exactly;
 * in all others the outlines concerned move by at most the polygon engine's grid (1e-6 mm). Only hooks of less than
 * CRUMB, which no drawing means, are taken off in every case.
 */
import { fillRings } from './clipper.ts';
import { SegmentTree } from './nearest.ts';
import { EMPTY } from './region.ts';
import { perimeter, ringBox, signedArea } from './ring.ts';
import type { Point, RawShape, Region, Ring } from './shapes.ts';
import { withoutCrumbs } from './tidy-crumbs.ts';
import { type Edges, edgesOf } from './tidy-edges.ts';
import { type FaultKind, MOST_OF_A_KIND, type TidyFault } from './tidy-fault.ts';
import { faultsWithin, fillShapes, type Outlines } from './tidy-fill.ts';
import { hiddenHoles, join, nest, paintedOf } from './tidy-join.ts';
import { type DrawnRings, drawnRings } from './tidy-lines.ts';
import { nearTouches } from './tidy-near.ts';
import { insideEdge, isDust, meanWidth } from './tidy-parts.ts';
import { type Found, search } from './tidy-search.ts';

export type { FaultKind, TidyFault } from './tidy-fault.ts';

export interface Tidy {
  readonly region: Region;
  /** What a painter would show: the union of each shape by its own rule. */
  readonly painted: Region;
  /** By kind, the largest measured first (for slivers, specks and near touches the smallest). */
  readonly faults: readonly TidyFault[];
  /** Source of the drawn outline nearest to a point; -1 when nothing was drawn. */
  readonly sourceOf: (p: Point) => number;
}

export interface TidySettings {
  /** Edges nearer than this, and not about to meet in a corner, nearly touch, mm. */
  readonly nearTouchLeast?: number;
  /** Long pieces and gaps of less mean width are slivers, mm. */
  readonly sliverWidthLeast?: number;
  /** Pieces and holes of less area are specks, mm2. */
  readonly speckAreaLeast?: number;
  /** Crossings that cut off less than this are rounding and not told, mm2. */
  readonly loopAreaLeast?: number;
}

const DEFAULTS: Required<TidySettings> = {
  nearTouchLeast: 0.05,
  sliverWidthLeast: 0.02,
  speckAreaLeast: 0.05,
  loopAreaLeast: 0.001,
};

/** A piece is long, and so a sliver and not a speck, when its length is this many times its mean width. */
const LONG = 10;

export function tidy(shapes: readonly RawShape[], settings: TidySettings = {}): Tidy {
  const limits = { ...DEFAULTS, ...settings };
  const drawn = drawnRings(shapes);
  const sourceOf = nearestSource(shapes, drawn);
  if (drawn.rings.length === 0)
    return { region: EMPTY, painted: EMPTY, faults: sorted(drawn.faults), sourceOf };

  const edges = edgesOf(drawn.rings);
  const found = search(edges, limits.nearTouchLeast);
  const within = found.contacts.filter(({ i, j }) => shapeAt(drawn, edges, i) === shapeAt(drawn, edges, j));
  const tangled = new Set([...drawn.spiky, ...within.map(({ i }) => shapeAt(drawn, edges, i))]);
  const outlines = fillShapes(shapes, drawn, edges, tangled);
  const merged = merge(shapes, outlines, tangled.size > 0 ? undefined : { edges, found });
  const unchanged =
    found.contacts.length === 0 && tangled.size === 0 && outlines.rings.length === drawn.rings.length;
  const fresh = unchanged ? { edges, found } : searched(merged.region, limits.nearTouchLeast);

  const inShapes = faultsWithin(shapes, drawn, edges, within);
  const faults = [
    ...drawn.faults,
    ...inShapes.filter(({ kind, measured }) => kind !== 'crossing' || measured >= limits.loopAreaLeast),
    ...drawnDust(shapes, drawn, tangled),
    ...emptyShapes(shapes, drawn, outlines),
    ...outlines.hidden,
    ...merged.faults,
    ...merged.region.rings.flatMap((ring) => thinOrTiny(ring, limits, sourceOf)),
  ];
  // Where outlines meet by another fault, the two sides of that meeting are not told again as a near touch.
  const told = toldPlaces(2 * limits.nearTouchLeast);
  for (const { kind, at } of [...inShapes, ...merged.faults, ...drawn.faults]) {
    if (kind === 'crossing' || kind === 'spike' || kind === 'near-touch') told.add(at);
  }
  const near = nearTouches(fresh.edges, fresh.found, limits.nearTouchLeast).flatMap(
    ({ distance: measured, p, q }): TidyFault[] => {
      const at = middle(p, q);
      if (told.has(at)) return [];
      told.add(at);
      return [
        { kind: 'near-touch', sources: [...new Set([sourceOf(p), sourceOf(q)])], at, measured, unit: 'mm' },
      ];
    },
  );
  const region = { rings: merged.region.rings.map(withoutCrumbs).filter((ring) => ring.length > 0) };
  return { region, painted: merged.painted, faults: sorted([...faults, ...near]), sourceOf };
}

interface Searched {
  readonly edges: Edges;
  readonly found: Found;
}

function searched({ rings }: Region, near: number): Searched {
  const edges = edgesOf(rings);
  return { edges, found: search(edges, near) };
}

function shapeAt(drawn: DrawnRings, edges: Edges, edge: number): number {
  return drawn.shapeOf[edges.owner[edge]!]!;
}

interface Merged {
  readonly region: Region;
  readonly painted: Region;
  readonly faults: readonly TidyFault[];
}

/** All shapes in one; `known` spares the search for contacts when the outlines are still the drawn ones. */
function merge(shapes: readonly RawShape[], outlines: Outlines, known: Searched | undefined): Merged {
  if (outlines.rings.length === 0) return { region: EMPTY, painted: EMPTY, faults: [] };
  const sameRings = known !== undefined && known.edges.rings.length === outlines.rings.length;
  const { edges, found } = sameRings ? known : searched({ rings: outlines.rings }, 0);
  const between = found.contacts.filter(
    ({ i, j }) => outlines.shapeOf[edges.owner[i]!] !== outlines.shapeOf[edges.owner[j]!],
  );
  if (between.length === 0) {
    const region = nest(outlines.rings, edges);
    return { region, painted: paintedOf(outlines), faults: hiddenHoles(shapes, outlines, new Set()) };
  }
  const touched = new Set(
    between.flatMap(({ i, j }) => {
      const a = edges.owner[i]!;
      const b = edges.owner[j]!;
      return [`${a} ${outlines.shapeOf[b]}`, `${b} ${outlines.shapeOf[a]}`];
    }),
  );
  const { rings, faults } = join(shapes, outlines, edges, between);
  return {
    region: nest(rings),
    painted: { rings: fillRings(outlines.rings, 'nonzero') },
    faults: [...faults, ...hiddenHoles(shapes, outlines, touched)],
  };
}

/** Shapes with outlines that, by their own fill rule, paint nothing. */
function emptyShapes(
  shapes: readonly RawShape[],
  drawn: DrawnRings,
  outlines: Outlines,
): readonly TidyFault[] {
  const filled = new Set(outlines.shapeOf);
  const empty = new Map<number, number>();
  drawn.shapeOf.forEach((shape, ring) => {
    if (!filled.has(shape) && !empty.has(shape)) empty.set(shape, ring);
  });
  return [...empty].map(([shape, r]): TidyFault => {
    const ring = drawn.rings[r]!;
    const at: Point = [ring[0]!, ring[1]!];
    return {
      kind: 'no-area',
      sources: [shapes[shape]!.source],
      at,
      measured: perimeter(ring) / 2,
      unit: 'mm',
    };
  });
}

function thinOrTiny(
  ring: Ring,
  limits: Required<TidySettings>,
  sourceOf: (p: Point) => number,
): readonly TidyFault[] {
  const area = Math.abs(signedArea(ring));
  const width = meanWidth(ring);
  const long = perimeter(ring) / 2 >= LONG * width;
  const at = insideEdge(ring);
  if (long && width < limits.sliverWidthLeast) {
    return [{ kind: 'sliver', sources: [sourceOf(at)], at, measured: width, unit: 'mm' }];
  }
  if (area < limits.speckAreaLeast)
    return [{ kind: 'speck', sources: [sourceOf(at)], at, measured: area, unit: 'mm2' }];
  return [];
}

/** Remembers places by squares of the given size: whether one was already told within about that distance. */
function toldPlaces(size: number): { readonly has: (p: Point) => boolean; readonly add: (p: Point) => void } {
  const squares = new Set<string>();
  return {
    has: ([x, y]) => squares.has(`${Math.floor(x / size)} ${Math.floor(y / size)}`),
    add: ([x, y]) => {
      const [column, row] = [Math.floor(x / size), Math.floor(y / size)];
      for (const dx of [-1, 0, 1]) for (const dy of [-1, 0, 1]) squares.add(`${column + dx} ${row + dy}`);
    },
  };
}

/** Outlines that were drawn too small to survive the combining of their shape: told as specks all the same. */
function drawnDust(
  shapes: readonly RawShape[],
  drawn: DrawnRings,
  tangled: ReadonlySet<number>,
): readonly TidyFault[] {
  return drawn.rings.flatMap((ring, r): TidyFault[] => {
    const { minX, minY, maxX, maxY } = ringBox(ring);
    if (!tangled.has(drawn.shapeOf[r]!) || !isDust(ring) || Math.max(maxX - minX, maxY - minY) > 0.05)
      return [];
    const sources = [shapes[drawn.shapeOf[r]!]!.source];
    return [{ kind: 'speck', sources, at: [minX, minY], measured: Math.abs(signedArea(ring)), unit: 'mm2' }];
  });
}

function middle([ax, ay]: Point, [bx, by]: Point): Point {
  return [(ax + bx) / 2, (ay + by) / 2];
}

const SMALLEST_FIRST: readonly FaultKind[] = ['sliver', 'speck', 'near-touch'];

function sorted(faults: readonly TidyFault[]): readonly TidyFault[] {
  const kinds = [...new Set(faults.map(({ kind }) => kind))].sort();
  return kinds.flatMap((kind) => {
    const sign = SMALLEST_FIRST.includes(kind) ? 1 : -1;
    const own = faults.filter((fault) => fault.kind === kind);
    own.sort((a, b) => sign * (a.measured - b.measured) || a.at[0] - b.at[0] || a.at[1] - b.at[1]);
    return own.slice(0, MOST_OF_A_KIND);
  });
}

/** The tree is built when first asked: most checks never need a mark. */
function nearestSource(shapes: readonly RawShape[], { rings, shapeOf }: DrawnRings): (p: Point) => number {
  let tree: SegmentTree | undefined;
  return ([x, y]) => {
    tree ??= new SegmentTree(rings);
    const segment = tree.nearest(x, y);
    return segment < 0 ? -1 : shapes[shapeOf[tree.ringOf(segment)]!]!.source;
  };
}
