import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { readArtwork } from '../../src/artwork/read.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { applyRegion } from '../../src/geometry/motion.ts';
import { open } from '../../src/geometry/offset.ts';
import { reverseRegion } from '../../src/geometry/region.ts';
import { register } from '../../src/geometry/register.ts';
import { boxOf } from '../../src/geometry/ring.ts';
import type { RawShape, Region, Ring } from '../../src/geometry/shapes.ts';
import { tidy } from '../../src/geometry/tidy.ts';
import { narrowRuns } from '../../src/geometry/width.ts';
import { packed } from '../reference/width-packed.ts';
import { coastSizes, designSizes, type Size } from './outlines.ts';

/** Looked for in the width stages, mm. */
const LIMIT = 1;

/** Opening a larger outline than this takes many minutes, so the references are left out there. */
const MOST_BESIDE = 200_000;

type Times = Record<string, number>;
/** Processor milliseconds of the reference program on an outline. */
type Voronoi = (rings: readonly Ring[]) => number;

/** Prints how long each stage takes on outlines of several sizes, and how the time grows. */
export async function ladder(folder: string, print: (line: string) => void): Promise<void> {
  await loadClipper();
  const memory = (totalmem() / 2 ** 30).toFixed(0);
  print(
    `${cpus()[0]?.model.trim() ?? 'unknown processor'}, ${cpus().length} cores, ${memory} GB, Node ${process.version}`,
  );
  print(`narrow means under ${LIMIT} mm; processor milliseconds of this process`);
  const voronoi = compiled(folder);
  if (!voronoi) print('no C++ compiler or no Boost headers here: the segment Voronoi diagram was not run');
  for (const sizes of [designSizes(), coastSizes()]) {
    const columns: Column[] = [];
    for (const size of sizes) {
      print(`\n${size.name}, ${size.vertices} vertices`);
      columns.push({ size, times: stages(size, voronoi, print) });
    }
    growth(columns, print);
  }
  print(`\nlargest memory ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB`);
}

interface Column {
  readonly size: Size;
  readonly times: Times;
}

function growth(columns: readonly Column[], print: (line: string) => void): void {
  const small = columns[1];
  const large = columns.at(-1);
  if (!small || !large) return;
  print(`\n${small.size.name}: growth from ${small.size.vertices} to ${large.size.vertices} vertices`);
  for (const stage of Object.keys(small.times)) {
    print(
      `  ${stage.padEnd(36)}${exponent(small.size, small.times[stage], large.size, large.times[stage]).padStart(8)}`,
    );
  }
}

function stages(size: Size, voronoi: Voronoi | undefined, print: (line: string) => void): Times {
  const times: Times = {};
  const tell = (stage: string, spent: number) => {
    times[stage] = spent;
    print(`  ${stage.padEnd(36)}${spent.toFixed(0).padStart(8)}`);
  };
  const file = new TextEncoder().encode(drawing(size.rings));
  let shapes: readonly RawShape[] = [];
  let region: Region = { rings: [] };
  const read = () => {
    shapes = readArtwork(file, 'bench.svg').shapes;
  };
  tell('read', time(read));
  const clean = () => {
    region = tidy(shapes).region;
  };
  tell('tidy', time(clean));
  const outside = reverseRegion(region);
  tell(
    'widths inside',
    time(() => narrowRuns(region.rings, LIMIT)),
  );
  tell(
    'widths outside',
    time(() => narrowRuns(outside, LIMIT)),
  );
  const mirrored = applyRegion({ reflect: true, angle: 1, dx: 30, dy: 5 }, region);
  tell(
    'registration',
    time(() => register(region, mirrored, { reflect: true })),
  );
  if (size.vertices > MOST_BESIDE) return times;
  tell(
    'beside it: opening, clipper2-wasm',
    time(() => open(region, LIMIT / 2)),
  );
  if (voronoi) tell('beside it: segment Voronoi, C++', voronoi(region.rings));
  return times;
}

function drawing(rings: readonly Ring[]): string {
  const box = boxOf(rings);
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const path = rings.map((ring) => {
    const points = Array.from(
      { length: ring.length / 2 },
      (_, k) => `${ring[2 * k]?.toFixed(5)},${ring[2 * k + 1]?.toFixed(5)}`,
    );
    return `M${points.join('L')}Z`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="${box.minX} ${box.minY} ${width} ${height}"><path fill-rule="evenodd" d="${path.join('')}"/></svg>`;
}

/** Processor time, since others may be using the machine; the second run of two when the first was short. */
function time(run: () => unknown): number {
  const once = () => {
    const before = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000;
  };
  const first = once();
  return first > 2000 ? first : Math.min(first, once());
}

/** The power of the size that the time grows with, from the second to the last size. */
export function exponent(small: Size, a: number | undefined, large: Size, b: number | undefined): string {
  if (!a || !b) return '-';
  return `n^${(Math.log(b / a) / Math.log(large.vertices / small.vertices)).toFixed(2)}`;
}

/** The reference program, when there is a compiler and the Boost headers to build it. */
function compiled(folder: string): Voronoi | undefined {
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
