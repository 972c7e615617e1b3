import { cutOtherwise, type Facts } from '../carve/facts.ts';
import { gluedOf } from '../carve/facts-wood-joint.ts';
import type { Job } from '../job/job.ts';
import type { LimitName } from '../job/limits.ts';
import type { Bit } from '../job/schema.ts';
import { inches, type LengthStyle, mm } from '../units.ts';
import { type Held, heldByBit, heldByKind, KINDS, type Kind, type Tier } from './choose-held.ts';

/** The three depths everything hangs on, mm. The pocket's start depth stays as the job has it. */
export interface Depth {
  readonly mating: number;
  readonly glue: number;
  readonly saw: number;
}

/** One bit in one job, cut to any depths; each cut is worked out once. */
export interface Cuts {
  readonly base: Facts;
  readonly bit: Bit;
  readonly facts: (depth: Depth) => Facts;
}

export function cutsOf(base: Facts, bit: Bit): Cuts {
  const known = new Map<string, Facts>();
  return {
    base,
    bit,
    facts: (depth) => {
      const key = keyAt(depth);
      const found = known.get(key) ?? cutOtherwise(base, jobWith(base.job, bit, depth));
      known.set(key, found);
      return found;
    },
  };
}

/** One bit in one job: all that can be asked of it, each depth measured once. */
export interface Space {
  readonly cuts: Cuts;
  /** What the bit alone decides. */
  readonly fixed: readonly Held[];
  /** The check whose limit the least mating depth keeps, or `pocket.start-depth`. */
  readonly matingBy: string;
  /** The least depths at which mating, glue gap and saw gap are each `times` their limits. */
  readonly depthFor: (times: number) => Depth;
  /** The same with as much more glue gap as the walls' glue needs to have room as often, where that is possible. */
  readonly gluedFor: (times: number) => Depth;
  /** The least mating depth beyond `mating` at which a limit of some kind has been found missed; Infinity: none yet. */
  readonly missedPast: (mating: number, kind: Kind) => number;
  /** The same where no mating depth is less than this, mm. */
  readonly from: (mating: number) => Space;
  /** The limits that hang on depths, of all kinds or only of some. */
  readonly held: (depth: Depth, kinds?: readonly Kind[]) => readonly Held[];
}

export function spaceOf(cuts: Cuts, tier: Tier, leastMating = 0): Space {
  const { base, facts } = cuts;
  const known = new Map<string, readonly Held[]>();
  const missedAt: { readonly kind: Kind; readonly mating: number }[] = [];
  const depthFor = (times: number): Depth => {
    const depth = leastDepth(base.job, tier, times);
    return { ...depth, mating: Math.max(depth.mating, leastMating) };
  };
  const heldBy = (depth: Depth, kind: Kind): readonly Held[] => {
    const key = `${kind} ${keyAt(depth)}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const found = heldByKind(kind, facts(depth), tier);
    known.set(key, found);
    if (missed(found) !== undefined) missedAt.push({ kind, mating: depth.mating });
    return found;
  };
  return {
    cuts,
    fixed: heldByBit(facts(depthFor(1)), tier),
    matingBy: matingsFor(base.job, tier, 1)[0].by,
    depthFor,
    gluedFor: (times) => {
      const depth = depthFor(times);
      const wall = heldBy(depth, 'glue').find(({ id }) => id === 'glue.wall');
      if (wall === undefined || wall.times >= times) return depth;
      const glue = glueFor(depth, wall, times, base.job.limits['glue-gap-most'], facts, tier);
      return glue === undefined ? depth : { ...depth, glue };
    },
    missedPast: (mating, kind) =>
      missedAt.reduce(
        (least, at) => (at.kind === kind && at.mating > mating ? Math.min(least, at.mating) : least),
        Number.POSITIVE_INFINITY,
      ),
    from: (mating) => spaceOf(cuts, tier, mating),
    held: (depth, kinds = KINDS) => kinds.flatMap((kind) => heldBy(depth, kind)),
  };
}

const keyAt = ({ mating, glue, saw }: Depth): string => `${mating} ${glue} ${saw}`;

/** Chords drawn to find the glue gap; each lands nearer. */
const CHORDS = 4;
const NEAR_GAP = 0.005;

/**
 * The least glue gap, mm, that gives the walls' glue room `times` over; undefined when none does. Each bit more of gap
 * gives less room than the one before, so a chord between a gap that is short and one that is enough meets the wanted
 * room where there is enough of it. The seat is the one found at the gap at hand, on which it hardly hangs.
 */
function glueFor(
  depth: Depth,
  wall: Held,
  times: number,
  most: number,
  factsAt: (depth: Depth) => Facts,
  tier: Tier,
): number | undefined {
  const made = factsAt(depth).fitted();
  const timesAt = (glue: number): number => {
    const facts = factsAt({ ...depth, glue });
    const glued = gluedOf({ ...facts, fitted: () => made, keepOutDrawn: facts.drawn.keepOutDrawn });
    if (!('glue' in glued)) return 0;
    // The room is counted against what it may be off, and what it must hold, as glue.wall does.
    return tier === 'wanted'
      ? ((1 - ROOM_GIVE) * glued.glue.room) / glued.needed
      : ((1 + ROOM_GIVE) * glued.glue.room) / glued.overFace;
  };
  const short = { glue: depth.glue, times: wall.times };
  let enough = { glue: most, times: timesAt(most) };
  if (enough.times < times) return undefined;
  for (let n = 0; n < CHORDS; n++) {
    const share = (times - short.times) / (enough.times - short.times);
    const glue = short.glue + share * (enough.glue - short.glue) + NEAR_GAP / 2;
    if (glue > enough.glue - NEAR_GAP) break;
    const there = timesAt(glue);
    if (there < times) break;
    enough = { glue, times: there };
  }
  return enough.glue;
}

/** The share of itself that the room may be off (see glue.wall). */
const ROOM_GIVE = 0.03;

/** The job with one bit for both sides and these depths. */
export function jobWith(job: Job, bit: Bit, { mating, glue, saw }: Depth): Job {
  const start = job.pocket.startDepth;
  const plugStart = mating - start;
  return {
    ...job,
    bit,
    plugBit: bit,
    pocket: { ...job.pocket, flatDepth: mm(glue + plugStart) },
    plug: { ...job.plug, startDepth: mm(plugStart), flatDepth: mm(saw + start) },
  };
}

type LeastLimit = LimitName & `${string}-least`;

const limitOf = ({ limits }: Job, tier: Tier, name: LeastLimit): number =>
  tier === 'wanted' ? limits[name] : (limits[`${name}-hard` as LimitName] ?? limits[name]);

/** The limits that only ever ask for more depth: what they leave free is decided by all the others. */
export function leastDepth(job: Job, tier: Tier, times: number): Depth {
  const { limits, saw } = job;
  const kerf = saw?.kerf ?? limits['saw-kerf-assumed'];
  return {
    mating: matingsFor(job, tier, times)[0].value,
    glue: times * limitOf(job, tier, 'glue-gap-least'),
    saw: times * (tier === 'wanted' ? kerf + limits['saw-spare-least'] : kerf),
  };
}

interface Asking {
  readonly by: string;
  readonly value: number;
}

/** What asks for mating depth, the most first. */
function matingsFor(job: Job, tier: Tier, times: number): readonly [Asking, ...Asking[]] {
  // What the plug stands proud comes off what may be sanded; as much as may be is left for it.
  const sanded = times * limitOf(job, tier, 'sanding-least') + job.limits['proud-most'];
  return [
    { by: 'depth.mating', value: times * limitOf(job, tier, 'mating-depth-least') },
    { by: 'wear.sanding', value: sanded },
    { by: 'pocket.start-depth', value: job.pocket.startDepth },
  ].sort((a, b) => b.value - a.value) as [Asking, ...Asking[]];
}

/** Whether a limit is one of those that `depthFor` keeps by itself. */
export function isLeastDepth({ id, end, reading }: Held): boolean {
  return end === 'least' && reading.label === undefined && LEAST_DEPTHS.has(id);
}

const LEAST_DEPTHS: ReadonlySet<string> = new Set(['depth.mating', 'depth.glue', 'depth.saw']);

/** The limit that is missed by most; undefined when all are kept. */
export function missed(held: readonly Held[]): Held | undefined {
  let worst: Held | undefined;
  for (const one of held) {
    if (one.times >= 1 || (isLeastDepth(one) && one.times > 0.999)) continue;
    if (worst === undefined || one.times < worst.times) worst = one;
  }
  return worst;
}

/** Depths are told and set to a hundredth of a millimetre, or half a thousandth of an inch. */
export function settable(depth: Depth, style: LengthStyle): Depth {
  const step = style === 'mm' ? 0.01 : inches(0.0005);
  const round = (value: number): number => {
    const whole = Math.round(value / step) * step;
    return Number(whole.toFixed(6));
  };
  return { mating: round(depth.mating), glue: round(depth.glue), saw: round(depth.saw) };
}
