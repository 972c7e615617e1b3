import { existsSync, mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSeen } from '../../src/advice/recut-seen.ts';
import { writeAll } from '../../src/cli/new-files.ts';
import { recutJob } from '../../src/cli/recut.ts';
import { runJobFile } from '../../src/cli/run.ts';
import type { InputFaults } from '../../src/fault.ts';
import { inches } from '../../src/units.ts';
import { SHAPES } from '../witness/shapes.ts';
import { recutOf } from './recut-jobs.ts';

const JOB = 'samples/kingfisher/kingfisher.dryfit.yaml';
const job = { units: 'mm', spread: { pocketZero: 0.05 } } as const;
const star = SHAPES['star'] ?? [];

const plan = (seen: Readonly<Record<string, string>>) =>
  recutOf({ outline: star, scale: 6, seen: { glue: '0', 'setup-shift': '0', 'setup-zero': '0', ...seen } });

describe('the least growth', () => {
  it('is nothing when nothing has to be cleared', () => {
    const { answer, growth, deeper } = plan({});
    expect([answer, growth.taken, deeper.taken]).toEqual(['sound', 0, 0]);
  });

  it('grows with damage and with what the board may be off, and never shrinks', () => {
    const part = fc.integer({ min: 1, max: 30 }).map((n) => n / 100);
    fc.assert(
      fc.property(part, part, part, (damage, shift, more) => {
        const least = (d: number, s: number) =>
          plan({ damage: String(d), 'setup-shift': String(s) }).growth.least;
        const first = least(damage, shift);
        expect(least(damage + more, shift)).toBeCloseTo(first + more, 4);
        expect(least(damage, shift + more)).toBeCloseTo(first + more, 4);
      }),
      { numRuns: 3, seed: 8 },
    );
  });

  it('is of the size that saved a failed first inlay: 0.01 in (common practice, no source)', () => {
    const { growth } = plan({ glue: '0.1', 'setup-shift': '0.1', 'setup-zero': '0.1' });
    expect(growth.taken).toBeGreaterThan(inches(0.01) / 2);
    expect(growth.taken).toBeLessThan(inches(0.01) * 2);
  });

  it('is refused when less is asked for, with the places', () => {
    const { answer, left, pair } = plan({ damage: '0.4', growth: '0.3' });
    expect(answer).toBe('lost');
    expect(left.length).toBeGreaterThan(0);
    expect(left[0]?.short).toBeCloseTo(0.1, 2);
    expect(pair).toBeUndefined();
  });

  it('is refused where it closes a land', () => {
    const outline = SHAPES['two close islands'] ?? [];
    const { answer, lands, pair } = recutOf({
      outline,
      scale: 6,
      seen: { glue: '0', damage: '0.6', 'setup-shift': '0' },
    });
    expect(answer).toBe('lost');
    expect(lands[0]?.before).toBeCloseTo(6 * 0.18, 6); // drawn 0.18 apart, six times enlarged
    expect(lands[0]?.after).toBe(0);
    expect(pair).toBeUndefined();
  });
});

describe('what went wrong', () => {
  it.each([
    [{}, /"glue" is missing/],
    [{ glue: '0' }, /"setup-shift" is missing/],
    [{ glue: 'much', 'setup-shift': '0' }, /glue: "much" is not a length/],
    [{ glue: '0', 'setup-shift': '-1' }, /below zero/],
    [{ glue: '0', 'setup-shift': '0', 'setup-turn': '30' }, /line the board up first/],
    [{ glue: '0', 'setup-shift': '0', 'pocket-too-deep': '1', 'pocket-too-shallow': '1' }, /both too deep/],
  ])('is refused in words: %j', (flags, says) => {
    expect(() => readSeen(undefined, flags, job)).toThrow(says);
  });

  it('tells the line of a file, and lets flags count more', () => {
    const file = { path: 'x.recut.yaml', text: 'glue: 0.1\nsetup-shift: 0.2\ndamge: 1\n' };
    try {
      readSeen(file, {}, job);
      expect.unreachable();
    } catch (error) {
      expect((error as InputFaults).faults[0]?.place.line).toBe(3);
      expect(String(error)).toContain('did you mean damage?');
    }
    const good = { path: 'x.recut.yaml', text: 'glue: 0.1\nsetup-shift: 0.2\n' };
    expect(readSeen(good, { glue: '0.3 mm' }, job).glue).toBe(0.3);
  });
});

describe('the files', () => {
  it('are a pair and a job that pass, written once and never over others', async () => {
    const folder = join(mkdtempSync(join(tmpdir(), 'recut-')), 'second');
    const flags = { format: 'json', output: folder } as const;
    const seen = 'samples/kingfisher/kingfisher.recut.yaml';
    expect(await recutJob(JOB, seen, flags)).toBe(0);
    expect(readdirSync(folder).sort()).toEqual([
      'kingfisher-recut-plan.svg',
      'kingfisher-recut-plug.svg',
      'kingfisher-recut.dryfit.yaml',
      'kingfisher-recut.svg',
    ]);
    const { checked } = await runJobFile(join(folder, 'kingfisher-recut.dryfit.yaml'));
    expect(checked.answer).toBe('pass');
    await expect(recutJob(JOB, seen, flags)).rejects.toThrow(/not overwritten/);
  });

  it('are all there or none', () => {
    const folder = mkdtempSync(join(tmpdir(), 'recut-'));
    const [first, second] = [join(folder, 'a.svg'), join(folder, 'none', 'b.svg')];
    const files = [first, second].map((path) => ({ path, text: 'x' }));
    expect(() => writeAll(files, false)).toThrow();
    expect(existsSync(first)).toBe(false);
    writeFileSync(first, 'mine');
    expect(() => writeAll(files.slice(0, 1), false)).toThrow(/not overwritten/);
    expect(readdirSync(folder)).toEqual(['a.svg']);
  });
});
