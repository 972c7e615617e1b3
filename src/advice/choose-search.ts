import { type Held, KINDS, type Kind, keyOf } from './choose-held.ts';
import { type Depth, isLeastDepth, type Space, settable } from './choose-space.ts';

/** The depths with the widest margin, and how every limit is kept there. */
export interface Widest {
  readonly times: number;
  readonly depth: Depth;
  /** The same as they can be set. */
  readonly settable: Depth;
  /** What is kept there. */
  readonly held: readonly Held[];
}

/** Margins looked at: from what no maker would cut up to more than any limit leaves room for. */
const LEAST_TIMES = 0.2;
const MOST_TIMES = 40;
/** A margin is found to this share of itself; what depths and sizes allow takes no time and is found nearer. */
const FINE = 1.004;
const FINER = 1.0005;
/** What a limit that cannot be kept better may lose, so that the others gain. */
const YIELD = 0.995;
/** A later stage must widen the others by this much to be worth going on. */
const WORTH = 1.05;
const MOST_STAGES = 3;
const MOST_STEPS = 12;
/** Limits of one kind are found alone; seldom another must be asked again at the depths where they end. */
const MOST_ROUNDS = 3;
/** Mating depths beyond the one found are looked at in steps of this, and so many at most. */
const DEEPER = 1.15;
const MOST_DEEPER = 12;
/** How much wider a margin must be there to be worth more depth. */
const GAIN = 1.015;
const NONE: Asides = new Map();
/** What the rounding of depths may take off a margin. */
const ROUNDED = 0.99;

/** Limits that are set aside, with how often each must still be kept. */
type Asides = ReadonlyMap<string, number>;

/**
 * The depths whose tightest limit is kept the most times over. Three limits ask for depth (mating, glue, saw), all the
 * others for less of it, and more the deeper the cut. So of all depths with a margin of `times` the shallowest, where
 * the three are met exactly, is the one most likely to keep the rest: the search is along one line, for the greatest
 * `times` at which every other limit is still kept as often. A limit kept at one margin is then kept at every lesser
 * one, so each kind of limits is asked by itself, and only as far down as those before it left; all are asked again at
 * the depths found. Where a limit does not change any more along that line (a corner's line is as wide at any depth),
 * it is set aside at what it is, and the others are widened further. The few limits that do not get tighter with depth
 * are looked for at the end (see deeper). Margins below `least` are not looked for.
 */
export function widest(space: Space, least = LEAST_TIMES): Widest | undefined {
  const asides = new Map<string, number>();
  let best = stage(space, asides, undefined, least);
  for (let n = 1; n < MOST_STAGES && best !== undefined; n++) {
    const { times, held } = best;
    for (const one of held)
      if (!isLeastDepth(one) && one.times <= times * 1.01 && !asides.has(keyOf(one)))
        asides.set(keyOf(one), one.times * YIELD);
    // Most limits go on getting tighter; then nothing is gained, and one look tells it.
    if (KINDS.some((kind) => asked(space, kind, times * WORTH, asides).ratio < 1)) break;
    best = stage(space, asides, best, least);
  }
  return best === undefined ? undefined : deeper(space, best, least);
}

/**
 * The same with more mating depth than the margin asks for, where that is wider still. Nearly all limits get tighter
 * with depth, but a neck that is one no more where its strokes have run to edges stands again, and a plug that settles
 * otherwise may leave a finer line.
 */
function deeper(space: Space, found: Widest, least: number): Widest {
  let best = found;
  // What was set aside is the tightest: a depth that keeps it better is wider, though it may leave the others less.
  let tightest = leastOf(found);
  let { mating } = found.depth;
  for (let n = 0; n < MOST_DEEPER; n++) {
    mating *= DEEPER;
    const there = space.from(mating);
    const kept = (kind: Kind): boolean => asked(there, kind, tightest * GAIN, NONE).ratio >= 1;
    if (!kept('depths')) break;
    const wider = KINDS.every(kept) ? stage(there, NONE, undefined, least) : undefined;
    // What rounding takes off counts against the gain.
    if (wider === undefined || leastOf(wider) < tightest * GAIN * ROUNDED) continue;
    best = wider;
    tightest = leastOf(wider);
  }
  return best;
}

const leastOf = ({ times, held }: Widest): number => Math.min(times, ratioOf(held, 1, NONE));

/** The greatest margin along the line; `from` where it is no greater than that. */
function stage(space: Space, asides: Asides, from: Widest | undefined, least: number): Widest | undefined {
  let times = MOST_TIMES;
  let found: Widest | undefined;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    for (const kind of round === 0 ? KINDS : (['all'] as const)) {
      times = greatest(space, kind, times, asides, least);
      if (times <= (from?.times ?? 0)) return from;
    }
    const depth = space.gluedFor(times);
    const rounded = settable(depth, space.cuts.base.job.units);
    found = { times, depth, settable: rounded, held: space.held(rounded) };
    if (ratioOf(found.held, times, asides) >= ROUNDED) break;
    // Rounded up past where a line opens, or tighter for the glue's gap: a hair less, and all are asked together.
    times /= FINE;
  }
  return found;
}

interface Asked {
  readonly times: number;
  /** How many times over the limits are kept against what is wanted of them at this margin; at least 1 is kept. */
  readonly ratio: number;
}

/** With glue the depths are those that give it room, and what more glue gap makes tighter is asked there too. */
const WITH_GLUE: readonly Kind[] = ['depths', 'wood', 'glue'];

function asked(space: Space, kind: Kind | 'all', times: number, asides: Asides): Asked {
  const kinds = kind === 'all' ? KINDS : kind === 'glue' ? WITH_GLUE : [kind];
  const depth = kinds.includes('glue') ? space.gluedFor(times) : space.depthFor(times);
  return { times, ratio: ratioOf(space.held(depth, kinds), times, asides) };
}

/**
 * The greatest margin up to `most` at which the limits of one kind are kept as often, 0 where there is none: from a
 * margin that is kept and one that is not, by where their ratios meet 1.
 */
function greatest(space: Space, kind: Kind | 'all', most: number, asides: Asides, least: number): number {
  const at = (times: number): Asked => asked(space, kind, times, asides);
  let high = at(most);
  if (high.ratio >= 1) return most;
  let low = sure(at, high, least);
  if (low.ratio < 1) return 0;
  const fine = kind === 'depths' ? FINER : FINE;
  for (let n = 0; n < MOST_STEPS && high.times > low.times * fine; n++) {
    const next = at(between(low, high, n));
    if (next.ratio >= 1) low = next;
    else high = next;
    // Limits only get tighter with depth: no greater margin than the tightest at `low` can be kept. Not so the glue's,
    // which is given just the gap it needs at each.
    if (asides.size === 0 && kind !== 'glue' && kind !== 'all' && low.times * low.ratio < high.times)
      high = { ...high, times: low.times * low.ratio };
  }
  return low.times;
}

/** A margin that is kept for sure: the tightest limit at a deeper cut, for it is kept no worse at a shallower one. */
function sure(askedAt: (times: number) => Asked, from: Asked, least: number): Asked {
  let at = from;
  for (let n = 0; n < MOST_STEPS && at.ratio < 1 && at.times > least; n++)
    at = askedAt(Math.max(least, Math.min(at.times * at.ratio, at.times / FINE)));
  return at;
}

/**
 * Where the ratio would be 1 were it straight between two margins, a hair on the safe side. Most limits are all but
 * straight and are found so at once; a line at the rim opens like a cliff, and halving finds it soonest.
 */
function between(low: Asked, high: Asked, n: number): number {
  const [a, b] = [Math.log(low.times), Math.log(high.times)];
  const [above, below] = [Math.log(Math.min(low.ratio, 1e3)), -Math.log(Math.max(high.ratio, 1e-3))];
  const share = n > 1 || above + below < 1e-9 ? 0.5 : (0.97 * above) / (above + below);
  return Math.exp(a + Math.min(0.97, Math.max(0.03, share)) * (b - a));
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
