/**
 * Chosen depths against a dense search over all depths, on drawings nobody here made. The search knows nothing of how
 * a choice is found: it asks the checks themselves. A seeded handful each run; DRYFIT_CHOOSE=1-100 looks at a hundred
 * and prints what was found.
 */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { choose } from '../../src/advice/choose.ts';
import { cutOtherwise } from '../../src/carve/facts.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import {
  cutTo,
  type Depths,
  failsAny,
  marginAt,
  type RealDesign,
  realDesigns,
  seeded,
} from './choose-sweep.ts';

const ASKED = process.env['DRYFIT_CHOOSE'];
const FULL = ASKED !== undefined;
const [FROM = 1, TO = 1] = ASKED?.split('-').map(Number) ?? [3, 5];
/** Places of the dense search that are looked at in full; the shallowest first, then by chance. */
const MOST_LOOKED = FULL ? 30 : 6;
const SEED = 8;
/** How much wider a margin found by search may be. */
const WIDER = 1.02;

await loadClipper();

/** From `least` to `most`, each step the same share larger. */
function ladder(least: number, most: number, step: number): number[] {
  const rungs: number[] = [];
  for (let at = least; at <= most; at *= step) rungs.push(at);
  return rungs;
}

interface Search {
  readonly looked: number;
  readonly of: number;
  /** The widest margin met, or 0; for a design of which nothing passes, how many cuts passed. */
  readonly found: number;
  readonly at?: Depths;
}

type Tier = 'wanted' | 'hard';

/**
 * The places of a grid over all depths that could keep every limit `target` times over, by the checks that depths and
 * sizes decide. Those only get tighter with depth, so a row ends where its first place misses one.
 */
function placesFor({ facts }: RealDesign, target: number, tier: Tier, steps: Depths): readonly Depths[] {
  const { job, limit } = facts;
  const kerf = job.saw?.kerf ?? limit('saw-kerf-assumed');
  const hard = tier === 'hard';
  const least: Depths = {
    mating: target * limit(hard ? 'mating-depth-least-hard' : 'mating-depth-least'),
    glue: target * limit(hard ? 'glue-gap-least-hard' : 'glue-gap-least'),
    saw: target * (hard ? kerf : kerf + limit('saw-spare-least')),
  };
  const nearly = target * (1 - 1e-9);
  const kept = (depth: Depths): boolean =>
    marginAt(cutOtherwise(facts, cutTo(job, depth)), tier, nearly, true) >= nearly;
  const places: Depths[] = [];
  for (const mating of ladder(Math.max(least.mating, job.pocket.startDepth), 20, steps.mating)) {
    const before = places.length;
    for (const glue of ladder(least.glue, limit('glue-gap-most'), steps.glue)) {
      const row = places.length;
      for (const saw of ladder(least.saw, 12, steps.saw)) {
        if (!kept({ mating, glue, saw })) break;
        places.push({ mating, glue, saw });
      }
      if (places.length === row) break;
    }
    if (places.length === before) break;
  }
  return places;
}

/** The widest margin beyond `target` on a dense grid. */
function search(design: RealDesign, target: number, tier: Tier): Search {
  const places = placesFor(design, target, tier, { mating: 1.02, glue: 1.1, saw: 1.2 });
  const looked = some(places);
  let best: { found: number; at?: Depths } = { found: 0 };
  for (const depth of looked) {
    const margin = marginAt(cutOtherwise(design.facts, cutTo(design.facts.job, depth)), tier, target);
    if (margin > Math.max(target, best.found)) best = { found: margin, at: depth };
  }
  return { looked: looked.length, of: places.length, ...best };
}

/** The shallowest places, where least stands in the way, and others by chance. */
function some(places: readonly Depths[]): readonly Depths[] {
  const chance = seeded(SEED);
  const size = ({ mating, glue, saw }: Depths): number => mating * glue * saw;
  const order = [...places].sort((a, b) => size(a) - size(b));
  const half = MOST_LOOKED / 2;
  const rest = order
    .slice(half)
    .map((place) => ({ place, key: chance() }))
    .sort((a, b) => a.key - b.key)
    .slice(0, half)
    .map(({ place }) => place);
  return [...order.slice(0, half), ...rest];
}

/** Cuts that no check fails, of all that a maker might try. */
function searchAny(design: RealDesign): Search {
  const places = placesFor(design, 1, 'hard', { mating: 1.04, glue: 1.2, saw: 1.3 });
  const looked = some(places);
  const passed = looked.filter(
    (depth) => failsAny(cutOtherwise(design.facts, cutTo(design.facts.job, depth))) === undefined,
  );
  const [at] = passed;
  const found = passed.length;
  return { looked: looked.length, of: places.length, found, ...(at === undefined ? {} : { at }) };
}

describe(`the choice for ${TO - FROM + 1} real designs`, () => {
  it.each(
    realDesigns(TO, SEED)
      .map((make, n) => ({ n: n + 1, make }))
      .slice(FROM - 1),
  )(
    'design $n: passes the checks, and a dense search finds no wider margin by more than 2 %',
    { timeout: 600_000 },
    ({ make, n }) => {
      const design = make();
      const { bits, drawings } = choose(design.facts, [{ name: undefined, bit: design.facts.job.bit }]);
      const say = (text: string) => {
        if (FULL) console.log(`${n} ${design.name}: ${text}`);
      };
      if (drawings.length > 0) return say('drawings');
      const [answer] = bits;
      const { proposal } = answer ?? {};
      if (proposal === undefined) {
        const { found, looked, of, at } = searchAny(design);
        say(
          `nothing passes (${answer?.missed[0]?.id} ${answer?.missed[0]?.times.toFixed(2)}); ${looked} of ${of} looked at, ${found} pass`,
        );
        expect(at).toBeUndefined();
        return;
      }
      const anew = design.anew(proposal.job);
      const { answer: again, checks } = checkJob(anew, RULES);
      expect(checks.filter(({ outcome }) => outcome === 'fail').map(({ id }) => id)).toEqual([]);
      expect(again).toBe(proposal.checked.answer);
      const { tier } = proposal;
      const margin = marginAt(anew, tier, 0);
      const wider = search(design, WIDER * margin, tier);
      say(
        `${again}, ${tier} margin ${margin.toFixed(3)}; ${wider.looked} of ${wider.of} looked at, widest ${wider.found.toFixed(3)}`,
      );
      expect(wider.at).toBeUndefined();
    },
  );
});
