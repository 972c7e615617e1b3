import { CSS_PX_PER_INCH, MM_PER_INCH } from '../units.ts';

/** CSS units of fixed size, in pixels, which are the drawing's units at that point (CSS Values 4, section 6.2). */
const FIXED: Readonly<Record<string, number>> = {
  px: 1,
  in: CSS_PX_PER_INCH,
  cm: (10 * CSS_PX_PER_INCH) / MM_PER_INCH,
  mm: CSS_PX_PER_INCH / MM_PER_INCH,
  q: CSS_PX_PER_INCH / MM_PER_INCH / 4,
  pt: CSS_PX_PER_INCH / 72,
  pc: CSS_PX_PER_INCH / 6,
};

/** The same read as sizes on the page: units with a physical meaning. */
const PHYSICAL = new Set(['in', 'cm', 'mm', 'q', 'pt', 'pc']);

/** Which extent of the viewport a percentage is of; `diagonal` is sqrt((w2 + h2) / 2), for radii. */
export type Axis = 'x' | 'y' | 'diagonal';

/** What a relative length is measured against, in the drawing's units; unknown extents stay undefined. */
export interface LengthBase {
  readonly width: number | undefined;
  readonly height: number | undefined;
  readonly fontSize: number;
  readonly rootFontSize: number;
}

/** How a length was written. */
export interface Written {
  readonly value: number;
  /** Lower case; empty for a bare number. */
  readonly unit: string;
}

/** Splits `12.5mm` into its number and unit; white space between the two, or a decimal comma, makes it unreadable. */
export function splitLength(text: string): Written | undefined {
  const m = /^([+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:e[+-]?\d+)?)([a-z]*|%)$/i.exec(text.trim());
  if (m === null) return undefined;
  const value = Number(m[1]);
  return Number.isFinite(value) ? { value, unit: m[2]!.toLowerCase() } : undefined;
}

export const isPhysical = (unit: string): boolean => PHYSICAL.has(unit);

/** Pixels for a length of fixed size, as on the root element; `undefined` for a relative or unknown one. */
export function fixedPixels({ value, unit }: Written): number | undefined {
  const size = unit === '' ? 1 : FIXED[unit];
  return size === undefined ? undefined : value * size;
}

/**
 * A length in the drawing's own units at this point. A millimetre here is its fixed number of pixels whatever the viewBox
 * does to them later: that is the standard's way. CSS refuses a bare number other than 0; attributes take it.
 */
export function readLength(text: string, axis: Axis, base: LengthBase, css: boolean): number | undefined {
  const call = /^\s*calc\(([\s\S]*)\)\s*$/i.exec(text);
  if (call !== null) return readSum(call[1]!, axis, base);
  const written = splitLength(text);
  if (written === undefined || (css && written.unit === '' && written.value !== 0)) return undefined;
  return lengthOf(written, axis, base);
}

function lengthOf(written: Written, axis: Axis, base: LengthBase): number | undefined {
  const { value, unit } = written;
  if (unit === '%') {
    const whole = extent(axis, base);
    return whole === undefined ? undefined : (value / 100) * whole;
  }
  if (unit === 'em') return value * base.fontSize;
  // Without the font at hand CSS takes half an em for both (CSS Values 4, section 6.1.1).
  if (unit === 'ex' || unit === 'ch') return (value * base.fontSize) / 2;
  if (unit === 'rem') return value * base.rootFontSize;
  return fixedPixels(written);
}

function extent(axis: Axis, { width, height }: LengthBase): number | undefined {
  if (axis === 'x') return width;
  if (axis === 'y') return height;
  return width === undefined || height === undefined ? undefined : Math.hypot(width, height) / Math.SQRT2;
}

type Term = { readonly value: number; readonly isLength: boolean };

/** `calc()`: sums and products of lengths and numbers, with brackets. */
function readSum(text: string, axis: Axis, base: LengthBase): number | undefined {
  const tokens = text.match(/[()*/]|\s[+-]\s|[^\s()*/]+/g) ?? [];
  let at = 0;
  const factor = (depth: number): Term | undefined => {
    const token = tokens[at++];
    if (token === '(' && depth < 20) {
      const inner = sum(depth + 1);
      return tokens[at++] === ')' ? inner : undefined;
    }
    const written = token === undefined ? undefined : splitLength(token);
    if (written === undefined) return undefined;
    if (written.unit === '') return { value: written.value, isLength: false };
    const value = lengthOf(written, axis, base);
    return value === undefined ? undefined : { value, isLength: true };
  };
  const product = (depth: number): Term | undefined => {
    let left = factor(depth);
    while (left !== undefined && (tokens[at] === '*' || tokens[at] === '/')) {
      const times = tokens[at++] === '*';
      const right = factor(depth);
      if (right === undefined || (times ? left.isLength && right.isLength : right.isLength)) return undefined;
      left = {
        value: times ? left.value * right.value : left.value / right.value,
        isLength: left.isLength || right.isLength,
      };
    }
    return left;
  };
  const sum = (depth: number): Term | undefined => {
    let left = product(depth);
    while (left !== undefined && /^\s[+-]\s$/.test(tokens[at] ?? '')) {
      const plus = tokens[at++]!.includes('+');
      const right = product(depth);
      if (right === undefined || right.isLength !== left.isLength) return undefined;
      left = { value: plus ? left.value + right.value : left.value - right.value, isLength: left.isLength };
    }
    return left;
  };
  const result = sum(0);
  if (result === undefined || at !== tokens.length || !Number.isFinite(result.value)) return undefined;
  return result.isLength || result.value === 0 ? result.value : undefined;
}
