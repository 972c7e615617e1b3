// npm run mutants [-- AREA[,...] [COUNT [SEED]]] [-- --file PART-OF-A-PATH]
import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { Stryker } from '@stryker-mutator/core';
import { shuffled } from './sample.mjs';
import { tell, UNHARMED } from './tell.mjs';

/** The judging code, area by area, with the tests that answer for it. */
const AREAS = {
  units: { mutate: 'src/units.ts', tests: ['tests/units*.test.ts'] },
  engine: { mutate: 'src/engine/**/*.ts', tests: ['tests/engine/**/*.test.ts'] },
  rules: { mutate: 'rules/**/*.ts', tests: ['tests/rules/**/*.test.ts'] },
  carve: { mutate: 'src/carve/**/*.ts', tests: ['tests/carve/**/*.test.ts', 'tests/rules/**/*.test.ts'] },
};
const PROJECT = resolve(import.meta.dirname, '../..');
/** What the tests need of the project; a copy of it is changed, never the project. */
const COPIED = ['package.json', 'tsconfig.json', '.vitest.config.ts', 'src', 'rules', 'tests', 'samples'];

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { file: { type: 'string' }, tests: { type: 'string' } },
});
const areas = positionals[0]?.split(',') ?? Object.keys(AREAS);
const count = Number(positionals[1] ?? 400);
const seed = Number(positionals[2] ?? 1);
if (areas.some((area) => !(area in AREAS)) || !(count > 0) || !Number.isFinite(seed))
  throw new Error(`wanted: npm run mutants -- [${Object.keys(AREAS).join(',')}] [count] [seed]`);

async function score(area) {
  const room = mkdtempSync(join(tmpdir(), 'dryfit-mutants-'));
  const root = join(room, 'tree');
  mkdirSync(root);
  for (const name of COPIED) cpSync(join(PROJECT, name), join(root, name), { recursive: true });
  symlinkSync(join(PROJECT, 'node_modules'), join(root, 'node_modules'));
  try {
    const mutants = await tried(area, root);
    writeFileSync(join(root, 'tsconfig.json'), JSON.stringify({ ...TYPES, include: ['src', 'rules'] }));
    const sample = shuffled(mutants, seed).slice(0, count);
    const before = await typesOf(root);
    for (const mutant of sample.filter(({ status }) => UNHARMED.has(status)))
      if (mutant.static && (await failsAtLoading(root, mutant))) mutant.status = 'Killed';
      else if (await refusedByTypes(root, mutant, before)) mutant.status = 'Types';
    tell(area, mutants.length, sample, seed);
  } finally {
    process.chdir(PROJECT);
    rmSync(room, { recursive: true, force: true });
  }
}

/** The project's own settings, but for names left unused: those say nothing about the meaning. */
const TYPES = {
  extends: join(PROJECT, 'tsconfig.json'),
  compilerOptions: { noUnusedLocals: false, noUnusedParameters: false },
};

/** Every mutant of the area with what became of it; those outside the sample were turned away before the tests. */
async function tried(area, root) {
  const { mutate, tests } = AREAS[area];
  writeFileSync(join(root, '.vitest.mutants.ts'), configFor(values.tests?.split(',') ?? tests));
  process.env.DRYFIT_MUTANTS = JSON.stringify({ root, count, seed });
  process.chdir(root);
  const report = join(root, 'mutants.json');
  const stryker = new Stryker({
    mutate: values.file === undefined ? [mutate] : [mutate.replace(/\*\*\/\*\.ts$/, `**/*${values.file}*`)],
    inPlace: true,
    testRunner: 'vitest',
    vitest: { configFile: '.vitest.mutants.ts', related: false },
    plugins: ['@stryker-mutator/vitest-runner', join(import.meta.dirname, 'sample.mjs')],
    checkers: ['sample'],
    coverageAnalysis: 'perTest',
    concurrency: 1,
    timeoutMS: 300_000, // a slow test on a busy machine is no dead mutant; loops without end are caught by counting
    timeoutFactor: 3,
    dryRunTimeoutMinutes: 60,
    tsconfigFile: 'none.json', // the tool reads it through an interface that this compiler no longer has
    tempDirName: join(root, '.stryker'),
    reporters: ['json', 'progress-append-only'],
    jsonReporter: { fileName: report },
    logLevel: 'warn',
    fileLogLevel: 'off',
    allowEmpty: true,
  });
  await stryker.runMutationTest();
  const { files } = JSON.parse(readFileSync(report, 'utf8'));
  return Object.entries(files).flatMap(([file, { mutants, source }]) =>
    mutants.map((mutant) => ({ ...mutant, file, source })),
  );
}

const configFor = (tests) => `import { defineConfig } from 'vitest/config';
export default defineConfig({
  test: { include: ${JSON.stringify(tests)}, setupFiles: ['tests/setup.ts'], testTimeout: 60_000 },
});
`;

/**
 * The tool takes a test file that throws while its tests are being collected for one without failures. Code that
 * runs at that time is therefore asked once more, with the runner itself.
 */
async function failsAtLoading(root, mutant) {
  const path = join(root, mutant.file);
  writeFileSync(path, changed(mutant));
  const runner = join(PROJECT, 'node_modules/vitest/vitest.mjs');
  const failed = await new Promise((done) => {
    const asked = [runner, 'run', '--config', '.vitest.mutants.ts', '--bail', '1', '--maxWorkers', '1'];
    execFile(process.execPath, asked, { cwd: root, timeout: 600_000 }, (error) => done(error !== null));
  });
  writeFileSync(path, mutant.source);
  return failed;
}

/** Would `npm run types` have stopped it: does it say another thing than of the tree as it is? */
async function refusedByTypes(root, mutant, before) {
  const path = join(root, mutant.file);
  writeFileSync(path, changed(mutant));
  const after = await typesOf(root);
  writeFileSync(path, mutant.source);
  return after !== before;
}

function typesOf(root) {
  const tsc = join(PROJECT, 'node_modules/typescript/bin/tsc');
  return new Promise((done) => {
    execFile(process.execPath, [tsc, '-p', root], (_, said) => done(said));
  });
}

function changed({ source, location: { start, end }, replacement }) {
  const lines = source.split('\n');
  const at = ({ line, column }) =>
    lines.slice(0, line - 1).reduce((sum, text) => sum + text.length + 1, 0) + column - 1;
  return source.slice(0, at(start)) + replacement + source.slice(at(end));
}

for (const area of areas) await score(area);
