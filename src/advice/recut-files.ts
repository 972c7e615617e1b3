/** The texts of a repair: drawings of outlines, and the old job with the new entries written into it. */
import { partsOf } from '../geometry/region.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Region, Ring } from '../geometry/shapes.ts';
import type { Written, WrittenMap, WrittenValue } from '../job/document.ts';

/** A tenth of a micrometre, as all coordinates are written. */
const DECIMALS = 4;

/** A page as large as the old one, or larger when the outline needs it, mm. */
export interface PageSize {
  readonly width: number | undefined;
  readonly height: number | undefined;
}

/**
 * A drawing of a region in its own frame, one closed path for each piece with its holes. The page's top left corner
 * stays where it was, so that the zero of the setup can stay too.
 */
export function outlineSvg(title: string, region: Region, page: PageSize): string {
  const box = boxOf(region.rings);
  const width = written(Math.max(page.width ?? 0, Math.ceil(box.maxX)));
  const height = written(Math.max(page.height ?? 0, Math.ceil(box.maxY)));
  const paths = partsOf(region).map(({ outer, holes }, k) => {
    const d = [outer, ...holes].map((ring) => ringData(region.rings[ring] as Ring)).join('');
    return `    <path id="part-${k + 1}" d="${d}"/>`;
  });
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">`,
    `  <title>${escaped(title)}</title>`,
    '  <g id="inlay" fill="#3b3b3b" fill-rule="evenodd">',
    ...paths,
    '  </g>',
    '</svg>',
    '',
  ].join('\n');
}

const written = (value: number): string => String(Number(value.toFixed(DECIMALS)));

/** Points that fall together when written are one. */
function ringData(ring: Ring): string {
  const points: string[] = [];
  for (let k = 0; k < ring.length; k += 2) {
    const point = `${written(ring[k] as number)} ${written(ring[k + 1] as number)}`;
    if (point !== points.at(-1)) points.push(point);
  }
  if (points.length > 1 && points[0] === points.at(-1)) points.pop();
  return `M${points.join('L')}Z`;
}

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/** A new entry: a value, a whole map as it was written elsewhere, or none. */
export type Entry = string | Written | undefined;

/** The same map with entries set or, where undefined, taken away; keys are dotted, as `pocket.flat-depth`. */
export function withEntries(root: WrittenMap, entries: Readonly<Record<string, Entry>>): WrittenMap {
  return Object.entries(entries).reduce((map, [key, entry]) => withEntry(map, key.split('.'), entry), root);
}

function withEntry(map: WrittenMap, [key = '', ...rest]: readonly string[], entry: Entry): WrittenMap {
  const entries = new Map(map.entries);
  const old = entries.get(key);
  if (rest.length > 0) {
    const inner: WrittenMap = old?.value.kind === 'map' ? old.value : { ...map, entries: new Map() };
    entries.set(key, { place: map.place, value: withEntry(inner, rest, entry) });
  } else if (entry === undefined) entries.delete(key);
  else
    entries.set(key, { place: map.place, value: typeof entry === 'string' ? textValue(map, entry) : entry });
  return { ...map, entries };
}

const textValue = ({ place }: WrittenMap, text: string): WrittenValue => ({
  kind: 'value',
  place,
  value: text,
  text,
});

/** The text of a map as YAML, two blanks a step. Remarks are not kept. */
export function yamlOf(map: WrittenMap): string {
  return `${mapLines(map, '').join('\n')}\n`;
}

function mapLines({ entries }: WrittenMap, indent: string): string[] {
  return [...entries].flatMap(([key, { value }]) => {
    if (value.kind === 'value') return [`${indent}${key}: ${scalar(value)}`.trimEnd()];
    if (value.kind === 'map')
      return value.entries.size === 0
        ? [`${indent}${key}: {}`]
        : [`${indent}${key}:`, ...mapLines(value, `${indent}  `)];
    return value.items.length === 0
      ? [`${indent}${key}: []`]
      : [`${indent}${key}:`, ...value.items.flatMap((item) => itemLines(item, `${indent}  `))];
  });
}

function itemLines(item: Written, indent: string): string[] {
  if (item.kind === 'value') return [`${indent}- ${scalar(item)}`];
  const lines = item.kind === 'map' ? mapLines(item, `${indent}  `) : [`${indent}  []`];
  return lines.map((line, k) => (k === 0 ? `${indent}- ${line.trimStart()}` : line));
}

/** Numbers keep the text they were written as; other text stands in quotes, so that it is read back as it is. */
function scalar({ value, text }: WrittenValue): string {
  if (value === null) return '';
  return typeof value === 'string' ? quotedWhereNeeded(value) : text;
}

function quotedWhereNeeded(text: string): string {
  const plain = /^[a-z][a-z0-9]*(?:[-/.][a-z0-9]+)*$|^-?\d+(?:\.\d+)? (?:mm|in|deg)$/i.test(text);
  const special = /^(?:true|false|null|yes|no|on|off|y|n)$/i.test(text);
  return plain && !special ? text : JSON.stringify(text);
}
