import { quoted } from '../fault.ts';

/** What one drawing's own entities may grow to; design programs write a few dozen short ones. */
const MOST_ENTITIES = 1000;
const MOST_VALUE = 64 * 1024;
const MOST_ADDED = 2 * 1024 * 1024;

/** The text with its own entities written out, and the way back from a place in it to the place in the file. */
export interface Expanded {
  readonly text: string;
  readonly original: (offset: number) => number;
  /** Entities that stand for another file: read as nothing. */
  readonly external: readonly string[];
}

/** An entity that cannot be written out, with its place in the text. */
export class EntityFault extends Error {
  readonly offset: number;
  constructor(message: string, offset: number) {
    super(message);
    this.offset = offset;
  }
}

interface Entity {
  readonly value: string | undefined;
}

/**
 * Writes the entities that a drawing's DOCTYPE declares into its text (XML 1.0, section 4.4), so that the strict
 * reader sees none. The first declaration of a name counts; loops, and growth past a limit, are refused.
 */
export function expandEntities(text: string): Expanded {
  const doctype = findDoctype(text);
  const entities = doctype === undefined ? new Map<string, Entity>() : readEntities(text, doctype);
  if (doctype === undefined || entities.size === 0) return { text, original: (o) => o, external: [] };
  return writeOut(text, doctype.end, entities);
}

interface Span {
  readonly start: number;
  readonly end: number;
}

/** The DOCTYPE may follow comments and instructions, and its own quotes and comments may hold any bracket. */
function findDoctype(text: string): Span | undefined {
  const before = /(?:\s+|<\?[\s\S]*?\?>|<!--[\s\S]*?-->)*/y;
  before.exec(text);
  const start = before.lastIndex;
  if (!text.startsWith('<!DOCTYPE', start)) return undefined;
  const piece = /"[^"]*"|'[^']*'|<!--[\s\S]*?-->|<\?[\s\S]*?\?>|[[\]>]|[^"'<>[\]]+|</y;
  piece.lastIndex = start + 9;
  let inside = false;
  let depth = 0;
  for (let m = piece.exec(text); m !== null; m = piece.exec(text)) {
    const token = m[0];
    if (token === '[') inside = true;
    else if (token === ']') inside = false;
    else if (token === '<') depth++;
    else if (token === '>') {
      if (!inside) return { start, end: piece.lastIndex };
      depth--;
    }
    if (depth < 0) return undefined;
  }
  return undefined;
}

const DECLARATION =
  /<!--[\s\S]*?-->|<\?[\s\S]*?\?>|<!ENTITY\s+(%\s+)?([^\s"'>%]+)\s+(?:(SYSTEM|PUBLIC)\b(?:"[^"]*"|'[^']*'|[^>"'])*|"([^"]*)"\s*|'([^']*)'\s*)>/g;

function readEntities(text: string, doctype: Span): Map<string, Entity> {
  const found = new Map<string, Entity>();
  for (const m of text.slice(doctype.start, doctype.end).matchAll(DECLARATION)) {
    const name = m[2];
    if (name === undefined || m[1] !== undefined || found.has(name)) continue;
    if (found.size >= MOST_ENTITIES)
      throw new EntityFault(`More than ${MOST_ENTITIES} entities are declared.`, doctype.start + m.index);
    found.set(name, { value: m[3] === undefined ? decodeCharacters(m[4] ?? m[5] ?? '') : undefined });
  }
  return found;
}

const decodeCharacters = (value: string): string =>
  value.replace(/&#(?:x([0-9a-fA-F]{1,6})|(\d{1,7}));/g, (whole, hex: string, digits: string) => {
    const code = hex === undefined ? Number(digits) : Number.parseInt(hex, 16);
    if (code > 0x10ffff || code === 0) return whole;
    // An escaped < or & in an entity stays escaped when the entity is used.
    return code === 0x26 || code === 0x3c ? `&#${code};` : String.fromCodePoint(code);
  });

/** Comments, CDATA and instructions keep their text; a reference elsewhere is replaced. */
const REFERENCE = /<!--[\s\S]*?-->|<!\[CDATA\[[\s\S]*?\]\]>|<\?[\s\S]*?\?>|&([^\s;&<>#"']+);/g;
const BUILT_IN = new Set(['amp', 'lt', 'gt', 'quot', 'apos']);

function writeOut(text: string, from: number, entities: ReadonlyMap<string, Entity>): Expanded {
  const full = new Map<string, string>();
  const external = new Set<string>();
  const pieces = [text.slice(0, from)];
  // Pairs: a place in the new text, and how far it lies from the same place in the file.
  const shifts: { readonly at: number; readonly shift: number; readonly origin: number }[] = [];
  let read = from;
  let written = from;
  let added = 0;
  for (const m of text.slice(from).matchAll(REFERENCE)) {
    const name = m[1];
    const at = from + m.index;
    if (name === undefined || BUILT_IN.has(name) || !entities.has(name)) continue;
    const value = fullValue(name, entities, full, external, [], at);
    added += value.length;
    if (added > MOST_ADDED) throw new EntityFault('Its entities grow to more text than is read.', at);
    pieces.push(text.slice(read, at), value);
    written += at - read + value.length;
    read = at + m[0].length;
    shifts.push({ at: written - value.length, shift: Number.NaN, origin: at });
    shifts.push({ at: written, shift: written - read, origin: read });
  }
  pieces.push(text.slice(read));
  const original = (offset: number): number => {
    let low = 0;
    let high = shifts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (shifts[middle]!.at <= offset) low = middle + 1;
      else high = middle;
    }
    const step = shifts[low - 1];
    if (step === undefined) return offset;
    return Number.isNaN(step.shift) ? step.origin : offset - step.shift;
  };
  return { text: pieces.join(''), original, external: [...external] };
}

function fullValue(
  name: string,
  entities: ReadonlyMap<string, Entity>,
  full: Map<string, string>,
  external: Set<string>,
  within: readonly string[],
  at: number,
): string {
  const known = full.get(name);
  if (known !== undefined) return known;
  if (within.includes(name) || within.length > 100)
    throw new EntityFault(`The entity ${quoted(name)} stands for itself.`, at);
  const value = entities.get(name)?.value;
  if (value === undefined) external.add(name);
  let size = 0;
  const text = (value ?? '').replace(REFERENCE, (whole, inner: string | undefined) => {
    if (inner === undefined || BUILT_IN.has(inner) || !entities.has(inner)) return whole;
    const filled = fullValue(inner, entities, full, external, [...within, name], at);
    size += filled.length;
    if (size > MOST_VALUE)
      throw new EntityFault(`The entity ${quoted(name)} grows to more text than is read.`, at);
    return filled;
  });
  full.set(name, text);
  return text;
}
