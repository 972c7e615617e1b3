import type { Element } from './tree.ts';

/** How two simple parts of a selector hang together. */
type Combinator = ' ' | '>' | '+' | '~';

type Test = (element: Element) => boolean;

interface Compound {
  readonly tests: readonly Test[];
  /** Ties this part to the one on its left. */
  readonly combinator: Combinator;
}

/** A selector such as `g#wing > path.edge:first-child`, right to left. */
export interface Selector {
  readonly compounds: readonly Compound[];
  /** Counts of ids, of classes and attributes, of names, packed into one number that compares in that order. */
  readonly weight: number;
  /** What the rightmost part surely needs, for looking rules up without trying them all: `#id`, `.class`, `name`, `*`. */
  readonly key: string;
}

/** Counts the work of matching, so that a hostile sheet cannot take for ever. */
export interface Effort {
  left: number;
}

/** A list of selectors; `undefined` when any of them is not known here, since the whole rule then does not count. */
export function readSelectors(text: string): readonly Selector[] | undefined {
  const selectors: Selector[] = [];
  for (const part of splitOutside(text)) {
    const selector = readSelector(part.trim());
    if (selector === undefined) return undefined;
    selectors.push(selector);
  }
  return selectors;
}

/** At commas that are not inside brackets or quotes. */
function splitOutside(text: string): string[] {
  const parts: string[] = [''];
  let depth = 0;
  for (const token of text.match(/"[^"]*"|'[^']*'|[\s\S]/g) ?? []) {
    if (token === '(' || token === '[') depth++;
    if (token === ')' || token === ']') depth--;
    if (token === ',' && depth === 0) parts.push('');
    else parts[parts.length - 1] += token;
  }
  return parts;
}

const NAME = String.raw`(?:[-\w\u0080-\uffff]|\\[0-9a-fA-F]{1,6}\s?|\\[^\n0-9a-fA-F])+`;
const PIECE = String.raw`\s*([>+~])\s*|(\s+)|(\*\|)?(\*|${NAME})|#(${NAME})|\.(${NAME})|\[\s*(?:\*?\|)?(${NAME})\s*(?:([~|^$*]?=)\s*(?:"([^"]*)"|'([^']*)'|(${NAME}))\s*)?\]|::?(${NAME})(?:\(([^()]*)\))?`;

const plain = (name: string): string =>
  name.replace(/\\([0-9a-fA-F]{1,6})\s?|\\(.)/g, (_, hex: string | undefined, other: string) =>
    hex === undefined ? other : String.fromCodePoint(Math.min(Number.parseInt(hex, 16), 0x10ffff)),
  );

function readSelector(text: string): Selector | undefined {
  if (text === '') return undefined;
  const compounds: { tests: Test[]; combinator: Combinator }[] = [{ tests: [], combinator: ' ' }];
  let weight = 0;
  let key = '*';
  const piece = new RegExp(PIECE, 'y');
  for (let at = 0; at < text.length; at = piece.lastIndex) {
    piece.lastIndex = at;
    const m = piece.exec(text);
    if (m === null) return undefined;
    const [
      ,
      symbol,
      space,
      ,
      name,
      id,
      className,
      attribute,
      operator,
      quoted,
      single,
      bare,
      pseudo,
      inside,
    ] = m;
    const current = compounds.at(-1)!;
    if (symbol !== undefined || space !== undefined) {
      if (current.tests.length === 0) return undefined;
      compounds.push({ tests: [], combinator: (symbol ?? ' ') as Combinator });
      key = '*';
      continue;
    }
    if (name !== undefined) {
      if (current.tests.length > 0) return undefined;
      const wanted = plain(name);
      current.tests.push(wanted === '*' ? () => true : (e) => e.name === wanted);
      if (wanted !== '*') weight += 1;
      if (wanted !== '*') key = wanted;
    } else if (id !== undefined) {
      const wanted = plain(id);
      current.tests.push((e) => e.attributes.get('id') === wanted);
      weight += 1e6;
      key = `#${wanted}`;
    } else if (className !== undefined) {
      const wanted = plain(className);
      current.tests.push((e) => hasWord(e.attributes.get('class'), wanted));
      weight += 1e3;
      if (!key.startsWith('#')) key = `.${wanted}`;
    } else if (attribute !== undefined) {
      current.tests.push(attributeTest(plain(attribute), operator, quoted ?? single ?? plain(bare ?? '')));
      weight += 1e3;
    } else {
      const test = pseudoTest(pseudo!.toLowerCase(), inside);
      if (test === undefined) return undefined;
      current.tests.push(test);
      weight += 1e3;
    }
  }
  if (compounds.at(-1)!.tests.length === 0) return undefined;
  return { compounds: compounds.reverse(), weight, key };
}

const hasWord = (text: string | undefined, word: string): boolean =>
  text?.split(/\s+/).includes(word) ?? false;

function attributeTest(name: string, operator: string | undefined, wanted: string): Test {
  return ({ attributes }) => {
    const value = attributes.get(name);
    if (value === undefined) return false;
    if (operator === undefined) return true;
    if (operator === '=') return value === wanted;
    if (operator === '~=') return hasWord(value, wanted);
    if (operator === '|=') return value === wanted || value.startsWith(`${wanted}-`);
    if (wanted === '') return false;
    if (operator === '^=') return value.startsWith(wanted);
    return operator === '$=' ? value.endsWith(wanted) : value.includes(wanted);
  };
}

/** States of a pointer or of a form never hold in a drawing that lies on the bench. */
const NEVER = new Set([
  'hover',
  'active',
  'focus',
  'focus-within',
  'focus-visible',
  'visited',
  'target',
  'before',
  'after',
  'selection',
  'first-line',
  'first-letter',
  'link',
  'any-link',
]);

function pseudoTest(name: string, inside: string | undefined): Test | undefined {
  if (NEVER.has(name)) return () => false;
  if (name === 'root') return (e) => e.parent === undefined;
  if (name === 'empty') return (e) => e.children.length === 0 && e.text === '';
  if (name === 'not' && inside !== undefined) {
    const inner = readSelectors(inside);
    if (inner === undefined || inner.some((s) => s.compounds.length > 1)) return undefined;
    return (e) => !inner.some((s) => s.compounds[0]!.tests.every((test) => test(e)));
  }
  const ofType = name.endsWith('of-type');
  const fromEnd = name.includes('last');
  const rank = (e: Element): number => rankOf(e, ofType, fromEnd);
  if (/^(first|last)-(child|of-type)$/.test(name)) return (e) => rank(e) === 1;
  if (/^only-(child|of-type)$/.test(name)) return (e) => rank(e) === 1 && rankOf(e, ofType, true) === 1;
  if (!/^nth-(last-)?(child|of-type)$/.test(name) || inside === undefined) return undefined;
  const steps = readSteps(inside.trim().toLowerCase());
  if (steps === undefined) return undefined;
  const [every, offset] = steps;
  return (e) => {
    const past = rank(e) - offset;
    return every === 0 ? past === 0 : past % every === 0 && past / every >= 0;
  };
}

function rankOf(element: Element, ofType: boolean, fromEnd: boolean): number {
  if (ofType) return fromEnd ? element.nthLast : element.nth;
  return fromEnd ? (element.parent?.children.length ?? 1) - element.index : element.index + 1;
}

function readSteps(text: string): [every: number, offset: number] | undefined {
  if (text === 'odd') return [2, 1];
  if (text === 'even') return [2, 0];
  const m = /^(?:([+-]?\d*)n)?\s*([+-]?\s*\d+)?$/.exec(text);
  if (m === null || (m[1] === undefined && m[2] === undefined)) return undefined;
  const every = m[1] === undefined ? 0 : /\d/.test(m[1]) ? Number(m[1]) : m[1] === '-' ? -1 : 1;
  return [every, Number((m[2] ?? '0').replace(/\s/g, ''))];
}

/** Whether the element is one that the selector means. */
export function matches(element: Element, selector: Selector, effort: Effort, from = 0): boolean {
  effort.left--;
  const compound = selector.compounds[from]!;
  if (!compound.tests.every((test) => test(element))) return false;
  const left = from + 1;
  if (left === selector.compounds.length) return true;
  const parent = element.parent;
  if (parent === undefined) return false;
  if (compound.combinator === '>') return matches(parent, selector, effort, left);
  if (compound.combinator === ' ') {
    for (let at: Element | undefined = parent; at !== undefined && effort.left > 0; at = at.parent)
      if (matches(at, selector, effort, left)) return true;
    return false;
  }
  const nearest = element.index - 1;
  const last = compound.combinator === '+' ? Math.max(0, nearest) : 0;
  for (let i = nearest; i >= last && effort.left > 0; i--)
    if (matches(parent.children[i]!, selector, effort, left)) return true;
  return false;
}
