import { describe, expect, it } from 'vitest';
import { makePair, type Pair } from '../../src/carve/fit.ts';
import { spread } from '../../src/carve/spread.ts';
import { SOURCE_KEYS, type Sources, shiftedPairs, type Varied } from '../../src/carve/spread-effects.ts';
import type { Ring } from '../../src/geometry/shapes.ts';
import { degrees } from '../../src/units.ts';
import { disc } from './breakage-shapes.ts';
import { liftOfTrueAngle } from './fit-forms.ts';

// What one source adds to the hold of one point, by hand: on a straight wall a move of d sideways is d / t of height.

const t = Math.tan(degrees(15));
/** 60 x 40 mm, far from the origin: its middle is (100, 50). */
const RING = Float64Array.of(70, 30, 130, 30, 130, 70, 70, 70);
const DEPTHS = { pocketStart: 0, pocketFlat: 7.6, plugStart: 5, plugFlat: 2.6 };
const pairOf = (ring: Ring = RING, angles: readonly [number, number] = [30, 30]): Pair => {
  const [pocketTool, plugTool] = angles.map((angle) => ({ halfAngle: degrees(angle / 2), tipFlat: 0 }));
  const region = { rings: [ring] };
  return makePair({ pocket: region, plug: region, pocketTool: pocketTool!, plugTool: plugTool!, ...DEPTHS });
};
const FULL: Sources = {
  tipWear: 0.02,
  angle: degrees(0.2),
  pocketZero: 0.05,
  plugZero: 0.06,
  pocketFlatness: 0.07,
  plugFlatness: 0.08,
  scale: 0.001,
  squareness: 0.002,
  runout: 0.03,
};
const NONE = Object.fromEntries(SOURCE_KEYS.map((key) => [key, 0])) as unknown as Sources;

describe('what one source adds at one point', () => {
  /** The rim at (130, 55), and the edge of the plug's face beside it: 5 t further in, 5 mm down in either cut. */
  const rim: Varied = { x: 130, y: 55, kind: 'wall', rides: 'board', moves: [130, 55], board: 0, taken: 5 };
  const face: Varied = { ...rim, x: 130 - 5 * t, kind: 'hold', rides: 'plug', board: 5, taken: 0 };
  const bow = (x: number): number => ((x - 100) ** 2 + 5 ** 2) / (30 ** 2 + 20 ** 2);
  const angled = (by: number, pocketFlat: number, plugFlat: number): number =>
    liftOfTrueAngle(Math.tan(degrees(15) + by / 2), t, pocketFlat, plugFlat);

  it.each([
    ['rim', rim],
    ['face', face],
  ] as const)('on a straight wall, at the %s', (_, point) => {
    const shifted = shiftedPairs(pairOf(), FULL);
    const found = Object.fromEntries(
      SOURCE_KEYS.map((key, k) => [key, [shifted[2 * k]!(point), shifted[2 * k + 1]!(point)]]),
    );
    const both = (by: number) => [expect.closeTo(by, 6), expect.closeTo(-by, 6)];
    expect(found).toEqual({
      // Each part's wall draws back by half the wear, by all of the runout; neither has a minus.
      tipWear: [expect.closeTo(-0.02 / t, 6), 0],
      runout: [expect.closeTo((-2 * 0.03) / t, 6), 0],
      pocketZero: both(-0.05),
      plugZero: both(-0.06),
      pocketFlatness: both(-0.07 * bow(point.x)),
      plugFlatness: both(-0.08 * bow(point.x)),
      // The outline beside the point lies 30 mm and 5 mm from the middle.
      scale: both((0.001 * 30) / t),
      squareness: both((0.002 * 5) / 2 / t),
      // A flatter bit's cut reaches the face's edge; a steeper one leaves it whole, and there only the pocket changes.
      angle: [
        expect.closeTo(angled(FULL.angle, 7.6, 2.6), 4),
        expect.closeTo(angled(-FULL.angle, point === rim ? 7.6 : 0, 2.6), 4),
      ],
    });
  });

  it('along the other axis as along this one', () => {
    const shifted = shiftedPairs(pairOf(), FULL);
    const top: Varied = { ...rim, x: 112, y: 70, moves: [112, 70] };
    const at = (key: keyof Sources, sign: 0 | 1): number =>
      shifted[2 * SOURCE_KEYS.indexOf(key) + sign]!(top);
    expect(at('scale', 0)).toBeCloseTo((0.001 * 20) / t, 6);
    expect(at('scale', 1)).toBeCloseTo((-0.001 * 20) / t, 6);
    expect(at('squareness', 0)).toBeCloseTo((0.002 * 12) / 2 / t, 6);
    expect(at('pocketFlatness', 0)).toBeCloseTo((-0.07 * (12 ** 2 + 20 ** 2)) / 1300, 9);
  });

  it('asks a cut again only where the source changes it or carries it away from the point', () => {
    const pair = pairOf();
    let asked: string[] = [];
    const counted = (name: string, cut: Pair['pocket']): Pair['pocket'] => ({
      ...cut,
      depth: (x, y) => {
        asked.push(`${name} depth`);
        return cut.depth(x, y);
      },
      wall: (x, y) => {
        asked.push(`${name} wall`);
        return cut.wall(x, y);
      },
    });
    const shifted = shiftedPairs(
      { ...pair, pocket: counted('pocket', pair.pocket), plug: counted('plug', pair.plug) },
      FULL,
    );
    const of = (key: keyof Sources, point: Varied): string[] => {
      asked = [];
      shifted[2 * SOURCE_KEYS.indexOf(key)]!(point);
      return asked;
    };
    for (const key of ['pocketZero', 'plugZero', 'pocketFlatness', 'plugFlatness'] as const)
      for (const point of [rim, face]) expect(of(key, point)).toEqual([]);
    for (const key of ['scale', 'squareness'] as const) {
      expect(of(key, rim)).toEqual(['plug wall']);
      expect(of(key, face)).toEqual(['pocket depth']);
      expect(of(key, { ...rim, moves: [100, 50] })).toEqual([]);
      // Straight across from the middle one of the two ways is none.
      expect(of(key, { ...rim, moves: [130, 50] })).toEqual(['plug wall']);
      expect(of(key, { ...rim, moves: [100, 70] })).toEqual(['plug wall']);
    }
  });

  it('that does not vary adds nothing', () => {
    for (const shifted of shiftedPairs(pairOf(), NONE)) expect(shifted(rim)).toBe(0);
  });
});

describe('a lot of joints', () => {
  const corner = 1 - Math.SQRT1_2;
  const run = (sources: Partial<Sources>, draws = 1500, pair = pairOf()) =>
    spread(pair, { sources: { ...NONE, ...sources }, draws, seed: 1, limit: 0.01 });

  it('open their square corners evenly up to the runout times 1 - sin 45', () => {
    const { median, p95, chance } = run({ runout: 0.1 });
    // Of 1500 even draws half a hundredth is some four tenths of a standard error of the median.
    expect(Math.abs(median - 0.05 * corner)).toBeLessThan(0.006 * corner);
    expect(Math.abs(p95 - 0.095 * corner)).toBeLessThan(0.003 * corner);
    expect(Math.abs(chance - (1 - 0.01 / (0.1 * corner)))).toBeLessThan(0.05);
  });

  it('go by their sources as the squares of what each opens', () => {
    // Wear counts half: 0.1 of it opens as 0.05 of runout. 0.1 : 0.05 squared is 4 : 1.
    const shares = (runout: number) =>
      new Map(
        run({ tipWear: 0.1, runout })
          .shares()
          .map((s) => [s.source, s.share]),
      );
    expect(Math.abs(shares(0.05).get('tipWear')! - 0.5)).toBeLessThan(0.06);
    expect(Math.abs(shares(0.1).get('tipWear')! - 0.2)).toBeLessThan(0.06);
    expect(Math.abs(shares(0.1).get('runout')! - 0.8)).toBeLessThan(0.06);
  });

  it('of which none was made tell nothing', () => {
    const none = run({ runout: 0.1 }, 0);
    expect(none).toMatchObject({ draws: 0, median: Number.NaN, p95: Number.NaN, chance: Number.NaN });
    expect([none.chanceFrom, none.chanceTo]).toEqual([0, 1]);
  });

  it('of a disc open nothing whatever grows all round: it goes up or down', () => {
    const round = pairOf(disc(30, 180, 100, 50));
    for (const sources of [{ scale: 0.001 }, { runout: 0.05 }, { tipWear: 0.05 }] as const)
      expect(run(sources, 20, round).worst?.gap).toBeLessThan(1e-4);
    // A plug cut flatter meets the pocket at its mouth alone, and goes up and down as well.
    const flatter = pairOf(disc(30, 180, 100, 50), [30, 60]);
    for (const sources of [{ scale: 0.001 }, { pocketZero: 0.1 }] as const)
      expect(run(sources, 20, flatter).worst?.gap).toBeLessThan(1e-4);
  });
});
