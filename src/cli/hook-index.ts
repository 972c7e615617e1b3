import { existsSync } from 'node:fs';
import { isAbsolute, join, relative, sep } from 'node:path';
import { InputFault } from '../fault.ts';
import { entriesOf, git, gitTells, oneLine } from './hook-git.ts';
import type { Source } from './run.ts';

/** One file as it is staged. */
interface Entry {
  readonly mode: string;
  readonly blob: string;
  /** 0, or which side of a merge that is not settled. */
  readonly stage: string;
}

/** What a commit would hold, and what of it would be new. Paths are git's: from the top folder, with `/`. */
export interface Staged {
  readonly top: string;
  readonly entries: ReadonlyMap<string, Entry>;
  /** Added, changed, renamed (both names) and deleted paths. */
  readonly changed: ReadonlySet<string>;
}

/** A rename is its old path deleted and its new one added; a file that is only announced does not count. */
const CHANGED = ['diff-index', '--cached', '--name-only', '--no-renames', '--ita-invisible-in-index', '-z'];
const LINK = '120000';
const OTHER_REPOSITORY = '160000';

/** Reads the index that this commit is made of. Nothing is written, stashed or checked out. */
export function readStaged(top: string): Staged {
  const entries = new Map<string, Entry>();
  for (const line of entriesOf(git(top, ['ls-files', '--stage', '-z']))) {
    const [mode, blob, rest] = line.split(' ', 3) as [string, string, string];
    const tab = line.indexOf('\t');
    entries.set(line.slice(tab + 1), { mode, blob, stage: rest.slice(0, rest.indexOf('\t')) });
  }
  for (const path of onlyIntended(top, entries)) entries.delete(path);
  const base = gitTells(top, ['rev-parse', '--verify', '--quiet', 'HEAD']) ?? emptyId(top, 'tree');
  const changed = git(top, [...CHANGED, base]);
  return { top, entries, changed: new Set(entriesOf(changed)) };
}

/** Files that were only announced (`git add -N`): they have an empty entry, and are in no commit. */
function onlyIntended(top: string, entries: ReadonlyMap<string, Entry>): readonly string[] {
  const empty = emptyId(top, 'blob');
  if (![...entries.values()].some(({ blob }) => blob === empty)) return [];
  return entriesOf(git(top, ['diff-files', '--name-only', '--diff-filter=A', '-z']));
}

/** The id of nothing, by whatever hash the repository uses. */
const emptyId = (top: string, type: 'blob' | 'tree'): string =>
  oneLine(git(top, ['hash-object', '-t', type, '--stdin']));

/** The jobs that a commit would hold. */
export function stagedJobs({ entries }: Staged): readonly string[] {
  return [...entries.keys()].filter((path) => /\.dryfit\.ya?ml$/i.test(path)).sort();
}

/** A path as git has it, from one as the job's reader gives it; undefined when it lies outside the repository. */
export function gitPath(top: string, path: string): string | undefined {
  const inside = (isAbsolute(path) ? relative(top, path) : path).replaceAll(sep, '/');
  return inside.startsWith('../') || isAbsolute(inside) ? undefined : inside.replace(/^\.\//, '');
}

/** Files as they are staged, whatever the work tree holds meanwhile. */
export function sourceOf(staged: Staged): Source {
  const bytes = (path: string, what: string): Uint8Array => blobOf(staged, path, what);
  return {
    bytes,
    text: (path, what) => {
      try {
        return new TextDecoder('utf-8', { fatal: true }).decode(bytes(path, what));
      } catch (error) {
        if (error instanceof InputFault) throw error;
        throw new InputFault(`The staged bytes are not UTF-8 text; ${what} was wanted.`, { file: path });
      }
    },
  };
}

function blobOf(staged: Staged, path: string, what: string): Uint8Array {
  const refuse = (says: string): InputFault => new InputFault(`${says}; ${what} was wanted.`, { file: path });
  const name = gitPath(staged.top, path);
  if (name === undefined) throw refuse('This lies outside the repository, so a commit cannot hold it');
  const entry = staged.entries.get(name);
  if (entry === undefined) throw refuse(whyMissing(staged, name));
  if (entry.stage !== '0') throw refuse('Its merge is not settled');
  if (entry.mode === OTHER_REPOSITORY) throw refuse('This is another repository inside this one');
  const blob = git(staged.top, ['cat-file', 'blob', entry.blob]);
  if (entry.mode === LINK)
    throw refuse(`What is staged is a link to ${blob.toString('utf8')} and not the file itself`);
  if (isPointer(blob))
    throw refuse('What is staged is a pointer to a large file kept elsewhere, and not the file itself');
  return blob;
}

function whyMissing({ top, entries, changed }: Staged, name: string): string {
  if (changed.has(name)) return 'This file is deleted by what is staged, and the job still names it';
  const near = [...entries.keys()].find((other) => alike(other) === alike(name));
  if (near !== undefined)
    return `There is no such file among what is staged, but ${near}; capital and accented letters must agree`;
  if (existsSync(join(top, name)))
    return 'This file lies in the folder but is not staged, so the commit would lack it (git add it)';
  return 'There is no such file among what is staged';
}

const alike = (path: string): string => path.normalize('NFC').toLowerCase();

/** A short text that stands for a large file: its version, its hash, its size. */
function isPointer(blob: Buffer): boolean {
  if (blob.length > 1024) return false;
  return /^version \S+\n(?:ext-\S+ \S+\n)*oid \w+:[0-9a-f]+\nsize \d+\n?$/.test(blob.toString('latin1'));
}
