// Records tests/reference/widths.json anew: node tests/reference/record-widths.mjs
// Needs a C++ compiler and the Boost headers (libboost-dev or like).
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundle } from '../bench/bundle.mjs';

const LIMIT = 4; // mm
const KEPT = 12;

const here = import.meta.dirname;
const folder = mkdtempSync(join(tmpdir(), 'dryfit-widths-'));
try {
  const { loadClipper, outlines, packed } = await bundle(join(here, 'width-outlines.ts'), [
    "export { loadClipper } from '../../src/geometry/combine.ts';",
    "export { outlines } from './width-outlines.ts';",
    "export { packed } from './width-packed.ts';",
  ]);
  await loadClipper();
  execFileSync('c++', ['-O2', join(here, 'segment-voronoi.cpp'), '-o', join(folder, 'segment-voronoi')]);
  const found = outlines().map(({ name, rings }) => {
    writeFileSync(join(folder, 'outline'), packed(rings));
    const lines = execFileSync(join(folder, 'segment-voronoi'), [join(folder, 'outline'), String(LIMIT)], {
      encoding: 'utf8',
    });
    const necks = lines
      .trim()
      .split('\n')
      .filter(Boolean)
      .map((line) => line.split(' ').map(Number));
    necks.sort((a, b) => a[2] - b[2] || a[0] - b[0] || a[1] - b[1]);
    const segments = rings.reduce((sum, ring) => sum + ring.length / 2, 0);
    return { name, segments, count: necks.length, necks: necks.slice(0, KEPT) };
  });
  const head = {
    what: 'Narrowest places [x, y, width] in mm of real outlines under the limit, least first, by an exact segment Voronoi diagram',
    again: 'node tests/reference/record-widths.mjs',
    source: 'Boost.Polygon voronoi_diagram, whole nanometres; see segment-voronoi.cpp',
    limit: LIMIT,
  };
  const rows = found.map((row) => `    ${JSON.stringify(row)}`).join(',\n');
  writeFileSync(
    join(here, 'widths.json'),
    `${JSON.stringify(head, null, 2).slice(0, -2)},\n  "outlines": [\n${rows}\n  ]\n}\n`,
  );
  process.stdout.write(`${found.length} outlines recorded\n`);
} finally {
  rmSync(folder, { recursive: true });
}
