/** The same job has the same bytes for an answer: whenever, wherever and in whatever language it is asked. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { stringify } from 'yaml';
import { goodJob, LEAF, mirrored, svg, withValues } from '../pairs.ts';
import { called, dryfit, newFolder, putDrawings, putJob } from './shop.ts';

// Many starts of the program: on a busy machine they take long, and time is nothing that is tested here.
vi.setConfig({ testTimeout: 1_200_000, hookTimeout: 240_000 });

const { folder, gone } = newFolder('alike');
afterAll(gone);
const box = join(folder, 'box');
const away = join(folder, 'away');
beforeAll(() => {
  putDrawings(box);
  putDrawings(away);
  for (const kind of ['care', 'fail', 'broken'] as const) putJob(box, kind, kind);
});

/** What a shop elsewhere may have set. Turkish has its own small letter for I; Kiritimati is a day ahead. */
const PLACES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'no language, Newfoundland': { LC_ALL: 'C', LANG: 'C', TZ: 'America/St_Johns' },
  'German, Kathmandu': { LC_ALL: 'de_DE.UTF-8', LANG: 'de_DE.UTF-8', TZ: 'Asia/Kathmandu' },
  'Turkish, Kiritimati': { LC_ALL: 'tr_TR.UTF-8', LANG: 'tr_TR.UTF-8', TZ: 'Pacific/Kiritimati' },
};
const HOME = { LC_ALL: 'en_US.UTF-8', LANG: 'en_US.UTF-8', TZ: 'UTC' };

/** Every way of telling, with jobs of several answers, two of which go through other threads. */
const CALLS: readonly (readonly string[])[] = [
  ['check', 'care.dryfit.yaml', 'fail.dryfit.yaml', 'broken.dryfit.yaml'],
  ...['json', 'html', 'junit', 'sarif'].map((format) => ['check', 'fail.dryfit.yaml', '--format', format]),
  ['sheet', 'care.dryfit.yaml'],
  ['sheet', 'care.dryfit.yaml', '--format', 'html'],
  ['recut', 'care.dryfit.yaml', '--gap', '0.3', '--glue', '0.05', '--setup-shift', '0.1', '--format', 'json'],
];

const told = (words: readonly string[], cwd: string, env: Readonly<Record<string, string>>) =>
  dryfit(cwd, words, { env: { ...process.env, ...env } });

describe('the places', () => {
  it('differ for whoever asks for a language or the hour', () => {
    const script = 'console.log((1234.5).toLocaleString(), new Date(0).toString().slice(0, 33))';
    const seen = Object.values(PLACES).map(
      (env) => called(process.execPath, ['-e', script], { env: { ...process.env, ...env } }).out,
    );
    expect(new Set(seen).size).toBe(3);
    expect(seen[1]).toContain('1.234,5');
  });
});

describe('equal bytes', () => {
  it.each(CALLS.map((words) => [words.join(' '), words] as const))('%s', (_, words) => {
    const [first, ...others] = Object.values(PLACES).map((env) => told(words, box, env));
    expect(first!.out).not.toBe('');
    for (const other of others) expect(other).toEqual(first);
  });

  it.each(['sheet', 'html'])('from another folder, by the whole path: %s', (format) => {
    const words = ['check', join(box, 'fail.dryfit.yaml'), '--format', format];
    expect(told(words, away, HOME)).toEqual(told(words, box, HOME));
  });

  it('from another folder with only the path otherwise, where paths count from there: sarif, json', () => {
    for (const format of ['sarif', 'json']) {
      const near = told(['check', 'fail.dryfit.yaml', '--format', format], box, HOME);
      const far = told(['check', '../box/fail.dryfit.yaml', '--format', format], away, HOME);
      expect({ ...far, out: far.out.replaceAll('../box/', '') }).toEqual(near);
    }
  });
});

describe('line endings', () => {
  const CARE = { title: 'Tea tray', 'pocket.stock.grain-angle': 0, 'plug.start-depth': 7.2 };
  const DRAWN = LEAF.replace('C84', '\n  C84').replace('<path', '<!-- a leaf -->\n<path');
  const FILES = {
    'job.dryfit.yaml': `# A remark\n${stringify(withValues(goodJob(), CARE)).replace('title: Tea tray', 'title: >-\n  Tea\n  tray')}`,
    'pocket.svg': svg(DRAWN),
    'plug.svg': svg(`<style>\n.a { fill: red }\n</style>\n<text>Fern\nleaf</text>${mirrored(DRAWN)}`),
  };
  const WRONG = {
    'job.dryfit.yaml': FILES['job.dryfit.yaml'].replace('flat-depth: 7.6', 'flat-dept: 7.6'),
    'torn.dryfit.yaml': FILES['job.dryfit.yaml'].replace('pocket.svg', 'torn.svg'),
    'torn.svg': FILES['pocket.svg'].replace('</svg>', '<g></svg>'),
  };
  /** The files with these line ends; a folder of their own for each, under the same name. */
  const put = (name: string, end: string, files: Readonly<Record<string, string>>): string => {
    const at = join(folder, name);
    putDrawings(at);
    for (const [file, text] of Object.entries(files))
      writeFileSync(join(at, file), text.replaceAll('\n', end));
    return at;
  };
  const ENDS = { LF: '\n', CRLF: '\r\n' };

  it('change neither figures nor places', () => {
    const answers = Object.entries(ENDS).map(([name, end]) => {
      const at = put(name, end, FILES);
      return ['json', 'sheet'].map((format) =>
        told(['check', 'job.dryfit.yaml', '--format', format], at, HOME),
      );
    });
    expect(readFileSync(join(folder, 'CRLF', 'pocket.svg'), 'latin1')).toContain('\r\n');
    expect(answers[0]![1]!.out).toMatch(/Left out, plug: text[\s\S]*plug\.svg line 5/);
    expect(answers[0]![0]!.out).toContain('"line": ');
    expect(answers[1]).toEqual(answers[0]);
  });

  it('change nothing of what is told about a fault', () => {
    const answers = Object.entries(ENDS).map(([name, end]) => {
      const at = put(`${name}-wrong`, end, { ...FILES, ...WRONG });
      return ['job', 'torn'].map((job) => told(['check', `${job}.dryfit.yaml`], at, HOME));
    });
    for (const { status, err } of answers[0]!) {
      expect(status).toBe(3);
      expect(err).toMatch(/line \d+, column \d+/);
    }
    expect(answers[1]).toEqual(answers[0]);
  });
});
