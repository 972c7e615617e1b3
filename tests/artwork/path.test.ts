import { describe, expect, it } from 'vitest';
import { drawPath, type PathSink } from '../../src/artwork/path.ts';
import { readNumbers, Scanner } from '../../src/artwork/scanner.ts';

/** Writes what is drawn back as absolute path data. */
function strokes(data: string): [drawn: string, error: { index: number; says: string } | undefined] {
  const out: string[] = [];
  const sink: PathSink = {
    move: (x, y) => out.push(`M${x},${y}`),
    line: (x, y) => out.push(`L${x},${y}`),
    quad: (...n) => out.push(`Q${n.join(',')}`),
    cubic: (...n) => out.push(`C${n.join(',')}`),
    arc: (rx, ry, turn, large, sweep, x, y) =>
      out.push(`A${rx},${ry},${turn},${large ? 1 : 0},${sweep ? 1 : 0},${x},${y}`),
    close: () => out.push('Z'),
  };
  const error = drawPath(data, sink);
  return [out.join(''), error];
}

describe('path data (grammar: SVG 2, section 9.3.9)', () => {
  it.each([
    ['M1 2L3 4', 'M1,2L3,4'],
    ['m1 2 3 4-1-1', 'M1,2L4,6L3,5'],
    ['M0 0h5v5H1V1z', 'M0,0L5,0L5,5L1,5L1,1Z'],
    ['M.5.5.25-.25', 'M0.5,0.5L0.25,-0.25'],
    ['M1e1 1E-1L+5 5', 'M10,0.1L5,5'],
    ['M0 0a1 1 0 01.5.5', 'M0,0A1,1,0,0,1,0.5,0.5'],
    ['M0,0a40 40 0 1180 0', 'M0,0A40,40,0,1,1,80,0'],
    ['M10 10h10v10zl5 5h2', 'M10,10L20,10L20,20ZM10,10L15,15L17,15'],
    ['M0 0C1 1 2 1 3 0S5-1 6 0', 'M0,0C1,1,2,1,3,0C4,-1,5,-1,6,0'],
    ['M0 0L4 0S5-1 6 0', 'M0,0L4,0C4,0,5,-1,6,0'],
    ['M0 0Q1 1 2 0T4 0T6 0', 'M0,0Q1,1,2,0Q3,-1,4,0Q5,1,6,0'],
    ['M0 0L2 0T4 4T6 0', 'M0,0L2,0Q2,0,4,4Q6,8,6,0'],
    ['M0 0zz', 'M0,0Z'],
    ['M0 0H1zm2 2h1z', 'M0,0L1,0ZM2,2L3,2Z'],
    [' \t\r\n\fM0,0\f1,1', 'M0,0L1,1'],
    ['', ''],
  ])('%s', (data, drawn) => {
    expect(strokes(data)).toEqual([drawn, undefined]);
  });

  it.each([
    ['M0 0L10 10X20 20', 'M0,0L10,10', 10],
    ['M0 0L1..5', 'M0,0', 5],
    ['M0 0h10 v', 'M0,0L10,0', 9],
    ['M0 0L5 5 6', 'M0,0L5,5', 10],
    ['L5 5', '', 0],
    ['M0 0z 5 5', 'M0,0Z', 6],
    ['M0 0A1 1 0 2 0 5 5', 'M0,0', 11],
    ['M0 0L1e999 0', 'M0,0', 10],
    ['M0 0L10\u00a010', 'M0,0', 7],
    ['M0 0H90.V90', 'M0,0', 5],
    ['M,0 0', '', 1],
    ['M0 0L5 5,Z', 'M0,0L5,5', 9],
    ['none', '', 0],
    ['M0 0LNaN 1', 'M0,0', 5],
  ])('keeps what comes before the error in %s', (data, drawn, index) => {
    const [got, error] = strokes(data);
    expect(got).toBe(drawn);
    expect(error?.index).toBe(index);
    expect(error?.says).not.toBe('');
  });
});

describe('numbers', () => {
  it('are read right to the last bit, as the language itself reads them', () => {
    let seed = 7;
    const random = (): number => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    for (let i = 0; i < 20_000; i++) {
      const digits = Math.floor(random() * 22);
      const text = `${random() < 0.5 ? '-' : ''}${Math.floor(random() * 10 ** Math.floor(random() * 9))}.${String(random()).slice(2, 3 + digits)}${random() < 0.2 ? `e${Math.floor(random() * 20 - 10)}` : ''}`;
      expect(new Scanner(text).number(), text).toBe(Number(text));
    }
  });

  it('come in lists with single commas', () => {
    expect(readNumbers(' 0 0,10\n-5.5 ')).toEqual([0, 0, 10, -5.5]);
    expect(readNumbers('1,,2')).toBeUndefined();
    expect(readNumbers('1 2px')).toBeUndefined();
    expect(readNumbers('1,')).toBeUndefined();
    expect(readNumbers('')).toEqual([]);
  });
});
