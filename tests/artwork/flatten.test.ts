import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CHORD_ERROR, FARTHEST, Flattener, FlattenFault } from '../../src/artwork/flatten.ts';
import { drawPath } from '../../src/artwork/path.ts';
import { compose, IDENTITY, type Matrix } from '../../src/artwork/transform.ts';

const budget = () => ({ left: 1_000_000 });
/** Arithmetic's share in the bound: rounding of coordinates up to a few hundred millimetres. */
const ROUNDING = 1e-9;

function flatten(data: string, matrix: Matrix = IDENTITY): Float64Array {
  const flattener = new Flattener(matrix, CHORD_ERROR, budget());
  expect(drawPath(data, flattener)).toBeUndefined();
  const { points, closed } = flattener.finish()[0]!;
  return closed || points.length === 2 ? Float64Array.of(...points, points[0]!, points[1]!) : points;
}

function distanceToLine(x: number, y: number, points: Float64Array): number {
  let least = Infinity;
  for (let i = 0; i + 3 < points.length; i += 2) {
    const [ax, ay] = [points[i]!, points[i + 1]!];
    const [dx, dy] = [points[i + 2]! - ax, points[i + 3]! - ay];
    const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    least = Math.min(least, Math.hypot(x - ax - t * dx, y - ay - t * dy));
  }
  return least;
}

const mapped = ([a, b, c, d, e, f]: Matrix, x: number, y: number): [number, number] => [
  a * x + c * y + e,
  b * x + d * y + f,
];
const inside = fc.double({ min: -150, max: 150, noNaN: true });
const matrices = fc
  .tuple(
    fc.double({ min: -3, max: 3, noNaN: true }),
    fc.double({ min: -3, max: 3, noNaN: true }),
    fc.double({ min: 0.05, max: 3, noNaN: true }),
    fc.boolean(),
  )
  .map(
    ([turn, skew, grow, flip]): Matrix =>
      compose(
        [Math.cos(turn), Math.sin(turn), -Math.sin(turn), Math.cos(turn), 3, -7],
        [flip ? -grow : grow, 0, skew, 1, 0, 0],
      ),
  );

describe('curves as straight lines', () => {
  it('keeps every cubic within 5 micrometres of its lines, after the matrix (Bernstein form, evaluated apart)', () => {
    fc.assert(
      fc.property(fc.array(inside, { minLength: 8, maxLength: 8 }), matrices, (p, m) => {
        const [x0, y0, x1, y1, x2, y2, x3, y3] = p as [
          number,
          number,
          number,
          number,
          number,
          number,
          number,
          number,
        ];
        const points = flatten(`M${x0} ${y0}C${x1} ${y1} ${x2} ${y2} ${x3} ${y3}`, m);
        for (let k = 0; k <= 150; k++) {
          const t = k / 150;
          const s = 1 - t;
          const weights = [s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t];
          const at = mapped(
            m,
            weights[0]! * x0 + weights[1]! * x1 + weights[2]! * x2 + weights[3]! * x3,
            weights[0]! * y0 + weights[1]! * y1 + weights[2]! * y2 + weights[3]! * y3,
          );
          expect(distanceToLine(...at, points)).toBeLessThanOrEqual(CHORD_ERROR + ROUNDING);
        }
      }),
      { numRuns: 120, seed: 20 },
    );
  });

  it('keeps every elliptical arc within 5 micrometres, under any matrix (points of the ellipse by its centre form)', () => {
    const radius = fc.double({ min: 0.5, max: 90, noNaN: true });
    fc.assert(
      fc.property(
        radius,
        radius,
        fc.double({ min: -180, max: 180, noNaN: true }),
        matrices,
        fc.boolean(),
        (rx, ry, turn, m, sweep) => {
          // A quarter from the end of one axis to the end of the other: the centre is 0,0 by construction.
          const phi = (turn / 180) * Math.PI;
          const at = (t: number): [number, number] => [
            Math.cos(phi) * rx * Math.cos(t) - Math.sin(phi) * ry * Math.sin(t),
            Math.sin(phi) * rx * Math.cos(t) + Math.cos(phi) * ry * Math.sin(t),
          ];
          const through = sweep ? Math.PI / 2 : -Math.PI / 2;
          const points = flatten(
            `M${at(0).join(' ')}A${rx} ${ry} ${turn} 0 ${sweep ? 1 : 0} ${at(through).join(' ')}`,
            m,
          );
          for (let k = 0; k <= 100; k++)
            expect(distanceToLine(...mapped(m, ...at((through * k) / 100)), points)).toBeLessThanOrEqual(
              CHORD_ERROR + 1e-7,
            );
        },
      ),
      { numRuns: 120, seed: 21 },
    );
  });

  it('leaves a circle of 100 mm by 5 micrometres at most, mirrored or not, with no more points than the bound asks', () => {
    for (const flip of [1, -1]) {
      const points = flatten('M100 0A100 100 0 0 1 -100 0A100 100 0 0 1 100 0', [1, 0, 0, flip, 0, 0]);
      const count = points.length / 2;
      // Chord of angle a leaves the circle by r (1 - cos(a / 2)).
      const fewest = Math.PI / Math.acos(1 - CHORD_ERROR / 100);
      expect(count).toBeLessThanOrEqual(Math.ceil(fewest) + 3);
      for (let i = 0; i < points.length; i += 2) {
        const next = (i + 2) % points.length;
        const middle = Math.hypot((points[i]! + points[next]!) / 2, (points[i + 1]! + points[next + 1]!) / 2);
        expect(middle).toBeGreaterThanOrEqual(100 - CHORD_ERROR - ROUNDING);
        expect(Math.hypot(points[i]!, points[i + 1]!)).toBeCloseTo(100, 9);
      }
    }
  });

  it('spends one line on a straight curve and few on a flat one', () => {
    expect(flatten('M0 0C10 0 20 0 30 0').length / 2).toBe(2);
    expect(flatten('M0 0C10 .005 20 .005 30 0').length / 2).toBe(2);
    expect(flatten('M0 0C10 1 20 1 30 0').length / 2).toBeLessThanOrEqual(17);
  });

  it('goes as far as a curve that runs back on its own line does', () => {
    // x(t) of 0, 40, -20, 10 in Bernstein form: furthest at about 9.31 (fine sampling below).
    const points = flatten('M0 0C40 0 -20 0 10 0');
    let most = 0;
    for (let k = 0; k <= 1e4; k++) {
      const t = k / 1e4;
      most = Math.max(most, 3 * (1 - t) ** 2 * t * 40 + 3 * (1 - t) * t * t * -20 + t ** 3 * 10);
    }
    expect(Math.max(...points)).toBeGreaterThanOrEqual(most - CHORD_ERROR);
  });
});

describe('lines', () => {
  const lines = (data: string) => {
    const flattener = new Flattener(IDENTITY, CHORD_ERROR, budget());
    drawPath(data, flattener);
    return flattener.finish().map((line) => ({ points: [...line.points], closed: line.closed }));
  };

  it('keeps open what is open and drops repeated points', () => {
    expect(lines('M0 0H10V10')).toEqual([{ points: [0, 0, 10, 0, 10, 10], closed: false }]);
    expect(lines('M0 0H10V10V10Z')).toEqual([{ points: [0, 0, 10, 0, 10, 10], closed: true }]);
    expect(lines('M0 0H10V10L0 0')).toEqual([{ points: [0, 0, 10, 0, 10, 10], closed: true }]);
    expect(lines('M0 0H10V10L0 .01')).toEqual([{ points: [0, 0, 10, 0, 10, 10, 0, 0.01], closed: false }]);
  });

  it('starts anew where the last subpath began', () => {
    expect(lines('M1 1H3V3ZL5 5V9Z')[1]).toEqual({ points: [1, 1, 5, 5, 5, 9], closed: true });
  });

  it.each([
    'M0 0L1e308 0Z',
    'M0 0C1e300 0 1e300 9 1 1Z',
    'M0 0A1e200 1e308 0 0 1 5 5',
    `M0 0H${FARTHEST + 1}`,
    'M0 0c1e308 1e308 1e308 1e308 1e308 1e308 1e308 1e308 1e308 1e308 1e308 1e308',
  ])('refuses %s', (data) => {
    const flattener = new Flattener(IDENTITY, CHORD_ERROR, budget());
    expect(() => drawPath(data, flattener)).toThrow(FlattenFault);
  });

  it('stops at its budget', () => {
    const flattener = new Flattener(IDENTITY, CHORD_ERROR, { left: 100 });
    expect(() => drawPath('M90000 0A90000 90000 0 0 1 -90000 0', flattener)).toThrow(FlattenFault);
  });
});
