/** A job's text written anew: the old map with entries set or taken away, as YAML. */
import type { Written, WrittenMap, WrittenValue } from './document.ts';

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
