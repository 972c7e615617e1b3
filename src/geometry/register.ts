import { hypot } from './hypot.ts';
import { apply, IDENTITY, invert, matrixOf } from './motion.ts';
import { type Farthest, farPlaces, farthest } from './register-deviation.ts';
import { type SameOutlines, sameOutlines } from './register-exact.ts';
import { leastWorst, type Rows } from './register-lp.ts';
import { type Outline, outlineOf, spread } from './register-outline.ts';
import { candidates, UNLIKE } from './register-search.ts';
import {
  emptyMeeting,
  type Meeting,
  meetFromPlug,
  meetFromPocket,
  nudge,
  type Settled,
} from './register-settle.ts';
import type { Motion, Point, Region } from './shapes.ts';

/** The plug laid over the pocket where their largest distance is least. */
export interface Registered {
  /** Carries the plug's drawing onto the pocket's. */
  readonly motion: Motion;
  /** Largest distance between the two outlines, both ways, mm. Infinite when just one of them is empty. */
  readonly deviation: number;
  /** Where that is, in the pocket's frame and in the plug's own. */
  readonly at: Point;
  readonly plugAt: Point;
  /** Whose point it is that lies so far from the other outline. */
  readonly from: 'pocket' | 'plug';
}

export interface RegisterOptions {
  /** Look for a motion that turns the plug's drawing over (a mirror image), or for one that does not. */
  readonly reflect: boolean;
  /** A deviation, mm, below which the first fit found is good enough to stop searching for others. */
  readonly enough?: number;
  /** Stop at the quick guesses even when they do not come close: for a motion that only has to be told apart. */
  readonly quick?: boolean;
  /** Only whether it fits matters: when the first guesses are all far off, the best of them is the answer as it is. */
  readonly apart?: boolean;
}

/** Both answers of one search. */
export interface Registration {
  /** Least largest distance: how the plug settles when everything counts. */
  readonly least: Registered;
  /** Most of the outline on the other: how the plug lies when missing, extra or moved pieces are passed over. */
  readonly settled: Settled;
  /** All that lay about as well before polishing, such as the turns of a design that is nearly its own image. */
  readonly hopeful: readonly Motion[];
}

/**
 * The best rigid motion of `plug` onto `pocket` in the sense of the largest distance between the outlines, over every
 * point of both. The motion is found from any start; the distance is exact for the motion given (to 1e-5 mm), and
 * no other motion nearby has a lower one by more than a thousandth. Never throws, equal input gives equal output.
 */
export function register(pocket: Region, plug: Region, options: RegisterOptions): Registered {
  return registration(outlineOf(pocket), outlineOf(plug), options).least;
}

export function registration(pocket: Outline, plug: Outline, options: RegisterOptions): Registration {
  const still: Motion = { ...IDENTITY, reflect: options.reflect };
  if (pocket.x.length === 0 || plug.x.length === 0) {
    return {
      least: fitAt(pocket, plug, still),
      settled: { motion: still, cost: Number.POSITIVE_INFINITY, most: Number.POSITIVE_INFINITY },
      hopeful: [],
    };
  }
  const same = sameOutlines(pocket, plug, options.reflect);
  if (same !== undefined) return registeredSame(same);
  const found = candidates(pocket, plug, options);
  const settled = found[0];
  // Far worse ones cannot become the best by the small moves of polishing.
  const least = found.reduce((most, s) => Math.min(most, s.most), Number.POSITIVE_INFINITY);
  if (options.apart === true && least > UNLIKE * pocket.size)
    return { least: fitAt(pocket, plug, settled.motion), settled, hopeful: [] };
  const hopeful = found.filter((s) => s.most <= 2 * least);
  if (hopeful.length === 1)
    return {
      least: polishAll(pocket, plug, hopeful[0].motion, options.quick === true ? 1 : ROUNDS),
      settled,
      hopeful: [],
    };
  const polished = hopeful.map((s) => polish(pocket, plug, s.motion, placesOf(pocket, plug), 4));
  const best = polished.reduce((a, b) => (beats(b, a) ? b : a));
  return {
    least: polishAll(pocket, plug, best.motion),
    settled,
    hopeful: polished.map(({ motion }) => motion),
  };
}

function registeredSame({ motion, deviation, at }: SameOutlines): Registration {
  const plugAt = apply(invert(motion), at[0], at[1]);
  return {
    least: { motion, deviation, at, plugAt, from: 'plug' },
    settled: { motion, cost: 0, most: deviation },
    hopeful: [],
  };
}

/** A turn of the design onto its own symmetric place is not worth half a micrometre. */
const WORTH_A_TURN = 0.0005;

/** Whether `b` beats `a`: clearly less far, or about as far with less of a turn. */
function beats(b: Polished, a: Polished): boolean {
  const difference = a.worst - b.worst;
  const alike = Math.max(0.02 * Math.max(a.worst, b.worst), WORTH_A_TURN);
  if (Math.abs(difference) > alike) return difference > 0;
  return Math.abs(b.motion.angle) < Math.abs(a.motion.angle) - 1e-3;
}

/** Places whose distances the polishing weighs against each other. */
interface Places {
  readonly pocket: number[];
  readonly plug: number[];
}

/** Corners and edge points thinned out evenly, x and y interleaved. */
function placesOf(pocket: Outline, plug: Outline): Places {
  return { pocket: some(pocket), plug: some(plug) };
}

const PLACES = 500;

function some(outline: Outline): number[] {
  const places: number[] = [];
  const c = outline.tree.coords;
  const stride = Math.max(1, Math.floor(outline.tree.count / PLACES));
  for (let i = 0; i < outline.tree.count; i += stride) places.push(c[4 * i], c[4 * i + 1]);
  const { x, y } = spread(outline.region.rings, 64);
  for (let k = 0; k < x.length; k++) places.push(x[k], y[k]);
  return places;
}

/** Steps of polishing, and when only a rough answer is asked for. */
const STEPS = 20;
const FEW_STEPS = 6;
/** Rounds of looking at every point again after polishing at some of them. */
const ROUNDS = 6;
/** Far places added in a round. */
const ADDED = 400;

/** Polishes at some places, looks at all, adds those that stand out, until none does. */
export function polishAll(
  pocket: Outline,
  plug: Outline,
  start: Motion,
  rounds: number = ROUNDS,
): Registered {
  const places = placesOf(pocket, plug);
  let best: Registered | undefined;
  let motion = start;
  for (let round = 0; round < rounds; round++) {
    const polished = polish(pocket, plug, motion, places, rounds > 1 ? STEPS : FEW_STEPS);
    motion = polished.motion;
    const all = fitAt(pocket, plug, motion);
    if (best === undefined || all.deviation < best.deviation) best = all;
    if (all.deviation <= polished.worst * 1.0005 + 1e-5) break;
    addFar(pocket, plug, motion, polished.worst, all, places);
  }
  return best as Registered;
}

/** Past this part of the design's size the drawings do not belong together, and the last digit does not matter. */
const HOPELESS = 0.005;

function addFar(
  pocket: Outline,
  plug: Outline,
  motion: Motion,
  level: number,
  all: Registered,
  places: Places,
): void {
  const worst = all.from === 'pocket' ? all.at : all.plugAt;
  places[all.from].push(worst[0], worst[1]);
  if (all.deviation > HOPELESS * pocket.size) return;
  const far: { x: number; y: number; d: number; into: number[] }[] = [];
  // Only the upper part of what stands out matters, and there may be very many.
  const floor = Math.max(level, all.deviation * 0.7);
  const noteInto = (into: number[]) => (x: number, y: number, d: number) => void far.push({ x, y, d, into });
  farPlaces(plug.tree, pocket.tree, motion, floor, noteInto(places.plug));
  farPlaces(pocket.tree, plug.tree, invert(motion), floor, noteInto(places.pocket));
  far.sort((a, b) => b.d - a.d);
  for (const { x, y, into } of far.slice(0, ADDED)) into.push(x, y);
}

/** The fit of this very motion. */
export function fitAt(pocket: Outline, plug: Outline, motion: Motion): Registered {
  const far: Farthest | undefined = farthest(pocket.tree, plug.tree, motion);
  const [x, y] = far?.at ?? pocket.centre;
  return {
    motion,
    deviation: far?.distance ?? 0,
    at: [x, y],
    plugAt: apply(invert(motion), x, y),
    from: far?.from ?? 'pocket',
  };
}

interface Polished {
  readonly motion: Motion;
  readonly worst: number;
}

/**
 * Lowers the largest distance over the places step by step: every distance is written as a straight-line function of
 * shift and turn, the least worst of these is found exactly, and the step is kept when the true distances agree.
 */
function polish(pocket: Outline, plug: Outline, start: Motion, places: Places, steps: number): Polished {
  const meetings = Array.from({ length: (places.pocket.length + places.plug.length) / 2 }, emptyMeeting);
  let motion = start;
  let worst = meetAll(pocket, plug, motion, places, meetings);
  let reach = worst;
  for (let k = 0; k < steps && reach > 1e-9; k++) {
    const { z, worst: hoped } = leastWorst(rowsOf(meetings, pocket, worst, reach), reach);
    if (worst - hoped < 1e-4 * worst + 1e-9) break;
    const next = nudge(motion, pocket, z[0], z[1], z[2] / pocket.size);
    const reached = meetAll(pocket, plug, next, places, meetings);
    const kept = (worst - reached) / (worst - hoped);
    if (reached < worst) {
      motion = next;
      worst = reached;
      if (kept < 0.5) reach *= 0.5;
      else if (kept > 0.9) reach *= 2;
    } else {
      reach *= 0.25;
      meetAll(pocket, plug, motion, places, meetings);
    }
  }
  return { motion, worst };
}

function meetAll(
  pocket: Outline,
  plug: Outline,
  motion: Motion,
  places: Places,
  meetings: Meeting[],
): number {
  const t = matrixOf(motion);
  let worst = 0;
  let at = 0;
  for (let k = 0; k < places.pocket.length; k += 2) {
    const m = meetings[at++];
    meetFromPocket(plug, places.pocket[k], places.pocket[k + 1], t, m);
    worst = Math.max(worst, m.distance);
  }
  for (let k = 0; k < places.plug.length; k += 2) {
    const m = meetings[at++];
    meetFromPlug(pocket, places.plug[k], places.plug[k + 1], t, m);
    worst = Math.max(worst, m.distance);
  }
  return worst;
}

/** Directions about a corner's own distance direction in which it is held, in eighths of a turn. */
const FAN = [-2, -1, 0, 1, 2];

/** The distances that may become the worst within reach, as rows of shift x, shift y, turn times the design's size. */
function rowsOf(meetings: readonly Meeting[], pocket: Outline, worst: number, reach: number): Rows {
  const offsets: number[] = [];
  const slopes: number[] = [];
  const [cx, cy] = pocket.centre;
  const hold = (m: Meeting, nx: number, ny: number): void => {
    offsets.push(nx * m.rx + ny * m.ry);
    slopes.push(nx, ny, (ny * (m.x - cx) - nx * (m.y - cy)) / pocket.size);
  };
  for (const m of meetings) {
    const play = reach * (1.5 + hypot(m.x - cx, m.y - cy) / pocket.size);
    if (m.distance + play < worst - play) continue;
    if (!m.corner) {
      hold(m, m.nx, m.ny);
      hold(m, -m.nx, -m.ny);
      continue;
    }
    for (const k of FAN) {
      const turn = (k * Math.PI) / 4;
      hold(m, Math.cos(turn) * m.nx - Math.sin(turn) * m.ny, Math.sin(turn) * m.nx + Math.cos(turn) * m.ny);
    }
  }
  return { dims: 3, offsets, slopes };
}
