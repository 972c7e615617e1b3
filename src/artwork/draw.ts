import { InputFault } from '../fault.ts';
import type { RawLine } from '../geometry/shapes.ts';
import type { LeftOutKind, Mark } from './artwork.ts';
import { CHORD_ERROR, Flattener, FlattenFault, type PointBudget } from './flatten.ts';
import { type Axis, type LengthBase, readLength } from './length.ts';
import type { Notes } from './notes.ts';
import { NO_PAINT, type Paint } from './paint.ts';
import { drawShape, SHAPES } from './shapes.ts';
import { type Cascade, type Declared, pick, readShare, type Style, styleOf } from './style.ts';
import {
  areaFactor,
  compose,
  IDENTITY,
  type Matrix,
  readCssTransform,
  readTransform,
  shift,
  stretch,
} from './transform.ts';
import { descendants, type Element, markOf } from './tree.ts';
import { fitViewBox, readViewBox } from './viewport.ts';

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
interface Uses {
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

const CONTAINERS = new Set(['g', 'a', 'svg', 'switch', 'use', 'symbol']);
/** Never drawn where they stand, and nothing is missing for it. */
const UNDRAWN = new Set([
  ...[
    'defs',
    'clipPath',
    'mask',
    'marker',
    'pattern',
    'linearGradient',
    'radialGradient',
    'meshgradient',
    'filter',
  ],
  ...[
    'metadata',
    'title',
    'desc',
    'style',
    'view',
    'cursor',
    'font',
    'font-face',
    'color-profile',
    'solidcolor',
  ],
  ...['hatch', 'mesh', 'foreign', 'symbol'],
]);
const ANIMATIONS = new Set(['animate', 'animateTransform', 'animateMotion', 'animateColor', 'set']);
const LETTERING = new Set(['text', 'flowRoot', 'tspan', 'tref', 'textPath']);
/** `use` inside `use` inside `use`: deeper than this it is a trap. */
const MOST_USES = 100;

/** Walks the tree in the order of painting, without recursion, so that depth costs no stack. */
export function walk(start: Frame, w: Walk): void {
  const waiting: Frame[] = [start];
  for (let frame = waiting.pop(); frame !== undefined; frame = waiting.pop()) {
    if (--w.drawing.elements.left < 0)
      throw new InputFault('The drawing repeats its parts more often than is read; join them into paths.', {
        file: w.drawing.file,
        ...markOf(frame.element, w.drawing.place),
      });
    const children = visit(frame, w);
    for (let i = children.length - 1; i >= 0; i--) waiting.push(children[i]!);
  }
}

const NONE: readonly Frame[] = [];

/** Draws one element, or gives the frames of what it holds. */
function visit(frame: Frame, w: Walk): readonly Frame[] {
  const { element } = frame;
  const onWay = w.way?.has(element) ?? false;
  const name = onWay && element !== w.chosen && !CONTAINERS.has(element.name) ? 'g' : element.name;
  const sought = frame.uses?.target === element || element === w.chosen;
  if (UNDRAWN.has(name) && !(sought && name === 'symbol')) return passOver(frame, w);
  const isShape = SHAPES.has(name);
  if (!isShape && !CONTAINERS.has(name)) return passOver(frame, w);
  if (!meetsConditions(element)) {
    note(w, element, 'hidden', 'It is meant for another language or program and is left out.', false);
    return NONE;
  }
  const declared = w.drawing.cascade.declared(element);
  const base = baseOf(frame, frame.style, w);
  const own = styleOf(declared, frame.style, base);
  const style = onWay && !own.visible ? { ...own, visible: true } : own;
  if (isHidden(declared, style)) {
    if (!onWay) {
      note(w, element, 'hidden', 'It is hidden (display none) and is left out.', false);
      return NONE;
    }
    note(w, element, 'hidden', 'It is hidden, but taken all the same since it was asked for by name.', false);
  }
  const here: Frame = { ...frame, style, matrix: placed(frame, declared, style, w) };
  const clipped = withClip(here, declared, w);
  noteVeils(element, declared, style, w);
  if (isShape) {
    paintShape(clipped, declared, name, w);
    return NONE;
  }
  if (name === 'use') return useFrame(clipped, declared, w);
  if (name === 'svg' || name === 'symbol') return viewportFrames(clipped, declared, name, w);
  return childFrames(clipped, w, name === 'switch' ? chosenChild(element) : element.children);
}

const baseOf = (frame: Frame, style: Style, w: Walk): LengthBase => ({
  width: frame.width,
  height: frame.height,
  fontSize: style.fontSize,
  rootFontSize: w.drawing.rootFontSize,
});

function note(w: Walk, element: Element, kind: LeftOutKind, says: string, matters: boolean): void {
  w.notes.add(kind, (): Mark => markOf(element, w.drawing.place), says, matters);
}

/** Elements that hold no outline: told when a maker would see something there. */
function passOver({ element, style }: Frame, w: Walk): readonly Frame[] {
  const { name } = element;
  const tell = (kind: LeftOutKind, says: string): readonly Frame[] => {
    note(w, element, kind, says, true);
    return NONE;
  };
  const declared = w.drawing.cascade.declared(element);
  if (LETTERING.has(name) || name === 'image' || name === 'foreignObject') {
    const shown =
      !isHidden(declared, style) &&
      styleOf(declared, style, { ...NO_BASE }).visible &&
      meetsConditions(element);
    if (!shown) return NONE;
    if (name === 'image')
      return tell('image', 'A picture has no outline that can be cut; trace it into paths.');
    if (name === 'foreignObject')
      return tell('foreign', 'It holds another kind of document, which has no outlines.');
    const empty = [...descendants(element)].every((part) => part.text.trim() === '');
    return empty ? NONE : tell('text', 'Lettering that is still text has no outline; turn it into paths.');
  }
  if (ANIMATIONS.has(name))
    return tell('animation', 'It moves or changes a shape; the shape is read as it stands.');
  if (name === 'script') return tell('script', 'Scripts are not run; what they would draw is left out.');
  if (UNDRAWN.has(name) && name !== 'foreign') return NONE;
  if (name === 'foreign' && !holdsShapes(element)) return NONE;
  return tell(
    name === 'foreign' ? 'foreign' : 'unknown',
    name === 'foreign'
      ? 'The shapes in it belong to another language than SVG and are left out.'
      : `<${name}> is no element that can be drawn; it is left out with all it holds.`,
  );
}

const NO_BASE: LengthBase = { width: undefined, height: undefined, fontSize: 16, rootFontSize: 16 };

function holdsShapes(element: Element): boolean {
  for (const part of descendants(element)) if (SHAPES.has(part.name)) return true;
  return false;
}

/** Conditional attributes (SVG 2, section 5.8.5). Drawings are read as an English speaker sees them. */
function meetsConditions({ attributes }: Element): boolean {
  if (attributes.has('requiredExtensions')) return false;
  const languages = attributes.get('systemLanguage');
  return languages === undefined || languages.split(',').some((tag) => /^\s*en(-|\s*$)/i.test(tag));
}

function chosenChild(element: Element): readonly Element[] {
  const first = element.children.find((child) => child.name !== 'foreign' && meetsConditions(child));
  return first === undefined ? [] : [first];
}

const isHidden = (declared: Declared, style: Style): boolean =>
  pick(declared, 'display', style.custom, (v) => v.trim().toLowerCase()) === 'none';

/** The frame's matrix with the element's own transform (CSS Transforms 1: a rule's transform replaces the attribute's). */
function placed(frame: Frame, declared: Declared, style: Style, w: Walk): Matrix {
  const { element, matrix } = frame;
  for (const property of ['translate', 'rotate', 'scale', 'offset-path', 'perspective'])
    if (declared.has(property))
      note(w, element, 'transform', `Its "${property}" style is not understood and was passed over.`, true);
  if (!declared.has('transform')) return matrix;
  const boxed = pick(declared, 'transform-box', style.custom, (v) => v.trim().toLowerCase());
  const box =
    boxed === 'fill-box' || boxed === 'content-box' || boxed === 'stroke-box' || boxed === 'border-box'
      ? boxOf({ ...frame, style }, w)
      : ([0, 0, frame.width, frame.height] as const);
  const base = { ...baseOf(frame, style, w), width: box[2], height: box[3] };
  let broken: string | undefined;
  const found = pick(declared, 'transform', style.custom, (text, css): Matrix | undefined => {
    const read = css
      ? readCssTransform(text, (t, axis) => readLength(t, axis, base, true))
      : readTransform(text);
    if (read === undefined) broken ??= text;
    return read;
  });
  if (broken !== undefined)
    note(
      w,
      element,
      'transform',
      `Its transform "${shorten(broken)}" is not understood, so none of it counts.`,
      true,
    );
  if (typeof found !== 'object') return matrix;
  const [originX, originY] = originOf(declared, style, base);
  const x = box[0] + originX;
  const y = box[1] + originY;
  return compose(matrix, compose(compose(shift(x, y), found), shift(-x, -y)));
}

const shorten = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}...` : text);

const ORIGINS: Readonly<Record<string, string>> = {
  left: '0%',
  top: '0%',
  center: '50%',
  right: '100%',
  bottom: '100%',
};

function originOf(declared: Declared, style: Style, base: LengthBase): readonly [number, number] {
  const found = pick(
    declared,
    'transform-origin',
    style.custom,
    (text, css): readonly [number, number] | undefined => {
      const words = text
        .trim()
        .toLowerCase()
        .split(/[\s,]+/);
      if (words.length === 1) words.push('center');
      const upright = /^(top|bottom)$/.test(words[0]!) || /^(left|right)$/.test(words[1]!);
      const [across, down] = upright ? [words[1]!, words[0]!] : [words[0]!, words[1]!];
      const x = readLength(ORIGINS[across] ?? across, 'x', base, css);
      const y = readLength(ORIGINS[down] ?? down, 'y', base, css);
      return x === undefined || y === undefined ? undefined : [x, y];
    },
  );
  return typeof found === 'object' ? found : [0, 0];
}

/** The box of everything the element draws, in its own units; no paint, stroke or clip counts (SVG 2, section 8.10). */
export function boxOf(frame: Frame, w: Walk): readonly [x: number, y: number, width: number, height: number] {
  const scale = stretch(frame.matrix) || 1;
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  const inside: Walk = {
    drawing: w.drawing,
    purpose: 'box',
    notes: w.notes,
    stroked: () => {},
    paint: ({ lines }) => {
      for (const { points } of lines)
        for (let i = 0; i < points.length; i += 2) {
          minX = Math.min(minX, points[i]!);
          maxX = Math.max(maxX, points[i]!);
          minY = Math.min(minY, points[i + 1]!);
          maxY = Math.max(maxY, points[i + 1]!);
        }
    },
  };
  const matrix: Matrix = [scale, 0, 0, scale, 0, 0];
  const bare: Frame = { ...frame, matrix, clip: undefined };
  const declared = w.drawing.cascade.declared(frame.element);
  if (SHAPES.has(frame.element.name)) paintShape(bare, declared, frame.element.name, inside);
  else for (const child of childFrames(bare, inside, frame.element.children)) walk(child, inside);
  return minX > maxX
    ? [0, 0, 0, 0]
    : [minX / scale, minY / scale, (maxX - minX) / scale, (maxY - minY) / scale];
}

/** Takes the element's clip path, mask and filter into account, as far as they can be. */
function withClip(frame: Frame, declared: Declared, w: Walk): Frame {
  const { element, style } = frame;
  const value = (property: string): string | undefined => {
    const found = pick(declared, property, style.custom, (v) => v.trim());
    return found === undefined || found === 'none' || found === 'inherit' || found === 'initial'
      ? undefined
      : found;
  };
  if (w.purpose === 'paint') {
    if (value('mask') !== undefined && value('mask')!.includes('url('))
      note(
        w,
        element,
        'mask',
        'A mask covers part of it; the outline is taken as if the mask were not there.',
        true,
      );
    if (value('filter') !== undefined)
      note(w, element, 'filter', 'A filter changes how it looks; the outline is taken without it.', true);
  }
  const clip = value('clip-path');
  if (clip === undefined || w.purpose === 'box') return frame;
  const id = /^url\(\s*["']?#([^"')]+?)["']?\s*\)$/i.exec(clip)?.[1];
  if (id === undefined) {
    note(
      w,
      element,
      'clipped',
      `Its clip "${shorten(clip)}" is not understood; the outline is taken unclipped.`,
      true,
    );
    return frame;
  }
  const target = w.drawing.byId.get(id);
  if (target?.name !== 'clipPath') {
    note(
      w,
      element,
      'broken-reference',
      `Its clip path "#${id}" is not in the drawing; it is taken unclipped.`,
      true,
    );
    return frame;
  }
  noteTwice(w, element, id);
  const base = baseOf(frame, style, w);
  return {
    ...frame,
    clip: { element: target, matrix: frame.matrix, base, style, carrier: frame, outer: frame.clip },
  };
}

function noteTwice(w: Walk, element: Element, id: string): void {
  if (w.drawing.twice.has(id))
    note(
      w,
      element,
      'duplicate-id',
      `More than one element is called "#${id}"; the first one was taken.`,
      true,
    );
}

function noteVeils(element: Element, declared: Declared, style: Style, w: Walk): void {
  if (w.purpose !== 'paint' || !declared.has('opacity')) return;
  if (pick(declared, 'opacity', style.custom, readShare) === 0)
    note(w, element, 'see-through', SEE_THROUGH, true);
}

const SEE_THROUGH =
  'It cannot be seen (opacity 0), yet its outline counts, since programs that cut still follow it.';

function childFrames(frame: Frame, w: Walk, children: readonly Element[]): readonly Frame[] {
  const { way, chosen } = w;
  const onWay = way?.has(frame.element) && frame.element !== chosen && frame.uses === undefined;
  const drawn = onWay ? frame.element.children.filter((child) => way!.has(child)) : children;
  return drawn.map((element) => ({ ...frame, element }));
}

function lengthIn(
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
        true,
      );
    return typeof found === 'number' ? found : undefined;
  };
}

function useFrame(frame: Frame, declared: Declared, w: Walk): readonly Frame[] {
  const { element } = frame;
  const href = (element.attributes.get('href') ?? element.attributes.get('xlink:href'))?.trim();
  const broken = (says: string, kind: LeftOutKind = 'broken-reference'): readonly Frame[] => {
    note(w, element, kind, says, true);
    return NONE;
  };
  if (href === undefined || href === '') return broken('It repeats another element but does not say which.');
  if (!href.startsWith('#'))
    return broken(`It repeats a part of another file (${shorten(href)}), which is not read.`, 'external');
  const id = decodeId(href.slice(1));
  const target = w.drawing.byId.get(id) ?? w.drawing.byId.get(href.slice(1));
  if (target === undefined) return broken(`It repeats "#${id}", which is not in the drawing.`);
  if (isWithin(element, target) || usesHold(frame.uses, target))
    return broken(`It repeats "#${id}", which holds the repetition itself; that would never end.`);
  noteTwice(w, element, id);
  const length = lengthIn(frame, declared, w);
  const matrix = compose(frame.matrix, shift(length('x', 'x') ?? 0, length('y', 'y') ?? 0));
  const sized = target.name === 'svg' || target.name === 'symbol';
  const uses: Uses = {
    target,
    width: sized ? length('width', 'x') : undefined,
    height: sized ? length('height', 'y') : undefined,
    outer: frame.uses,
  };
  return [{ ...frame, element: target, matrix, uses }];
}

function decodeId(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

function isWithin(element: Element, holder: Element): boolean {
  for (let at: Element | undefined = element; at !== undefined; at = at.parent)
    if (at === holder) return true;
  return false;
}

function usesHold(uses: Uses | undefined, target: Element): boolean {
  let depth = 0;
  for (let at = uses; at !== undefined; at = at.outer)
    if (at.target === target || ++depth > MOST_USES) return true;
  return false;
}

/** A nested `svg` or a symbol opens a viewport of its own (SVG 2, section 8.2); what runs over its edges is cut off. */
function viewportFrames(frame: Frame, declared: Declared, name: string, w: Walk): readonly Frame[] {
  const { element, uses, style } = frame;
  if (element.parent === undefined && uses === undefined) return childFrames(frame, w, element.children);
  const length = lengthIn(frame, declared, w);
  const asked = uses?.target === element ? uses : undefined;
  const width = asked?.width ?? length('width', 'x') ?? frame.width;
  const height = asked?.height ?? length('height', 'y') ?? frame.height;
  const x = length('x', 'x') ?? 0;
  const y = length('y', 'y') ?? 0;
  if (width === undefined || height === undefined) return childFrames(frame, w, element.children);
  const box = readViewBox(element.attributes.get('viewBox'));
  if (width <= 0 || height <= 0 || box?.width === 0 || box?.height === 0) {
    note(
      w,
      element,
      'hidden',
      'It opens a window without any size, so that no viewer draws what it holds.',
      false,
    );
    return NONE;
  }
  const fit =
    box === undefined
      ? IDENTITY
      : fitViewBox(box, width, height, element.attributes.get('preserveAspectRatio'));
  const overflow = pick(declared, 'overflow', style.custom, (v) => v.trim().toLowerCase());
  const open = overflow === 'visible' || overflow === 'auto' || (name === 'svg' && overflow === 'initial');
  const base = baseOf(frame, style, w);
  const edges: Clip = {
    element,
    matrix: frame.matrix,
    base,
    style,
    edges: [x, y, width, height],
    outer: frame.clip,
  };
  return childFrames(
    {
      ...frame,
      matrix: compose(frame.matrix, compose(shift(x, y), fit)),
      width: box?.width ?? width,
      height: box?.height ?? height,
      clip: open ? frame.clip : edges,
    },
    w,
    element.children,
  );
}

/** A visible stroke wider than this makes the painted shape plainly larger than its outline, millimetres. */
const WIDE_STROKE = 0.05;

function paintShape(frame: Frame, declared: Declared, name: string, w: Walk): void {
  const { element, style, matrix } = frame;
  for (const child of element.children)
    if (ANIMATIONS.has(child.name)) passOver({ ...frame, element: child }, w);
  if (w.purpose !== 'box' && !style.visible) {
    note(w, element, 'hidden', 'It is hidden (visibility hidden) and is left out.', false);
    return;
  }
  const fill = w.purpose === 'paint' ? followPaint(style.fill, element, w) : style.fill;
  const strokeMm = style.strokeWidth * stretch(matrix);
  const stroke = w.purpose === 'paint' ? followPaint(style.stroke, element, w) : NO_PAINT;
  const stroked = stroke.kind !== 'none' && stroke.clear !== true && strokeMm > 0 && style.strokeOpacity > 0;
  if (w.purpose === 'paint' && (fill.kind === 'none' || fill.clear === true)) {
    noteUnfilled(element, fill, stroked, w);
    return;
  }
  const lines = linesOf(frame, declared, name, w);
  if (lines === undefined) return;
  if (w.purpose === 'paint') {
    if (style.fillOpacity === 0) note(w, element, 'see-through', SEE_THROUGH, true);
    if (style.marker && (name === 'path' || name === 'polyline' || name === 'polygon'))
      note(
        w,
        element,
        'marker',
        'Markers (arrow heads, dots) on it are no part of its outline and are left out.',
        true,
      );
    if (!lines.some((line) => line.points.length >= 6)) {
      const says = stroked
        ? 'A line has no area: it is drawn as a stroke only and counts for nothing.'
        : 'It has no area and counts for nothing.';
      note(w, element, 'no-area', says, stroked);
      return;
    }
    if (stroked && strokeMm > WIDE_STROKE) w.stroked(element, strokeMm);
  }
  w.paint({ element, lines, style, fill, clip: frame.clip });
}

function noteUnfilled(element: Element, fill: Paint, stroked: boolean, w: Walk): void {
  if (stroked)
    note(
      w,
      element,
      'stroke-only',
      'It is drawn as a stroke without fill, which is no outline; fill it, or turn the stroke into a path.',
      true,
    );
  else if (fill.clear)
    note(
      w,
      element,
      'hidden',
      'Its fill is a fully transparent colour, so that nothing is seen; it is left out.',
      true,
    );
  else
    note(
      w,
      element,
      'hidden',
      'It has neither fill nor stroke, so that nothing is seen; it is left out.',
      false,
    );
}

/** Follows a reference to a gradient or pattern; one that leads nowhere falls back, or paints nothing. */
function followPaint(paint: Paint, element: Element, w: Walk): Paint {
  if (paint.kind !== 'reference') return paint;
  const target = w.drawing.byId.get(paint.id ?? '');
  if (target === undefined) {
    note(
      w,
      element,
      'broken-reference',
      `It is painted with "${shorten(paint.text)}", which is not in the drawing.`,
      true,
    );
    return paint.fallback ?? NO_PAINT;
  }
  if (target.name === 'pattern')
    note(
      w,
      element,
      'pattern',
      'It is filled with a pattern; the whole shape is taken and the pattern left out.',
      true,
    );
  return paint;
}

/** The shape's straight lines in millimetres; `undefined` when it draws nothing. */
function linesOf(frame: Frame, declared: Declared, name: string, w: Walk): readonly RawLine[] | undefined {
  const { element, matrix } = frame;
  if (areaFactor(matrix) === 0) {
    note(w, element, 'no-area', 'Its transform squeezes it flat, so that nothing is left of it.', true);
    return undefined;
  }
  const flattener = new Flattener(matrix, CHORD_ERROR, w.drawing.points);
  const measures = {
    length: lengthIn(frame, declared, w),
    text: (what: 'd' | 'points') => textOf(what, frame, declared),
  };
  try {
    const trouble = drawShape(name, measures, flattener);
    if (trouble !== undefined && w.purpose !== 'box')
      note(w, element, trouble.kind, trouble.says, trouble.matters);
    const lines = flattener.finish();
    return lines.length === 0 ? undefined : lines;
  } catch (fault) {
    if (!(fault instanceof FlattenFault)) throw fault;
    throw new InputFault(fault.message, { file: w.drawing.file, ...markOf(element, w.drawing.place) });
  }
}

/** Path data may also come from a rule, as `d: path("...")`. */
function textOf(what: 'd' | 'points', frame: Frame, declared: Declared): string | undefined {
  if (what === 'points') return frame.element.attributes.get('points');
  const found = pick(declared, 'd', frame.style.custom, (text, css) => {
    if (!css) return text;
    const m = /^\s*path\(\s*(?:"([^"]*)"|'([^']*)')\s*\)\s*$/i.exec(text);
    return m === null ? (text.trim().toLowerCase() === 'none' ? '' : undefined) : (m[1] ?? m[2]);
  });
  return found === 'inherit' || found === 'initial' ? undefined : found;
}
