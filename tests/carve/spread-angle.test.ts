/** A true angle a hair off the stated one changes nothing that anybody could measure, on drawings with narrow ends. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutOtherwise, type Facts } from '../../src/carve/facts.ts';
import { spread } from '../../src/carve/spread.ts';
import { runJobFile } from '../../src/cli/run.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { mm } from '../../src/units.ts';

beforeAll(loadClipper);

const STILL = {
  tipWear: 0,
  angle: 0,
  pocketZero: 0,
  plugZero: 0,
  pocketFlatness: 0,
  plugFlatness: 0,
  scale: 0,
  squareness: 0,
  runout: 0,
};

function p95(facts: Facts, angle: number): number {
  const made = facts.fitted();
  if (!('fit' in made)) throw new Error('There is no fit.');
  const settings = { sources: { ...STILL, angle }, limit: 0.05, draws: 300, seed: 1 };
  return spread(made.pair, settings, made.touching).p95;
}

describe('the line under an angle that varies', () => {
  it.each([4.45, 4.93, 5.08])('grows from nothing, cut %d mm deep', async (mating) => {
    const { facts } = await runJobFile('samples/kingfisher/kingfisher.dryfit.yaml', {
      only: ['depth.mating'],
    });
    const { job } = facts;
    const bit = { ...job.bit, tipFlat: mm(0.25) };
    const cut = cutOtherwise(facts, {
      ...job,
      bit,
      plugBit: bit,
      pocket: { ...job.pocket, flatDepth: mm(mating + 1) },
      plug: { ...job.plug, startDepth: mm(mating) },
    });
    expect(p95(cut, 1e-7)).toBeCloseTo(p95(cut, 0), 4);
  });
});
