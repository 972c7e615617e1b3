import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { type Run, runJobFile } from '../../src/cli/run.ts';
import type { JudgedReading } from '../../src/engine/judge.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { columns } from '../../src/report/layout.ts';
import { figureWords, sheet } from '../../src/report/sheet.ts';

const root = resolve(import.meta.dirname, '../..');
const names = readdirSync(resolve(root, 'samples')).sort();
/** Words left of the figures in a row that is CLOSE, at 80 columns: 80 - 5 for the balloon - 6 - 37 - a blank. */
const LABEL_MOST = 31;

/** Samples that are asked every check; the others only their own, for the fit takes most of the time. */
const WHOLE: ReadonlySet<string> = new Set([
  'kingfisher',
  'fern-lid',
  'pair.mirror',
  'bit.between',
  'bit.tip',
]);

describe('the sheet of every sample', () => {
  const runs = new Map<string, Run>();
  const written = (name: string, width: number): string => {
    const { checked, facts } = runs.get(name) as Run;
    return sheet(checked, facts, { ink: PLAIN_INK, width });
  };

  beforeAll(async () => {
    for (const name of names) {
      const only = WHOLE.has(name) ? undefined : [name];
      runs.set(name, await runJobFile(`samples/${name}/${name}.dryfit.yaml`, { only }));
    }
  }, 120_000);

  it.each([60, 80, 100])('keeps inside %i columns and cuts nothing short', (width) => {
    for (const name of names) {
      const lines = written(name, width).split('\n');
      expect(lines.length).toBeGreaterThan(12);
      for (const line of lines) {
        expect(columns(line), line).toBeLessThanOrEqual(width);
        expect(line).not.toMatch(/\.{3}|undefined|NaN|\[object/);
        expect(line).toBe(line.trimEnd());
      }
    }
  });

  it('says the same in every width: only the breaks of its lines differ', () => {
    const words = (name: string, width: number) =>
      written(name, width)
        .split(/[\s;]+/)
        .sort();
    for (const name of names) expect(words(name, 60)).toEqual(words(name, 100));
  });

  it('has a row on one line for all that is measured, at 80 columns', () => {
    for (const name of names) {
      const { checked } = runs.get(name) as Run;
      const lines = written(name, 80).split('\n');
      for (const reading of checked.checks.flatMap((check) => check.readings))
        if (reading.outcome !== 'pass') expect(columns(reading.label ?? '')).toBeLessThanOrEqual(LABEL_MOST);
      for (const line of lines.filter((text) => /^\(\d+\)/.test(text)))
        expect(line).toMatch(/ (FAIL|CLOSE) .*\d/);
    }
  });

  it('points to the page of the worst row, not of the first', () => {
    for (const name of names.filter((sample) => RULES.some((rule) => rule.id === sample))) {
      const { checked } = runs.get(name) as Run;
      const named = /dryfit explain (\S+)/.exec(written(name, 80))?.[1];
      expect(checked.checks.find((check) => check.id === named)?.outcome).toBe('fail');
    }
  });

  it('is, for the kingfisher, this one to the letter', () => {
    const golden = readFileSync(resolve(root, 'tests/fixtures/sheets/kingfisher.txt'), 'utf8');
    expect(written('kingfisher', 80)).toBe(golden);
  });
});

describe('labels in the rules', () => {
  it('fit their column, with the longer side named', () => {
    const files = readdirSync(resolve(root, 'rules'), { recursive: true, encoding: 'utf8' });
    const found: string[] = [];
    for (const file of files.filter((name) => name.endsWith('.ts'))) {
      const text = readFileSync(resolve(root, 'rules', file), 'utf8');
      for (const [, , label] of text.matchAll(/\b(?:label|row)(?:: | = )(['"`])(.+?)\1[,;]/g))
        if (label !== undefined) found.push(label.replaceAll(/\$\{side\}/g, 'pocket'));
    }
    const whole = found.filter((label) => !label.includes('${'));
    expect(whole.length).toBeGreaterThan(50);
    expect(whole.filter((label) => label.length > LABEL_MOST)).toEqual([]);
  });
});

describe('figures', () => {
  const words = (value: number, unit: 'yes' | 'mm', want: JudgedReading['want']) =>
    figureWords(
      {
        measured: { value, unit },
        want,
        give: 0,
        place: { part: 'job' },
        says: '',
        outcome: 'pass',
        room: undefined,
      },
      'mm',
    );

  it('want a no where a yes is what should not be', () => {
    expect(words(1, 'yes', { atMost: 0 })).toEqual({ have: 'yes', need: 'no', room: '-' });
    expect(words(0, 'yes', { atLeast: 1 })).toEqual({ have: 'no', need: 'yes', room: '-' });
  });

  it('print a value and its limit so that they differ when they do', () => {
    const { have, need } = words(0.0500001, 'mm', { atMost: 0.05 });
    expect(have.replace(' mm', '')).not.toBe(need.replace('<= ', ''));
  });
});
