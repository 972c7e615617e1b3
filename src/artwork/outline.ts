import { InputFault } from '../fault.ts';
import type { RawLine } from '../geometry/shapes.ts';
import { CHORD_ERROR, Flattener, FlattenFault } from './flatten.ts';
import { NO_PAINT, type Paint } from './paint.ts';
import { type Frame, lengthIn, note, shorten, type Walk } from './scene.ts';
import { drawShape } from './shapes.ts';
import { type Declared, pick } from './style.ts';
import { areaFactor, stretch } from './transform.ts';
import { type Element, markOf } from './tree.ts';

export const SEE_THROUGH =
  'It cannot be seen (opacity 0), yet its outline counts, since programs that cut still follow it.';

/** A visible stroke wider than this makes the painted shape plainly larger than its outline, millimetres. */
const WIDE_STROKE = 0.05;

export function paintShape(frame: Frame, declared: Declared, name: string, w: Walk): void {
  const { element, style, matrix } = frame;
  if (w.purpose !== 'box' && !style.visible) {
    note(w, element, 'hidden', 'It is hidden (visibility hidden) and is left out.', false);
    return;
  }
  const fill = w.purpose === 'paint' ? followPaint(style.fill, element, w) : style.fill;
  const strokeMm = style.strokeWidth * stretch(matrix);
  const stroke = w.purpose === 'paint' ? followPaint(style.stroke, element, w) : NO_PAINT;
  const stroked = stroke.kind !== 'none' && stroke.clear !== true && strokeMm > 0 && style.strokeOpacity > 0;
  if (w.purpose === 'paint' && (fill.kind === 'none' || fill.clear === true)) {
    // A paint that is not there has been told already.
    if (stroked || style.fill.kind !== 'reference') noteUnfilled(element, fill, stroked, w);
    return;
  }
  const lines = linesOf(frame, declared, name, w);
  if (lines === undefined) return;
  if (w.purpose === 'paint') {
    if (style.fillOpacity === 0) note(w, element, 'see-through', SEE_THROUGH);
    if (style.marker && (name === 'path' || name === 'polyline' || name === 'polygon'))
      note(
        w,
        element,
        'marker',
        'Markers (arrow heads, dots) on it are no part of its outline and are left out.',
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
    );
  else if (fill.clear)
    note(
      w,
      element,
      'hidden',
      'Its fill is a fully transparent colour, so that nothing is seen; it is left out.',
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
    );
    return paint.fallback ?? NO_PAINT;
  }
  if (target.name === 'pattern')
    note(
      w,
      element,
      'pattern',
      'It is filled with a pattern; the whole shape is taken and the pattern left out.',
    );
  return paint;
}

/** The shape's straight lines in millimetres; `undefined` when it draws nothing. */
function linesOf(frame: Frame, declared: Declared, name: string, w: Walk): readonly RawLine[] | undefined {
  const { element, matrix } = frame;
  if (areaFactor(matrix) === 0) {
    note(w, element, 'no-area', 'Its transform squeezes it flat, so that nothing is left of it.');
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
