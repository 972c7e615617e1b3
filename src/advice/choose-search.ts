import { type Held, keyOf } from './choose-held.ts';
import { type Depth, isLeastDepth, type Space } from './choose-space.ts';

/** The depths with the widest margin, and how every limit is kept there. */
export interface Widest {
  readonly times: number;
  readonly depth: Depth;
  readonly held: readonly Held[];
}

/** Margins looked at: from what no maker would cut up to more than any limit leaves room for. */
const LEAST_TIMES = 0.2;
const MOST_TIMES = 40;
/** A margin is found to this share of itself. */
const FINE = 1.004;
/** What a limit that cannot be kept better may lose, so that the others gain. */
const YIELD = 0.995;
/** A later stage must widen the others by this much to be worth going on. */
const WORTH = 1.05;
const MOST_STAGES = 3;
const MOST_STEPS = 10;

/** Limits that are set aside, with how often each must still be kept. */
type Asides = ReadonlyMap<string, number>;

/**
 * The depths whose tightest limit is kept the most times over. Three limits ask for depth (mating, glue, saw), all the
 * others for less of it, and more the deeper the cut. So of all depths with a margin of `times` the shallowest, where
 * the three are met exactly, is the one most likely to keep the rest: the search is along one line, for the greatest
 * `times` at which every other limit is still kept as often. Where a limit does not change any more along that line
 * (a corner's line is as wide at any depth), it is set aside at what it is, and the others are widened further.
 */
export function widest(space: Space): Widest | undefined {
  const asides = new Map<string, number>();
  let best = stage(space, asides, undefined);
  for (let n = 1; n < MOST_STAGES && best !== undefined; n++) {
    for (const held of best.held)
      if (!isLeastDepth(held) && held.times <= best.times * 1.01 && !asides.has(keyOf(held)))
        asides.set(keyOf(held), held.times * YIELD);
    // Most limits go on getting tighter; then nothing is gained, and one look tells it.
    if (ratioOf(space.at(best.times * WORTH).held, best.times * WORTH, asides) < 1) break;
    best = stage(space, asides, best);
  }
  return best;
}

/** The greatest margin along the line: from a margin that is kept and one that is not, by where their ratios meet 1. */
function stage(space: Space, asides: Asides, from: Widest | undefined): Widest | undefined {
  const top = byDepths(space, asides);
  if (top <= (from?.times ?? 0)) return from;
  const first = asked(space, top, asides);
  if (first.ratio >= 1) return first;
  let high = first;
  let low = from === undefined ? sure(space, high, asides) : asked(space, from.times, asides);
  if (low.ratio < 1) return from;
  for (let n = 0; n < MOST_STEPS && high.times > low.times * FINE; n++) {
    const next = asked(space, between(low, high, n), asides);
    if (next.ratio >= 1) low = next;
    else high = next;
    // Limits only get tighter with depth: no greater margin than the tightest at `low` can be kept.
    if (asides.size === 0 && low.times * low.ratio < high.times)
      high = { ...high, times: low.times * low.ratio };
  }
  return low;
}

interface Asked extends Widest {
  /** How many times over the limits are kept against what is wanted of them at this margin; at least 1 is kept. */
  readonly ratio: number;
}

function asked(space: Space, times: number, asides: Asides): Asked {
  const { depth, held } = space.at(times);
  return { times, depth, held, ratio: ratioOf(held, times, asides) };
}

/** A margin that is kept for sure: the tightest limit at a deeper cut, for it is kept no worse at a shallower one. */
function sure(space: Space, deeper: Asked, asides: Asides): Asked {
  let at = deeper;
  for (let n = 0; n < MOST_STEPS && at.times > LEAST_TIMES; n++) {
    at = asked(space, Math.max(LEAST_TIMES, Math.min(at.times * at.ratio, at.times / FINE)), asides);
    if (at.ratio >= 1) break;
  }
  return at;
}

/** Where the ratio would be 1 were it straight between two margins, a hair on the safe side; every third time halves. */
function between(low: Asked, high: Asked, n: number): number {
  const [a, b] = [Math.log(low.times), Math.log(high.times)];
  const [above, below] = [Math.log(Math.min(low.ratio, 1e3)), -Math.log(Math.max(high.ratio, 1e-3))];
  const share = n % 3 === 2 || above + below < 1e-9 ? 0.5 : (0.97 * above) / (above + below);
  return Math.exp(a + Math.min(0.97, Math.max(0.03, share)) * (b - a));
}

/** The most that depths and sizes alone allow, by halving. */
function byDepths(space: Space, asides: Asides): number {
  const kept = (times: number): boolean => ratioOf(space.quick(space.depthFor(times)), times, asides) >= 1;
  let [low, high] = [LEAST_TIMES, MOST_TIMES];
  if (kept(high)) return high;
  for (let n = 0; n < 30 && high > low * 1.0005; n++) {
    const middle = Math.sqrt(low * high);
    if (kept(middle)) low = middle;
    else high = middle;
  }
  return low;
}

function ratioOf(held: readonly Held[], times: number, asides: Asides): number {
  let ratio = Number.POSITIVE_INFINITY;
  for (const one of held)
    if (!isLeastDepth(one))
      ratio = Math.min(
        ratio,
        one.times / Math.min(times, asides.get(keyOf(one)) ?? Number.POSITIVE_INFINITY),
      );
  return ratio;
}
