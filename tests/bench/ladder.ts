import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { loadClipper } from '../../src/geometry/combine.ts';
import { applyRegion } from '../../src/geometry/motion.ts';
import { open } from '../../src/geometry/offset.ts';
import { reverseRegion } from '../../src/geometry/region.ts';
import { register } from '../../src/geometry/register.ts';
import type { Region, Ring } from '../../src/geometry/shapes.ts';
import { tidy } from '../../src/geometry/tidy.ts';
import { narrowRuns } from '../../src/geometry/width.ts';
import { packed } from '../reference/width-packed.ts';
import { type Size, sizes } from './outlines.ts';

/** Looked for in the width stages, mm. */
const LIMIT = 1;

type Times = Record<string, number | undefined>;

/** Prints how long each stage takes on real outlines of four sizes, and how it grows. */
export async function ladder(folder: string, print: (line: string) => void): Promise<void> {
  await loadClipper();
  print(
    `${cpus()[0]?.model.trim() ?? 'unknown processor'}, ${cpus().length} cores, ${(totalmem() / 2 ** 30).toFixed(0)} GB, Node ${process.version}`,
  );
  print(`coast lines 400 mm across, narrow means under ${LIMIT} mm; milliseconds, the better of two runs\n`);
  const voronoi = compiled(folder);
  const columns = sizes().map((size) => ({ size, times: stages(size, voronoi) }));
  const names = Object.keys(columns[0]?.times ?? {});
  const row = (cells: readonly string[]) =>
    print(cells.map((cell, n) => (n === 0 ? cell.padEnd(34) : cell.padStart(11))).join(''));
  row(['stage', ...columns.map(({ size }) => String(size.vertices)), 'grows as']);
  for (const name of names) {
    const times = columns.map(({ times: all }) => all[name]);
    row([
      name,
      ...times.map((time) => (time === undefined ? '-' : time.toFixed(0))),
      exponent(columns[1]?.size, times[1], columns[3]?.size, times[3]),
    ]);
  }
  print(`\nmemory at the end ${(process.memoryUsage().rss / 2 ** 20).toFixed(0)} MB`);
}

function stages(size: Size, voronoi: ((rings: readonly Ring[]) => number) | undefined): Times {
  const shape = {
    lines: size.rings.map((points) => ({ points, closed: true })),
    fillRule: 'evenodd',
    source: 0,
  } as const;
  let region: Region = { rings: [] };
  const times: Times = {};
  times['tidy'] = best(() => {
    region = tidy([shape]).region;
  });
  const outside = reverseRegion(region);
  times['widths inside'] = best(() => narrowRuns(region.rings, LIMIT));
  times['widths outside'] = best(() => narrowRuns(outside, LIMIT));
  const mirrored = applyRegion({ reflect: true, angle: 1, dx: 30, dy: 5 }, region);
  times['registration'] = best(() => register(region, mirrored, { reflect: true }));
  times['beside it: opening (clipper2-wasm)'] = best(() => open(region, LIMIT / 2));
  times['beside it: segment Voronoi (C++)'] = voronoi?.(region.rings);
  return times;
}

function best(run: () => unknown): number {
  let least = Number.POSITIVE_INFINITY;
  for (let n = 0; n < 2; n++) {
    const start = performance.now();
    run();
    least = Math.min(least, performance.now() - start);
  }
  return least;
}

/** The power of the size that the time grows with, from the second to the last size. */
function exponent(
  small: Size | undefined,
  a: number | undefined,
  large: Size | undefined,
  b: number | undefined,
): string {
  if (!small || !large || !a || !b) return '-';
  return `n^${(Math.log(b / a) / Math.log(large.vertices / small.vertices)).toFixed(2)}`;
}

/** The reference program, when there is a compiler and the Boost headers to build it. */
function compiled(folder: string): ((rings: readonly Ring[]) => number) | undefined {
  const program = join(mkdtempSync(join(tmpdir(), 'dryfit-bench-')), 'segment-voronoi');
  try {
    execFileSync('c++', ['-O2', join(folder, '../reference/segment-voronoi.cpp'), '-o', program], {
      stdio: 'ignore',
    });
  } catch {
    return undefined;
  }
  return (rings) => {
    const file = `${program}.outline`;
    writeFileSync(file, packed(rings));
    const milliseconds = Number(
      execFileSync(program, [file, String(LIMIT), 'times'], { encoding: 'utf8' }).split(' ')[0],
    );
    rmSync(file);
    return milliseconds;
  };
}
