import { guessed, type Tried, wrapped } from './why-between.ts';
import type { Cause } from './why-causes.ts';
import type { Evidence } from './why-evidence.ts';
import type { Scene } from './why-scene.ts';
import type { Outcome, Trial } from './why-trial.ts';

/** A cause at the size that explains best what was seen, by a trial at that size. */
export interface Sized extends Tried {
  readonly cause: Cause;
  /** Sum of squares of how far off each reading is, in standard uncertainties. */
  readonly misfit: number;
  /** The misfit, and how unusual the size is: less is better. */
  readonly cost: number;
}

/** Times what is usual at which every cause is tried first. */
const FIRST = 2;
/** Directions that a pointing cause is tried in first, and how near to the best one it is tried then, radians. */
const WAYS = 4;
const BESIDE = Math.PI / 8;
/** A size may grow by this much from one trial to the next. */
const STRIDE = 4;
const ROUNDS = 5;
/** Steps of the search between trials; sizes and directions. */
const STEPS = 40;
const TURNS = 32;
/** A cause that costs this much more than the best after two rounds is not followed further. */
const HOPELESS = 60;
/** Sizes that differ by less than this share are one. */
const SAME = 0.04;

/** Sums of squares of the readings' misfit. */
export function misfitOf(evidence: readonly Evidence[], outcome: Outcome): number {
  return evidence.reduce((sum, { off }) => sum + off(outcome) ** 2, 0);
}

/**
 * How much an unusual size costs, in the coin of the misfit: heavy tails, for people slip; minus twice the
 * logarithm of Cauchy's density about 0, against that at 0.
 */
export function unusual({ usual }: Cause, size: number): number {
  return 2 * Math.log1p((size / usual) ** 2);
}

/** Every cause at its best size, the least cost first. */
export function sizeCauses(search: Search, causes: readonly Cause[]): readonly Sized[] {
  const { evidence, none } = search;
  const hunts = causes.map((cause) => firstTrials(search, cause));
  for (let round = 0; round < ROUNDS; round++) {
    const costs = hunts.map((hunt) => bestOf(hunt, evidence, none).cost);
    const least = Math.min(...costs);
    hunts.forEach((hunt, k) => {
      if (round < 2 || (costs[k] as number) < least + HOPELESS) oneMore(search, hunt);
    });
  }
  return hunts.map((hunt) => bestOf(hunt, evidence, none)).sort((a, b) => a.cost - b.cost);
}

/** What was seen of which pair, the fit with nothing wrong, and who tries out a pair with errors. */
export interface Search {
  readonly scene: Scene;
  readonly evidence: readonly Evidence[];
  readonly none: Outcome;
  readonly tryOut: Trial;
}

interface Hunt {
  readonly cause: Cause;
  readonly tried: Tried[];
}

function tryAt({ scene, tryOut }: Search, cause: Cause, size: number, direction: number): Tried {
  return { size, direction, outcome: tryOut(scene.pair, cause.errors(size, direction), scene.settings) };
}

function firstTrials(search: Search, cause: Cause): Hunt {
  const { usual, least, most, points } = cause;
  const size = Math.min(most, FIRST * usual);
  if (points) {
    const ways = Array.from({ length: WAYS }, (_, k) => (k * 2 * Math.PI) / WAYS);
    return { cause, tried: ways.map((way) => tryAt(search, cause, size, way)) };
  }
  const sizes = least < 0 ? [Math.max(least, -size), size] : [size];
  return { cause, tried: sizes.map((s) => tryAt(search, cause, s, 0)) };
}

/** Tries the size that the trials so far promise most of; a pointing cause to either side of its direction as well. */
function oneMore(search: Search, { cause, tried }: Hunt): void {
  const { size, direction } = promised(cause, tried, search);
  if (Math.abs(size) < SAME * cause.usual) return;
  const first = !cause.points || tried.length > WAYS;
  for (const way of first ? [direction] : [direction - BESIDE, direction, direction + BESIDE]) {
    const turned = cause.points ? wrapped(way) : 0;
    const known = tried.some(
      (t) => Math.abs(t.size - size) < SAME * Math.abs(size) && Math.abs(t.direction - turned) < SAME,
    );
    if (!known) tried.push(tryAt(search, cause, size, turned));
  }
}

/** The size and direction of least cost as far as the trials so far can tell. */
function promised(
  cause: Cause,
  tried: readonly Tried[],
  { evidence, none }: Search,
): { readonly size: number; readonly direction: number } {
  const farthest = Math.max(...tried.map((t) => Math.abs(t.size))) * STRIDE;
  const [low, high] = [Math.max(cause.least, -farthest), Math.min(cause.most, farthest)];
  const costAt = (size: number, direction: number): number =>
    misfitOf(evidence, guessed(cause, none, tried, size, direction)) + unusual(cause, size);
  let best = { size: 0, direction: 0, cost: costAt(0, 0) };
  const look = (size: number, direction: number): void => {
    if (size < low || size > high) return;
    const cost = costAt(size, direction);
    if (cost < best.cost) best = { size, direction, cost };
  };
  const turns = cause.points ? TURNS : 1;
  const step = (high - low) / STEPS;
  for (let k = 0; k <= STEPS; k++)
    for (let n = 0; n < turns; n++) look(low + k * step, (n * 2 * Math.PI) / TURNS);
  const { size, direction } = best;
  for (let k = -STEPS / 2; k <= STEPS / 2; k++)
    for (const way of cause.points ? [-1, 0, 1] : [0])
      look(size + (2 * k * step) / STEPS, direction + (way * Math.PI) / TURNS / 2);
  return best;
}

/** The best of what was really tried. */
function bestOf({ cause, tried }: Hunt, evidence: readonly Evidence[], none: Outcome): Sized {
  const all: readonly Tried[] = [{ size: 0, direction: 0, outcome: none }, ...tried];
  const sized = all.map((t): Sized => {
    const misfit = misfitOf(evidence, t.outcome);
    return { ...t, cause, misfit, cost: misfit + unusual(cause, t.size) };
  });
  return sized.reduce((best, s) => (s.cost < best.cost ? s : best));
}
