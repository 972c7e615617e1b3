import { describe, expect, it } from 'vitest';
import { hypot } from '../../src/geometry/hypot.ts';

describe('the length of a vector', () => {
  it('is what Math.hypot gives, to the last digit, large and small', () => {
    const numbers = [
      0,
      1,
      -3,
      4,
      1e-9,
      -2.5e-7,
      0.1,
      123.456,
      -1e6,
      7.7e150,
      1e-160,
      Number.POSITIVE_INFINITY,
    ];
    for (let n = 1; n < 200; n++) numbers.push(Math.sin(n) * 10 ** ((n % 14) - 7));
    for (const x of numbers) for (const y of numbers) expect(hypot(x, y)).toBe(Math.hypot(x, y));
    expect(hypot(Number.NaN, 1)).toBeNaN();
  });
});
