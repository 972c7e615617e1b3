import { spawnSync } from 'node:child_process';
import { InputFault } from '../fault.ts';

/** The most that one call of git may answer: the staged list of a very large repository, or one drawing. */
const MOST_BYTES = 64 * 1024 * 1024;

/**
 * What git answers to `words`, run in `folder`. The environment is handed on as it is: inside a hook its GIT_ variables
 * name the index of this very commit, which need not be the repository's own. Throws InputFault with git's words.
 */
export function git(folder: string, words: readonly string[], input: Uint8Array | string = ''): Buffer {
  const { stdout, stderr, status, error } = spawnSync('git', words, {
    cwd: folder,
    input,
    maxBuffer: MOST_BYTES,
    windowsHide: true,
  });
  if (error !== undefined) throw new InputFault(reasonOf(error as NodeJS.ErrnoException));
  if (status === 0) return stdout;
  const said =
    stderr
      .toString('utf8')
      .trim()
      .split('\n')[0]
      ?.replace(/^(fatal|error): /, '') ?? '';
  throw new InputFault(`git ${words[0]} did not work: ${said || `it ended with status ${status}`}.`);
}

/** The same, asked for whether it works at all. */
export function gitTells(folder: string, words: readonly string[]): string | undefined {
  const { stdout, status } = spawnSync('git', words, { cwd: folder, windowsHide: true });
  return status === 0 ? oneLine(stdout) : undefined;
}

/** An answer of one line, whatever blanks the path in it has. */
export const oneLine = (bytes: Buffer): string => bytes.toString('utf8').replace(/\r?\n$/, '');

/** An answer of entries ended by zero bytes: the only form in which every path comes as it is. */
export const entriesOf = (bytes: Buffer): readonly string[] =>
  bytes
    .toString('utf8')
    .split('\0')
    .filter((entry) => entry !== '');

/** The top folder of the work tree round `folder`. */
export function topFolder(folder: string): string {
  const top = gitTells(folder, ['rev-parse', '--show-toplevel']);
  if (top !== undefined && top !== '') return top;
  git(folder, ['--version']);
  throw new InputFault('This folder is in no git work tree, so there is nothing staged to check.', {
    file: folder,
  });
}

function reasonOf(error: NodeJS.ErrnoException): string {
  if (error.code === 'ENOENT') return 'git is not installed, or not found from here.';
  if (error.code === 'ENOBUFS')
    return `git answered with more than ${MOST_BYTES} bytes, the most that is read.`;
  return `git could not be run (${error.code ?? error.message}).`;
}
