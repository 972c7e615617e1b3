import { begin } from '../fault.ts';
import type { RawLine } from '../geometry/shapes.ts';
import type { LeftOutKind, Mark } from './artwork.ts';
import type { PointBudget } from './flatten.ts';
import { type Axis, type LengthBase, readLength } from './length.ts';
import type { Notes } from './notes.ts';
import type { Paint } from './paint.ts';
import { type Cascade, type Declared, pick, type Style } from './style.ts';
import type { Matrix } from './transform.ts';
import { type Element, markOf } from './tree.ts';

/** A whole drawing as the walk sees it. */
export interface Drawing {
  readonly file: string;
  readonly cascade: Cascade;
  readonly byId: ReadonlyMap<string, Element>;
  readonly twice: ReadonlySet<string>;
  readonly place: (offset: number) => { line: number; column: number };
  readonly rootFontSize: number;
  readonly points: PointBudget;
  /** Elements that may still be drawn, each `use` counting anew. */
  readonly elements: { left: number };
}

/** What hems in everything drawn under it: a clip path's element, or the edges of a viewport. */
export interface Clip {
  readonly element: Element;
  readonly matrix: Matrix;
  readonly base: LengthBase;
  readonly style: Style;
  /** Edges of a viewport; `undefined` for a clip path, which is `element` itself. */
  readonly edges?: readonly [x: number, y: number, width: number, height: number];
  /** The element that carries the clip path, for boxes taken from it. */
  readonly carrier?: Frame;
  readonly outer: Clip | undefined;
}

/** One element about to be drawn, with all that its surroundings hand down. */
export interface Frame {
  readonly element: Element;
  /** From the parent's units to millimetres. */
  readonly matrix: Matrix;
  readonly style: Style;
  readonly width: number | undefined;
  readonly height: number | undefined;
  readonly clip: Clip | undefined;
  readonly uses: Uses | undefined;
}

/** The targets that `use` elements have led through on the way here, and the size the last one asks for. */
export interface Uses {
  readonly target: Element;
  readonly width: number | undefined;
  readonly height: number | undefined;
  readonly outer: Uses | undefined;
}

/** A shape as painted: its lines in millimetres and what is known of it. */
export interface Painted {
  readonly element: Element;
  readonly lines: readonly RawLine[];
  readonly style: Style;
  readonly fill: Paint;
  readonly clip: Clip | undefined;
}

/** `paint` asks what is seen; `clip` and `box` take every shape, whatever its paint. */
export type Purpose = 'paint' | 'clip' | 'box';

export interface Walk {
  readonly drawing: Drawing;
  readonly purpose: Purpose;
  readonly notes: Notes;
  readonly paint: (shape: Painted) => void;
  /** The way down to the one element that was asked for: only it is drawn. */
  readonly way?: ReadonlySet<Element>;
  readonly chosen?: Element;
  readonly stroked: (element: Element, widthMm: number) => void;
}

export const baseOf = (frame: Frame, style: Style, w: Walk): LengthBase => ({
  width: frame.width,
  height: frame.height,
  fontSize: style.fontSize,
  rootFontSize: w.drawing.rootFontSize,
});

/** Lists something left out; boxes are measured in silence, and what is hidden in a clip path hides nothing. */
export function note(w: Walk, element: Element, kind: LeftOutKind, says: string, matters = true): void {
  if (w.purpose === 'box' || (w.purpose === 'clip' && !matters)) return;
  w.notes.add(kind, (): Mark => markOf(element, w.drawing.place), says, matters);
}

export function noteTwice(w: Walk, element: Element, id: string): void {
  if (w.drawing.twice.has(id))
    note(
      w,
      element,
      'duplicate-id',
      `More than one element is called "#${shorten(id)}"; the first one was taken.`,
    );
}

export const isHidden = (declared: Declared, style: Style): boolean =>
  pick(declared, 'display', style.custom, (v) => v.trim().toLowerCase()) === 'none';

export const shorten = begin;

/** Reads an element's lengths in its own units: from a rule, else from its attribute. */
export function lengthIn(
  frame: Frame,
  declared: Declared,
  w: Walk,
): (property: string, axis: Axis) => number | undefined {
  const base = baseOf(frame, frame.style, w);
  return (property, axis) => {
    let unreadable: string | undefined;
    const attribute = declared.has(property) ? undefined : frame.element.attributes.get(property);
    const source: Declared =
      attribute === undefined ? declared : new Map([[property, [{ value: attribute, css: false }]]]);
    const found = pick(source, property, frame.style.custom, (text, css): number | 'auto' | undefined => {
      if (text.trim().toLowerCase() === 'auto') return 'auto';
      const length = readLength(text, axis, base, css);
      if (length === undefined) unreadable ??= text;
      return length;
    });
    if (unreadable !== undefined)
      note(
        w,
        frame.element,
        'unreadable-value',
        `Its ${property} "${shorten(unreadable)}" cannot be read and does not count.`,
      );
    return typeof found === 'number' ? found : undefined;
  };
}

/** A box in the drawing's own units. */
export type Box = readonly [x: number, y: number, width: number, height: number];
