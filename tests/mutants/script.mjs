import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { createInstrumenter } from '@stryker-mutator/instrumenter';
import { JestAsymmetricMatchers, JestChaiExpect, JestExtend } from '@vitest/expect';
import * as chai from 'chai';
import { build } from 'esbuild';
import { createInjector } from 'typed-inject';

export const PROJECT = resolve(import.meta.dirname, '../..');
export const KEPT = join(PROJECT, `node_modules/.dryfit-mutants-${process.pid}`);

chai.use(JestExtend);
chai.use(JestChaiExpect);
chai.use(JestAsymmetricMatchers);

export async function instrumented(files) {
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
  return { mutants, texts: new Map(made.files.map(({ name, content }) => [name, plain(content)])) };
}

/**
 * The instrumenter asks by name and by call whether a mutant is on, and counts by call what is reached. Numbers in two
 * places that stay the same are asked and counted many times faster.
 */
function plain(content) {
  return content
    .replace(/stryMutAct_\w+\("(\d+)"\)/g, '(dryfitMutants.on === $1 && dryfitMutants.hit())')
    .replace(
      /stryCov_\w+\(("[^)]*)\)/g,
      (_, ids) =>
        `(${ids
          .match(/\d+/g)
          .map((id) => `dryfitMutants.reached[${id}]++`)
          .join(', ')})`,
    );
}

/** The same without the counting. */
export function uncounted(code) {
  return code.replace(/dryfitMutants\.reached\[\d+\]\+\+/g, '0');
}

/** One script of the area and its tests; what it asks for by `require` are the tests' runner and the rooms below. */
export async function scriptOf(inside, texts, tests) {
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
export async function loaded(code) {
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
  // A test that failed need not look for the smallest thing that makes it fail.
  found.get('fast-check')?.configureGlobal({ endOnFailure: true });
  return found;
}

/** As much of the runner as these tests use; `cases` receives each test's body. */
export function runnerInto(cases) {
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
  for (const key of [
    'stringContaining',
    'stringMatching',
    'objectContaining',
    'arrayContaining',
    'any',
    'closeTo',
  ])
    expect[key] = chai.expect[key];
  // What the tests of these areas prepare is there already.
  return { it, test: it, describe, expect, beforeAll: () => undefined };
}
