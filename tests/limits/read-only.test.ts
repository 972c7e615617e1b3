/** Nothing is ever written beside the program, so it runs from a place that can only be read. */
import { chmodSync, cpSync, lstatSync, mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { called, FALLEN, newFolder, ROOT } from './shop.ts';

vi.setConfig({ testTimeout: 1_200_000, hookTimeout: 240_000 });

const { folder, gone } = newFolder('read-only');
afterAll(() => {
  rights(folder, 0o755);
  gone();
});
const home = join(folder, 'dryfit');
const NOBODY = 65_534;
const account = process.getuid?.() === 0 ? { uid: NOBODY, gid: NOBODY } : {};

function rights(path: string, mode: number): void {
  const isFolder = lstatSync(path).isDirectory();
  if (isFolder) chmodSync(path, mode);
  for (const name of isFolder ? readdirSync(path) : []) rights(join(path, name), mode);
  if (!isFolder) chmodSync(path, mode & 0o666);
}

beforeAll(() => {
  mkdirSync(home);
  for (const part of ['bin', 'dist', 'rules', 'samples', 'src/advice', 'package.json'])
    cpSync(join(ROOT, part), join(home, part), { recursive: true });
  rights(folder, 0o555);
});

it.each([
  ['check', 'samples/kingfisher/kingfisher.dryfit.yaml'],
  [
    'check',
    'samples/kingfisher/kingfisher.dryfit.yaml',
    'samples/fern-lid/fern-lid.dryfit.yaml',
    '--format',
    'html',
  ],
  ['sheet', 'samples/fern-lid/fern-lid.dryfit.yaml'],
  ['recut', 'samples/fern-lid/fern-lid.dryfit.yaml', '--gap', '0.3', '--glue', '0', '--setup-shift', '0.1'],
  ['lesson', '3', '--answer'],
  ['explain', 'depth.glue'],
])('%s %s', (...words: string[]) => {
  const before = listing();
  const answer = called(process.execPath, [join(home, 'bin/dryfit.js'), ...words], { cwd: home, ...account });
  expect(answer.err).not.toMatch(FALLEN);
  expect(answer.err).toBe('');
  expect(answer.out.length).toBeGreaterThan(200);
  // An answer of whatever kind, and no fault.
  expect(answer.status).toBeLessThan(3);
  expect(listing()).toEqual(before);
});

function listing(): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .sort()
    .map((name) => `${name} ${lstatSync(join(folder, name)).mtimeMs}`);
}
