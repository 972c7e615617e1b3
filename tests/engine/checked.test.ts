import { describe, expect, it } from 'vitest';
import { checkJob } from '../../src/engine/checked.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading, Silence } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { factsFor, LEAF } from '../pairs.ts';

const facts = factsFor({ pocket: LEAF });
const rule = (id: string, essential: boolean, value: number): Rule => ({
  id,
  asks: `Is ${id} well?`,
  row: `${id} is well`,
  essential,
  limits: [],
  measure: (): readonly (Reading | Silence)[] => [
    {
      measured: quantity(value, 'mm'),
      give: 0,
      want: { atLeast: 1 },
      place: { part: 'pair' },
      says: 'A sentence.',
    },
  ],
});
const RULES = [rule('depth.a', true, 2), rule('fit.b', false, 3), rule('wood.c', true, 0)];

describe('a job with its answer', () => {
  it('asks every rule in order and names the job', () => {
    const checked = checkJob(facts, RULES);
    expect(checked.job).toBe('bench.dryfit.yaml');
    expect(checked.title).toBe('Bench pair');
    expect(checked.checks.map(({ id, outcome }) => `${id} ${outcome}`)).toEqual([
      'depth.a pass',
      'fit.b pass',
      'wood.c fail',
    ]);
    expect(checked.checks[0]).toMatchObject({
      asks: 'Is depth.a well?',
      row: 'depth.a is well',
      essential: true,
    });
    expect(checked.answer).toBe('fail');
    expect(checked.notAsked).toEqual([]);
  });

  it('does not ask what was left out, says so, and is no pass when that was essential', () => {
    const side = checkJob(facts, RULES.slice(0, 2), new Set(['fit.b']));
    expect(side.checks.map(({ id }) => id)).toEqual(['depth.a']);
    expect(side.notAsked).toEqual(['fit.b']);
    expect(side.answer).toBe('pass');
    const essential = checkJob(facts, RULES, new Set(['wood.c']));
    expect(essential.notAsked).toEqual(['wood.c']);
    expect(essential.answer).toBe('care');
    expect(checkJob(facts, RULES, new Set(['depth.a', 'fit.b', 'wood.c'])).answer).toBe('unknown');
  });

  it('gives the figures of the seat only when the fit was asked for', () => {
    const all = checkJob(facts, RULES).figures;
    const some = checkJob(facts, RULES, new Set(['fit.b'])).figures;
    const had = (figures: typeof all) => Object.keys(figures).filter((key) => figures[key] !== undefined);
    expect(had(all).length).toBeGreaterThan(had(some).length);
    expect(had(some).length).toBeGreaterThan(0);
  });
});
