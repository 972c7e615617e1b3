import { type Rule, readDeclarations } from './css.ts';
import { type LengthBase, readLength } from './length.ts';
import { BLACK, NO_PAINT, type Paint, readPaint } from './paint.ts';
import { type Effort, matches } from './selector.ts';
import type { Element } from './tree.ts';

/** One written value of a property; `css` tells the stricter grammar of style sheets from that of attributes. */
export interface Candidate {
  readonly value: string;
  readonly css: boolean;
}

/** Everything declared for an element, the strongest first; the first that makes sense counts. */
export type Declared = ReadonlyMap<string, readonly Candidate[]>;

/** What children take over from their parents. */
export interface Style {
  readonly fill: Paint;
  readonly stroke: Paint;
  readonly fillRule: 'nonzero' | 'evenodd';
  readonly clipRule: 'nonzero' | 'evenodd';
  /** In the drawing's units at this point. */
  readonly strokeWidth: number;
  readonly visible: boolean;
  readonly colour: string;
  readonly fontSize: number;
  readonly fillOpacity: number;
  readonly strokeOpacity: number;
  readonly marker: boolean;
  /** CSS variables by name. */
  readonly custom: ReadonlyMap<string, string>;
}

export const INITIAL: Style = {
  fill: BLACK,
  stroke: NO_PAINT,
  fillRule: 'nonzero',
  clipRule: 'nonzero',
  strokeWidth: 1,
  visible: true,
  colour: 'black',
  fontSize: 16, // `medium`, CSS Fonts 4: up to the viewer, 16 px in practice
  fillOpacity: 1,
  strokeOpacity: 1,
  marker: false,
  custom: new Map(),
};

/** Attributes that style an element when no rule does (SVG 2, section 6.6), as far as they bear on outlines. */
const PRESENTATION: ReadonlySet<string> = new Set(
  (
    'fill stroke fill-rule clip-rule stroke-width visibility display color font-size fill-opacity stroke-opacity ' +
    'opacity marker-start marker-mid marker-end clip-path mask filter transform transform-origin transform-box ' +
    'overflow x y width height cx cy r rx ry d'
  ).split(' '),
);

/** Finds which rules mean an element, and puts everything declared for it in order of strength (CSS Cascade 4). */
export class Cascade {
  private readonly byKey = new Map<string, Rule[]>();
  private readonly effort: Effort;
  private readonly refuse: () => never;
  private readonly known = new Map<Element, Declared>();

  /** `refuse` is called once matching takes more work than `effort` allows. */
  constructor(rules: readonly Rule[], effort: Effort, refuse: () => never) {
    this.effort = effort;
    this.refuse = refuse;
    for (const rule of rules) {
      const list = this.byKey.get(rule.selector.key);
      if (list === undefined) this.byKey.set(rule.selector.key, [rule]);
      else list.push(rule);
    }
  }

  declared(element: Element): Declared {
    const known = this.known.get(element);
    if (known !== undefined) return known;
    const found = new Map<string, Candidate[]>();
    const add = (property: string, value: string, css: boolean): void => {
      const list = found.get(property);
      if (list === undefined) found.set(property, [{ value, css }]);
      else list.push({ value, css });
    };
    // Weakest first; within one strength the last one written wins.
    for (const [name, value] of element.attributes) if (PRESENTATION.has(name)) add(name, value, false);
    const rules = this.rulesFor(element);
    const written = element.attributes.get('style');
    if (rules.length === 0 && written === undefined) return found;
    const own = written === undefined ? [] : readDeclarations(written);
    for (const important of [false, true]) {
      for (const rule of rules)
        for (const d of rule.declarations) if (d.important === important) add(d.property, d.value, true);
      for (const d of own) if (d.important === important) add(d.property, d.value, true);
    }
    for (const list of found.values()) list.reverse();
    this.known.set(element, found);
    return found;
  }

  private rulesFor(element: Element): readonly Rule[] {
    if (this.byKey.size === 0) return [];
    const { attributes, name } = element;
    const classes = attributes.get('class')?.split(/\s+/) ?? [];
    const keys = new Set(['*', name, `#${attributes.get('id')}`, ...classes.map((word) => `.${word}`)]);
    const found: Rule[] = [];
    for (const key of keys)
      for (const rule of this.byKey.get(key) ?? []) {
        if (matches(element, rule.selector, this.effort)) found.push(rule);
        if (this.effort.left < 0) this.refuse();
      }
    return found.sort((a, b) => a.selector.weight - b.selector.weight || a.order - b.order);
  }
}

/** A keyword that any property takes, or a value that `read` understood; `undefined` when nothing was declared. */
export function pick<T>(
  declared: Declared,
  property: string,
  custom: ReadonlyMap<string, string>,
  read: (value: string, css: boolean) => T | undefined,
): T | 'inherit' | 'initial' | undefined {
  for (const { value, css } of declared.get(property) ?? []) {
    const text = css && value.includes('var(') ? substitute(value, custom, 0) : value;
    if (text === undefined) continue;
    const word = text.trim().toLowerCase();
    if (word === 'inherit' || word === 'initial') return word;
    if (css && (word === 'unset' || word.startsWith('revert'))) return undefined;
    const understood = read(text, css);
    if (understood !== undefined) return understood;
  }
  return undefined;
}

/** Puts CSS variables in (CSS Variables 1); `undefined` when one is missing and has no stand-in. */
function substitute(value: string, custom: ReadonlyMap<string, string>, depth: number): string | undefined {
  if (depth > 20 || value.length > 10_000) return undefined;
  let missing = false;
  const text = value.replace(
    /var\(\s*(--[^\s,)]+)\s*(?:,((?:[^()]|\([^()]*\))*))?\)/g,
    (_, name: string, spare?: string) => {
      const found = custom.get(name) ?? spare;
      missing ||= found === undefined;
      return found ?? '';
    },
  );
  if (missing) return undefined;
  return text.includes('var(') ? substitute(text, custom, depth + 1) : text;
}

/** The element's own style, from what is declared for it and what its parent hands down. */
export function styleOf(declared: Declared, parent: Style, base: LengthBase): Style {
  if (declared.size === 0) return parent;
  const custom = customOf(declared, parent.custom);
  const take = <K extends keyof Style>(
    key: K,
    property: string,
    read: (value: string, css: boolean) => Style[K] | undefined,
  ): Style[K] => {
    const found = pick(declared, property, custom, read);
    if (found === undefined || found === 'inherit') return parent[key];
    return found === 'initial' ? INITIAL[key] : found;
  };
  const colour = take('colour', 'color', (v) =>
    v.trim().toLowerCase() === 'currentcolor' ? parent.colour : v,
  );
  const fontSize = take('fontSize', 'font-size', (v, css) => readFontSize(v, css, parent.fontSize, base));
  const lengths = { ...base, fontSize };
  const rule = (v: string): 'nonzero' | 'evenodd' | undefined => {
    const word = v.trim().toLowerCase();
    return word === 'nonzero' || word === 'evenodd' ? word : undefined;
  };
  return {
    custom,
    colour,
    fontSize,
    fill: take('fill', 'fill', (v) => readPaint(v, colour)),
    stroke: take('stroke', 'stroke', (v) => readPaint(v, colour)),
    fillRule: take('fillRule', 'fill-rule', rule),
    clipRule: take('clipRule', 'clip-rule', rule),
    // CSS takes a bare number for a stroke's width too (SVG 2, section 13.5.3).
    strokeWidth: take('strokeWidth', 'stroke-width', (v) =>
      notNegative(readLength(v, 'diagonal', lengths, false)),
    ),
    visible: take('visible', 'visibility', (v) =>
      /^\s*(visible|hidden|collapse)\s*$/i.test(v) ? /visible/i.test(v) : undefined,
    ),
    fillOpacity: take('fillOpacity', 'fill-opacity', readShare),
    strokeOpacity: take('strokeOpacity', 'stroke-opacity', readShare),
    marker: hasMarker(declared, custom, parent),
  };
}

const notNegative = (value: number | undefined): number | undefined =>
  value !== undefined && value >= 0 ? value : undefined;

function customOf(declared: Declared, inherited: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  let own: Map<string, string> | undefined;
  for (const [property, [first]] of declared) {
    if (!property.startsWith('--') || first === undefined) continue;
    own ??= new Map(inherited);
    own.set(property, first.value);
  }
  return own ?? inherited;
}

function hasMarker(declared: Declared, custom: ReadonlyMap<string, string>, parent: Style): boolean {
  const names = ['marker', 'marker-start', 'marker-mid', 'marker-end'].filter((name) => declared.has(name));
  if (names.length === 0) return parent.marker;
  return names.some((name) => {
    const found = pick(declared, name, custom, (v) => v);
    return found === 'inherit' ? parent.marker : found !== undefined && /url\(/i.test(found);
  });
}

/** A share from 0 to 1, as a number or a percentage. */
export function readShare(value: string): number | undefined {
  const m = /^\s*([+-]?(?:\d*\.)?\d+(?:e[+-]?\d+)?)(%?)\s*$/i.exec(value);
  return m === null ? undefined : Math.min(1, Math.max(0, Number(m[1]) / (m[2] === '%' ? 100 : 1)));
}

/** Factors of the size keywords (CSS Fonts 4, section 2.5.1). */
const SIZES: Readonly<Record<string, number>> = {
  'xx-small': 3 / 5,
  'x-small': 3 / 4,
  small: 8 / 9,
  medium: 1,
  large: 6 / 5,
  'x-large': 3 / 2,
  'xx-large': 2,
  'xxx-large': 3,
};

function readFontSize(value: string, css: boolean, parent: number, base: LengthBase): number | undefined {
  const word = value.trim().toLowerCase();
  const factor = SIZES[word];
  if (factor !== undefined) return factor * INITIAL.fontSize;
  if (word === 'larger') return parent * 1.2;
  if (word === 'smaller') return parent / 1.2;
  // A percentage, like an em, is of the parent's size.
  const size = readLength(word, 'x', { ...base, width: parent, fontSize: parent }, css);
  return notNegative(size);
}
