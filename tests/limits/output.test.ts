/** Output that cannot be had as asked: one clear message, status 3, and nothing half-written. */
import { execFileSync, spawn } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  copyFileSync,
  linkSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { BIN, called, contentOf, dryfit, FALLEN, newFolder, putDrawings, putJob } from './shop.ts';

// Many starts of the program: on a busy machine they take long, and time is nothing that is tested here.
vi.setConfig({ testTimeout: 1_200_000, hookTimeout: 240_000 });

const { folder, gone } = newFolder('output');
afterAll(gone);
beforeAll(() => {
  putDrawings(folder);
  for (const kind of ['pass', 'fail'] as const) putJob(folder, kind, kind);
});

const ROOTED = process.getuid?.() === 0;
const NOBODY = 65_534;
/** Root may write anywhere, so what is about rights is asked as another account. */
const asNobody = ROOTED ? { uid: NOBODY, gid: NOBODY } : {};

/** Everything that writes a file, into this folder. */
const WRITERS: readonly (readonly [string, (out: string) => string[]])[] = [
  [
    'check',
    (out) => [
      'check',
      'pass.dryfit.yaml',
      '--only',
      'pair.mirror',
      '--format',
      'json',
      '--output',
      join(out, 'r.json'),
    ],
  ],
  ['sheet', (out) => ['sheet', 'pass.dryfit.yaml', '--format', 'html', '--output', join(out, 's.html')]],
  ['lesson', (out) => ['lesson', '1', '--html', join(out, 'l.html')]],
  ['begin', (out) => ['begin', 'pocket.svg', 'plug.svg', '--output', join(out, 'b.dryfit.yaml')]],
  ['recut', (out) => [...RECUT, '--output', join(out, 'new')]],
  ['recut, its plan', (out) => [...RECUT, '--plan', join(out, 'p.svg')]],
];
const RECUT = ['recut', 'pass.dryfit.yaml', '--gap', '0.3', '--glue', '0', '--setup-shift', '0.1'];

function refused({ status, err }: ReturnType<typeof dryfit>, ...words: (string | RegExp)[]): void {
  expect(err).not.toMatch(FALLEN);
  for (const word of words) expect(err).toMatch(word);
  expect(status).toBe(3);
}

describe('a disk that takes only the beginning of a file', () => {
  // The limit of the shell on a file's size stands in for a full disk: the first bytes go in, the rest is refused.
  const little = (words: readonly string[], cwd = folder) =>
    called('sh', ['-c', 'ulimit -f 1; exec "$@"', 'sh', process.execPath, BIN, ...words], { cwd });

  it.each(WRITERS)('leaves nothing of what %s writes', (_, words) => {
    mkdirSync(join(folder, 'small'), { recursive: true });
    refused(little(words('small')), 'could not be written: it is larger than this account may write');
    expect(Object.keys(contentOf(join(folder, 'small')))).toEqual([]);
  });

  it('leaves an older report as it was', () => {
    writeFileSync(join(folder, 'old.json'), 'older');
    refused(little(['check', 'pass.dryfit.yaml', '--format', 'json', '--output', 'old.json']), 'larger');
    expect(readFileSync(join(folder, 'old.json'), 'utf8')).toBe('older');
  });
});

describe('a folder that cannot be written', () => {
  beforeAll(() => {
    mkdirSync(join(folder, 'shut'));
    chmodSync(folder, 0o755);
    chmodSync(join(folder, 'shut'), 0o555);
  });

  it.each(WRITERS)('gets nothing of what %s writes', (_, words) => {
    refused(dryfit(folder, words('shut'), asNobody), /could not be (written|made): it may not be/);
    expect(readdirSync(join(folder, 'shut'))).toEqual([]);
  });

  it('is told apart from one that is not there', () => {
    const answer = dryfit(folder, ['check', 'pass.dryfit.yaml', '--output', 'nowhere/r.txt']);
    refused(answer, 'nowhere/r.txt', 'there is no such folder');
    refused(dryfit(folder, ['check', 'pass.dryfit.yaml', '--output', 'shut']), 'this is a folder');
  });
});

describe('a file that is there', () => {
  const check = (...more: string[]) => [
    'check',
    'pass.dryfit.yaml',
    '--format',
    'junit',
    '--output',
    ...more,
  ];

  it('is replaced whole and stays as private as it was', () => {
    const path = join(folder, 'private.xml');
    writeFileSync(path, 'x'.repeat(1_000_000), { mode: 0o600 });
    expect(dryfit(folder, check('private.xml')).status).toBe(0);
    expect(readFileSync(path, 'utf8')).toMatch(/^<\?xml[\s\S]*<\/testsuites>\n$/);
    expect(statSync(path).mode & 0o777).toBe(0o600);
  });

  it('is replaced behind a link, and the link stays one', () => {
    writeFileSync(join(folder, 'far.xml'), 'older');
    symlinkSync('far.xml', join(folder, 'link.xml'));
    expect(dryfit(folder, check('link.xml')).status).toBe(0);
    expect(lstatSync(join(folder, 'link.xml')).isSymbolicLink()).toBe(true);
    expect(readFileSync(join(folder, 'far.xml'), 'utf8')).toContain('<testsuites');
  });

  it('is left alone when it is protected', () => {
    const own = join(folder, 'own');
    mkdirSync(own);
    writeFileSync(join(own, 'kept.xml'), 'older', { mode: 0o444 });
    if (ROOTED) chownSync(own, NOBODY, NOBODY);
    refused(dryfit(folder, check('own/kept.xml'), asNobody), 'own/kept.xml', 'it may not be read or written');
    expect(contentOf(own)).toEqual({ [join(own, 'kept.xml')]: 'older' });
  });

  it('is never put over a drawing or a job, by whatever name', () => {
    const kept = join(folder, 'kept');
    mkdirSync(kept);
    putDrawings(kept);
    putJob(kept, 'pass', 'pass');
    copyFileSync(join(kept, 'pass.dryfit.yaml'), join(kept, 'tray.job'));
    writeFileSync(join(kept, 'bad.dryfit.yaml'), 'x: [');
    writeFileSync(join(kept, 'other.SVG'), 'someone else drew this');
    symlinkSync('plug.svg', join(kept, 'link.html'));
    linkSync(join(kept, 'pocket.svg'), join(kept, 'twin.html'));
    const before = contentOf(kept);
    const quick = ['check', 'pass.dryfit.yaml', '--only', 'pair.mirror', '--output'];
    for (const words of [
      [...quick, 'pass.dryfit.yaml'],
      [...quick, 'pocket.svg'],
      [...quick, './../kept/plug.svg'],
      [...quick, 'link.html'],
      [...quick, 'twin.html'],
      [...quick, 'other.SVG'],
      ['check', 'bad.dryfit.yaml', '--output', 'pocket.svg'],
      ['check', 'tray.job', '--only', 'pair.mirror', '--output', 'tray.job'],
      ['check', 'pass.dryfit.yaml', 'pass.dryfit.yaml', '--only', 'pair.mirror', '--output', 'plug.svg'],
      ['sheet', 'pass.dryfit.yaml', '--output', 'pass.dryfit.yaml'],
      ['lesson', '1', '--html', 'pocket.svg'],
      [...RECUT, '--plan', 'pocket.svg', '--overwrite'],
    ]) {
      refused(dryfit(kept, words), 'would be lost');
      expect(contentOf(kept), words.join(' ')).toEqual(before);
    }
    refused(dryfit(kept, [...quick, '']), 'has no name');
    expect(contentOf(kept)).toEqual(before);
  });

  it('is told why it cannot be had, when no file can have its name', () => {
    writeFileSync(join(folder, 'flat'), 'a file');
    symlinkSync('round', join(folder, 'about'));
    symlinkSync('about', join(folder, 'round'));
    for (const [name, why] of [
      ['flat/x', 'a part of the path is a file'],
      ['round', 'the path goes round in links'],
      ['n'.repeat(300), 'the name is too long'],
    ] as const)
      for (const words of [
        check(name),
        ['sheet', 'pass.dryfit.yaml', '--output', name],
        ['lesson', '1', '--html', name],
        [...RECUT, '--plan', name],
        [...RECUT, '--plan', name, '--overwrite'],
      ])
        refused(dryfit(folder, words), `could not be written: ${why}`);
  });

  it('may be a pipe that nobody reads: a signal ends the wait', async () => {
    const pipe = join(folder, 'unread');
    execFileSync('mkfifo', [pipe]);
    const words = ['check', 'pass.dryfit.yaml', '--only', 'depth.glue', '--output', 'unread'];
    const writer = spawn(process.execPath, [BIN, ...words], { cwd: folder, stdio: 'ignore' });
    const ended = new Promise((done) => writer.once('exit', (_, signal) => done(signal)));
    // Long after it has come to the pipe, on any machine: sooner it would end as well, and the test still hold.
    await new Promise((done) => setTimeout(done, 8000));
    writer.kill('SIGTERM');
    const late = setTimeout(() => writer.kill('SIGKILL'), 10_000);
    expect(await ended).toBe('SIGTERM');
    clearTimeout(late);
  });

  it('is never exchanged when it is no plain file', async () => {
    const pipe = join(folder, 'pipe');
    execFileSync('mkfifo', [pipe]);
    const reader = spawn('cat', [pipe], { stdio: ['ignore', 'pipe', 'ignore'] });
    let heard = '';
    reader.stdout.on('data', (bytes) => {
      heard += bytes;
    });
    const closed = new Promise((done) => reader.once('close', done));
    const writer = spawn(process.execPath, [BIN, ...check('pipe')], { cwd: folder, stdio: 'ignore' });
    const status = await new Promise((done) => writer.once('exit', done));
    await closed;
    expect(status).toBe(0);
    expect(heard).toMatch(/^<\?xml[\s\S]*<\/testsuites>\n$/);
    expect(statSync(pipe).isFIFO()).toBe(true);
    refused(dryfit(folder, [...RECUT, '--plan', 'pipe', '--overwrite']), 'not a plain file');
    expect(statSync(pipe).isFIFO()).toBe(true);
  });
});

describe('standard output', () => {
  // What is asked does not matter here, so little is.
  const SOME = ['--only', 'pair.mirror'];
  const SHOWN = [
    ['check', 'fail.dryfit.yaml', ...SOME],
    ['check', 'pass.dryfit.yaml', 'fail.dryfit.yaml', '--format', 'json', ...SOME],
    ['check', 'pass.dryfit.yaml', '--format', 'html', ...SOME],
    ['sheet', 'pass.dryfit.yaml'],
    RECUT,
    ['lesson'],
    ['explain', 'depth.glue'],
    ['woods'],
  ];

  it.each(SHOWN.map((words) => [words.join(' '), words] as const))('full: %s says so', (_, words) => {
    const full = openSync('/dev/full', 'w');
    refused(
      dryfit(folder, words, { stdio: ['ignore', full, 'pipe'] }),
      'could not be written: the disk is full',
    );
  });

  it('full, and standard error too: still the status of a fault', () => {
    const full = openSync('/dev/full', 'w');
    expect(dryfit(folder, ['woods'], { stdio: ['ignore', full, full] }).status).toBe(3);
  });

  /** The statuses are those of a reader that listens to the end. */
  const STATUSES = [1, 1, 0, 0, 0, 0, 0, 0];
  it.each(SHOWN.map((words, i) => [words.join(' '), words, STATUSES[i]!] as const))(
    'closed early: %s keeps its status',
    (_, words, status) => {
      const shell = ['-c', 'set -o pipefail; "$@" | true', 'bash', process.execPath, BIN, ...words];
      const answer = called('bash', shell, { cwd: folder });
      expect([answer.err, answer.status]).toEqual(['', status]);
    },
  );

  it('closed early with the faults: no stack, and the status of a fault', () => {
    const line = 'set -o pipefail; "$@" 2>&1 | true';
    const words = ['-c', line, 'bash', process.execPath, BIN, 'check', 'nowhere.dryfit.yaml'];
    expect(called('bash', words, { cwd: folder }).status).toBe(3);
  });
});
