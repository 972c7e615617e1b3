import { describe, expect, it } from 'vitest';
import { type Breakage, breakage, type Island, type Standing, type Wall } from '../../src/carve/breakage.ts';
import { breakageMends, holds, quarterTurned, widthThatHolds } from '../../src/carve/breakage-mends.ts';
import { islandAt, safeWidth } from '../../src/carve/breakage-parts.ts';
import { poreCare } from '../../src/carve/breakage-pores.ts';
import { discThatHolds, roundIsland, surelyHolds } from '../../src/carve/breakage-round.ts';
import { type RunShape, runBreakage } from '../../src/carve/breakage-runs.ts';
import { sectionOf, weakestWay } from '../../src/carve/breakage-section.ts';
import { degrees } from '../../src/units.ts';
import { allSpecies, type Species, speciesOf } from '../../src/wood/species.ts';
import { spreadPerHeight, standingShear, standingStrength } from '../../src/wood/strength.ts';
import { disc, rectangle, turned } from './breakage-shapes.ts';

// Exact values by hand: cantilevers under an even load (any textbook on the strength of materials), and what a run
// comes to place by place.

const TAPER = Math.tan(degrees(15));
const CHERRY = speciesOf('cherry-black')!;
const INF = Number.POSITIVE_INFINITY;

const standing = (change: Partial<Standing> = {}, species: Species = CHERRY): Standing => ({
  piece: { species, grain: 'face', grainAngle: 0 },
  taper: TAPER,
  above: 5,
  below: 2.6,
  push: { force: 10, over: 5, safety: 2 },
  ...change,
});
const wall = (width: number, change: Partial<Wall> = {}): Wall => ({
  kind: 'wall',
  width,
  axis: 0,
  reach: [INF, INF],
  ...change,
});
const island = (radius: number): Island => ({ kind: 'island', outline: { rings: [disc(radius)] }, radius });
/** Push that a wood bears: the loads here are 2 N on each mm. */
const q = 2;
const bend = standingStrength(standing().piece).value!;
const shear = standingShear(standing().piece).value!;

describe('where a part breaks', () => {
  it('a wall between two free ends: q z / t (w + 2 t z)^2 is largest where z = w / 2 t', () => {
    const b = breakage(wall(1.2, { reach: [0, 0] }), standing({ above: 0, below: 7.6 }));
    const z = 0.6 / TAPER;
    expect(b.depth).toBeCloseTo(z, 3);
    expect(b.stress).toBeCloseTo((3 * q * z) / (2 * TAPER * 2.4 ** 2), 6);
    expect(b.height).toBeCloseTo(z, 3);
    expect(b.width).toBeCloseTo(2.4, 3);
  });

  it('a cone of board: z^2 / (r + t z)^3 is largest where z = 2 r / t, told to the nearest of twelve levels', () => {
    const s = standing({ above: 0, below: 7.6 });
    const b = breakage(island(0.5), s);
    const step = 7.6 / 12;
    expect(b.depth).toBeCloseTo(Math.round(1 / TAPER / step) * step, 12);
    expect(b.width).toBeCloseTo(2 * (0.5 + TAPER * b.depth), 12);
    expect(b.height).toBeCloseTo(b.depth, 12);
  });

  it('an end is an end on either side', () => {
    for (const reach of [0, 0.7, 3]) {
      const [left, right] = [[reach, INF] as const, [INF, reach] as const];
      const at = (r: readonly [number, number]): number | undefined =>
        breakage(wall(2, { reach: r }), standing()).bears;
      expect(at(left)).toBe(at(right));
      expect(at(left)!).toBeLessThan(at([INF, INF])!);
    }
  });

  it('a squat post goes by shear: 3/2 q h / pi r^2 over a third of the shear along the grain', () => {
    const s = standing({ above: 0.3, below: 0.2, taper: 0 });
    const b = breakage({ ...island(10), outline: { rings: [disc(10, 720)] } }, s);
    expect(b.by).toBe('shear');
    expect(b.strength).toEqual(standingShear(s.piece));
    expect(b.depth).toBeCloseTo(0.2, 12);
    expect(b.bears! / ((10 * shear * Math.PI * 100) / (1.5 * q * 0.5))).toBeCloseTo(1, 4);
  });

  it('a slender one by bending, and says which figure that was', () => {
    const b = breakage(island(2), standing());
    expect(b.by).toBe('bending');
    expect(b.strength).toEqual(standingStrength(standing().piece));
  });

  it('counts no shear of a wood without one, and says what is missing of a wood without any', () => {
    const bare = standing({}, { ...CHERRY, shear: undefined });
    const b = breakage(wall(1, { reach: [1, 1] }), { ...bare, taper: 0 });
    expect(b.bears!).toBeCloseTo((10 * bend) / ((3 * q * 7.6 ** 2) / 2), 9);
    const unknown = breakage(wall(1), standing({}, speciesOf('lignumvitae')!));
    expect(unknown).toMatchObject({ bears: undefined, by: 'bending', depth: 0 });
    expect(unknown.strength.says).toMatch(/^No strength across the grain is printed/);
  });

  it('what has no outline bears nothing', () => {
    expect(sectionOf([])).toEqual({ area: 0, centre: [0, 0], xx: 0, yy: 0, xy: 0 });
    expect(sectionOf([Float64Array.of(3, 4, 3, 4, 3, 4)]).centre).toEqual([3, 4]);
    expect(weakestWay(sectionOf([]), [])).toEqual({ modulus: 0, direction: 0 });
    expect(breakage({ kind: 'island', outline: { rings: [] }, radius: 0 }, standing()).bears).toBe(0);
  });
});

describe('the weakest way of a cut', () => {
  // Stress at a corner p under a push in direction a, by the formula for two bending moments at once (Iyy Ixx - Ixy^2).
  const least = (ring: Float64Array): number => {
    const { xx, yy, xy, centre } = sectionOf([ring]);
    let worst = 0;
    for (let k = 0; k < 7200; k++) {
      const [fx, fy] = [Math.cos((k * Math.PI) / 3600), Math.sin((k * Math.PI) / 3600)];
      for (let i = 0; i < ring.length; i += 2) {
        const [x, y] = [ring[i]! - centre[0], ring[i + 1]! - centre[1]];
        worst = Math.max(worst, ((fx * yy - fy * xy) * x + (fy * xx - fx * xy) * y) / (xx * yy - xy * xy));
      }
    }
    return 1 / worst;
  };

  it('of a lopsided triangle is the least over all directions and corners, in whatever order they come', () => {
    const points = [0, 0, 4, 0.5, 1, 3];
    for (const by of [0, 2, 4]) {
      const ring = Float64Array.from([...points.slice(by), ...points.slice(0, by)]);
      expect(weakestWay(sectionOf([ring]), [ring]).modulus).toBeCloseTo(least(ring), 6);
    }
  });

  it('turns with the cut and does not change far from the origin', () => {
    const ring = Float64Array.of(0, 0, 4, 0.5, 1, 3);
    const home = weakestWay(sectionOf([ring]), [ring]);
    const away = ring.map((v, i) => v + (i % 2 === 0 ? 1000 : -700));
    const far = weakestWay(sectionOf([away]), [away]);
    expect(far.modulus).toBeCloseTo(home.modulus, 6);
    expect(far.direction).toBeCloseTo(home.direction, 6);
    const by = turned(ring, 0.4);
    const round = weakestWay(sectionOf([by]), [by]);
    expect(round.modulus).toBeCloseTo(home.modulus, 9);
    expect(round.direction).toBeCloseTo(home.direction + 0.4, 9);
  });
});

describe('what is wide enough', () => {
  it('a part holds when it bears just what it must', () => {
    const b: Breakage = breakage(wall(1), standing());
    expect(holds({ ...b, bears: 20, need: 20 })).toBe(true);
    expect(holds({ ...b, bears: 19.999, need: 20 })).toBe(false);
  });

  it('an upright round post: 2 q h^2 / pi r^3 times the safety is its strength', () => {
    const s = standing({ taper: 0 });
    const wide = 2 * Math.cbrt((2 * 2 * q * 7.6 ** 2) / (Math.PI * bend));
    expect(discThatHolds(s)!).toBeGreaterThanOrEqual(wide);
    expect(discThatHolds(s)!).toBeLessThan(wide + 0.07);
    const bare = discThatHolds(standing({ taper: 0 }, { ...CHERRY, shear: undefined }));
    expect(bare).toBe(discThatHolds(s));
    expect(discThatHolds(standing({ taper: 0 }, speciesOf('lignumvitae')!))).toBeUndefined();
    expect(widthThatHolds(island(0.8), s)!).toBeGreaterThan(wide);
    expect(widthThatHolds(island(0.8), s)!).toBeLessThan(wide + 0.012);
    expect(widthThatHolds(island(wide / 2 + 0.01), s)).toBe(wide + 0.02);
  });

  it.each([
    ['a cone', {}],
    ['a post', { taper: 0 }],
    ['a cone of board', { above: 0, below: 7.6, push: { force: 60, over: 5, safety: 2 } }],
    ['a squat post', { taper: 0, above: 0.3, below: 0.2, push: { force: 2000, over: 5, safety: 2 } }],
    ['a low crest', { taper: 0.5, above: 0.5, below: 0.2, push: { force: 600, over: 5, safety: 2 } }],
  ] as const)('is told of %s without drawing it, rightly and but for 1.5 in 100', (_, change) => {
    for (const species of [CHERRY, { ...CHERRY, shear: undefined }]) {
      const s = standing(change, species);
      const drawn = (diameter: number): boolean => holds(breakage(roundIsland(diameter / 2), s));
      let [low, high] = [0.01, 40];
      expect([drawn(low), drawn(high)]).toEqual([false, true]);
      while (high / low > 1.0001) {
        const middle = Math.sqrt(low * high);
        if (drawn(middle)) high = middle;
        else low = middle;
      }
      for (let share = 0.9; share < 1.1; share += 0.0005) {
        const told = surelyHolds((high * share) / 2, s);
        if (told === undefined) expect(Math.abs(share - 1)).toBeLessThan(0.0151);
        else expect(told, `${high * share} mm`).toBe(drawn(high * share));
      }
      // Far narrower and far wider it is told too; a point is not.
      expect([0.05, 0.3, 0.6].map((share) => surelyHolds((high * share) / 2, s))).toEqual([
        false,
        false,
        false,
      ]);
      expect([1.5, 3].map((share) => surelyHolds((high * share) / 2, s))).toEqual([true, true]);
      expect(surelyHolds(1e-3, s)).toBeUndefined();
    }
    // Nor is anything where no strength is known.
    expect(surelyHolds(5, standing(change, speciesOf('lignumvitae')!))).toBeUndefined();
  });

  it('a squat one in a wood that cannot split goes by shear: 3/2 q h / pi r^2', () => {
    const stiff = { ...CHERRY, splitting: { ...CHERRY.splitting!, value: 1e6 as typeof bend } };
    const s = standing({ taper: 0, above: 0 }, stiff);
    const wide = 2 * Math.sqrt((2 * 1.5 * q * 2.6) / (Math.PI * shear));
    expect(discThatHolds(s)!).toBeGreaterThanOrEqual(wide);
    expect(discThatHolds(s)!).toBeLessThan(wide + 0.07);
  });

  it('a cone widens as it goes down, and up to a crest when it is narrow', () => {
    // Board: the level z of stress 2 q z^2 / pi (r + t z)^3, worst at z = 2 r / t: 8 q / 27 pi r t^2.
    const board = standing({ above: 0, below: 30 });
    const wide = 2 * ((2 * 8 * q) / (27 * Math.PI * bend * TAPER ** 2));
    expect(Math.abs(discThatHolds(board)! - wide)).toBeLessThan(0.08);
    // A plug with a crest, at its surface line: height r / t, stress 2 q / pi r t^2, and less below.
    const crest = standing({ above: 100, below: 0 });
    const r = (2 * 2 * q) / (Math.PI * bend * TAPER ** 2);
    expect(discThatHolds(crest)!).toBeGreaterThanOrEqual(2 * r);
    expect(discThatHolds(crest)!).toBeLessThan(2 * r * 1.01 + 0.05);
  });

  it('the safe width is the wider of a short wall at its free end and a post, and none where either has none', () => {
    const found = (above: number, force: number, angle: number) => {
      const piece = { species: CHERRY, grain: 'face' as const, grainAngle: angle };
      const s = standing({ piece, taper: 0, above, push: { force, over: 5, safety: 2 } });
      const short = widthThatHolds(wall(0.01, { axis: angle + Math.PI / 2, reach: [0, INF] }), s);
      return [short, discThatHolds(s), safeWidth(s)] as const;
    };
    const [short, post, safe] = found(5, 10, 0.7);
    expect(safe).toBe(Math.max(short!, post!));
    // A low post of 20 mm bears more than a wall as wide at its end; a tall one less, for it shares its push with none.
    const limit = (above: number): number => (bend * Math.PI * 10 ** 3 * 5) / (2 * 2 * (above + 2.6) ** 2);
    expect(found(5, 0.99 * limit(5), 0)).toEqual([undefined, expect.any(Number), undefined]);
    expect(found(50, 1.01 * limit(50), 0)).toEqual([expect.any(Number), undefined, undefined]);
  });
});

describe('mends at their limits', () => {
  it('a part that holds keeps its height; one that nothing saves has neither height nor width', () => {
    expect(breakageMends(wall(12), standing())).toMatchObject({ above: 5, width: 12, lighter: 1 });
    const hopeless = breakageMends(wall(1), standing({ push: { force: 1e9, over: 5, safety: 2 } }));
    expect([hopeless.above, hopeless.width, hopeless.woods]).toEqual([undefined, undefined, []]);
    const unknown = breakageMends(wall(1), standing({}, speciesOf('lignumvitae')!));
    expect(unknown.lighter).toBeUndefined();
    expect(unknown.quarterTurn).toBeUndefined();
  });

  it('a quarter is a right angle, and helps nothing that has no width', () => {
    expect(quarterTurned(standing()).piece.grainAngle).toBe(Math.PI / 2);
    expect(breakageMends(wall(0), standing()).quarterTurn).toBeUndefined();
  });

  it('names woods of equal strength in the order of their ids', () => {
    // Bigleaf maple and yellow poplar have one figure in Table 5-3b, 540 lbf/in2.
    const s = standing({ push: { force: 0.01, over: 5, safety: 2 } });
    const ids = breakageMends(wall(3), s).woods.map(({ id }) => id);
    const strength = (id: string): number =>
      standingStrength({ ...s.piece, species: speciesOf(id)! }).value as number;
    expect(strength('maple-bigleaf')).toBe(strength('yellow-poplar'));
    expect(ids.indexOf('yellow-poplar')).toBe(ids.indexOf('maple-bigleaf') + 1);
    expect(ids.indexOf('maple-bigleaf')).toBeGreaterThanOrEqual(0);
  });
});

describe('a piece that stands alone', () => {
  const never = (minX: number, minY: number, maxX: number, maxY: number) => ({
    box: { minX, minY, maxX, maxY },
    outline: {
      get rings(): never {
        throw new Error('a piece elsewhere was asked');
      },
    },
  });
  const here = {
    outline: { rings: [rectangle(2, 2, 5, 5)] },
    box: { minX: 4, minY: 4, maxX: 6, maxY: 6 },
  };

  it('is sought by its box first: none to the left, right, above or below is asked', () => {
    const elsewhere = [never(0, 0, 4.9, 9), never(5.1, 0, 9, 9), never(0, 0, 9, 4.9), never(0, 5.1, 9, 9)];
    expect(islandAt([...elsewhere, here], [5, 5], 1)).toEqual({
      kind: 'island',
      outline: here.outline,
      radius: 1,
    });
    expect(islandAt(elsewhere, [5, 5], 1)).toBeUndefined();
  });

  it('of a wood whose pores are not known nothing is said about them', () => {
    for (const bare of allSpecies().filter(
      ({ pores, poreSize }) => pores === undefined && poreSize === undefined,
    ))
      expect(poreCare(bare, 1, 1.5).says).toBe(
        `The size of the pores of ${bare.name.toLowerCase()} is not known here.`,
      );
  });
});

describe('a run, place by place', () => {
  /** A middle line bent and far from the origin: steps of 3, 4 (at a right angle) and 5 mm. */
  const bent = (radii: readonly [number, number, number, number]): RunShape => {
    const points = [
      [100, -50],
      [103, -50],
      [103, -46],
      [106, -42],
    ] as const;
    return {
      kind: 'thin-island',
      width: 2 * Math.min(...radii),
      at: [101, -50],
      axis: 0.3,
      length: 12,
      line: Float64Array.from(points.flatMap(([x, y], i) => [x, y, radii[i]!])),
    };
  };
  const axes = [0, Math.atan2(4, 3), Math.atan2(8, 3), Math.atan2(4, 3)];
  const ways = [0, 3, 7, 12];
  const borneOf = (run: RunShape, i: number, reach: readonly [number, number], s: Standing): number =>
    breakage(wall(2 * run.line[3 * i + 2]!, { axis: axes[i]!, reach }), s).bears!;
  /** The weak length by proportion between places: `need` is 20 N. */
  const weakOf = (borne: readonly number[]): number =>
    borne.slice(1).reduce((sum, b, k) => {
      const [low, high] = [Math.min(b, borne[k]!), Math.max(b, borne[k]!)];
      const share = Math.min(1, Math.max(0, (20 - low) / (high - low)));
      return sum + (high === low ? Number(low < 20) : share) * (ways[k + 1]! - ways[k]!);
    }, 0);
  const reversed = (run: RunShape): RunShape => ({
    ...run,
    line: Float64Array.from(
      [3, 2, 1, 0].flatMap((i) => [run.line[3 * i]!, run.line[3 * i + 1]!, run.line[3 * i + 2]!]),
    ),
  });

  it.each<[RunShape['kind'], readonly (readonly [number, number])[]]>([
    ['neck', ways.map(() => [INF, INF])],
    ['thin-island', ways.map((way) => [way + 1.5, 12 - way + 0.9])],
    ['dead-end', ways.map((way) => [way + 1.5, 12 - way + 0.9])],
  ])(
    'a %s: every place is a wall as wide as there, with what is left of it to either free end',
    (kind, reach) => {
      const run = { ...bent([1.5, 1.2, 1.7, 0.9]), kind };
      const s = standing();
      const borne = ways.map((_, i) => borneOf(run, i, reach[i]!, s));
      const found = runBreakage({ ...run, width: 3 }, s);
      expect(found.bears).toBeCloseTo(Math.min(...borne), 9);
      const weakest = borne.indexOf(Math.min(...borne));
      expect(found.at).toEqual([run.line[3 * weakest], run.line[3 * weakest + 1]]);
      expect(found.wall.reach).toEqual(reach[weakest]);
      expect(found.wall.axis).toBeCloseTo(axes[weakest]!, 12);
      expect(found.weakLength).toBeCloseTo(weakOf(borne), 9);
      const back = runBreakage({ ...reversed(run), width: 3 }, s);
      expect(back.bears).toBeCloseTo(found.bears!, 9);
      expect(back.weakLength).toBeCloseTo(found.weakLength, 9);
    },
  );

  it('weak from one place to the next in part, where one holds and the other does not', () => {
    for (const radii of [
      [4, 1, 4, 1],
      [1, 4, 1, 4],
      [4, 4, 4, 4],
      [1, 1, 1, 1],
    ] as const) {
      const run = { ...bent(radii), kind: 'neck' as const };
      const s = standing({ push: { force: 10, over: 5, safety: 2 } });
      const borne = ways.map((_, i) => borneOf(run, i, [INF, INF], s));
      expect(runBreakage(run, s).weakLength).toBeCloseTo(weakOf(borne), 9);
    }
  });

  it('the least width lies between places: it has the reach of the nearest', () => {
    // At (101, -50) the first of them is nearest; at (105.5, -43) the last, at (103, -47) the third.
    for (const [at, reach] of [
      [
        [101, -50],
        [1.5, 12.9],
      ],
      [
        [105.5, -43],
        [13.5, 0.9],
      ],
      [
        [103, -47],
        [8.5, 5.9],
      ],
    ] as const) {
      const run: RunShape = { ...bent([1.5, 1.2, 1.7, 0.9]), at, width: 0.6, axis: 1.1 };
      const found = runBreakage(run, standing());
      expect(found.wall).toEqual({ kind: 'wall', width: 0.6, axis: 1.1, reach });
      expect(found.at).toEqual(at);
      expect(found.bears).toBe(breakage(found.wall, standing()).bears);
    }
  });

  it('with no middle line it is its least width, and weak as a whole or not at all', () => {
    for (const line of [Float64Array.of(), Float64Array.of(100, -50, 0.3)]) {
      const run: RunShape = { ...bent([1, 1, 1, 1]), width: 0.6, length: 4, line };
      const thin = runBreakage(run, standing());
      expect(thin.wall.reach).toEqual([2, 2]);
      expect(thin.weakLength).toBe(4);
      expect(runBreakage({ ...run, width: 12, length: 60 }, standing()).weakLength).toBe(0);
      expect(runBreakage({ ...run, kind: 'neck' }, standing()).wall.reach).toEqual([INF, INF]);
      const tip = runBreakage({ ...run, kind: 'sharp-tip', width: 0 }, standing());
      expect([tip.bears, tip.weakLength > 0]).toEqual([0, true]);
    }
  });

  it('a stretch of two places is as weak as both', () => {
    const run: RunShape = {
      ...bent([1, 1, 1, 1]),
      kind: 'neck',
      width: 2,
      line: Float64Array.of(7, 7, 1, 10, 11, 1),
    };
    expect(runBreakage(run, standing()).weakLength).toBeCloseTo(5, 12);
  });

  it('a sharp tip is free at the tip alone, whichever way its line runs', () => {
    const [tip, s] = [[100, -53] as const, standing()];
    // From the tip straight up 3 mm to the first place, 4 mm more to the second, 5 to the third.
    const line = [100, -50, 0.9, 100, -46, 1.4, 100, -41, 3.2];
    const run: RunShape = {
      ...bent([1, 1, 1, 1]),
      kind: 'sharp-tip',
      width: 0,
      at: tip,
      line: Float64Array.from(line),
    };
    const along = [0, 3, 7, 12].map((way, i) =>
      breakage(wall(2 * [0, 0.9, 1.4, 3.2][i]!, { axis: Math.PI / 2, reach: [way, INF] }), s),
    );
    const borne = along.map(({ bears }) => bears!);
    expect(borne[2]!).toBeLessThan(20);
    expect(borne[3]!).toBeGreaterThan(20);
    const length = 7 + (5 * (20 - borne[2]!)) / (borne[3]! - borne[2]!);
    const back = [...line.slice(6), ...line.slice(3, 6), ...line.slice(0, 3)];
    for (const way of [line, back]) {
      const found = runBreakage({ ...run, line: Float64Array.from(way) }, s);
      expect(found.bears).toBe(0);
      expect(found.at).toEqual(tip);
      expect(found.weakLength).toBeCloseTo(length, 9);
    }
  });

  it('spreads its push along the wood it has', () => {
    // One exact value of all of this: 2 mm wide, straight-sided, free on one side at 0.5 mm.
    const s = standing({ taper: 0 });
    const k = spreadPerHeight(s.piece, 0);
    const length = 0.5 + 1 + (k * 7.6) / 2;
    const b = breakage(wall(2, { reach: [0.5, INF] }), s);
    expect(b.stress).toBeCloseTo((3 * q * 7.6 ** 2) / (length * 4), 9);
  });
});
