import { describe, expect, it } from 'vitest';
import { poreCare } from '../../src/carve/breakage-pores.ts';
import { cutOtherwise, depthsOf, toolOf } from '../../src/carve/facts.ts';
import { byLimit, bySide, once } from '../../src/carve/facts-core.ts';
import type { Bit } from '../../src/job/schema.ts';
import { degrees, mm } from '../../src/units.ts';
import { equilibriumMoisture } from '../../src/wood/moisture.ts';
import { speciesOf } from '../../src/wood/species.ts';
import { type BenchPair, factsFor, mirrored } from '../pairs.ts';

// What the facts hand on, and why they cannot. Depths are sums that can be done in the head; slopes are tan(a/2).

/** Six corners and no symmetry of its own: quicker to lay on itself than a curve. */
const HOOK = '<path id="hook" d="M15 20 H80 V38 H45 V75 H15 Z"/>';
const PANEL = '<rect id="panel" x="20" y="20" width="60" height="40"/>';
const facts = (job: Record<string, unknown> = {}, more: Partial<BenchPair> = {}) =>
  factsFor({ pocket: PANEL, job, ...more });
const TAPER = Math.tan(degrees(15));
const FRAME_120 = 'width="120mm" height="120mm" viewBox="0 0 120 120"';
const TIPLESS =
  "The job does not say what the bit's tip is: give tip-flat (0 for a sharp point) or tip-radius.";

describe('things worked out once', () => {
  it('are worked out when first asked for and never again, for each side and each limit apart', () => {
    const asked: unknown[] = [];
    const single = once(() => asked.push('once'));
    const sides = bySide((side) => asked.push(side));
    const limits = byLimit((limit) => asked.push(limit));
    expect(asked).toEqual([]);
    for (let n = 0; n < 2; n++) {
      single();
      sides('plug');
      sides('pocket');
      limits(2);
      limits(3);
    }
    expect(asked).toEqual(['once', 'plug', 'pocket', 2, 3]);
    expect(once(() => undefined)()).toBeUndefined();
  });
});

describe('figures', () => {
  it('are the four sums of the depths and the area, with the fit only when it was asked for', () => {
    const of = facts({ 'pocket.start-depth': 0.5, 'bit.tip-flat': 0 });
    const all = of.figures(true);
    expect(all['mating-depth']).toEqual({ value: 5.5, unit: 'mm' });
    expect(all['glue-gap']?.value).toBeCloseTo(2.6, 12);
    expect(all['saw-gap']?.value).toBeCloseTo(2.1, 12);
    expect(all['inlay-area']).toEqual({ value: 2400, unit: 'mm2' });
    expect(all.proud?.value).toBeCloseTo(0, 3);
    expect(all['worst-rim-gap']?.value).toBeCloseTo(0, 3);
    expect(all.proud?.unit).toBe('mm');
    const some = of.figures(false);
    expect([some.proud, some['worst-rim-gap']]).toEqual([undefined, undefined]);
    expect(some['saw-gap']).toEqual(all['saw-gap']);
    expect(facts({ 'bit.tip-flat': undefined }).figures(true).proud).toBeUndefined();
  });

  it('of the depths are sums', () => {
    const { job } = facts({ 'pocket.start-depth': 0.25 });
    expect(depthsOf(job)).toEqual({
      mating: 5.25,
      glue: 7.6 - 5,
      saw: 2.6 - 0.25,
      pocketTotal: 7.85,
      plugTotal: 7.6,
    });
  });

  it('write a length in the unit of the job', () => {
    expect(facts().length(7.62)).toBe('7.62 mm');
    expect(facts({ units: 'in' }).length(7.62)).toBe('0.3000 in');
  });
});

describe('the bit as the model wants it', () => {
  it('has what the job says and nothing else', () => {
    const angle = degrees(30);
    expect(toolOf({ angle } as Bit)).toBeUndefined();
    expect(toolOf({ angle, tipFlat: mm(0.2) } as Bit)).toStrictEqual({ halfAngle: angle / 2, tipFlat: 0.2 });
    expect(toolOf({ angle, tipRadius: mm(0.3) } as Bit)).toStrictEqual({
      halfAngle: angle / 2,
      tipFlat: 0,
      tipRadius: 0.3,
    });
    expect(
      toolOf({ angle, tipFlat: mm(0), toolpathAngle: degrees(29), toolpathTipFlat: mm(0.1) } as Bit),
    ).toStrictEqual({
      halfAngle: angle / 2,
      tipFlat: 0,
      toolpathHalfAngle: degrees(29) / 2,
      toolpathTipFlat: 0.1,
    });
  });
});

describe('the same drawings cut otherwise', () => {
  it('keep what was drawn and take the new depths', () => {
    const [shallow, deep] = [facts(), facts({ 'pocket.flat-depth': 8 })];
    const other = cutOtherwise(shallow, { ...deep.job, limits: shallow.job.limits });
    expect(other.drawn).toBe(shallow.drawn);
    expect(other.depths.pocketTotal).toBe(8);
    expect(() => cutOtherwise(shallow, deep.job)).toThrow('A pair cut otherwise keeps its limits.');
  });
});

describe('a fit that cannot be made says why', () => {
  it.each<[string, BenchPair, object]>([
    ['no tip', { pocket: PANEL, job: { 'bit.tip-flat': undefined } }, { untold: TIPLESS }],
    ['no tip of the plug bit', { pocket: PANEL, job: { 'plug-bit': { angle: 30 } } }, { untold: TIPLESS }],
    [
      'no outline',
      { pocket: '<g/>', plug: PANEL },
      { untold: 'The pocket drawing holds no outline, so nothing can be fitted.' },
    ],
    [
      'a copy',
      { pocket: HOOK, plug: HOOK },
      { moot: 'The plug does not go in as it is drawn (see pair.mirror), so there is no fit to measure.' },
    ],
    [
      'another size',
      { pocket: HOOK, plug: `<g transform="translate(110 0) scale(-1.1 1.1)">${HOOK}</g>` },
      {
        moot: 'The plug is drawn at another size than the pocket (see pair.match), so there is no fit to measure.',
      },
    ],
    [
      'no mating depth',
      { pocket: PANEL, job: { 'plug.start-depth': 0 } },
      { moot: 'The depths leave the walls no way to meet (see depth.mating and depth.glue).' },
    ],
    [
      'a plug longer than the pocket is deep',
      { pocket: PANEL, job: { 'pocket.flat-depth': 4.99 } },
      { moot: 'The depths leave the walls no way to meet (see depth.mating and depth.glue).' },
    ],
    [
      'a gap finer than the tip',
      {
        pocket: `${PANEL}<rect x="80.3" y="20" width="10" height="40"/>`,
        job: { 'bit.tip-flat': 0.4 },
      },
      {
        moot: 'Wood is left standing between the strokes (see bit.between), and the plug cannot seat at all.',
      },
    ],
  ])('%s', (_, pair, wanted) => {
    expect(factsFor(pair).fitted()).toEqual(wanted);
    expect(factsFor(pair).fitMends()).toEqual([]);
    expect(factsFor(pair).fitSpread()).toBeUndefined();
  });

  it('is made at the very limits, and for a copy that the toolpath mirrors', () => {
    expect('fit' in facts({ 'pocket.flat-depth': 5 }).fitted()).toBe(true);
    const toolpath = facts({ 'plug.mirror': 'toolpath' }, { pocket: HOOK, plug: HOOK });
    expect('fit' in toolpath.fitted()).toBe(true);
    const gap = { pocket: `${PANEL}<rect x="80.4" y="20" width="10" height="40"/>` };
    expect('fit' in facts({ 'bit.tip-flat': 0.39 }, gap).fitted()).toBe(true);
  });

  it('takes a copy that the toolpath mirrors for another plug when it is another size', () => {
    const copy = (by: number) =>
      facts(
        { 'plug.mirror': 'toolpath' },
        { pocket: HOOK, plug: `<g transform="scale(${by})">${HOOK}</g>`, plugFrame: FRAME_120 },
      ).fitted();
    expect(copy(1.1)).toEqual({
      moot: 'The plug is drawn at another size than the pocket (see pair.match), so there is no fit to measure.',
    });
    expect(copy(1.01)).toHaveProperty('fit');
  });

  it('compares no sizes of drawings that are one the hole of the other', () => {
    const around = `<path d="M0 0 H100 V100 H0 Z M20 20 V60 H80 V20 Z"/>`;
    const of = facts({}, { plug: mirrored(around) });
    expect(of.match().verdict).toBe('inside-out');
    expect(of.sizeRatios()).toBeUndefined();
  });

  it('compares no sizes of drawings that show different things', () => {
    expect(facts().sizeRatios()).toEqual([1, 1]);
    const other = facts({}, { pocket: HOOK, plug: '<path d="M10 10 H90 V18 H54 V90 H46 V18 H10 Z"/>' });
    expect(other.sizeRatios()).toBeUndefined();
    const larger = facts({}, { plug: `<g transform="translate(110 0) scale(-1.1 1.1)">${PANEL}</g>` });
    expect(larger.sizeRatios()?.[0]).toBeCloseTo(1.1, 4);
    expect(larger.sizeRatios()?.[1]).toBeCloseTo(1.1, 4);
  });
});

describe('the fit under what varies', () => {
  const STILL = Object.fromEntries(
    [
      'tip-wear',
      'angle',
      'pocket-zero',
      'plug-zero',
      'pocket-flatness',
      'plug-flatness',
      'scale',
      'squareness',
      'runout',
    ].map((name) => [`spread.${name}`, 0]),
  );
  const varied = (job: Record<string, unknown>) =>
    facts({ 'bit.tip-flat': 0, ...STILL, ...job }).fitSpread()!;

  it('takes the scale in hundredths: what is left over of it at the corners of 60 x 40 mm', () => {
    // A tenth of a hundredth: the long sides meet 20 mm from the middle, the corners lie hypot(30, 20) from it.
    const open = 0.001 * (Math.hypot(30, 20) - 20);
    const worst = varied({ 'spread.scale': 0.1 }).worst?.gap ?? 0;
    expect(worst).toBeGreaterThan(0.99 * open);
    expect(worst).toBeLessThan(1.1 * open);
  });

  it('counts what is over its limit, in as many joints as the job says', () => {
    // Square corners open evenly up to the runout times 1 - sin 45.
    const most = 0.8 * (1 - Math.SQRT1_2);
    const spread = varied({
      'spread.runout': 0.8,
      'spread.draws': 400,
      'limits.rim-gap-most-hard': `${most / 4} mm`,
    });
    expect(spread.draws).toBe(400);
    expect(Math.abs(spread.chance - 0.75)).toBeLessThan(0.1);
  });
});

describe('what stands in the way of the bits', () => {
  const keepOut = (...items: object[]) => ({ 'keep-out': items });
  const box = (left: number, top: number) => ({ left, top, width: 5, length: 5 });

  it('is named by its number when it has no name, and met only on its own side', () => {
    const held = facts(
      keepOut({ part: 'pocket', box: box(0, 0) }, { part: 'plug', box: box(50, 40) }),
    ).wood.held('plug');
    expect(held.hits.map(({ name, by }) => [name, by])).toEqual([['keep-out 2', 'bit']]);
    expect(held.hits[0]?.area).toBeCloseTo(25, 6);
    expect([held.keepOuts, held.standing.length, held.by]).toEqual([1, 1, 'V-bit']);
    expect(held.unseen).toEqual([
      'The job does not say how wide the collet nut is, so only the bits were looked at.',
    ]);
  });

  it('may be a disc, of which nothing is left out', () => {
    const held = facts(keepOut({ part: 'plug', disc: { x: 50, y: 40, diameter: 6 } })).wood.held('plug');
    expect(held.hits[0]?.area).toBeGreaterThan(Math.PI * 9);
    expect(held.hits[0]?.area).toBeLessThan(Math.PI * 9 * 1.002);
    const xs = held.standing[0]!.shape.rings[0]!.filter((_, i) => i % 2 === 0);
    expect((Math.min(...xs) + Math.max(...xs)) / 2).toBeCloseTo(50, 9);
  });

  it('is told of each bit whose stick-out is not known', () => {
    const job = {
      ...keepOut({ part: 'plug', name: 'clamp', box: box(2, 2) }),
      nut: { diameter: 30 },
      'clearing-bit': { diameter: 3 },
      'plug-bit': { angle: 30, 'tip-flat': 0.1 },
    };
    const unseen = facts(job).wood.held('plug').unseen;
    expect(unseen).toEqual(
      ['plug-bit', 'clearing-bit'].map(
        (name) =>
          `The job does not say how far the bit sticks out of the nut (${name}: stick-out), so the nut was not looked at with it.`,
      ),
    );
    expect(facts(job).wood.held('pocket').unseen).toEqual([]);
  });

  it('meets the nut within half its width of where the bit goes, and not below where the nut hangs', () => {
    // The path lies tip + flat t outside the outline at x = 80; the nut of 20 mm reaches 10 mm further.
    const reach = 0.05 + 2.6 * TAPER + 10;
    const met = (left: number, height?: number) =>
      facts({
        ...keepOut({ part: 'plug', name: 'clamp', box: { left, top: 30, width: 5, length: 5 }, height }),
        nut: { diameter: 20 },
        'bit.stick-out': 25,
      })
        .wood.held('plug')
        .hits.map(({ by }) => by);
    expect(met(80 + reach - 0.05)).toEqual(['nut']);
    expect(met(80 + reach + 0.05)).toEqual([]);
    // It hangs stick-out less the depth of the cut above the face: 25 - 7.6.
    expect(met(80 + reach - 0.05, 17.3)).toEqual([]);
    expect(met(80 + reach - 0.05, 17.5)).toEqual(['nut']);
  });

  it('asks for the border of the bit that cuts farther out', () => {
    const v = 0.1 + (5 + 2 * 2.6) * TAPER;
    expect(facts().wood.held('plug').border).toBeCloseTo(v, 9);
    const mill = facts({ 'clearing-bit': { diameter: 6 } }).wood.held('plug');
    expect(mill.border).toBeCloseTo(2.6 * TAPER + 6, 9);
    expect(mill.by).toBe('clearing bit');
    const below = facts({ 'pocket.start-depth': 2, 'clearing-bit': { diameter: 6 } }).wood.held('pocket');
    expect(below.border).toBeCloseTo(2 * TAPER, 9);
    expect(below.by).toBe('V-bit');
  });
});

describe('the moisture of the year', () => {
  const year = (job: Record<string, unknown>): Record<string, unknown> => {
    const moves = facts({ 'pocket.stock.grain-angle': 0, ...job }).wood.moves();
    return 'year' in moves ? { ...moves.year, taken: moves.taken } : { ...moves };
  };

  it('is what the job states, and what was taken is told where it states nothing', () => {
    const stated = {
      'climate.workshop.moisture': 9,
      'climate.driest.moisture': 6.5,
      'climate.dampest.moisture': 12,
    };
    expect(year(stated)).toEqual({ made: 9, least: 6.5, most: 12, taken: [] });
    expect(
      year({ ...stated, 'climate.driest': undefined, 'climate.driest.moisture': undefined }),
    ).toMatchObject({
      least: 6,
      taken: [
        'The job does not say the moisture at the driest: 9 % when cut and 6 % to 12 % over the year are taken.',
      ],
    });
    expect(year({})).toMatchObject({
      taken: [
        'The job does not say the moisture when cut and at the driest and at the dampest: 8 % when cut and 6 % to 10 % over the year are taken.',
      ],
    });
    expect(year({ ...stated, 'pocket.stock.moisture': 7, 'plug.stock.moisture': 10 })).toMatchObject({
      made: 8.5,
    });
    expect(year({ ...stated, 'plug.stock.moisture': 10 })).toMatchObject({ made: 10 });
  });

  it('comes from the air by the equation of the Wood Handbook (chapter 4), at 21 C unless a temperature is given', () => {
    const driest = (air: object) => year({ 'climate.driest': air })['least'] as number;
    expect(driest({ humidity: 40 })).toBeCloseTo(equilibriumMoisture({ temperature: 21, humidity: 40 })!, 9);
    expect(driest({ humidity: 40, temperature: 5 })).toBeCloseTo(
      equilibriumMoisture({ temperature: 5, humidity: 40 })!,
      9,
    );
    // Table 4-2 of the Wood Handbook: 7.7 % at 21.1 C and 40 %.
    expect(driest({ humidity: 40 })).toBeCloseTo(7.7, 1);
    expect(year({ 'climate.dampest.humidity': 99 })).toEqual({
      untold:
        'The air in the job is outside what the equation for the moisture of wood covers (-5 to 70 C, up to 98 %).',
    });
  });

  it('cannot tell how the joint moves when a grain is not known', () => {
    expect(facts().wood.moves()).toEqual({
      untold:
        'The job does not say how the grain of the board runs (stock: grain-angle), so it is not known which way the joint moves.',
    });
    expect(
      facts({ 'pocket.stock.grain-angle': 0, 'plug.stock.grain-angle': undefined }).wood.moves(),
    ).toMatchObject({ untold: expect.stringContaining('grain of the plug runs') });
  });
});

describe('sanding', () => {
  it('is counted from the narrowest stroke, and told for other usual bits than the one in the job', () => {
    const worn = facts(
      { 'bit.tip-flat': 0 },
      { pocket: '<rect x="10" y="40" width="80" height="1.6"/>' },
    ).wood.worn();
    if (!('strokes' in worn)) throw new Error('the stroke was not found');
    expect(worn.lossPerMm).toBeCloseTo(2 * TAPER, 9);
    expect(worn.allGone).toBeCloseTo(5, 3);
    expect(worn.strokes).toHaveLength(1);
    expect(worn.strokes[0]?.width).toBeCloseTo(1.6, 6);
    expect(worn.strokes[0]?.left).toBeCloseTo(0.8 / TAPER, 3);
    expect(worn.strokes[0]?.others.map(({ angle }) => Math.round((angle * 180) / Math.PI))).toEqual([
      15, 60, 90,
    ]);
  });

  it('opens a line by the difference of the slopes when the plug is cut flatter', () => {
    const opening = (angle: number) => facts({ 'plug-bit': { angle, 'tip-flat': 0 } }).wood.openingPerMm();
    expect(opening(60)).toBeCloseTo(Math.tan(degrees(30)) - TAPER, 9);
    expect(opening(20)).toBe(0);
  });
});

describe('pores', () => {
  it('are told of in whole sentences', () => {
    const says = (id: string, width: number) => poreCare(speciesOf(id)!, width, 1.5).says;
    expect(says('cherry-black', 1)).toBe('Black cherry is closed-grained.');
    expect(says('pine-eastern-white', 1)).toBe('Eastern white pine is a softwood without pores.');
    expect(says('iroko', 1)).toBe('The size of the pores of iroko is not known here.');
    expect(says('oak-red-northern-red', 1)).toMatch(
      / is open-grained: in a part this thin a row of pores can be the whole part\.$/,
    );
    expect(says('oak-red-northern-red', 2)).toMatch(/ is open-grained, and the part is many pores wide\.$/);
  });
});

describe('the mirror of the plug', () => {
  it('puts the mark of an element to a place of its drawing', () => {
    const of = facts({}, { plug: mirrored(PANEL) });
    expect(of.markAt('plug', [50, 20]).element).toBe('#panel');
    expect(of.outlineGive()).toBeGreaterThan(0);
    expect(of.bit('plug')).toBe(of.job.plugBit);
    expect(of.bit('pocket')).toBe(of.job.bit);
  });
});
