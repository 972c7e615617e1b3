// npm run mutants:quick [-- AREA[,...] [COUNT [SEED]]] [--tests FILE,...]
import { mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import vm from 'node:vm';
import { createInstrumenter } from '@stryker-mutator/instrumenter';
import { JestAsymmetricMatchers, JestChaiExpect, JestExtend } from '@vitest/expect';
import * as chai from 'chai';
import { build } from 'esbuild';
import { createInjector } from 'typed-inject';
import { shuffled } from './sample.mjs';
import { tell } from './tell.mjs';

/**
 * The same mutants as run.mjs, in one process: all of an area's mutants stand side by side in one script with its tests,
 * one is switched on at a time, and only the tests that reach it are run, the quick ones first. What lies below the
 * area is loaded once, and facts that no mutant of the area can change are worked out once. Much quicker than starting
 * the runner for each; what is left alive here is left alive there.
 */
const AREAS = {
  units: { files: ['src/units.ts'], tests: ['tests'], only: /^tests\/units[^/]*\.test\.ts$/ },
  engine: { files: ['src/engine'], tests: ['tests/engine'] },
  rules: { files: ['rules'], tests: ['tests/rules'], keepsFacts: true },
  carve: { files: ['src/carve'], tests: ['tests/carve', 'tests/rules'] },
};
/** Rooms that stand in the script itself, beside the area; all others are loaded once. */
const INSIDE = {
  units: /./,
  engine: /\/(engine|tests)\//,
  rules: /\/(rules|tests)\//,
  carve: /\/(carve|rules|tests)\//,
};
const PROJECT = resolve(import.meta.dirname, '../..');
const KEPT = join(PROJECT, `node_modules/.dryfit-mutants-${process.pid}`);
/** A mutated loop that goes round so often has no end. */
const MOST_HITS = 2e7;
/** Processor time that is none, microseconds. */
const NO_TIME = 20_000;

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: { tests: { type: 'string' }, file: { type: 'string' } },
});
const areas = positionals[0]?.split(',') ?? Object.keys(AREAS);
const [count, seed] = [Number(positionals[1] ?? Number.POSITIVE_INFINITY), Number(positionals[2] ?? 1)];
chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

function listed(paths, ending) {
  return paths.flatMap((path) =>
    path.endsWith('.ts')
      ? [path]
      : readdirSync(join(PROJECT, path), { recursive: true })
          .filter((name) => name.endsWith(ending))
          .map((name) => join(path, name)),
  );
}

async function instrumented(files) {
  const silent = new Proxy({}, { get: () => () => false });
  const instrumenter = createInjector().provideValue('logger', silent).injectFunction(createInstrumenter);
  const sources = files.map((file) => ({
    name: join(PROJECT, file),
    content: readFileSync(join(PROJECT, file), 'utf8'),
    mutate: true,
  }));
  const made = await instrumenter.instrument(sources, { plugins: null, excludedMutations: [], ignorers: [] });
  const mutants = made.mutants.map((mutant) => ({
    ...mutant,
    file: mutant.fileName.slice(PROJECT.length + 1),
    source: sources.find(({ name }) => name === mutant.fileName).content,
    location: {
      start: { line: mutant.location.start.line + 1, column: mutant.location.start.column + 1 },
      end: { line: mutant.location.end.line + 1, column: mutant.location.end.column + 1 },
    },
  }));
  return { mutants, texts: new Map(made.files.map(({ name, content }) => [name, content])) };
}

/** One script of the area and its tests; what it asks for by `require` are the tests' runner and the rooms below. */
async function scriptOf(area, texts, tests) {
  const inside = INSIDE[area];
  const plugin = {
    name: 'mutants',
    setup(bundler) {
      bundler.onResolve({ filter: /^\./ }, ({ importer, path }) => {
        const target = resolve(dirname(importer), path);
        if (importer === '' || inside.test(target.slice(PROJECT.length)) || !path.endsWith('.ts'))
          return undefined;
        return { path: `below:${target}`, external: true };
      });
      bundler.onLoad({ filter: /\.ts$/ }, ({ path }) => ({
        loader: 'ts',
        contents: (texts.get(path) ?? readFileSync(path, 'utf8'))
          .replaceAll('import.meta.url', JSON.stringify(pathToFileURL(path).href))
          .replaceAll('import.meta.dirname', JSON.stringify(dirname(path)))
          .replace(/^await loadClipper\(\);$/m, ''),
      }));
    },
  };
  const { outputFiles } = await build({
    stdin: {
      contents: tests.map((test) => `import './${test}';`).join('\n'),
      resolveDir: PROJECT,
      loader: 'ts',
    },
    bundle: true,
    write: false,
    format: 'cjs',
    platform: 'node',
    target: 'node20',
    packages: 'external',
    logLevel: 'error',
    plugins: [plugin],
  });
  return outputFiles[0].text;
}

/** Everything the script asks for, loaded: packages, and the rooms below as one bundle. */
async function loaded(code) {
  const names = [...new Set([...code.matchAll(/require\("([^"]+)"\)/g)].map(([, name]) => name))];
  const below = names.filter((name) => name.startsWith('below:')).map((name) => name.slice(6));
  mkdirSync(KEPT, { recursive: true });
  const outfile = join(KEPT, 'below.mjs');
  await build({
    stdin: {
      contents: [
        ...below.map((path, k) => `import * as m${k} from ${JSON.stringify(path)};`),
        `export { loadClipper } from ${JSON.stringify(join(PROJECT, 'src/geometry/combine.ts'))};`,
        `export const rooms = { ${below.map((path, k) => `${JSON.stringify(`below:${path}`)}: m${k}`).join(', ')} };`,
      ].join('\n'),
      resolveDir: PROJECT,
      loader: 'ts',
    },
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    packages: 'external',
    logLevel: 'error',
    outfile,
  });
  const { rooms, loadClipper } = await import(pathToFileURL(outfile).href);
  await loadClipper();
  const require = createRequire(import.meta.url);
  const found = new Map(Object.entries(rooms));
  for (const name of names.filter((one) => one !== 'vitest' && !one.startsWith('below:')))
    found.set(name, name.endsWith('.json') ? require(name) : await import(name));
  return found;
}

/** As much of the runner as these tests use; `cases` receives each test's body. */
function runnerInto(cases) {
  const each = (table, run) => table.map((row) => () => run(...(Array.isArray(row) ? row : [row])));
  const it = (_, run) => cases.push(run);
  it.each = (table) => (_, run) => cases.push(...each(table, run));
  const describe = (_, body) => body();
  describe.each = (table) => (_, body) => {
    for (const run of each(table, body)) run();
  };
  describe.skipIf = (skip) => (skip ? () => undefined : describe);
  const expect = (value, message) => {
    const asserted = chai.expect(value, message);
    return new Proxy(asserted, {
      get: (target, key) =>
        key === 'toMatchFileSnapshot'
          ? (file) => chai.expect(value).toBe(readFileSync(file, 'utf8'))
          : target[key],
    });
  };
  for (const key of ['stringContaining', 'stringMatching', 'objectContaining', 'any'])
    expect[key] = chai.expect[key];
  return { it, test: it, describe, expect };
}

async function score(area) {
  const { files, tests, only, keepsFacts } = AREAS[area];
  globalThis.dryfitFacts = keepsFacts ? new Map() : undefined;
  const chosen =
    values.tests?.split(',') ?? listed(tests, '.test.ts').filter((test) => only?.test(test) ?? true);
  const wanted = listed(files, '.ts').filter((file) => file.includes(values.file ?? ''));
  const { mutants, texts } = await instrumented(wanted);
  const code = await scriptOf(area, texts, chosen);
  const found = await loaded(code);
  const cases = [];
  const runner = runnerInto(cases);
  globalThis.dryfitRequire = (name) => (name === 'vitest' ? runner : found.get(name));
  const script = new vm.Script(`(function (require, module) {${code}\n})(dryfitRequire, { exports: {} });`);
  const switches = {};
  globalThis.__stryker__ = switches;
  const load = () => {
    cases.length = 0;
    script.runInThisContext();
  };
  load();
  const took = [];
  for (const [k, run] of cases.entries()) {
    const start = process.cpuUsage().user;
    switches.currentTestId = String(k);
    await run();
    took.push(process.cpuUsage().user - start);
  }
  switches.currentTestId = undefined;
  const { perTest, static: atLoading } = switches.mutantCoverage;
  const reached = (id) =>
    cases.flatMap((_, k) => (perTest[k]?.[id] > 0 ? [k] : [])).sort((a, b) => took[a] - took[b]);
  const fileOf = new Map(mutants.map(({ id, file }) => [id, file]));
  const enters = cases.map(
    (_, k) =>
      new Set(Object.entries(perTest[k] ?? {}).flatMap(([id, times]) => (times > 0 ? [fileOf.get(id)] : []))),
  );
  // What is set at loading may matter to any test: first come those that take no time or enter its file.
  const late = (k, file) => Number(!(took[k] < NO_TIME || enters[k].has(file)));
  const all = (file) =>
    took.map((_, k) => k).sort((a, b) => late(a, file) - late(b, file) || took[a] - took[b]);
  const sample = shuffled(mutants, seed).slice(0, count);
  let done = 0;
  for (const mutant of sample) {
    const early = atLoading[mutant.id] > 0;
    const which = early ? all(mutant.file) : reached(mutant.id);
    mutant.status = which.length === 0 ? 'NoCoverage' : await fate(mutant, early, which);
    if (++done % 100 === 0) process.stderr.write(`${area}: ${done} of ${sample.length}\n`);
  }
  tell(area, mutants.length, sample, seed);

  async function fate({ id }, early, which) {
    Object.assign(switches, { activeMutant: id, hitCount: 0, hitLimit: MOST_HITS });
    try {
      if (early) load();
      for (const k of which) await cases[k]();
      return 'Survived';
    } catch {
      return switches.hitCount > MOST_HITS ? 'Timeout' : 'Killed';
    } finally {
      switches.activeMutant = undefined;
      switches.hitLimit = undefined;
      if (early) load();
    }
  }
}

for (const area of areas) await score(area);
rmSync(KEPT, { recursive: true, force: true });
