import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply, applyRegion, compose, IDENTITY, invert, mirrorAxis } from '../../src/geometry/motion.ts';
import { signedArea } from '../../src/geometry/ring.ts';
import type { Motion } from '../../src/geometry/shapes.ts';

const motions: fc.Arbitrary<Motion> = fc.record({
  reflect: fc.boolean(),
  angle: fc.double({ min: -3.14, max: 3.14, noNaN: true }),
  dx: fc.double({ min: -500, max: 500, noNaN: true }),
  dy: fc.double({ min: -500, max: 500, noNaN: true }),
});
const points = fc.tuple(
  fc.double({ min: -300, max: 300, noNaN: true }),
  fc.double({ min: -300, max: 300, noNaN: true }),
);
const seed = { seed: 20240, numRuns: 300 };

const near = (a: readonly number[], b: readonly number[]): void => {
  expect(a[0]).toBeCloseTo(b[0], 8);
  expect(a[1]).toBeCloseTo(b[1], 8);
};

describe('motions', () => {
  it('reflect first, then turn, then shift (the definition in shapes.ts)', () => {
    near(apply({ reflect: true, angle: Math.PI / 2, dx: 10, dy: 20 }, 3, 4), [6, 17]);
    near(apply({ reflect: false, angle: Math.PI / 2, dx: 10, dy: 20 }, 3, 4), [6, 23]);
    near(apply(IDENTITY, 3, 4), [3, 4]);
  });

  it('are undone by their inverse', () => {
    fc.assert(
      fc.property(motions, points, (m, [x, y]) => {
        const [u, v] = apply(m, x, y);
        near(apply(invert(m), u, v), [x, y]);
      }),
      seed,
    );
  });

  it('compose as one after the other', () => {
    fc.assert(
      fc.property(motions, motions, points, (a, b, [x, y]) => {
        const [u, v] = apply(b, x, y);
        near(apply(compose(a, b), x, y), apply(a, u, v));
      }),
      seed,
    );
  });

  it('keep distances', () => {
    fc.assert(
      fc.property(motions, points, points, (m, [x, y], [u, v]) => {
        const [a, b] = apply(m, x, y);
        const [c, d] = apply(m, u, v);
        expect(Math.hypot(a - c, b - d)).toBeCloseTo(Math.hypot(x - u, y - v), 8);
      }),
      seed,
    );
  });

  it('keep outer rings outer and holes holes, also when reflected', () => {
    const region = {
      rings: [Float64Array.of(0, 0, 10, 0, 10, 10, 0, 10), Float64Array.of(2, 2, 2, 4, 4, 4, 4, 2)],
    };
    fc.assert(
      fc.property(motions, (m) => {
        const [outer, hole] = applyRegion(m, region).rings;
        expect(signedArea(outer)).toBeCloseTo(100, 7);
        expect(signedArea(hole)).toBeCloseTo(-4, 7);
      }),
      seed,
    );
    expect([...region.rings[0]]).toEqual([0, 0, 10, 0, 10, 10, 0, 10]);
  });
});

describe('the mirror axis', () => {
  it('of a flip from left to right stands upright, half way along the shift', () => {
    const axis = mirrorAxis({ reflect: true, angle: 0, dx: 80, dy: 0 });
    expect(axis?.angle).toBeCloseTo(Math.PI / 2, 12);
    near(axis?.through ?? [0, 0], [40, 0]);
    expect(axis?.glide).toBeCloseTo(0, 12);
  });

  it('leaves its own points where they are but for the slide along it', () => {
    fc.assert(
      fc.property(motions, fc.double({ min: -50, max: 50, noNaN: true }), (m, s) => {
        const axis = mirrorAxis({ ...m, reflect: true });
        if (axis === undefined) throw new Error('a reflection has an axis');
        const u = [Math.cos(axis.angle), Math.sin(axis.angle)];
        const on = [axis.through[0] + s * u[0], axis.through[1] + s * u[1]];
        near(apply({ ...m, reflect: true }, on[0], on[1]), [
          on[0] + axis.glide * u[0],
          on[1] + axis.glide * u[1],
        ]);
      }),
      seed,
    );
  });

  it('is missing when nothing is reflected', () => {
    expect(mirrorAxis({ reflect: false, angle: 1, dx: 2, dy: 3 })).toBeUndefined();
  });
});
