import { describe, expect, it } from 'vitest';
import { unionRings } from '../../src/geometry/combine.ts';
import { area, contains, EMPTY, partsOf, reverseRegion } from '../../src/geometry/region.ts';
import { reversed, signedArea } from '../../src/geometry/ring.ts';
import { regionOf, seeded, square } from './shapes-for-tests.ts';

describe('the parts of a region', () => {
  it('are islands with their own holes, also when nested', () => {
    const lake = regionOf(
      square(0, 0, 100),
      reversed(square(10, 10, 80)),
      square(20, 20, 60),
      reversed(square(30, 30, 10)),
      reversed(square(50, 50, 10)),
      square(200, 0, 5),
    );
    expect(partsOf(lake)).toEqual([
      { outer: 0, holes: [1] },
      { outer: 2, holes: [3, 4] },
      { outer: 5, holes: [] },
    ]);
    expect(area(lake)).toBe(10000 - 6400 + 3600 - 200 + 25);
  });

  it('keep a hole that touches its outline in a point', () => {
    const touching = regionOf(square(0, 0, 10), reversed(Float64Array.of(0, 0, 5, 2, 2, 5)));
    expect(partsOf(touching)).toEqual([{ outer: 0, holes: [1] }]);
  });

  it('are none of nothing', () => {
    expect(partsOf(EMPTY)).toEqual([]);
    expect(area(EMPTY)).toBe(0);
    expect(contains(EMPTY, 0, 0)).toBe(false);
  });

  it('are right where the engine names islands and holes wrongly', () => {
    // Five rectangles whose even-odd union has an island of area 1 that a hole tree of the engine puts at hole depth.
    const boxes = [
      [6, 4, 3, 2],
      [7, 4, 2, 1],
      [4, 5, 5, 4],
      [3, 3, 1, 5],
      [7, 2, 2, 4],
    ];
    const rings = boxes.map(([x, y, w, h]) =>
      Float64Array.of(x!, y!, x! + w!, y!, x! + w!, y! + h!, x!, y! + h!),
    );
    expectSound(unionRings(rings, 'evenodd'));
  });

  it('hold on 600 random sets of whole-number rectangles, which touch in every way', () => {
    const random = seeded(3);
    const whole = (most: number): number => Math.floor(random() * most);
    for (let k = 0; k < 600; k++) {
      const rings = Array.from({ length: 5 + whole(5) }, () => {
        const [x, y, w, h] = [whole(8), whole(8), 1 + whole(5), 1 + whole(5)] as const;
        return Float64Array.of(x, y, x + w, y, x + w, y + h, x, y + h);
      });
      expectSound(unionRings(rings, 'evenodd'));
    }
  });
});

/** Every hole has exactly one part; no part holds more hole than wood; the parts' areas make the whole. */
function expectSound(region: ReturnType<typeof unionRings>): void {
  const parts = partsOf(region);
  const placed = parts.flatMap((part) => [part.outer, ...part.holes]);
  expect([...placed].sort((a, b) => a - b)).toEqual(region.rings.map((_, ring) => ring));
  const areas = parts.map((part) =>
    [part.outer, ...part.holes].reduce((sum, r) => sum + signedArea(region.rings[r]!), 0),
  );
  for (const part of areas) expect(part).toBeGreaterThan(0);
  expect(areas.reduce((sum, part) => sum + part, 0)).toBeCloseTo(area(region), 9);
}

describe('a region', () => {
  it('contains its wood and not its holes', () => {
    const frame = regionOf(square(0, 0, 10), reversed(square(3, 3, 4)));
    expect(contains(frame, 1, 1)).toBe(true);
    expect(contains(frame, 5, 5)).toBe(false);
    expect(contains(frame, 11, 5)).toBe(false);
  });

  it('seen from the outside has every ring turned round', () => {
    const frame = regionOf(square(0, 0, 10), reversed(square(3, 3, 4)));
    expect(reverseRegion(frame).map(signedArea)).toEqual([-100, 16]);
  });
});
