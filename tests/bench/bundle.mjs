import { mkdtempSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

/**
 * Runs sources as they are, without a test runner round them: bundles some export lines, resolved beside `near`,
 * and imports the result. Packages stay outside the bundle and are found from here.
 */
export async function bundle(near, lines) {
  const folder = mkdtempSync(join(import.meta.dirname, '.run-'));
  const outfile = join(folder, 'bundle.mjs');
  try {
    await build({
      stdin: { contents: lines.join('\n'), resolveDir: dirname(near), loader: 'ts' },
      bundle: true,
      platform: 'node',
      format: 'esm',
      target: 'node20',
      packages: 'external',
      outfile,
      logLevel: 'error',
    });
    return await import(pathToFileURL(outfile).href);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
