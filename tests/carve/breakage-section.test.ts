import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sectionOf, weakestWay } from '../../src/carve/breakage-section.ts';
import { disc, rectangle, turned } from './breakage-shapes.ts';

// Closed forms: any textbook on the strength of materials; each is written out beside its check.
describe('second moments of a level cut', () => {
  it('rectangle b x h: b h^3 / 12 about its centre, wherever it lies', () => {
    const s = sectionOf([rectangle(3, 2, 100, -50)]);
    expect(s.area).toBeCloseTo(6, 9);
    expect(s.centre[0]).toBeCloseTo(100, 9);
    expect(s.centre[1]).toBeCloseTo(-50, 9);
    expect(s.yy).toBeCloseTo((3 * 2 ** 3) / 12, 7);
    expect(s.xx).toBeCloseTo((2 * 3 ** 3) / 12, 7);
    expect(s.xy).toBeCloseTo(0, 7);
  });

  it('triangle, base b, height h: b h^3 / 36', () => {
    const s = sectionOf([new Float64Array([0, 0, 4, 0, 1, 3])]);
    expect(s.yy).toBeCloseTo((4 * 27) / 36, 9);
    expect(s.area).toBeCloseTo(6, 9);
  });

  it('trapezoid, parallel sides a and b, height h: h^3 (a^2 + 4 a b + b^2) / 36 (a + b)', () => {
    const [a, b, h] = [5, 2, 3];
    const s = sectionOf([new Float64Array([0, 0, a, 0, 3, h, 3 - b, h])]);
    expect(s.yy).toBeCloseTo((h ** 3 * (a * a + 4 * a * b + b * b)) / (36 * (a + b)), 9);
  });

  it('disc: pi r^4 / 4; ring: pi (R^4 - r^4) / 4', () => {
    const s = sectionOf([disc(2, 4000)]);
    expect(s.xx / ((Math.PI * 16) / 4)).toBeCloseTo(1, 5);
    const hole = disc(1, 4000).slice();
    const ring = sectionOf([disc(2, 4000), backwards(hole)]);
    expect(ring.xx / ((Math.PI * 15) / 4)).toBeCloseTo(1, 5);
  });

  it('agrees with counting small squares (a numerical integration that shares nothing with it)', () => {
    const outline = new Float64Array([0, 0, 6, 1, 5, 4, 3, 2.5, 1, 5]);
    const counted = countSquares(outline, 0.01);
    const s = sectionOf([outline]);
    expect(s.area / counted.area).toBeCloseTo(1, 3);
    expect(s.xx / counted.xx).toBeCloseTo(1, 3);
    expect(s.yy / counted.yy).toBeCloseTo(1, 3);
    expect(Math.abs(s.xy - counted.xy)).toBeLessThan(0.003 * counted.xx);
  });

  it('x x + y y is the same however the cut is turned', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 7, noNaN: true }), (angle) => {
        const s = sectionOf([turned(rectangle(5, 1), angle)]);
        expect(s.xx + s.yy).toBeCloseTo((5 * 1 + 125) / 12, 9);
      }),
      { seed: 3, numRuns: 50 },
    );
  });
});

describe('the weakest way', () => {
  it('disc: section modulus pi r^3 / 4', () => {
    const ring = disc(1.5, 720);
    const { modulus } = weakestWay(sectionOf([ring]), [ring]);
    expect(modulus / ((Math.PI * 1.5 ** 3) / 4)).toBeCloseTo(1, 3);
  });

  it('rectangle: the least over all directions, found by trying them', () => {
    const ring = rectangle(4, 1);
    const { modulus, direction } = weakestWay(sectionOf([ring]), [ring]);
    const [xx, yy] = [64 / 12, 4 / 12];
    let worst = 0;
    let at = 0;
    for (let i = 0; i < 3600; i++) {
      const a = (i * Math.PI) / 1800;
      const stress = (2 * Math.cos(a)) / xx + (0.5 * Math.sin(a)) / yy;
      if (stress > worst) [worst, at] = [stress, a];
    }
    expect(modulus).toBeCloseTo(1 / worst, 5);
    expect(Math.abs(Math.tan(direction))).toBeCloseTo(Math.abs(Math.tan(at)), 1);
  });
});

function backwards(ring: Float64Array): Float64Array {
  const points = Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i]!, ring[2 * i + 1]!]);
  return new Float64Array(points.reverse().flat());
}

function countSquares(
  ring: Float64Array,
  step: number,
): { area: number; xx: number; yy: number; xy: number } {
  const cells: [number, number][] = [];
  for (let i = 0, x = step / 2; x < 6; i++, x += step) {
    // Each column starts at another height, so that no edge runs in step with the squares.
    const start = ((i * 0.618034) % 1) * step;
    for (let y = start; y < 5; y += step) if (inside(ring, x, y)) cells.push([x, y]);
  }
  const mean = (k: 0 | 1): number => cells.reduce((sum, c) => sum + c[k], 0) / cells.length;
  const [mx, my] = [mean(0), mean(1)];
  const sum = (f: (x: number, y: number) => number): number =>
    cells.reduce((s, [x, y]) => s + f(x - mx, y - my), 0) * step * step;
  return {
    area: cells.length * step * step,
    xx: sum((x) => x * x),
    yy: sum((_, y) => y * y),
    xy: sum((x, y) => x * y),
  };
}

function inside(ring: Float64Array, x: number, y: number): boolean {
  let odd = false;
  for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
    const [ax, ay, bx, by] = [ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!];
    if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) odd = !odd;
  }
  return odd;
}
