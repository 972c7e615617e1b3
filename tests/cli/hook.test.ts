/** The hook in real repositories, through git and the real command line. */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { parse } from 'yaml';
import { goodJob as benchJob, LEAF, mirrored, svg, withValues } from '../pairs.ts';

// Many starts of the program: on a busy machine they take long, and time is nothing that is tested here.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const root = resolve(import.meta.dirname, '../..');
const below = mkdtempSync(join(tmpdir(), 'dryfit-hook-'));
afterAll(() => rmSync(below, { recursive: true, force: true }));

const GOOD_PLUG = svg(mirrored(LEAF));
/** Not turned over: the mistake that ruins a board. */
const BAD_PLUG = svg(LEAF);

/** One that passes every check outright. */
const goodJob = () => withValues(benchJob(), { 'pocket.stock.grain-angle': 0 });

interface Answered {
  readonly status: number | null;
  readonly said: string;
}

/** A repository of its own, without anybody's settings. */
function repository(name: string) {
  const folder = join(below, name);
  mkdirSync(folder, { recursive: true });
  const env = {
    ...process.env,
    GIT_CONFIG_GLOBAL: '/dev/null',
    GIT_CONFIG_NOSYSTEM: '1',
    NO_COLOR: '1',
  };
  const run = (command: string, words: readonly string[], cwd = folder): Answered => {
    const { status, stdout, stderr } = spawnSync(command, words, {
      cwd,
      env,
      encoding: 'utf8',
      timeout: 120_000,
    });
    return { status, said: stdout + stderr };
  };
  const git = (...words: string[]): Answered =>
    run('git', ['-c', 'user.name=Maker', '-c', 'user.email=maker@example.org', ...words]);
  const put = (path: string, text: string): void => {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  };
  const repo = {
    folder,
    git,
    put,
    run,
    dryfit: (...words: string[]) => run(process.execPath, [join(root, 'bin/dryfit.js'), ...words]),
    commit: () => git('commit', '-q', '-m', 'Change'),
    commits: () => Number(git('rev-list', '--count', '--all').said),
    /** Drawings and job of one design below `at`. */
    design: (at = '', plug = GOOD_PLUG) => {
      put(`${at}pocket.svg`, svg(LEAF));
      put(`${at}plug.svg`, plug);
      put(`${at}leaf.dryfit.yaml`, JSON.stringify(goodJob(), null, 2));
    },
  };
  expect(git('init', '-q').status).toBe(0);
  return repo;
}

/** One whose hook is set up and whose good design is committed already. */
function committed(name: string, at = '') {
  const repo = repository(name);
  repo.design(at);
  repo.git('add', '.');
  expect(repo.commit().status).toBe(0);
  expect(repo.dryfit('hook', 'install').status).toBe(0);
  return repo;
}

function passes({ status, said }: Answered, ...words: (string | RegExp)[]): void {
  for (const word of words) expect(said).toMatch(word);
  expect(status, said).toBe(0);
}

function isHeld({ status, said }: Answered, ...words: (string | RegExp)[]): void {
  expect(said).not.toMatch(/\n\s+at |node:internal/);
  for (const word of words) expect(said).toMatch(word);
  expect(said).toContain('The commit is held back');
  expect(status, said).not.toBe(0);
}

describe('the staged copy is what counts', () => {
  it('holds a first commit back on a bad plug, with the whole sheet, and lets the good one pass in a line', () => {
    const repo = repository('first');
    repo.dryfit('hook', 'install');
    repo.design('', BAD_PLUG);
    repo.git('add', '.');
    isHeld(
      repo.commit(),
      /^FAIL +Bench pair +leaf\.dryfit\.yaml$/m,
      'DRY FIT  Bench pair',
      'Plug mirrors the pocket',
    );
    expect(repo.git('rev-parse', '--verify', 'HEAD').status).not.toBe(0);
    repo.put('plug.svg', GOOD_PLUG);
    repo.git('add', '.');
    const good = repo.commit();
    passes(good, /^PASS/m);
    expect(good.said.trim().split('\n')).toHaveLength(1);
  });

  it('holds back when only the staged copy is bad, and passes when only the work tree is', () => {
    const repo = committed('partial');
    repo.put('plug.svg', BAD_PLUG);
    repo.git('add', 'plug.svg');
    repo.put('plug.svg', GOOD_PLUG);
    isHeld(repo.commit(), 'FAIL', 'Plug mirrors the pocket');
    repo.put('plug.svg', `${GOOD_PLUG}<!-- again -->\n`);
    repo.git('add', 'plug.svg');
    repo.put('plug.svg', BAD_PLUG);
    passes(repo.commit(), 'PASS');
    expect(readFileSync(join(repo.folder, 'plug.svg'), 'utf8')).toBe(BAD_PLUG);
  });

  it('takes part in "commit -a" and in a commit of named paths, which have an index of their own', () => {
    const repo = committed('other-index');
    repo.put('plug.svg', BAD_PLUG);
    isHeld(repo.git('commit', '-q', '-a', '-m', 'All'), 'FAIL');
    repo.put('notes.txt', 'Sand the tray.\n');
    repo.git('add', '.');
    passes(repo.git('commit', '-q', '-m', 'Notes', 'notes.txt'));
    isHeld(repo.git('commit', '-q', '-m', 'Plug', 'plug.svg'), 'FAIL');
  });

  it('checks only what is touched, and every job when asked to', () => {
    const repo = committed('touched', 'one/');
    repo.design('two/', BAD_PLUG);
    repo.git('add', '.');
    repo.git('commit', '-q', '--no-verify', '-m', 'Knowingly');
    repo.put('one/pocket.svg', `${svg(LEAF)}<!-- again -->\n`);
    repo.put('notes.txt', 'Sand the tray.\n');
    repo.git('add', '.');
    const { said } = repo.commit();
    expect(said).toMatch(/^PASS .*one\/leaf\.dryfit\.yaml/m);
    expect(said).not.toContain('two/');
    passes(repo.dryfit('hook', 'run'), 'No job is touched');
    const all = repo.dryfit('hook', 'run', '--all');
    expect(all.status).toBe(1);
    expect(all.said).toMatch(/^FAIL .*two\/leaf/m);
  });

  it('lets PASS WITH CARE pass, and holds it back when asked to', () => {
    const repo = committed('care');
    repo.put(
      'leaf.dryfit.yaml',
      JSON.stringify(
        withValues(goodJob(), {
          'plug.start-depth': 7.2,
          'plug.flat-depth': 2.6,
        }),
      ),
    );
    repo.git('add', '.');
    const run = repo.dryfit('hook', 'run');
    passes(run, /^PASS WITH CARE/m);
    expect(run.said).not.toContain('DRY FIT');
    repo.dryfit('hook', 'install', '--care-fails');
    isHeld(repo.commit(), /^PASS WITH CARE/m, 'DRY FIT');
  });

  it('holds back a job that says too little to tell', () => {
    const repo = committed('untold');
    repo.put('leaf.dryfit.yaml', JSON.stringify(withValues(goodJob(), { 'bit.tip-flat': undefined })));
    repo.git('add', '.');
    isHeld(repo.commit(), /^CANNOT TELL/m, 'NOT SEEN');
  });
});

describe('files that come, go and move', () => {
  it('holds back a commit that deletes a drawing a job still names, or renames it away', () => {
    const repo = committed('gone', 'designs/');
    repo.git('rm', '-q', 'designs/plug.svg');
    isHeld(repo.commit(), 'designs/plug.svg', 'deleted by what is staged', 'NOT READ');
    repo.git('reset', '-q', '--hard');
    repo.git('mv', 'designs/plug.svg', 'designs/leaf plug.svg');
    isHeld(repo.commit(), 'designs/plug.svg', 'deleted by what is staged');
    repo.put(
      'designs/leaf.dryfit.yaml',
      JSON.stringify(withValues(goodJob(), { 'plug.outline': 'leaf plug.svg' })),
    );
    repo.git('add', '.');
    passes(repo.commit(), 'PASS');
    repo.git('rm', '-q', '-r', 'designs');
    passes(repo.commit());
  });

  it('holds back a drawing that lies in the folder but is not staged, or was only announced', () => {
    const repo = repository('forgotten');
    repo.dryfit('hook', 'install');
    repo.design();
    repo.git('add', 'leaf.dryfit.yaml', 'pocket.svg');
    isHeld(repo.commit(), 'plug.svg', 'not staged', 'git add');
    repo.git('add', '-N', 'plug.svg');
    isHeld(repo.commit(), 'plug.svg', 'not staged');
  });

  it('tells links, pointers to large files, other letters and places outside for what they are', () => {
    const repo = committed('odd');
    rmSync(join(repo.folder, 'plug.svg'));
    symlinkSync('pocket.svg', join(repo.folder, 'plug.svg'));
    repo.git('add', '.');
    isHeld(repo.commit(), 'plug.svg', 'a link to pocket.svg');
    rmSync(join(repo.folder, 'plug.svg'));
    repo.put('plug.svg', `version https://example.org/spec/v1\noid sha256:${'0f'.repeat(32)}\nsize 48123\n`);
    repo.git('add', '.');
    isHeld(repo.commit(), 'plug.svg', 'pointer to a large file');
    const outline = (path: string): void => {
      repo.put('leaf.dryfit.yaml', JSON.stringify(withValues(goodJob(), { 'plug.outline': path })));
      repo.git('add', '.');
    };
    outline('Pocket.svg');
    isHeld(repo.commit(), 'but pocket.svg; capital');
    outline('../odd-plug.svg');
    isHeld(repo.commit(), 'outside the repository');
  });

  it('copes with blanks, quotes, brackets and letters of other scripts in names', () => {
    const at = `maker's "tray" & Übung (2)/工房 蓋/`;
    const repo = committed('names', at);
    repo.put(`${at}plug.svg`, BAD_PLUG);
    repo.git('add', '.');
    isHeld(repo.commit(), 'FAIL');
    expect(repo.dryfit('hook', 'run').said).toContain(`  ${at}leaf.dryfit.yaml`);
    repo.put(`${at}plug.svg`, `${GOOD_PLUG}\n`);
    repo.git('add', '.');
    passes(repo.commit(), 'PASS');
  });

  it('works in a linked work tree, from a folder inside it', () => {
    const repo = committed('main-tree');
    const tree = join(below, 'linked tree');
    passes(repo.git('worktree', 'add', '-q', '-b', 'tray', tree));
    writeFileSync(join(tree, 'plug.svg'), BAD_PLUG);
    mkdirSync(join(tree, 'notes'));
    const commit = (): Answered =>
      repo.run(
        'git',
        ['-c', 'user.name=M', '-c', 'user.email=m@example.org', 'commit', '-q', '-m', 'Plug'],
        join(tree, 'notes'),
      );
    repo.run('git', ['add', '.'], tree);
    isHeld(commit(), 'FAIL');
    writeFileSync(join(tree, 'plug.svg'), `${GOOD_PLUG}\n`);
    repo.run('git', ['add', '.'], tree);
    passes(commit(), 'PASS');
  });

  it('checks a merge that git commits by itself', () => {
    const repo = committed('merge');
    const main = repo.git('symbolic-ref', '--short', 'HEAD').said.trim();
    repo.git('checkout', '-q', '-b', 'deeper');
    repo.put(
      'leaf.dryfit.yaml',
      JSON.stringify(withValues(goodJob(), { 'pocket.outline': 'plug.svg' }), null, 2),
    );
    repo.git('commit', '-q', '--no-verify', '-a', '-m', 'Knowingly');
    repo.git('checkout', '-q', main);
    repo.put('notes.txt', 'Sand the tray.\n');
    repo.git('add', '.');
    passes(repo.commit());
    isHeld(repo.git('merge', '-q', '--no-edit', 'deeper'), 'FAIL');
  });
});

describe('the hook among others', () => {
  it('keeps a hook that was there, runs it first, and puts it back', () => {
    const repo = committed('chained');
    repo.dryfit('hook', 'remove');
    const path = join(repo.folder, '.git/hooks/pre-commit');
    expect(existsSync(path)).toBe(false);
    const own = '#!/bin/sh\necho "own hook" >&2\ntest ! -e stop\n';
    writeFileSync(path, own);
    chmodSync(path, 0o755);
    passes(repo.dryfit('hook', 'install'), 'runs first');
    passes(repo.dryfit('hook', 'install'));
    expect(readFileSync(`${path}.before-dryfit`, 'utf8')).toBe(own);
    repo.put('plug.svg', BAD_PLUG);
    repo.git('add', '.');
    isHeld(repo.commit(), 'own hook', 'FAIL');
    repo.put('stop', '');
    const stopped = repo.commit();
    expect(stopped.status).not.toBe(0);
    expect(stopped.said).not.toContain('FAIL');
    passes(repo.dryfit('hook', 'remove'), 'as it was before');
    expect(readFileSync(path, 'utf8')).toBe(own);
    passes(repo.dryfit('hook', 'remove'), 'stays as it is');
  });

  it('never overwrites: a hook put in the place of ours is left for a person to join', () => {
    const repo = committed('muddle');
    const path = join(repo.folder, '.git/hooks/pre-commit');
    renameSync(path, `${path}.before-dryfit`);
    writeFileSync(path, '#!/bin/sh\n');
    const answer = repo.dryfit('hook', 'install');
    expect(answer.status).toBe(3);
    expect(answer.said).toContain('nothing was changed');
    expect(readFileSync(path, 'utf8')).toBe('#!/bin/sh\n');
  });

  it('follows core.hooksPath inside the repository, and leaves one alone that serves others', () => {
    const repo = committed('hooks-path');
    repo.git('config', 'core.hooksPath', 'shop hooks');
    passes(repo.dryfit('hook', 'install'), 'shop hooks');
    repo.put('plug.svg', BAD_PLUG);
    repo.git('add', 'plug.svg');
    isHeld(repo.commit(), 'FAIL');
    const shared = join(below, 'shared hooks');
    mkdirSync(shared);
    repo.git('config', 'core.hooksPath', shared);
    const answer = repo.dryfit('hook', 'install');
    expect(answer.status).toBe(3);
    expect(answer.said).toContain('dryfit hook run || exit');
    expect(existsSync(join(shared, 'pre-commit'))).toBe(false);
  });

  it('holds back, in words, when dryfit is no longer where it was', () => {
    const repo = committed('moved-away');
    const path = join(repo.folder, '.git/hooks/pre-commit');
    writeFileSync(path, readFileSync(path, 'utf8').replace(/^dryfit=.*$/m, "dryfit='/nowhere/dryfit.js'"));
    repo.put('notes.txt', 'Sand the tray.\n');
    repo.git('add', '.');
    const answer = repo.commit();
    expect(answer.said).toContain('nothing was checked');
    expect(answer.status).not.toBe(0);
  });

  it('says so outside a repository', () => {
    const outside = join(below, 'outside');
    mkdirSync(outside);
    const { status, stderr } = spawnSync(process.execPath, [join(root, 'bin/dryfit.js'), 'hook', 'run'], {
      cwd: outside,
      encoding: 'utf8',
      env: { ...process.env, GIT_CEILING_DIRECTORIES: below },
    });
    expect(stderr).toContain('no git work tree');
    expect(status).toBe(3);
  });

  it('has a manifest whose entry is a command of this package, is handed no names and never left out', () => {
    const [entry] = parse(readFileSync(join(root, '.pre-commit-hooks.yaml'), 'utf8'));
    // Required keys of the manifest: id, name, entry, language (the runner's own documentation).
    expect(entry).toMatchObject({
      id: 'dryfit',
      language: 'node',
      pass_filenames: false,
      always_run: true,
    });
    expect(entry.name).toBeTruthy();
    const { bin } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    const [command, ...words] = entry.entry.split(' ');
    expect(existsSync(join(root, bin[command]))).toBe(true);
    const repo = committed('manifest');
    passes(repo.dryfit(...words));
  });
});
