import { describe, expect, it } from 'vitest';
import { apply, applyRegion } from '../../src/geometry/motion.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { register } from '../../src/geometry/register.ts';
import { farthest } from '../../src/geometry/register-deviation.ts';
import { leastWorst } from '../../src/geometry/register-lp.ts';
import type { Motion, Region } from '../../src/geometry/shapes.ts';
import { anyMotion, icons, noisy, walkedDeviation } from './register-outlines.ts';
import { circle, regionOf, ring, seeded, square, starShaped } from './shapes-for-tests.ts';

const STILL: Motion = { reflect: false, angle: 0, dx: 0, dy: 0 };

const deviationAt = (pocket: Region, plug: Region, motion: Motion): number =>
  farthest(new SegmentTree(pocket.rings), new SegmentTree(plug.rings), motion)?.distance ?? 0;

describe('the largest distance of two outlines', () => {
  it('agrees with walking both of them in small steps', () => {
    const random = seeded(11);
    for (let k = 0; k < 40; k++) {
      const a = regionOf(starShaped(random, 50, 50, 30, 5 + Math.floor(20 * random())));
      const b = regionOf(starShaped(random, 52, 49, 30, 5 + Math.floor(20 * random())));
      const walked = walkedDeviation(a.rings, b.rings, 0.02);
      const found = deviationAt(a, b, STILL);
      // Steps of 0.02 mm miss the farthest point by at most half a step; the search by its stated give.
      expect(found).toBeGreaterThan(walked - 1.1e-5);
      expect(found).toBeLessThan(walked + 0.01);
    }
  });

  it('sees the middle of an edge: a bar across a square is half the square from its sides', () => {
    // Both share all corners; only edge middles tell them apart. Closed form: side / 2.
    const a = regionOf(ring(0, 0, 10, 0, 10, 10, 0, 10));
    const b = regionOf(ring(0, 0, 10, 0, 0, 10, 10, 10));
    expect(deviationAt(a, b, STILL)).toBeCloseTo(5, 4);
  });

  it('is infinite against nothing, and nothing against nothing', () => {
    expect(deviationAt(regionOf(square(0, 0, 1)), { rings: [] }, STILL)).toBe(Number.POSITIVE_INFINITY);
    expect(deviationAt({ rings: [] }, { rings: [] }, STILL)).toBe(0);
  });
});

describe('the least worst of many rows', () => {
  it('agrees with trying every corner of the rows', () => {
    const random = seeded(5);
    for (let round = 0; round < 60; round++) {
      const count = 4 + Math.floor(8 * random());
      const offsets = Array.from({ length: count }, () => 2 * random() - 1);
      const slopes = Array.from({ length: 2 * count }, () => 2 * random() - 1);
      const { worst } = leastWorst({ dims: 2, offsets, slopes }, 1);
      expect(worst).toBeCloseTo(byTrial(offsets, slopes), 2);
    }
  });

  it('answers zero when there is nothing to weigh', () => {
    expect(leastWorst({ dims: 3, offsets: [], slopes: [] }, 1).z).toEqual([0, 0, 0]);
  });
});

/** Least worst row over a grid of 401 x 401 places in the square |z| <= 1: within 0.01 for slopes up to 1. */
function byTrial(offsets: readonly number[], slopes: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = -200; i <= 200; i++) {
    for (let j = -200; j <= 200; j++) {
      let worst = Number.NEGATIVE_INFINITY;
      offsets.forEach((c, k) => {
        worst = Math.max(worst, c + (slopes[2 * k] * i) / 200 + (slopes[2 * k + 1] * j) / 200);
      });
      least = Math.min(least, worst);
    }
  }
  return least;
}

describe('registration in closed forms', () => {
  it('a square grown by g with sharp corners: the corners are g times root two apart, nothing does better', () => {
    const found = register(regionOf(square(0, 0, 40)), regionOf(square(-0.3, -0.3, 40.6)), { reflect: true });
    expect(found.deviation).toBeCloseTo(0.3 * Math.SQRT2, 4);
  });

  it('two squares drawn 2e farther apart: each lies off by e', () => {
    const pocket = regionOf(square(0, 0, 20), square(100, 3, 20));
    const plug = regionOf(square(-0.2, 0, 20), square(100.2, 3, 20));
    const found = register(pocket, plug, { reflect: false });
    expect(found.deviation).toBeCloseTo(0.2, 3);
    expect(found.deviation).toBeLessThan(0.2001);
  });

  it('a disc in a disc of another radius: the difference of the radii, at any turn', () => {
    // Inner corners to outer chords: R cos(pi/n) - r <= d <= R - r.
    const found = register(regionOf(circle(7, 9, 30, 720)), regionOf(circle(-50, 80, 30.25, 720)), {
      reflect: true,
    });
    expect(found.deviation).toBeGreaterThan(0.25 - 0.0003);
    expect(found.deviation).toBeLessThan(0.25 + 0.0003);
    const centre = apply(found.motion, -50, 80);
    expect(Math.hypot(centre[0] - 7, centre[1] - 9)).toBeLessThan(0.0005);
  });

  it('names the place in both frames', () => {
    const random = seeded(3);
    const pocket = regionOf(starShaped(random, 60, 60, 40, 40));
    const plug = applyRegion(anyMotion(random, true), pocket);
    plug.rings[0][10] += 0.5;
    const found = register(pocket, plug, { reflect: true });
    const back = apply(found.motion, found.plugAt[0], found.plugAt[1]);
    expect(Math.hypot(back[0] - found.at[0], back[1] - found.at[1])).toBeLessThan(1e-9);
    const edited = apply(found.motion, plug.rings[0][10], plug.rings[0][11]);
    expect(Math.hypot(edited[0] - found.at[0], edited[1] - found.at[1])).toBeLessThan(60);
    expect(found.deviation).toBeLessThan(0.5);
  });
});

describe('registration against a search that knows nothing of it', () => {
  it('finds no worse a fit than a dense search round the true one, on small shapes', () => {
    const random = seeded(17);
    for (let k = 0; k < 6; k++) {
      const pocket = regionOf(starShaped(random, 40, 30, 20, 7));
      const motion = anyMotion(random, true);
      const plug = applyRegion(motion, noisy(pocket, random, 0.3));
      const found = register(pocket, plug, { reflect: true });
      const laid = applyRegion(found.motion, plug);
      expect(walkedDeviation(pocket.rings, laid.rings, 0.02)).toBeCloseTo(found.deviation, 2);
      expect(found.deviation).toBeLessThan(denseSearch(pocket, laid) + 0.001);
    }
  });
});

/** Steps of shift and turn in all directions, halved when none helps, from the given place. */
function denseSearch(pocket: Region, plug: Region): number {
  const at = (dx: number, dy: number, turn: number): number => {
    const moved = applyRegion({ reflect: false, angle: turn, dx, dy }, plug);
    return walkedDeviation(pocket.rings, moved.rings, 0.25);
  };
  let place = [0, 0, 0];
  let least = at(0, 0, 0);
  for (let step = 0.2; step > 0.002; ) {
    let better = false;
    for (let i = 0; i < 27; i++) {
      const next = [(i % 3) - 1, (Math.floor(i / 3) % 3) - 1, Math.floor(i / 9) - 1];
      const tried = place.map((v, k) => v + next[k] * step * (k === 2 ? 1 / 40 : 1));
      const reached = at(tried[0], tried[1], tried[2]);
      if (reached < least - 1e-6) {
        least = reached;
        place = tried;
        better = true;
      }
    }
    if (!better) step /= 2;
  }
  return least;
}

describe('registration from any start', () => {
  /** The fit found must be as good as the true one, whose distance is known without any search. */
  const holds = (name: string, pocket: Region, random: () => number, noise: number): void => {
    for (const reflect of [true, false]) {
      const there = anyMotion(random, reflect);
      const plug = noisy(applyRegion(there, pocket), random, noise);
      const found = register(pocket, plug, { reflect });
      // A smaller turn may cost half a micrometre (and the rest of the polishing as much) when a design is nearly its own turned image.
      expect(found.deviation, name).toBeLessThanOrEqual(noise * Math.SQRT2 + 0.001);
      expect(found.motion.reflect, name).toBe(reflect);
      expect(deviationAt(pocket, plug, found.motion), name).toBeCloseTo(found.deviation, 9);
    }
  };

  it('recovers stars of all sorts', () => {
    const random = seeded(23);
    for (let k = 0; k < 30; k++) {
      const rings = [starShaped(random, 50, 50, 40, 8 + Math.floor(60 * random()))];
      for (let p = 0; p < k % 4; p++) rings.push(starShaped(random, 140 + 70 * p, 60 * random(), 25, 20));
      holds(`star ${k}`, { rings }, random, 0.001);
    }
  });

  it('is not confused by designs with symmetries', () => {
    const random = seeded(29);
    const gear = (teeth: number): Region => {
      const points: number[] = [];
      for (let k = 0; k < 2 * teeth; k++) {
        const r = k % 2 === 0 ? 50 : 46;
        points.push(r * Math.cos((k * Math.PI) / teeth), r * Math.sin((k * Math.PI) / teeth));
      }
      return regionOf(Float64Array.from(points));
    };
    holds('square', regionOf(square(0, 0, 30)), random, 0.001);
    holds('triangle', regionOf(circle(0, 0, 30, 3)), random, 0.001);
    holds('hexagon', regionOf(circle(5, 6, 30, 6)), random, 0.001);
    holds('disc', regionOf(circle(0, 0, 40, 300)), random, 0.001);
    holds('ring', regionOf(circle(0, 0, 40, 200), circle(0, 0, 20, 100).reverse().slice()), random, 0.001);
    holds('gear', gear(60), random, 0.001);
    const marked = gear(60);
    holds('gear with a mark', regionOf(marked.rings[0], square(60, 0, 2)), random, 0.001);
    const dial = Array.from({ length: 12 }, (_, k) =>
      circle(80 * Math.cos((k * Math.PI) / 6), 80 * Math.sin((k * Math.PI) / 6), 4, 40),
    );
    holds('clock face', { rings: dial }, random, 0.001);
    holds('clock face with a long twelve', { rings: [...dial, square(60, -3, 6)] }, random, 0.001);
    holds('long bar', regionOf(ring(0, 0, 300, 0, 300, 2, 0, 2)), random, 0.001);
  });

  const many = process.env.DRYFIT_SWEEP === '1' ? 4000 : 80;
  it(`recovers ${many} icons, mirrored, turned, shifted and rounded`, () => {
    const random = seeded(31);
    let tried = 0;
    for (const { name, region } of icons(many)) {
      holds(name, region, random, 0.001);
      tried++;
    }
    expect(tried).toBeGreaterThan(70);
  });

  it('gives the same answer twice and at every corner of the page', () => {
    const random = seeded(37);
    const pocket = regionOf(starShaped(random, 50, 50, 40, 50));
    const plug = noisy(applyRegion(anyMotion(random, true), pocket), random, 0.01);
    const once = register(pocket, plug, { reflect: true });
    expect(register(pocket, plug, { reflect: true })).toEqual(once);
    const far = applyRegion({ ...STILL, dx: 20_000, dy: -30_000 }, plug);
    expect(register(pocket, far, { reflect: true }).deviation).toBeCloseTo(once.deviation, 5);
  });

  it('has an answer for nothing and for next to nothing', () => {
    const one = regionOf(square(0, 0, 1));
    expect(register({ rings: [] }, { rings: [] }, { reflect: true }).deviation).toBe(0);
    expect(register(one, { rings: [] }, { reflect: true }).deviation).toBe(Number.POSITIVE_INFINITY);
    const flat = regionOf(ring(0, 0, 5, 0, 10, 0));
    expect(register(flat, flat, { reflect: true }).deviation).toBeLessThan(1e-5);
    const point = regionOf(ring(1, 1, 1, 1, 1, 1));
    expect(register(point, point, { reflect: false }).deviation).toBeLessThan(1e-5);
    expect(Number.isFinite(register(one, point, { reflect: true }).deviation)).toBe(true);
  });
});
