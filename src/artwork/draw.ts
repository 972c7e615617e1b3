import { InputFault } from '../fault.ts';
import type { LeftOutKind } from './artwork.ts';
import { paintShape, SEE_THROUGH } from './outline.ts';
import { placed } from './placed.ts';
import { type Box, baseOf, type Frame, isHidden, note, noteTwice, shorten, type Walk } from './scene.ts';
import { SHAPES } from './shapes.ts';
import { type Declared, pick, readShare, type Style, styleOf } from './style.ts';
import { type Matrix, stretch } from './transform.ts';
import { descendants, type Element, markOf } from './tree.ts';
import { childFrames, useFrame, viewportFrames } from './windows.ts';

const CONTAINERS = new Set(['g', 'a', 'svg', 'switch', 'use', 'symbol']);
/** Never drawn where they stand, and nothing is missing for it. */
const UNDRAWN = new Set(
  (
    'defs clipPath mask marker pattern linearGradient radialGradient meshgradient filter metadata title desc style ' +
    'view cursor font font-face color-profile solidcolor hatch mesh foreign symbol'
  ).split(' '),
);
const ANIMATIONS = new Set(['animate', 'animateTransform', 'animateMotion', 'animateColor', 'set']);
/** Text of any kind, also as one program's own elements. */
const LETTERING = new Set(['text', 'flowRoot', 'tspan', 'tref', 'textPath']);
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
  const here: Frame = { ...frame, style, matrix: placed(frame, declared, style, w, boxOf) };
  const clipped = withClip(here, declared, w);
  noteVeils(element, declared, style, w);
  if (isShape) {
    for (const child of element.children)
      if (ANIMATIONS.has(child.name)) passOver({ ...here, element: child }, w);
    paintShape(clipped, declared, name, w);
    return NONE;
  }
  if (name === 'use') return useFrame(clipped, declared, w);
  if (name === 'svg' || name === 'symbol') return viewportFrames(clipped, declared, name, w);
  return childFrames(clipped, w, name === 'switch' ? chosenChild(element) : element.children);
}

/** Elements that hold no outline: told when a maker would see something there. */
function passOver(frame: Frame, w: Walk): readonly Frame[] {
  const { element, style } = frame;
  const { name } = element;
  const tell = (kind: LeftOutKind, says: string): readonly Frame[] => {
    note(w, element, kind, says);
    return NONE;
  };
  const declared = w.drawing.cascade.declared(element);
  if (LETTERING.has(name) || name === 'image' || name === 'foreignObject') {
    const shown =
      !isHidden(declared, style) &&
      styleOf(declared, style, baseOf(frame, style, w)).visible &&
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
      : `<${shorten(name)}> is no element that can be drawn; it is left out with all it holds.`,
  );
}

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

/** The box of everything the element draws, in its own units; no paint, stroke or clip counts (SVG 2, section 8.10). */
export function boxOf(frame: Frame, w: Walk): Box {
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
export function withClip(frame: Frame, declared: Declared, w: Walk): Frame {
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
      );
    if (value('filter') !== undefined)
      note(w, element, 'filter', 'A filter changes how it looks; the outline is taken without it.');
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
    );
    return frame;
  }
  const target = w.drawing.byId.get(id);
  if (target?.name !== 'clipPath') {
    note(
      w,
      element,
      'broken-reference',
      `Its clip path "#${shorten(id)}" is not in the drawing; it is taken unclipped.`,
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

function noteVeils(element: Element, declared: Declared, style: Style, w: Walk): void {
  if (w.purpose !== 'paint' || !declared.has('opacity')) return;
  if (pick(declared, 'opacity', style.custom, readShare) === 0) note(w, element, 'see-through', SEE_THROUGH);
}
