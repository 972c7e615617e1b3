import { bitBetween } from '../../rules/bit/between.ts';
import { bitReach } from '../../rules/bit/reach.ts';
import { bitTip } from '../../rules/bit/tip.ts';
import { boardBreakage } from '../../rules/board/breakage.ts';
import { depthBoard } from '../../rules/depth/board.ts';
import { depthGlue } from '../../rules/depth/glue.ts';
import { depthMating } from '../../rules/depth/mating.ts';
import { depthPlugStock } from '../../rules/depth/plug-stock.ts';
import { depthSaw } from '../../rules/depth/saw.ts';
import { fitProud } from '../../rules/fit/proud.ts';
import { fitRim } from '../../rules/fit/rim.ts';
import { chanceOf } from '../../rules/fit/spread.ts';
import { glueWall } from '../../rules/glue/wall.ts';
import { RULES } from '../../rules/index.ts';
import { plugBreakage } from '../../rules/plug/breakage.ts';
import { stockMargin } from '../../rules/stock/margin.ts';
import { wearSanding } from '../../rules/wear/sanding.ts';
import type { Facts } from '../carve/facts.ts';
import type { Contact } from '../carve/fit.ts';
import { judgeCheck, judgeReading, quantity } from '../engine/judge.ts';
import type { Reading } from '../engine/reading.ts';
import type { Rule } from '../engine/rule.ts';

/** Which limits count: those a maker should keep, or only those beyond which a thing is plainly wrong. */
export type Tier = 'wanted' | 'hard';

/** One limit, and how many times better than it a choice of bit and depths is; below 1 it is missed. */
export interface Held {
  readonly id: string;
  /** Which end of what is wanted: a least or a most. */
  readonly end: 'least' | 'most';
  readonly label: string;
  readonly times: number;
  readonly reading: Reading;
  /** What holds the plug, where that decides. */
  readonly contact?: Contact | undefined;
}

/** What tells one limit from another. */
export const keyOf = ({ id, label, end }: Held): string => `${id} ${label} ${end}`;

/**
 * How many times better than its limit a reading is, counted against what it may be off by: have / least, or most /
 * have. At least 1 exactly where the check passes (hard tier: where it does not fail). A limit of nothing is kept
 * or not: without end, or 0.
 */
export function timesOf({ measured, give, want }: Reading, tier: Tier): { least?: number; most?: number } {
  const { value } = measured;
  if (!(give >= 0) || Number.isNaN(value)) return { least: 0 };
  const sure = tier === 'wanted' ? give : -give;
  const atLeast = tier === 'wanted' ? want.atLeast : (want.hardAtLeast ?? want.atLeast);
  const atMost = tier === 'wanted' ? want.atMost : (want.hardAtMost ?? want.atMost);
  return {
    ...(atLeast === undefined ? {} : { least: over(value - sure, atLeast) }),
    ...(atMost === undefined ? {} : { most: under(value + sure, atMost) }),
  };
}

/** Sums of decimals miss their exact value in the last bits. */
const NOISE = 1e-9;

function over(value: number, limit: number): number {
  if (limit > 0) return (value + NOISE) / limit;
  return value >= limit - NOISE ? Number.POSITIVE_INFINITY : 0;
}

function under(value: number, limit: number): number {
  if (value <= NOISE) return limit >= value - NOISE ? Number.POSITIVE_INFINITY : 0;
  return (limit + NOISE) / value;
}

const NO_FIT = { moot: 'The fit is asked later.' };
const BIT_ONLY: readonly Rule[] = [bitTip, bitBetween];
const DEPTHS: readonly Rule[] = [
  depthMating,
  depthGlue,
  depthSaw,
  depthBoard,
  depthPlugStock,
  bitReach,
  stockMargin,
];
const SETTLED: readonly Rule[] = [depthGlue, depthSaw];

/** What hangs on the bit alone: whether its tip gets into every stroke and between them. */
export function heldByBit(facts: Facts, tier: Tier): readonly Held[] {
  return heldBy(facts, BIT_ONLY, tier);
}

/** What follows from depths and sizes alone; takes no time. */
function heldByDepths(facts: Facts, tier: Tier): readonly Held[] {
  const bare: Facts = { ...facts, fitted: () => NO_FIT };
  return [...heldBy(bare, DEPTHS, tier), ...heldByClearing(facts, tier)];
}

/**
 * Limits by what has to be worked out for them, the quickest first: depths and sizes; what stands thin; what varies
 * in the shop; how the plug sits; the glue on its walls.
 */
export const KINDS = ['depths', 'wood', 'spread', 'seat', 'glue'] as const;
export type Kind = (typeof KINDS)[number];

/** The limits of one kind. All but the first take a part of a second. */
export function heldByKind(kind: Kind, facts: Facts, tier: Tier): readonly Held[] {
  // Mends are not asked while choosing.
  const bare: Facts = { ...facts, fitMends: () => [] };
  switch (kind) {
    case 'depths':
      return heldByDepths(facts, tier);
    case 'wood':
      return heldBy(bare, [plugBreakage, boardBreakage], tier);
    case 'spread':
      return heldBySpread(bare, tier);
    case 'seat':
      return heldBySeat(bare, tier);
    case 'glue':
      return heldBy(bare, [glueWall], tier);
  }
}

function heldBySeat(bare: Facts, tier: Tier): readonly Held[] {
  const fitted = bare.fitted();
  const contact = 'fit' in fitted ? fitted.fit.tight[0] : undefined;
  const settled = heldBy(bare, SETTLED, tier).filter(({ reading }) => reading.label !== undefined);
  const fit = heldBy(bare, [fitProud, fitRim], tier).map((held) => ({ ...held, contact }));
  return [...settled, ...fit, ...heldBy(bare, [wearSanding], tier)];
}

/** Readings that no choice of depth is judged by: they hang on the drawing and the wood. */
const BESIDES = /^(Open grain|Hard to bond)/;

/** The tightest reading of each kind that some rules bring. */
function heldBy(facts: Facts, rules: readonly Rule[], tier: Tier): Held[] {
  const tightest = new Map<string, Held>();
  for (const rule of rules)
    for (const reading of rule.measure(facts)) {
      if (!('measured' in reading) || BESIDES.test(reading.label ?? '')) continue;
      const times = timesOf(reading, tier);
      for (const end of ['least', 'most'] as const) {
        const value = times[end];
        if (value === undefined) continue;
        const label = reading.label ?? rule.row;
        const key = `${rule.id} ${label} ${end}`;
        const known = tightest.get(key);
        if (known === undefined || value < known.times)
          tightest.set(key, { id: rule.id, end, label, times: value, reading });
      }
    }
  return [...tightest.values()];
}

/** Only its length is asked here: how much a clearing bit takes is a matter of time and not of the fit. */
function heldByClearing(facts: Facts, tier: Tier): Held[] {
  const length = facts.job.clearingBit?.cuttingLength;
  if (length === undefined) return [];
  const reading: Reading = {
    measured: quantity(length, 'mm'),
    give: 0,
    want: { atLeast: Math.max(facts.depths.pocketTotal, facts.depths.plugTotal) },
    place: { part: 'job' },
    says: "The clearing bit's edges must be as long as the deeper side is deep.",
  };
  const { least } = timesOf(reading, tier);
  return [
    { id: 'bit.clearing', end: 'least', label: 'Clearing bit, cutting length', times: least ?? 0, reading },
  ];
}

/**
 * The line that 95 of 100 imagined cuts stay below, against the line that anybody sees. Where the chance of a line is
 * too high by the check's own count, the limit is missed whatever that line is. It is asked also where a line shows
 * with nothing varying, of which the check itself says no more: so depth never gains by it.
 */
function heldBySpread(facts: Facts, tier: Tier): Held[] {
  const spread = facts.fitSpread();
  if (spread === undefined) return [];
  // What each source is worth takes long and is not asked while choosing.
  const { outcome, place } = judgeReading(chanceOf(facts, { ...spread, shares: () => [] }));
  const wide = facts.limit('rim-gap-most-hard');
  const line = tier === 'wanted' ? spread.p95 : spread.median;
  const kept = tier === 'wanted' ? outcome === 'pass' : outcome !== 'fail';
  const times = wide / Math.max(line, NOISE);
  return [
    {
      id: 'fit.spread',
      end: 'most',
      label: 'Line in 95 of 100 cuts',
      times: kept ? Math.max(1, times) : Math.min(times, 1 - NOISE),
      reading: {
        measured: quantity(line, 'mm'),
        give: 0,
        want: { atMost: wide },
        place,
        says: 'The line that shows under what varies in a shop.',
      },
    },
  ];
}

/** Whether one of these checks fails. Mends take as long as all the rest and are not asked. */
export function failsAny(facts: Facts, rules: readonly Rule[] = RULES): boolean {
  const bare: Facts = { ...facts, fitMends: () => [] };
  return rules.some((rule) => judgeCheck(rule, rule.measure(bare)).outcome === 'fail');
}
