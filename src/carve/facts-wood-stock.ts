import { subtract } from '../geometry/combine.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Box, Region, Ring } from '../geometry/shapes.ts';
import type { Feeds, KeepOut } from '../job/schema.ts';
import { type Clearing, carvingTime, clearing, clearingTime, type Feed, type ToClear } from './clearing.ts';
import type { Side, Unseen, WoodCore } from './facts-core.ts';
import { tipWidth } from './reach.ts';
import {
  type KeepOutHit,
  type KeepOutShape,
  keepOutHits,
  nutSweep,
  plugBorder,
  pocketBorder,
  type StockMargin,
  stockMargin,
} from './stock.ts';

/** One side on its piece of wood. */
export interface Held {
  readonly margin: StockMargin;
  /** How far outside the outline the bits cut at the face, mm. */
  readonly border: number;
  /** Which bit asks for that border. */
  readonly by: 'V-bit' | 'clearing bit';
  /** What of the keep-outs the bits or the nut meet. */
  readonly hits: readonly KeepOutHit[];
  /** How many keep-outs stand on this side. */
  readonly keepOuts: number;
  /** Those whose shape is known, for a drawing. */
  readonly standing: readonly KeepOutShape[];
  /** What could not be looked at, in sentences. */
  readonly unseen: readonly string[];
}

export function heldOf(side: Side, core: WoodCore): Held {
  const { job } = core;
  const outline = core.region(side);
  const cut = cutOf(side, core);
  const alone = side === 'plug' ? plugBorder(cut) : pocketBorder(cut);
  const border = side === 'plug' ? plugBorder({ ...cut, clearing: job.clearingBit?.diameter }) : alone;
  const standing = keepOutsOf(side, core);
  const nuts = nutsOf(side, core);
  const hits = nuts.sweeps.length === 0 ? [undefined] : nuts.sweeps;
  return {
    margin: stockMargin(outline, job[side].stock),
    border,
    by: border > alone ? 'clearing bit' : 'V-bit',
    hits: withoutRepeats(hits.flatMap((nut) => keepOutHits(outline, border, standing.shapes, nut))),
    keepOuts: standing.shapes.length + standing.unread.length,
    standing: standing.shapes,
    unseen: [...standing.unread, ...(standing.shapes.length > 0 ? nuts.unknown : [])],
  };
}

/** The cut as its stock sees it; a tip that the job does not know is taken as a point. */
function cutOf(side: Side, { job }: WoodCore) {
  const bit = side === 'plug' ? job.plugBit : job.bit;
  const { startDepth: start, flatDepth: flat } = job[side];
  return { taper: Math.tan(bit.angle / 2), tip: (tipWidth(bit) ?? 0) / 2, start, flat };
}

function keepOutsOf(
  side: Side,
  { job, keepOutDrawn }: WoodCore,
): { readonly shapes: readonly KeepOutShape[]; readonly unread: readonly string[] } {
  const shapes: KeepOutShape[] = [];
  const unread: string[] = [];
  job.keepOut.forEach((item, index) => {
    if (item.part !== side) return;
    const name = item.name ?? `keep-out ${index + 1}`;
    const shape = shapeOf(item) ?? keepOutDrawn(index);
    if (shape === undefined) unread.push(`The drawing of ${name} was not read.`);
    else shapes.push({ name, shape, height: item.height });
  });
  return { shapes, unread };
}

function shapeOf({ box, disc }: KeepOut): Region | undefined {
  if (box !== undefined) {
    const { left, top, width, length } = box;
    return { rings: [rectangle({ minX: left, minY: top, maxX: left + width, maxY: top + length })] };
  }
  if (disc === undefined) return undefined;
  // A polygon round the disc, not in it: nothing of the clamp is left out.
  const sides = 96;
  const radius = disc.diameter / 2 / Math.cos(Math.PI / sides);
  const ring = new Float64Array(2 * sides);
  for (let i = 0; i < sides; i++) {
    const angle = (2 * Math.PI * i) / sides;
    ring.set([disc.x + radius * Math.cos(angle), disc.y + radius * Math.sin(angle)], 2 * i);
  }
  return { rings: [ring] };
}

/** The round that the nut goes with each bit, as far as the job says the nut and how far the bits stick out. */
function nutsOf(
  side: Side,
  core: WoodCore,
): { readonly sweeps: readonly ReturnType<typeof nutSweep>[]; readonly unknown: readonly string[] } {
  const { job } = core;
  const { taper, tip, start, flat } = cutOf(side, core);
  const bit = side === 'plug' ? job.plugBit : job.bit;
  const diameter = job.nut?.diameter;
  if (diameter === undefined)
    return {
      sweeps: [],
      unknown: ['The job does not say how wide the collet nut is, so only the bits were looked at.'],
    };
  const off = side === 'plug' ? flat * taper : 0;
  const driven = [
    {
      name: side === 'plug' && job.plugBit !== job.bit ? 'plug-bit' : 'bit',
      stickOut: bit.stickOut,
      outside: off + (side === 'plug' ? tip : 0),
    },
    ...(job.clearingBit === undefined
      ? []
      : [
          {
            name: 'clearing-bit',
            stickOut: job.clearingBit.stickOut,
            outside: off + (side === 'plug' ? job.clearingBit.diameter / 2 : 0),
          },
        ]),
  ];
  return {
    sweeps: driven.flatMap(({ stickOut, outside }) =>
      stickOut === undefined ? [] : [nutSweep(outside, start + flat, { diameter, stickOut })],
    ),
    unknown: driven.flatMap(({ name, stickOut }) =>
      stickOut === undefined
        ? [
            `The job does not say how far the bit sticks out of the nut (${name}: stick-out), so the nut was not looked at with it.`,
          ]
        : [],
    ),
  };
}

/** Each keep-out once for the bits and once for the nut, with the larger area; the bits come first. */
function withoutRepeats(hits: readonly KeepOutHit[]): readonly KeepOutHit[] {
  const kept: KeepOutHit[] = [];
  for (const hit of [...hits].sort((a, b) => a.by.localeCompare(b.by) || b.area - a.area))
    if (!kept.some((other) => other.name === hit.name && other.by === hit.by)) kept.push(hit);
  return kept;
}

/** What the clearing bit takes of one side. */
export interface Cleared {
  readonly clearing: Clearing;
  /** How far round the plug's box the wood counts that is to be cut away, mm; undefined for the pocket. */
  readonly round: number | undefined;
  /** Share of the wood to be cut away that it takes, 0 to 1. */
  readonly share: number;
  /** Minutes with the clearing bit and with the V-bit after it; undefined where the job gives no feeds for it. */
  readonly clearingMinutes: number | undefined;
  readonly carvingMinutes: number | undefined;
}

export function clearedOf(side: Side, core: WoodCore): Cleared | Unseen {
  const { job } = core;
  const bit = job.clearingBit;
  if (bit === undefined) return { moot: 'The job names no clearing bit: the V-bit clears everything.' };
  if (core.region(side).rings.length === 0) return { untold: `The ${side} drawing holds no outline.` };
  const outline = core.regionForSums(side);
  const wood = side === 'pocket' ? outline : roundPlug(core, outline);
  // Strips that only the tip's flat does not get into are no wood to speak of.
  const toClear: ToClear = { ...cutOf(side, core), tip: 0, wood };
  const found = clearing(toClear, bit.diameter);
  const all = found.cleared + found.left;
  const [clearFeed, carveFeed] = [feedOf(job.feeds?.clearing), feedOf(job.feeds?.vBit)];
  return {
    clearing: found,
    round: side === 'plug' ? roundPlugBy(core) : undefined,
    share: all > 0 ? Math.min(1, found.cleared / all) : 0,
    clearingMinutes: clearFeed && clearingTime(found, clearFeed),
    carvingMinutes: carveFeed && carvingTime(toClear, found.region, carveFeed),
  };
}

/**
 * The wood round the plug: its box grown by the border and once more by what the clearing bit keeps off walls, for the
 * outer edge of this frame is no wall; the plug cut out of it.
 */
function roundPlug(core: WoodCore, outline: Region): Region {
  const { minX, minY, maxX, maxY } = boxOf(outline.rings);
  const by = roundPlugBy(core);
  const frame = rectangle({ minX: minX - by, minY: minY - by, maxX: maxX + by, maxY: maxY + by });
  return subtract({ rings: [frame] }, outline);
}

function roundPlugBy(core: WoodCore): number {
  const cut = cutOf('plug', core);
  const diameter = core.job.clearingBit?.diameter ?? 0;
  return plugBorder({ ...cut, clearing: diameter }) + cut.flat * cut.taper + diameter / 2;
}

function feedOf(feeds: Feeds | undefined): Feed | undefined {
  if (feeds?.stepDown === undefined || feeds.stepOver === undefined) return undefined;
  return { feed: feeds.feed, passDepth: feeds.stepDown, stepover: feeds.stepOver };
}

function rectangle({ minX, minY, maxX, maxY }: Box): Ring {
  return Float64Array.of(minX, minY, maxX, minY, maxX, maxY, minX, maxY);
}
