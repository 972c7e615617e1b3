import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Breakage, breakage, type Island, type Standing, type Wall } from '../../src/carve/breakage.ts';
import { breakageMends, holds, quarterTurned, widthThatHolds } from '../../src/carve/breakage-mends.ts';
import { poreCare } from '../../src/carve/breakage-pores.ts';
import { type RunShape, runBreakage } from '../../src/carve/breakage-runs.ts';
import { degrees } from '../../src/units.ts';
import { allSpecies, speciesOf } from '../../src/wood/species.ts';
import { spreadPerHeight, standingStrength } from '../../src/wood/strength.ts';
import { disc, rectangle, turned } from './breakage-shapes.ts';

const TAPER_30 = Math.tan(degrees(15));

const standing = (change: Partial<Standing> = {}): Standing => ({
  piece: { species: speciesOf('cherry-black')!, grain: 'face', grainAngle: 0 },
  taper: TAPER_30,
  above: 5,
  below: 2.6,
  push: { force: 10, over: 5, safety: 2 },
  ...change,
});

const FREE = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY] as const;
const wall = (width: number, change: Partial<Wall> = {}): Wall => ({
  kind: 'wall',
  width,
  axis: 0,
  reach: FREE,
  ...change,
});
const island = (radius: number): Island => ({
  kind: 'island',
  outline: { rings: [disc(radius)] },
  radius,
});

// Beam formulas below: any textbook on the strength of materials.
describe('a wall against closed forms', () => {
  it('straight-sided, short and free at both ends: a cantilever under an even load, 3 q h^2 / b w^2', () => {
    const b = breakage(wall(1, { reach: [1, 1] }), standing({ taper: 0 }));
    expect(b.depth).toBeCloseTo(2.6, 9);
    expect(b.stress).toBeCloseTo((3 * 2 * 7.6 ** 2) / (2 * 1 * 1), 9);
    expect(b.bears!).toBeCloseTo((10 * speciesOf('cherry-black')!.splitting!.value) / b.stress, 9);
    expect(b.direction).toBeCloseTo(Math.PI / 2, 9);
  });

  it('tapered: worst level found by trying a thousand of them', () => {
    const s = standing();
    const w = wall(4, { reach: [0, 30], axis: degrees(40) });
    const k = spreadPerHeight(s.piece, w.axis);
    let worst = 0;
    for (let i = 0; i <= 1000; i++) {
      const z = (2.6 * i) / 1000;
      const width = 4 + 2 * TAPER_30 * z;
      const height = 5 + z;
      const free = TAPER_30 * z;
      const length =
        Math.min(width / 2 + (k * height) / 2, free) + Math.min(width / 2 + (k * height) / 2, 30 + free);
      worst = Math.max(worst, (3 * 2 * height * height) / (length * width * width));
    }
    expect(breakage(w, s).stress).toBeCloseTo(worst, 6);
  });

  it('a stroke narrower than the crest allows stands only up to its crest: half width over taper', () => {
    const b = breakage(wall(0.9), standing());
    expect(b.depth).toBe(0);
    expect(b.height).toBeCloseTo(0.45 / TAPER_30, 9);
    expect(b.width).toBeCloseTo(0.9, 9);
  });

  it('a board land: straight down from the surface, weakest below it', () => {
    const b = breakage(wall(1), standing({ above: 0, below: 7.6 }));
    expect(b.depth).toBeGreaterThan(0);
    expect(b.height).toBeCloseTo(b.depth, 9);
  });

  it('without width it bears nothing, without a known strength nothing is said', () => {
    expect(breakage(wall(0), standing()).bears).toBe(0);
    const unknown = standing({ piece: { species: speciesOf('lignumvitae')!, grain: 'face', grainAngle: 0 } });
    expect(breakage(wall(1), unknown).bears).toBeUndefined();
    expect(holds(breakage(wall(100), unknown))).toBe(false);
  });

  it('goes by shear when it is squat', () => {
    const b = breakage(wall(30), standing({ above: 0.5, below: 0.5, taper: 0 }));
    expect(b.by).toBe('shear');
  });
});

describe('an island against closed forms', () => {
  it('upright disc: 2 q h^2 / pi r^3', () => {
    const b = breakage(island(2), standing({ taper: 0 }));
    expect(b.stress / ((2 * 2 * 7.6 ** 2) / (Math.PI * 8))).toBeCloseTo(1, 3);
  });

  it('cone frustum with its crest at the top: worst level found from the same formula', () => {
    const s = standing();
    let worst = 0;
    for (let i = 0; i <= 1000; i++) {
      const z = (2.6 * i) / 1000;
      const r = 3 + TAPER_30 * z;
      worst = Math.max(worst, (2 * 2 * (5 + z) ** 2) / (Math.PI * r ** 3));
    }
    expect(breakage(island(3), s).stress / worst).toBeCloseTo(1, 3);
  });

  it('breaks the short way', () => {
    const part: Island = {
      kind: 'island',
      outline: { rings: [turned(rectangle(8, 2), degrees(30))] },
      radius: 1,
    };
    const { direction } = breakage(part, standing({ taper: 0 }));
    // 8 x 2: the corner stress is largest a little off square across, tan = (8/2) x (2/8)^0 = 4 from the long axis.
    const off = Math.abs(Math.sin(direction - degrees(30)));
    expect(off).toBeGreaterThan(0.95);
  });
});

describe('what never goes the wrong way', () => {
  const cases = fc.record({
    width: fc.double({ min: 0.1, max: 8, noNaN: true }),
    above: fc.double({ min: 0, max: 8, noNaN: true }),
    below: fc.double({ min: 0.3, max: 8, noNaN: true }),
    taper: fc.double({ min: 0.05, max: 0.8, noNaN: true }),
    axis: fc.double({ min: 0, max: 3.14, noNaN: true }),
    reach: fc.double({ min: 0, max: 20, noNaN: true }),
    id: fc.constantFrom(
      ...allSpecies()
        .filter((s) => s.bending && s.shear)
        .map((s) => s.id),
    ),
    grain: fc.constantFrom('face' as const, 'edge' as const, 'end' as const),
  });
  type Case = typeof cases extends fc.Arbitrary<infer T> ? T : never;
  const of = (c: Case): readonly [Wall, Standing] => [
    wall(c.width, { axis: c.axis, reach: [c.reach, Number.POSITIVE_INFINITY] }),
    standing({
      above: c.above,
      below: c.below,
      taper: c.taper,
      piece: { species: speciesOf(c.id)!, grain: c.grain, grainAngle: 0 },
    }),
  ];
  const force = (b: Breakage): number => b.bears!;
  const notLess = (more: number, less: number): void =>
    expect(more).toBeGreaterThanOrEqual(less * (1 - 1e-6));
  const run = (property: (c: Case) => void): void =>
    fc.assert(fc.property(cases, property), { seed: 20, numRuns: 250 });

  it('wider is never weaker', () =>
    run((c) => {
      const [w, s] = of(c);
      notLess(force(breakage({ ...w, width: w.width * 1.1 }, s)), force(breakage(w, s)));
    }));

  it('taller is never stronger, upward or downward', () =>
    run((c) => {
      const [w, s] = of(c);
      notLess(force(breakage(w, s)), force(breakage(w, { ...s, above: s.above + 0.5 })));
      notLess(force(breakage(w, s)), force(breakage(w, { ...s, below: s.below + 0.5 })));
    }));

  it('longer to its free end is never weaker', () =>
    run((c) => {
      const [w, s] = of(c);
      notLess(force(breakage({ ...w, reach: [w.reach[0] + 1, w.reach[1]] }, s)), force(breakage(w, s)));
    }));

  it('turned from short grain to long grain it is never weaker', () =>
    run((c) => {
      const [w, s] = of(c);
      const at = (axis: number): number => force(breakage({ ...w, axis }, s));
      if (c.grain === 'end') expect(at(1)).toBe(at(0));
      else {
        notLess(at(0), at(c.axis));
        notLess(at(c.axis), at(Math.PI / 2));
      }
    }));

  it('stronger wood of the same stiffness never fails where weaker passes', () =>
    run((c) => {
      const [w, s] = of(c);
      const { species } = s.piece;
      const times = (f: number): Standing => ({
        ...s,
        piece: {
          ...s.piece,
          species: {
            ...species,
            bending: {
              ...species.bending!,
              value: (species.bending!.value * f) as NonNullable<typeof species.bending>['value'],
            },
            splitting: species.splitting && {
              ...species.splitting,
              value: (species.splitting.value * f) as NonNullable<typeof species.splitting>['value'],
            },
          },
        },
      });
      notLess(force(breakage(w, times(1.2))), force(breakage(w, times(1))));
    }));

  it('a harder push is borne no better, and the force borne does not depend on it', () =>
    run((c) => {
      const [w, s] = of(c);
      const hard = breakage(w, { ...s, push: { ...s.push, force: 20 } });
      expect(hard.bears! / breakage(w, s).bears!).toBeCloseTo(1, 9);
      expect(hard.need).toBe(40);
    }));

  it('a wider island is never weaker, a taller one never stronger', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 5, noNaN: true }),
        fc.double({ min: 0.5, max: 8, noNaN: true }),
        (radius, above) => {
          const b = (r: number, a: number): number => force(breakage(island(r), standing({ above: a })));
          expect(b(radius * 1.1, above)).toBeGreaterThanOrEqual(b(radius, above) * 0.999);
          expect(b(radius, above + 0.5)).toBeLessThanOrEqual(b(radius, above) * 1.001);
        },
      ),
      { seed: 4, numRuns: 25 },
    );
  });
});

describe('mends', () => {
  it('a width that holds, holds, and a hair less does not', () => {
    const width = widthThatHolds(wall(0.9), standing())!;
    expect(width).toBeGreaterThan(0.9);
    expect(holds(breakage(wall(width), standing()))).toBe(true);
    expect(holds(breakage(wall(width - 0.02), standing()))).toBe(false);
  });

  it('says the width it has when that is enough, and nothing when no width is', () => {
    expect(widthThatHolds(wall(12), standing())).toBe(12);
    const hopeless = standing({ push: { force: 1e6, over: 5, safety: 2 } });
    expect(widthThatHolds(wall(1), hopeless)).toBeUndefined();
  });

  it('a quarter turn helps a wall across the grain, not one along it, and no island', () => {
    const across = breakageMends(wall(1, { axis: Math.PI / 2 }), standing());
    const now = breakage(wall(1, { axis: Math.PI / 2 }), standing());
    expect(across.quarterTurn!.bears!).toBeGreaterThan(now.bears!);
    expect(across.quarterTurn!.bears).toBe(
      breakage(wall(1, { axis: Math.PI / 2 }), quarterTurned(standing())).bears,
    );
    expect(breakageMends(wall(1), standing()).quarterTurn).toBeUndefined();
    expect(breakageMends(island(1), standing()).quarterTurn).toBeUndefined();
  });

  it('only names closed-grained woods with a printed strength, in which it holds, strongest first', () => {
    const part = wall(3.4);
    const { woods } = breakageMends(part, standing());
    expect(woods.length).toBeGreaterThan(0);
    const strengths = woods.map((species) => {
      const s = standing({ piece: { species, grain: 'face', grainAngle: 0 } });
      expect(species.poreSize!.value).toBe('small');
      expect(holds(breakage(part, s))).toBe(true);
      expect(standingStrength(s.piece).printed).toBe(true);
      return standingStrength(s.piece).value!;
    });
    expect(strengths).toEqual([...strengths].sort((a, b) => b - a));
  });

  it('a lower plug and a lighter pass that are named are enough', () => {
    const part = wall(2.8, { axis: Math.PI / 2 });
    const s = standing();
    const mends = breakageMends(part, s);
    expect(holds(breakage(part, s))).toBe(false);
    expect(mends.above!).toBeLessThan(5);
    expect(holds(breakage(part, { ...s, above: mends.above! }))).toBe(true);
    const lighter = { ...s, push: { ...s.push, force: s.push.force * mends.lighter! * 0.999 } };
    expect(holds(breakage(part, lighter))).toBe(true);
  });

  it('pores count for open-grained woods only', () => {
    expect(poreCare(speciesOf('oak-red-northern-red')!, 0.8, 1.5).tooThin).toBe(true);
    expect(poreCare(speciesOf('oak-red-northern-red')!, 1.5, 1.5).tooThin).toBe(false);
    expect(poreCare(speciesOf('cherry-black')!, 0.1, 1.5).tooThin).toBe(false);
    expect(poreCare(speciesOf('pine-eastern-white')!, 0.1, 1.5).tooThin).toBe(false);
    expect(poreCare(speciesOf('iroko')!, 0.1, 1.5).tooThin).toBeUndefined();
  });
});

describe('a narrow run', () => {
  const run = (kind: RunShape['kind'], points: readonly (readonly [number, number, number])[]): RunShape => ({
    kind,
    width: Math.min(...points.map((p) => 2 * p[2])),
    at: (points.toSorted((a, b) => a[2] - b[2])[0] ?? [0, 0]).slice(0, 2) as [number, number],
    axis: 0,
    length: 4,
    line: new Float64Array(points.flat()),
  });

  it('a neck breaks at its narrowest', () => {
    const b = runBreakage(
      run('neck', [
        [0, 0, 2],
        [2, 0, 1],
        [4, 0, 2],
      ]),
      standing(),
    )!;
    expect(b.at).toEqual([2, 0]);
    expect(b.wall.width).toBe(2);
    expect(b.wall.axis).toBeCloseTo(0, 9);
    expect(b.bears).toBe(breakage(wall(2), standing()).bears);
  });

  it('an even island breaks at an end, where the push can spread one way only', () => {
    const b = runBreakage(
      run('thin-island', [
        [0, 0, 1],
        [2, 0, 1],
        [4, 0, 1],
        [6, 0, 1],
        [8, 0, 1],
      ]),
      standing(),
    )!;
    expect([0, 8]).toContain(b.at[0]);
    expect(b.bears!).toBeLessThan(breakage(wall(2), standing()).bears!);
  });

  it('of a sharp tip it tells how much of its length is too weak: the wedge solved for the width that holds', () => {
    const n = 100;
    const points = Array.from({ length: n }, (_, i) => [(20 * (i + 1)) / n, 0, (5 * (i + 1)) / n] as const);
    const b = runBreakage({ ...run('sharp-tip', points), at: [0, 0] }, standing());
    expect(b.bears).toBe(0);
    // Where the wedge's half width r is at a distance 4 r from the tip, with that much reach to the tip.
    let weak = 0;
    for (let x = 0; x <= 20; x += 0.01) {
      const reach = [x, Number.POSITIVE_INFINITY] as const;
      if (!holds(breakage(wall(0.5 * x, { reach }), standing()))) weak = x;
    }
    expect(Math.abs(b.weakLength - weak)).toBeLessThan(0.05);
  });

  it('a run that is all one place is taken by its width, a run without wood data stays unknown', () => {
    const one = runBreakage({ ...run('neck', [[0, 0, 1]]), width: 2 }, standing());
    expect(one.bears).toBe(breakage(wall(2), standing()).bears);
    const unknown = standing({ piece: { species: speciesOf('lignumvitae')!, grain: 'face', grainAngle: 0 } });
    const b = runBreakage(
      run('neck', [
        [0, 0, 2],
        [2, 0, 1],
        [4, 0, 2],
      ]),
      unknown,
    )!;
    expect(b.bears).toBeUndefined();
    expect(b.weakLength).toBe(0);
  });
});
