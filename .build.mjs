// Bundles the command line into a few files (a bare Node start is the budget for a whole check), puts the polygon
// engine's binary beside them and writes the published schemas. Built beside the old and put in its place at once,
// so that a check that runs meanwhile never finds half of it.
import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const require = createRequire(import.meta.url);
const fresh = `.dist-${process.pid}`;
const node = { outdir: fresh, bundle: true, platform: 'node', target: 'node20', legalComments: 'linked' };
const small = { minifySyntax: true, minifyWhitespace: true };
// The command line: one script, so that its compiled code can be kept (see bin/dryfit.js, which gives it what it asks).
await build({
  ...node,
  ...small,
  entryPoints: { cli: 'src/cli/main.ts' },
  outExtension: { '.js': '.cjs' },
  format: 'cjs',
  supported: { 'dynamic-import': false },
  define: { 'import.meta.url': '__here' },
  banner: {
    js: "(function(require,__filename){const __here=require('node:url').pathToFileURL(__filename).href;",
  },
  footer: { js: '})' },
});
// The library, and what other threads run.
await build({
  ...node,
  ...small,
  entryPoints: { 'jobs-hand': 'src/cli/jobs-hand.ts', index: 'src/index.ts' },
  splitting: true,
  format: 'esm',
  banner: { js: "import{createRequire as __cr}from'node:module';const require=__cr(import.meta.url);" },
});
// The program inside an HTML report: one script for browsers.
await build({
  entryPoints: { page: 'src/report/html-page.ts' },
  outdir: fresh,
  bundle: true,
  platform: 'browser',
  format: 'iife',
  target: 'es2022',
  minify: true,
});
copyFileSync(
  join(dirname(require.resolve('clipper2-wasm')), '../es/clipper2z.wasm'),
  join(fresh, 'clipper2z.wasm'),
);

const { jobSchema, reportSchema } = await import(pathToFileURL(join(process.cwd(), fresh, 'index.js')).href);
mkdirSync(join(fresh, 'schema'));
for (const [name, schema] of [
  ['job', jobSchema()],
  ['report', reportSchema()],
])
  writeFileSync(join(fresh, 'schema', `${name}.schema.json`), `${JSON.stringify(schema, null, 2)}\n`);

// The library's types, and only the files that they reach. `npm run types` judges them; here they are written down.
const types = join(fresh, 'types');
const compiler = join('node_modules', 'typescript', 'bin', 'tsc');
spawnSync(process.execPath, [compiler, '-p', '.tsconfig.types.json', '--outDir', types]);
const reached = new Set();
const reach = (file) => {
  if (reached.has(file)) return;
  reached.add(file);
  for (const [, path] of readFileSync(file, 'utf8').matchAll(/from '(\.[^']+)\.ts'/g))
    reach(join(dirname(file), `${path}.d.ts`));
};
reach(join(types, 'src', 'index.d.ts'));
for (const name of readdirSync(types, { recursive: true }).map((path) => join(types, path)))
  if (name.endsWith('.d.ts') && !reached.has(name)) rmSync(name);

const old = `.dist-old-${process.pid}`;
if (existsSync('dist')) renameSync('dist', old);
renameSync(fresh, 'dist');
rmSync(old, { recursive: true, force: true });

// The code that one check of the sample asks for, as the engine has compiled it by its end, for starts to come.
const record = `
  process.argv.splice(1, 0, 'bin/dryfit.js');
  const { renameSync, writeFileSync } = require('node:fs');
  const script = require('./bin/dryfit.js');
  process.on('exit', () => {
    writeFileSync('dist/cli.code.new', script.createCachedData());
    renameSync('dist/cli.code.new', 'dist/cli.code');
  });`;
const sample = 'samples/kingfisher/kingfisher.dryfit.yaml';
const { status, stderr } = spawnSync(process.execPath, ['-e', record, '--', 'check', sample], {
  encoding: 'utf8',
});
if (status !== 0) throw new Error(`The sample cannot be checked with what was built: ${stderr}`);
