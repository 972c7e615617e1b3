/** Where new files are to lie: folders are made or refused, and never waited for. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { folderFor, refuseSameName } from '../../src/cli/new-files.ts';
import { faultText } from '../../src/cli/say.ts';
import { InputFault } from '../../src/fault.ts';

const folder = mkdtempSync(join(tmpdir(), 'dryfit-new-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('a folder for new files', () => {
  it('is made with all above it, and is no trouble when it is there', () => {
    const deep = join(folder, 'a/b/c');
    folderFor(deep);
    folderFor(deep);
    expect(statSync(deep).isDirectory()).toBe(true);
  });

  it('is refused below a file', () => {
    writeFileSync(join(folder, 'file'), 'mine');
    expect(() => folderFor(join(folder, 'file'))).toThrow('This is a file');
    expect(() => folderFor(join(folder, 'file/deep'))).toThrow('The folder could not be made');
  });

  // In a process of its own: where it went round for ever, nothing inside could have stopped it.
  it.runIf(existsSync('/proc/self'))(
    'is refused at once where none can be made',
    () => {
      const root = join(import.meta.dirname, '../..');
      const kingfisher = join(root, 'samples/kingfisher/kingfisher');
      const words = [
        'recut',
        `${kingfisher}.dryfit.yaml`,
        `${kingfisher}.recut.yaml`,
        '-o',
        '/proc/none/deep',
      ];
      const run = spawnSync(process.execPath, [join(root, 'bin/dryfit.js'), ...words], {
        encoding: 'utf8',
        timeout: 100_000,
      });
      expect([run.status, run.stdout]).toEqual([3, '']);
      expect(run.stderr).toContain('The folder could not be made');
    },
    120_000,
  );
});

describe('names of new files', () => {
  it('are refused when two are one, however they are written', () => {
    const [one, two] = ['x/../new.svg', './new.svg'].map((path) => ({ path, text: '' }));
    if (one === undefined || two === undefined) throw new Error('two files were wanted');
    expect(() => refuseSameName([one, two])).toThrow('would take this name');
    expect(() => refuseSameName([one, { path: 'other.svg', text: '' }])).not.toThrow();
  });

  it('are shown even when they are empty', () => {
    expect(faultText(new InputFault('There is no such file.', { file: '' }))).toMatch(/^""/);
  });
});
