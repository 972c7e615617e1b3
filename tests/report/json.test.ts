import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import Ajv from 'ajv';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { json } from '../../src/report/json.ts';
import { reportSchema } from '../../src/report/schema.ts';
import { VERSION } from '../../src/report/version.ts';
import { factsFor, LEAF } from '../pairs.ts';

const root = resolve(import.meta.dirname, '../..');
const checked = (job: Record<string, unknown> = {}) => checkJob(factsFor({ pocket: LEAF, job }), RULES);

describe('the JSON report', () => {
  const valid = new Ajv({ strict: false, allErrors: true }).compile(reportSchema());

  it('keeps to its published schema, passing, failing and blind (ajv as the outside judge)', () => {
    for (const job of [
      {},
      { 'plug.start-depth': 0.5 },
      { 'bit.tip-flat': undefined },
      { 'pocket.stock': undefined },
    ]) {
      const text = json(checked(job));
      expect(valid(JSON.parse(text)), JSON.stringify(valid.errors)).toBe(true);
    }
    expect(valid({ answer: 'pass' })).toBe(false);
  });

  it('gives equal bytes for equal input', () => {
    expect(json(checked())).toBe(json(checked()));
    expect(json(checked()).endsWith('}\n')).toBe(true);
  });

  it('shows the numbers of passing readings too, and never a bare minus zero', () => {
    const record = JSON.parse(json(checked())) as { checks: { id: string; readings: unknown[] }[] };
    const told = record.checks.filter((check) => check.readings.length > 0);
    expect(told.length).toBeGreaterThanOrEqual(14);
    expect(json(checked())).not.toMatch(/-0[,\n}]/);
  });

  it('names the version of the package', () => {
    const text = readFileSync(resolve(root, 'package.json'), 'utf8');
    expect((JSON.parse(text) as { version: string }).version).toBe(VERSION);
  });
});
