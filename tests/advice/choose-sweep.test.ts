/**
 * Chosen depths against a dense search over all depths, on drawings nobody here made. The search knows nothing of how
 * a choice is found: it lays a grid over mating depth (steps of 2 %, beyond a fifth more 6 %), glue gap and saw gap
 * (2 %, beyond a tenth more 10 %), leaves out what depths and sizes alone forbid, and asks the readings of the checks
 * along every row that is left (see lookAlong: what is not asked is no better by what keeps the deepest of the row, or
 * lies between places that one and the same limit keeps). Where nothing is said to pass, all checks are asked along the rows of a coarser grid. A seeded handful each
 * run; DRYFIT_CHOOSE=1-100 looks at a hundred and prints what was found.
 */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { choose } from '../../src/advice/choose.ts';
import type { Facts } from '../../src/carve/facts.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { toDegrees } from '../../src/units.ts';
import {
  type Depths,
  failsAny,
  failsBy,
  lookAlong,
  marginAt,
  missesBy,
  type RealDesign,
  realDesigns,
  rowsFor,
  seeded,
  type Tier,
} from './choose-sweep.ts';

const ASKED = process.env['DRYFIT_CHOOSE'];
const FULL = ASKED !== undefined;
const [FROM = 1, TO = 1] = ASKED?.split('-').map(Number) ?? [3, 5];
const SEED = 8;
/** How much wider a margin found by search may be. */
const WIDER = 1.02;
/** The search begins this much below the margin of the choice, so that it tells where it comes to as well. */
const BELOW = 0.97;
/** A place must be wider than the widest found before it by this much to be looked into. */
const NEWS = 1.002;

await loadClipper();

interface Search {
  readonly rows: number;
  readonly places: number;
  readonly looked: number;
}

/** The widest margin on the grid, and where; 0 where it is less than `BELOW` of the one given. */
function widestOn(
  { facts }: RealDesign,
  margin: number,
  tier: Tier,
): Search & { readonly widest: number; readonly at?: Depths } {
  const chance = seeded(SEED);
  const least = BELOW * margin;
  const rows = rowsFor(facts, least, tier, { mating: 1.06, gap: 1.1 });
  let best: { widest: number; at?: Depths } = { widest: 0 };
  let first: string | undefined;
  let looked = 0;
  const enough = (): number => Math.max(least, NEWS * best.widest);
  const tell = (cut: Facts): string | undefined => {
    const found = marginAt(cut, tier, enough(), first);
    first = found.by;
    if (found.margin > enough()) best = { widest: found.margin, at: cut.depths };
    return found.by;
  };
  const misses = (cut: Facts, id: string): boolean => missesBy(cut, tier, enough(), id);
  for (const row of rows)
    looked += lookAlong(facts, row, row.mating / (rows[0]?.mating ?? 1), chance, { tell, misses });
  return { rows: rows.length, places: placesIn(rows), looked, ...best };
}

/** A cut that no check fails, of all that a maker might try. */
function passingOn({ facts }: RealDesign): Search & { readonly at?: Depths; readonly by: string } {
  const chance = seeded(SEED);
  const rows = rowsFor(facts, 1, 'hard', { mating: 1.1, gap: 1.2 });
  const counts = new Map<string, number>();
  let at: Depths | undefined;
  let first: string | undefined;
  let looked = 0;
  const tell = (cut: Facts): string | undefined => {
    first = failsAny(cut, first);
    counts.set(first ?? 'none', (counts.get(first ?? 'none') ?? 0) + 1);
    if (first === undefined) at ??= cut.depths;
    return first;
  };
  for (const row of rows) looked += lookAlong(facts, row, 1, chance, { tell, misses: failsBy });
  const by = [...counts].map(([id, count]) => `${id} ${count}`).join(', ');
  return { rows: rows.length, places: placesIn(rows), looked, by, ...(at === undefined ? {} : { at }) };
}

const placesIn = (rows: ReturnType<typeof rowsFor>): number =>
  rows.reduce((sum, { glues, saws }) => sum + glues.length * saws.length, 0);

const told = ({ mating, glue, saw }: Depths): string =>
  `mating ${mating.toFixed(2)} glue ${glue.toFixed(2)} saw ${saw.toFixed(2)}`;

const grid = ({ rows, places, looked }: Search): string =>
  `${places} places in ${rows} rows, ${looked} asked`;

/** Seconds of processor time since `from`. */
const seconds = (from: NodeJS.CpuUsage): string =>
  `${(Object.values(process.cpuUsage(from)).reduce((a, b) => a + b) / 1e6).toFixed(1)} s`;

describe(`the choice for ${TO - FROM + 1} real designs`, () => {
  it.each(
    realDesigns(TO, SEED)
      .map((make, n) => ({ n: n + 1, make }))
      .slice(FROM - 1),
  )(
    'design $n: passes the checks, and a dense search finds no wider margin by more than 2 %',
    { timeout: 1_800_000 },
    ({ make, n }) => {
      const design = make();
      const { bit } = design.facts.job;
      const start = process.cpuUsage();
      const { bits, drawings } = choose(design.facts, [{ name: undefined, bit }]);
      const chosenIn = seconds(start);
      const say = (text: string) => {
        const cut = `${toDegrees(bit.angle).toFixed(0)} deg tip ${bit.tipFlat}`;
        if (FULL)
          process.stdout.write(
            `${n} ${design.name}, ${cut}: ${text}; chosen in ${chosenIn}, all in ${seconds(start)}\n`,
          );
      };
      if (drawings.length > 0) return say(`drawings (${drawings.map(({ id }) => id).join(', ')})`);
      const [answer] = bits;
      const { proposal } = answer ?? {};
      if (proposal === undefined) {
        const [worst] = answer?.missed ?? [];
        const any = passingOn(design);
        say(
          `nothing passes (${worst?.id} ${worst?.times.toFixed(2)}); ${grid(any)}, fail by ${any.by}${any.at === undefined ? '' : `; PASSES AT ${told(any.at)}`}`,
        );
        expect(any.at).toBeUndefined();
        return;
      }
      const anew = design.anew(proposal.job);
      const { answer: again, checks } = checkJob(anew, RULES);
      const { tier } = proposal;
      const { margin, by } = marginAt(anew, tier, 0);
      const wider = widestOn(design, margin, tier);
      say(
        `${again}, ${told(proposal.depth)}, ${tier} margin ${margin.toFixed(3)} by ${by}; widest on the grid ${wider.widest.toFixed(3)}${wider.at === undefined ? '' : ` at ${told(wider.at)}`}, ${grid(wider)}${NEWS * wider.widest > WIDER * margin ? '; WIDER' : ''}`,
      );
      expect(checks.filter(({ outcome }) => outcome === 'fail').map(({ id }) => id)).toEqual([]);
      expect(again).toBe(proposal.checked.answer);
      expect(NEWS * wider.widest).toBeLessThan(WIDER * margin);
    },
  );
});
