import { chmodSync, existsSync, lstatSync, mkdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { isAbsolute, join, relative, resolve } from 'node:path';
import { InputFault } from '../fault.ts';
import { writeWhole } from './files.ts';
import { git, oneLine, topFolder } from './hook-git.ts';
import { packageFolder } from './package.ts';
import { say } from './say.ts';

/** Commits that a person makes, and those that git makes of a merge by itself. */
const NAMES = ['pre-commit', 'pre-merge-commit'] as const;
const MARK = '# Written by "dryfit hook install"; "dryfit hook remove" takes it away again.';
const BEFORE = '.before-dryfit';

/**
 * Sets up the hooks of the repository round the current folder. A hook that is there already is kept under a
 * name of its own, and runs first.
 */
export function hookInstall(careFails: boolean): void {
  const folder = hooksFolder();
  for (const name of NAMES) refuseMuddle(join(folder, name));
  mkdirSync(folder, { recursive: true });
  for (const name of NAMES) {
    const path = join(folder, name);
    const kept = isThere(path) && !isOurs(path);
    if (kept) renameSync(path, path + BEFORE);
    writeWhole(path, scriptOf(name, careFails));
    chmodSync(path, 0o755);
    say(`${path} is set up${kept ? `; the hook that was there runs first, as ${name}${BEFORE}` : ''}.`);
  }
}

/** Takes the hooks away again, and puts back those that were there before. */
export function hookRemove(): void {
  const folder = hooksFolder();
  for (const name of NAMES) {
    const path = join(folder, name);
    if (!isThere(path)) say(`${path} is not there; nothing to take away.`);
    else if (!isOurs(path)) say(`${path} was not set up by dryfit and stays as it is.`);
    else if (isThere(path + BEFORE)) {
      renameSync(path + BEFORE, path);
      say(`${path} is as it was before dryfit.`);
    } else {
      rmSync(path);
      say(`${path} is taken away.`);
    }
  }
}

/** Where this repository's hooks lie. One that serves other repositories too is left alone. */
function hooksFolder(): string {
  const top = topFolder(process.cwd());
  const ask = (...words: string[]): string => resolve(top, oneLine(git(top, ['rev-parse', ...words])));
  const folder = ask('--git-path', 'hooks');
  if (isWithin(folder, top) || isWithin(folder, ask('--git-common-dir'))) return folder;
  throw new InputFault(
    'The hooks lie outside this repository (core.hooksPath) and serve others too, so nothing was changed. ' +
      'Add the line "dryfit hook run || exit" to the pre-commit hook there.',
    { file: folder },
  );
}

function isWithin(path: string, folder: string): boolean {
  const way = relative(folder, path);
  return way !== '..' && !/^\.\.[\\/]/.test(way) && !isAbsolute(way);
}

/** A hook that somebody put in the place of ours, with an older one still kept, is for a person to sort out. */
function refuseMuddle(path: string): void {
  if (isThere(path) && !isOurs(path) && isThere(path + BEFORE))
    throw new InputFault(
      `Another hook has taken the place of dryfit's, and ${path}${BEFORE} is still there; nothing was changed. Join the two, then ask again.`,
      { file: path },
    );
}

/** A link that leads nowhere is there, too. */
const isThere = (path: string): boolean => lstatSync(path, { throwIfNoEntry: false }) !== undefined;

const isOurs = (path: string): boolean => existsSync(path) && readFileSync(path, 'latin1').includes(MARK);

/**
 * The hook itself. It calls this very copy of dryfit, else one on the path; with none it holds the commit back,
 * for a check that silently does not happen is worse than none.
 */
function scriptOf(name: string, careFails: boolean): string {
  const words = `hook run${careFails ? ' --care-fails' : ''}`;
  return `#!/bin/sh
${MARK}
# Checks the V-bit inlay jobs that this commit would change, as they are staged.
before="$(dirname "$0")/${name}${BEFORE}"
if [ -x "$before" ]; then
  "$before" "$@" || exit $?
fi
node=${quoted(process.execPath)}
dryfit=${quoted(join(packageFolder(), 'bin', 'dryfit.js'))}
if [ -x "$node" ] && [ -f "$dryfit" ]; then
  "$node" "$dryfit" ${words}
elif command -v dryfit >/dev/null 2>&1; then
  dryfit ${words}
else
  echo 'dryfit is no longer where it was when this hook was set up, so nothing was checked.' >&2
  echo 'Set it up again (dryfit hook install), or delete this hook.' >&2
  exit 3
fi
status=$?
if [ $status -ne 0 ]; then
  echo 'The commit is held back. Mend and stage the design, or commit with --no-verify, knowing what is wrong.' >&2
fi
exit $status
`;
}

const quoted = (path: string): string => `'${path.replaceAll('\\', '/').replaceAll("'", `'\\''`)}'`;
