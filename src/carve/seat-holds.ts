import { hypot } from '../geometry/hypot.ts';
import type { SegmentTree } from '../geometry/nearest.ts';
import { degrees } from '../units.ts';
import type { Cut } from './cut.ts';
import { cornerAt, touchingDisc } from './cut-disc.ts';
import { normalAt } from './cut-side.ts';
import type { Contact, HoldKind, Pair, Seat } from './fit.ts';
import { CORNER } from './seat-edges.ts';
import type { Place } from './seat-place.ts';
import { highestHold } from './seat-pose.ts';

/** Slack within which a place counts as touching, mm of height. */
const TOUCHING = 2e-5;
/** Walls that close at less than this are a stroke, not a corner. */
const STROKE = degrees(30);
const MOST_TOLD = 24;
/** The tightest places are sought among so many. */
const MOST_TIGHT = 400;
/** Places looked at for it. */
const MOST_NAMED = 60;
/** A point this near to a corner is at it, mm. */
const AT = 1e-6;
/** Strokes and lands wider than this many times the depth of their wall are no narrow ones. */
const WIDE = 3;
/** Holds that run along walls or faces: a few places tell them. */
const LONG: ReadonlySet<HoldKind> = new Set(['outline', 'different-bits', 'floor', 'root']);

/** What the seated plug rests on, and the tightest places of all; each told once, the highest first. */
export function contactsOf(
  pair: Pair,
  places: readonly Place[],
  s: Seat,
): { holds: Contact[]; tight: Contact[] } {
  const { met } = highestHold(pair, places, s, s.height - TOUCHING, true);
  const touching = met.map(({ place }) => place).sort(tightestFirst);
  const tightest = tightestOf(places).sort(tightestFirst).slice(0, MOST_TIGHT);
  return { holds: apart(pair, touching), tight: apart(pair, tightest) };
}

/** At least the tightest places that are looked at: of a quarter of a million, few need putting in order. */
function tightestOf(places: readonly Place[]): Place[] {
  if (places.length <= MOST_TIGHT) return [...places];
  const least = new Float64Array(places.map(rank)).sort().at(-MOST_TIGHT) as number;
  return places.filter((p) => rank(p) >= least);
}

function tightestFirst(a: Place, b: Place): number {
  return rank(b) - rank(a) || (a.angle ?? 9) - (b.angle ?? 9) || down(a) - down(b) || a.x - b.x || a.y - b.y;
}

/** Lifts alike to a hundredth of a micrometre are one: then the more parallel walls are the reason. */
function rank(p: Place): number {
  return Math.round(p.lift * 1e5);
}

/** A spike of board that holds all along its edge is told at its point. */
function down(p: Place): number {
  return p.feature === 'spike' ? p.own : 0;
}

/**
 * Leaves out places of one kind next to one already told: they are the same feature. Crowds are thinned by where
 * they are first, for naming a place costs more than looking where it is.
 */
function apart(pair: Pair, places: readonly Place[]): Contact[] {
  const told: Contact[] = [];
  const size = Math.max(pair.box.maxX - pair.box.minX, pair.box.maxY - pair.box.minY);
  const seen: Place[] = [];
  for (const p of places) {
    if (told.length === MOST_TOLD || seen.length === MOST_NAMED) break;
    if (seen.some((q) => q.feature === p.feature && hypot(q.x - p.x, q.y - p.y) < size / 40)) continue;
    seen.push(p);
    const contact = contactOf(pair, p);
    const near = size / (LONG.has(contact.kind) ? 3 : 40);
    const known = told.some((c) => c.kind === contact.kind && hypot(c.at[0] - p.x, c.at[1] - p.y) < near);
    if (!known) told.push(contact);
  }
  return told;
}

function contactOf(pair: Pair, p: Place): Contact {
  return { ...kindOf(pair, p), at: [p.x, p.y], alone: p.lift };
}

/** Names a place by what would change the height there. */
function kindOf(pair: Pair, p: Place): Pick<Contact, 'kind' | 'width' | 'angle'> {
  const { pocket, plug } = pair;
  const board = p.rides === 'board' ? p.own : pocket.depth(p.x, p.y);
  const taken = p.rides === 'plug' ? p.own : plug.depth(p.x, p.y);
  if (taken < TOUCHING && board >= pocket.setup.start + pocket.setup.flat - TOUCHING)
    return { kind: 'floor' };
  if (board < TOUCHING && taken >= plug.setup.start + plug.setup.flat - TOUCHING) return { kind: 'root' };
  // What a sharp point would have cut there, and what the tip leaves standing of it on either part.
  const boardLeft = sharpDepth(pocket, p) - board;
  const plugLeft = sharpDepth(plug, p) - taken;
  if (boardLeft + plugLeft < p.lift / 2 + TOUCHING) return { kind: bySlope(pair, p) };
  if (boardLeft >= plugLeft) {
    const { width, angle } = narrowness(pocket, pair.pocketTree, 1, p);
    if (!Number.isFinite(pocket.wall(p.x, p.y))) return { kind: 'uncut-stroke', width };
    if (p.feature === 'spike' && p.angle !== undefined) return { kind: 'corner', angle: p.angle };
    return isLong(width, angle) ? { kind: 'narrow-stroke', width } : { kind: 'corner', angle };
  }
  if (p.feature === 'spike' && p.angle !== undefined) return { kind: 'notch', angle: p.angle };
  const { width, angle } = narrowness(plug, pair.plugTree, -1, p);
  return isLong(width, angle) ? { kind: 'uncut-land', width } : { kind: 'notch', angle };
}

/** A stroke or land, not the very point of a corner, which has no width to tell however fine it is. */
function isLong(width: number, angle: number): boolean {
  return width > 0 && angle < STROKE;
}

function sharpDepth(cut: Cut, p: Place): number {
  const { start, flat } = cut.setup;
  return Math.max(0, start + Math.min(flat, cut.room(p.x, p.y) / cut.real.t));
}

function bySlope(pair: Pair, p: Place): HoldKind {
  const steeperPlug = pair.pocket.real.t > pair.plug.real.t + 1e-9;
  return steeperPlug && p.feature !== 'mouth' ? 'different-bits' : 'outline';
}

/** Local width of a stroke or land at a place, mm, and the angle at which its walls close, radians. */
function narrowness(cut: Cut, tree: SegmentTree, side: 1 | -1, p: Place): { width: number; angle: number } {
  const i = tree.nearest(p.x, p.y);
  const [mx, my, fx, fy] = normalAt(tree, i, p.x, p.y);
  // Beyond the point of a corner there is one to tell of, and no disc fits into it.
  const corner = [i, tree.next(i)].map((k) => cornerAt(tree, k, side)).find((c) => isAt(c, fx, fy));
  if (corner !== undefined && corner.turn > CORNER) return { width: 0, angle: Math.PI - corner.turn };
  const length = hypot(mx, my) || 1;
  const limit = WIDE * (cut.real.r + (cut.setup.start + cut.setup.flat) * cut.real.t);
  const disc = touchingDisc(tree, i, fx, fy, (side * mx) / length, (side * my) / length, limit);
  if (disc.other === undefined) return { width: Number.POSITIVE_INFINITY, angle: Math.PI };
  const ux = fx - disc.x;
  const uy = fy - disc.y;
  const vx = disc.other.x - disc.x;
  const vy = disc.other.y - disc.y;
  const between = Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  return { width: 2 * disc.r, angle: Math.PI - between };
}

function isAt(p: { readonly x: number; readonly y: number }, x: number, y: number): boolean {
  return hypot(p.x - x, p.y - y) < AT;
}
