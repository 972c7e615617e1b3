import type { Artwork } from '../artwork/artwork.ts';
import { CHORD_ERROR } from '../artwork/flatten.ts';
import { comparePair, type PairMatch } from '../geometry/compare.ts';
import { applyRegion } from '../geometry/motion.ts';
import { area, reverseRegion } from '../geometry/region.ts';
import type { Region, Ring } from '../geometry/shapes.ts';
import { tidy } from '../geometry/tidy.ts';
import { type LeastWidth, leastWidth, narrowRuns } from '../geometry/width.ts';
import type { Job } from '../job/job.ts';
import type { LimitName } from '../job/limits.ts';
import type { Bit } from '../job/schema.ts';
import { show, type UnitName } from '../units.ts';
import type { ToolShape } from './cut.ts';
import { byLimit, bySide, type CoreFacts, type Depths, type Fitted, once, type Side } from './facts-core.ts';
import { type WoodFacts, woodFacts } from './facts-wood.ts';
import { CLOSE_ENOUGH, coarser } from './facts-wood-coarse.ts';
import { asPressed, type FitInput, makePair, RIM_GIVE } from './fit.ts';
import { mendsFor } from './fit-mends.ts';
import { tipWidth } from './reach.ts';
import { seatPair, touchingOf } from './seat.ts';
import { spread } from './spread.ts';

export type { Depths, Fitted, Side } from './facts-core.ts';

/** Everything the rules may ask about one pair. Rules read facts; they never do geometry of their own. */
export interface Facts extends CoreFacts {
  /** What the woods of the pair say: thin parts, wear, movement, glue, stock. */
  readonly wood: WoodFacts;
  /** What of these facts the drawings alone decide (see cutOtherwise). */
  readonly drawn: Drawn;
}

/** `keepOutArt`: the drawings of those keep-outs that have one, at their place in the job's list. */
export function factsOf(
  job: Job,
  pocketArt: Artwork,
  plugArt: Artwork,
  keepOutArt: readonly (Artwork | undefined)[] = [],
): Facts {
  return factsOfDrawn(job, drawnOf(job, pocketArt, plugArt, keepOutArt));
}

/**
 * The same drawings cut otherwise: what the drawings tell is kept, what hangs on bits and depths is worked out anew.
 * The job must name the same drawings and have the same limits.
 */
export function cutOtherwise(facts: Facts, job: Job): Facts {
  if (job.limits !== facts.job.limits) throw new Error('A pair cut otherwise keeps its limits.');
  return factsOfDrawn(job, facts.drawn);
}

/** What the drawings of a pair tell whatever bit cuts them and however deep. */
type Drawn = Pick<
  CoreFacts,
  'artwork' | 'tidy' | 'region' | 'regionForSums' | 'match' | 'plugOnPocket' | 'narrowStrokes' | 'narrowLands'
> & {
  readonly keepOutDrawn: (index: number) => Region | undefined;
  readonly outside: (side: Side) => readonly Ring[];
  /** The least widths, from what is narrow below a limit. */
  readonly leastStrokes: (side: Side, below: number) => LeastWidth | undefined;
  readonly leastLands: (side: Side, below: number) => LeastWidth | undefined;
};

function drawnOf(
  job: Job,
  pocketArt: Artwork,
  plugArt: Artwork,
  keepOutArt: readonly (Artwork | undefined)[],
): Drawn {
  const artwork = (side: Side): Artwork => (side === 'pocket' ? pocketArt : plugArt);
  const limit = (name: LimitName): number => job.limits[name];
  const tidied = bySide((side) => tidy(artwork(side).shapes, tidySettings(limit)));
  const region = (side: Side): Region => tidied(side).region;
  const outside = bySide((side): readonly Ring[] => reverseRegion(region(side)));
  const match = once(() => comparePair(region('pocket'), region('plug'), limit('mirror-deviation-most')));
  const narrowStrokes = bySide((side) => byLimit((below) => narrowRuns(region(side).rings, below)));
  const narrowLands = bySide((side) => byLimit((below) => narrowRuns(outside(side), below)));
  const leastStrokes = bySide((side) =>
    byLimit((below) => leastWidth(region(side).rings, narrowStrokes(side)(below))),
  );
  const leastLands = bySide((side) =>
    byLimit((below) => leastWidth(outside(side), narrowLands(side)(below))),
  );
  return {
    artwork,
    tidy: tidied,
    region,
    regionForSums: bySide((side) => coarser(region(side), CLOSE_ENOUGH)),
    outside,
    match,
    plugOnPocket: once(() => applyRegion(match().aligned, region('plug'))),
    narrowStrokes: (side: Side, below: number) => narrowStrokes(side)(below),
    narrowLands: (side: Side, below: number) => narrowLands(side)(below),
    leastStrokes: (side: Side, below: number) => leastStrokes(side)(below),
    leastLands: (side: Side, below: number) => leastLands(side)(below),
    keepOutDrawn: (index: number) => {
      const shapes = keepOutArt[index];
      return shapes && tidy(shapes.shapes, tidySettings(limit)).region;
    },
  };
}

function factsOfDrawn(job: Job, drawn: Drawn): Facts {
  const { artwork, tidy: tidied, region, match, plugOnPocket, narrowStrokes, narrowLands } = drawn;
  const limit = (name: LimitName): number => job.limits[name];
  const depths = depthsOf(job);
  const style = job.units;
  // The limit that rules ask for the tip: what is narrower is sought once.
  const forTip = (side: Side): number =>
    (tipWidth(side === 'pocket' ? job.bit : job.plugBit) ?? 0) + limit('tip-spare-least');
  const leastStroke = (side: Side) => drawn.leastStrokes(side, forTip(side));
  const leastLand = (side: Side) => drawn.leastLands(side, forTip(side));
  const fitted = once((): Fitted => {
    const input = fitInputOf(job, region('pocket'), match, plugOnPocket, leastLand);
    if (!('pocket' in input)) return input;
    const pair = makePair(input);
    const touching = touchingOf(pair);
    const seated = once(() => seatPair(pair, touching));
    return {
      input,
      pair,
      touching,
      // What varies in the shop is reckoned without it, so it is worked out when it is asked for.
      get fit() {
        return seated();
      },
    };
  });
  const asked = {
    job,
    limit,
    depths,
    region,
    regionForSums: drawn.regionForSums,
    match,
    fitted,
    fitMends: once(() => {
      const made = fitted();
      if (!('fit' in made)) return [];
      // A line that may be as wide as its limit is not passed, so it has its mends too.
      const wanted = Math.max(0, limit('rim-gap-most') - RIM_GIVE);
      const rise = wanted / Math.tan(job.plugBit.angle / 2);
      return mendsFor(made.pair, made.fit, rise, wanted);
    }),
    fitSpread: once(() => {
      const made = fitted();
      if (!('fit' in made)) return undefined;
      const { draws, seed, ...sources } = job.spread;
      const settings = {
        sources: { ...sources, scale: sources.scale / 100 },
        limit: limit('rim-gap-most-hard'),
        draws,
        seed,
      };
      return spread(made.pair, settings, made.touching);
    }),
    leastStroke,
    leastLand,
    narrowStrokes,
    narrowLands,
    keepOutDrawn: drawn.keepOutDrawn,
  };
  return {
    ...asked,
    drawn,
    artwork,
    tidy: tidied,
    bit: (side) => (side === 'pocket' ? job.bit : job.plugBit),
    sizeRatios: once(() => {
      const { verdict, scale } = match();
      if (NOT_COMPARABLE.has(verdict)) return undefined;
      return verdict.startsWith('scaled') ? [scale.x, scale.y] : [1, 1];
    }),
    plugOnPocket,
    outlineGive: () => 2 * CHORD_ERROR,
    wood: woodFacts(asked),
    markAt: (side, at) => artwork(side).marks[tidied(side).sourceOf(at)] ?? artwork(side).size.mark,
    figures: (withFit) => ({
      'mating-depth': { value: depths.mating, unit: 'mm' },
      'glue-gap': { value: depths.glue, unit: 'mm' },
      'saw-gap': { value: depths.saw, unit: 'mm' },
      ...fitFigures(withFit ? fitted() : undefined),
      'inlay-area': { value: area(region('pocket')), unit: 'mm2' },
    }),
    length: (mm) => show(mm, 'mm', style),
  };
}

/** Drawings that show different things have no size in common. */
const NOT_COMPARABLE: ReadonlySet<string> = new Set(['different', 'inside-out']);

/** With `mirror: toolpath` both drawings are alike, so it is the plain motion that lays one over the other. */
export function placedBy(job: Job, match: PairMatch): PairMatch['mirrored'] {
  return job.plug.mirror === 'toolpath' ? match.copied : match.mirrored;
}

export function depthsOf(job: Job): Depths {
  const { pocket, plug } = job;
  return {
    mating: pocket.startDepth + plug.startDepth,
    glue: pocket.flatDepth - plug.startDepth,
    saw: plug.flatDepth - pocket.startDepth,
    pocketTotal: pocket.startDepth + pocket.flatDepth,
    plugTotal: plug.startDepth + plug.flatDepth,
  };
}

/** A plug whose scale puts its outline this far off, mm, is another plug and not a slack or tight one. */
const OTHER_SIZE = 1;

/** What the dry fit needs, or why it is not made. A part that does not go in has no seat to speak of. */
function fitInputOf(
  job: Job,
  pocket: Region,
  match: () => PairMatch,
  plug: () => Region,
  leastLand: Facts['leastLand'],
): FitInput | { readonly moot: string } | { readonly untold: string } {
  const pocketTool = toolOf(job.bit);
  const plugTool = toolOf(job.plugBit);
  if (pocketTool === undefined || plugTool === undefined)
    return {
      untold:
        "The job does not say what the bit's tip is: give tip-flat (0 for a sharp point) or tip-radius.",
    };
  if (pocket.rings.length === 0)
    return { untold: 'The pocket drawing holds no outline, so nothing can be fitted.' };
  const { verdict } = match();
  const goesIn = verdict.endsWith('mirror') || (job.plug.mirror === 'toolpath' && verdict.endsWith('copy'));
  if (!goesIn)
    return {
      moot: 'The plug does not go in as it is drawn (see pair.mirror), so there is no fit to measure.',
    };
  if (verdict.startsWith('scaled') && placedBy(job, match()).deviation > OTHER_SIZE)
    return {
      moot: 'The plug is drawn at another size than the pocket (see pair.match), so there is no fit to measure.',
    };
  const { missing, extra } = match();
  if (missing.length + extra.length > 0)
    return {
      moot: `The ${missing.length > 0 ? 'plug' : 'pocket'} lacks a piece that the ${missing.length > 0 ? 'pocket' : 'plug'} has (see pair.match), so there is no fit to measure.`,
    };
  const depths = depthsOf(job);
  if (depths.mating <= 0 || depths.glue < 0)
    return { moot: 'The depths leave the walls no way to meet (see depth.mating and depth.glue).' };
  if ((leastLand('plug')?.width ?? Number.POSITIVE_INFINITY) < (tipWidth(job.plugBit) ?? 0))
    return {
      moot: 'Wood is left standing between the strokes (see bit.between), and the plug cannot seat at all.',
    };
  return {
    pocket,
    plug: plug(),
    pocketTool,
    plugTool,
    pocketStart: job.pocket.startDepth,
    pocketFlat: job.pocket.flatDepth,
    plugStart: job.plug.startDepth,
    plugFlat: job.plug.flatDepth,
  };
}

/** The bit as the model wants it; undefined when the job does not say what its tip is. */
export function toolOf(bit: Bit): ToolShape | undefined {
  if (bit.tipFlat === undefined && bit.tipRadius === undefined) return undefined;
  return {
    halfAngle: bit.angle / 2,
    tipFlat: bit.tipFlat ?? 0,
    ...(bit.tipRadius === undefined ? {} : { tipRadius: bit.tipRadius }),
    ...(bit.toolpathAngle === undefined ? {} : { toolpathHalfAngle: bit.toolpathAngle / 2 }),
    ...(bit.toolpathTipFlat === undefined ? {} : { toolpathTipFlat: bit.toolpathTipFlat }),
  };
}

function fitFigures(
  fitted: Fitted | undefined,
): Record<string, { value: number; unit: UnitName } | undefined> {
  const pressed = fitted !== undefined && 'fit' in fitted ? asPressed(fitted.fit) : undefined;
  const length = (value: number | undefined) =>
    value === undefined ? undefined : { value, unit: 'mm' as const };
  return { proud: length(pressed?.proud), 'worst-rim-gap': length(pressed?.widest?.gap) };
}

function tidySettings(limit: (name: LimitName) => number) {
  return {
    nearTouchLeast: limit('near-touch-least'),
    speckAreaLeast: limit('speck-area-least'),
    sliverWidthLeast: limit('sliver-width-least'),
  };
}
