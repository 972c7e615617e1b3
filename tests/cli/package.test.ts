/** The package as a user gets it: packed, unpacked in an empty folder, with nothing installed beside it. */
import { spawnSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import Ajv from 'ajv';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { parse } from 'yaml';

// Many starts of the program: on a busy machine they take long, and time is nothing that is tested here.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'dryfit-package-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const home = join(folder, 'node_modules', 'dryfit');
const json = (path: string) => JSON.parse(readFileSync(join(home, path), 'utf8'));

function run(command: string, words: readonly string[], cwd = folder) {
  const { status, stdout, stderr } = spawnSync(command, words, { cwd, encoding: 'utf8', timeout: 120_000 });
  return { status, stdout, stderr };
}

function dryfit(...words: string[]) {
  return run(process.execPath, [join(home, 'bin/dryfit.js'), ...words]);
}

beforeAll(() => {
  // The build is what the tests run on already; packing must not swap it from under them.
  const packed = run('npm', ['pack', '--ignore-scripts', '--pack-destination', folder], root);
  expect(packed.status, packed.stderr).toBe(0);
  const tarball = packed.stdout.trim().split('\n').at(-1) as string;
  expect(run('tar', ['-xzf', tarball]).status).toBe(0);
  mkdirSync(join(folder, 'node_modules'));
  renameSync(join(folder, 'package'), home);
});

describe('the package', () => {
  it('holds what users need and nothing else', () => {
    expect(readdirSync(home).sort()).toEqual([
      'README.md',
      'bin',
      'dist',
      'package.json',
      'rules',
      'samples',
      'src',
    ]);
    // Of the sources nothing but the pages of the commands.
    expect(readdirSync(join(home, 'src'))).toEqual(['advice']);
    expect(readdirSync(join(home, 'src/advice')).filter((file) => !file.endsWith('.md'))).toEqual([]);
    const files = readdirSync(home, { recursive: true, encoding: 'utf8' });
    expect(files.filter((file) => /\.test\.|\.tsx?$/.test(file) && !file.endsWith('.d.ts'))).toEqual([]);
    for (const file of [
      'dist/clipper2z.wasm',
      'dist/jobs-hand.js',
      'rules/pair/mirror.md',
      'samples/kingfisher/kingfisher.svg',
    ])
      expect(files.map((path) => path.replaceAll('\\', '/'))).toContain(file);
  });

  it('checks, explains and teaches with nothing installed beside it', () => {
    const job = join(home, 'samples/kingfisher/kingfisher.dryfit.yaml');
    const one = dryfit('check', job);
    expect(one.stderr).toBe('');
    expect(one.stdout).toMatch(/^DRY FIT {2}Tea tray, kingfisher +PASS/);
    const two = dryfit(
      'check',
      job,
      join(home, 'samples/pair.mirror/pair.mirror.dryfit.yaml'),
      '--only',
      'pair.mirror',
    );
    expect(two.stdout).toMatch(/^PASS [^\n]+\nFAIL /);
    expect(two.status).toBe(1);
    for (const words of [['explain', 'depth.glue'], ['lesson'], ['--version']]) {
      const answer = dryfit(...words);
      expect(answer.status, answer.stderr).toBe(0);
      expect(answer.stdout).not.toBe('');
    }
  });

  it('is a library with types, judged by the compiler and by running it', () => {
    writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
    const use = (refusal: string) => `
import { type Answer, check, InputFault, InputFaults, jobSchema, type JudgedReading } from 'dryfit';
try {
  const { answer, checks } = await check(${JSON.stringify(join(home, 'samples/fern-lid/fern-lid.dryfit.yaml'))}, { only: ['depth.glue'] });
  const told: Answer = answer;
  const readings: readonly JudgedReading[] = checks.flatMap((asked) => asked.readings);
  ${refusal}
  console.log(told, readings[0]?.measured.unit, typeof jobSchema());
  await check('nowhere.dryfit.yaml');
} catch (error) {
  console.log(error instanceof InputFault || error instanceof InputFaults);
}
`;
    const compiler = join(root, 'node_modules/typescript/bin/tsc');
    const types = join(root, 'node_modules/@types');
    const compile = (name: string, text: string) => {
      writeFileSync(join(folder, name), text);
      const words = ['--strict', '--target', 'es2023', '--module', 'nodenext', '--skipLibCheck', 'false'];
      return run(process.execPath, [compiler, name, ...words, '--typeRoots', types, '--types', 'node']);
    };
    const good = compile('use.ts', use(''));
    expect(good.stdout).toBe('');
    const refused = compile('misuse.ts', use('const wrong: number = answer;'));
    expect(refused.stdout).toContain("Type 'string' is not assignable to type 'number'");
    const ran = run(process.execPath, ['use.js']);
    expect(ran.stderr).toBe('');
    expect(ran.stdout).toBe('care mm object\ntrue\n');
  });

  it('carries both schemas under names that can be asked for, and its samples and reports keep to them', () => {
    const asked = run(process.execPath, [
      '--input-type=module',
      '-e',
      "for (const s of ['job', 'report']) console.log(import.meta.resolve('dryfit/schema/' + s + '.schema.json'));",
    ]);
    expect(
      asked.stdout
        .trim()
        .split('\n')
        .map((url) => url.replace(/.*\/node_modules\//, '')),
    ).toEqual(['dryfit/dist/schema/job.schema.json', 'dryfit/dist/schema/report.schema.json']);
    const ajv = new Ajv({ strict: false });
    const isJob = ajv.compile(json('dist/schema/job.schema.json'));
    for (const name of readdirSync(join(home, 'samples'))) {
      const job = parse(readFileSync(join(home, 'samples', name, `${name}.dryfit.yaml`), 'utf8'));
      expect(isJob(job), `${name}: ${ajv.errorsText(isJob.errors)}`).toBe(true);
    }
    expect(isJob({ units: 'mm' })).toBe(false);
    const isReport = ajv.compile(json('dist/schema/report.schema.json'));
    const { stdout } = dryfit(
      'check',
      join(home, 'samples/fern-lid/fern-lid.dryfit.yaml'),
      'nowhere.yaml',
      '--only',
      'pair.mirror',
      '--format',
      'json',
    );
    expect(isReport(JSON.parse(stdout)), ajv.errorsText(isReport.errors)).toBe(true);
    expect(isReport({ answer: 'pass' })).toBe(false);
  });
});
