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
await build({
  entryPoints: { cli: 'src/cli/main.ts', 'jobs-hand': 'src/cli/jobs-hand.ts', index: 'src/index.ts' },
  outdir: fresh,
  bundle: true,
  splitting: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  minifySyntax: true,
  minifyWhitespace: true,
  legalComments: 'linked',
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
