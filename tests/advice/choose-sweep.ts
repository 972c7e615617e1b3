import { createRequire } from 'node:module';
import { RULES } from '../../rules/index.ts';
import { readArtwork } from '../../src/artwork/read.ts';
import { type Facts, factsOf } from '../../src/carve/facts.ts';
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

/** Checks that follow from depths, the quickest first: what they say of one cut is asked until one is missed. */
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
  'wear.sanding',
  'fit.rim',
  'fit.proud',
  'depth.glue',
  'depth.saw',
  'plug.breakage',
  'board.breakage',
  'glue.wall',
];
const rulesOf = (ids: readonly string[]): readonly Rule[] =>
  ids.map((id) => RULES.find((rule) => rule.id === id) as Rule);

/** Facts of whose readings no depth is the judge. */
const BESIDES = /^(Open grain|Hard to bond)/;

type Tier = 'wanted' | 'hard';

/**
 * The margin of one cut, straight from the readings of the checks: the least, over all limits, of what there is over
 * what is wanted, counted against what may be off. `enough`: less than this need not be told apart.
 */
export function marginAt(facts: Facts, tier: Tier, enough: number, onlyQuick = false): number {
  const bare: Facts = { ...facts, fitMends: () => [] };
  const unfitted: Facts = { ...bare, fitted: () => ({ moot: 'asked later' }) };
  let margin = Number.POSITIVE_INFINITY;
  for (const rule of rulesOf(QUICK)) {
    margin = Math.min(margin, ...rule.measure(unfitted).map((one) => timesKept(one, tier)));
    if (margin <= enough) return margin;
  }
  if (onlyQuick) return margin;
  for (const rule of rulesOf(DEAR)) {
    margin = Math.min(margin, ...rule.measure(bare).map((one) => timesKept(one, tier)));
    if (margin <= enough) return margin;
  }
  return Math.min(margin, spreadKept(bare, tier));
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

/** The line that 95 of 100 cuts stay below, against the line that shows; below 1 where the check itself does not pass. */
function spreadKept(facts: Facts, tier: Tier): number {
  const rule = RULES.find(({ id }) => id === 'fit.spread') as Rule;
  const spread = facts.fitSpread();
  if (spread === undefined) return Number.POSITIVE_INFINITY;
  const [asked] = rule.measure(facts);
  const outcome = asked !== undefined && 'measured' in asked ? judgeReading(asked).outcome : undefined;
  const kept = tier === 'wanted' ? outcome === 'pass' : outcome !== 'fail';
  const times = facts.limit('rim-gap-most-hard') / (tier === 'wanted' ? spread.p95 : spread.median);
  return kept ? Math.max(1, times) : Math.min(times, 1 - 1e-9);
}

/** Whether any check fails; stops at the first that does. */
export function failsAny(facts: Facts): string | undefined {
  const first = [...QUICK, 'bit.tip', 'bit.between', ...DEAR];
  const rest = RULES.map(({ id }) => id).filter((id) => !first.includes(id));
  for (const rule of rulesOf([...new Set([...first, ...rest])])) {
    // Only the outcome is asked; the mends of a fit take as long as the fit.
    const bare: Facts = { ...facts, fitMends: () => [] };
    if (judgeCheck(rule, rule.measure(bare)).outcome === 'fail') return rule.id;
  }
  return undefined;
}
