/** Several jobs in one call, through the real command line. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { BENCH_FORMATS, FORMATS, formatFor } from '../../src/cli/exit.ts';
import { runJobs } from '../../src/cli/jobs.ts';
import { progressOf } from '../../src/cli/jobs-progress.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { jsonRecord } from '../../src/report/json.ts';
import { jobRows } from '../../src/report/rows.ts';
import { goodJob, LEAF, mirrored, svg, withValues } from '../pairs.ts';

// Many starts of the program: on a busy machine they take long, and time is nothing that is tested here.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'dryfit-jobs-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const BIN = join(root, 'bin/dryfit.js');
/** More jobs than hands, so that they change places; answers of every kind. */
const JOBS = ['a', 'b', 'c', 'd', 'nowhere'].map((name) => `${name}.dryfit.yaml`);

beforeAll(() => {
  writeFileSync(join(folder, 'pocket.svg'), svg(LEAF));
  writeFileSync(join(folder, 'plug.svg'), svg(mirrored(LEAF)));
  const put = (name: string, values: Record<string, unknown>): void =>
    writeFileSync(
      join(folder, `${name}.dryfit.yaml`),
      JSON.stringify(
        withValues(goodJob(), { title: `Box lid ${name}`, 'pocket.stock.grain-angle': 0, ...values }),
      ),
    );
  put('a', { 'plug.outline': 'pocket.svg' });
  put('b', {});
  put('c', { 'bit.tip-flat': undefined });
  put('d', { 'plug.start-depth': 7.2 });
});

function check(...words: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [BIN, 'check', ...words], {
    cwd: folder,
    encoding: 'utf8',
    timeout: 120_000,
  });
  return { status, stdout, stderr };
}

describe('several jobs', () => {
  it('get a line each in the order asked, then the sheets of those that do not pass', () => {
    const { status, stdout, stderr } = check(...JOBS);
    expect(stdout.split('\n').slice(0, 6)).toEqual([
      'FAIL            Box lid a  a.dryfit.yaml',
      'PASS            Box lid b  b.dryfit.yaml',
      'CANNOT TELL     Box lid c  c.dryfit.yaml',
      'PASS WITH CARE  Box lid d  d.dryfit.yaml',
      'NOT READ        -          nowhere.dryfit.yaml',
      '',
    ]);
    const sheets = [...stdout.matchAll(/^DRY FIT {2}(.*?) {2,}/gm)].map(([, title]) => title);
    expect(sheets).toEqual(['Box lid a', 'Box lid c', 'Box lid d']);
    expect(stderr).toContain('nowhere.dryfit.yaml');
    expect(stderr).not.toContain('jobs checked');
    expect(status).toBe(3);
  });

  it('give the bytes of one job after another, whoever is done first', async () => {
    const jobs = JOBS.slice(0, 4).map((job) => join(folder, job));
    // The sources have no bundle beside them, so here all jobs are run one after another in this very thread.
    const inTurn = await runJobs(jobs, { format: 'json', colour: false, width: 80 });
    const checked = inTurn.flatMap((outcome) => ('checked' in outcome ? [outcome.checked] : []));
    expect(checked.map(({ answer }) => answer)).toEqual(['fail', 'pass', 'unknown', 'care']);
    const { stdout } = check(...jobs, '--format', 'json');
    expect(stdout).toBe(`${JSON.stringify(checked.map(jsonRecord), null, 2)}\n`);
  });

  it('refuse a folder and an unknown check in words, for each job', () => {
    const answer = check('.', 'b.dryfit.yaml', '--only', 'depth.glu');
    expect(answer.stderr).toContain('This is a folder; a job file');
    expect(answer.stderr).toContain('There is no check "depth.glu"');
    expect(answer.status).toBe(3);
  });

  it('end at an interrupt with nothing half-written', async () => {
    const before = readdirSync(folder).sort();
    const words = [
      BIN,
      'check',
      ...Array.from({ length: 40 }, () => JOBS[0] as string),
      '--output',
      'report.txt',
    ];
    const child = spawn(process.execPath, words, { cwd: folder, stdio: 'ignore' });
    await new Promise((resolve) => setTimeout(resolve, 700));
    child.kill('SIGINT');
    const [code, signal] = await new Promise<[number | null, string | null]>((resolve) =>
      child.once('exit', (...how) => resolve(how)),
    );
    expect([code, signal]).toEqual([null, 'SIGINT']);
    expect(readdirSync(folder).sort()).toEqual(before);
  });

  it.each([
    ['check', 'report.HTM', /^<!doctype html>/i],
    ['check', 'report.sarif', /sarif-schema/],
    ['check', 'report.xml', /^<\?xml[^>]*>\s*<testsuites/],
    ['sheet', 'bench.html', /^<!doctype html>/i],
    ['sheet', 'bench.xml', /^BENCH SHEET/],
  ])('go to a file as its ending says: %s to %s', (command, name, starts) => {
    spawnSync(process.execPath, [BIN, command, 'b.dryfit.yaml', '-o', name], { cwd: folder });
    expect(readFileSync(join(folder, name), 'utf8')).toMatch(starts);
    rmSync(join(folder, name));
  });

  it('go there as was asked in words, whatever the ending, and as text where it says nothing', () => {
    expect(formatFor(FORMATS, 'json', 'report.html')).toBe('json');
    expect(formatFor(FORMATS, undefined, 'a/report.json')).toBe('json');
    for (const name of [undefined, 'report', 'report.txt', 'a.html/report', 'html', 'report.html.txt'])
      expect(formatFor(FORMATS, undefined, name)).toBe('sheet');
    expect(formatFor(BENCH_FORMATS, undefined, 'bench.sarif')).toBe('text');
  });

  it('are written to a file like any report', () => {
    const { stdout } = check('b.dryfit.yaml', 'b.dryfit.yaml', '--output', 'both.txt');
    expect(stdout).toBe('');
    expect(readFileSync(join(folder, 'both.txt'), 'utf8')).toBe(
      'PASS            Box lid b  b.dryfit.yaml\n'.repeat(2),
    );
  });
});

describe('the parts', () => {
  it('keeps rows in columns with wide letters, and drops what would steer a terminal', () => {
    const rows = jobRows(
      [
        { answer: 'pass', title: '箱 lid', path: 'a\u001b[2J.yaml' },
        { answer: 'unread', title: undefined, path: 'b.yaml' },
      ],
      PLAIN_INK,
    );
    expect(rows).toEqual(['PASS            箱 lid  a [2J.yaml', 'NOT READ        -       b.yaml']);
  });

  it('tells progress to a terminal only, when the work is long, and wipes it', () => {
    vi.useFakeTimers();
    const told = (isTTY: boolean, waitMs: number): string => {
      let text = '';
      const to = { isTTY, write: (chunk: string) => (text += chunk) } as unknown as NodeJS.WriteStream;
      const progress = progressOf(3, to);
      progress.done(1);
      vi.advanceTimersByTime(waitMs);
      progress.done(2);
      progress.end();
      return text;
    };
    expect(told(false, 5000)).toBe('');
    expect(told(true, 500)).toBe('');
    expect(told(true, 1500)).toBe(`\r1 of 3 jobs checked\r2 of 3 jobs checked\r${' '.repeat(19)}\r`);
    vi.useRealTimers();
  });
});
