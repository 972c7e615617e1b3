/** How much an unusual size weighs. */
import { describe, expect, it } from 'vitest';
import { unusual } from '../../src/advice/why-size.ts';

describe('a size that is unusual', () => {
  const usual = 0.001;
  const times = (n: number): number => unusual({ usual }, n * usual);

  it('costs as the tail of Cauchy says up to ten times what is usual, whichever way', () => {
    expect(times(0)).toBe(0);
    expect(times(1)).toBeCloseTo(2 * Math.log(2), 9);
    expect(times(-10)).toBeCloseTo(2 * Math.log(101), 9);
  });

  it('costs two powers more beyond: 30 times for a scale of 3 % where 0.1 % is usual', () => {
    expect(times(30)).toBeCloseTo(2 * Math.log(901) + 4 * Math.log(3), 9);
    expect(times(30) - times(3)).toBeGreaterThan(12);
  });
});
