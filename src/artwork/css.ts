import { readSelectors, type Selector } from './selector.ts';

export interface Declaration {
  readonly property: string;
  readonly value: string;
  readonly important: boolean;
}

export interface Rule {
  readonly selector: Selector;
  readonly declarations: readonly Declaration[];
  readonly order: number;
}

/** A style sheet's rules that count, and a sentence for each part of it that was passed over. */
export interface Sheet {
  readonly rules: readonly Rule[];
  readonly passedOver: readonly string[];
}

/** More than any drawing program writes. */
const MOST_RULES = 20_000;
/** At-rules that never change an outline. */
const HARMLESS = new Set([
  'charset',
  'font-face',
  'page',
  'namespace',
  'keyframes',
  '-webkit-keyframes',
  'counter-style',
  'font-feature-values',
  'property',
  'color-profile',
]);

/** Reads a style sheet (CSS Syntax 3), keeping what it understands and telling what it passed over. */
export function readSheet(text: string, firstOrder: number): Sheet {
  const rules: Rule[] = [];
  const passedOver: string[] = [];
  readRules(stripComments(text).replace(/<!--|-->/g, ' '), rules, passedOver, firstOrder, 0);
  return { rules, passedOver };
}

const stripComments = (text: string): string =>
  text.replace(/"(?:[^"\\\n]|\\[\s\S])*"|'(?:[^'\\\n]|\\[\s\S])*'|\/\*[\s\S]*?(?:\*\/|$)/g, (whole) =>
    whole.startsWith('/*') ? ' ' : whole,
  );

function readRules(
  text: string,
  rules: Rule[],
  passedOver: string[],
  firstOrder: number,
  depth: number,
): void {
  let at = 0;
  while (at < text.length) {
    const end = endOf(text, at, '{;');
    const head = text.slice(at, end).trim();
    if (text[end] !== '{') {
      // A statement without a block, such as @import; a stray piece of a rule ends the sheet.
      if (/^@import/i.test(head))
        passedOver.push(`A style sheet in another file is not read: ${shorten(head)}.`);
      at = end + 1;
      continue;
    }
    const close = endOf(text, end + 1, '}');
    const body = text.slice(end + 1, close);
    at = close + 1;
    if (head.startsWith('@')) readAtRule(head, body, rules, passedOver, firstOrder, depth);
    else addRule(head, body, rules, passedOver, firstOrder);
  }
}

function readAtRule(
  head: string,
  body: string,
  rules: Rule[],
  passedOver: string[],
  firstOrder: number,
  depth: number,
): void {
  const m = /^@([\w-]+)\s*([\s\S]*)$/.exec(head);
  const name = m?.[1]?.toLowerCase() ?? '';
  const applies = name === 'media' ? mediaApplies(m![2]!) : undefined;
  if (HARMLESS.has(name) || applies === false) return;
  if (applies === true && depth < 10) readRules(body, rules, passedOver, firstOrder, depth + 1);
  else passedOver.push(`A part of the style sheet is not understood and was passed over: ${shorten(head)}.`);
}

/** For a plain list of media names; `undefined` where a condition would have to be tried on a real screen. */
export function mediaApplies(query: string): boolean | undefined {
  const parts = query
    .toLowerCase()
    .split(',')
    .map((part) => part.trim());
  if (query.trim() === '' || parts.some((part) => /^(only\s+)?(all|screen)$/.test(part))) return true;
  return parts.every((part) =>
    /^(only\s+)?(print|speech|aural|braille|embossed|handheld|projection|tty|tv)$/.test(part),
  )
    ? false
    : undefined;
}

function addRule(head: string, body: string, rules: Rule[], passedOver: string[], firstOrder: number): void {
  const selectors = readSelectors(head);
  const declarations = readDeclarations(body);
  if (selectors === undefined) {
    if (declarations.length > 0)
      passedOver.push(`A rule of the style sheet is not understood and was passed over: ${shorten(head)}.`);
    return;
  }
  for (const selector of selectors) {
    if (rules.length >= MOST_RULES) {
      if (rules.length === MOST_RULES)
        passedOver.push(`Only the first ${MOST_RULES} rules of the style sheet were read.`);
      return;
    }
    rules.push({ selector, declarations, order: firstOrder + rules.length });
  }
}

const shorten = (text: string): string => {
  const line = text.replace(/\s+/g, ' ').trim();
  return line.length > 60 ? `${line.slice(0, 60)}...` : line;
};

/** The declarations of a rule or of a `style` attribute; broken ones are skipped, as CSS wants. */
export function readDeclarations(text: string): readonly Declaration[] {
  const clean = text.includes('/*') ? stripComments(text) : text;
  const found: Declaration[] = [];
  for (let at = 0; at < clean.length; ) {
    const end = endOf(clean, at, ';');
    const m = /^\s*(--[^\s:]+|-?[A-Za-z][\w-]*)\s*:\s*([\s\S]*?)\s*(!\s*important)?\s*$/i.exec(
      clean.slice(at, end),
    );
    at = end + 1;
    if (m === null || m[2] === '') continue;
    const property = m[1]!.startsWith('--') ? m[1]! : m[1]!.toLowerCase();
    found.push({ property, value: m[2]!, important: m[3] !== undefined });
  }
  return found;
}

/** The first of `stops` outside quotes and brackets from `at` on, or the end of the text. */
function endOf(text: string, at: number, stops: string): number {
  let depth = 0;
  for (let i = at; i < text.length; i++) {
    const c = text[i]!;
    if (c === '\\') i++;
    else if (c === '"' || c === "'") {
      const close = text.indexOf(c, i + 1);
      i = close < 0 ? text.length : close;
    } else if (depth === 0 && stops.includes(c)) return i;
    else if (c === '{' || c === '(' || c === '[') depth++;
    else if ((c === '}' || c === ')' || c === ']') && depth > 0) depth--;
  }
  return text.length;
}
