import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { runJob, runJobFile } from '../../src/cli/run.ts';
import { readJob } from '../../src/job/job.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { sheet } from '../../src/report/sheet.ts';

const root = resolve(import.meta.dirname, '../..');
const readme = readFileSync(join(root, 'README.md'), 'utf8');

function fenced(kind: string): string[] {
  return [...readme.matchAll(new RegExp(`\`\`\`${kind}\\n([\\s\\S]*?)\`\`\``, 'g'))].map(
    (found) => found[1] ?? '',
  );
}

/** Every call of dryfit in code spans and shell blocks, without remarks and continued lines. */
function calls(): string[][] {
  const code = [
    ...fenced('sh').map((text) => text.replaceAll('\\\n', ' ')),
    ...[...readme.matchAll(/`([^`\n]+)`/g)].map((m) => m[1] ?? ''),
  ];
  return code
    .flatMap((text) => text.split(/\n|&&/))
    .map(
      (line) =>
        /(?:^|\s)(?:npx dryfit|node bin\/dryfit\.js|dryfit)\s+([a-z].*)$/.exec(
          line.replace(/\s#.*$/, '').trim(),
        )?.[1],
    )
    .filter((call) => call !== undefined)
    .map((call) => call.trim().split(/\s+/));
}

const help = (words: readonly string[]): string =>
  spawnSync(process.execPath, [join(root, 'bin/dryfit.js'), ...words, '--help'], { encoding: 'utf8' }).stdout;

describe('README.md', () => {
  const helps = new Map<string, string>();
  beforeAll(() => {
    for (const [command = ''] of calls()) if (!helps.has(command)) helps.set(command, help([command]));
  }, 60_000);

  it('shows the sheet of the kingfisher as it is printed, and a row of a design that fails', async () => {
    const [whole = '', part = ''] = fenced('text');
    const good = await runJobFile('samples/kingfisher/kingfisher.dryfit.yaml');
    expect(whole).toBe(sheet(good.checked, good.facts, { ink: PLAIN_INK, width: 80 }));
    const bad = await runJobFile('samples/fit.rim/fit.rim.dryfit.yaml', { only: ['fit.rim'] });
    expect(part).toContain('FAIL');
    expect(sheet(bad.checked, bad.facts, { ink: PLAIN_INK, width: 80 })).toContain(part);
  });

  it('names only commands and options that there are', () => {
    const named = calls();
    expect(new Set(named.map(([command]) => command))).toEqual(
      new Set(['check', 'begin', 'explain', 'woods', 'lesson', 'hook', 'sheet', 'recut', 'choose', 'why']),
    );
    for (const [command = '', ...words] of named) {
      expect(helps.get(command), command).toContain(`Usage: dryfit ${command} `);
      for (const option of words.filter((word) => word.startsWith('--') && word !== '--help'))
        expect(helps.get(command), `${command} ${option}`).toContain(`${option} `);
    }
    const loose = [...readme.matchAll(/`(--[a-z-]+)/g)].map((found) => found[1] ?? '');
    expect(loose.length).toBeGreaterThan(8);
    for (const option of loose) expect(helps.get('check')).toContain(`${option} `);
  });

  it('tells of every command there is', () => {
    const listed = [...help([]).matchAll(/^ {2}([a-z]+) .*/gm)].map((found) => found[1]);
    const told = calls().map(([command]) => command);
    expect(listed.length).toBeGreaterThan(5);
    for (const command of listed) if (command !== 'help') expect(told).toContain(command);
  });

  it('names only files of the project and scripts that there are', () => {
    const files = [...readme.matchAll(/(?<![\w/])((?:samples|bin)\/[\w./-]+|DEVELOPERS\.md)/g)].map(
      (m) => m[1] ?? '',
    );
    expect(files.length).toBeGreaterThan(3);
    for (const file of files) expect(existsSync(join(root, file)), file).toBe(true);
    const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    for (const [, script = ''] of readme.matchAll(/npm (test|run [a-z]+)/g))
      expect(scripts).toHaveProperty(script.replace('run ', ''));
  });

  it('shows a job file that passes with the drawings it names', async () => {
    const [text = ''] = fenced('yaml');
    const job = readJob(text, 'samples/kingfisher/readme.dryfit.yaml');
    const { checked } = await runJob(job, { skip: ['fit.spread'] });
    expect(checked.checks.filter((check) => !['pass', 'moot'].includes(check.outcome))).toEqual([]);
  });
});
