import { randomBytes } from 'node:crypto';
import {
  accessSync,
  chmodSync,
  closeSync,
  constants,
  fstatSync,
  fsyncSync,
  openSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { InputFault } from '../fault.ts';

/** The largest drawing or job that is read: 64 MiB, far above any outline a router can cut. */
const LARGEST_FILE_BYTES = 64 * 1024 * 1024;

/** Every file read so far: nothing that is written takes the place of one. */
const alreadyRead = new Set<string>();

/** What stays the same by whatever name or link a file is called. */
function identity({ dev, ino }: Stats): string {
  return `${dev}:${ino}`;
}

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
    alreadyRead.add(identity(stat));
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

/** What a drawing or a job is called; those that other processes read are known by this alone. */
const ARTWORK_OR_JOB = /\.(svg|ya?ml)$/i;

/** Writes a report whole or not at all, and never over a drawing or a job. */
export function writeReport(path: string, text: string): void {
  if (path === '') throw new InputFault('The file to write to has no name; a name was wanted.');
  refuseRead(path);
  if (fileAt(path)?.isFile() && ARTWORK_OR_JOB.test(realpathSync(path))) throw wouldBeLost(path);
  writeWhole(path, text);
}

/** Refuses to let a file take the place of one that was read for it, by whatever name. */
export function refuseRead(path: string): void {
  const there = fileAt(path);
  if (there !== undefined && alreadyRead.has(identity(there))) throw wouldBeLost(path);
}

function wouldBeLost(file: string): InputFault {
  return new InputFault('This is a drawing or a job, and would be lost; another name was wanted.', { file });
}

/** What is at a path that is to be written; undefined where nothing is yet, an InputFault where nothing can be. */
export function fileAt(path: string): Stats | undefined {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch (error) {
    throw notWritten(error, path);
  }
}

/**
 * Writes a whole file or nothing: the text goes to a neighbour first and takes the name only when it is all there.
 * What is no plain file (a device, a pipe) cannot be exchanged, and is written to as it is.
 */
export function writeWhole(path: string, text: string): void {
  const there = fileAt(path);
  try {
    // A pipe opens when somebody reads it: until then a signal ends the wait.
    const open = there === undefined || there.isFile() ? undefined : openSync(path, 'w');
    unbroken(() => {
      if (open !== undefined) put(open, text);
      else if (there === undefined) exchange(path, text);
      else exchange(writable(path), text, there.mode);
    });
  } catch (error) {
    throw notWritten(error, path);
  }
}

/** Writes a file that was not there, whole or not at all. False when there is one, which is left alone. */
export function writeNew(path: string, text: string): boolean {
  return unbroken(() => {
    let open: number;
    try {
      open = openSync(path, 'wx');
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
      throw notWritten(error, path);
    }
    try {
      put(open, text);
      return true;
    } catch (error) {
      rmSync(path, { force: true });
      throw notWritten(error, path);
    }
  });
}

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

/** Writing that has begun is finished before a signal is obeyed: nothing is ever left in halves. */
export function unbroken<T>(write: () => T): T {
  let heard: NodeJS.Signals | undefined;
  const hold = (signal: NodeJS.Signals): void => {
    heard = signal;
  };
  for (const signal of SIGNALS) process.on(signal, hold);
  try {
    return write();
  } finally {
    // A signal that came meanwhile is heard in the next turn.
    setImmediate(() => {
      for (const signal of SIGNALS) process.off(signal, hold);
      if (heard !== undefined) process.kill(process.pid, heard);
    });
  }
}

/** The file itself where the path leads to it by links; refused when it is protected. */
function writable(path: string): string {
  accessSync(path, constants.W_OK);
  return realpathSync(path);
}

function exchange(path: string, text: string, mode?: number): void {
  const neighbour = join(dirname(path), `.${basename(path)}.${randomBytes(4).toString('hex')}.part`);
  try {
    put(openSync(neighbour, 'wx', 0o666), text);
    if (mode !== undefined) chmodSync(neighbour, mode);
    renameSync(neighbour, path);
  } catch (error) {
    rmSync(neighbour, { force: true });
    throw error;
  }
}

/** Writes all of a text and closes the file, whatever happens. */
function put(open: number, text: string): void {
  try {
    const bytes = Buffer.from(text, 'utf8');
    for (let done = 0; done < bytes.length; ) done += writeSync(open, bytes, done);
    if (fstatSync(open).isFile()) fsyncSync(open);
  } finally {
    closeSync(open);
  }
}

function notWritten(error: unknown, file: string): InputFault {
  const missing = (error as NodeJS.ErrnoException).code === 'ENOENT';
  const reason = missing ? 'there is no such folder' : reasonOf(error).toLowerCase();
  return new InputFault(`This could not be written: ${reason}.`, { file });
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'There is no such file',
  EACCES: 'It may not be read or written by this account',
  EPERM: 'It may not be read or written by this account',
  ENOTDIR: 'A part of the path is a file, not a folder',
  EISDIR: 'This is a folder',
  ENOSPC: 'The disk is full',
  EDQUOT: 'This account has no room left on the disk',
  EFBIG: 'It is larger than this account may write',
  EIO: 'The disk does not answer',
  EROFS: 'The disk can only be read',
  ENAMETOOLONG: 'The name is too long',
  ELOOP: 'The path goes round in links',
  EMFILE: 'Too many files are open',
};

/** Why the system would not, as a sentence without its full stop. */
export function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  return REASONS[code] ?? `The system says ${code || String(error)}`;
}
