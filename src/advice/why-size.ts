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
/** A reading that is moved by so many standard uncertainties shows it. */
const SHOWS = 2;
/** Directions that a pointing cause is tried in first, and how near to the best one it is tried then, radians. */
const WAYS = 4;
const BESIDE = Math.PI / 8;
/** A size may grow by this much from one trial to the next. */
const STRIDE = 4;
const ROUNDS = 5;
/** Steps of the search between trials; sizes on either side of 0 and directions. */
const STEPS = 20;
const TURNS = 32;
/** The other side of 0 is tried as well when it promises to cost no more than this above the better one. */
const AS_GOOD = 20;
/** A cause that costs this much more than the best after two rounds is not followed further. */
const HOPELESS = 60;
/**
 * Sizes that differ by less than this share are one, unless the other promises to be clearly better: what lies on the
 * floor does nothing until it fills the room there, and all from there on.
 */
const SAME = 0.04;

/** Sums of squares of the readings' misfit. */
export function misfitOf(evidence: readonly Evidence[], outcome: Outcome): number {
  return evidence.reduce((sum, { off }) => sum + off(outcome) ** 2, 0);
}

/** Beyond so many times what is usual it is no common slip any more. */
const BEYOND = 10;

/**
 * How much an unusual size costs, in the coin of the misfit: heavy tails, for people slip; minus twice the
 * logarithm of Cauchy's density about 0, against that at 0. Beyond common slips the density falls by two further
 * powers of the size.
 */
export function unusual({ usual }: Pick<Cause, 'usual'>, size: number): number {
  const times = Math.abs(size) / usual;
  return 2 * Math.log1p(times ** 2) + 4 * Math.log(Math.max(1, times / BEYOND));
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

/**
 * What is idle at first is tried where that ends and from there on. A trial that moves no reading tells nothing of its
 * cause: then a larger one is tried, up to the largest there can be.
 */
function firstTrials(search: Search, cause: Cause): Hunt {
  const { usual, idle, least, most, points } = cause;
  const ways = points ? Array.from({ length: WAYS }, (_, k) => (k * 2 * Math.PI) / WAYS) : [0];
  const tried: Tried[] = [];
  const start = idle === 0 ? 0 : Math.min(most, Math.max(0, idle + search.none.height));
  if (start > 0) tried.push(tryAt(search, cause, start, 0));
  for (let size = Math.min(most, start + FIRST * usual); ; size = Math.min(most, size * STRIDE)) {
    const sizes = least < 0 ? [Math.max(least, -size), size] : [size];
    const now = sizes.flatMap((s) => ways.map((way) => tryAt(search, cause, s, way)));
    tried.push(...now);
    if (size >= most || now.some(({ outcome }) => shows(search, outcome))) return { cause, tried };
  }
}

function shows({ evidence, none }: Search, outcome: Outcome): boolean {
  return evidence.some(({ off }) => Math.abs(off(outcome) - off(none)) > SHOWS);
}

/**
 * Tries the size that the trials so far promise most of; a pointing cause to either side of its direction as well. Above
 * and below 0 are tried each by itself while they promise about as much: a skew or a turn lifts the plug either way,
 * and small trials do not tell which.
 */
function oneMore(search: Search, { cause, tried }: Hunt): void {
  const sides = [promised(cause, tried, search, 1)];
  if (cause.least < 0) sides.push(promised(cause, tried, search, -1));
  const least = Math.min(...sides.map(({ cost }) => cost));
  const costOf = (t: Tried): number => misfitOf(search.evidence, t.outcome) + unusual(cause, t.size);
  const beside = cause.points && new Set(tried.map(({ direction }) => direction)).size <= WAYS;
  for (const { size, direction, cost } of sides) {
    if (Math.abs(size) < SAME * cause.usual || cost > least + AS_GOOD) continue;
    for (const way of beside ? [direction - BESIDE, direction, direction + BESIDE] : [direction]) {
      const turned = cause.points ? wrapped(way) : 0;
      const known = tried.some(
        (t) => isSame(t, size, turned) && (isSame(t, size, turned, 10) || costOf(t) < cost + 1),
      );
      if (!known) tried.push(tryAt(search, cause, size, turned));
    }
  }
}

function isSame(t: Tried, size: number, direction: number, finer = 1): boolean {
  const share = SAME / finer;
  return Math.abs(t.size - size) < share * Math.abs(size) && Math.abs(t.direction - direction) < share;
}

/** The size, on one side of 0, and the direction of least cost as far as the trials so far can tell. */
function promised(
  cause: Cause,
  tried: readonly Tried[],
  { evidence, none }: Search,
  sign: 1 | -1,
): { readonly size: number; readonly direction: number; readonly cost: number } {
  const farthest = Math.max(...tried.map((t) => Math.abs(t.size))) * STRIDE;
  const most = Math.min(sign > 0 ? cause.most : -cause.least, farthest);
  const costAt = (size: number, direction: number): number =>
    misfitOf(evidence, guessed(cause, none, tried, size, direction)) + unusual(cause, size);
  let best = { size: 0, direction: 0, cost: costAt(0, 0) };
  const look = (size: number, direction: number): void => {
    if (size * sign < 0 || size * sign > most) return;
    const cost = costAt(size, direction);
    if (cost < best.cost) best = { size, direction, cost };
  };
  const turns = cause.points ? TURNS : 1;
  const step = (sign * most) / STEPS;
  for (let k = 0; k <= STEPS; k++) for (let n = 0; n < turns; n++) look(k * step, (n * 2 * Math.PI) / TURNS);
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
