import { RULES } from '../../rules/index.ts';
import type { Facts, Side } from '../carve/facts.ts';
import { tipWidth } from '../carve/reach.ts';
import { type CheckedJob, checkJob } from '../engine/checked.ts';
import type { JudgedCheck } from '../engine/judge.ts';
import type { Answer } from '../engine/reading.ts';
import type { Point } from '../geometry/shapes.ts';
import type { NamedBit } from '../job/bits.ts';
import type { Job } from '../job/job.ts';
import { type Candidate, candidatesOf } from './choose-bits.ts';
import { type Changes, changesFor } from './choose-change.ts';
import { failsAny, type Held, heldByBit, KINDS, type Tier } from './choose-held.ts';
import { type Ranges, rangesOf } from './choose-range.ts';
import { widest } from './choose-search.ts';
import { cutsOf, type Depth, isLeastDepth, jobWith, missed, type Space, spaceOf } from './choose-space.ts';

/** Bit and depths that were run through every check. */
export interface Proposal {
  readonly depth: Depth;
  readonly job: Job;
  readonly checked: CheckedJob;
  /** Which limits were kept widest; only where none of the depths that do so for those wanted passes, the hard ones. */
  readonly tier: Tier;
  /** Every limit that hangs on bit and depths, the tightest first; how often the first is kept is the margin. */
  readonly held: readonly Held[];
}

/** A stroke or land too fine for a bit. Lengths mm. */
export interface Lost {
  readonly side: Side;
  readonly at: Point;
  readonly width: number;
  readonly length: number;
  /** The tip gets in, but with less to spare than wanted. */
  readonly barely: boolean;
}

/** All that is said of one bit. */
export interface BitAnswer {
  readonly candidate: Candidate;
  readonly lost: readonly Lost[];
  /** Undefined where no depths keep every limit. */
  readonly ranges: Ranges | undefined;
  /** Which limits end the ranges. */
  readonly rangesTier: Tier;
  readonly proposal: Proposal | undefined;
  /** What stands in the way at the least depths; empty when something was proposed. */
  readonly missed: readonly Held[];
}

export interface Choice {
  readonly facts: Facts;
  /** The job as it stands: its answer, and its limits when one bit cuts both sides. */
  readonly now: { readonly answer: Answer; readonly held: readonly Held[] };
  /** What is wrong with the drawings themselves; until it is mended nothing can be chosen. */
  readonly drawings: readonly JudgedCheck[];
  readonly bits: readonly BitAnswer[];
  /** Which of the bits is the choice; undefined when none passes. */
  readonly best: number | undefined;
  /** When none passes: what would have to change for the bit that comes nearest. */
  readonly changes: Changes | undefined;
}

/**
 * Which bit and which depths make a design pass with the widest margin. `list`: the bits a maker owns; without one, the
 * job's own and those commonly sold. Every proposal is run through all checks. `told` hears how many of
 * the bits are done.
 */
export function choose(
  facts: Facts,
  list: readonly NamedBit[] | undefined,
  told: (done: number, of: number) => void = () => {},
): Choice {
  // Mends take as long as all the rest and are told nowhere here.
  const asIs = checkJob({ ...facts, fitMends: () => [] }, RULES);
  const drawings = asIs.checks.filter(
    ({ id, outcome }) => /^(artwork|pair)\./.test(id) && outcome === 'fail',
  );
  const now = { answer: asIs.answer, held: heldNow(facts) };
  if (drawings.length > 0) return { facts, now, drawings, bits: [], best: undefined, changes: undefined };
  const candidates = candidatesOf(facts.job, list);
  told(0, candidates.length);
  const bits = candidates.map((candidate, n) => {
    const answer = answerFor(facts, candidate);
    told(n + 1, candidates.length);
    return answer;
  });
  const best = bestOf(bits);
  const nearest = best === undefined ? nearestOf(bits) : undefined;
  const changes = nearest && changesFor(facts, nearest.candidate);
  return { facts, now, drawings, bits, best, changes };
}

/** How many times the tightest limit is kept. */
export const marginOf = (held: readonly Held[]): number => held[0]?.times ?? Number.NaN;

/** What a proposal does not keep though it passes with care; depths that gave way to others are not counted. */
export const notKept = ({ held }: Proposal): readonly Held[] =>
  held.filter((one) => one.times < 1 && !isLeastDepth(one));

function heldNow(facts: Facts): readonly Held[] {
  const { job, depths } = facts;
  if (job.bit !== job.plugBit || !('fit' in facts.fitted())) return [];
  return allHeld(spaceOf(cutsOf(facts, job.bit), 'wanted'), depths);
}

const allHeld = (space: Space, depth: Depth): readonly Held[] =>
  [...space.fixed, ...space.held(depth)].sort((a, b) => a.times - b.times);

function answerFor(facts: Facts, candidate: Candidate): BitAnswer {
  const cuts = cutsOf(facts, candidate.bit);
  const wanted = spaceOf(cuts, 'wanted');
  const least = cuts.facts(wanted.depthFor(1));
  const lost = lostBy(least);
  const none = { candidate, lost, ranges: undefined, rangesTier: 'wanted', proposal: undefined } as const;
  const shut = heldByBit(least, 'hard').filter(({ times }) => times < 1);
  if (shut.length > 0) return { ...none, missed: shut };
  const hard = spaceOf(cuts, 'hard');
  const proposal = isHopeless(hard)
    ? undefined
    : (proposalFor(wanted, wanted, 'wanted') ?? proposalFor(hard, wanted, 'hard'));
  if (proposal === undefined) return { ...none, missed: missedAtLeast(wanted) };
  // Ranges keep all that is wanted; where not all of it can be kept, they are those in which nothing plainly fails.
  const rangesTier = marginOf(proposal.held) >= 1 ? 'wanted' : 'hard';
  const ranges = rangesOf(rangesTier === 'wanted' ? wanted : spaceOf(cuts, 'hard'), proposal.depth.mating);
  return { candidate, lost, ranges, rangesTier, proposal, missed: [] };
}

/** A check that is missed by so much at the least depths is taken to fail at all others too. */
const HOPELESS = 0.7;

/**
 * Whether the least depths already fail plainly by what stands thin or by how the plug sits; deeper is hardly ever
 * better (see widest), and never yet by so much on real drawings (tests/advice/choose-sweep.test.ts). What varies in
 * the shop is not asked: its check says nothing where the fit fails anyhow.
 */
function isHopeless(hard: Space): boolean {
  const depth = hard.depthFor(1);
  return (['wood', 'seat'] as const).some((kind) =>
    hard.held(depth, [kind]).some(({ id, times }) => times < HOPELESS && /^fit\.|breakage$/.test(id)),
  );
}

/** The depths with the widest margin, checked; undefined when there are none or the check fails them. */
function proposalFor(space: Space, wanted: Space, tier: Tier): Proposal | undefined {
  // Short of a hard limit nothing passes; short of what is wanted it may pass with care.
  const found = widest(space, tier === 'hard' ? 1 : undefined);
  if (found === undefined || (tier === 'hard' && found.times < 1)) return undefined;
  const { base, bit, facts } = space.cuts;
  // Right at a limit rounding may step over it; then the depths are told as they were found.
  const over = found.times >= 1 && marginOf(allHeld(space, found.settable)) < 1;
  const depth = over ? found.depth : found.settable;
  if (failsAny(facts(depth))) return undefined;
  const checked = checkJob(facts(depth), RULES);
  return { depth, job: jobWith(base.job, bit, depth), checked, tier, held: allHeld(wanted, depth) };
}

/** What the least depths do not keep, the worst first. */
function missedAtLeast(space: Space): readonly Held[] {
  const depth = space.depthFor(1);
  const beside = missedOf([...space.fixed, ...space.held(depth, WITHOUT_GLUE)]);
  // Where something else is missed already, more glue gap would not help.
  return beside.length > 0 ? beside : missedOf(space.held(space.gluedFor(1)));
}

const WITHOUT_GLUE = KINDS.filter((kind) => kind !== 'glue');

const missedOf = (held: readonly Held[]): readonly Held[] =>
  held.filter((one) => missed([one]) !== undefined).sort((a, b) => a.times - b.times);

/** Strokes of the pocket and lands beside the plug that are too fine for the tip. */
function lostBy(facts: Facts): readonly Lost[] {
  const tips = { pocket: tipWidth(facts.bit('pocket')), plug: tipWidth(facts.bit('plug')) };
  return (['pocket', 'plug'] as const).flatMap((side) => {
    const tip = tips[side];
    if (tip === undefined) return [];
    const narrow = side === 'pocket' ? facts.narrowStrokes : facts.narrowLands;
    return narrow(side, tip + facts.limit('tip-spare-least'))
      .runs.filter((run) => run.kind !== 'sharp-tip')
      .map(({ at, width, length }) => ({ side, at, width, length, barely: width >= tip }));
  });
}

const RANK: readonly Answer[] = ['fail', 'unknown', 'care', 'pass'];
/** Margins this near are one, and the finer things decide. */
const ALIKE = 1.005;

/** Of the bits a maker has the one with the widest margin; only when none of them passes, of those commonly sold. */
function bestOf(bits: readonly BitAnswer[]): number | undefined {
  const order = bits
    .map((bit, n) => ({ ...bit, n }))
    .filter(({ proposal }) => proposal !== undefined)
    .sort((a, b) => owned(b) - owned(a) || better(a.proposal, b.proposal) || a.n - b.n);
  return order[0]?.n;
}

const owned = ({ candidate }: BitAnswer): number => (candidate.from === 'usual' ? 0 : 1);

/** Below 0 when `a` is the better one: by its answer, then its margin, then its next tightest limits. */
function better(a: Proposal | undefined, b: Proposal | undefined): number {
  if (a === undefined || b === undefined) return 0;
  const rank = RANK.indexOf(b.checked.answer) - RANK.indexOf(a.checked.answer);
  if (rank !== 0) return rank;
  for (let n = 0; n < Math.min(a.held.length, b.held.length); n++) {
    const [x, y] = [(a.held[n] as Held).times, (b.held[n] as Held).times];
    if (x > y * ALIKE || y > x * ALIKE) return y - x;
  }
  return 0;
}

/** The bit that misses its limits by least. */
function nearestOf(bits: readonly BitAnswer[]): BitAnswer | undefined {
  const order = [...bits].sort(
    (a, b) => owned(b) - owned(a) || (b.missed[0]?.times ?? 0) - (a.missed[0]?.times ?? 0),
  );
  return order[0];
}
