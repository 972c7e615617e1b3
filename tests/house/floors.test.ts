import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');

/** The rooms from the ground up; rooms on one floor do not know each other. Nobody imports upward. */
const STOREYS: readonly (readonly string[])[] = [
  ['src/fault.ts'],
  ['src/units.ts'],
  ['src/geometry', 'src/wood'],
  ['src/job', 'src/artwork'],
  ['src/carve'],
  ['src/engine'],
  ['rules'],
  ['src/advice'],
  ['src/report'],
  ['src/cli'],
  ['src/index.ts'],
];

/** Those that stand so high and still do without a room below them. */
const WITHOUT: Readonly<Record<string, readonly string[]>> = { 'src/artwork': ['src/wood'] };

/** Each room, and the rooms below it that it may use. */
const FLOORS: Readonly<Record<string, readonly string[]>> = Object.fromEntries(
  STOREYS.flatMap((rooms, storey) =>
    rooms.map((room) => [
      room,
      STOREYS.slice(0, storey)
        .flat()
        .filter((below) => !WITHOUT[room]?.includes(below)),
    ]),
  ),
);

/** Each library from outside is wrapped by one file, which speaks our types. */
const WRAPPED = [
  'commander',
  'svgson',
  'saxes',
  'polygon-clipping',
  '@flatten-js/core',
  'clipper2-wasm',
  'kleur',
  'yaml',
  '@sinclair/typebox',
] as const;

function filesBelow(folder: string): string[] {
  const at = join(root, folder);
  if (!existsSync(at)) return [];
  return readdirSync(at, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => join(folder, name));
}

const sources = [...filesBelow('src'), ...filesBelow('rules')];

function importsOf(file: string): string[] {
  const text = readFileSync(join(root, file), 'utf8');
  const found = text.matchAll(
    /(?:^|\n)\s*(?:import|export)\s[^;]*?from\s*'([^']+)'|import\('([^']+)'\)|(?:^|\n)import\s+'([^']+)'/g,
  );
  return [...found].map((match) => match[1] ?? match[2] ?? match[3] ?? '');
}

function roomOf(file: string): string {
  const room = Object.keys(FLOORS).find((name) => file === name || file.startsWith(`${name}/`));
  return room ?? `no room for ${file}`;
}

describe('the house', () => {
  it('has a room for every source file', () => {
    expect(sources.filter((file) => roomOf(file).startsWith('no room'))).toEqual([]);
    expect(sources.length).toBeGreaterThan(20);
  });

  it('lets data flow one way: nobody imports from a floor above', () => {
    const uphill: string[] = [];
    for (const file of sources) {
      const room = roomOf(file);
      for (const name of importsOf(file)) {
        if (!name.startsWith('.')) continue;
        const target = relative(root, resolve(root, dirname(file), name));
        const targetRoom = roomOf(target);
        if (targetRoom !== room && !FLOORS[room]?.includes(targetRoom)) uphill.push(`${file} -> ${target}`);
      }
    }
    expect(uphill).toEqual([]);
  });

  it('has no circle of imports', () => {
    const graph = new Map(
      sources.map((file) => [
        file,
        importsOf(file)
          .filter((name) => name.startsWith('.'))
          .map((name) => relative(root, resolve(root, dirname(file), name))),
      ]),
    );
    const done = new Set<string>();
    const circles: string[] = [];
    const walk = (file: string, path: readonly string[]): void => {
      if (path.includes(file)) {
        circles.push([...path.slice(path.indexOf(file)), file].join(' -> '));
        return;
      }
      if (done.has(file)) return;
      for (const next of graph.get(file) ?? []) walk(next, [...path, file]);
      done.add(file);
    };
    for (const file of sources) walk(file, []);
    expect(circles).toEqual([]);
  });

  it('wraps each library from outside in one file', () => {
    for (const library of WRAPPED) {
      const users = sources.filter((file) =>
        importsOf(file).some((name) => name === library || name.startsWith(`${library}/`)),
      );
      expect(users, library).toHaveLength(1);
    }
  });

  it('keeps conversion factors in the units file', () => {
    const factor = /25\.4\b|Math\.PI\s*\/\s*180|180\s*\/\s*Math\.PI|\*\s*180\s*\)?\s*\/\s*Math\.PI/;
    const users = sources.filter(
      (file) =>
        file !== 'src/units.ts' &&
        factor.test(readFileSync(join(root, file), 'utf8').replace(/'25\.4'|'1\/25\.4'/g, '')),
    );
    expect(users).toEqual([]);
  });
});
