import type { LeftOutKind } from './artwork.ts';
import {
  baseOf,
  type Clip,
  type Frame,
  lengthIn,
  note,
  noteTwice,
  shorten,
  type Uses,
  type Walk,
} from './scene.ts';
import { type Declared, pick } from './style.ts';
import { compose, IDENTITY, shift } from './transform.ts';
import type { Element } from './tree.ts';
import { fitViewBox, readViewBox } from './viewport.ts';

const NONE: readonly Frame[] = [];

export function childFrames(frame: Frame, w: Walk, children: readonly Element[]): readonly Frame[] {
  const { way, chosen } = w;
  const onWay = way?.has(frame.element) && frame.element !== chosen && frame.uses === undefined;
  const drawn = onWay ? frame.element.children.filter((child) => way!.has(child)) : children;
  return drawn.map((element) => ({ ...frame, element }));
}

/** `use` inside `use` inside `use`: deeper than this it is a trap. */
const MOST_USES = 100;

export function useFrame(frame: Frame, declared: Declared, w: Walk): readonly Frame[] {
  const { element } = frame;
  const href = (element.attributes.get('href') ?? element.attributes.get('xlink:href'))?.trim();
  const broken = (says: string, kind: LeftOutKind = 'broken-reference'): readonly Frame[] => {
    note(w, element, kind, says);
    return NONE;
  };
  if (href === undefined || href === '') return broken('It repeats another element but does not say which.');
  if (!href.startsWith('#'))
    return broken(`It repeats a part of another file (${shorten(href)}), which is not read.`, 'external');
  const id = decodeId(href.slice(1));
  const target = w.drawing.byId.get(id) ?? w.drawing.byId.get(href.slice(1));
  if (target === undefined) return broken(`It repeats "#${shorten(id)}", which is not in the drawing.`);
  if (isWithin(element, target) || usesHold(frame.uses, target))
    return broken(`It repeats "#${shorten(id)}", which holds the repetition itself; that would never end.`);
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
export function viewportFrames(frame: Frame, declared: Declared, name: string, w: Walk): readonly Frame[] {
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
