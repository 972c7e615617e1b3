import { readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { runJobFile } from '../../src/cli/run.ts';

/** The pairs a maker may cut as they are. */
const GOOD = ['fern-lid', 'kingfisher'];

/**
 * Checks that fail along with the one a sample is about, because one mistake cannot be made without the other. A
 * stroke that the tip does not get into lies in no pocket: it rests on the board's face, and the first sanding takes it.
 */
const FOLLOWS: Readonly<Record<string, readonly string[]>> = {
  'bit.tip': ['wear.sanding'],
};

const ids = RULES.map((rule) => rule.id);
const jobOf = (name: string) => `samples/${name}/${name}.dryfit.yaml`;

async function outcomes(name: string) {
  const { checked } = await runJobFile(jobOf(name));
  return { answer: checked.answer, of: new Map(checked.checks.map((check) => [check.id, check.outcome])) };
}

describe('samples', () => {
  it('hold the good pairs and one mistake for each check, and nothing else', () => {
    expect(readdirSync('samples').sort()).toEqual([...GOOD, ...ids].sort());
  });

  it.each(GOOD)('%s passes every check', async (name) => {
    const { answer, of } = await outcomes(name);
    expect([...of].filter(([, outcome]) => outcome !== 'pass' && outcome !== 'moot')).toEqual([]);
    expect([...of.keys()]).toEqual(ids);
    expect(answer).toBe('pass');
  });

  it.each(ids)('%s fails in its own sample, and nothing else does', async (id) => {
    const { answer, of } = await outcomes(id);
    const failed = [...of].filter(([, outcome]) => outcome === 'fail').map(([other]) => other);
    expect(failed).toContain(id);
    expect(failed.filter((other) => other !== id && !(FOLLOWS[id] ?? []).includes(other))).toEqual([]);
    expect([...of].filter(([, outcome]) => outcome === 'untold')).toEqual([]);
    expect(answer).toBe('fail');
  });
});
