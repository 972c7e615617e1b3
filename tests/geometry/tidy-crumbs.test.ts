import { beforeAll, describe, expect, it } from 'vitest';
import { fitProud } from '../../rules/fit/proud.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { signedArea } from '../../src/geometry/ring.ts';
import { withoutCrumbs } from '../../src/geometry/tidy-crumbs.ts';
import { ask } from '../pairs.ts';

beforeAll(() => loadClipper());

const SQUARE = [0, 0, 10, 0, 10, 10, 0, 10];

describe('edges finer than a drawing means', () => {
  it('leaves an outline without any as it is', () => {
    const ring = Float64Array.from(SQUARE);
    expect(withoutCrumbs(ring)).toBe(ring);
  });

  it('takes repeated points and hooks off, wherever the outline starts', () => {
    // A hook as an offset left it in a real letter: 0.3 um out, 10 nm across and back.
    const hooked = [
      ...SQUARE.slice(0, 4),
      10,
      5,
      10.0003,
      5,
      10.0003,
      5.00001,
      10,
      5.00001,
      ...SQUARE.slice(4),
    ];
    for (let turn = 0; turn < hooked.length; turn += 2) {
      const ring = withoutCrumbs(Float64Array.from([...hooked.slice(turn), ...hooked.slice(0, turn)]));
      expect(signedArea(ring)).toBeCloseTo(100, 3);
      for (let i = 0; i < ring.length; i += 2) {
        const j = (i + 2) % ring.length;
        const far = Math.hypot(
          (ring[j] as number) - (ring[i] as number),
          (ring[j + 1] as number) - (ring[i + 1] as number),
        );
        expect(far).toBeGreaterThan(1e-4);
      }
      expect(ring.length).toBeLessThanOrEqual(10);
    }
  });

  it('leaves nothing of an outline that is a crumb itself', () => {
    expect(withoutCrumbs(Float64Array.of(0, 0, 5e-5, 0, 5e-5, 5e-5))).toHaveLength(0);
  });

  it('does not let a hook at the bottom of a notch hold the plug up', () => {
    const notch = (hook: string): string => `<path d="M10 10H90V70H10V50L60 ${40 + 0.25}${hook}L10 30Z"/>`;
    const value = (inner: string): number => {
      const check = ask(fitProud, { pocket: inner });
      return check.readings[0]?.measured.value ?? Number.NaN;
    };
    const plain = value(notch(''));
    const hooked = value(notch('L60.000279 40.249904L60.000276 40.249895L59.999997 40.249991'));
    expect(plain).toBeLessThan(1);
    expect(hooked).toBeCloseTo(plain, 3);
  });
});
