/** Files in YAML: real ones spoilt, and others grown from their description in every way YAML can write it. */
import type { Shape } from '../../src/job/schema.ts';
import type { Chance } from './chance.ts';
import { bytesOf } from './kind.ts';
import { mutated } from './mutate.ts';
import { valueText } from './values.ts';

const TOKENS = [
  ': ',
  ':',
  '- ',
  '? ',
  '&a ',
  '*a',
  '&a [*a]',
  '<<: *a\n',
  '<<: {units: in}\n',
  '!!int ',
  '!!binary ',
  '!<tag:x> ',
  '!local ',
  '|\n',
  '>-\n',
  '{',
  '}',
  '[',
  ']',
  ',',
  '---\n',
  '...\n',
  '%YAML 1.1\n',
  '%TAG ! x:\n',
  '\n',
  '\n  ',
  ' #',
  '#',
  '"\\x41"',
  '"\\u0000"',
  "''",
  '{}',
  '[]',
  '~',
  'null',
  'true',
  'yes',
  '2001-12-14',
  '12:30:45',
  '.nan',
  '-.inf',
  'pocket:',
  'limits:',
  'keep-out:',
  'units: in\n',
  'units: mm\n',
];

/** One of the real files or one grown from the description, spoilt more or less. */
export function yamlFile(real: readonly string[], shape: Shape, chance: Chance): Uint8Array {
  const text = chance.oneIn(2) ? chance.pick(real) : grown(shape, chance);
  if (chance.oneIn(2000)) return bytesOf(deep(text, chance));
  return bytesOf(mutated(text, chance.pick([0, 1, 1, 2, 3, 6]), TOKENS, chance));
}

/** Far deeper than anybody writes, of whatever opens something in YAML. */
function deep(text: string, chance: Chance): string {
  const piece = chance.pick(['[', '{a: ', '- ', '? ', '{', '[{', '!a ', '"', '[[],', '&a [', "'", '  a:\n']);
  const many = piece.repeat(chance.pick([100, 1000, 8000, 30_000]));
  const steps = Array.from({ length: 600 }, (_, i) => `${' '.repeat(i)}a:`).join('\n');
  return chance.pick([
    many,
    `${text}\ntitle: ${many}`,
    steps,
    `a: ${many}\n${text}`,
    'a: b\n'.repeat(13_000),
  ]);
}

/** A file with keys and values by chance. */
function grown(shape: Shape, chance: Chance): string {
  const written = branch(shape, chance);
  if (chance.oneIn(8)) return JSON.stringify(written, null, chance.pick([0, 2]));
  return block(written as Record<string, unknown>, '', chance.pick(['  ', '    ', ' ']), chance);
}

/** Keys that are always there come nearly always, others now and then. */
function branch(shape: Shape, chance: Chance): unknown {
  if (shape.reads !== undefined) return valueText(shape.reads, chance);
  if (shape.items !== undefined) return chance.some(0, 3, () => branch(shape.items as Shape, chance));
  const kept: Record<string, unknown> = {};
  for (const [key, inner] of Object.entries(shape.properties ?? {})) {
    const needed = shape.required?.includes(key) === true;
    if (needed ? !chance.oneIn(30) : chance.oneIn(4)) kept[misspelt(key, chance)] = branch(inner, chance);
  }
  return kept;
}

function misspelt(key: string, chance: Chance): string {
  if (!chance.oneIn(60)) return key;
  const at = chance.count(0, key.length - 1);
  return chance.pick([
    key.slice(0, at) + key.slice(at + 1),
    key.toUpperCase(),
    `${key}x`,
    '__proto__',
    'toString',
  ]);
}

function block(map: Record<string, unknown>, indent: string, step: string, chance: Chance): string {
  const lines: string[] = [];
  for (const [key, value] of Object.entries(map)) {
    const remark = chance.oneIn(15) ? ' # as measured' : '';
    if (Array.isArray(value) && value.length > 0)
      lines.push(`${indent}${key}:`, ...value.map((item) => `${indent}${step}- ${flow(item, chance)}`));
    else if (isMap(value) && Object.keys(value).length > 0 && chance.oneIn(2))
      lines.push(`${indent}${key}:${remark}`, block(value, indent + step, step, chance));
    else lines.push(`${indent}${key}: ${flow(value, chance)}${remark}`);
  }
  return lines.join('\n');
}

function flow(value: unknown, chance: Chance): string {
  if (Array.isArray(value)) return `[${value.map((item) => flow(item, chance)).join(', ')}]`;
  if (isMap(value))
    return `{ ${Object.entries(value)
      .map(([key, item]) => `${key}: ${flow(item, chance)}`)
      .join(', ')} }`;
  const text = String(value);
  if (chance.oneIn(10)) return JSON.stringify(text);
  if (chance.oneIn(10)) return `'${text.replaceAll("'", "''")}'`;
  return text;
}

const isMap = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
