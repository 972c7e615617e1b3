import { randomBytes } from 'node:crypto';
import { existsSync, linkSync, mkdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { InputFault } from '../fault.ts';
import { fileAt, reasonOf, refuseRead, unbroken, writeWhole } from './files.ts';

export interface NewFile {
  readonly path: string;
  readonly text: string;
}

/** Makes the folder the files are to lie in, if it is not there yet. */
export function folderFor(folder: string): void {
  if (existsSync(folder)) {
    if (!statSync(folder).isDirectory())
      throw new InputFault('This is a file; a folder for the new files was wanted.', { file: folder });
    return;
  }
  try {
    makeFolder(folder);
  } catch (error) {
    throw new InputFault(`The folder could not be made: ${reasonOf(error).toLowerCase()}.`, {
      file: folder,
    });
  }
}

/** One folder after another: asked for all at once, Node goes round for ever where nothing can be made (/proc). */
function makeFolder(folder: string): void {
  const parent = dirname(folder);
  if (parent !== folder && !existsSync(parent)) makeFolder(parent);
  mkdirSync(folder);
}

/** Refuses when two files that are still to be written would take one name. */
export function refuseSameName(files: readonly NewFile[]): void {
  const names = files.map(({ path }) => resolve(path));
  const twice = files.find((_, k) => names.indexOf(names[k] as string) < k);
  if (twice !== undefined)
    throw new InputFault('Two of the new files would take this name; name another.', { file: twice.path });
}

/** Refuses when any of these is there already; `instead` says what to do then. */
export function refuseThere(paths: readonly string[], instead: string): void {
  for (const path of paths) if (existsSync(path)) throw isThere(path, instead);
}

/**
 * Writes all of these files or none: every text is on the disk under another name before the first takes its own.
 * What is there already is only replaced when `overwrite` says so; `instead` says what to do when it does not.
 */
export function writeAll(files: readonly NewFile[], overwrite: boolean, instead = 'name another file'): void {
  unbroken(() => allOrNone(files, overwrite, instead));
}

function allOrNone(files: readonly NewFile[], overwrite: boolean, instead: string): void {
  const paths = files.map(({ path }) => path);
  if (!overwrite) refuseThere(paths, instead);
  for (const { path } of files) {
    if (fileAt(path)?.isFile() === false)
      throw new InputFault('This is not a plain file, so nothing takes its place.', { file: path });
    refuseRead(path);
  }
  const mark = randomBytes(4).toString('hex');
  const waiting = files.map(({ path }) => `${path}.${mark}.part`);
  const named: string[] = [];
  try {
    files.forEach(({ path, text }, k) => {
      try {
        writeWhole(waiting[k] as string, text);
      } catch (error) {
        // Told by the name that was asked for, not by the one it waits under.
        throw error instanceof InputFault ? new InputFault(error.message, { file: path }) : error;
      }
    });
    files.forEach(({ path }, k) => {
      const from = waiting[k] as string;
      if (overwrite) renameSync(from, path);
      else {
        takeName(from, path, instead);
        named.push(path);
      }
    });
  } catch (error) {
    for (const path of named) rmSync(path, { force: true });
    if (error instanceof InputFault) throw error;
    const file = files[named.length]?.path;
    throw new InputFault(`The files could not be written: ${reasonOf(error).toLowerCase()}.`, { file });
  } finally {
    for (const path of waiting) rmSync(path, { force: true });
  }
}

/** A link never takes the place of what has come there meanwhile; some disks, such as a stick's, know no links. */
function takeName(from: string, path: string, instead: string): void {
  try {
    linkSync(from, path);
  } catch (error) {
    const { code = '' } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST' || existsSync(path)) throw isThere(path, instead);
    if (!WITHOUT_LINKS.includes(code)) throw error;
    renameSync(from, path);
  }
}

const WITHOUT_LINKS = ['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'];

const isThere = (path: string, instead: string): InputFault =>
  new InputFault(`This is there already and is not overwritten; ${instead}.`, { file: path });
