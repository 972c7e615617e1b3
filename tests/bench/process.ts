import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { goodJob, mirrored, svg, withValues } from '../pairs.ts';
import { exponent } from './ladder.ts';
import { coastSizes, type Size } from './outlines.ts';

/** What asks for the plug pressed home, directly or by the way. */
const FIT = 'fit.proud,fit.rim,fit.spread,glue.wall,depth.glue';

/** Told by every process that is measured, as it ends. */
const USAGE = `data:text/javascript,process.on('exit',()=>{const u=process.resourceUsage();process.stderr.write('\\n'+JSON.stringify([(u.userCPUTime+u.systemCPUTime)/1e6,u.maxRSS/1024]))})`;

interface Usage {
  /** Processor seconds, all threads, and the same as times a bare start of Node. */
  readonly seconds: number;
  readonly megabytes: number;
  readonly wall: number;
  readonly status: number | null;
  /** What it has to say against its input, or the sheet. */
  readonly says: string;
}

/** Prints what whole checks cost beside a bare start of Node: medians, taken in turn so that load meets all alike. */
export function processes(root: string, print: (line: string) => void): void {
  const folder = mkdtempSync(join(tmpdir(), 'dryfit-bench-'));
  const dryfit = join(root, 'bin/dryfit.js');
  const check = (job: string, ...more: string[]) => [dryfit, 'check', job, ...more];
  const sample = join(root, 'samples/kingfisher/kingfisher.dryfit.yaml');
  const icon = writePair(folder, 'icon', ornate());
  const home = writePair(folder, 'home', inRows(Array.from({ length: 20 }, longest)));
  const held = writePair(folder, 'held', inRows(manyIcons()));
  const [, small, middle, large] = coastSizes() as readonly [Size, Size, Size, Size];
  const coast = (name: string, size: Size) => writePair(folder, name, coastDrawing(size));
  const [few, coasts, most] = [coast('few', small), coast('coast', middle), coast('most', large)];
  const calls: readonly (readonly [name: string, runs: number, words: readonly string[]])[] = [
    ['bare node -e 0', 7, ['-e', '0']],
    ['sample kingfisher', 7, check(sample)],
    ['ornate icon, without the fit', 5, check(icon, '--skip', FIT)],
    ['ornate icon', 5, check(icon)],
    [FEW, 3, check(few, '--skip', FIT)],
    ['59 k coast, without the fit', 1, check(coasts, '--skip', FIT)],
    ['59 k coast (cannot seat)', 1, check(coasts)],
    ['ornate icon 20 times, no fit', 1, check(home, '--skip', FIT)],
    ['ornate icon 20 times, goes home', 1, check(home)],
    ['60 k icons, held, mends tried', 1, check(held)],
    [MOST, 1, check(most, '--skip', FIT)],
  ];
  print(cells('whole process', 'cpu s', 'x bare', 'wall s', 'MB'));
  const spent = new Map<string, number>();
  let bare = Number.NaN;
  for (const [name, runs, words] of calls) {
    const { seconds, wall, megabytes, status, says } = median(Array.from({ length: runs }, () => run(words)));
    if (Number.isNaN(bare)) bare = seconds;
    print(
      cells(name, seconds.toFixed(2), (seconds / bare).toFixed(1), wall.toFixed(2), megabytes.toFixed(0)),
    );
    if (status === 0 || status === 1) spent.set(name, seconds - bare);
    else print(`  no answer: ${says.slice(0, 200)}`);
  }
  const power = exponent(small, spent.get(FEW), large, spent.get(MOST));
  print(`growth of a whole check from ${small.vertices} to ${large.vertices} vertices: ${power}`);
  rmSync(folder, { recursive: true });
}

const FEW = '5 k coast, without the fit';
const MOST = '409 k coast, without the fit';

/** A line of the table. */
export function cells(name: string, ...rest: readonly string[]): string {
  return name.padEnd(34) + rest.map((cell) => cell.padStart(11)).join('');
}

/** Runs Node with these words and tells what it cost, once it has ended of itself. */
export function run(words: readonly string[]): Usage {
  const start = performance.now();
  const { stdout, stderr, status } = spawnSync(process.execPath, ['--import', USAGE, ...words], {
    encoding: 'utf8',
    maxBuffer: 1 << 30,
  });
  const wall = (performance.now() - start) / 1000;
  const told = stderr.trim().split('\n');
  const [seconds, megabytes] = JSON.parse(told.at(-1) as string) as [number, number];
  const says = [...told.slice(0, -1), stdout].join(' ').replace(/\s+/g, ' ').trim();
  return { seconds, megabytes, wall, status, says };
}

function median(usages: readonly Usage[]): Usage {
  return [...usages].sort((a, b) => a.seconds - b.seconds)[usages.length >> 1] as Usage;
}

interface Drawing {
  readonly inner: string;
  readonly width: number;
  readonly height: number;
}

/** A job beside its two drawings, the plug's mirrored left to right; the path of the job. */
function writePair(folder: string, name: string, { inner, width, height }: Drawing): string {
  const frame = `width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}"`;
  const turned = mirrored(inner).replace('translate(100 0)', `translate(${width} 0)`);
  writeFileSync(join(folder, `${name}.svg`), svg(inner, frame));
  writeFileSync(join(folder, `${name}-plug.svg`), svg(turned, frame));
  const job = withValues(goodJob(), {
    'pocket.outline': `${name}.svg`,
    'plug.outline': `${name}-plug.svg`,
    'plug.stock.width': 2 * width,
    'plug.stock.length': 2 * height,
  });
  const path = join(folder, `${name}.dryfit.yaml`);
  writeFileSync(path, JSON.stringify(job));
  return path;
}

/** What draws each icon, by name: @iconify-json/game-icons (CC-BY-3.0). */
function iconBodies(): Readonly<Record<string, string>> {
  const set = createRequire(import.meta.url)('@iconify-json/game-icons/icons.json') as {
    icons: Record<string, { body: string }>;
  };
  return Object.fromEntries(Object.entries(set.icons).map(([name, { body }]) => [name, body]));
}

function longest(): string {
  return Object.values(iconBodies()).reduce((a, b) => (b.length > a.length ? b : a));
}

/** Of the icons with the longest drawings those whose plug goes in to a quarter of a millimetre: 60,000 vertices. */
function manyIcons(): readonly string[] {
  const names =
    'abstract-066 abstract-036 abstract-053 wavy-chains coins puzzle fish-scales coins-pile abstract-083 ' +
    'meeple-group abstract-002 tree-face wood-pile meeple-army stegosaurus-scales corn caduceus ' +
    'transparent-slime laurel-crown megabot caesar abstract-112 abstract-020 spiked-trunk abstract-001';
  const bodies = iconBodies();
  return names.split(' ').map((name) => bodies[name] as string);
}

/** mm from icon to icon, and how much of it an icon takes. */
const PITCH = 160;
const WIDE = 150;

/** Icons set out in rows of five as one inlay. */
function inRows(bodies: readonly string[]): Drawing {
  const placed = bodies.map((body, k) => {
    const at = `translate(${PITCH * (k % 5)} ${PITCH * Math.floor(k / 5)})`;
    return `<g transform="${at} scale(${WIDE / 512})">${body}</g>`;
  });
  return { inner: placed.join('\n'), width: 5 * PITCH, height: PITCH * Math.ceil(bodies.length / 5) };
}

/** The icon with the longest drawing. */
function ornate(): Drawing {
  return { inner: `<g transform="scale(${WIDE / 512})">${longest()}</g>`, width: WIDE, height: WIDE };
}

function coastDrawing({ rings }: Size): Drawing {
  const path = rings.map((ring) => `M${Array.from(ring, (v) => v.toFixed(5)).join(' ')}Z`).join('');
  return { inner: `<path fill-rule="evenodd" d="${path}"/>`, width: 400, height: 200 };
}
