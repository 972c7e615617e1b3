import { describe, expect, it } from 'vitest';
import {
  mapRing,
  perimeter,
  reversed,
  ringBox,
  ringContains,
  signedArea,
  windingNumber,
} from '../../src/geometry/ring.ts';
import { circle, ring, seeded, square, starShaped } from './shapes-for-tests.ts';

describe('a ring', () => {
  it('has a positive area when it turns from x to y, and a negative one walked back', () => {
    expect(signedArea(square(2, 3, 4))).toBe(16);
    expect(signedArea(reversed(square(2, 3, 4)))).toBe(-16);
    expect([...reversed(ring(0, 0, 1, 0, 1, 1))]).toEqual([0, 0, 1, 1, 1, 0]);
  });

  it('keeps the digits of a small area far out', () => {
    // Exact: the side 2^-10 and the place 2^16 are powers of two.
    expect(signedArea(square(65536, 65536, 2 ** -10))).toBe(2 ** -20);
  });

  it('has the area and length of a regular polygon', () => {
    // Closed forms: n r^2 sin(2 pi / n) / 2 and 2 n r sin(pi / n).
    const n = 17;
    expect(signedArea(circle(5, -3, 2, n))).toBeCloseTo((n / 2) * 4 * Math.sin((2 * Math.PI) / n), 12);
    expect(perimeter(circle(5, -3, 2, n))).toBeCloseTo(4 * n * Math.sin(Math.PI / n), 12);
  });

  it('turns its orientation under a reflection', () => {
    expect(signedArea(mapRing(square(0, 0, 3), (x, y) => [-x, y]))).toBe(-9);
  });

  it('has a box, and without points an empty one', () => {
    expect(ringBox(ring(1, 5, -2, 7, 0, 9))).toEqual({ minX: -2, minY: 5, maxX: 1, maxY: 9 });
    expect(ringBox(ring()).minX).toBe(Number.POSITIVE_INFINITY);
    expect(signedArea(ring())).toBe(0);
    expect(signedArea(ring(1, 1, 2, 2))).toBe(0);
  });

  it('contains what lies inside, counts a second turn, and gives an edge to one side only', () => {
    const twice = ring(0, 0, 10, 0, 10, 10, 0, 10, 0, 0, 10, 0, 10, 10, 0, 10);
    expect(windingNumber(twice, 5, 5)).toBe(2);
    expect(windingNumber(reversed(square(0, 0, 10)), 5, 5)).toBe(-1);
    const left = square(0, 0, 10);
    const right = square(10, 0, 10);
    for (const y of [0, 2.5, 9.75]) {
      expect([ringContains(left, 10, y), ringContains(right, 10, y)]).toEqual([false, true]);
    }
    expect(ringContains(left, 0, 0)).toBe(true);
    expect(ringContains(left, 10, 10)).toBe(false);
  });

  it('agrees with summed angles on random outlines', () => {
    // The winding number as the sum of signed angles seen from the point: its definition.
    const random = seeded(11);
    for (let k = 0; k < 300; k++) {
      const outline = starShaped(random, 0, 0, 10, 3 + Math.floor(random() * 20));
      const [x, y] = [random() * 20 - 10, random() * 20 - 10];
      let sum = 0;
      for (let i = 0; i < outline.length; i += 2) {
        const j = (i + 2) % outline.length;
        const [ux, uy] = [outline[i]! - x, outline[i + 1]! - y];
        const [vx, vy] = [outline[j]! - x, outline[j + 1]! - y];
        sum += Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
      }
      expect(windingNumber(outline, x, y) - Math.round(sum / (2 * Math.PI))).toBe(0);
    }
  });
});
