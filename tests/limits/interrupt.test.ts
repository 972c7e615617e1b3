/** A signal in the middle: the program ends at once, and what it writes is whole or not there. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { contentOf, dryfit, interrupted, newFolder, putDrawings, putJob } from './shop.ts';

// Many starts of the program: on a busy machine they take long, and time is nothing that is tested here.
vi.setConfig({ testTimeout: 1_200_000, hookTimeout: 240_000 });

const { folder, gone } = newFolder('interrupt');
afterAll(gone);
let job: string;
beforeAll(() => {
  putDrawings(folder);
  job = putJob(folder, 'care', 'care');
});

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

describe('a signal while jobs are checked', () => {
  // A shell tells 130, 143 and 129 of these.
  it.each(SIGNALS)('%s ends it as a signal does, with nothing written', async (signal) => {
    const before = contentOf(folder);
    const words = ['check', ...Array.from({ length: 60 }, () => job), '--output', 'report.txt'];
    for (const afterMs of [150, 900]) {
      const { ended, ms } = await interrupted(folder, words, signal, afterMs);
      console.log(`interrupt: ${signal} after ${afterMs} ms, ended within ${Math.round(ms)} ms`);
      expect(ended).toEqual([null, signal]);
      expect(contentOf(folder)).toEqual(before);
    }
  });
});

describe('a signal while a file is written', () => {
  /** Sends the signal when the text is on its way to the disk and has not its name yet. */
  const probe = join(folder, 'probe.cjs');
  beforeAll(() =>
    writeFileSync(
      probe,
      `const fs = require('node:fs'); const sync = fs.fsyncSync;
       fs.fsyncSync = (file) => { sync(file); process.kill(process.pid, process.env.SEND); };`,
    ),
  );
  const WRITERS: readonly (readonly [string, readonly string[], readonly string[]])[] = [
    ['check', ['check', '--format', 'json', '--output', 'r.json'], ['r.json']],
    ['sheet', ['sheet', '--output', 's.txt'], ['s.txt']],
    ['recut', ['recut', '--gap', '0.3', '--glue', '0', '--setup-shift', '0.1', '--plan', 'p.svg'], ['p.svg']],
  ];

  it.each(WRITERS)('%s: what is written is there whole, and nothing beside it', (_, words, made) => {
    const before = contentOf(folder);
    const call = (again: boolean, env: NodeJS.ProcessEnv = process.env) => {
      const [command, ...rest] = words;
      const overwrite = again && command === 'recut' ? ['--overwrite'] : [];
      return dryfit(folder, [command!, job, ...rest, ...overwrite], { env });
    };
    const whole = call(false);
    expect(whole.signal).toBe(null);
    const texts = made.map((name) => readFileSync(join(folder, name), 'utf8'));
    for (const signal of ['SIGINT', 'SIGTERM']) {
      for (const name of made) writeFileSync(join(folder, name), 'older');
      const { status, signal: by } = call(true, {
        ...process.env,
        NODE_OPTIONS: `--require ${probe}`,
        SEND: signal,
      });
      // Heard after the writing, or too late to be heard at all: then the work was done.
      expect([`null ${signal}`, `${whole.status} null`]).toContain(`${status} ${by}`);
      expect(made.map((name) => readFileSync(join(folder, name), 'utf8'))).toEqual(texts);
    }
    const beside = Object.keys(contentOf(folder)).filter((path) => !(path in before));
    expect(beside).toEqual(made.map((name) => join(folder, name)));
  });
});
