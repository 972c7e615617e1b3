import { cutOtherwise, type Facts } from '../carve/facts.ts';
import { gluedOf } from '../carve/facts-wood-joint.ts';
import type { Job } from '../job/job.ts';
import type { LimitName } from '../job/limits.ts';
import type { Bit } from '../job/schema.ts';
import { inches, type LengthStyle, mm } from '../units.ts';
import { type Held, heldByBit, heldByDepths, heldByFit, type Tier } from './choose-held.ts';

/** The three depths everything hangs on, mm. The pocket's start depth stays as the job has it. */
export interface Depth {
  readonly mating: number;
  readonly glue: number;
  readonly saw: number;
}

/** One bit in one job: all that can be asked of it, each depth measured once. */
export interface Space {
  readonly bit: Bit;
  /** What the bit alone decides. */
  readonly fixed: readonly Held[];
  /** The check whose limit the least mating depth keeps, or `pocket.start-depth`. */
  readonly matingBy: string;
  /** The least depths at which mating, glue gap and saw gap are each `times` their limits. */
  readonly depthFor: (times: number) => Depth;
  readonly facts: (depth: Depth) => Facts;
  /** The limits that depths and sizes decide. */
  readonly quick: (depth: Depth) => readonly Held[];
  /** All limits that hang on depths. */
  readonly held: (depth: Depth) => readonly Held[];
  /** The same at `depthFor(times)`, with as much more glue gap as the walls' glue needs to have room as often. */
  readonly at: (times: number) => { readonly depth: Depth; readonly held: readonly Held[] };
}

export function spaceOf(base: Facts, bit: Bit, tier: Tier): Space {
  const known = new Map<string, readonly Held[]>();
  const facts = (depth: Depth): Facts => cutOtherwise(base, jobWith(base.job, bit, depth));
  const depthFor = (times: number): Depth => leastDepth(base.job, tier, times);
  const held = (depth: Depth): readonly Held[] => {
    const key = `${depth.mating} ${depth.glue} ${depth.saw}`;
    const found = known.get(key) ?? heldAt(facts(depth), tier);
    known.set(key, found);
    return found;
  };
  return {
    bit,
    fixed: heldByBit(facts(depthFor(1)), tier),
    matingBy: matingsFor(base.job, tier, 1)[0].by,
    depthFor,
    facts,
    quick: (depth) => heldByDepths(facts(depth), tier),
    held,
    at: (times) => {
      const depth = depthFor(times);
      const all = held(depth);
      const wall = all.find(({ id }) => id === 'glue.wall');
      if (wall === undefined || wall.times >= times) return { depth, held: all };
      // Where something else is missed already, more glue gap would not help.
      const rest = all.filter((one) => one !== wall);
      if (rest.some((one) => one.times < times && !isLeastDepth(one))) return { depth, held: rest };
      const glue = glueFor(depth, wall, times, base.job.limits['glue-gap-most'], facts);
      if (glue === undefined) return { depth, held: all };
      return { depth: { ...depth, glue }, held: held({ ...depth, glue }) };
    },
  };
}

const heldAt = (facts: Facts, tier: Tier): readonly Held[] => [
  ...heldByDepths(facts, tier),
  ...heldByFit(facts, tier),
];

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
): number | undefined {
  const made = factsAt(depth).fitted();
  const timesAt = (glue: number): number => {
    const facts = factsAt({ ...depth, glue });
    const glued = gluedOf({ ...facts, fitted: () => made, keepOutDrawn: facts.drawn.keepOutDrawn });
    return 'glue' in glued ? (ROOM_SURE * glued.glue.room) / glued.needed : 0;
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

/** The room is counted against what it may be off (see glue.wall). */
const ROOM_SURE = 0.97;

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
function leastDepth(job: Job, tier: Tier, times: number): Depth {
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

/** Depths are told and set to a hundredth of a millimetre, or half a thousandth of an inch. */
export function settable(depth: Depth, style: LengthStyle): Depth {
  const step = style === 'mm' ? 0.01 : inches(0.0005);
  const round = (value: number): number => {
    const whole = Math.round(value / step) * step;
    return Number(whole.toFixed(6));
  };
  return { mating: round(depth.mating), glue: round(depth.glue), saw: round(depth.saw) };
}
