import Manifold, { type ManifoldToplevel } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { unionRings } from '../../src/geometry/combine.ts';
import { ARC_ERROR, close, grow, open, shrink } from '../../src/geometry/offset.ts';
import { area, EMPTY } from '../../src/geometry/region.ts';
import { perimeter, reversed } from '../../src/geometry/ring.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import { circle, regionOf, ring, seeded, square, starShaped } from './shapes-for-tests.ts';

let second: ManifoldToplevel;
beforeAll(async () => {
  second = await Manifold();
  second.setup();
});

/** A chord whose middle falls short by `ARC_ERROR` leaves out 2/3 of that along the whole arc (parabola area). */
const arcLoss = (arc: number): number => (2 / 3) * ARC_ERROR * arc;

describe('growing and shrinking', () => {
  it('rounds convex corners and shifts walls (closed form of a square and a disc)', () => {
    const grown = grow(regionOf(square(0, 0, 10)), 2);
    const exact = 100 + 4 * 20 + 4 * Math.PI;
    expect(area(grown)).toBeLessThanOrEqual(exact);
    expect(exact - area(grown)).toBeLessThan(1.1 * arcLoss(4 * Math.PI) + 1e-6);
    expect(area(shrink(regionOf(square(0, 0, 10)), 2))).toBeCloseTo(36, 5);
  });

  it('keeps every corner of a round join on the circle, and every chord within the stated error', () => {
    const [rounded] = grow(regionOf(square(0, 0, 1)), 3).rings;
    const points = rounded!;
    for (let i = 0; i < points.length; i += 2) {
      const j = (i + 2) % points.length;
      const off = (x: number, y: number): number =>
        Math.hypot(Math.max(-x, 0, x - 1), Math.max(-y, 0, y - 1));
      expect(Math.abs(off(points[i]!, points[i + 1]!) - 3)).toBeLessThan(3e-6);
      expect(3 - off((points[i]! + points[j]!) / 2, (points[i + 1]! + points[j + 1]!) / 2)).toBeLessThan(
        ARC_ERROR + 3e-6,
      );
    }
  });

  it('shrinks a hole when the region grows', () => {
    const frame = regionOf(square(0, 0, 20), reversed(square(5, 5, 10)));
    expect(area(grow(frame, 1))).toBeCloseTo(400 + 80 + Math.PI - 64, 2);
  });

  it('leaves nothing when shrunk beyond its size, also a 45-sided disc', () => {
    expect(shrink(regionOf(circle(0, 0, 10, 45)), 21)).toEqual(EMPTY);
    expect(shrink(EMPTY, 1)).toEqual(EMPTY);
    expect(grow(regionOf(square(0, 0, 1)), 0).rings).toHaveLength(1);
    expect(() => grow(regionOf(square(0, 0, 1)), Number.NaN)).toThrow(RangeError);
  });

  it('splits a dumb-bell whose bar is too thin', () => {
    const bell = unionRings(
      [square(0, 0, 10), square(30, 0, 10), ring(5, 4.8, 35, 4.8, 35, 5.2, 5, 5.2)],
      'nonzero',
    );
    expect(shrink(bell, 0.19).rings).toHaveLength(1);
    expect(shrink(bell, 0.21).rings).toHaveLength(2);
  });

  it('agrees with a second engine on area within the arc error, over 120 outlines', () => {
    const random = seeded(41);
    let worst = 0;
    for (let k = 0; k < 120; k++) {
      const region = unionRings([starShaped(random, 0, 0, 30, 5 + Math.floor(30 * random()))], 'nonzero');
      const by = (random() - 0.5) * 4;
      worst = Math.max(
        worst,
        Math.abs(area(grow(region, by)) - secondGrown(region, by)) / lengthOf(region, by),
      );
    }
    console.log(
      `120 offsets: mean distance between two engines' outlines at most ${(worst * 1000).toFixed(3)} um`,
    );
    expect(worst).toBeLessThan(ARC_ERROR);
  });
});

function lengthOf({ rings }: Region, by: number): number {
  return rings.reduce((sum, r) => sum + perimeter(r), 0) + 2 * Math.PI * Math.abs(by);
}

function secondGrown({ rings }: Region, by: number): number {
  const polygons = rings.map((r) =>
    Array.from({ length: r.length / 2 }, (_, k): [number, number] => [r[2 * k]!, r[2 * k + 1]!]),
  );
  const section = second.CrossSection.ofPolygons(polygons, 'NonZero');
  const grown = section.offset(by, 'Round', 2, 2048);
  const value = grown.area();
  section.delete();
  grown.delete();
  return value;
}

describe('opening and closing', () => {
  it('rounds the corners of a square (closed form)', () => {
    const opened = open(regionOf(square(0, 0, 10)), 1);
    expect(Math.abs(area(opened) - (100 - 4 + Math.PI))).toBeLessThan(1.1 * arcLoss(2 * Math.PI) + 1e-5);
    expect(area(close(regionOf(square(0, 0, 10)), 1))).toBeCloseTo(100, 3);
  });

  it('removes a thin bar, and fills a thin slot', () => {
    const bell = unionRings(
      [square(0, 0, 10), square(30, 0, 10), ring(5, 4.5, 35, 4.5, 35, 5.5, 5, 5.5)],
      'nonzero',
    );
    expect(open(bell, 0.6).rings).toHaveLength(2);
    const slot = unionRings([square(0, 0, 10), reversed(ring(2, 4.9, 8, 4.9, 8, 5.1, 2, 5.1))], 'nonzero');
    expect(area(slot)).toBeCloseTo(98.8, 4);
    expect(area(close(slot, 0.2))).toBeCloseTo(100, 3);
  });

  it('never leaves the region when opening, and never loses any when closing', () => {
    const random = seeded(9);
    for (let k = 0; k < 40; k++) {
      const region = unionRings([starShaped(random, 0, 0, 30, 24)], 'nonzero');
      expect(area(open(region, 0.5 + random()))).toBeLessThan(area(region) + 1e-3);
      expect(area(close(region, 0.5 + random()))).toBeGreaterThan(
        area(region) - ARC_ERROR * lengthOf(region, 0),
      );
    }
  });
});
