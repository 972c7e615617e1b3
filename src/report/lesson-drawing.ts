import type { Artwork } from '../artwork/artwork.ts';
import type { Box, RawLine, RawShape } from '../geometry/shapes.ts';

/** How dots become characters: so many across and down in one character. */
export interface Dots {
  readonly across: number;
  readonly down: number;
  readonly character: (set: (x: number, y: number) => boolean) => string;
}

/** Where each of the eight dots of a braille character stands in its code (Unicode Standard, block U+2800). */
const BRAILLE_BITS = [
  [0x01, 0x02, 0x04, 0x40],
  [0x08, 0x10, 0x20, 0x80],
] as const;

export const BRAILLE: Dots = {
  across: 2,
  down: 4,
  character: (set) => {
    let code = 0;
    BRAILLE_BITS.forEach((column, x) => {
      column.forEach((bit, y) => {
        if (set(x, y)) code += bit;
      });
    });
    return code === 0 ? ' ' : String.fromCodePoint(0x2800 + code);
  },
};

/** For terminals without braille: one dot above the other. */
export const PLAIN: Dots = {
  across: 1,
  down: 2,
  character: (set) => {
    if (set(0, 0)) return set(0, 1) ? ':' : "'";
    return set(0, 1) ? '.' : ' ';
  },
};

const BETWEEN = 4;
const MOST_ROWS = 18;

/** Both drawings as drawn, side by side at one scale, `width` columns in all. */
export function drawingLines(pocket: Artwork, plug: Artwork, width: number, braille: boolean): string[] {
  const dots = braille ? BRAILLE : PLAIN;
  const columns = Math.floor((width - BETWEEN) / 2);
  const boxes = [pocket, plug].map((artwork) => boxOfShapes(artwork.shapes));
  const wide = Math.max(...boxes.map((box) => box.maxX - box.minX), 1e-6);
  const high = Math.max(...boxes.map((box) => box.maxY - box.minY), 1e-6);
  const perMm = Math.min((columns * dots.across - 1) / wide, (MOST_ROWS * dots.down - 1) / high);
  const [left, right] = [pocket, plug].map((artwork, i) =>
    raster(artwork.shapes, boxes[i] as Box, perMm, columns, dots),
  ) as [string[], string[]];
  const rows = Math.max(left.length, right.length);
  const lines = [`${'the pocket'.padEnd(columns + BETWEEN)}the plug, as it will be cut`];
  for (let row = 0; row < rows; row++)
    lines.push(`${(left[row] ?? '').padEnd(columns + BETWEEN)}${right[row] ?? ''}`.trimEnd());
  return lines;
}

/** The box of everything drawn, mm; a point at 0,0 when nothing is. */
export function boxOfShapes(shapes: readonly RawShape[]): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { points } of shapes.flatMap((shape) => shape.lines))
    for (let i = 0; i + 1 < points.length; i += 2) {
      const [x, y] = [points[i] as number, points[i + 1] as number];
      [minX, minY, maxX, maxY] = [Math.min(minX, x), Math.min(minY, y), Math.max(maxX, x), Math.max(maxY, y)];
    }
  return minX <= maxX ? { minX, minY, maxX, maxY } : { minX: 0, minY: 0, maxX: 0, maxY: 0 };
}

function raster(
  shapes: readonly RawShape[],
  box: Box,
  perMm: number,
  columns: number,
  { across, down, character }: Dots,
): string[] {
  const high = Math.floor((box.maxY - box.minY) * perMm) + 1;
  const rows = Math.ceil(high / down);
  const stride = columns * across;
  const dots = new Uint8Array(stride * rows * down);
  const mark = (x: number, y: number): void => {
    const [column, row] = [Math.round((x - box.minX) * perMm), Math.round((y - box.minY) * perMm)];
    if (column >= 0 && column < stride && row >= 0 && row < rows * down) dots[row * stride + column] = 1;
  };
  for (const line of shapes.flatMap((shape) => shape.lines)) walk(line, 0.5 / perMm, mark);
  return Array.from({ length: rows }, (_, row) =>
    Array.from({ length: columns }, (_, column) =>
      character((x, y) => dots[(row * down + y) * stride + column * across + x] === 1),
    )
      .join('')
      .trimEnd(),
  );
}

/** Points along a drawn line, `step` mm apart; an open line stays open, as it was drawn. */
function walk({ points, closed }: RawLine, step: number, mark: (x: number, y: number) => void): void {
  const count = points.length / 2;
  for (let i = 0; i < (closed ? count : count - 1); i++) {
    const j = (i + 1) % count;
    const [ax, ay] = [points[2 * i] as number, points[2 * i + 1] as number];
    const [bx, by] = [points[2 * j] as number, points[2 * j + 1] as number];
    const steps = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / step));
    for (let k = 0; k <= steps; k++) mark(ax + ((bx - ax) * k) / steps, ay + ((by - ay) * k) / steps);
  }
}

/** The picture on paper leaves out points that lie this close to the line between their neighbours, mm. */
const THINNED = 0.03;

/** One drawn shape as the data of an SVG path, in its own frame, mm to two decimals; thinned by at most 0.03 mm. */
export function pathData(shape: RawShape): string {
  return shape.lines.map(lineData).join('');
}

function lineData({ points, closed }: RawLine): string {
  if (points.length === 0) return '';
  const kept = thinned(points, THINNED).map(
    (i) => `${+(points[2 * i] as number).toFixed(2)} ${+(points[2 * i + 1] as number).toFixed(2)}`,
  );
  return `M${kept.join('L')}${closed ? 'Z' : ''}`;
}

/** Numbers of the points to keep: between two kept ones no point lies farther than `bound` mm from their line. */
export function thinned(points: Float64Array, bound: number): number[] {
  const last = points.length / 2 - 1;
  const kept = [0];
  const open: [number, number][] = [[0, last]];
  for (let span = open.pop(); span !== undefined; span = open.pop()) {
    const [from, to] = span;
    const [farthest, distance] = farthestFrom(points, from, to);
    if (distance > bound) open.push([farthest, to], [from, farthest]);
    else if (to > from) kept.push(to);
  }
  return kept;
}

/** The point between two others that lies farthest from the stretch between them. */
function farthestFrom(points: Float64Array, from: number, to: number): readonly [number, number] {
  const at = (i: number): readonly [number, number] => [points[2 * i] as number, points[2 * i + 1] as number];
  const [ax, ay] = at(from);
  const [bx, by] = at(to);
  const [dx, dy] = [bx - ax, by - ay];
  const long = dx * dx + dy * dy;
  let [farthest, most] = [from, 0];
  for (let i = from + 1; i < to; i++) {
    const [x, y] = at(i);
    const along = long === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / long));
    const distance = Math.hypot(x - ax - along * dx, y - ay - along * dy);
    if (distance > most) [farthest, most] = [i, distance];
  }
  return [farthest, most];
}
