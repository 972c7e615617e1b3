import { centreOf, discOf } from './discs.ts';
import { hypot } from './hypot.ts';
import type { Point } from './shapes.ts';
import { type Arc, isStrokeSample, narrowSampleAt, stepOn, type Walk } from './width-walk.ts';

/** Corner samples between two stroke samples this share of the radius apart are a flaw of the outline, not an end. */
const FLAW = 0.5;

/** Narrow arcs that face one another: one narrow place of the region. */
export interface Group {
  readonly arcs: readonly Arc[];
  /** At how many places it opens into wider material: every open arc has one opening at its end. */
  readonly mouths: number;
}

/** Samples of stroke one after another along the outline. */
export interface Stretch {
  readonly samples: readonly number[];
  /** Goes round a whole ring without an end. */
  readonly closed: boolean;
}

/** Joins arcs across the discs that touch both. Returns the group of each arc and the groups in order of their arcs. */
export function groupsOf(walk: Walk): { readonly groups: readonly Group[]; readonly groupOf: Int32Array } {
  const up = Int32Array.from(walk.arcs, (_, n) => n);
  const find = (n: number): number => {
    let root = n;
    while (up[root] !== root) {
      up[root] = up[up[root] as number] as number;
      root = up[root] as number;
    }
    return root;
  };
  const { samples } = walk;
  for (let k = 0; k < samples.count; k++) {
    const other = samples.other[k] as number;
    if ((walk.arcOf[k] as number) < 0 || other < 0) continue;
    const q: Point = [samples.qx[k] as number, samples.qy[k] as number];
    const across = narrowSampleAt(walk, other, q, centreOf(discOf(samples, k)));
    if (across >= 0) up[find(walk.arcOf[k] as number)] = find(walk.arcOf[across] as number);
  }
  const groupOf = new Int32Array(walk.arcs.length);
  const numbers = new Map<number, number>();
  const members: Arc[][] = [];
  walk.arcs.forEach((arc, n) => {
    const root = find(n);
    const number = numbers.get(root) ?? members.push([]) - 1;
    numbers.set(root, number);
    members[number]?.push(arc);
    groupOf[n] = number;
  });
  const groups = members.map((arcs) => ({ arcs, mouths: arcs.filter((arc) => !arc.closed).length }));
  return { groups, groupOf };
}

/** The stretches of stroke in a group, in the order of walking. */
export function stretchesOf(walk: Walk, group: Group): readonly Stretch[] {
  return group.arcs.flatMap((arc) => stretchesOfArc(walk, arc));
}

function stretchesOfArc(walk: Walk, arc: Arc): Stretch[] {
  const strokes = withoutDents(
    walk,
    arc.samples.filter((k) => isStrokeSample(walk, k)),
    arc.closed,
  );
  if (strokes.length === 0) return [];
  const found: number[][] = [];
  for (const k of strokes) {
    const open = found.at(-1);
    const last = open?.at(-1);
    if (open && last !== undefined && runsOn(walk, last, k)) open.push(k);
    else found.push([k]);
  }
  const first = found[0] as number[];
  const last = found.at(-1) as number[];
  const joins = arc.closed && runsOn(walk, last.at(-1) as number, first[0] as number);
  if (joins && found.length === 1) return [{ samples: first, closed: true }];
  if (joins) found.splice(0, found.length, [...last, ...first], ...found.slice(1, -1));
  return found.map((samples) => ({ samples, closed: false }));
}

/**
 * The samples less those in a dent of the outline: where two places of a wall fold past one another, as at the join of
 * a path that misses its own start by a hair, the largest disc between them is tiny all at once. That is no stroke.
 */
function withoutDents(walk: Walk, samples: readonly number[], closed: boolean): readonly number[] {
  const pieces: number[][] = [];
  for (const k of samples) {
    const last = pieces.at(-1);
    if (last && !leaps(walk, last.at(-1) as number, k)) last.push(k);
    else pieces.push([k]);
  }
  const isDent = (piece: readonly number[], n: number): boolean => {
    const [first, last] = [
      discOf(walk.samples, piece[0] as number),
      discOf(walk.samples, piece.at(-1) as number),
    ];
    const before = pieces[n - 1] ?? (closed ? pieces.at(-1) : undefined);
    const after = pieces[n + 1] ?? (closed ? pieces[0] : undefined);
    const rise = (r: number, k: number | undefined): number =>
      (k === undefined ? r : (walk.samples.r[k] as number)) - r;
    const up = [rise(first.r, before?.at(-1)), rise(last.r, after?.[0])] as const;
    return Math.min(...up) >= 0 && wayAlong(walk, piece) < FLAW * Math.max(...up);
  };
  return pieces.length < 2 ? samples : pieces.filter((piece, n) => !isDent(piece, n)).flat();
}

/** The way along the outline past some samples, mm: a hair that leaves a stroke ends where it began, but has a way. */
function wayAlong(walk: Walk, samples: readonly number[]): number {
  let way = 0;
  for (let n = 1; n < samples.length; n++) {
    const [a, b] = [
      discOf(walk.samples, samples[n - 1] as number),
      discOf(walk.samples, samples[n] as number),
    ];
    way += hypot(b.px - a.px, b.py - a.py);
  }
  return way;
}

/** Whether the width changes between two samples by more than walls that face one another can bring about. */
function leaps(walk: Walk, from: number, to: number): boolean {
  const [a, b] = [discOf(walk.samples, from), discOf(walk.samples, to)];
  return Math.abs(a.r - b.r) > hypot(a.px - b.px, a.py - b.py) + FLAW * Math.max(a.r, b.r);
}

/** Whether stroke goes on from one stroke sample to the next one, without a corner or a place left out between. */
function runsOn(walk: Walk, from: number, to: number): boolean {
  if (stepOn(walk, from, 1) === to) return true;
  const a = discOf(walk.samples, from);
  const b = discOf(walk.samples, to);
  const reach = FLAW * Math.min(a.r, b.r);
  const along = hypot(a.px - b.px, a.py - b.py);
  const [ax, ay] = centreOf(a);
  const [bx, by] = centreOf(b);
  const centres = hypot(ax - bx, ay - by);
  return along <= reach && centres <= reach;
}
