import { createRequire } from 'node:module';
import { chanceOf } from '../../rules/fit/spread.ts';
import { RULES } from '../../rules/index.ts';
import { readArtwork } from '../../src/artwork/read.ts';
import { cutOtherwise, type Facts, factsOf } from '../../src/carve/facts.ts';
import { judgeCheck, judgeReading } from '../../src/engine/judge.ts';
import type { Reading, Silence } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { type Job, readJob } from '../../src/job/job.ts';
import { mm } from '../../src/units.ts';
import { letterDrawings } from '../reference/letters.ts';

/** A real drawing with a shop's bit, wood and stock. */
export interface RealDesign {
  readonly name: string;
  readonly facts: Facts;
  /** The same pair cut by another job, read and worked out from the drawings anew. */
  readonly anew: (job: Job) => Facts;
}

export interface Depths {
  readonly mating: number;
  readonly glue: number;
  readonly saw: number;
}

const load = createRequire(import.meta.url);

/** Numbers of 0 to 1, the same for one seed (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const pick = <T>(from: readonly T[], chance: () => number): T =>
  from[Math.floor(chance() * from.length)] as T;

/**
 * Icons of @iconify-json/game-icons (CC-BY-3.0) and letters of @fontsource faces (SIL Open Font Licence), which nobody
 * here drew, each at a size, with a bit, woods, boards and edges by chance: some leave room for much, some for nothing.
 */
export function realDesigns(count: number, seed: number): readonly (() => RealDesign)[] {
  const chance = seeded(seed);
  const { icons } = load('@iconify-json/game-icons/icons.json') as {
    icons: Readonly<Record<string, { readonly body: string }>>;
  };
  const names = Object.keys(icons).sort();
  const letters = letterDrawings(1);
  return Array.from({ length: count }, (_, n) => {
    const across = pick([50, 80, 120, 160], chance);
    const job = jobText(chance);
    if (n % 3 < 2) {
      const name = pick(names, chance);
      const body = icons[name]?.body ?? '';
      const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${across}mm" viewBox="0 0 512 512">${body}</svg>`;
      return () => designOf(name, svg, job);
    }
    const { name, svg } = pick(letters, chance);
    return () => designOf(name, svg.replace(/width="[^"]*"/, `width="${across}mm"`), job);
  });
}

function jobText(chance: () => number): string {
  const [angle, wide] = pick(
    [
      [15, 6.35],
      [30, 6.35],
      [30, 12.7],
      [60, 12.7],
      [60, 19],
      [90, 19],
    ] as const,
    chance,
  );
  const tip = pick([0.05, 0.1, 0.25, 0.5], chance);
  const long = pick([8, 12, 20], chance);
  const [board, stock] = [pick([7, 10, 13, 19], chance), pick([9, 12, 18], chance)];
  const woods = ['cherry-black', 'maple-sugar', 'walnut-black'];
  const start = chance() < 0.3 ? 0.5 : 0;
  return [
    'title: A real drawing',
    'units: mm',
    `pocket: { outline: pocket.svg, start-depth: ${start}, flat-depth: 6, stock: { wood: ${pick(woods, chance)}, grain: face, grain-angle: 0, thickness: ${board} } }`,
    `plug: { outline: pocket.svg, mirror: toolpath, start-depth: 4, flat-depth: 3, stock: { wood: ${pick(woods, chance)}, grain: face, grain-angle: 0, thickness: ${stock}, width: 260, length: 260 } }`,
    `bit: { angle: ${angle}, tip-flat: ${tip}, cutting-length: ${long}, cutting-diameter: ${wide} }`,
    `saw: { kerf: ${pick([0.9, 1.2], chance)} }`,
    '',
  ].join('\n');
}

function designOf(name: string, svg: string, text: string): RealDesign {
  const bytes = new TextEncoder().encode(svg);
  const anew = (job: Job): Facts => {
    const art = readArtwork(bytes, 'pocket.svg');
    return factsOf(job, art, art);
  };
  return { name, facts: anew(readJob(text, 'real.dryfit.yaml')), anew };
}

/** The job cut to these depths by its own bit; the start depth of the pocket stays. */
export function cutTo(job: Job, { mating, glue, saw }: Depths): Job {
  const { startDepth } = job.pocket;
  return {
    ...job,
    pocket: { ...job.pocket, flatDepth: mm(glue + mating - startDepth) },
    plug: { ...job.plug, startDepth: mm(mating - startDepth), flatDepth: mm(saw + startDepth) },
  };
}

/** Checks that follow from depths and sizes alone. */
const QUICK = [
  'depth.mating',
  'depth.glue',
  'depth.saw',
  'depth.board',
  'depth.plug-stock',
  'bit.reach',
  'stock.margin',
];
const DEAR = [
  'plug.breakage',
  'board.breakage',
  'fit.spread',
  'fit.rim',
  'fit.proud',
  'wear.sanding',
  'depth.glue',
  'depth.saw',
  'glue.wall',
];
const ruleOf = (id: string): Rule => RULES.find((rule) => rule.id === id) as Rule;

/** Facts of whose readings no depth is the judge. */
const BESIDES = /^(Open grain|Hard to bond)/;

export type Tier = 'wanted' | 'hard';

/** How often a cut keeps its limits, and by which check least often. */
export interface Margin {
  readonly margin: number;
  readonly by: string;
}

/** The margin that depths and sizes alone leave. */
export function quickMarginAt(facts: Facts, tier: Tier): Margin {
  const unfitted: Facts = { ...facts, fitted: () => ({ moot: 'asked later' }) };
  return least(QUICK, Number.NEGATIVE_INFINITY, (id) =>
    ruleOf(id)
      .measure(unfitted)
      .map((one) => timesKept(one, tier)),
  );
}

/**
 * The margin of one cut, straight from the readings of the checks: the least, over all limits, of what there is over
 * what is wanted, counted against what may be off. Below `enough` it need not be told further. `first`: the check that
 * is asked first of those that take long.
 */
export function marginAt(facts: Facts, tier: Tier, enough: number, first?: string): Margin {
  const quick = quickMarginAt(facts, tier);
  if (quick.margin <= enough) return quick;
  const bare: Facts = { ...facts, fitMends: () => [] };
  const dear = least(firstOf(DEAR, first), enough, (id) => marginBy(id, bare, tier));
  return quick.margin < dear.margin ? quick : dear;
}

const firstOf = (ids: readonly string[], first: string | undefined): readonly string[] =>
  first === undefined || !ids.includes(first) ? ids : [first, ...ids.filter((id) => id !== first)];

/** Whether one check alone puts the margin of a cut at or below `enough`. */
export function missesBy(facts: Facts, tier: Tier, enough: number, id: string): boolean {
  return marginBy(id, { ...facts, fitMends: () => [] }, tier).some((times) => times <= enough);
}

const marginBy = (id: string, bare: Facts, tier: Tier): readonly number[] =>
  id === 'fit.spread'
    ? [spreadKept(bare, tier)]
    : ruleOf(id)
        .measure(bare)
        .map((one) => timesKept(one, tier));

function least(ids: readonly string[], enough: number, of: (id: string) => readonly number[]): Margin {
  let found: Margin = { margin: Number.POSITIVE_INFINITY, by: '' };
  for (const id of ids) {
    const margin = Math.min(...of(id));
    if (margin < found.margin) found = { margin, by: id };
    if (margin <= enough) break;
  }
  return found;
}

function timesKept(one: Reading | Silence, tier: Tier): number {
  if (!('measured' in one) || BESIDES.test(one.label ?? '')) return Number.POSITIVE_INFINITY;
  const { value } = one.measured;
  const give = tier === 'wanted' ? one.give : -one.give;
  const least = tier === 'wanted' ? one.want.atLeast : (one.want.hardAtLeast ?? one.want.atLeast);
  const most = tier === 'wanted' ? one.want.atMost : (one.want.hardAtMost ?? one.want.atMost);
  const up = least === undefined ? Number.POSITIVE_INFINITY : ratio(value - give, least);
  const down = most === undefined ? Number.POSITIVE_INFINITY : ratio(most, value + give);
  return Math.min(up, down);
}

function ratio(have: number, need: number): number {
  if (need > 1e-9) return have / need;
  return have >= need - 1e-9 ? Number.POSITIVE_INFINITY : 0;
}

/** The line that 95 of 100 cuts stay below, against the line that shows; below 1 where its chance does not pass. */
function spreadKept(facts: Facts, tier: Tier): number {
  const spread = facts.fitSpread();
  if (spread === undefined) return Number.POSITIVE_INFINITY;
  // What each source is worth is not asked: it takes as long as all the rest.
  const { outcome } = judgeReading(chanceOf(facts, { ...spread, shares: () => [] }));
  const kept = tier === 'wanted' ? outcome === 'pass' : outcome !== 'fail';
  const times = facts.limit('rim-gap-most-hard') / (tier === 'wanted' ? spread.p95 : spread.median);
  return kept ? Math.max(1, times) : Math.min(times, 1 - 1e-9);
}

/** The first check met that fails; `ask` is asked before the others. */
export function failsAny(facts: Facts, ask?: string): string | undefined {
  const before = [...QUICK, 'bit.tip', 'bit.between', ...DEAR];
  const ids = [...new Set([...before, ...RULES.map(({ id }) => id)])];
  return firstOf(ids, ask).find((id) => failsBy(facts, id));
}

/** Only the outcome is asked; the mends of a fit take as long as the fit. */
export function failsBy(facts: Facts, id: string): boolean {
  return judgeCheck(ruleOf(id), ruleOf(id).measure({ ...facts, fitMends: () => [] })).outcome === 'fail';
}

/** From `least` to `most`: steps of 2 % as far as `fine` times the least, then larger ones. */
export function ladder(least: number, most: number, fine: number, step: number): readonly number[] {
  const rungs: number[] = [];
  for (let at = least; at <= most; at *= at < fine * least ? 1.02 : step) rungs.push(at);
  return rungs;
}

/** One mating depth of the grid, with the glue and saw gaps that depths and sizes allow beside it. */
export interface Row {
  readonly mating: number;
  readonly glues: readonly number[];
  readonly saws: readonly number[];
}

/** Coarser grids are for what asks every check of every place. */
export interface Steps {
  readonly mating: number;
  readonly gap: number;
}

/**
 * The rows of a grid over all depths at which depths and sizes keep every limit `target` times over. Of these limits
 * those of the pocket hang on mating depth and glue gap, those of the plug on mating depth and saw gap, and each gets
 * tighter with depth: so a row ends where its first place misses one.
 */
export function rowsFor(facts: Facts, target: number, tier: Tier, steps: Steps): readonly Row[] {
  const { job, limit } = facts;
  const kerf = job.saw?.kerf ?? limit('saw-kerf-assumed');
  const hard = tier === 'hard';
  const mating = target * limit(hard ? 'mating-depth-least-hard' : 'mating-depth-least');
  const glue = target * limit(hard ? 'glue-gap-least-hard' : 'glue-gap-least');
  const saw = target * (hard ? kerf : kerf + limit('saw-spare-least'));
  const kept = (depth: Depths): boolean =>
    quickMarginAt(cutOtherwise(facts, cutTo(job, depth)), tier).margin >= target * (1 - 1e-9);
  const until = (values: readonly number[], depthAt: (value: number) => Depths): readonly number[] => {
    let [end, missed] = [0, values.length];
    while (end < missed) {
      const middle = (end + missed) >> 1;
      if (kept(depthAt(values[middle] as number))) end = middle + 1;
      else missed = middle;
    }
    return values.slice(0, end);
  };
  const rows: Row[] = [];
  for (const at of ladder(Math.max(mating, job.pocket.startDepth), 20, 1.2, steps.mating)) {
    const glues = until(ladder(glue, limit('glue-gap-most'), 1.1, steps.gap), (value) => ({
      mating: at,
      glue: value,
      saw,
    }));
    const saws = until(ladder(saw, 12, 1.1, steps.gap), (value) => ({ mating: at, glue, saw: value }));
    if (glues.length === 0 || saws.length === 0) break;
    rows.push({ mating: at, glues, saws });
  }
  return rows;
}

/** How a place of the grid is asked. */
export interface Asking {
  /** By which check a place is no better than it is; undefined when it keeps all. */
  readonly tell: (facts: Facts) => string | undefined;
  /** Whether by this check it is no better than the best so far. */
  readonly misses: (facts: Facts, id: string) => boolean;
}

/**
 * What only gets better when floors lie deeper below the same walls: there is more room under the plug and beside it.
 * What stands thin or reaches far only gets worse.
 */
const BETTER_DEEP = new Set([
  'fit.rim',
  'fit.proud',
  'fit.spread',
  'wear.sanding',
  'depth.glue',
  'depth.saw',
  'glue.wall',
]);
const WORSE_DEEP = new Set(['plug.breakage', 'board.breakage']);

/**
 * Looks at the places of a row. The deepest is asked first: where what is best there keeps it from being better, no place
 * of the row is better, and of every third such row one place by chance is asked whether that is so. Else the shallowest
 * that is worth its mating depth (`times` of the least) is asked, which may tell the same of the whole row, and that place
 * by chance. When one check keeps all three, the others are taken to be kept by it too; else all glue gaps are asked,
 * each with both ends of the saw gaps. Returns how many places were asked.
 */
export function lookAlong(
  base: Facts,
  { mating, glues, saws }: Row,
  times: number,
  chance: () => number,
  { tell, misses }: Asking,
): number {
  const worth = (values: readonly number[]): number =>
    values.find((value) => value >= times * (values[0] as number) * (1 - 1e-9)) ?? (values.at(-1) as number);
  const at = (glue: number, saw: number): Facts => cutOtherwise(base, cutTo(base.job, { mating, glue, saw }));
  const [lean, deep] = [worth(saws), saws.at(-1) as number];
  const [anyGlue, anySaw, look] = [pick(glues, chance), pick(saws, chance), chance() < 1 / 3];
  const deepest = at(glues.at(-1) as number, deep);
  const byDeep = tell(deepest);
  const settled = byDeep !== undefined && BETTER_DEEP.has(byDeep);
  if (settled && !look) return 1;
  const any = at(anyGlue, anySaw);
  if (settled && misses(any, byDeep)) return 2;
  const leanest = at(worth(glues), lean);
  const byLean = tell(leanest);
  if (byLean !== undefined && WORSE_DEEP.has(byLean) && misses(any, byLean)) return 3;
  const three = [leanest, deepest, any];
  const told = [byLean, byDeep, tell(any)];
  const alike = (id: string): boolean =>
    three.every((facts, n) => told[n] === id || (told[n] !== undefined && misses(facts, id)));
  if ([...new Set(told)].some((id) => id !== undefined && alike(id))) return three.length;
  for (const glue of glues) for (const saw of [lean, deep]) tell(at(glue, saw));
  return three.length + 2 * glues.length;
}
