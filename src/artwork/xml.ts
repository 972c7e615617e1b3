import { SaxesParser, type SaxesTagNS } from 'saxes';
import { type FaultPlace, InputFault, quoted } from '../fault.ts';
import { EntityFault, expandEntities } from './entities.ts';

const SVG = 'http://www.w3.org/2000/svg';
const XLINK = 'http://www.w3.org/1999/xlink';
const XMLNS = 'http://www.w3.org/2000/xmlns/';
const XML = 'http://www.w3.org/XML/1998/namespace';

/** Deeper or larger than any drawing program writes; above it the strict reader itself becomes slow. */
const MOST_DEPTH = 1500;
const MOST_ELEMENTS = 150_000;

/** What the strict reader kept of one element; texts of its style sheet or lettering are put together. */
export interface Record {
  readonly attributes: ReadonlyMap<string, string>;
  /** Offset of the element's `<` in the file's text. */
  readonly offset: number;
  text: string;
}

export interface Skeleton {
  /** Elements only, each with its number in `i`: well-formed, plain, without text, entities or comments. */
  readonly text: string;
  readonly records: readonly Record[];
  readonly place: (offset: number) => { line: number; column: number };
  /** Things outside the root's tree that may change the drawing, with their offsets. */
  readonly asides: readonly { readonly says: string; readonly offset: number }[];
}

/**
 * Reads a drawing strictly: well-formed XML with namespaces, or an `InputFault` with line and column. Elements that
 * are not SVG are called `foreign` in the skeleton. Time and memory are bounded by caps on depth, elements and entities.
 */
export function readXml(source: string, file: string): Skeleton {
  const place = placesIn(source);
  const refuse = (message: string, offset: number): never => {
    const at: FaultPlace = { file, ...place(Math.max(0, Math.min(offset, source.length))) };
    throw new InputFault(message, at);
  };
  if (!/\S/.test(source)) refuse('The file holds only white space; an SVG drawing was wanted.', 0);
  const expanded = expandOrRefuse(source, refuse);
  const asides = expanded.external.map((name) => ({
    says: `The entity ${quoted(name)} stands for another file, which is not read.`,
    offset: 0,
  }));
  const parts: string[] = [];
  const records: Record[] = [];
  const open: Record[] = [];
  const parser = new SaxesParser({ xmlns: true, position: true });
  const here = (): number => expanded.original(parser.position);
  let start = 0;
  let language = SVG;

  parser.on('error', (fault) => {
    const [says, offset] = tellFault(fault.message, expanded.text, parser.position);
    refuse(
      `The drawing's file is damaged or cut short: it is not well-formed XML (${shorten(says, LONGEST_REASON)}). Save it again from the program that made it.`,
      expanded.original(offset),
    );
  });
  parser.on('processinginstruction', ({ target, body }) => {
    if (target === 'xml-stylesheet')
      asides.push({ says: `A style sheet in another file is not read: ${shorten(body)}.`, offset: here() });
  });
  parser.on('opentagstart', () => {
    start = expanded.original(expanded.text.lastIndexOf('<', parser.position - 1));
    if (open.length >= MOST_DEPTH)
      refuse(`Elements are nested more than ${MOST_DEPTH} deep; no drawing needs that. Ungroup it.`, start);
    if (records.length >= MOST_ELEMENTS)
      refuse(`The drawing has more than ${MOST_ELEMENTS} elements; join shapes into fewer paths.`, start);
  });
  parser.on('opentag', (tag) => {
    // A drawing without any namespace is taken as SVG: many programs read it so.
    if (records.length === 0 && tag.uri === '') language = '';
    const name = nameOf(tag, language);
    if (records.length === 0 && name !== 'svg')
      refuse(`The outermost element is <${shorten(tag.name)}>; an SVG drawing starts with <svg>.`, start);
    const record = { attributes: attributesOf(tag), offset: start, text: '' };
    parts.push('<', name, ' i="', String(records.length), tag.isSelfClosing ? '"/>' : '">');
    records.push(record);
    open.push(record);
  });
  parser.on('closetag', (tag) => {
    open.pop();
    if (!tag.isSelfClosing) parts.push('</', nameOf(tag, language), '>');
  });
  const keep = (text: string): void => {
    const record = open.at(-1);
    if (record !== undefined) record.text += text;
  };
  parser.on('text', keep);
  parser.on('cdata', keep);
  parser.write(expanded.text).close();
  return { text: parts.join(''), records, place, asides };
}

function expandOrRefuse(source: string, refuse: (message: string, offset: number) => never) {
  try {
    return expandEntities(source);
  } catch (fault) {
    if (fault instanceof EntityFault) return refuse(`${fault.message} The drawing is refused.`, fault.offset);
    throw fault;
  }
}

/** Names of SVG's own elements (letters, digits, - and _ only); everything else is foreign. */
function nameOf(tag: SaxesTagNS, language: string): string {
  return tag.uri === language && /^[A-Za-z_][\w-]*$/.test(tag.local) ? tag.local : 'foreign';
}

function attributesOf(tag: SaxesTagNS): ReadonlyMap<string, string> {
  const kept = new Map<string, string>();
  for (const attribute of Object.values(tag.attributes)) {
    if (attribute.uri === '' || attribute.uri === undefined) kept.set(attribute.local, attribute.value);
    else if (attribute.uri === XLINK) kept.set(`xlink:${attribute.local}`, attribute.value);
    else if (attribute.uri === XML) kept.set(`xml:${attribute.local}`, attribute.value);
    else if (attribute.uri !== XMLNS) kept.set(attribute.name, attribute.value);
  }
  return kept;
}

/** The reader's own words, made plain; a bare `&` is only noticed at the end of the file, so its place is looked up. */
function tellFault(message: string, text: string, position: number): [says: string, offset: number] {
  const says = message
    .replace(/^\d+:\d+: /, '')
    .replace(/\.$/, '')
    .replace('undefined entity', 'it uses an entity (&NAME;) that it does not declare');
  const bare = /&(?!(?:#\d+|#x[0-9a-fA-F]+|[A-Za-z_:][\w:.-]*);)/g;
  if (/entity|unclosed|unexpected end|reference/i.test(says)) {
    for (const m of text.matchAll(/<!--[\s\S]*?-->|<!\[CDATA\[[\s\S]*?\]\]>|<\?[\s\S]*?\?>|<!DOCTYPE|&/g)) {
      if (m[0] !== '&') continue;
      bare.lastIndex = m.index;
      if (bare.exec(text)?.index === m.index) return ['a bare & stands here; it is written &amp;', m.index];
      if (m.index > position) break;
    }
  }
  return [says, Math.max(0, position - 1)];
}

const LONGEST_REASON = 200;

const shorten = (text: string, most = 60): string =>
  text.length > most ? `${text.slice(0, most)}...` : text;

/** Line and column (from 1) of an offset; a line ends with LF, CR or CR LF. */
function placesIn(text: string): (offset: number) => { line: number; column: number } {
  let starts: number[] | undefined;
  return (offset) => {
    starts ??= [0, ...[...text.matchAll(/\r\n|\n|\r/g)].map((m) => m.index + m[0].length)];
    let low = 0;
    let high = starts.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (starts[middle]! <= offset) low = middle;
      else high = middle;
    }
    return { line: low + 1, column: offset - starts[low]! + 1 };
  };
}
