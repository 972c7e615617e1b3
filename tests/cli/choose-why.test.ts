/** The choice and the test fit through the real command line: what is written, what is refused, how it ends. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { goodJob, LEAF, mirrored, svg } from '../pairs.ts';

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'dryfit-choose-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const put = (name: string, text: string): string => {
  writeFileSync(join(folder, name), text);
  return name;
};
put('pocket.svg', svg(LEAF));
put('plug.svg', svg(mirrored(LEAF)));
const JOB = put('leaf.dryfit.yaml', JSON.stringify(goodJob(), null, 2));
const BITS = put(
  'mine.bits.yaml',
  'units: mm\nbits:\n  - { angle: 30 deg, tip-flat: 0.1, cutting-length: 20, cutting-diameter: 12.7 }\n',
);

function dryfit(...words: string[]) {
  const run = spawnSync(process.execPath, [join(root, 'bin/dryfit.js'), ...words], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1' },
  });
  expect(run.stderr).not.toMatch(/\n\s+at |node:internal/);
  return { status: run.status, out: run.stdout, err: run.stderr };
}

function refused(words: readonly string[], ...told: readonly string[]): void {
  const { status, out, err } = dryfit(...words);
  expect([status, out]).toEqual([3, '']);
  for (const word of told) expect(err).toContain(word);
}

describe('dryfit choose', () => {
  it('writes the choice beside the old job, where it passes the check, and never twice', () => {
    const chosen = dryfit('choose', JOB, '--bits', BITS, '--write');
    expect(chosen.status).toBe(0);
    expect(chosen.out).toContain('CHOOSE');
    const [, path = ''] = /Written, read again and checked: (.+)/.exec(chosen.err) ?? [];
    expect(dryfit('check', path).status).toBe(0);
    const before = readFileSync(join(folder, path), 'utf8');
    refused(['choose', JOB, '--bits', BITS, '--write'], path);
    expect(readFileSync(join(folder, path), 'utf8')).toBe(before);
  });

  it('gives the same as data', () => {
    const { status, out } = dryfit('choose', JOB, '--bits', BITS, '--format', 'json');
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ answer: expect.any(String), bits: [expect.anything()] });
  });

  it('tells all that is wrong with a list of bits, with line and column', () => {
    const list = put('wrong.bits.yaml', 'bits:\n  - { angle: 30 deg, tip-flt: 0.1 }\n  - { angle: -3 }\n');
    refused(
      ['choose', JOB, '--bits', list],
      'line 1, column 1',
      '"units" is missing',
      'did you mean tip-flat?',
      'line 3, column 14',
      '-3 is below zero',
    );
    refused(['choose', JOB, '--bits', 'none.yaml'], 'There is no such file');
    refused(['choose', 'none.dryfit.yaml'], 'There is no such file');
    refused(['choose', JOB, '--format', 'xml'], 'text, json');
  });
});

describe('dryfit why', () => {
  const SEEN = put('seen.yaml', 'units: mm\npressed: hand\nproud: [{ at: middle, by: 0.3 }]\n');

  it('weighs what was seen, in words and as data, and keeps it where asked', () => {
    const told = dryfit('why', JOB, SEEN, '--keep', 'kept.yaml');
    expect([told.status, existsSync(join(folder, 'kept.yaml'))]).toEqual([0, true]);
    expect(told.out).toContain('SEVERAL CAUSES FIT');
    expect(JSON.parse(dryfit('why', JOB, 'kept.yaml', '--format', 'json').out)).toMatchObject({
      answer: 'several',
    });
    refused(['why', JOB, SEEN, '--keep', 'kept.yaml'], 'kept.yaml');
  });

  it('tells all that is wrong with what was seen, and how to say it when nothing was', () => {
    const wrong = put('wrong.yaml', 'proud: [{ at: left, by: 0.2 inchs }]\ngapp: 3\n');
    refused(
      ['why', JOB, wrong],
      'line 1, column 25',
      'not a unit of length',
      'did you mean gap?',
      '"units" is missing',
    );
    refused(['why', JOB, 'none.yaml'], 'There is no such file');
    refused(['why', JOB, '.'], 'This is a folder');
    refused(['why', JOB], 'Write it in a file');
  });
});
