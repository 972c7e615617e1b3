import { hypot } from '../geometry/hypot.ts';
import { apply, invert } from '../geometry/motion.ts';
import { reverseRegion } from '../geometry/region.ts';
import type { Point } from '../geometry/shapes.ts';
import type { NarrowKind, NarrowRun } from '../geometry/width.ts';
import type { Job } from '../job/job.ts';
import { speciesOf } from '../wood/species.ts';
import { type Piece, type Strength, standingStrength } from '../wood/strength.ts';
import { breakage, type Standing, type StandingPart } from './breakage.ts';
import { type BreakageMends, breakageMends } from './breakage-mends.ts';
import { islandAt, type LonePiece, lonePiecesOf, safeWidth } from './breakage-parts.ts';
import { runBreakage } from './breakage-runs.ts';
import { type CoreFacts, once, type Side, type Unseen } from './facts-core.ts';

/** What a thin part of one side bears. Forces are N on all of the height that stands above its weakest level. */
export interface ThinPart {
  readonly kind: NarrowKind | 'widest';
  readonly at: Point;
  /** Width at the board's face, mm. */
  readonly width: number;
  readonly bears: number;
  /** The push of the cutter; what is wanted of `bears` is this times the safety. */
  readonly load: number;
  readonly by: 'bending' | 'shear';
  /** Height above the level where it breaks, and the width there, mm. */
  readonly height: number;
  readonly widthThere: number;
  /** Length of it that is clearly too weak, mm; a part that stands alone: its width. */
  readonly weakLength: number;
  /** Whether it runs more across the grain than along it; undefined for a round part or standing fibres. */
  readonly short: boolean | undefined;
  readonly strength: Strength;
  /** Ways to make it hold; undefined when it holds. Worked out when asked. */
  readonly mends: () => BreakageMends;
}

/** A tip that runs out to nothing: how much of its end bears clearly less than the push, mm. */
export interface CrumblingTip {
  readonly at: Point;
  readonly length: number;
}

export interface Thin {
  readonly piece: Piece;
  /** The weakest first; when nothing is thin, the narrowest place alone. */
  readonly parts: readonly ThinPart[];
  /** The longest first. */
  readonly tips: readonly CrumblingTip[];
  /** What was taken because the job does not say it, in sentences. */
  readonly taken: readonly string[];
}

/** A part wider than this is not looked at, mm: where even that does not hold, all of the design is asked. */
const WIDEST = 20;
/** A piece that stands alone and is not this many times longer than wide is a post, not a wall. */
const STUBBY = 3;
/** Places of a middle line nearer together than this tell nothing new, mm. */
const STEP = 0.3;

type Core = Pick<
  CoreFacts,
  'job' | 'limit' | 'region' | 'match' | 'leastStroke' | 'leastLand' | 'narrowStrokes' | 'narrowLands'
>;

/** What stands while one side is cut: the plug's own strokes, or the board's lands. */
export function thinOf(side: Side, core: Core): Thin | Unseen {
  const lain = pieceOf(core.job, side);
  if (!('piece' in lain)) return lain;
  const { piece, angleKnown } = lain;
  const strength = standingStrength(piece);
  if (strength.value === undefined)
    return {
      untold: `No strength of ${piece.species.name.toLowerCase()} is printed in the tables, so what a thin part bears is not known.`,
    };
  const standing = standingOf(side, core, piece);
  const runs = (side === 'plug' ? core.narrowStrokes : core.narrowLands)(
    side,
    safeWidth(standing) ?? WIDEST,
  ).runs;
  const solid = side === 'plug' ? core.region(side) : { rings: reverseRegion(core.region(side)) };
  const hard = core.limit('breakage-safety-least-hard');
  const asked = { standing, angleKnown, pieces: once(() => lonePiecesOf(solid)), hard };
  const parts = runs.filter((run) => run.kind !== 'sharp-tip').map((run) => partOf(run, asked));
  const tips = runs.filter((run) => run.kind === 'sharp-tip').map((run) => tipOf(run, asked));
  const all = parts.length > 0 ? parts : widestOf(side, core, asked);
  return {
    piece,
    parts: all.sort((a, b) => a.bears / a.load - b.bears / b.load),
    tips: tips.sort((a, b) => b.length - a.length),
    taken: [...lain.taken, ...(strength.says === undefined ? [] : [strength.says])],
  };
}

/** The wood of one side as it lies under its drawing. What the job does not say is taken as the weaker case, and told. */
export function pieceOf(
  job: Job,
  side: Side,
): { readonly piece: Piece; readonly angleKnown: boolean; readonly taken: readonly string[] } | Unseen {
  const { wood, grain, grainAngle } = job[side].stock;
  const what = side === 'plug' ? 'plug' : 'board';
  if (wood === undefined)
    return { untold: `The job does not name the wood of the ${what} (${side}: stock: wood).` };
  const species = speciesOf(wood);
  if (species === undefined)
    return { untold: `The wood of the ${what} is not in the tables, and its figures are not guessed.` };
  const taken: string[] = [];
  if (grain === undefined)
    taken.push(`The job does not say which grain of the ${what} is up: face grain is taken.`);
  const angleKnown = grainAngle !== undefined || grain === 'end';
  if (!angleKnown)
    taken.push(
      `The job does not say how the grain of the ${what} runs: the weakest way is taken at each place.`,
    );
  return { piece: { species, grain: grain ?? 'face', grainAngle: grainAngle ?? 0 }, angleKnown, taken };
}

function standingOf(side: Side, { job, limit }: Core, piece: Piece): Standing {
  const bit = side === 'plug' ? job.plugBit : job.bit;
  return {
    piece,
    taper: Math.tan(bit.angle / 2),
    above: job[side].startDepth,
    below: job[side].flatDepth,
    push: { force: limit('side-load'), over: 1, safety: limit('breakage-safety-least') },
  };
}

interface Asked {
  readonly standing: Standing;
  readonly angleKnown: boolean;
  /** The pieces of all that stands, where parts that stand alone are found. */
  readonly pieces: () => readonly LonePiece[];
  /** The safety below which a part is clearly too weak: weak lengths are counted by it. */
  readonly hard: number;
}

function partOf(run: NarrowRun, { standing, angleKnown, pieces, hard }: Asked): ThinPart {
  const lies = angleKnown ? standing : acrossAt(standing, run.axis);
  const alone =
    run.kind === 'small-island' || (run.kind === 'thin-island' && run.length < STUBBY * run.width);
  const island = alone ? islandAt(pieces(), run.at, run.width / 2) : undefined;
  if (island) return told(run.kind, run.at, island, breakage(island, lies), lies);
  const weakest = runBreakage(thinned(run), withSafety(lies, hard));
  return told(run.kind, weakest.at, weakest.wall, weakest, lies);
}

/** The push is q N on each mm; all of it on the height above the weakest level is what the maker reads. */
function told(
  kind: ThinPart['kind'],
  at: Point,
  part: StandingPart,
  found: ReturnType<typeof breakage>,
  standing: Standing,
): ThinPart {
  const { piece, push } = standing;
  const flat = piece.grain !== 'end' && part.kind === 'wall';
  const width = part.kind === 'wall' ? part.width : 2 * part.radius;
  return {
    kind,
    at,
    width,
    bears: (found.bears ?? 0) * found.height,
    load: push.force * found.height,
    by: found.by,
    height: found.height,
    widthThere: found.width,
    short: flat ? Math.abs(Math.sin(part.axis - piece.grainAngle)) > Math.SQRT1_2 : undefined,
    weakLength: 'weakLength' in found ? (found.weakLength as number) : width,
    strength: found.strength,
    mends: () => breakageMends(part, standing),
  };
}

function tipOf(run: NarrowRun, { standing, angleKnown, hard }: Asked): CrumblingTip {
  const lies = angleKnown ? standing : acrossAt(standing, run.axis);
  return { at: run.at, length: runBreakage(thinned(run), withSafety(lies, hard)).weakLength };
}

function withSafety(standing: Standing, safety: number): Standing {
  return { ...standing, push: { ...standing.push, safety } };
}

/** Nothing is thin: then the narrowest place of all, so that even a good row shows a force. */
function widestOf(side: Side, core: Core, { standing, angleKnown }: Asked): ThinPart[] {
  const least = leastOf(side, core);
  if (least === undefined) return [];
  const [[px, py], [qx, qy]] = least.contacts;
  const axis = Math.atan2(py - qy, px - qx) + Math.PI / 2;
  const lies = angleKnown ? standing : acrossAt(standing, axis);
  const reach = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY] as const;
  const wall: StandingPart = { kind: 'wall', width: least.width, axis, reach };
  return [told('widest', least.at, wall, breakage(wall, lies), lies)];
}

/**
 * The narrowest stroke of the plug or land of the board. Pocket strokes and plug lands are asked by other checks
 * already, and where the drawings fit they are the same: then the answer is carried over and not sought again.
 */
function leastOf(side: Side, core: Core): ReturnType<Core['leastStroke']> {
  const { aligned, mirrored, copied } = core.match();
  const fits = Math.min(mirrored.deviation, copied.deviation) <= core.limit('mirror-deviation-most');
  if (!fits) return (side === 'plug' ? core.leastStroke : core.leastLand)(side);
  const least = side === 'plug' ? core.leastStroke('pocket') : core.leastLand('plug');
  if (least === undefined) return undefined;
  const motion = side === 'plug' ? invert(aligned) : aligned;
  const [at, first, second] = [least.at, ...least.contacts].map(([x, y]) => apply(motion, x, y));
  return { width: least.width, at: at!, contacts: [first!, second!] };
}

function acrossAt(standing: Standing, axis: number): Standing {
  return { ...standing, piece: { ...standing.piece, grainAngle: axis + Math.PI / 2 } };
}

/** A run whose middle line keeps only places that are some way apart. */
function thinned(run: NarrowRun): NarrowRun {
  const { line } = run;
  const kept: number[] = [];
  for (let i = 0; i < line.length; i += 3) {
    const [x, y, r] = [line[i]!, line[i + 1]!, line[i + 2]!];
    const far = kept.length === 0 || hypot(x - kept.at(-3)!, y - kept.at(-2)!) >= STEP;
    if (far || i + 3 === line.length) kept.push(x, y, r);
  }
  return { ...run, line: Float64Array.from(kept) };
}
