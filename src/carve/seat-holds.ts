import { degrees } from '../units.ts';
import type { Contact, HoldKind, Pair, Seat } from './fit.ts';
import type { Place } from './seat-places.ts';
import { holdAt } from './seat-pose.ts';

/** Slack within which a place counts as touching, mm of height. */
const TOUCHING = 2e-5;
/** Walls that close at less than this are a stroke, not a corner. */
const STROKE = degrees(30);
const MOST_TOLD = 24;
/** Holds that run along walls or faces: a few places tell them. */
const LONG: ReadonlySet<HoldKind> = new Set(['outline', 'different-bits', 'floor', 'root']);

/** What the seated plug rests on, and the tightest places of all; each told once, the highest first. */
export function contactsOf(
  pair: Pair,
  places: readonly Place[],
  s: Seat,
): { holds: Contact[]; tight: Contact[] } {
  const sorted = [...places].sort(
    (a, b) => rank(b) - rank(a) || (a.angle ?? 9) - (b.angle ?? 9) || a.x - b.x || a.y - b.y,
  );
  const touching = sorted.filter((p) => holdAt(pair, s, p) > s.height - TOUCHING);
  return { holds: apart(pair, touching), tight: apart(pair, sorted.slice(0, 2000)) };
}

/** Lifts alike to a hundredth of a micrometre are one: then the more parallel walls are the reason. */
function rank(p: Place): number {
  return Math.round(p.lift * 1e5);
}

/** Leaves out places of one kind next to one already told: they are the same feature. */
function apart(pair: Pair, places: readonly Place[]): Contact[] {
  const told: Contact[] = [];
  const size = Math.max(pair.box.maxX - pair.box.minX, pair.box.maxY - pair.box.minY);
  for (const p of places) {
    if (told.length === MOST_TOLD) break;
    const contact = contactOf(pair, p);
    const near = size / (LONG.has(contact.kind) ? 3 : 40);
    const known = told.some(
      (c) => c.kind === contact.kind && Math.hypot(c.at[0] - p.x, c.at[1] - p.y) < near,
    );
    if (!known) told.push(contact);
  }
  return told;
}

function contactOf(pair: Pair, p: Place): Contact {
  const kind = kindOf(pair, p);
  const width = Number.isFinite(p.half) && p.feature !== 'spike' ? 2 * p.half : undefined;
  const angle = kind === 'corner' || kind === 'notch' ? p.angle : undefined;
  return { kind, at: [p.x, p.y], alone: p.lift, width, angle };
}

/** Names a place by what would change the height there. */
function kindOf(pair: Pair, p: Place): HoldKind {
  const { pocket, plug } = pair;
  const board = p.rides === 'board' ? p.own : pocket.depth(p.x, p.y);
  const taken = p.rides === 'plug' ? p.own : plug.depth(p.x, p.y);
  if (taken === 0 && board >= pocket.setup.start + pocket.setup.flat - TOUCHING) return 'floor';
  if (board === 0 && taken >= plug.setup.start + plug.setup.flat - TOUCHING) return 'root';
  if (p.rides === 'board' && !Number.isFinite(plug.wall(p.x, p.y))) return 'uncut-land';
  if (p.rides === 'plug' && !Number.isFinite(pocket.wall(p.x, p.y))) return 'uncut-stroke';
  if (sharpLift(pair, p) > p.lift / 2 - TOUCHING) return different(pair, p) ? 'different-bits' : 'outline';
  if (p.feature === 'spike') return 'notch';
  if (p.rides === 'board') return (p.angle ?? 0) < STROKE ? 'uncut-land' : 'notch';
  return (p.angle ?? 0) < STROKE ? 'narrow-stroke' : 'corner';
}

/** How high the outlines alone would hold the plug here, if both tips were sharp points. */
function sharpLift(pair: Pair, p: Place): number {
  const { pocket, plug } = pair;
  const board = Math.min(
    pocket.setup.start + pocket.room(p.x, p.y) / pocket.real.t,
    pocket.setup.start + pocket.setup.flat,
  );
  const taken = Math.min(
    plug.setup.start + plug.room(p.x, p.y) / plug.real.t,
    plug.setup.start + plug.setup.flat,
  );
  return pair.mating - Math.max(0, board) - Math.max(0, taken);
}

function different(pair: Pair, p: Place): boolean {
  return pair.pocket.real.t > pair.plug.real.t + 1e-9 && p.feature !== 'mouth';
}
