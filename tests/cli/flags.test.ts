/** Two drawings without a job file, through the real command line: the same answer as the job file that says the same. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { LEAF, mirrored, svg } from '../pairs.ts';

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'dryfit-flags-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

writeFileSync(join(folder, 'pocket.svg'), svg(LEAF));
writeFileSync(join(folder, 'plug.svg'), svg(mirrored(LEAF)));
writeFileSync(
  join(folder, 'same.dryfit.yaml'),
  `title: pocket.svg and plug.svg
units: mm
pocket: { outline: pocket.svg, start-depth: 0, flat-depth: 7.6, stock: { thickness: 19 } }
plug: { outline: plug.svg, start-depth: 5, flat-depth: 2.6, stock: { thickness: 18 } }
bit: { angle: 30, tip-flat: 0.1, cutting-length: 20, cutting-diameter: 12.7 }
`,
);

const DRAWINGS = ['--pocket', 'pocket.svg', '--plug', 'plug.svg'];
const DEPTHS = ['--pocket-depth', '0+7.6', '--plug-depth', '5+2.6'];
const BIT = ['--angle', '30', '--tip-flat', '0.1', '--cutting-length', '20', '--cutting-diameter', '12.7'];
const STOCK = ['--pocket-thickness', '19', '--plug-thickness', '18'];

function check(...words: string[]) {
  const run = spawnSync(process.execPath, [join(root, 'bin/dryfit.js'), 'check', ...words], {
    cwd: folder,
    encoding: 'utf8',
    timeout: 60_000,
    env: { ...process.env, NO_COLOR: '1' },
  });
  return { status: run.status, out: run.stdout, err: run.stderr };
}

interface Record {
  readonly job: string;
  readonly answer: string;
  readonly checks: readonly { readonly id: string; readonly outcome: string }[];
}

/** The report as data, but for where a value stands: a flag has no line. */
function recordOf(...words: string[]): Record {
  return JSON.parse(check(...words, '--format', 'json').out, (key, value) =>
    ['file', 'line', 'column', 'element'].includes(key) ? undefined : value,
  );
}

describe('a check by flags', () => {
  it('answers as the job file with the same values', () => {
    const asked = [...DRAWINGS, ...DEPTHS, ...BIT, ...STOCK];
    const [byFile, byFlags] = [check('same.dryfit.yaml'), check(...asked)];
    expect(byFlags.err).toBe('');
    expect(byFlags.out).toBe(byFile.out.replace('same.dryfit.yaml', 'command line'));
    expect(byFlags.status).toBe(byFile.status);
    expect(recordOf(...asked)).toEqual({ ...recordOf('same.dryfit.yaml'), job: 'command line' });
  });

  it('has nothing against a good pair, fails a plug that is a copy, and cannot tell without the board', () => {
    // Without woods there is no PASS: what hangs on them is not seen.
    expect(recordOf(...DRAWINGS, ...DEPTHS, ...BIT, ...STOCK).answer).toBe('care');
    const copy = ['--pocket', 'pocket.svg', '--plug', 'pocket.svg'];
    expect(recordOf(...copy, ...DEPTHS, ...BIT, ...STOCK).answer).toBe('fail');
    expect(recordOf(...DRAWINGS, ...DEPTHS, ...BIT).answer).toBe('unknown');
  });

  it('takes one drawing when the toolpath mirrors, with care', () => {
    const words = ['--pocket', 'pocket.svg', '--mirror', 'toolpath', ...DEPTHS, ...BIT, ...STOCK];
    const record = recordOf(...words);
    expect(record.answer).toBe('care');
    expect(record.checks.find(({ id }) => id === 'pair.mirror')?.outcome).toBe('close');
  });

  it.each([
    ['nothing at all', [], /name a job file.*--pocket/s],
    ['a job file and flags', ['same.dryfit.yaml', '--angle', '30'], /not both/],
    ['no depths and no angle', DRAWINGS, /--pocket-depth.*--plug-depth.*--angle/s],
    ['no plug', ['--pocket', 'pocket.svg', ...DEPTHS, ...BIT], /--plug:/],
    [
      'depths with a comma',
      [...DRAWINGS, '--pocket-depth', '0,7.6', '--plug-depth', '5+2.6', ...BIT],
      /plus/,
    ],
    [
      'a drawing that is not there',
      ['--pocket', 'gone.svg', '--plug', 'plug.svg', ...DEPTHS, ...BIT],
      /gone/,
    ],
  ])('refuses %s', (_, words, sentence) => {
    const answer = check(...words);
    expect(answer.err).toMatch(sentence);
    expect(answer.err).not.toMatch(/\n\s+at |Error:|node:internal/);
    expect(answer.out).toBe('');
    expect(answer.status).toBe(3);
  });
});
