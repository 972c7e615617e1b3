import { randomBytes } from 'node:crypto';
import { existsSync, linkSync, mkdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { InputFault } from '../fault.ts';
import { writeWhole } from './files.ts';

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
    mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw new InputFault(`The folder cannot be made (${(error as NodeJS.ErrnoException).code}).`, {
      file: folder,
    });
  }
}

/** Refuses when any of these is there already. */
export function refuseThere(paths: readonly string[]): void {
  for (const path of paths) if (existsSync(path)) throw isThere(path);
}

/**
 * Writes all of these files or none: every text is on the disk under another name before the first takes its own.
 * What is there already is only replaced when `overwrite` says so.
 */
export function writeAll(files: readonly NewFile[], overwrite: boolean): void {
  if (!overwrite) refuseThere(files.map(({ path }) => path));
  const mark = randomBytes(4).toString('hex');
  const waiting = files.map(({ path }) => `${path}.${mark}.part`);
  const named: string[] = [];
  try {
    files.forEach(({ text }, k) => {
      writeWhole(waiting[k] as string, text);
    });
    files.forEach(({ path }, k) => {
      const from = waiting[k] as string;
      if (overwrite) renameSync(from, path);
      // A link never takes the place of what has come there meanwhile.
      else {
        linkSync(from, path);
        named.push(path);
      }
    });
  } catch (error) {
    for (const path of named) rmSync(path, { force: true });
    if (error instanceof InputFault) throw error;
    const { code } = error as NodeJS.ErrnoException;
    const file = files[named.length]?.path;
    throw code === 'EEXIST' && file !== undefined
      ? isThere(file)
      : new InputFault(`The files could not be written (${code ?? String(error)}).`, { file });
  } finally {
    for (const path of waiting) rmSync(path, { force: true });
  }
}

const isThere = (path: string): InputFault =>
  new InputFault('This is there already and is not overwritten; name another folder, or add --overwrite.', {
    file: path,
  });
