/** What a hurried maker gets wrong, through the real command line: one clear message, exit status 3, nothing on standard output. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { goodJob, LEAF, mirrored, svg, withValues } from '../pairs.ts';

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'dryfit-bad-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

writeFileSync(join(folder, 'pocket.svg'), svg(LEAF));
writeFileSync(join(folder, 'plug.svg'), svg(mirrored(LEAF)));

interface Answered {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

function dryfit(...words: string[]): Answered {
  const run = spawnSync(process.execPath, [join(root, 'bin/dryfit.js'), ...words], {
    cwd: folder,
    encoding: 'utf8',
    timeout: 60_000,
    env: { ...process.env, NO_COLOR: '1' },
  });
  return { status: run.status, out: run.stdout, err: run.stderr };
}

function jobWith(name: string, values: Record<string, unknown>): string {
  writeFileSync(join(folder, `${name}.dryfit.yaml`), JSON.stringify(withValues(goodJob(), values), null, 2));
  return `${name}.dryfit.yaml`;
}

function refused(answer: Answered, ...words: (string | RegExp)[]): void {
  expect(answer.err).not.toMatch(/\n\s+at |Error:|node:internal/);
  for (const word of words) expect(answer.err).toMatch(word);
  expect(answer.out).toBe('');
  expect(answer.status).toBe(3);
}

describe('drawings with a clip path', () => {
  // The tests of the reader run where the polygon engine is loaded already; here it is as a maker starts it.
  it('are read by every command that reads drawings', () => {
    const clip = '<clipPath id="page"><rect width="100" height="100"/></clipPath>';
    const put = (name: string, inner: string): void =>
      writeFileSync(join(folder, name), svg(`${clip}<g clip-path="url(#page)">${inner}</g>`));
    put('clipped.svg', LEAF);
    put('clipped-plug.svg', mirrored(LEAF));
    const job = jobWith('clipped', { 'pocket.outline': 'clipped.svg', 'plug.outline': 'clipped-plug.svg' });
    writeFileSync(join(folder, 'clipped.seen.yaml'), 'proud: 0.4\n');
    for (const words of [
      ['check', job],
      ['sheet', job],
      ['begin', 'clipped.svg', 'clipped-plug.svg', '-o', 'begun.dryfit.yaml'],
      ['recut', job, '--glue', '0'],
      ['why', job, 'clipped.seen.yaml'],
    ])
      expect(dryfit(...words).err, words[0]).not.toMatch(/went wrong|polygon engine/);
    expect(dryfit('check', job).status).toBe(0);
  });
});

describe('job files', () => {
  it('is refused when missing, a folder, empty, binary, or in another encoding', () => {
    refused(dryfit('check', 'nowhere.dryfit.yaml'), 'nowhere.dryfit.yaml', 'no such file');
    refused(dryfit('check', '.'), 'folder');
    writeFileSync(join(folder, 'empty.dryfit.yaml'), '');
    refused(dryfit('check', 'empty.dryfit.yaml'), 'empty');
    writeFileSync(join(folder, 'binary.dryfit.yaml'), Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a]));
    refused(dryfit('check', 'binary.dryfit.yaml'), 'not UTF-8');
  });

  it('tells a mistyped key with line, column and the nearest key', () => {
    writeFileSync(
      join(folder, 'typo.dryfit.yaml'),
      [
        'title: Typo',
        'units: mm',
        'pocket: { outline: pocket.svg, flat-dept: 7.6 }',
        'plug: { outline: plug.svg, start-depth: 5 mn, flat-depth: -2 }',
        'bit: { angle: 30, tip-flat: 0.1, tip-radius: 1 }',
      ].join('\n'),
    );
    const answer = dryfit('check', 'typo.dryfit.yaml');
    refused(answer, 'line 3', 'did you mean flat-depth', 'line 4', '"5 mn"', 'below zero', 'line 5');
  });

  it.each([
    ['zero depth', { 'pocket.flat-depth': 0 }, 'zero'],
    ['a negative depth', { 'plug.start-depth': -1 }, 'below zero'],
    ['an absurd depth', { 'pocket.flat-depth': '20 m' }, '10 m'],
    ['not a number', { 'pocket.flat-depth': 'deep' }, 'deep'],
    ['a decimal comma', { 'pocket.flat-depth': '7,6 mm' }, 'comma'],
    ['a wrong unit', { 'pocket.flat-depth': '7.6 pt' }, 'pt'],
    ['an angle that is none', { 'bit.angle': 180 }, /170|angle/],
    ['two tips at once', { 'bit.tip-radius': 0.5 }, 'tip'],
    ['an unknown limit', { 'limits.glue-gap-leest': 1 }, 'glue-gap-least'],
    ['an unknown wood', { 'pocket.stock.wood': 'chery-black' }, 'cherry'],
  ])('refuses %s', (name, values, word) => {
    refused(dryfit('check', jobWith(name.replaceAll(' ', '-'), values)), word);
  });
});

describe('drawings', () => {
  const withDrawing = (name: string, bytes: string | Uint8Array | undefined) => {
    if (bytes !== undefined) writeFileSync(join(folder, `${name}.svg`), bytes);
    return dryfit('check', jobWith(name, { 'pocket.outline': `${name}.svg` }));
  };

  it('is refused when missing, a folder, empty, broken, binary or in another encoding', () => {
    refused(withDrawing('gone', undefined), 'gone.svg', 'no such file');
    mkdirSync(join(folder, 'folder.svg'));
    refused(withDrawing('folder', undefined), 'folder');
    refused(withDrawing('empty', ''), 'empty');
    refused(withDrawing('torn', svg(LEAF).replace('</svg>', '')), 'torn.svg', /line \d+, column \d+/);
    refused(withDrawing('binary', Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0])), 'binary.svg');
    refused(withDrawing('latin', Buffer.from(svg('<path id="\u00e9" d="M0 0h9v9z"/>'), 'latin1')), 'utf-8');
    refused(withDrawing('html', '<html><body/></html>'), 'html');
  });

  it('is refused when the element asked for is not there, with near ones named', () => {
    refused(dryfit('check', jobWith('lost', { 'pocket.outline': 'pocket.svg#leef' })), 'leef', 'leaf');
  });

  it('is refused without outlines, or of lines only, with what it holds instead', () => {
    for (const inner of [
      '<g/>',
      '<path d="M10 10 L50 50" fill="none" stroke="black"/>',
      '<line x1="0" y1="0" x2="9" y2="9" stroke="black"/>',
      '<text x="9" y="9">fern</text>',
    ])
      refused(withDrawing('bare', svg(inner)), 'bare.svg', /outline/);
  });
});

describe('calls', () => {
  it('is refused when wrong, in words', () => {
    refused(dryfit('check'), 'job');
    refused(dryfit('chek', 'x'), 'chek');
    refused(dryfit('check', jobWith('good', {}), '--format', 'xml'), 'xml');
    refused(dryfit('check', 'good.dryfit.yaml', '--only', 'depth.glu'), 'depth.glu');
    refused(dryfit('check', 'good.dryfit.yaml', '--colour'), '--colour');
    refused(dryfit('explain', 'depth.glu'), 'depth.glu');
  });

  it('leaves nothing half-written when the report has no place to go', () => {
    const before = readdirSync(folder).sort();
    refused(
      dryfit('check', 'good.dryfit.yaml', '--output', 'no/such/folder/report.txt'),
      'could not be written',
    );
    refused(dryfit('check', 'good.dryfit.yaml', '--output', 'folder.svg'), 'could not be written');
    expect(readdirSync(folder).sort()).toEqual(before);
  });

  it('goes on with the other jobs when one cannot be read, and the worst counts', () => {
    const answer = dryfit('check', 'nowhere.dryfit.yaml', 'good.dryfit.yaml', '--format', 'json');
    expect(answer.status).toBe(3);
    expect(answer.err).toContain('nowhere.dryfit.yaml');
    const records = JSON.parse(answer.out) as { answer: string }[];
    expect(records.map((record) => record.answer)).toEqual([
      'unreadable',
      expect.stringMatching(/^(pass|care)$/),
    ]);
  });
});
