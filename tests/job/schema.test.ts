import { Ajv } from 'ajv';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readJob } from '../../src/job/job.ts';
import { jobSchema } from '../../src/job/schema-json.ts';
import { parseLength } from '../../src/units.ts';
import { faultsOf, SHORT_JOB, WHOLE_JOB } from './texts.ts';

// A validator of its own (ajv) is the witness: an editor that knows only the published schema must agree with us.
const ajv = new Ajv({ strict: true, allowUnionTypes: true, allErrors: true });
const holds = ajv.compile(jobSchema());

describe('the published schema', () => {
  it('is a draft 7 schema that a strict validator takes, and carries nothing of ours but words', () => {
    expect(ajv.validateSchema(jobSchema())).toBe(true);
    expect(JSON.stringify(jobSchema())).not.toContain('"reads"');
  });

  it.each([WHOLE_JOB, SHORT_JOB])('holds for a good job', (text) => {
    expect(holds(parse(text)), JSON.stringify(holds.errors)).toBe(true);
  });

  it.each([
    ['flat-depth: 7.6', 'flatdepth: 7.6'],
    ['flat-depth: 7.6', 'flat-depth: 7,6'],
    ['flat-depth: 7.6', 'flat-depth: 7.6 psi'],
    ['flat-depth: 7.6', 'flat-depth: [7.6]'],
    ['units: mm', 'units: inch'],
    ['outline: fern.svg', 'outline: 12'],
    ['angle: 30', 'angle: 30 mm'],
    ['  angle: 30', '  tip-flat: 0.1'],
    ['units: mm', 'units: mm\nlimits: { rim-gap: 1 }'],
    ['units: mm', 'units: mm\nkeep-out: [{ disc: { x: 1, y: 1, diameter: 1 } }]'],
    ['units: mm', 'units: mm\nspread: { draws: 3 }'],
    ['units: mm', 'units: mm\nsaw: {}'],
  ])('refuses what the reader refuses: %s -> %s', (from, to) => {
    const text = SHORT_JOB.replace(from, to);
    expect(holds(parse(text))).toBe(false);
    expect(faultsOf(() => readJob(text, 'fern.dryfit.yaml')).length).toBeGreaterThan(0);
  });

  it('describes every key', () => {
    const bare: string[] = [];
    const look = (node: Record<string, unknown>, path: string): void => {
      if (path !== '' && typeof node['description'] !== 'string') bare.push(path);
      for (const [key, child] of Object.entries(
        (node['properties'] ?? {}) as Record<string, Record<string, unknown>>,
      ))
        look(child, `${path}/${key}`);
    };
    look(jobSchema() as Record<string, unknown>, '');
    expect(bare).toEqual([]);
  });

  it('takes the same texts for lengths as the reader, apart from their size and sign', () => {
    const parts = fc.constantFrom(
      '1',
      '7.6',
      '.3',
      '3.',
      '5/16',
      '1 1/2',
      '1-1/2',
      '7,6',
      '',
      '+',
      '-',
      ' ',
      'mm',
      'CM',
      'm',
      'in',
      'inch',
      '"',
      '″',
      'ft',
      'e3',
      '/',
      '.',
    );
    const texts = fc.array(parts, { minLength: 1, maxLength: 4 }).map((all) => all.join(''));
    const schema = (jobSchema() as { properties: { plug: { properties: Record<string, object> } } })
      .properties.plug.properties['start-depth'];
    const fits = ajv.compile(schema as object);
    fc.assert(
      fc.property(texts, (text) => {
        const read = parseLength(text, 'in', 'any');
        const refusedForSize = typeof read === 'string' && /more than|divided/.test(read);
        expect(fits(text), text).toBe(typeof read === 'number' || refusedForSize);
      }),
      { numRuns: 3000, seed: 771 },
    );
  });
});
