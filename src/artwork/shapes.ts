import type { Axis } from './length.ts';
import { drawPath, type PathSink } from './path.ts';
import { Scanner } from './scanner.ts';

/** The measures of a basic shape as its drawer asks for them. */
export interface Measures {
  /** A length in the drawing's units; `undefined` when it is not given, `auto`, or unreadable. */
  readonly length: (property: string, axis: Axis) => number | undefined;
  readonly text: (attribute: 'd' | 'points') => string | undefined;
}

/** What came of drawing a shape: something wrong in it that was drawn up to there, or why nothing was drawn. */
export interface Trouble {
  readonly kind: 'path-error' | 'no-area' | 'unreadable-value';
  readonly says: string;
  readonly matters: boolean;
}

export const SHAPES: ReadonlySet<string> = new Set([
  'path',
  'rect',
  'circle',
  'ellipse',
  'line',
  'polyline',
  'polygon',
]);

/** Draws a basic shape or a path (SVG 2, chapters 9 and 10). */
export function drawShape(name: string, measures: Measures, sink: PathSink): Trouble | undefined {
  if (name === 'path') return drawData(measures, sink);
  if (name === 'rect') return drawRect(measures, sink);
  if (name === 'circle') return drawCircle(measures, sink);
  if (name === 'ellipse') return drawEllipse(measures, sink);
  if (name === 'line') return drawLine(measures, sink);
  return drawPoints(measures.text('points') ?? '', name === 'polygon', sink);
}

function drawData(measures: Measures, sink: PathSink): Trouble | undefined {
  const data = measures.text('d');
  if (data === undefined || data.trim() === '') return nothing('A path without any data draws nothing.');
  const error = drawPath(data, sink);
  if (error === undefined) return undefined;
  return {
    kind: 'path-error',
    matters: true,
    says: `Its path data goes wrong at character ${error.index + 1}: ${error.says}. Only what comes before it was read.`,
  };
}

const nothing = (says: string): Trouble => ({ kind: 'no-area', says, matters: false });
const negative = (what: string): Trouble => ({
  kind: 'unreadable-value',
  says: `Its ${what} is below zero, so that no viewer draws it.`,
  matters: true,
});

function drawRect({ length }: Measures, sink: PathSink): Trouble | undefined {
  const x = length('x', 'x') ?? 0;
  const y = length('y', 'y') ?? 0;
  const width = length('width', 'x') ?? 0;
  const height = length('height', 'y') ?? 0;
  if (width < 0 || height < 0) return negative(width < 0 ? 'width' : 'height');
  if (width === 0 || height === 0) return nothing('A rectangle without width or height draws nothing.');
  const [rx, ry] = radii(length);
  const cutX = Math.min(rx, width / 2);
  const cutY = Math.min(ry, height / 2);
  const right = x + width;
  const bottom = y + height;
  if (cutX === 0 || cutY === 0) {
    sink.move(x, y);
    sink.line(right, y);
    sink.line(right, bottom);
    sink.line(x, bottom);
    return void sink.close();
  }
  const corner = (toX: number, toY: number): void => sink.arc(cutX, cutY, 0, false, true, toX, toY);
  sink.move(x + cutX, y);
  sink.line(right - cutX, y);
  corner(right, y + cutY);
  sink.line(right, bottom - cutY);
  corner(right - cutX, bottom);
  sink.line(x + cutX, bottom);
  corner(x, bottom - cutY);
  sink.line(x, y + cutY);
  corner(x + cutX, y);
  return void sink.close();
}

/** One radius given alone counts for both; a negative one does not count. */
function radii(length: Measures['length']): [rx: number, ry: number] {
  const known = (value: number | undefined): number | undefined =>
    value === undefined || value < 0 ? undefined : value;
  const rx = known(length('rx', 'x'));
  const ry = known(length('ry', 'y'));
  return [rx ?? ry ?? 0, ry ?? rx ?? 0];
}

function drawCircle({ length }: Measures, sink: PathSink): Trouble | undefined {
  const r = length('r', 'diagonal') ?? 0;
  if (r < 0) return negative('radius');
  if (r === 0) return nothing('A circle without a radius draws nothing.');
  return drawOval(length('cx', 'x') ?? 0, length('cy', 'y') ?? 0, r, r, sink);
}

function drawEllipse({ length }: Measures, sink: PathSink): Trouble | undefined {
  const [rx, ry] = radii(length);
  if (rx === 0 || ry === 0) return nothing('An ellipse without a radius draws nothing.');
  return drawOval(length('cx', 'x') ?? 0, length('cy', 'y') ?? 0, rx, ry, sink);
}

/** In four quarters, so that its extreme points are points of the outline. */
function drawOval(cx: number, cy: number, rx: number, ry: number, sink: PathSink): undefined {
  sink.move(cx + rx, cy);
  sink.arc(rx, ry, 0, false, true, cx, cy + ry);
  sink.arc(rx, ry, 0, false, true, cx - rx, cy);
  sink.arc(rx, ry, 0, false, true, cx, cy - ry);
  sink.arc(rx, ry, 0, false, true, cx + rx, cy);
  return void sink.close();
}

function drawLine({ length }: Measures, sink: PathSink): undefined {
  sink.move(length('x1', 'x') ?? 0, length('y1', 'y') ?? 0);
  sink.line(length('x2', 'x') ?? 0, length('y2', 'y') ?? 0);
}

function drawPoints(text: string, closed: boolean, sink: PathSink): Trouble | undefined {
  const scanner = new Scanner(text);
  scanner.skipSpace();
  let drawn = 0;
  let trouble: Trouble | undefined;
  while (!scanner.done && trouble === undefined) {
    const at = scanner.at;
    const x = scanner.number();
    scanner.skipComma();
    const odd = scanner.done;
    const y = scanner.number();
    if (Number.isFinite(x) && Number.isFinite(y)) {
      if (drawn++ === 0) sink.move(x, y);
      else sink.line(x, y);
      scanner.skipComma();
    } else
      trouble = {
        kind: 'path-error',
        matters: true,
        says:
          odd && Number.isFinite(x)
            ? 'Its points end with half a pair; the last number was dropped.'
            : `Its points go wrong at character ${at + 1}; only those before it were read.`,
      };
  }
  if (drawn > 0 && closed) sink.close();
  return trouble ?? (drawn === 0 ? nothing('It has no points and draws nothing.') : undefined);
}
