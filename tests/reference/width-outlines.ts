import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { CHORD_ERROR, Flattener } from '../../src/artwork/flatten.ts';
import { drawPath } from '../../src/artwork/path.ts';
import { unionRings } from '../../src/geometry/combine.ts';
import type { Ring } from '../../src/geometry/shapes.ts';

/**
 * Outlines nobody here drew: icons of @iconify-json/game-icons (CC-BY-3.0) and letters of @fontsource packages
 * (SIL Open Font Licence), both development packages from the registry.
 */
export interface Outline {
  readonly name: string;
  readonly rings: readonly Ring[];
}

const ICONS = [
  'acorn',
  'barn-owl',
  'butterfly',
  'butterfly-flower',
  'curling-vines',
  'dragonfly',
  'feather',
  'fern',
  'fishbone',
  'flatfish',
  'fox',
  'ginkgo-leaf',
  'heron',
  'hummingbird',
  'oak-leaf',
  'snail',
  'spider-web',
  'teapot',
  'thorny-vine',
  'vine-leaf',
];

const LETTERS = [
  ['great-vibes', 'K'],
  ['great-vibes', 'g'],
  ['herr-von-muellerhoff', 'F'],
  ['monsieur-la-doulaise', 'R'],
  ['pinyon-script', 'Q'],
  ['uncial-antiqua', 'a'],
  ['unifrakturcook', 'S'],
  ['cinzel-decorative', 'R'],
  ['ewert', 'B'],
  ['monoton', 'e'],
  ['nosifer', 'A'],
  ['bungee-shade', 'G'],
] as const;

const load = createRequire(import.meta.url);

interface FontFile {
  getPath(text: string, x: number, y: number, size: number): { toPathData(digits: number): string };
}

/** Every outline scaled to 100 mm across, flattened as a drawing is and joined by the non-zero rule. */
export function outlines(): readonly Outline[] {
  const icons = load('@iconify-json/game-icons/icons.json') as { icons: Record<string, { body: string }> };
  return [
    ...ICONS.map((name) => ({ name, rings: flat(pathsIn(icons.icons[name]?.body ?? ''), 512) })),
    ...LETTERS.map(([font, letter]) => ({
      name: `${font} ${letter}`,
      rings: flat([letterPath(font, letter)], 1000),
    })),
  ];
}

function pathsIn(body: string): string[] {
  return [...body.matchAll(/ d="([^"]*)"/g)].map((match) => match[1] as string);
}

function letterPath(font: string, letter: string): string {
  const folder = dirname(load.resolve(`@fontsource/${font}/package.json`));
  const weight = font === 'unifrakturcook' ? 700 : 400;
  const bytes = readFileSync(join(folder, 'files', `${font}-latin-${weight}-normal.woff`));
  const { parse } = load('opentype.js') as { parse: (bytes: ArrayBufferLike) => FontFile };
  const file = parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  return file.getPath(letter, 0, 0, 1000).toPathData(6);
}

function flat(paths: readonly string[], across: number): readonly Ring[] {
  const scale = 100 / across;
  const flattener = new Flattener([scale, 0, 0, scale, 0, 0], CHORD_ERROR, { left: 1e6 });
  for (const path of paths) drawPath(path, flattener);
  const lines = flattener.finish().map((line) => line.points);
  return unionRings(
    lines.filter((line) => line.length >= 6),
    'nonzero',
  ).rings;
}
