/**
 * Outlines nobody here drew, made into pairs and put through the real command line: icons of @mapbox/maki (CC0-1.0)
 * and @iconify-json/game-icons (CC-BY-3.0), both from the package registry, none with a company's mark.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const require = createRequire(import.meta.url);
const folder = mkdtempSync(join(tmpdir(), 'dryfit-pairs-'));
const SIZE = 120; // mm
const MIRROR_LIMIT = 0.05; // mm, mirror-deviation-most and rim-gap-most

interface Icon {
  readonly name: string;
  readonly viewBox: string;
  readonly body: string;
}

interface Record {
  readonly job: string;
  readonly answer: string;
  readonly checks: readonly {
    readonly id: string;
    readonly outcome: string;
    readonly readings: readonly { readonly says: string; readonly measured: { readonly value: number } }[];
  }[];
}

function icons(): Icon[] {
  const makiFolder = join(dirname(require.resolve('@mapbox/maki/package.json')), 'icons');
  const maki = readdirSync(makiFolder)
    .filter((name) => name.endsWith('.svg'))
    .sort()
    .filter((_, index) => index % 2 === 0)
    .map((name) => {
      const text = readFileSync(join(makiFolder, name), 'utf8');
      return {
        name: `maki-${name.replace('.svg', '')}`,
        viewBox: /viewBox="([^"]+)"/.exec(text)?.[1] ?? '0 0 15 15',
        body: text.replace(/^[\s\S]*?<svg[^>]*>/, '').replace(/<\/svg>[\s\S]*$/, ''),
      };
    });
  const set = require('@iconify-json/game-icons/icons.json') as {
    icons: { [name: string]: { body: string } };
  };
  const names = Object.keys(set.icons).sort();
  const game = names
    .filter((_, index) => index % Math.floor(names.length / 110) === 0)
    .map((name) => ({ name: `game-${name}`, viewBox: '0 0 512 512', body: set.icons[name]?.body ?? '' }));
  return [...maki, ...game];
}

/** An icon as a drawing, `inner` being the transform of its content in the icon's own units. */
function drawing(icon: Icon, inner: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${SIZE}mm" height="${SIZE}mm" viewBox="${icon.viewBox}"><g transform="${inner}">${icon.body}</g></svg>\n`;
}

function job(pocket: string, plug: string): string {
  return [
    'title: A pair from an icon',
    'units: mm',
    `pocket: { outline: ${pocket}, flat-depth: 7.6, stock: { thickness: 19 } }`,
    `plug: { outline: ${plug}, start-depth: 5, flat-depth: 2.6, stock: { thickness: 15 } }`,
    'bit: { angle: 30, tip-flat: 0.1, cutting-length: 20, cutting-diameter: 6.35 }',
    '',
  ].join('\n');
}

const KINDS = ['mirror', 'copy', 'scaled'] as const;
const all = icons();
const answers = new Map<string, Record>();

beforeAll(() => {
  const jobs: string[] = [];
  for (const icon of all) {
    const size = Number(icon.viewBox.split(/[\s,]+/)[2]);
    const place = join(folder, icon.name);
    mkdirSync(place);
    writeFileSync(join(place, 'pocket.svg'), drawing(icon, 'translate(0 0)'));
    writeFileSync(join(place, 'mirror.svg'), drawing(icon, `translate(${size} 0) scale(-1 1)`));
    writeFileSync(join(place, 'copy.svg'), drawing(icon, 'translate(0 0)'));
    writeFileSync(join(place, 'scaled.svg'), drawing(icon, `translate(${size} 0) scale(-1.005 1.005)`));
    for (const kind of KINDS) {
      const file = join(place, `${kind}.dryfit.yaml`);
      writeFileSync(file, job('pocket.svg', `${kind}.svg`));
      jobs.push(file);
    }
  }
  for (let from = 0; from < jobs.length; from += 150) {
    const batch = jobs.slice(from, from + 150);
    const only = 'artwork.read,artwork.closed,pair.mirror,pair.match';
    const run = spawnSync(
      process.execPath,
      [join(root, 'bin/dryfit.js'), 'check', '--format', 'json', '--only', only, ...batch],
      { encoding: 'utf8', maxBuffer: 1 << 28, timeout: 300_000 },
    );
    expect(run.stderr, 'nothing is said of trouble').toBe('');
    expect(run.stdout).not.toMatch(/Error|undefined|\bNaN\b/);
    for (const record of JSON.parse(run.stdout) as Record[]) answers.set(record.job, record);
  }
}, 600_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const check = (icon: Icon, kind: (typeof KINDS)[number], id: string) =>
  answers.get(join(folder, icon.name, `${kind}.dryfit.yaml`))?.checks.find((one) => one.id === id);

describe(`pairs from ${all.length} icons`, () => {
  it('are more than two hundred, and every one got an answer', () => {
    expect(all.length).toBeGreaterThanOrEqual(200);
    expect(answers.size).toBe(all.length * KINDS.length);
  });

  it('pass pair.mirror and pair.match as true mirrors', () => {
    const blamed = all.filter(
      (icon) =>
        check(icon, 'mirror', 'pair.mirror')?.outcome !== 'pass' ||
        check(icon, 'mirror', 'pair.match')?.outcome !== 'pass',
    );
    expect(blamed.map((icon) => icon.name)).toEqual([]);
  });

  it('fail pair.mirror as copies, unless the icon is its own mirror image', () => {
    const own: string[] = [];
    const missed: string[] = [];
    for (const icon of all) {
      const copied = check(icon, 'copy', 'pair.mirror');
      if (copied?.outcome === 'fail') continue;
      if ((copied?.readings[0]?.measured.value ?? Number.NaN) <= MIRROR_LIMIT + 0.02) own.push(icon.name);
      else missed.push(icon.name);
    }
    expect(missed).toEqual([]);
    // Seen here: about a fifth of such icons are symmetric; all of them would mean that copies pass.
    expect(own.length).toBeLessThan(all.length / 2);
  });

  it('fail pair.match when the plug is half a percent too large', () => {
    const missed = all.filter((icon) => check(icon, 'scaled', 'pair.match')?.outcome !== 'fail');
    expect(missed.map((icon) => icon.name)).toEqual([]);
  });
});
