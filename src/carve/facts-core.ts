import type { Artwork, Mark } from '../artwork/artwork.ts';
import type { PairMatch } from '../geometry/compare.ts';
import type { Point, Region } from '../geometry/shapes.ts';
import type { Tidy } from '../geometry/tidy.ts';
import type { leastWidth, narrowRuns } from '../geometry/width.ts';
import type { Job } from '../job/job.ts';
import type { LimitName } from '../job/limits.ts';
import type { Bit } from '../job/schema.ts';
import type { UnitName } from '../units.ts';
import type { Fit, FitInput, Pair } from './fit.ts';
import type { Mend } from './fit-mends.ts';
import type { Touching } from './seat.ts';
import type { Spread } from './spread.ts';

export type Side = 'pocket' | 'plug';

/** The dry fit, or in one sentence why it could not be made: something else is wrong first, or was not told. */
export type Fitted =
  | { readonly input: FitInput; readonly pair: Pair; readonly touching: Touching; readonly fit: Fit }
  | { readonly moot: string }
  | { readonly untold: string };

/** The depth budget in mm (design words: mating depth, glue gap, saw gap). Any of them may come out negative. */
export interface Depths {
  readonly mating: number;
  readonly glue: number;
  readonly saw: number;
  /** Start + flat depth of each side: how deep its bit goes below the face of its piece. */
  readonly pocketTotal: number;
  readonly plugTotal: number;
}

/**
 * Everything the rules may ask about one pair, each worked out once and only when asked for. Rules read facts;
 * they never do geometry of their own.
 */
export interface CoreFacts {
  readonly job: Job;
  readonly limit: (name: LimitName) => number;
  readonly artwork: (side: Side) => Artwork;
  readonly tidy: (side: Side) => Tidy;
  /** The tidied outlines of one side, in the frame of its own drawing. */
  readonly region: (side: Side) => Region;
  /** The same with fewer corners, for sums over the whole design. */
  readonly regionForSums: (side: Side) => Region;
  readonly bit: (side: Side) => Bit;
  readonly depths: Depths;
  /** Best motion with and without reflection, and what differs after it. */
  readonly match: () => PairMatch;
  /** Size of the plug's outline over the pocket's, along x and y; undefined when the two cannot be compared. */
  readonly sizeRatios: () => readonly [number, number] | undefined;
  /** The plug's outlines laid over the pocket's by the best motion. */
  readonly plugOnPocket: () => Region;
  /** How far a distance between the two outlines may be off by flattening and rounding, mm. */
  readonly outlineGive: () => number;
  /** Least true width of the strokes of one side (wood of the inlay), over the whole drawing. */
  readonly leastStroke: (side: Side) => ReturnType<typeof leastWidth>;
  /** Least true width of the lands (board) between the strokes of one side. */
  readonly leastLand: (side: Side) => ReturnType<typeof leastWidth>;
  readonly narrowStrokes: (side: Side, below: number) => ReturnType<typeof narrowRuns>;
  readonly narrowLands: (side: Side, below: number) => ReturnType<typeof narrowRuns>;
  /** The plug pressed home as it will be. */
  readonly fitted: () => Fitted;
  /** Changes that lower a proud plug, each tried by running the model again; the best first. */
  readonly fitMends: () => readonly Mend[];
  /** The fit under what varies in a real shop; undefined when there is no fit to vary. */
  readonly fitSpread: () => Spread | undefined;
  readonly markAt: (side: Side, at: Point) => Mark;
  /** The main figures for the report's head; those of the fit, which take longest, only when the fit was asked for. */
  readonly figures: (
    withFit: boolean,
  ) => Readonly<Record<string, { value: number; unit: UnitName } | undefined>>;
  /** A length in the job's unit, for sentences. */
  readonly length: (mm: number) => string;
}

/** Why a fact cannot be had: the job does not say it (untold), or something else makes it pointless (moot). */
export type Unseen = { readonly untold: string } | { readonly moot: string };

/** What the facts about the wood are made from. */
export type WoodCore = Pick<
  CoreFacts,
  | 'job'
  | 'limit'
  | 'region'
  | 'regionForSums'
  | 'depths'
  | 'match'
  | 'fitted'
  | 'leastStroke'
  | 'leastLand'
  | 'narrowStrokes'
  | 'narrowLands'
> & {
  /** The shapes of keep-outs that are drawings, in the order of the job's list; undefined: none, or not read. */
  readonly keepOutDrawn: (index: number) => Region | undefined;
};

/** Works a thing out when it is first asked for, and only then. */
export function once<T>(work: () => T): () => T {
  let done: { readonly value: T } | undefined;
  return () => {
    done ??= { value: work() };
    return done.value;
  };
}

/** The same for each side of the pair. */
export function bySide<T>(work: (side: Side) => T): (side: Side) => T {
  const pocket = once(() => work('pocket'));
  const plug = once(() => work('plug'));
  return (side) => (side === 'pocket' ? pocket() : plug());
}

/** The same for each limit asked. */
export function byLimit<T>(work: (limit: number) => T): (limit: number) => T {
  const known = new Map<number, () => T>();
  return (limit) => {
    const found = known.get(limit) ?? once(() => work(limit));
    known.set(limit, found);
    return found();
  };
}
