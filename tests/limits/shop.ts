/** A folder with jobs of every answer, and the program as makers start it. */
import { type SpawnSyncOptions, spawn, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { goodJob, LEAF, mirrored, svg, withValues } from '../pairs.ts';

export const ROOT = resolve(import.meta.dirname, '../..');
export const BIN = join(ROOT, 'bin/dryfit.js');

/** A new folder, and how to be rid of it. */
export function newFolder(name: string): { readonly folder: string; readonly gone: () => void } {
  const folder = mkdtempSync(join(tmpdir(), `dryfit-${name}-`));
  return { folder, gone: () => rmSync(folder, { recursive: true, force: true }) };
}

/** What a job says otherwise than the good one, for each answer. */
const OTHERWISE = {
  pass: {},
  care: { 'plug.start-depth': 7.2 },
  fail: { 'plug.outline': 'pocket.svg' },
  unknown: { 'bit.tip-flat': undefined },
} as const;
export type Kind = keyof typeof OTHERWISE | 'broken';

/** Writes both drawings. */
export function putDrawings(folder: string): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'pocket.svg'), svg(LEAF));
  writeFileSync(join(folder, 'plug.svg'), svg(mirrored(LEAF)));
}

/** Writes a job of this answer beside the drawings; its file name. */
export function putJob(folder: string, name: string, kind: Kind): string {
  const file = `${name}.dryfit.yaml`;
  const values = {
    title: `Tea tray ${name}`,
    'pocket.stock.grain-angle': 0,
    ...(kind === 'broken' ? {} : OTHERWISE[kind]),
  };
  const text = JSON.stringify(withValues(goodJob(), values), null, 2);
  writeFileSync(join(folder, file), kind === 'broken' ? text.replace('"flat-depth"', '"flat-dept"') : text);
  return file;
}

export interface Answered {
  readonly status: number | null;
  readonly signal: string | null;
  readonly out: string;
  readonly err: string;
}

/** One call of the command line, to its end. */
export function dryfit(cwd: string, words: readonly string[], more: SpawnSyncOptions = {}): Answered {
  return called(process.execPath, [BIN, ...words], { cwd, ...more });
}

/** One call of anything, such as a shell with the program in it. */
export function called(command: string, words: readonly string[], more: SpawnSyncOptions): Answered {
  const run = spawnSync(command, words, { encoding: 'utf8', timeout: 600_000, ...more });
  return {
    status: run.status,
    signal: run.signal,
    out: String(run.stdout ?? ''),
    err: String(run.stderr ?? ''),
  };
}

/** A call that gets a signal after so many ms; how it ended, and how long that took. */
export async function interrupted(
  cwd: string,
  words: readonly string[],
  signal: NodeJS.Signals,
  afterMs: number,
): Promise<{ readonly ended: readonly [number | null, string | null]; readonly ms: number }> {
  const child = spawn(process.execPath, [BIN, ...words], { cwd, stdio: 'ignore' });
  const end = new Promise<[number | null, string | null]>((done) =>
    child.once('exit', (...how) => done(how)),
  );
  await new Promise((done) => setTimeout(done, afterMs));
  const from = performance.now();
  child.kill(signal);
  return { ended: await end, ms: performance.now() - from };
}

/** Every file below a folder with its content: what a call may not have changed. */
export function contentOf(folder: string): Readonly<Record<string, string>> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) =>
    entry.isFile(),
  );
  return Object.fromEntries(
    files
      .map((entry) => join(entry.parentPath, entry.name))
      .sort()
      .map((path) => [path, readFileSync(path, 'latin1')]),
  );
}

/** Words of a program that fell over, which no maker should ever see. */
export const FALLEN = /\n\s+at |Error:|node:internal|Dryfit itself/;
