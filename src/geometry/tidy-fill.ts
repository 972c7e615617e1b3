/**
 * Each shape by its own fill rule, as the SVG standard paints it (SVG 2, `fill-rule`), and what can be said of
 * outlines that cross within one shape.
 */

import { fillRings } from './clipper.ts';
import { crossingOf, type Edge } from './exact.ts';
import { hypot } from './hypot.ts';
import { reversed, ringBox, signedArea } from './ring.ts';
import { aroundIn } from './rows.ts';
import type { Point, RawShape, Ring } from './shapes.ts';
import { type Edges, nextEdge } from './tidy-edges.ts';
import { MOST_OF_A_KIND, type TidyFault } from './tidy-fault.ts';
import type { DrawnRings } from './tidy-lines.ts';
import { insideEdge, meanWidth, sharedArea, withoutDust } from './tidy-parts.ts';
import { type Contact, TOUCH } from './tidy-search.ts';

/** Two outlines whose areas differ by less than this width along their length are one outline drawn twice, mm. */
export const REPEAT_WIDTH = 0.005;

/** The painted areas of all shapes as oriented rings, positive outside, negative round holes. */
export interface Outlines {
  readonly rings: readonly Ring[];
  readonly shapeOf: readonly number[];
}

/** Fills every shape; only shapes named in `tangled` go through the polygon engine, all others keep their points. */
export function fillShapes(
  shapes: readonly RawShape[],
  drawn: DrawnRings,
  edges: Edges,
  tangled: ReadonlySet<number>,
): Outlines & { readonly hidden: readonly TidyFault[] } {
  const rings: Ring[] = [];
  const shapeOf: number[] = [];
  const hidden: TidyFault[] = [];
  const keep = (ring: Ring, shape: number): void => {
    rings.push(ring);
    shapeOf.push(shape);
  };
  const windingOutside = outsideWindings(drawn, edges);
  drawn.rings.forEach((ring, r) => {
    const shape = drawn.shapeOf[r]!;
    if (tangled.has(shape)) {
      if (drawn.shapeOf[r - 1] !== shape) {
        const own = drawn.rings.filter((_, other) => drawn.shapeOf[other] === shape);
        for (const filled of withoutDust(fillRings(own, shapes[shape]!.fillRule))) keep(filled, shape);
      }
      return;
    }
    const positive = signedArea(ring) > 0;
    const outside = windingOutside(r);
    const within = outside + (positive ? 1 : -1);
    const [paintedOut, paintedIn] = [outside, within].map((w) => isFilled(w, shapes[shape]!.fillRule));
    if (paintedOut !== paintedIn) keep(positive === paintedIn ? ring : reversed(ring), shape);
    else if (paintedIn) hidden.push(hiddenHole([shapes[shape]!.source], ring));
  });
  return { rings, shapeOf, hidden };
}

function isFilled(winding: number, rule: RawShape['fillRule']): boolean {
  return rule === 'nonzero' ? winding !== 0 : winding % 2 !== 0;
}

/** How often the other rings of its shape wind round a ring that none of them touches. */
function outsideWindings(drawn: DrawnRings, edges: Edges): (ring: number) => number {
  const count = new Map<number, number>();
  for (const shape of drawn.shapeOf) count.set(shape, (count.get(shape) ?? 0) + 1);
  if ([...count.values()].every((rings) => rings === 1)) return () => 0;
  const around = aroundIn(edges);
  return (r) => {
    if (count.get(drawn.shapeOf[r]!) === 1) return 0;
    let sum = 0;
    around(drawn.rings[r]![0]!, drawn.rings[r]![1]!, (other, winding) => {
      if (other !== r && drawn.shapeOf[other] === drawn.shapeOf[r]) sum += winding;
    });
    return sum;
  };
}

/** The fault of an outline lying unseen inside paint of its own colour; `measured` is the area it encloses, mm2. */
export function hiddenHole(sources: readonly number[], ring: Ring): TidyFault {
  return {
    kind: 'hidden-hole',
    sources,
    at: insideEdge(ring),
    measured: Math.abs(signedArea(ring)),
    unit: 'mm2',
  };
}

/** Crossings and repeated outlines within single shapes, from the contacts between their edges. */
export function faultsWithin(
  shapes: readonly RawShape[],
  drawn: DrawnRings,
  edges: Edges,
  contacts: readonly Contact[],
): readonly TidyFault[] {
  const faults: TidyFault[] = [];
  const crossings: Crossing[] = [];
  const loopArea = loopAreas(edges);
  const shares = new Map<string, number>();
  const repeated = new Set<string>();
  const retracedEnough = retracing(edges);
  for (const contact of contacts) {
    const a = edges.owner[contact.i]!;
    const b = edges.owner[contact.j]!;
    const sources = [shapes[drawn.shapeOf[a]!]!.source];
    if (a === b) {
      if (retracedEnough(a, contact)) {
        const measured = Math.abs(signedArea(drawn.rings[a]!)) / 2;
        faults.push({ kind: 'repeat', sources, at: contact.at, measured, unit: 'mm2' });
      }
      if (!crosses(edges, contact)) continue;
      crossings.push({ contact, sources, measured: loopArea(contact.i, contact.j, contact.at) });
      continue;
    }
    const pair = `${a} ${b}`;
    const first = !shares.has(pair);
    if (first) shares.set(pair, sharedArea(positive(drawn.rings[a]!), positive(drawn.rings[b]!)));
    const shared = shares.get(pair)!;
    if (first && sameOutline(drawn.rings[a]!, drawn.rings[b]!, shared)) {
      repeated.add(pair);
      faults.push({
        kind: 'repeat',
        sources,
        at: insideEdge(drawn.rings[a]!),
        measured: shared,
        unit: 'mm2',
      });
    }
    if (repeated.has(pair) || !crosses(edges, contact)) continue;
    crossings.push({ contact, sources, measured: shared });
  }
  return [...faults, ...placed(edges, crossings)];
}

interface Crossing {
  readonly contact: Contact;
  readonly sources: readonly number[];
  readonly measured: number;
}

/** Crossings as faults, worst first; those that will be told get their place from the exact library. */
function placed(edges: Edges, crossings: readonly Crossing[]): readonly TidyFault[] {
  const sorted = [...crossings].sort((a, b) => b.measured - a.measured);
  return sorted.map(({ contact, sources, measured }, k) => {
    const at = k < MOST_OF_A_KIND ? placeOf(edges, contact) : contact.at;
    return { kind: 'crossing', sources, at, measured, unit: 'mm2' };
  });
}

/**
 * Adds up, ring by ring, how much of an outline runs along itself in the same direction; answers true once, when
 * that is close to a half: the outline goes round twice.
 */
function retracing(edges: Edges): (ring: number, contact: Contact) => boolean {
  const retraced = new Map<number, number>();
  return (ring, { i, j }) => {
    const before = retraced.get(ring) ?? 0;
    const enough = 0.45 * edges.length[ring]!;
    const after = before + sharedStretch(edgeAt(edges, i), edgeAt(edges, j));
    retraced.set(ring, after);
    return before < enough && after >= enough;
  };
}

/** Length, mm, over which two touching edges run along each other in the same direction. */
function sharedStretch([a, b]: Edge, [c, d]: Edge): number {
  const length = hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const off = ([x, y]: Point): number => Math.abs(ux * (y - a[1]) - uy * (x - a[0]));
  const along = ([x, y]: Point): number => ux * (x - a[0]) + uy * (y - a[1]);
  if (off(c) > TOUCH || off(d) > TOUCH) return 0;
  return Math.max(0, Math.min(length, along(d)) - Math.max(0, along(c)));
}

function positive(ring: Ring): readonly Ring[] {
  return fillRings([ring], 'nonzero');
}

function sameOutline(a: Ring, b: Ring, shared: number): boolean {
  const boxA = ringBox(a);
  const boxB = ringBox(b);
  const far = (['minX', 'minY', 'maxX', 'maxY'] as const).some(
    (side) => Math.abs(boxA[side] - boxB[side]) > 0.1,
  );
  return (
    !far &&
    [a, b].every((ring) => isCovered(Math.abs(signedArea(ring)), meanWidth(ring), shared, REPEAT_WIDTH))
  );
}

/** Whether the part of an outline's area that is not shared is thinner, spread along the outline, than `width` mm. */
function isCovered(area: number, mean: number, shared: number, width: number): boolean {
  const length = mean > 0 ? (2 * area) / mean : 0;
  return area - shared <= width * length;
}

/** The exact place of a crossing; of edges that meet at an end, that end. */
function placeOf(edges: Edges, { i, j, at, proper }: Contact): Point {
  return (proper ? crossingOf(edgeAt(edges, i), edgeAt(edges, j)) : undefined) ?? at;
}

function edgeAt({ coords }: Edges, e: number): Edge {
  return [
    [coords[e * 4]!, coords[e * 4 + 1]!],
    [coords[e * 4 + 2]!, coords[e * 4 + 3]!],
  ];
}

/**
 * Whether two outlines pass through each other at a contact. A passing through a corner is judged once, at the
 * edge that ends there; outlines that run along each other touch and do not cross.
 */
function crosses(edges: Edges, { i, j, at, proper }: Contact): boolean {
  if (proper) return true;
  const one = passing(edges, i, at);
  const other = passing(edges, j, at);
  if (one === undefined || other === undefined) return false;
  const [low, high] = one[0] < one[1] ? one : [one[1], one[0]];
  const along = other.some((angle) =>
    one.some((o) => Math.abs(Math.sin(angle - o)) < 1e-7 && Math.cos(angle - o) > 0),
  );
  const between = other.filter((angle) => angle > low && angle < high).length;
  return !along && between === 1;
}

/** Directions (radians) in which an outline leaves the place, back and forth; undefined where the edge starts there. */
function passing(edges: Edges, e: number, [x, y]: Point): readonly [number, number] | undefined {
  const [[ax, ay], [bx, by]] = edgeAt(edges, e);
  if (hypot(x - ax, y - ay) <= TOUCH) return undefined;
  const atEnd = hypot(x - bx, y - by) <= TOUCH;
  const [fx, fy] = atEnd ? edgeAt(edges, nextEdge(edges, e))[1] : [bx, by];
  return [Math.atan2(ay - y, ax - x), Math.atan2(fy - y, fx - x)];
}

/** The area, mm2, of the smaller of the two loops into which a ring is cut where its edges i < j cross at a place. */
function loopAreas({ coords, first, owner, count }: Edges): (i: number, j: number, at: Point) => number {
  const sums = new Float64Array(count + 1); // twice the area swept from the ring's first point, edge by edge
  for (let e = 0; e < count; e++) {
    const o = first[owner[e]!]! * 4;
    sums[e + 1] =
      (e * 4 === o ? 0 : sums[e]!) +
      cross(coords, o, coords[e * 4]!, coords[e * 4 + 1]!, coords[e * 4 + 2]!, coords[e * 4 + 3]!);
  }
  return (i, j, [x, y]) => {
    const ring = owner[i]!;
    const o = first[ring]! * 4;
    const whole = sums[first[ring + 1]!]!;
    const between = sums[j]! - sums[i + 1]!;
    const toFirst = cross(coords, o, x, y, coords[i * 4 + 2]!, coords[i * 4 + 3]!);
    const fromLast = cross(coords, o, coords[j * 4]!, coords[j * 4 + 1]!, x, y);
    const loop = between + toFirst + fromLast;
    return Math.min(Math.abs(loop), Math.abs(whole - loop)) / 2;
  };
}

function cross(coords: Float64Array, o: number, ax: number, ay: number, bx: number, by: number): number {
  const ox = coords[o]!;
  const oy = coords[o + 1]!;
  return (ax - ox) * (by - oy) - (bx - ox) * (ay - oy);
}
