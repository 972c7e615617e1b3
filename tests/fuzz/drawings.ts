/** Drawings grown from the grammar of SVG, real ones spoilt, and plain ones whose values are put together by chance. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { readArtwork, requireOutlines } from '../../src/artwork/read.ts';
import { tidy } from '../../src/geometry/tidy.ts';
import { answerTo, Bad, finite, plainText } from './answers.ts';
import type { Chance } from './chance.ts';
import { bytesOf, type FuzzKind } from './kind.ts';
import {
  cssTransform,
  declarations,
  length,
  number,
  pathData,
  points,
  presentation,
  styleSheet,
  transform,
} from './marks.ts';
import { mutated, spoilt } from './mutate.ts';

const FILE = 'art/fern.svg';
const IDS = ['a', 'b', 'c', 'd'];
const NAMESPACES = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"';

const own: readonly { readonly svg: string }[] = JSON.parse(
  readFileSync('tests/fixtures/svg/own.json', 'utf8'),
);
/** Short real drawings: from the project's folder, where tests and scripts are started. */
const REAL: readonly string[] = [
  ...own.map(({ svg }) => svg),
  ...readdirSync('samples', { recursive: true })
    .map(String)
    .filter((path) => path.endsWith('.svg'))
    .sort()
    .map((path) => readFileSync(join('samples', path), 'utf8'))
    .filter((text) => text.length < 9000),
];

const TOKENS = [
  '<g>',
  '</g>',
  '<path d="M0 0h9v9z"/>',
  '<use href="#a"/>',
  '<svg>',
  '</svg>',
  '<!--',
  '-->',
  '<![CDATA[',
  ']]>',
  '<?x ?>',
  '<!DOCTYPE svg>',
  '&a;',
  '&#0;',
  '&#x110000;',
  '&amp;',
  'id="a"',
  ' x=""',
  'xmlns="x"',
  ' transform="',
  'url(#a)',
  '%',
  'mm',
  '/>',
  '=',
  'viewBox="0 0 9 9"',
];

/** The most points that are tidied as well, so that many drawings are tried in a short time. */
const MOST_TIDIED = 400;

export const drawings: FuzzKind = {
  name: 'drawing',
  make: (chance) => {
    const grew = !chance.oneIn(4);
    const text = grew ? document(chance) : chance.pick(REAL);
    const times = grew ? chance.pick([0, 0, 0, 1, 2]) : chance.pick([1, 1, 2, 4]);
    return encoded(mutated(text, times, TOKENS, chance), chance);
  },
  attempt: readDrawing,
};

/** Well-formed throughout, so that what is tried is the reading of values. */
export const paths: FuzzKind = {
  name: 'path',
  make: (chance) => {
    const shapes = chance.some(1, 3, () => plainShape(chance)).join('\n');
    const style = chance.oneIn(3) ? `<style>${escaped(styleSheet(chance))}</style>` : '';
    return bytesOf(
      `<svg ${NAMESPACES} width="100mm" height="100mm" viewBox="0 0 100 100">${style}${shapes}</svg>`,
    );
  },
  attempt: readDrawing,
};

function readDrawing(input: Uint8Array): string {
  const text = plainly(input);
  if (text.includes('id="b"')) answerTo(text, FILE, () => readOnce(input, text, 'b'));
  return answerTo(text, FILE, () => readOnce(input, text, undefined));
}

/** What may be quoted, whether packed or in wide letters: the words looked for are of plain letters. */
function plainly(input: Uint8Array): string {
  let bytes = input;
  try {
    if (input[0] === 0x1f) bytes = gunzipSync(input);
  } catch {
    // A spoilt one: nothing of it can be quoted.
  }
  return Buffer.from(bytes).toString('latin1').replaceAll('\0', '');
}

function readOnce(input: Uint8Array, text: string, select: string | undefined): string {
  const artwork = readArtwork(input, FILE, select);
  finite({ ...artwork, size: { ...artwork.size, mark: 0 }, leftOut: [], marks: [] }, 'artwork');
  if (artwork.marks.length !== artwork.shapes.length) throw new Bad('shapes without their marks');
  for (const { element, line, column } of [...artwork.marks, ...artwork.leftOut.map(({ mark }) => mark)])
    if (element === '' || !(line >= 1) || !(column >= 1))
      throw new Bad(`a mark nowhere: ${element} ${line}:${column}`);
  for (const { says } of artwork.leftOut) {
    if (says.trim() === '') throw new Bad('left out, without a word why');
    plainText(says, text);
  }
  for (const { lines } of artwork.shapes)
    for (const { points: line } of lines) if (line.length % 2 !== 0) throw new Bad('half a point');
  requireOutlines(artwork);
  if (artwork.vertices > MOST_TIDIED) return 'read';
  const { region, painted, faults, sourceOf } = tidy(artwork.shapes);
  finite([region.rings, painted.rings, faults], 'tidied');
  for (const ring of region.rings) if (ring.length < 6) throw new Bad('an outline of less than three points');
  if (artwork.marks[sourceOf([50, 50])] === undefined && region.rings.length > 0)
    throw new Bad('an outline of nobody');
  return region.rings.length > 0 ? 'tidied' : 'empty';
}

function plainShape(chance: Chance): string {
  const name = chance.pick(['path', 'path', 'path', 'polygon', 'polyline', 'rect', 'circle', 'ellipse', 'g']);
  const inner = name === 'g' ? plainShape(chance) : '';
  return `<${name} ${own2(name, chance)}>${inner}</${name}>`;
}

/** The attributes that belong to an element, then some that may stand anywhere. */
function own2(name: string, chance: Chance): string {
  const attributes: [string, string][] = [];
  const put = (key: string, value: string): void => {
    if (!chance.oneIn(12)) attributes.push([key, value]);
  };
  if (name === 'path') put('d', pathData(chance));
  if (name === 'polygon' || name === 'polyline') put('points', points(chance));
  const keys = LENGTHS[name] ?? [];
  for (const key of keys) put(key, length(chance));
  if (chance.oneIn(3)) put('transform', transform(chance));
  if (chance.oneIn(4)) put('style', `${declarations(chance)};transform:${cssTransform(chance)}`);
  if (chance.oneIn(4)) attributes.push(presentation(chance));
  if (chance.oneIn(2)) put('id', chance.pick(IDS));
  if (chance.oneIn(4)) put('class', chance.pick(['x', 'y', 'x y', '']));
  return written(attributes);
}

const LENGTHS: Readonly<Record<string, readonly string[]>> = {
  rect: ['x', 'y', 'width', 'height', 'rx', 'ry'],
  circle: ['cx', 'cy', 'r'],
  ellipse: ['cx', 'cy', 'rx', 'ry'],
  line: ['x1', 'y1', 'x2', 'y2'],
  svg: ['x', 'y', 'width', 'height'],
  symbol: ['width', 'height'],
  use: ['x', 'y', 'width', 'height'],
  image: ['x', 'width', 'height'],
  pattern: ['width', 'height'],
  text: ['x', 'y'],
};

const HOLDERS = [
  'g',
  'g',
  'svg',
  'symbol',
  'defs',
  'clipPath',
  'mask',
  'marker',
  'pattern',
  'a',
  'switch',
  'foreignObject',
  'x:y',
];
const SHAPES = ['path', 'path', 'rect', 'circle', 'ellipse', 'line', 'polyline', 'polygon'];
const OTHERS = [
  'use',
  'use',
  'use',
  'text',
  'tspan',
  'image',
  'title',
  'script',
  'animate',
  'style',
  'filter',
  'linearGradient',
  'set',
  'unknown',
];

function element(depth: number, chance: Chance): string {
  const name =
    depth > 0 && chance.oneIn(3) ? chance.pick(HOLDERS) : chance.pick(chance.oneIn(3) ? OTHERS : SHAPES);
  const holds = HOLDERS.includes(name);
  const inner = holds ? chance.some(0, 4, () => element(depth - 1, chance)).join('') : innerOf(name, chance);
  return `<${name} ${own2(name, chance)} ${more(name, chance)}>${inner}</${name}>`;
}

function innerOf(name: string, chance: Chance): string {
  if (name === 'style') {
    const sheet = styleSheet(chance);
    return chance.oneIn(3) ? `<![CDATA[${sheet}]]>` : escaped(sheet);
  }
  if (name === 'text' || name === 'title')
    return `Fern &amp; ${chance.pick(['<tspan>x</tspan>', '&a;', '&b;', 'é', ''])}`;
  if (name === 'path' && chance.oneIn(20)) return '<animate attributeName="d"/>';
  return '';
}

function more(name: string, chance: Chance): string {
  const attributes: [string, string][] = [];
  if (name === 'use' || name === 'image' || chance.oneIn(40))
    attributes.push([
      chance.pick(['href', 'xlink:href']),
      chance.pick(['#a', '#b', '#c', '#d', '#', '', 'x.svg#a', '#%61', 'data:,']),
    ]);
  if (name === 'svg' || name === 'symbol' || name === 'marker' || name === 'pattern')
    attributes.push(['viewBox', chance.pick(['0 0 100 100', '0 0 0 0', '0,0,10,10', numbers(4, chance)])]);
  if (name === 'svg' && chance.oneIn(2))
    attributes.push(['preserveAspectRatio', chance.pick(['none', 'xMidYMid slice', 'xMaxYMin meet', 'x'])]);
  if (name === 'clipPath' || name === 'mask')
    attributes.push([`${name}Units`, chance.pick(['objectBoundingBox', 'userSpaceOnUse', 'x'])]);
  if (name === 'switch') attributes.push(['systemLanguage', chance.pick(['en', 'de', ''])]);
  return written(attributes);
}

const numbers = (count: number, chance: Chance): string =>
  Array.from({ length: count }, () => number(chance)).join(' ');

/** An attribute comes once: the first of its name stays, unless the strict reader is to be tried. */
function written(attributes: readonly (readonly [string, string])[]): string {
  return [...new Map(attributes)].map(([key, value]) => `${key}="${escaped(value)}"`).join(' ');
}

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');

function document(chance: Chance): string {
  const root: [string, string][] = [];
  if (!chance.oneIn(6)) root.push(['width', chance.oneIn(3) ? length(chance) : '100mm']);
  if (!chance.oneIn(6)) root.push(['height', chance.oneIn(3) ? length(chance) : '100mm']);
  if (!chance.oneIn(4)) root.push(['viewBox', chance.oneIn(3) ? numbers(4, chance) : '0 0 100 100']);
  if (chance.oneIn(10)) root.push(presentation(chance));
  if (chance.oneIn(10)) root.push(['preserveAspectRatio', chance.pick(['none', 'xMinYMin slice', ''])]);
  const spaces = chance.oneIn(20)
    ? chance.pick(['', 'xmlns="x"', `${NAMESPACES} xmlns:x="y"`])
    : `${NAMESPACES} xmlns:x="y"`;
  const body = chance.some(1, 6, () => element(3, chance)).join('\n');
  return `${head(chance)}<svg ${spaces} ${written(root)}>${body}</svg>${chance.oneIn(20) ? '<!-- end -->\n' : ''}`;
}

function head(chance: Chance): string {
  const declaration = chance.oneIn(2)
    ? ''
    : `<?xml version="1.0"${chance.pick(['', ' encoding="UTF-8"', ' encoding="utf-16"', ' encoding="iso-8859-1"', ' encoding="windows-1252"', ' encoding="x-none"', ' standalone="yes"'])}?>\n`;
  if (!chance.oneIn(4)) return declaration;
  const entities = chance.some(0, 4, () => {
    const value = chance.pick([
      'red',
      '&b;',
      '&a;&a;',
      '<g/>',
      '&lt;g>',
      '&#38;b;',
      '%p;',
      'x'.repeat(100),
      '"',
    ]);
    const name = chance.pick(['a', 'b', 'c', '% p']);
    return chance.oneIn(5) ? `<!ENTITY ${name} SYSTEM "x.ent">` : `<!ENTITY ${name} '${value}'>`;
  });
  const subset = entities.length > 0 ? ` [${entities.join('\n')}]` : '';
  const outside = chance.pick(['', ' PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd"', ' SYSTEM "x.dtd"']);
  return `${declaration}<!DOCTYPE svg${outside}${subset}>\n`;
}

/** The text in bytes: mostly UTF-8, now and then another encoding, a mark before it, packed, or spoilt. */
function encoded(text: string, chance: Chance): Uint8Array {
  switch (chance.count(0, 30)) {
    case 0:
      return Buffer.from(`\ufeff${text}`, 'utf8');
    case 1:
      return Buffer.from(`\ufeff${text}`, 'utf16le');
    case 2:
      return Buffer.from(text, 'utf16le').swap16();
    case 3:
      return Buffer.from(text, 'latin1');
    case 4:
      return gzipSync(text);
    case 5:
      return spoilt(gzipSync(text), chance);
    case 6:
    case 7:
      return spoilt(bytesOf(text), chance);
    case 8:
      return bytesOf(text.replaceAll('\n', '\r\n'));
    default:
      return bytesOf(text);
  }
}
