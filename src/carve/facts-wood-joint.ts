import { grow } from '../geometry/offset.ts';
import type { Motion, Point, Region } from '../geometry/shapes.ts';
import type { Job } from '../job/job.ts';
import type { Air } from '../job/schema.ts';
import { degrees } from '../units.ts';
import { type JointMovement, jointMovement, type Year } from '../wood/joint.ts';
import { equilibriumMoisture } from '../wood/moisture.ts';
import { speciesOf } from '../wood/species.ts';
import { type Strength, standingStrength } from '../wood/strength.ts';
import type { Unseen, WoodCore } from './facts-core.ts';
import { CLOSE_ENOUGH, coarser } from './facts-wood-coarse.ts';
import { pieceOf } from './facts-wood-parts.ts';
import { type Glue, glueNeeded, glueOf } from './glue.ts';
import { tipWidth } from './reach.ts';
import { lossPerMm, sandingLeft, type Wearing, wholeTimes } from './wear.ts';

/** A stroke and how much may be sanded before it is gone, mm. */
export interface WornStroke {
  readonly at: Point;
  readonly width: number;
  readonly left: number;
  /** Whole resurfacings it stands. */
  readonly times: number;
  /** The same with other usual bits, seated as drawn. `angle`: included, radians. */
  readonly others: readonly { readonly angle: number; readonly times: number }[];
}

/** Included angles that V-bits are commonly sold in (common practice, no source). */
const USUAL_ANGLES = [15, 30, 60, 90].map(degrees);

export interface Worn {
  /** Strokes that do not stand the sanding wanted, the first to go first; else the narrowest alone. */
  readonly strokes: readonly WornStroke[];
  /** What may be sanded before no inlay is left at all: the mating depth less what the plug stands proud, mm. */
  readonly allGone: number;
  readonly proud: number;
  /** Stroke width lost for each mm sanded. */
  readonly lossPerMm: number;
}

/** The plug's walls as sanding meets them; a plug that has no seat is taken as sitting where it was meant to. */
export function wornOf(core: WoodCore): Worn | Unseen {
  const { job, depths, limit } = core;
  if (core.region('pocket').rings.length === 0) return NO_OUTLINE;
  if (depths.mating <= 0)
    return { moot: 'The walls do not meet (see depth.mating), so there is nothing to sand.' };
  const proud = proudOf(core);
  const wearing: Wearing = { halfAngle: job.plugBit.angle / 2, mating: depths.mating, proud };
  const loss = lossPerMm(wearing.halfAngle);
  const below = (limit('sanding-least') + proud) * loss;
  const least = core.leastStroke('pocket');
  // When the narrowest stroke lasts, all do, and none need be looked for.
  const runs = least !== undefined && least.width < below ? core.narrowStrokes('pocket', below).runs : [];
  // A stroke that the tip hardly gets into is bit.tip's to tell: it is not there to be sanded.
  const cut = (tipWidth(job.bit) ?? 0) + limit('tip-spare-least');
  const short = runs.filter((run) => run.kind !== 'sharp-tip' && run.width >= cut);
  const places = short.length > 0 ? short : least === undefined || least.width < cut ? [] : [least];
  if (places.length === 0)
    return {
      moot: 'The strokes that would go first are hardly wider than the tip (see bit.tip); all others last.',
    };
  // The narrowest come first, and they are the first to go.
  const strokes = places.map(({ at, width }) => {
    const left = sandingLeft(width, 0, wearing);
    const each = limit('sanding-each');
    const others = USUAL_ANGLES.filter((angle) => Math.abs(angle - job.plugBit.angle) > 1e-6).map(
      (angle) => ({
        angle,
        times: wholeTimes(
          sandingLeft(width, 0, { halfAngle: angle / 2, mating: depths.mating, proud: 0 }),
          each,
        ),
      }),
    );
    return { at, width, left, times: wholeTimes(left, each), others };
  });
  return { strokes, allGone: Math.max(0, depths.mating - proud), proud, lossPerMm: loss };
}

/**
 * How far apart the walls of plug and board come to lie, mm for each mm sanded off, when the plug is cut at a flatter
 * angle than the pocket: they meet at the rim alone. 0 for one angle, and for a steeper plug, which the fit tells.
 */
export function openingPerMm({ job }: WoodCore): number {
  return Math.max(0, Math.tan(job.plugBit.angle / 2) - Math.tan(job.bit.angle / 2));
}

const NO_OUTLINE: Unseen = { untold: 'The pocket drawing holds no outline.' };

function proudOf(core: WoodCore): number {
  const fitted = core.fitted();
  return 'fit' in fitted ? Math.max(0, fitted.fit.proud) : 0;
}

export interface Moves {
  readonly movement: JointMovement;
  readonly year: Year;
  /** What the plug bears across its grain, against the stress when the glue holds it still. */
  readonly strength: Strength;
  /** Angle between the grains of board and plug, degrees of 0 to 90 in radians; undefined when either is end grain. */
  readonly crossed: number | undefined;
  /** How far the two woods' moistures are apart when cut, %; undefined unless the job says both. */
  readonly apart: number | undefined;
  /** What was taken because the job does not say it, in sentences. */
  readonly taken: readonly string[];
}

/** How the joint works over the year, in the pocket's frame. Each piece of the design moves by itself. */
export function movesOf(core: WoodCore): Moves | Unseen {
  const { job, limit } = core;
  const [board, plug] = [pieceOf(job, 'pocket'), pieceOf(job, 'plug')];
  if (!('piece' in board)) return board;
  if (!('piece' in plug)) return plug;
  if (!board.angleKnown || !plug.angleKnown)
    return {
      untold: `The job does not say how the grain of the ${board.angleKnown ? 'plug' : 'board'} runs (stock: grain-angle), so it is not known which way the joint moves.`,
    };
  const region = core.regionForSums('pocket');
  if (region.rings.length === 0) return NO_OUTLINE;
  const year = yearOf(job, limit);
  if ('untold' in year) return year;
  const laid = { ...plug.piece, grainAngle: turned(plug.piece.grainAngle, core.match().aligned) };
  const movement = jointMovement(board.piece, laid, year.year, (angle) => widestPiece(region, angle));
  if (movement === undefined)
    return {
      untold: `No movement is printed in the tables for ${board.piece.species.name.toLowerCase()} or ${plug.piece.species.name.toLowerCase()}, and none is guessed.`,
    };
  const flat = board.piece.grain !== 'end' && laid.grain !== 'end';
  const stocks = [job.pocket.stock.moisture, job.plug.stock.moisture];
  return {
    movement,
    year: year.year,
    strength: standingStrength({ ...laid, grain: 'face' }),
    crossed: flat ? Math.abs(Math.asin(Math.sin(laid.grainAngle - board.piece.grainAngle))) : undefined,
    apart: stocks.every((m) => m !== undefined) ? Math.abs(stocks[0]! - stocks[1]!) : undefined,
    taken: [...year.taken, ...grainTaken([board, plug])],
  };
}

/** The sentences about the grain that is up; those about its run have been answered by then. */
function grainTaken(sides: readonly { readonly taken: readonly string[] }[]): readonly string[] {
  return sides.flatMap((side) => side.taken);
}

/** A direction of the plug's drawing, laid onto the pocket's. */
function turned(angle: number, { reflect, angle: by }: Motion): number {
  return (reflect ? Math.PI - angle : angle) + by;
}

function yearOf(
  job: Job,
  limit: WoodCore['limit'],
): { readonly year: Year; readonly taken: readonly string[] } | { readonly untold: string } {
  const { workshop, driest, dampest } = job.climate ?? {};
  const stocks = [job.pocket.stock.moisture, job.plug.stock.moisture].filter((m) => m !== undefined);
  const cut = stocks.length > 0 ? stocks.reduce((a, b) => a + b, 0) / stocks.length : undefined;
  const made = cut ?? moistureOf(workshop);
  const [least, most] = [moistureOf(driest), moistureOf(dampest)];
  if ([made, least, most].includes('beyond'))
    return {
      untold:
        'The air in the job is outside what the equation for the moisture of wood covers (-5 to 70 C, up to 98 %).',
    };
  const missing = [
    made === undefined ? 'when cut' : '',
    least === undefined ? 'at the driest' : '',
    most === undefined ? 'at the dampest' : '',
  ].filter((word) => word !== '');
  const year = {
    made: (made ?? limit('moisture-made-assumed')) as number,
    least: (least ?? limit('moisture-driest-assumed')) as number,
    most: (most ?? limit('moisture-dampest-assumed')) as number,
  };
  const share = (value: number): string => `${Number(value.toFixed(1))} %`;
  const taken =
    missing.length === 0
      ? []
      : [
          `The job does not say the moisture ${missing.join(' and ')}: ${share(year.made)} when cut and ${share(year.least)} to ${share(year.most)} over the year are taken.`,
        ];
  return { year, taken };
}

/** A room's usual temperature, Celsius, where only the humidity is stated: it changes the moisture by a tenth or two. */
const ROOM = 21;

function moistureOf(air: Air | undefined): number | 'beyond' | undefined {
  if (air === undefined) return undefined;
  if (air.moisture !== undefined) return air.moisture;
  if (air.humidity === undefined) return undefined;
  return equilibriumMoisture({ temperature: air.temperature ?? ROOM, humidity: air.humidity }) ?? 'beyond';
}

/** The widest piece of the design in a direction, mm. A hole is never wider than its piece. */
function widestPiece({ rings }: Region, angle: number): number {
  const [x, y] = [Math.cos(angle), Math.sin(angle)];
  let widest = 0;
  for (const ring of rings) {
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 0; i < ring.length; i += 2) {
      const at = ring[i]! * x + ring[i + 1]! * y;
      low = Math.min(low, at);
      high = Math.max(high, at);
    }
    widest = Math.max(widest, high - low);
  }
  return widest;
}

/** Half a tip flat that is not felt in the room for glue, mm. */
const FINE_TIP = 0.1;

export interface Glued {
  readonly glue: Glue;
  /** Glue on both walls at the stated thickness, what of it is spread over the plug's face, and what finds no room, mm3. */
  readonly needed: number;
  readonly overFace: number;
  readonly squeezed: number;
  /** Woods that bond with difficulty, by name. */
  readonly hard: readonly string[];
}

/** The walls and the room of the pair as it sits. */
export function gluedOf(core: WoodCore): Glued | Unseen {
  const { job, depths, limit } = core;
  const fitted = core.fitted();
  if (!('fit' in fitted)) return fitted;
  if (job.plugBit.angle !== job.bit.angle)
    return { moot: 'Pocket and plug are cut at two angles, so their walls do not lie on one another.' };
  const halfAngle = job.bit.angle / 2;
  // The outlines lie at the pocket's start depth; the model wants them in the board's face.
  const lift = job.pocket.startDepth * Math.tan(halfAngle);
  const atFace = (outline: Region): Region => (lift > 0 ? grow(outline, lift) : outline);
  const tip = (tipWidth(job.bit) ?? 0) / 2;
  const glue = glueOf({
    pocket: atFace(core.regionForSums('pocket')),
    plug: atFace(coarser(fitted.input.plug, CLOSE_ENOUGH)),
    halfAngle,
    // Strips that only so fine a tip does not get into hold no glue to speak of, and asking for them is slow.
    tip: tip < FINE_TIP ? 0 : tip,
    pocketDepth: depths.pocketTotal,
    mating: depths.mating,
    proud: Math.max(0, fitted.fit.proud),
  });
  const woods = [job.pocket, job.plug].map(({ stock }) => (stock.wood ? speciesOf(stock.wood) : undefined));
  return {
    glue,
    ...glueNeeded(glue, limit('glue-coat')),
    hard: [...new Set(woods.flatMap((s) => (s?.bonding?.value === 'with difficulty' ? [s.name] : [])))],
  };
}
