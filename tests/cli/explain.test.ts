/** `dryfit explain`: every check in the list, every page with its limits and the figures of its own sample. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { explain, explainLines, listLines, nearIds, samplePath, sampleRun } from '../../src/cli/explain.ts';
import { InputFault } from '../../src/fault.ts';
import { LIMITS } from '../../src/job/limits.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { columns } from '../../src/report/layout.ts';
import { figureWords, notPassing } from '../../src/report/sheet.ts';
import { show } from '../../src/units.ts';

const view = { ink: PLAIN_INK, width: 80 };
const ids = RULES.map((rule) => rule.id);

describe('the list', () => {
  it('names every check once, in order, with its question, within 80 columns', () => {
    const lines = listLines(view);
    expect(lines.map((line) => line.split(' ')[0]).filter((word) => ids.includes(word ?? ''))).toEqual(ids);
    const text = lines.join(' ').replace(/\s+/g, ' ');
    for (const rule of RULES) expect(text).toContain(`${rule.id} ${rule.asks}`);
    for (const line of lines) expect(columns(line), line).toBeLessThanOrEqual(80);
  });
});

describe.each(RULES.map((rule) => [rule.id, rule] as const))('%s', (id, rule) => {
  it('is explained within 80 columns, with every limit, its value and its ground, and its sample', () => {
    const lines = explainLines(rule, view, undefined);
    for (const line of lines) expect(columns(line), line).toBeLessThanOrEqual(80);
    const text = lines.join(' ').replace(/\s+/g, ' ');
    for (const name of rule.limits) {
      const { value, unit, ground } = LIMITS[name];
      expect(text).toContain(`${name} ${show(value, unit, 'mm')}`);
      expect(text).toContain(ground);
    }
    expect(samplePath(id)).toBeDefined();
  });
});

// The first check of each subject; DRYFIT_ALL=1 asks every one.
const asked = RULES.filter(
  ({ id }, i) =>
    process.env['DRYFIT_ALL'] === '1' ||
    RULES.findIndex((other) => other.id.split('.')[0] === id.split('.')[0]) === i,
);

describe('the figures of a sample', () => {
  it.each(asked.map((rule) => [rule.id, rule] as const))(
    '%s: are those that are measured on it',
    async (id, rule) => {
      const sample = await sampleRun(id);
      const lines = explainLines(rule, view, sample);
      for (const line of lines) expect(columns(line), line).toBeLessThanOrEqual(80);
      const check = sample?.checked.checks.find((candidate) => candidate.id === id);
      const worst = check && notPassing(check)[0];
      if (sample === undefined || worst === undefined) throw new Error(`${id} has no sample that it fails`);
      const { have, need } = figureWords(worst, sample.facts.job.units);
      expect(lines.join('\n')).toContain(samplePath(id));
      expect(lines.join('\n')).toContain(`have ${have}   need ${need}`);
    },
  );
});

it('says the same each time', async () => {
  const rule = RULES.find((candidate) => candidate.id === 'pair.match') as (typeof RULES)[number];
  const [first, second] = [await sampleRun(rule.id), await sampleRun(rule.id)];
  expect(explainLines(rule, view, second)).toEqual(explainLines(rule, view, first));
});

describe('an id that is not there', () => {
  it.each([
    ['depht.glue', ['depth.glue']],
    ['pair-mirror', ['pair.mirror']],
    ['mirror', ['pair.mirror']],
    ['xylophone.quartz', []],
  ])('%s suggests %j', (written, wanted) => {
    expect(nearIds(written, ids)).toEqual(wanted);
  });

  it('suggests a whole subject when only that was written', () => {
    expect(nearIds('depth', ids)).toEqual(ids.filter((id) => id.startsWith('depth.')));
  });

  it('is refused with the suggestion, as every wrong call is', async () => {
    await expect(explain('depth.glu')).rejects.toThrow(InputFault);
    await expect(explain('depth.glu')).rejects.toThrow('Did you mean depth.glue?');
    await expect(explain('xylophone.quartz')).rejects.toThrow('lists them all');
  });
});
