import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { readArtwork } from '../../src/artwork/read.ts';
import { type Tidy, tidy } from '../../src/geometry/tidy.ts';

/**
 * Drawings nobody here made, as whole files: icons of @iconify-json/game-icons (CC-BY-3.0) and ornate letters of
 * @fontsource packages (SIL Open Font Licence), all development packages from the registry.
 */
export interface Drawing {
  readonly name: string;
  readonly svg: string;
}

const FONTS = [
  'bungee-shade',
  'cabin-sketch',
  'cinzel-decorative',
  'ewert',
  'great-vibes',
  'herr-von-muellerhoff',
  'monoton',
  'monsieur-la-doulaise',
  'nosifer',
  'pinyon-script',
  'uncial-antiqua',
  'unifrakturcook',
];

interface Glyph {
  toPathData(digits: number): string;
  getBoundingBox(): { readonly x1: number; readonly y1: number; readonly x2: number; readonly y2: number };
}

const load = createRequire(import.meta.url);

/** Every icon of the set, on its own 512 units. */
export function iconDrawings(across: number): readonly Drawing[] {
  const { icons } = load('@iconify-json/game-icons/icons.json') as {
    icons: Readonly<Record<string, { readonly body: string }>>;
  };
  return Object.keys(icons)
    .sort()
    .map((name) => ({ name, svg: drawing(across, '0 0 512 512', icons[name]?.body ?? '') }));
}

/** The 26 capitals of every typeface, each as wide and high as its box asks. */
export function letterDrawings(across: number): readonly Drawing[] {
  return FONTS.flatMap((font) => {
    const face = faceOf(font);
    return [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].map((letter) => {
      const glyph = face.getPath(letter, 0, 0, 1000);
      const { x1, y1, x2, y2 } = glyph.getBoundingBox();
      const box = [x1 - 1, y1 - 1, x2 - x1 + 2, y2 - y1 + 2].join(' ');
      return { name: `${font} ${letter}`, svg: drawing(across, box, `<path d="${glyph.toPathData(6)}"/>`) };
    });
  });
}

/** What the program itself makes of a drawing. */
export function tidied({ name, svg }: Drawing): { readonly drawn: Tidy; readonly lost: readonly string[] } {
  const artwork = readArtwork(new TextEncoder().encode(svg), `${name}.svg`);
  return {
    drawn: tidy(artwork.shapes),
    lost: artwork.leftOut.filter((item) => item.matters).map((item) => `${name}: ${item.says}`),
  };
}

/** `count` of the items, always the same ones for the same seed. */
export function someOf<T>(items: readonly T[], count: number, seed: number): readonly T[] {
  let state = seed >>> 0;
  const keyed = items.map((item) => {
    // Numerical Recipes' linear congruence (from memory): good enough to pick drawings by.
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return { item, key: state };
  });
  return keyed
    .sort((a, b) => a.key - b.key)
    .slice(0, count)
    .map(({ item }) => item);
}

function faceOf(font: string): { getPath(text: string, x: number, y: number, size: number): Glyph } {
  const folder = dirname(load.resolve(`@fontsource/${font}/package.json`));
  const weight = font === 'unifrakturcook' ? 700 : 400;
  const bytes = readFileSync(join(folder, 'files', `${font}-latin-${weight}-normal.woff`));
  const { parse } = load('opentype.js') as { parse: (bytes: ArrayBufferLike) => ReturnType<typeof faceOf> };
  return parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
}

function drawing(across: number, box: string, inner: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${across}mm" viewBox="${box}">${inner}</svg>\n`;
}
