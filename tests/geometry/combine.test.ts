import type { CrossSection, ManifoldToplevel } from 'manifold-3d';
import Manifold from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { GRID, intersect, subtract, union, unionRings, xor } from '../../src/geometry/combine.ts';
import { witnessArea } from '../../src/geometry/overlap.ts';
import { area, EMPTY } from '../../src/geometry/region.ts';
import { perimeter, reversed } from '../../src/geometry/ring.ts';
import type { Region, Ring } from '../../src/geometry/shapes.ts';
import { circle, regionOf, ring, seeded, square, starShaped } from './shapes-for-tests.ts';

let second: ManifoldToplevel;
beforeAll(async () => {
  second = await Manifold();
  second.setup();
});

/** Area by a second engine, unrelated to the one the results come from. */
function secondArea(work: (section: (rings: readonly Ring[]) => CrossSection) => CrossSection): number {
  const made: CrossSection[] = [];
  const section = (rings: readonly Ring[]): CrossSection => {
    const polygons = rings.map((r) =>
      Array.from({ length: r.length / 2 }, (_, k): [number, number] => [r[2 * k]!, r[2 * k + 1]!]),
    );
    const one = second.CrossSection.ofPolygons(polygons, 'NonZero');
    made.push(one);
    return one;
  };
  const result = work(section);
  const value = result.area();
  for (const one of new Set([result, ...made])) one.delete();
  return value;
}

const lengthOf = (...regions: Region[]): number =>
  regions.flatMap((region) => region.rings).reduce((sum, r) => sum + perimeter(r), 0);

describe('combining', () => {
  const a = regionOf(square(0, 0, 10));
  const b = regionOf(square(8, 8, 10));

  it('gives the areas of two overlapping squares', () => {
    expect([union, intersect, subtract, xor].map((work) => area(work(a, b)))).toEqual([196, 4, 96, 192]);
  });

  it('has an answer for nothing', () => {
    expect([union(a, EMPTY), union(EMPTY, a), subtract(a, EMPTY), xor(EMPTY, a)].map(area)).toEqual([
      100, 100, 100, 100,
    ]);
    expect([intersect(a, EMPTY), subtract(EMPTY, a), unionRings([], 'nonzero')].map(area)).toEqual([0, 0, 0]);
    expect(subtract(a, a).rings).toEqual([]);
  });

  it('fills a crossing outline by the rule asked for', () => {
    // Closed form: ten triangles from the middle to a tip and its neighbouring inner corner; the inner pentagon is the middle.
    const star = ring(
      ...[0, 2, 4, 1, 3].flatMap((k) => [
        100 * Math.sin((k * 2 * Math.PI) / 5),
        100 * Math.cos((k * 2 * Math.PI) / 5),
      ]),
    );
    const inner = (100 * Math.cos((2 * Math.PI) / 5)) / Math.cos(Math.PI / 5);
    const middle = (5 / 2) * inner ** 2 * Math.sin((2 * Math.PI) / 5);
    const whole = 5 * 100 * inner * Math.sin(Math.PI / 5);
    expect(area(unionRings([star], 'nonzero'))).toBeCloseTo(whole, 3);
    expect(area(unionRings([star], 'evenodd'))).toBeCloseTo(whole - middle, 3);
  });

  it('keeps a second ring of the same direction by non-zero and cuts it out by even-odd', () => {
    const rings = [square(0, 0, 10), square(2, 2, 3)];
    expect(area(unionRings(rings, 'nonzero'))).toBe(100);
    expect(area(unionRings(rings, 'evenodd'))).toBe(91);
    expect(area(unionRings([rings[0]!, reversed(rings[1]!)], 'nonzero'))).toBe(91);
  });

  it('moves a vertex by at most half a step of its grid', () => {
    const random = seeded(5);
    for (let k = 0; k < 100; k++) {
      const outline = starShaped(random, 200 * random(), 200 * random(), 50, 12);
      const out = unionRings([outline], 'nonzero').rings[0]!;
      for (let i = 0; i < outline.length; i += 2) {
        let nearest = Number.POSITIVE_INFINITY;
        for (let j = 0; j < out.length; j += 2) {
          nearest = Math.min(
            nearest,
            Math.max(Math.abs(out[j]! - outline[i]!), Math.abs(out[j + 1]! - outline[i + 1]!)),
          );
        }
        expect(nearest).toBeLessThanOrEqual(GRID / 2);
      }
    }
  });

  it('refuses coordinates it cannot hold', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, 2e6, -1e300]) {
      expect(() => unionRings([ring(0, 0, bad, 0, 1, 1)], 'nonzero')).toThrow(RangeError);
    }
  });
});

describe('nearly coincident outlines, as a pocket and its mirrored-back plug are', () => {
  const NOISE = [0, 1e-15, 1e-13, 1e-11, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3];

  it('combine without a throw, and agree with a second engine, over 2,400 noisy pairs', () => {
    const random = seeded(2024);
    let worst = 0;
    for (let k = 0; k < 2400; k++) {
      const corners = 3 + Math.floor(random() * 40);
      const one = starShaped(random, 300 * random(), 300 * random(), 20 + 130 * random(), corners);
      const noise = NOISE[k % NOISE.length]!;
      const other = twin(one, noise, k % 3, random);
      const different = xor(unionRings([one], 'nonzero'), unionRings([other], 'nonzero'));
      const expected = secondArea((section) => {
        const [p, q] = [section([one]), section([other])];
        const [only, also] = [p.subtract(q), q.subtract(p)];
        const both = only.add(also);
        only.delete();
        also.delete();
        return both;
      });
      worst = Math.max(worst, Math.abs(area(different) - expected) / perimeter(one));
    }
    console.log(
      `2,400 noisy pairs: the area that differs is within ${worst.toExponential(1)} mm times the outline`,
    );
    expect(worst).toBeLessThan(GRID);
  });

  it('combine whatever an outline met in the field: shared edges, a V with noise, a doubled corner', () => {
    const triangle = ring(
      8.45420557703659,
      2.0392903842200223,
      6.4693955836429335,
      2.3296397740107966,
      7.210350632807639,
      0.4655692031512799,
    );
    const beside = ring(
      7.700150500700758,
      2.149597885699496,
      7.990499890491533,
      4.1344078890931515,
      7.455246140273593,
      4.212707867644337,
      7.164896750482819,
      2.2278978742506816,
    );
    const [one, other] = [unionRings([triangle], 'nonzero'), unionRings([beside], 'nonzero')];
    expect(area(union(one, other))).toBeCloseTo(area(one) + area(other), 5);
    const first = unionRings([ring(0, 0, 120, 7, 33, 91)], 'nonzero');
    const nudged = unionRings(
      [ring(7.737951278686524e-16, 1.0979366302490235e-16, 120, 7, 33, 91)],
      'nonzero',
    );
    expect(area(xor(first, nudged))).toBe(0);
  });

  it('combine large circles with inserted corners and small turns', () => {
    const round = regionOf(circle(0, 0, 100, 3000));
    for (const noise of NOISE) {
      const turned = regionOf(circle(noise, -noise, 100, 6000));
      const shared = intersect(round, turned);
      expect(area(shared)).toBeLessThanOrEqual(area(round) + GRID * lengthOf(round));
      expect(Math.abs(area(union(round, turned)) + area(shared) - area(round) - area(turned))).toBeLessThan(
        3 * GRID * lengthOf(round),
      );
    }
  });
});

/** The outline again with noise, with corners put into its edges, or with its edges' middles as corners. */
function twin(one: Ring, noise: number, kind: number, random: () => number): Ring {
  const n = one.length;
  const points: number[] = [];
  for (let i = 0; i < n; i += 2) {
    const j = (i + 2) % n;
    const shake = (): number => noise * (2 * random() - 1);
    const middle = [(one[i]! + one[j]!) / 2 + shake(), (one[i + 1]! + one[j + 1]!) / 2 + shake()];
    if (kind !== 2) points.push(one[i]! + shake(), one[i + 1]! + shake());
    if (kind !== 0) points.push(...middle);
  }
  return Float64Array.from(points);
}

describe('unrelated regions', () => {
  it('have the same areas by two other libraries, within a millionth, over 200 pairs', () => {
    const random = seeded(77);
    let compared = 0;
    for (let k = 0; k < 200; k++) {
      const one = unionRings(
        [starShaped(random, 50, 50, 40, 30), reversed(circle(50, 50, 8, 40))],
        'nonzero',
      );
      const other = unionRings([starShaped(random, 60 + 20 * random(), 50, 40, 25)], 'nonzero');
      const shared = area(intersect(one, other));
      const bySecond = secondArea((section) => section(one.rings).intersect(section(other.rings)));
      expect(Math.abs(shared - bySecond)).toBeLessThan(1e-6 * area(one));
      const byThird = witnessArea(one, other); // put on a coarser grid of 1e-4 mm
      if (byThird === undefined) continue;
      compared++;
      expect(Math.abs(shared - byThird)).toBeLessThan(1e-4 * lengthOf(one, other));
    }
    expect(compared).toBeGreaterThan(190);
  });
});
