import { randomBytes } from 'node:crypto';
import {
  closeSync,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { InputFault } from '../fault.ts';

/** The largest drawing or job that is read: 64 MiB, far above any outline a router can cut. */
const LARGEST_FILE_BYTES = 64 * 1024 * 1024;

/** The bytes of a file, or an InputFault that says in plain words why they cannot be had. */
export function readBytes(path: string, what: string): Uint8Array {
  try {
    const stat = statSync(path);
    if (stat.isDirectory()) throw new InputFault(`This is a folder; ${what} was wanted.`, { file: path });
    if (!stat.isFile()) throw new InputFault(`This is not a plain file; ${what} was wanted.`, { file: path });
    if (stat.size > LARGEST_FILE_BYTES)
      throw new InputFault(`The file has ${stat.size} bytes; at most ${LARGEST_FILE_BYTES} bytes are read.`, {
        file: path,
      });
    return readFileSync(path);
  } catch (error) {
    if (error instanceof InputFault) throw error;
    throw new InputFault(`${reasonOf(error)}; ${what} was wanted.`, { file: path });
  }
}

/** The text of a file in UTF-8 (with or without a byte order mark). */
export function readText(path: string, what: string): string {
  const bytes = readBytes(path, what);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new InputFault(`The bytes are not UTF-8 text; ${what} was wanted.`, { file: path });
  }
}

/**
 * Writes a whole file or nothing: the text goes to a neighbour first and takes the name only when it is all there.
 */
export function writeWhole(path: string, text: string): void {
  const neighbour = join(dirname(path), `.${basename(path)}.${randomBytes(4).toString('hex')}.part`);
  let open: number | undefined;
  try {
    open = openSync(neighbour, 'wx', 0o666);
    const bytes = Buffer.from(text, 'utf8');
    for (let done = 0; done < bytes.length; ) done += writeSync(open, bytes, done);
    fsyncSync(open);
    closeSync(open);
    open = undefined;
    renameSync(neighbour, path);
  } catch (error) {
    if (open !== undefined) closeSync(open);
    rmSync(neighbour, { force: true });
    throw new InputFault(`The report could not be written: ${reasonOf(error).toLowerCase()}.`, {
      file: path,
    });
  }
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'There is no such file',
  EACCES: 'It may not be read or written by this account',
  EPERM: 'It may not be read or written by this account',
  ENOTDIR: 'A part of the path is a file, not a folder',
  EISDIR: 'This is a folder',
  ENOSPC: 'The disk is full',
  EROFS: 'The disk can only be read',
  ENAMETOOLONG: 'The name is too long',
  ELOOP: 'The path goes round in links',
  EMFILE: 'Too many files are open',
};

function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  return REASONS[code] ?? `The system says ${code || String(error)}`;
}
