import { degrees } from '../units.ts';
import { centreOf, type Disc, discOf } from './discs.ts';
import { hypot } from './hypot.ts';
import type { Point, Ring } from './shapes.ts';
import { type End, endBeyond, largestOf } from './width-ends.ts';
import { type Group, groupsOf, type Stretch, stretchesOf } from './width-groups.ts';
import { findNecks, joinsWider, type Neck } from './width-necks.ts';
import { isNarrow, narrowSampleAt, stepOn, type Walk, walk } from './width-walk.ts';

/**
 * What a narrow place is.
 * - `neck`: it joins wider material at two places or more.
 * - `dead-end`: the end of a stroke, joined to wider material at one place.
 * - `sharp-tip`: a dead end that runs out into a corner of less than 30 degrees, with no narrowest place before it.
 * - `thin-island`: a whole piece narrower than the limit, longer than it is wide.
 * - `small-island`: a whole piece narrower than the limit, about as long as wide; its width is its largest disc.
 */
export type NarrowKind = 'neck' | 'dead-end' | 'sharp-tip' | 'thin-island' | 'small-island';

/** One place narrower than the limit. Lengths in mm, areas in mm2, angles in radians. */
export interface NarrowRun {
  readonly kind: NarrowKind;
  /** The least width: exact for the outline given, 0 at a sharp tip and where outlines touch in a point. */
  readonly width: number;
  /** The middle of the least width; the tip itself at a sharp tip. */
  readonly at: Point;
  /** Direction of the stroke there, 0 up to pi. */
  readonly axis: number;
  /** Length of stroke narrower than the limit, along its middle. */
  readonly length: number;
  /** Area of that stroke. */
  readonly area: number;
  /** The two places of the outline the least width lies between. */
  readonly contacts: readonly [Point, Point];
  /** x, y and half width along the middle of its longest stretch, for drawing. */
  readonly line: Float64Array;
}

export interface NarrowRuns {
  /** Worst first. */
  readonly runs: readonly NarrowRun[];
  /** Least width below the limit, sharp tips left out; undefined when nothing else is below it. */
  readonly least: number | undefined;
}

export interface LeastWidth {
  readonly width: number;
  readonly at: Point;
  readonly contacts: readonly [Point, Point];
}

/** Corners sharper than this are tips; the walls of larger ones close too fast to be a stroke. */
const TIP = degrees(30);
/** A dead end that tapers to less than this share of the limit has run out into a tip, whatever its last point is. */
const RUN_OUT = 0.05;

/**
 * Where the region is narrower than `below` mm. The region lies on the left of every ring: pass `region.rings` for
 * strokes, the rings reversed for the lands between them.
 *
 * A place is narrow when the largest disc there is narrower than the limit and touches walls at contacts 150 degrees
 * or more apart; corners, whose contacts come nearer together, are left alone. Least widths are found from every
 * inward corner and every pair of parallel walls and are exact for the outline given, whatever the spacing of
 * samples; lengths and areas are good to about a tenth of the limit. Dents whose outline is shorter than half the limit
 * count as roughness. Where outlines touch in a point the width is 0, for strokes and lands alike.
 */
export function narrowRuns(rings: readonly Ring[], below: number): NarrowRuns {
  const walked = walk(rings, below);
  const { groups, groupOf } = groupsOf(walked);
  const necks: (Neck | undefined)[] = groups.map(() => undefined);
  const alone: Neck[] = [];
  findNecks(walked, (neck) => {
    const arc = arcNear(walked, neck);
    if (arc < 0 || neck.width === 0) {
      alone.push(neck);
      return;
    }
    const group = groupOf[arc] as number;
    const best = necks[group];
    if (!best || neck.width < best.width) necks[group] = neck;
  });
  const runs = groups.flatMap((group, n) => runOf(walked, group, necks[n]) ?? []);
  runs.push(...apart(walked, alone).map(bareNeck));
  runs.sort((a, b) => a.width - b.width || a.at[0] - b.at[0] || a.at[1] - b.at[1]);
  return { runs, least: runs.find((run) => run.kind !== 'sharp-tip')?.width };
}

/**
 * The least stroke width of a whole region, whatever its size; round and square pieces count by their largest disc,
 * sharp tips not at all. Undefined for a region without area. `known` is what is narrow below any limit, when that has
 * been found: where it holds anything, the least is among it.
 */
export function leastWidth(rings: readonly Ring[], known?: NarrowRuns): LeastWidth | undefined {
  const found = known?.runs.find((run) => run.kind !== 'sharp-tip');
  if (found) return { width: found.width, at: found.at, contacts: found.contacts };
  const size = extent(rings);
  // Every piece is an island once the limit is wider than the drawing, so the search ends.
  for (let below = size / 64; below > 0 && below < 5 * size; below *= 2) {
    const worst = narrowRuns(rings, below).runs.find((run) => run.kind !== 'sharp-tip');
    if (worst) return { width: worst.width, at: worst.at, contacts: worst.contacts };
  }
  return undefined;
}

function runOf(walk: Walk, group: Group, neck: Neck | undefined): NarrowRun | undefined {
  const stretches = stretchesOf(walk, group);
  if (!neck && group.mouths > 0 && !mayBeLong(walk, stretches)) return undefined;
  const measured = stretches.map((stretch) => measure(walk, stretch));
  const run = {
    // Every stroke is walked along both its walls.
    length: sum(measured.map((m) => m.length)) / 2,
    area: sum(measured.map((m) => m.area)),
    line: lineOf(walk, stretches, measured),
  };
  const bluntEnds = measured.flatMap((m) =>
    m.ends.filter((end) => end.blunt && isLong(m, end.disc, walk.below)),
  );
  const narrowest = [...bluntEnds.map((end) => endPlace(end)), ...(neck ? [neckPlace(neck)] : [])].sort(
    (a, b) => a.width - b.width,
  )[0];
  if (group.mouths === 0 && narrowest && isSlender(walk, group, run.length)) {
    return { ...run, kind: 'thin-island', ...narrowest };
  }
  const whole = group.mouths === 0 ? wholeIsland(walk, group) : undefined;
  if (whole) return { ...run, ...island(whole, run.length, neck, narrowest) };
  const long = run.length >= walk.below / 2;
  if (!neck && !long) return undefined;
  const isNeck = neck !== undefined && narrowest?.width === neck.width;
  const rings = () => new Set(group.arcs.map((arc) => arc.ring));
  if (group.mouths > 1 || (group.mouths === 1 && isNeck && joinsWider(walk, neck, rings())))
    return { ...run, kind: 'neck', ...(narrowest ?? leastStroke(walk, stretches, measured)) };
  const tip =
    neck || (narrowest && narrowest.width > RUN_OUT * walk.below) ? undefined : sharpTip(walk, group);
  if (tip) return { ...run, kind: 'sharp-tip', ...tip };
  return { ...run, kind: 'dead-end', ...(narrowest ?? leastStroke(walk, stretches, measured)) };
}

/** The discs of a stretch, with one of no size in each sharp tip it goes round. */
function discsOf(walk: Walk, samples: readonly number[]): readonly Disc[] {
  return samples.flatMap((k, n) => {
    const disc = discOf(walk.samples, k);
    const goesOn = n + 1 < samples.length && walk.samples.segment[samples[n + 1] as number] !== disc.segment;
    if (!goesOn || (walk.samples.turn[disc.segment] as number) <= Math.PI - TIP) return [disc];
    const [px, py] = cornerAfter(walk, disc.segment);
    return [disc, { ...disc, px, py, r: 0, qx: px, qy: py }];
  });
}

function cornerAfter(walk: Walk, segment: number): Point {
  const q = 4 * segment;
  return [walk.tree.coords[q + 2] as number, walk.tree.coords[q + 3] as number];
}

/** Whether a group's stroke can be long enough to tell of, before its ends are sought. */
function mayBeLong(walk: Walk, stretches: readonly Stretch[]): boolean {
  let longest = 0;
  for (const { samples } of stretches) {
    longest += 2 * walk.spacing;
    for (let n = 1; n < samples.length && longest < walk.below; n++) {
      const [ax, ay] = centreOf(discOf(walk.samples, samples[n - 1] as number));
      const [bx, by] = centreOf(discOf(walk.samples, samples[n] as number));
      longest += hypot(bx - ax, by - ay);
    }
    if (longest >= walk.below) return true;
  }
  return false;
}

interface Place {
  readonly width: number;
  readonly at: Point;
  readonly axis: number;
  readonly contacts: readonly [Point, Point];
}

interface Measured {
  readonly length: number;
  readonly area: number;
  readonly ends: readonly End[];
}

/** Length and area of one wall's side of a stroke, with its two ends (none when it goes all round). */
function measure(walk: Walk, { samples, closed }: Stretch): Measured {
  const discs = discsOf(walk, samples);
  const ends = closed
    ? []
    : [endBeyond(walk, samples[0] as number, -1), endBeyond(walk, samples.at(-1) as number, 1)];
  const all = closed ? [...discs, discs[0] as Disc] : [ends[0]!.disc, ...discs, ends[1]!.disc];
  let length = 0;
  let area = 0;
  for (let n = 1; n < all.length; n++) {
    const a = all[n - 1] as Disc;
    const b = all[n] as Disc;
    const [ax, ay] = centreOf(a);
    const [bx, by] = centreOf(b);
    length += hypot(bx - ax, by - ay);
    // The four-sided field between two places of the wall and their two centres, by its diagonals.
    area += Math.abs((bx - a.px) * (ay - b.py) - (by - a.py) * (ax - b.px)) / 2;
  }
  return { length, area, ends };
}

/** Whether a piece is narrow and longer than wide beyond doubt, whatever its largest disc between the samples. */
function isSlender(walk: Walk, group: Group, length: number): boolean {
  let most = 0;
  for (const arc of group.arcs)
    for (const k of arc.samples) most = Math.max(most, walk.samples.r[k] as number);
  const atMost = 2 * (most + walk.spacing / 2);
  return isNarrow(atMost / 2, walk.below) && length >= atMost;
}

/** The largest disc of a piece no sample of which is wide; undefined when there is wide material after all. */
function wholeIsland(walk: Walk, group: Group): Place | undefined {
  const largest = largestOf(
    walk,
    group.arcs.flatMap((arc) => arc.samples),
  );
  return isNarrow(largest.r, walk.below) ? discPlace(largest) : undefined;
}

function island(
  whole: Place,
  length: number,
  neck: Neck | undefined,
  narrowest: Place | undefined,
): Place & { readonly kind: NarrowKind } {
  const waisted = neck !== undefined && neck.width < 0.95 * whole.width;
  if (length < whole.width && !waisted) return { kind: 'small-island', ...whole };
  return { kind: 'thin-island', ...(narrowest ?? whole) };
}

/** The sharpest corner of a dead end, if it is a tip. */
function sharpTip(walk: Walk, group: Group): Place | undefined {
  const { samples, tree } = walk;
  let sharpest = Math.PI - TIP;
  let found: number | undefined;
  for (const k of group.arcs.flatMap((arc) => arc.samples)) {
    const segment = samples.segment[k] as number;
    const ends = stepOn(walk, k, 1) !== k + 1 || samples.segment[k + 1] !== segment;
    if (!ends) continue;
    const turn = samples.turn[segment] as number;
    if (turn <= sharpest) continue;
    sharpest = turn;
    found = segment;
  }
  if (found === undefined) return undefined;
  const at = cornerAfter(walk, found);
  const along = Math.atan2(
    at[1] - (tree.coords[4 * found + 1] as number),
    at[0] - (tree.coords[4 * found] as number),
  );
  return { width: 0, at, axis: modPi(along - (Math.PI - sharpest) / 2), contacts: [at, at] };
}

/** The narrowest disc of the stroke: where a taper rounds off, it ends where its walls close too fast. */
function leastStroke(walk: Walk, stretches: readonly Stretch[], measured: readonly Measured[]): Place {
  const discs = [
    ...stretches.flatMap((stretch) => stretch.samples.map((k) => discOf(walk.samples, k))),
    ...measured.flatMap((m) => m.ends.map((end) => end.disc)),
  ];
  return discPlace(discs.reduce((least, disc) => (disc.r < least.r ? disc : least)));
}

/** A blunt end counts when the stroke before it is longer than half its width there and no mere roughness. */
function isLong(measured: Measured, disc: Disc, below: number): boolean {
  return measured.length >= Math.max(disc.r, below / 4);
}

/** Centres along the longest stretch, one wall only: it stops where it meets what has been drawn from the other. */
function lineOf(walk: Walk, stretches: readonly Stretch[], measured: readonly Measured[]): Float64Array {
  let longest = 0;
  measured.forEach((m, n) => {
    if (m.length > (measured[longest] as Measured).length) longest = n;
  });
  const stretch = stretches[longest];
  if (!stretch) return new Float64Array(0);
  const seen = new Set<number>();
  const line: number[] = [];
  for (const k of stretch.samples) {
    const disc = discOf(walk.samples, k);
    if (seen.has(narrowSampleAt(walk, disc.other, [disc.qx, disc.qy], centreOf(disc)))) break;
    seen.add(k);
    line.push(...centreOf(disc), disc.r);
  }
  return Float64Array.from(line);
}

/** The arc a neck belongs to: of the sample it was found from, or of one beside its contacts. */
function arcNear(walk: Walk, neck: Neck): number {
  const own = walk.arcOf[neck.sample] as number;
  if (own >= 0) return own;
  for (const side of [0, 1] as const) {
    const k = narrowSampleAt(walk, neck.segments[side], neck.contacts[side], neckPlace(neck).at);
    if (k >= 0) return walk.arcOf[k] as number;
  }
  return -1;
}

/** Necks so short that no sample beside them is narrow: one of each that are found from both their corners. */
function apart(walk: Walk, necks: readonly Neck[]): readonly Neck[] {
  const kept: Neck[] = [];
  for (const neck of [...necks].sort((a, b) => a.width - b.width)) {
    const [x, y] = neckPlace(neck).at;
    const known = kept.some((other) => {
      const [u, v] = neckPlace(other).at;
      return hypot(x - u, y - v) < walk.below / 4;
    });
    if (!known) kept.push(neck);
  }
  return kept;
}

function bareNeck(neck: Neck): NarrowRun {
  return { kind: 'neck', ...neckPlace(neck), length: 0, area: 0, line: new Float64Array(0) };
}

function neckPlace({ width, contacts }: Neck): Place {
  const [[px, py], [qx, qy]] = contacts;
  return { width, at: [(px + qx) / 2, (py + qy) / 2], axis: across(px - qx, py - qy), contacts };
}

function endPlace(end: End): Place {
  return discPlace(end.disc);
}

function discPlace(disc: Disc): Place {
  return {
    width: 2 * disc.r,
    at: centreOf(disc),
    axis: across(disc.px - disc.qx, disc.py - disc.qy),
    contacts: [
      [disc.px, disc.py],
      [disc.qx, disc.qy],
    ],
  };
}

/** Direction square to a chord. */
function across(x: number, y: number): number {
  return modPi(Math.atan2(y, x) + Math.PI / 2);
}

function modPi(angle: number): number {
  const turned = ((angle % Math.PI) + Math.PI) % Math.PI;
  return turned === Math.PI ? 0 : turned;
}

function sum(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0);
}

/** The larger side of the box round all rings, mm. */
function extent(rings: readonly Ring[]): number {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings) {
    for (let k = 0; k < ring.length; k += 2) {
      minX = Math.min(minX, ring[k] as number);
      maxX = Math.max(maxX, ring[k] as number);
      minY = Math.min(minY, ring[k + 1] as number);
      maxY = Math.max(maxY, ring[k + 1] as number);
    }
  }
  return maxX >= minX ? Math.max(maxX - minX, maxY - minY) : 0;
}
