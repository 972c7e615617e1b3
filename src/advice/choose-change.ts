import { RULES } from '../../rules/index.ts';
import type { Artwork } from '../artwork/artwork.ts';
import { cutOtherwise, type Facts, factsOf } from '../carve/facts.ts';
import { checkJob } from '../engine/checked.ts';
import type { JudgedReading } from '../engine/judge.ts';
import type { Answer } from '../engine/reading.ts';
import type { Job } from '../job/job.ts';
import { mm } from '../units.ts';
import type { Candidate } from './choose-bits.ts';
import { failsAny } from './choose-held.ts';
import { cutsOf, jobWith, leastDepth, settable, spaceOf } from './choose-space.ts';

/** What would have to change in the design, the wood or the bit for this bit to pass. */
export interface Changes {
  readonly candidate: Candidate;
  /** What fails even at the least depths, and what would mend each. All of them are needed. */
  readonly needed: readonly Needed[];
  /** What the checks say of the job with all of these, where none of them is a change of the drawings. */
  readonly mended: Answer | undefined;
  /** How many times larger both drawings would have to be instead for depths that pass; undefined when none is. */
  readonly scale: number | undefined;
}

export interface Needed {
  readonly id: string;
  readonly reading: JudgedReading;
  readonly says: string;
}

/** Nothing that a larger drawing mends. */
const NOT_BY_SIZE = /^(artwork|pair|depth|stock|wood)\.|^bit\.reach/;
/** Sizes that are tried for a drawing that passes; larger nobody draws it, common practice, no source. */
const SIZES = [1.1, 1.25, 1.5, 2, 3, 4] as const;
const FINE = 1.02;

/** What the checks find wrong with one bit at the least depths, and what would mend it. */
export function changesFor(base: Facts, candidate: Candidate): Changes {
  const least = leastDepth(base.job, 'wanted', 1);
  const depth = settable(least, base.job.units);
  const facts = cutOtherwise(base, jobWith(base.job, candidate.bit, depth));
  const needed = checkJob(facts, RULES).checks.flatMap(({ id, readings }) =>
    readings
      .filter(({ outcome }) => outcome === 'fail')
      .map((reading) => ({ id, reading, says: mendOf(facts, id, reading) })),
  );
  const job = mendedJob(facts, needed);
  const mended = job && checkJob({ ...cutOtherwise(base, job), fitMends: () => [] }, RULES).answer;
  const bySize = needed.length > 0 && !needed.some(({ id }) => NOT_BY_SIZE.test(id));
  return { candidate, needed, mended, scale: bySize ? leastScale(base, candidate, needed) : undefined };
}

/** What a maker would change; the checks' own words, but for those that speak of depths, which are at their least here. */
function mendOf(
  { length, limit, depths }: Facts,
  id: string,
  { label, want, cure, says }: JudgedReading,
): string {
  if (id === 'depth.board')
    return `Take a board at least ${length(depths.pocketTotal + limit('board-floor-least'))} thick.`;
  if (id === 'depth.plug-stock')
    return `Take plug stock at least ${length(depths.plugTotal + limit('plug-stock-floor-least'))} thick.`;
  if (id === 'bit.reach' && want.atLeast !== undefined && want.atLeast > 0)
    return label?.includes('diameter')
      ? `Take a bit that cuts at least ${length(want.atLeast)} wide.`
      : `Take a bit with cutting edges at least ${length(want.atLeast)} long.`;
  return cure ?? says;
}

/** The job with thicker pieces and larger bits; undefined when anything else is needed too. */
function mendedJob({ job, limit, depths }: Facts, needed: readonly Needed[]): Job | undefined {
  let mended = needed.length === 0 ? undefined : job;
  for (const { id, reading } of needed) {
    if (mended === undefined) return undefined;
    const { pocket, plug, bit } = mended;
    const { label, want } = reading;
    const atLeast = mm(want.atLeast ?? 0);
    if (id === 'depth.board') {
      const thickness = mm(depths.pocketTotal + limit('board-floor-least'));
      mended = { ...mended, pocket: { ...pocket, stock: { ...pocket.stock, thickness } } };
    } else if (id === 'depth.plug-stock') {
      const thickness = mm(depths.plugTotal + limit('plug-stock-floor-least'));
      mended = { ...mended, plug: { ...plug, stock: { ...plug.stock, thickness } } };
    } else if (id === 'bit.reach' && atLeast > 0) {
      const wide = label?.includes('diameter') === true;
      const [length, diameter] = [bit.cuttingLength ?? 0, bit.cuttingDiameter ?? 0];
      const larger = {
        ...bit,
        cuttingLength: mm(wide ? length : Math.max(length, atLeast)),
        // A diameter is told to a few micrometres, and wanted a little larger than it may be off.
        cuttingDiameter: mm(wide ? Math.max(diameter, atLeast + 2 * reading.give) : diameter),
      };
      mended = { ...mended, bit: larger, plugBit: larger };
    } else return undefined;
  }
  return mended;
}

/**
 * The least size at which there are depths that nothing fails at, to a fiftieth. Of all depths the least that a check
 * does not fail are the ones most likely to pass; where those that are wanted pass, they do as well.
 */
function leastScale(base: Facts, { bit }: Candidate, needed: readonly Needed[]): number | undefined {
  // What fails as it is drawn is the likeliest to fail a little larger, and one is enough.
  const fails = new Set(needed.map(({ id }) => id));
  const besideGlue = RULES.filter(({ id }) => id !== 'glue.wall').sort(
    (a, b) => Number(fails.has(b.id)) - Number(fails.has(a.id)),
  );
  const passes = (times: number): boolean => {
    const cuts = cutsOf(scaled(base, times), bit);
    return (['hard', 'wanted'] as const).some((tier) => {
      const { depthFor, gluedFor } = spaceOf(cuts, tier);
      // How much gap the glue needs takes long, and is asked only where nothing else fails.
      return !failsAny(cuts.facts(depthFor(1)), besideGlue) && !failsAny(cuts.facts(gluedFor(1)));
    });
  };
  let low = 1;
  for (const size of SIZES) {
    if (!passes(size)) {
      low = size;
      continue;
    }
    let high: number = size;
    while (high > low * FINE) {
      const middle = Math.sqrt(low * high);
      if (passes(middle)) high = middle;
      else low = middle;
    }
    return Math.ceil(100 * high) / 100;
  }
  return undefined;
}

/** The same pair drawn larger. Keep-outs that are drawings are left out: they are no part of the design. */
function scaled(base: Facts, times: number): Facts {
  return factsOf(base.job, larger(base.artwork('pocket'), times), larger(base.artwork('plug'), times));
}

function larger(artwork: Artwork, times: number): Artwork {
  const { size, shapes } = artwork;
  return {
    ...artwork,
    size: {
      ...size,
      width: size.width === undefined ? undefined : mm(size.width * times),
      height: size.height === undefined ? undefined : mm(size.height * times),
    },
    shapes: shapes.map((shape) => ({
      ...shape,
      lines: shape.lines.map((line) => ({ ...line, points: line.points.map((v) => v * times) })),
    })),
  };
}
