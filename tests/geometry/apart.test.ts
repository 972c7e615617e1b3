import { describe, expect, it } from 'vitest';
import { apart } from '../../src/geometry/apart.ts';
import { inflateRings } from '../../src/geometry/clipper.ts';
import { unionRings } from '../../src/geometry/combine.ts';
import { grow } from '../../src/geometry/offset.ts';
import { area } from '../../src/geometry/region.ts';
import { reversed } from '../../src/geometry/ring.ts';
import { regionOf, seeded, square, starShaped } from './shapes-for-tests.ts';

describe('rings that have nothing to do with one another', () => {
  const [left, inside, right, above] = [
    square(0, 0, 10),
    reversed(square(4, 4, 2)),
    square(13, 0, 10),
    square(0, 16, 10),
  ];

  it('keeps a hole with what is round it, and what grows together with its neighbour', () => {
    const rings = [left, right, inside, above];
    expect(apart(rings, 1)).toEqual([[left, inside], [right], [above]]);
    expect(apart(rings, 1.6)).toEqual([[left, right, inside], [above]]);
    expect(apart(rings, 3.1)).toEqual([[left, right, inside, above]]);
    expect(apart([], 1)).toEqual([]);
  });

  it('joins groups by a ring that comes late and reaches both', () => {
    const bridge = square(-3, 9, 8);
    expect(apart([left, above, bridge], 0.1)).toEqual([[left, above, bridge]]);
  });

  it('gives grown and drawn-in designs the area that they have as one', () => {
    const random = seeded(11);
    for (let design = 0; design < 60; design++) {
      const stars = Array.from({ length: 12 }, () => starShaped(random, 60 * random(), 60 * random(), 8, 24));
      const region = unionRings(stars, 'nonzero');
      for (const by of [-1, -0.2, 0.3, 2]) {
        const asOne = regionOf(...inflateRings(region.rings, by, 0.001));
        expect(area(grow(region, by, { arcError: 0.001 }))).toBeCloseTo(area(asOne), 3);
      }
    }
  });
});
