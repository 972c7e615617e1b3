// Bundles the command line into one file (a bare Node start is the budget for a whole check) and puts the
// polygon engine's binary beside it.
import { chmodSync, copyFileSync, existsSync, mkdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { build } from 'esbuild';

const require = createRequire(import.meta.url);
rmSync('dist', { recursive: true, force: true });
mkdirSync('dist', { recursive: true });
await build({
  entryPoints: { cli: 'src/cli/main.ts', index: 'src/index.ts' },
  outdir: 'dist',
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
const engine = join(dirname(require.resolve('clipper2-wasm')), '../es/clipper2z.wasm');
copyFileSync(engine, 'dist/clipper2z.wasm');
if (existsSync('bin/dryfit.js')) chmodSync('bin/dryfit.js', 0o755);
