import { degrees } from '../units.ts';
import { type Bottleneck, bottleneck, type Disc, discAt, discOf, placeAt, separation } from './discs.ts';
import type { Point } from './shapes.ts';
import { cut, lap, type Walk } from './width-walk.ts';

/** Discs whose contacts stand this far apart can lead to a narrowest place; in corners nothing is to be found. */
const HOPEFUL = degrees(120);
/** Contacts this close to a half turn apart are parallel walls: the disc itself is the narrowest place. */
const PARALLEL = Math.PI - 1e-7;
/** A dent counts as a dead end of its own when its outline is this many times its mouth: deeper than it is wide. */
const DEEPER_THAN_WIDE = 3;
/** An outline shorter than this share of the limit is dust, and a wall near it no neck. */
const DUST = 0.05;
/** Directions from one inward corner are not told apart more finely than this. */
const FINEST = degrees(0.05);

/** A narrowest place and the sample it was found from. */
export interface Neck extends Bottleneck {
  readonly sample: number;
}

/**
 * All narrowest places under the limit that part the region in two pieces worth the name.
 *
 * The width along a stroke has a least value only at an inward corner (all others widen one way), or between
 * parallel walls. So looking in every direction from every inward corner cannot miss one; directions are halved
 * where the wall across changes.
 */
export function findNecks(walk: Walk, use: (neck: Neck) => void): void {
  const { samples, tree } = walk;
  const offer = (found: Bottleneck | undefined, sample: number) => {
    if (found && found.width < walk.below * (1 - 1e-9) && parts(walk, found)) use({ ...found, sample });
  };
  for (let i = 0; i < tree.count; i++) {
    const from = samples.first[i] as number;
    const corner = from + (samples.onSegment[i] as number);
    const end = samples.first[i + 1] as number;
    for (let k = from; k < corner; k++) fromWall(walk, k, offer);
    if (corner < end) fromCorner(walk, i, corner, end, offer);
  }
  for (const touch of touches(walk)) offer(touch, samples.first[touch.segments[0]] as number);
}

type Offer = (found: Bottleneck | undefined, sample: number) => void;

function fromWall(walk: Walk, k: number, offer: Offer): void {
  const { samples } = walk;
  const r = samples.r[k] as number;
  if ((samples.other[k] as number) < 0) return;
  const disc = discOf(samples, k);
  const apart = separation(disc);
  if (apart >= PARALLEL) {
    offer(ofDisc(disc), k);
    return;
  }
  const least =
    r <= (samples.r[Math.max(0, k - 1)] as number) &&
    r <= (samples.r[Math.min(samples.count - 1, k + 1)] as number);
  if (least && apart >= HOPEFUL) offer(bottleneck(walk.tree, disc.segment, disc.other, r), k);
}

function fromCorner(walk: Walk, i: number, from: number, end: number, offer: Offer): void {
  const step = (walk.samples.turn[i] as number) / (end - from);
  let last: Disc | undefined;
  let straightest: Disc | undefined;
  for (let k = from; k < end; k++) {
    const disc = discOf(walk.samples, k);
    if (last && last.other !== disc.other) {
      between(walk, i, [step * (k - from - 0.5), last], [step * (k - from + 0.5), disc], k, offer);
      if (straightest) look(walk, straightest, k, offer);
      straightest = undefined;
    }
    // Of the directions that meet one wall, the one looking most squarely at it leads to the narrowest place.
    if (!straightest || separation(disc) > separation(straightest)) straightest = disc;
    last = disc;
  }
  if (straightest) look(walk, straightest, end - 1, offer);
}

function look(walk: Walk, disc: Disc, k: number, offer: Offer): void {
  if (disc.other < 0 || separation(disc) < HOPEFUL) return;
  offer(bottleneck(walk.tree, disc.segment, disc.other, disc.r), k);
}

type Direction = readonly [angle: number, disc: Disc];

/** Looks between two directions as long as they meet different walls, of which one is near. */
function between(walk: Walk, i: number, a: Direction, b: Direction, k: number, offer: Offer): void {
  const [one, two] = [a[1].other, b[1].other];
  if (one === two || Math.abs(a[0] - b[0]) < FINEST) return;
  if (one >= 0 && two >= 0 && (walk.tree.next(one) === two || walk.tree.next(two) === one)) return;
  const angle = (a[0] + b[0]) / 2;
  const disc = discAt(walk.tree, placeAt(walk.tree, i, angle), Math.max(a[1].r, b[1].r));
  look(walk, disc, k, offer);
  between(walk, i, a, [angle, disc], k, offer);
  between(walk, i, [angle, disc], b, k, offer);
}

function ofDisc(disc: Disc): Bottleneck {
  return {
    width: 2 * disc.r,
    segments: [disc.segment, disc.other],
    contacts: [
      [disc.px, disc.py],
      [disc.qx, disc.qy],
    ],
  };
}

/**
 * Whether a narrowest place has something on both sides: another outline, wider material, or a dead end deeper than
 * it is wide. What is left out are dents in a wall, whose mouths would read as very narrow necks, and dust beside it.
 */
function parts(walk: Walk, { width, segments: [i, j], contacts: [p, q] }: Bottleneck): boolean {
  const isDust = (k: number) => (walk.around[walk.tree.ringOf(k)] as number) < walk.below * DUST;
  if (isDust(i) || isDust(j)) return false;
  const way = lap(walk, i, p[0], p[1], j, q[0], q[1]);
  return way >= Math.max(DEEPER_THAN_WIDE * width, walk.below / 2) || wideBetween(walk, i, p, j, q);
}

/**
 * Whether a neck joins wider material on both sides, or leads past an outline that no narrow arc (`rings`: theirs)
 * belongs to: so near the limit that only one of its walls has samples below it.
 */
export function joinsWider(
  walk: Walk,
  { segments: [i, j], contacts: [p, q] }: Neck,
  rings: ReadonlySet<number>,
): boolean {
  const [one, two] = [walk.tree.ringOf(i), walk.tree.ringOf(j)];
  return one === two ? wideBetween(walk, i, p, j, q) : !rings.has(one) || !rings.has(two);
}

/** Whether there is wide material on both ways round the ring between two places of it. */
function wideBetween(walk: Walk, i: number, p: Point, j: number, q: Point): boolean {
  const ring = walk.tree.ringOf(i);
  if (ring !== walk.tree.ringOf(j)) return false;
  const { first } = walk.samples;
  const [one, two] = [cut(walk, i, p), cut(walk, j, q)];
  const [low, high] = one.before < two.before ? [one, two] : [two, one];
  const from = first[walk.tree.starts[ring] as number] as number;
  const end = first[walk.tree.starts[ring + 1] as number] as number;
  const inside = wideIn(walk, low.after, high.before);
  // A place at the ring's very start has the samples of its corner at the end of the list.
  const beyond = high.after >= high.before && wideIn(walk, high.after, end);
  return inside && (beyond || wideIn(walk, from, low.before));
}

function wideIn(walk: Walk, from: number, to: number): boolean {
  return to > from && (walk.wideBefore[to] as number) > (walk.wideBefore[from] as number);
}

/** Corners at exactly the same place: outlines that touch in a point, where the wood has no width at all. */
function touches(walk: Walk): Bottleneck[] {
  const { coords, count } = walk.tree;
  const order: number[] = [];
  for (let i = 0; i < count; i++) if (walk.tree.mayShareStart(i)) order.push(i);
  const x = (i: number) => coords[4 * i] as number;
  const y = (i: number) => coords[4 * i + 1] as number;
  order.sort((a, b) => x(a) - x(b) || y(a) - y(b) || a - b);
  const found: Bottleneck[] = [];
  for (let n = 1; n < order.length; n++) {
    const [a, b] = [order[n - 1] as number, order[n] as number];
    if (x(a) !== x(b) || y(a) !== y(b)) continue;
    const at: Point = [x(a), y(a)];
    found.push({ width: 0, segments: [a, b], contacts: [at, at] });
  }
  return found;
}
