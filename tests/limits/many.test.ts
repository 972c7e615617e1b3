/** A whole folder of jobs in one call: none is lost, and a broken one stops no other. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it, vi } from 'vitest';
import { dryfit, FALLEN, type Kind, newFolder, putDrawings, putJob } from './shop.ts';

vi.setConfig({ testTimeout: 3_600_000 });

/** `DRYFIT_FULL_LOAD=1` checks the 500 jobs of a large shop's folder. */
const COUNT = process.env['DRYFIT_FULL_LOAD'] ? 500 : 25;
/** Most jobs of a folder are good ones. */
const KINDS: readonly Kind[] = [
  'pass',
  'pass',
  'pass',
  'care',
  'fail',
  'unknown',
  'pass',
  'pass',
  'care',
  'pass',
];
const ROW: Readonly<Record<Kind, string>> = {
  pass: 'PASS',
  care: 'PASS WITH CARE',
  fail: 'FAIL',
  unknown: 'CANNOT TELL',
  broken: 'NOT READ',
};

const { folder, gone } = newFolder('many');
afterAll(gone);

it(`${COUNT} jobs, one of them broken, have a row each that is right`, () => {
  putDrawings(folder);
  const kinds = Array.from(
    { length: COUNT },
    (_, i): Kind => (i === 13 ? 'broken' : KINDS[i % KINDS.length]!),
  );
  const files = kinds.map((kind, i) => putJob(folder, String(i).padStart(3, '0'), kind));
  const probe = join(folder, 'probe.cjs');
  writeFileSync(
    probe,
    `if (require('node:worker_threads').isMainThread)
       process.on('exit', () => {
         const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
         process.stderr.write(JSON.stringify({ mb: maxRSS / 1024, seconds: (userCPUTime + systemCPUTime) / 1e6 }));
       });`,
  );
  const from = performance.now();
  const { status, out, err } = dryfit(folder, ['check', ...files], {
    env: { ...process.env, NODE_OPTIONS: `--require ${probe}` },
    maxBuffer: 1e9,
    timeout: 3_600_000,
  });
  const wall = (performance.now() - from) / 1000;
  const used = JSON.parse(/\{"mb".*\}$/.exec(err)?.[0] ?? '{}') as { mb: number; seconds: number };
  console.log(
    `many jobs: ${COUNT} in ${wall.toFixed(1)} s, ${used.seconds.toFixed(1)} s of processor time, at most ${Math.round(used.mb)} MB`,
  );
  expect(err).not.toMatch(FALLEN);
  expect(err).toContain('013.dryfit.yaml, line');
  const rows = out.split('\n').slice(0, COUNT);
  expect(rows).toEqual(
    kinds.map((kind, i) => {
      const title =
        kind === 'broken' ? '-'.padEnd('Tea tray 000'.length) : `Tea tray ${files[i]!.slice(0, 3)}`;
      return `${ROW[kind].padEnd(14)}  ${title}  ${files[i]}`;
    }),
  );
  // Of those that do not pass there is a sheet each.
  const sheets = out.match(/^DRY FIT {2}/gm)?.length;
  expect(sheets).toBe(kinds.filter((kind) => kind !== 'pass' && kind !== 'broken').length);
  expect(status).toBe(3);
});
