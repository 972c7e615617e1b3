import { degrees } from '../units.ts';
import { Scanner } from './scanner.ts';

/** x' = a x + c y + e, y' = b x + d y + f. */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

/** First `inner`, then `outer`. */
export function compose(outer: Matrix, inner: Matrix): Matrix {
  const [a, b, c, d, e, f] = outer;
  const [g, h, i, j, k, l] = inner;
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f];
}

export const shift = (x: number, y: number): Matrix => [1, 0, 0, 1, x, y];

/** How much areas grow; 0 when everything is squeezed into a line. */
export const areaFactor = ([a, b, c, d]: Matrix): number => Math.abs(a * d - b * c);

/** The largest factor by which a length can grow. */
export function stretch([a, b, c, d]: Matrix): number {
  const sum = (a * a + b * b + c * c + d * d) / 2;
  return Math.sqrt(sum + Math.hypot((a * a + b * b - c * c - d * d) / 2, a * c + b * d));
}

/** The `transform` attribute (SVG 1.1, section 7.6). `undefined` when any part of it is wrong: then none of it counts. */
export function readTransform(text: string): Matrix | undefined {
  const scanner = new Scanner(text);
  let matrix = IDENTITY;
  scanner.skipSpace();
  while (!scanner.done) {
    const head = /[A-Za-z]+(?=\s*\()/y;
    head.lastIndex = scanner.at;
    const name = head.exec(text)?.[0];
    if (name === undefined) return undefined;
    scanner.at = text.indexOf('(', scanner.at) + 1;
    const numbers = argumentsIn(scanner);
    const step = numbers === undefined ? undefined : stepOf(name, numbers);
    if (step === undefined) return undefined;
    matrix = compose(matrix, step);
    if (scanner.skipComma() && scanner.done) return undefined;
  }
  return matrix.every(Number.isFinite) ? matrix : undefined;
}

function argumentsIn(scanner: Scanner): number[] | undefined {
  const numbers: number[] = [];
  scanner.skipSpace();
  for (;;) {
    const value = scanner.number();
    if (!Number.isFinite(value)) return undefined;
    numbers.push(value);
    scanner.skipSpace();
    if (scanner.text[scanner.at] === ')') {
      scanner.at++;
      return numbers;
    }
    scanner.skipComma();
  }
}

function stepOf(name: string, n: readonly number[]): Matrix | undefined {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = n;
  const count = n.length;
  if (name === 'matrix') return count === 6 ? [a, b, c, d, e, f] : undefined;
  if (name === 'translate') return count <= 2 ? shift(a, b) : undefined;
  if (name === 'scale') return count <= 2 ? [a, 0, 0, count === 1 ? a : b, 0, 0] : undefined;
  if (name === 'rotate' && count === 1) return turn(degrees(a));
  if (name === 'rotate' && count === 3) return compose(compose(shift(b, c), turn(degrees(a))), shift(-b, -c));
  if (name === 'skewX' && count === 1) return [1, 0, Math.tan(degrees(a)), 1, 0, 0];
  if (name === 'skewY' && count === 1) return [1, Math.tan(degrees(a)), 0, 1, 0, 0];
  return undefined;
}

/** Whole quarter turns come out exact, so that a turned square stays square. */
function turn(angle: number): Matrix {
  const quarters = angle / (Math.PI / 2);
  if (Number.isInteger(quarters)) {
    const cos = [1, 0, -1, 0][((quarters % 4) + 4) % 4]!;
    const sin = [0, 1, 0, -1][((quarters % 4) + 4) % 4]!;
    return [cos, sin, -sin, cos, 0, 0];
  }
  return [Math.cos(angle), Math.sin(angle), -Math.sin(angle), Math.cos(angle), 0, 0];
}

const ANGLE_UNITS: Readonly<Record<string, number>> = {
  deg: degrees(1),
  grad: degrees(0.9),
  rad: 1,
  turn: degrees(360),
};

/**
 * The CSS property `transform` (CSS Transforms 1): angles carry units, lengths too. `length` reads one length along an
 * axis into drawing units. `none` is the identity; `undefined` when the list is wrong or leaves the plane.
 */
export function readCssTransform(
  text: string,
  length: (text: string, axis: 'x' | 'y') => number | undefined,
): Matrix | undefined {
  const written = text.trim();
  if (written === 'none') return IDENTITY;
  let matrix = IDENTITY;
  const piece = /([a-z]+)\(((?:[^()]|\((?:[^()]|\([^()]*\))*\))*)\)\s*/iy;
  while (piece.lastIndex < written.length) {
    const m = piece.exec(written);
    if (m === null) return undefined;
    const step = cssStep(
      m[1]!.toLowerCase(),
      m[2]!.split(/\s*,\s*/).map((part) => part.trim()),
      length,
    );
    if (step === undefined) return undefined;
    matrix = compose(matrix, step);
  }
  return matrix.every(Number.isFinite) ? matrix : undefined;
}

function cssStep(
  name: string,
  parts: readonly string[],
  length: (text: string, axis: 'x' | 'y') => number | undefined,
): Matrix | undefined {
  const [one = '', two] = parts;
  if (name.startsWith('translate')) {
    const x = name === 'translatey' ? 0 : length(one, 'x');
    const y = name === 'translatey' ? length(one, 'y') : two === undefined ? 0 : length(two, 'y');
    const most = name === 'translate' ? 2 : name === 'translatex' || name === 'translatey' ? 1 : 0;
    return x === undefined || y === undefined || parts.length > most ? undefined : shift(x, y);
  }
  if (name === 'rotate' || name === 'rotatez' || name.startsWith('skew')) {
    const angles = parts.map(readAngle);
    const [a, b = 0] = angles;
    if (a === undefined || angles.includes(undefined) || parts.length > (name === 'skew' ? 2 : 1))
      return undefined;
    if (name === 'skewx' || name === 'skew') return [1, Math.tan(b), Math.tan(a), 1, 0, 0];
    return name === 'skewy' ? [1, Math.tan(a), 0, 1, 0, 0] : turn(a);
  }
  const numbers = parts.map(readFactor);
  if (numbers.includes(undefined)) return undefined;
  const [a = 1] = numbers;
  if (name === 'scalex' && parts.length === 1) return [a, 0, 0, 1, 0, 0];
  if (name === 'scaley' && parts.length === 1) return [1, 0, 0, a, 0, 0];
  return name === 'scale' || name === 'matrix' ? stepOf(name, numbers as number[]) : undefined;
}

function readAngle(text: string): number | undefined {
  const m = /^([+-]?(?:\d*\.)?\d+(?:e[+-]?\d+)?)(deg|grad|rad|turn)?$/i.exec(text);
  if (m === null) return undefined;
  const value = Number(m[1]);
  if (m[2] === undefined) return value === 0 ? 0 : undefined;
  return value * ANGLE_UNITS[m[2].toLowerCase()]!;
}

function readFactor(text: string): number | undefined {
  const m = /^([+-]?(?:\d*\.)?\d+(?:e[+-]?\d+)?)(%?)$/i.exec(text);
  return m === null ? undefined : Number(m[1]) / (m[2] === '%' ? 100 : 1);
}
