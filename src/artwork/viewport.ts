import { quoted } from '../fault.ts';
import { CSS_PX_PER_INCH, MM_PER_INCH, mm } from '../units.ts';
import type { Mark, Size } from './artwork.ts';
import { FARTHEST } from './flatten.ts';
import { fixedPixels, isPhysical, splitLength } from './length.ts';
import { readNumbers } from './scanner.ts';
import { compose, IDENTITY, type Matrix } from './transform.ts';

const MM_PER_PIXEL = MM_PER_INCH / CSS_PX_PER_INCH;

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Four numbers with no negative extent; `undefined` when it does not count (SVG 2, section 8.6). */
export function readViewBox(text: string | undefined): ViewBox | undefined {
  const numbers = text === undefined ? undefined : readNumbers(text);
  if (numbers === undefined || numbers.length !== 4) return undefined;
  const [x, y, width, height] = numbers as [number, number, number, number];
  return width < 0 || height < 0 ? undefined : { x, y, width, height };
}

/** Fits a viewBox into a viewport of the given size as `preserveAspectRatio` says (SVG 2, sections 8.2 and 8.7). */
export function fitViewBox(box: ViewBox, width: number, height: number, aspect: string | undefined): Matrix {
  const across = width / box.width;
  const down = height / box.height;
  const m = /^\s*(?:defer\s+)?(none|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?\s*$/.exec(aspect ?? '');
  if (m?.[1] === 'none') return [across, 0, 0, down, -box.x * across, -box.y * down];
  const scale = m?.[4] === 'slice' ? Math.max(across, down) : Math.min(across, down);
  const part: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };
  const spareX = (width - box.width * scale) * part[m?.[2] ?? 'Mid']!;
  const spareY = (height - box.height * scale) * part[m?.[3] ?? 'Mid']!;
  return [scale, 0, 0, scale, spareX - box.x * scale, spareY - box.y * scale];
}

/** The outermost viewport: its size, the way from the drawing's units to millimetres, and what was odd about it. */
export interface Page {
  readonly size: Size;
  readonly matrix: Matrix;
  /** The viewport in the drawing's own units; undefined extents are unknown (nothing states them). */
  readonly width: number | undefined;
  readonly height: number | undefined;
  /** False when a size or viewBox of zero switches all drawing off. */
  readonly drawn: boolean;
  readonly oddities: readonly string[];
}

/** Reads the root's `width`, `height`, `viewBox` and `preserveAspectRatio`, given as written. */
export function readPage(
  written: {
    readonly width: string | undefined;
    readonly height: string | undefined;
    readonly viewBox: string | undefined;
    readonly aspect: string | undefined;
  },
  mark: Mark,
): Page {
  const oddities: string[] = [];
  const across = readExtent(written.width, 'width', oddities);
  const down = readExtent(written.height, 'height', oddities);
  const box = readViewBox(written.viewBox);
  if (written.viewBox !== undefined && box === undefined)
    oddities.push(
      `The viewBox ${quoted(written.viewBox)} is not four numbers with sizes above zero, so it does not count.`,
    );
  const empty = box !== undefined && (box.width === 0 || box.height === 0);
  if (empty) oddities.push('The viewBox has no size, so that no viewer draws anything.');
  if (across?.pixels === 0 || down?.pixels === 0)
    oddities.push('The drawing is stated to have no size, so that no viewer draws anything.');
  const asked = box === undefined || empty ? undefined : box;
  const [usable, width, height, matrix] = fitted(asked, across, down, written.aspect, oddities);
  const stated = statedAs(across, down);
  const size: Size = {
    width: stated === 'none' || width === undefined ? undefined : mm(width * MM_PER_PIXEL),
    height: stated === 'none' || height === undefined ? undefined : mm(height * MM_PER_PIXEL),
    stated,
    perUserUnit: [matrix[0], matrix[3]],
    userOrigin: [matrix[4], matrix[5]],
    mark,
  };
  const drawn = !empty && across?.pixels !== 0 && down?.pixels !== 0;
  return { size, matrix, width: usable?.width ?? width, height: usable?.height ?? height, drawn, oddities };
}

/** The viewBox in its page; one of numbers that no page can be made of does not count. */
function fitted(
  box: ViewBox | undefined,
  across: Extent | undefined,
  down: Extent | undefined,
  aspect: string | undefined,
  oddities: string[],
): [box: ViewBox | undefined, width: number | undefined, height: number | undefined, matrix: Matrix] {
  const [width, height] = pixelSize(across?.pixels || undefined, down?.pixels || undefined, box);
  const fit =
    box === undefined ? IDENTITY : fitViewBox(box, width ?? box.width, height ?? box.height, aspect);
  const matrix = compose([MM_PER_PIXEL, 0, 0, MM_PER_PIXEL, 0, 0], fit);
  const inReach = [width ?? 0, height ?? 0].every((pixels) => pixels * MM_PER_PIXEL <= FARTHEST);
  if (box === undefined || (inReach && matrix.every(Number.isFinite))) return [box, width, height, matrix];
  oddities.push('The viewBox makes the page far too large or far too small, so it does not count.');
  return fitted(undefined, across, down, aspect, oddities);
}

interface Extent {
  readonly pixels: number;
  readonly physical: boolean;
}

/** A percentage of an unknown window, or `auto`, states no size. */
function readExtent(text: string | undefined, name: string, oddities: string[]): Extent | undefined {
  if (text === undefined || text.trim() === 'auto') return undefined;
  const written = splitLength(text);
  if (written?.unit === '%') return undefined;
  const pixels = written === undefined ? undefined : fixedPixels(written);
  if (pixels !== undefined && pixels * MM_PER_PIXEL > FARTHEST) {
    oddities.push(
      `The drawing's ${name} ${quoted(text)} is more than ${FARTHEST / 1000} m, so it does not count.`,
    );
    return undefined;
  }
  if (written === undefined || pixels === undefined || pixels < 0) {
    oddities.push(
      `The drawing's ${name} ${quoted(text)} is not a length, so it does not count; write it like "120mm".`,
    );
    return undefined;
  }
  return { pixels, physical: isPhysical(written.unit) };
}

/** One missing extent follows from the viewBox's proportions. */
function pixelSize(
  across: number | undefined,
  down: number | undefined,
  box: ViewBox | undefined,
): [number | undefined, number | undefined] {
  if (box === undefined) return [across, down];
  if (across === undefined && down === undefined) return [box.width, box.height];
  return [across ?? (down! * box.width) / box.height, down ?? (across! * box.height) / box.width];
}

function statedAs(across: Extent | undefined, down: Extent | undefined): Size['stated'] {
  if (across === undefined && down === undefined) return 'none';
  return [across, down].every((extent) => extent === undefined || extent.physical) ? 'physical' : 'pixels';
}
