import { describe, expect, it } from 'vitest';
import { degrees } from '../../src/units.ts';
import { type BenchPair, factsFor, mirrored } from '../pairs.ts';

// What is the pocket's and what is the plug's must not be taken for one another: each side here has a bit, depths and
// stock of its own.

const PANEL = '<rect id="panel" x="20" y="20" width="60" height="40"/>';
const facts = (job: Record<string, unknown> = {}, more: Partial<BenchPair> = {}) =>
  factsFor({ pocket: PANEL, job, ...more });
const slope = (angle: number): number => Math.tan(degrees(angle / 2));

const OWN_BIT = {
  'pocket.start-depth': 0.5,
  'plug-bit': { angle: 60, 'tip-flat': 0.4, 'cutting-length': 20, 'cutting-diameter': 30 },
};

describe('each side on its stock', () => {
  it('is cut out past its outline by its own bit', () => {
    const { wood } = facts(OWN_BIT);
    expect(wood.held('pocket').border).toBeCloseTo(0.5 * slope(30), 9);
    expect(wood.held('plug').border).toBeCloseTo(0.4 + (5 + 2 * 2.6) * slope(60), 9);
    expect([wood.held('pocket').by, wood.held('plug').by]).toEqual(['V-bit', 'V-bit']);
    // A wide clearing bit cuts farther out round the plug, and never outside the pocket.
    const cleared = facts({ ...OWN_BIT, 'clearing-bit': { diameter: 12, 'cutting-length': 20 } }).wood;
    expect(cleared.held('plug')).toMatchObject({
      border: expect.closeTo(12 + 2.6 * slope(60), 9),
      by: 'clearing bit',
    });
    expect(cleared.held('pocket')).toMatchObject({ border: expect.closeTo(0.5 * slope(30), 9), by: 'V-bit' });
  });

  it('has a keep-out for itself, and the bit that lacks a figure by its own name', () => {
    const clamp = (part: string) => ({
      ...OWN_BIT,
      'keep-out': [{ part, box: { left: 82, top: 30, width: 5, length: 10 } }],
      nut: { diameter: 30 },
    });
    const on = (part: 'pocket' | 'plug') => facts(clamp(part)).wood;
    expect([on('plug').held('plug').keepOuts, on('plug').held('pocket').keepOuts]).toEqual([1, 0]);
    expect([on('pocket').held('plug').keepOuts, on('pocket').held('pocket').keepOuts]).toEqual([0, 1]);
    expect(on('plug').held('plug').unseen.join()).toContain('(plug-bit: stick-out)');
    expect(on('pocket').held('pocket').unseen.join()).toContain('(bit: stick-out)');
    const oneBit = facts({ ...clamp('plug'), 'plug-bit': undefined }).wood;
    expect(oneBit.held('plug').unseen.join()).toContain('(bit: stick-out)');
    expect(oneBit.held('plug').standing[0]?.name).toBe('keep-out 1');
    expect(oneBit.held('pocket').unseen).toEqual([]);
  });

  it('is met by the nut as far out as its bit goes: round the plug by the flat depth, in the pocket at the outline', () => {
    const met = (part: string, gap: number): boolean => {
      const { wood } = facts({
        ...OWN_BIT,
        'bit.stick-out': 20,
        'plug-bit': { ...OWN_BIT['plug-bit'], 'stick-out': 20 },
        'keep-out': [
          { part, name: 'post', height: 30, box: { left: 80 + gap, top: 30, width: 5, length: 10 } },
        ],
        nut: { diameter: 30 },
      });
      return wood.held(part as 'plug').hits.length > 0;
    };
    const round = 15 + 0.2 + 2.6 * slope(60);
    expect([met('plug', round - 0.05), met('plug', round + 0.05)]).toEqual([true, false]);
    expect([met('pocket', 15 - 0.05), met('pocket', 15 + 0.05)]).toEqual([true, false]);
  });
});

describe('the wood of each side', () => {
  it('lies face up and along x unless the job says so, and that is told', () => {
    const of = (side: 'pocket' | 'plug', grain?: string, angle?: number) => {
      const thin = facts({ [`${side}.stock.grain`]: grain, [`${side}.stock.grain-angle`]: angle }).wood.thin(
        side,
      );
      if (!('piece' in thin)) throw new Error('no wood');
      return thin;
    };
    for (const side of ['pocket', 'plug'] as const) {
      const what = side === 'plug' ? 'plug' : 'board';
      expect(of(side).piece).toMatchObject({ grain: 'face', grainAngle: 0 });
      expect(of(side).taken.join()).toContain(`which grain of the ${what} is up`);
      expect(of(side).taken.join()).toContain(`how the grain of the ${what} runs`);
      expect(of(side, 'edge', 30).piece).toMatchObject({
        grain: 'edge',
        grainAngle: expect.closeTo(degrees(30), 9),
      });
      expect(of(side, 'edge', 30).taken.join()).not.toContain('grain of the');
      expect(of(side, 'end').taken.join()).not.toContain('runs');
    }
  });

  it('tells the narrowest place of the plug in the plug, of the board in the board, fitting or not', () => {
    // Two bars 12 and 15 mm wide, 22 apart; the plug's own drawing has them 13 and 15 wide, 21 apart.
    const bars = (a: number, gap: number) =>
      `<rect x="10" y="10" width="80" height="${a}"/><rect x="10" y="${10 + a + gap}" width="80" height="15"/>`;
    const widths = (pair: BenchPair): readonly number[] =>
      (['plug', 'pocket'] as const).map((side) => {
        const thin = factsFor(pair).wood.thin(side);
        return 'parts' in thin ? (thin.parts[0]?.width ?? Number.NaN) : Number.NaN;
      });
    const [plug, board] = widths({ pocket: bars(12, 22) });
    expect(plug).toBeCloseTo(12, 3);
    expect(board).toBeCloseTo(22, 3);
    const [other, ownBoard] = widths({ pocket: bars(12, 22), plug: mirrored(bars(13, 21)) });
    expect(other).toBeCloseTo(13, 3);
    expect(ownBoard).toBeCloseTo(22, 3);
  });
});

describe('a plug of another size', () => {
  const scaled = (by: number) =>
    mirrored(
      `<rect id="panel" x="${50 - 30 * by}" y="${40 - 20 * by}" width="${60 * by}" height="${40 * by}"/>`,
    );

  it('is another plug from a millimetre off on, and a slack one below', () => {
    // The farthest corners lie 36 mm from the middle: 2.5 and 3 in a hundred are 0.9 and 1.08 mm.
    expect(facts({}, { plug: scaled(0.975) }).fitted()).toHaveProperty('fit');
    expect(facts({}, { plug: scaled(0.965) }).fitted()).toHaveProperty('moot');
  });
});

describe('what is told of a drawing that is not clean', () => {
  it.each([
    ['speck-area-least', '<rect x="85" y="85" width="0.5" height="0.5"/>', '0.3 mm2', '0.2 mm2'],
    ['sliver-width-least', '<rect x="20" y="85" width="20" height="0.1"/>', '0.2 mm', '0.05 mm'],
    ['near-touch-least', '<rect x="80.1" y="30" width="9" height="9"/>', '0.2 mm', '0.05 mm'],
  ])('goes by %s', (limit, more, above, below) => {
    const faults = (value: string) =>
      facts({ [`limits.${limit}`]: value }, { pocket: PANEL + more }).tidy('pocket').faults.length;
    expect(faults(above)).toBeGreaterThan(0);
    expect(faults(below)).toBe(0);
  });
});
