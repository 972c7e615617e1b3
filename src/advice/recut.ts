import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { RULES } from '../../rules/index.ts';
import type { Artwork } from '../artwork/artwork.ts';
import { CHORD_ERROR } from '../artwork/flatten.ts';
import { readArtwork } from '../artwork/read.ts';
import { nominalOf, profileOf, type ToolShape } from '../carve/cut.ts';
import { type Facts, factsOf, toolOf } from '../carve/facts.ts';
import { largestRadiusUpTo, tipWidth } from '../carve/reach.ts';
import { type CheckedJob, checkJob } from '../engine/checked.ts';
import { InputFault } from '../fault.ts';
import { applyRegion, IDENTITY, invert } from '../geometry/motion.ts';
import { ARC_ERROR, grow } from '../geometry/offset.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Motion, Point, Region } from '../geometry/shapes.ts';
import type { NarrowRun } from '../geometry/width.ts';
import type { Written, WrittenMap } from '../job/document.ts';
import { type Job, readJob } from '../job/job.ts';
import { type Entry, withEntries, yamlOf } from '../job/rewritten.ts';
import type { Bit } from '../job/schema.ts';
import { inches, type LengthStyle, toDegrees, toInches } from '../units.ts';
import { outlineSvg } from './recut-drawing.ts';
import { type Beyond, fullRoom, leastDeeper, leastGrowth, type PocketCut, takesAll } from './recut-least.ts';
import { apartBy, type Left, leftBy } from './recut-left.ts';
import type { Seen } from './recut-seen.ts';

/** One share of what has to go, mm. */
export interface Part {
  readonly what: string;
  readonly sideways: number;
  readonly below: number;
}

/** A least value, and what is taken: that rounded up, or what the maker asked for. */
export interface Taken {
  readonly least: number;
  readonly taken: number;
}

/** A land that gets narrow: its width before and after, mm. */
export interface Land {
  readonly at: Point;
  readonly before: number;
  readonly after: number;
  readonly kind: NarrowRun['kind'];
}

/** The new pair with its job, and what the checks say of it. `files` are texts by name. */
export interface NewPair {
  readonly files: readonly { readonly name: string; readonly text: string }[];
  readonly jobName: string;
  readonly checked: CheckedJob;
  readonly facts: Facts;
}

/**
 * sound: nothing has to be cut again. saved, care: the new pair passes, or passes with care. lost: old wood would
 * stay, a land would close, or the new pair fails. unknown: the job does not say enough to tell.
 */
export type RecutAnswer = 'sound' | 'saved' | 'care' | 'lost' | 'unknown';

export interface Recut {
  readonly answer: RecutAnswer;
  readonly facts: Facts;
  readonly seen: Seen;
  readonly parts: readonly Part[];
  readonly growth: Taken;
  readonly deeper: Taken;
  /** Old wood that would stay with what is taken; any is a reason to refuse. */
  readonly left: readonly Left[];
  /** Whether the cut is known to take all; false without a place in `left` means that no place was found, no more. */
  readonly takesAll: boolean;
  /** What would stay at nine tenths of the least growth, worst first: none where something else than growth binds. */
  readonly leftAtLess: readonly Left[];
  /** Lands that close, or that the plug's bit hardly gets into; the narrowest first. */
  readonly lands: readonly Land[];
  /** The drawing has more or fewer edges than before: pieces have met, or holes closed. */
  readonly changed: boolean;
  readonly grown: Region;
  readonly old: PocketCut;
  readonly fresh: PocketCut;
  readonly beyond: Beyond;
  /** The largest room in the old outline, as far as the depths ask for it, mm. */
  readonly widest: number;
  /** The new pair; none where it was refused before it was drawn. */
  readonly pair: NewPair | undefined;
}

/** A failed job as it was read, and where the new files are to lie. */
export interface RecutOrder {
  readonly facts: Facts;
  /** The job file's own entries. */
  readonly root: WrittenMap;
  readonly keepOuts: readonly (Artwork | undefined)[];
  readonly seen: Seen;
  readonly folder: string;
}

/** Places shown where old wood stays, and how far apart. */
const SHOWN_LEFT = 12;
/** Share of the least growth at which something should be left. */
const LESS = 0.9;
/** How far the drawn and grown outline may lie inside the meant one: curves in straight pieces, twice. */
const DRAWN = CHORD_ERROR + ARC_ERROR;

/** Plans the second cut that takes everything of the first, draws the new pair and puts it through every check. */
export function recut(order: RecutOrder): Recut {
  const { facts, seen } = order;
  const { job } = facts;
  const region = facts.region('pocket');
  const oldTool = toolNeeded(job.bit, job);
  const newTool = toolNeeded(seen.bit ?? job.bit, job);
  const old = cutOf(job, oldTool, seen.tooDeep);
  const flush = cutOf(job, newTool, -seen.zero);
  const beyond = beyondOf(seen, region, oldTool.halfAngle);
  const widest = largestRadiusUpTo(region, Math.max(fullRoom(old), fullRoom(flush)));
  const sound = isSound(seen);
  const deeper = takenOf(sound ? 0 : leastDeeper(old, flush, beyond.below, widest), seen.deeper, job.units);
  const fresh = { ...flush, flat: flush.flat + deeper.taken };
  const least = sound
    ? 0
    : leastNeeded(old, { ...flush, flat: flush.flat + Math.max(deeper.taken, deeper.least) }, beyond, widest);
  const growth = takenOf(least === 0 ? 0 : least + DRAWN, seen.growth, job.units);
  const takes = sound || takesAll(old, fresh, growth.taken - (least === 0 ? 0 : DRAWN), beyond, widest);
  const grown = grow(region, growth.taken);
  const second = { old, fresh, tool: newTool, region, beyond };
  const left = takes ? [] : leftBy({ ...second, grown });
  const lands = landsOf(facts, growth.taken, tipWidth(seen.bit ?? job.plugBit) ?? 0);
  const changed = grown.rings.length !== region.rings.length;
  const refused = !takes || changed || lands.some(({ after }) => after <= 0);
  const pair = refused || sound ? undefined : newPair(order, grown, deeper.taken);
  return {
    answer: sound ? 'sound' : pair === undefined ? 'lost' : ANSWERS[pair.checked.answer],
    facts,
    seen,
    parts: partsOf(seen, beyond, old, fresh, least),
    growth,
    deeper,
    left: apartBy(left, apartOf(region), SHOWN_LEFT),
    takesAll: takes,
    leftAtLess:
      least === 0 || refused
        ? []
        : apartBy(
            leftBy({ ...second, grown: grow(region, LESS * growth.least) }),
            apartOf(region),
            SHOWN_LEFT,
          ),
    lands,
    changed,
    grown,
    old,
    fresh,
    beyond,
    widest,
    pair,
  };
}

const ANSWERS = { pass: 'saved', care: 'care', fail: 'lost', unknown: 'unknown' } as const;

function toolNeeded(bit: Job['bit'], job: Job): ToolShape {
  const tool = toolOf(bit);
  if (tool !== undefined) return tool;
  throw new InputFault(
    "The bit's tip has to be known to tell what the first cut left: give tip-flat (0 for a sharp point) or tip-radius.",
    job.place('bit'),
  );
}

function cutOf({ pocket }: Job, tool: ToolShape, deeper: number): PocketCut {
  return {
    real: profileOf(tool),
    nominal: nominalOf(tool),
    start: pocket.startDepth,
    flat: pocket.flatDepth,
    deeper,
  };
}

/** Nothing hurt, nothing glued, cut as meant: the old pocket is as good as new, whatever can be set up again. */
function isSound({ gap, damage, glue, floorDamage, tooDeep, growth, deeper }: Seen): boolean {
  const hurt = gap + damage + glue + floorDamage + Math.abs(tooDeep);
  return hurt === 0 && growth === undefined && deeper === undefined;
}

function beyondOf(seen: Seen, region: Region, halfAngle: number): Beyond {
  // Glue goes in square to the wall, which leans.
  const hurt = seen.gap + seen.damage + seen.glue / Math.cos(halfAngle);
  return {
    hurt,
    place: seen.shift + seen.turn * (farthest(region) + hurt),
    below: seen.glue + seen.floorDamage,
  };
}

/** From the middle of the inlay's box to the outline's farthest point, mm. */
function farthest(region: Region): number {
  const { minX, minY, maxX, maxY } = boxOf(region.rings);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  let far = 0;
  for (const ring of region.rings)
    for (let k = 0; k < ring.length; k += 2)
      far = Math.max(far, Math.hypot((ring[k] as number) - x, (ring[k + 1] as number) - y));
  return far;
}

function leastNeeded(old: PocketCut, fresh: PocketCut, beyond: Beyond, widest: number): number {
  const least = leastGrowth(old, fresh, beyond, widest);
  if (least === undefined)
    throw new InputFault(
      'No growth makes this bit take all that is told of the first cut. Are those lengths right, and the bit of the second cut?',
    );
  return least;
}

/** The step lengths are rounded up to, in the job's unit: the last digit that is printed. */
const stepOf = (style: LengthStyle): number => (style === 'in' ? inches(1e-4) : 1e-3);

function takenOf(least: number, asked: number | undefined, style: LengthStyle): Taken {
  const step = stepOf(style);
  return { least, taken: asked ?? Math.max(0, Math.ceil(least / step - 1e-6)) * step };
}

const apartOf = (region: Region): number => {
  const { minX, minY, maxX, maxY } = boxOf(region.rings);
  return Math.hypot(maxX - minX, maxY - minY) / 20;
};

/** What the least growth and depth are made of, in the order they are added. */
function partsOf(
  seen: Seen,
  beyond: Beyond,
  old: PocketCut,
  fresh: PocketCut,
  least: number,
): readonly Part[] {
  const lean = (depth: number, { real }: PocketCut): number => depth * real.t;
  const parts: Part[] = [
    { what: 'line seen at the rim', sideways: seen.gap, below: 0 },
    { what: 'chips or stain beyond the rim', sideways: seen.damage, below: 0 },
    { what: "glue in the board's wood", sideways: beyond.hurt - seen.gap - seen.damage, below: seen.glue },
    { what: 'hurt below the old floor', sideways: 0, below: seen.floorDamage },
    {
      what: seen.tooDeep < 0 ? 'pocket cut too shallow' : 'pocket cut too deep',
      sideways: lean(seen.tooDeep, old),
      below: seen.tooDeep,
    },
    { what: 'board set up again, off by', sideways: seen.shift, below: 0 },
    { what: 'board set up again, turned', sideways: beyond.place - seen.shift, below: 0 },
    { what: 'depth zero set again', sideways: lean(seen.zero, fresh), below: seen.zero },
  ];
  const sum = parts.reduce((all, { sideways }) => all + sideways, 0);
  const more = least - Math.max(0, sum);
  parts.push({
    what: seen.bit === undefined ? 'hurt floor under narrow strokes' : 'another bit than the first time',
    sideways: more,
    below: 0,
  });
  if (least > 0) parts.push({ what: 'curves drawn in straight pieces', sideways: DRAWN, below: 0 });
  return parts.filter(({ sideways, below }) => Math.abs(sideways) > 1e-5 || Math.abs(below) > 1e-5);
}

function landsOf(facts: Facts, growth: number, tip: number): readonly Land[] {
  const below = 2 * growth + tip + facts.limit('tip-spare-least');
  return facts
    .narrowLands('pocket', below)
    .runs.filter(({ kind }) => kind !== 'sharp-tip')
    .map(({ at, width, kind }) => ({ at, before: width, after: Math.max(0, width - 2 * growth), kind }));
}

/** The grown pair, with the old glue gap if the deeper floor makes too much of it; the better answer of the two. */
function newPair(order: RecutOrder, grown: Region, deeper: number): NewPair {
  const { facts } = order;
  const { job } = facts;
  const starts = [job.plug.startDepth, job.plug.startDepth + deeper];
  const tooRoomy = facts.depths.glue + deeper > facts.limit('glue-gap-most');
  const tried: NewPair[] = [];
  for (const start of tooRoomy ? starts.slice(1) : deeper === 0 ? starts.slice(0, 1) : starts) {
    const pair = pairWith(order, grown, deeper, start);
    if (pair.checked.answer === 'pass') return pair;
    tried.push(pair);
  }
  return tried.reduce((best, pair) => (rank(pair) < rank(best) ? pair : best));
}

const RANKS = ['pass', 'care', 'unknown', 'fail'] as const;
const rank = ({ checked }: NewPair): number => RANKS.indexOf(checked.answer);

function pairWith(order: RecutOrder, grown: Region, deeper: number, plugStart: number): NewPair {
  const { facts, folder } = order;
  const { job } = facts;
  const base = `${basename(job.file).replace(/(\.dryfit)?\.ya?ml$/i, '')}-recut`;
  const names = { pocket: `${base}.svg`, plug: `${base}-plug.svg`, job: `${base}.dryfit.yaml` };
  const drawn = job.plug.mirror === 'drawn';
  const pocketText = outlineSvg(`${job.title}, pocket, second cut`, grown, facts.artwork('pocket').size);
  const plugText = drawn
    ? outlineSvg(
        `${job.title}, plug for the second cut`,
        applyRegion(ontoPlug(facts), grown),
        facts.artwork('plug').size,
      )
    : pocketText;
  const jobText = jobTextOf(order, names, deeper, plugStart);
  const newJob = readJob(jobText, join(folder, names.job));
  const art = (text: string, name: string): Artwork =>
    readArtwork(new TextEncoder().encode(text), join(folder, name));
  const newFacts = factsOf(
    newJob,
    art(pocketText, names.pocket),
    art(plugText, drawn ? names.plug : names.pocket),
    order.keepOuts,
  );
  return {
    files: [
      { name: names.pocket, text: pocketText },
      ...(drawn ? [{ name: names.plug, text: plugText }] : []),
      { name: names.job, text: jobText },
    ],
    jobName: names.job,
    checked: checkJob(newFacts, RULES),
    facts: newFacts,
  };
}

/** How the pocket becomes its plug: as the old plug lay when that was a mirror image, else turned over in its place. */
function ontoPlug(facts: Facts): Motion {
  const { verdict, mirrored } = facts.match();
  if (verdict === 'mirror' || verdict === 'grown-mirror') return invert(mirrored.motion);
  const { minX, maxX } = boxOf(facts.region('pocket').rings);
  return { ...IDENTITY, reflect: true, dx: minX + maxX };
}

function jobTextOf(
  { facts, root, seen, folder }: RecutOrder,
  names: Readonly<Record<'pocket' | 'plug', string>>,
  deeper: number,
  plugStart: number,
): string {
  const { job } = facts;
  const entries: Record<string, Entry> = {
    title: `${job.title.slice(0, 180)}, second cut`,
    'pocket.outline': names.pocket,
    'plug.outline': job.plug.mirror === 'drawn' ? names.plug : undefined,
  };
  if (deeper !== 0) entries['pocket.flat-depth'] = lengthText(job.pocket.flatDepth + deeper, job.units);
  if (plugStart !== job.plug.startDepth) entries['plug.start-depth'] = lengthText(plugStart, job.units);
  if (seen.bit !== undefined) {
    entries['bit'] = undefined;
    entries['plug-bit'] = undefined;
    for (const [key, text] of bitTexts(seen.bit)) entries[`bit.${key}`] = text;
  }
  return yamlOf(keepOutsFrom(withEntries(root, entries), job, folder));
}

/** A length rounded up to the last digit that is printed, in the job's unit and with it. */
function lengthText(value: number, style: LengthStyle): string {
  const up = Math.ceil(value / stepOf(style) - 1e-6) * stepOf(style);
  return style === 'in' ? `${Number(toInches(up).toFixed(4))} in` : `${Number(up.toFixed(3))} mm`;
}

/** A bit's keys as a job has them, each value with its unit. */
function bitTexts(bit: Bit): readonly (readonly [key: string, text: string])[] {
  return Object.entries(bit).map(([name, value]) => {
    const key = name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
    const text = key.endsWith('angle')
      ? `${Number(toDegrees(value).toFixed(6))} deg`
      : `${Number(value.toFixed(6))} mm`;
    return [key, text];
  });
}

/** Drawings of keep-outs stay where they are; the new job lies elsewhere. */
function keepOutsFrom(root: WrittenMap, job: Job, folder: string): WrittenMap {
  const list = root.entries.get('keep-out');
  if (list?.value.kind !== 'list') return root;
  const items = list.value.items.map((item, k): Written => {
    const outline = job.keepOut[k]?.outline;
    if (item.kind !== 'map' || outline === undefined) return item;
    const way = relative(resolve(folder), resolve(outline.path)).replaceAll(sep, '/');
    return withEntries(item, { outline: outline.select === undefined ? way : `${way}#${outline.select}` });
  });
  const entries = new Map(root.entries);
  entries.set('keep-out', { place: list.place, value: { ...list.value, items } });
  return { ...root, entries };
}

/** Where the files of a repair lie unless another folder is named. */
export const besideJob = (job: Job): string => dirname(job.file);
