import { Scanner } from './scanner.ts';

/** What takes a shape's pen strokes, in the shape's own units; angles in degrees as written. */
export interface PathSink {
  move(x: number, y: number): void;
  line(x: number, y: number): void;
  quad(x1: number, y1: number, x: number, y: number): void;
  cubic(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void;
  arc(rx: number, ry: number, turn: number, large: boolean, sweep: boolean, x: number, y: number): void;
  close(): void;
}

/** Where path data stopped making sense (index from 0), and what was wrong there. */
export interface PathError {
  readonly index: number;
  readonly says: string;
}

const ARGUMENTS: Readonly<Record<string, number>> = {
  m: 2,
  l: 2,
  h: 1,
  v: 1,
  c: 6,
  s: 4,
  q: 4,
  t: 2,
  a: 7,
  z: 0,
};

/**
 * Draws path data into a sink (SVG 2, section 9.3). At an error everything before it has been drawn, as the standard
 * asks (section 9.5.4), and the error is returned.
 */
export function drawPath(data: string, sink: PathSink): PathError | undefined {
  const scanner = new Scanner(data);
  const pen = new Pen(sink);
  scanner.skipSpace();
  while (!scanner.done) {
    const letter = data[scanner.at]!;
    const command = letter.toLowerCase();
    const count = ARGUMENTS[command];
    if (count === undefined || (!pen.started && command !== 'm'))
      return {
        index: scanner.at,
        says: pen.started || count === undefined ? unexpected(scanner) : 'it must start with M',
      };
    scanner.at++;
    const error = count === 0 ? pen.close() : drawRun(scanner, command, letter === command, count, pen);
    if (error !== undefined) return error;
    scanner.skipSpace();
  }
  return undefined;
}

/** One command letter and its sets of numbers. */
function drawRun(
  scanner: Scanner,
  letter: string,
  relative: boolean,
  count: number,
  pen: Pen,
): PathError | undefined {
  const a: number[] = new Array<number>(count);
  let command = letter;
  for (let first = true; ; first = false) {
    const before = scanner.at;
    let comma = false;
    if (first) scanner.skipSpace();
    else comma = scanner.skipComma();
    for (let k = 0; k < count; k++) {
      if (k > 0) scanner.skipComma();
      const value = command === 'a' && (k === 3 || k === 4) ? scanner.flag() : scanner.number();
      if (Number.isNaN(value)) {
        if (k > 0 || first || comma) return { index: scanner.at, says: unexpected(scanner) };
        scanner.at = before;
        return undefined;
      }
      if (!Number.isFinite(value)) return { index: scanner.at, says: 'a number is too large' };
      a[k] = value;
    }
    pen.draw(command, relative, a);
    if (command === 'm') command = 'l';
  }
}

function unexpected(scanner: Scanner): string {
  if (scanner.done) return 'it ends in the middle of a command';
  return `a number or command was wanted, not "${scanner.text.slice(scanner.at, scanner.at + 8)}"`;
}

/** Keeps what the short commands lean on: the current point, the subpath's start, the last control point. */
class Pen {
  started = false;
  private readonly sink: PathSink;
  private x = 0;
  private y = 0;
  private startX = 0;
  private startY = 0;
  private controlX = 0;
  private controlY = 0;
  private last = '';

  constructor(sink: PathSink) {
    this.sink = sink;
  }

  close(): undefined {
    if (this.last !== 'z') this.sink.close();
    this.x = this.startX;
    this.y = this.startY;
    this.last = 'z';
  }

  draw(command: string, relative: boolean, a: readonly number[]): void {
    const ox = relative ? this.x : 0;
    const oy = relative ? this.y : 0;
    if (command === 'm') {
      this.moveTo(ox + a[0]!, oy + a[1]!);
      return;
    }
    // Drawing on after a close starts a new subpath where the old one started.
    if (this.last === 'z') this.sink.move(this.x, this.y);
    if (command === 'l') this.lineTo(ox + a[0]!, oy + a[1]!);
    else if (command === 'h') this.lineTo(ox + a[0]!, this.y);
    else if (command === 'v') this.lineTo(this.x, oy + a[0]!);
    else if (command === 'c')
      this.cubicTo(ox + a[0]!, oy + a[1]!, ox + a[2]!, oy + a[3]!, ox + a[4]!, oy + a[5]!);
    else if (command === 's') {
      const [cx, cy] = this.reflected('c', 's');
      this.cubicTo(cx, cy, ox + a[0]!, oy + a[1]!, ox + a[2]!, oy + a[3]!);
    } else if (command === 'q') this.quadTo(ox + a[0]!, oy + a[1]!, ox + a[2]!, oy + a[3]!);
    else if (command === 't') {
      const [cx, cy] = this.reflected('q', 't');
      this.quadTo(cx, cy, ox + a[0]!, oy + a[1]!);
    } else {
      this.x = ox + a[5]!;
      this.y = oy + a[6]!;
      this.sink.arc(a[0]!, a[1]!, a[2]!, a[3] === 1, a[4] === 1, this.x, this.y);
    }
    this.last = command;
  }

  private moveTo(x: number, y: number): void {
    this.started = true;
    this.x = this.startX = x;
    this.y = this.startY = y;
    this.last = 'm';
    this.sink.move(x, y);
  }

  private lineTo(x: number, y: number): void {
    this.x = x;
    this.y = y;
    this.sink.line(x, y);
  }

  private quadTo(x1: number, y1: number, x: number, y: number): void {
    this.controlX = x1;
    this.controlY = y1;
    this.x = x;
    this.y = y;
    this.sink.quad(x1, y1, x, y);
  }

  private cubicTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void {
    this.controlX = x2;
    this.controlY = y2;
    this.x = x;
    this.y = y;
    this.sink.cubic(x1, y1, x2, y2, x, y);
  }

  /** The smooth commands mirror the last control point, but only after a curve of their own kind. */
  private reflected(full: string, smooth: string): [number, number] {
    if (this.last !== full && this.last !== smooth) return [this.x, this.y];
    return [2 * this.x - this.controlX, 2 * this.y - this.controlY];
  }
}
