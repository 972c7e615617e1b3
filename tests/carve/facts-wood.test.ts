import { describe, expect, it } from 'vitest';
import { degrees } from '../../src/units.ts';
import { allSpecies, speciesOf } from '../../src/wood/species.ts';
import { standingStrength } from '../../src/wood/strength.ts';
import { type BenchPair, factsFor, mirrored } from '../pairs.ts';

// What the facts tell of small drawings whose figures can be worked out by hand.

const PANEL = '<rect id="panel" x="20" y="20" width="60" height="40"/>';
const NONE = '<g/>';
const wood = (pair: Partial<BenchPair>) => factsFor({ pocket: PANEL, ...pair }).wood;
const t = Math.tan(degrees(15));
/** Upright bars side by side, from x = 10 on, 8 mm apart, 40 mm long. */
const bars = (...widths: readonly number[]): string => {
  let x = 2;
  return widths
    .map((width) => {
      x += 8;
      const bar = `<rect x="${x}" y="20" width="${width}" height="40"/>`;
      x += width;
      return bar;
    })
    .join('');
};

describe('strokes that are sanded', () => {
  const strokes = (pocket: string, job: Record<string, unknown> = {}) => {
    const worn = wood({ pocket, job }).worn();
    return 'strokes' in worn ? worn.strokes : worn;
  };
  const widths = (...from: Parameters<typeof strokes>) => {
    const found = strokes(...from);
    return Array.isArray(found) ? found.map(({ width }) => Number(width.toFixed(3))) : found;
  };

  it('are those that are gone too soon, the first to go first, and the narrowest alone when all last', () => {
    // 2 mm off takes 4 t = 1.07 of width.
    // With no tip told there is no fit, and so nothing stands proud.
    const least = { 'limits.sanding-least': '2 mm', 'bit.tip-flat': undefined };
    expect(widths(bars(1.0, 1.3, 0.5, 0.8), least)).toEqual([0.5, 0.8, 1]);
    expect(widths(bars(1.3, 1.2, 3), least)).toEqual([1.2]);
  });

  it('are looked for as much wider as the plug stands proud', () => {
    // A tip of 0.2 mm holds plugs of level ridges by 0.1 / t, and 0.37 mm more is then 0.2 of width more.
    const least = { 'limits.sanding-least': '2 mm', 'bit.tip-flat': 0.2 };
    const worn = wood({ pocket: bars(1.2, 1.4), job: least }).worn();
    if (!('strokes' in worn)) throw new Error('no strokes');
    expect(worn.proud).toBeCloseTo(0.1 / t, 3);
    expect(worn.strokes.map(({ width }) => Number(width.toFixed(3)))).toEqual([1.2]);
    expect(worn.strokes[0]?.left).toBeCloseTo(0.5 / t, 3);
    expect(worn.strokes[0]?.times).toBe(7);
    expect(worn.allGone).toBeCloseTo(5 - 0.1 / t, 3);
    // Seated as drawn another bit loses 2 tan (angle / 2): 0.6 over it is 4.557, 1.039 and 0.6 mm.
    expect(worn.strokes[0]?.others.map(({ times }) => times)).toEqual([18, 4, 2]);
  });

  it('are not those that the tip hardly gets into, nor tips that run out', () => {
    // The tip and 0.05 mm: 0.15.
    const job = { 'limits.sanding-least': '2 mm', 'bit.tip-flat': 0.1, 'plug-bit': { angle: 30 } };
    expect(widths(bars(0.14, 0.5), job)).toEqual([0.5]);
    expect(strokes(bars(0.14, 3), job)).toEqual({
      moot: 'The strokes that would go first are hardly wider than the tip (see bit.tip); all others last.',
    });
    const wedge = '<path d="M10 20 L60 23 L60 17 Z"/>';
    expect(widths(`${wedge}<rect x="70" y="20" width="0.9" height="40"/>`, job)).toEqual([0.9]);
  });

  it('are none without an outline or without a mating depth', () => {
    expect(strokes(NONE)).toEqual({ untold: 'The pocket drawing holds no outline.' });
    expect(wood({ pocket: NONE, plug: PANEL }).worn()).toEqual({
      untold: 'The pocket drawing holds no outline.',
    });
    expect(strokes(PANEL, { 'plug.start-depth': 0 })).toEqual({
      moot: 'The walls do not meet (see depth.mating), so there is nothing to sand.',
    });
  });
});

describe('how the joint moves', () => {
  const LOPSIDED = '<path d="M20 20 H70 V35 H40 V60 H20 Z"/>';
  const moves = (pair: Partial<BenchPair>, job: Record<string, unknown> = {}) => {
    const found = wood({ ...pair, job: { 'pocket.stock.grain-angle': 0, ...job } }).moves();
    if (!('movement' in found)) return found;
    return { ...found, crossed: found.crossed && Math.round((found.crossed * 180) / Math.PI) };
  };

  it('goes by the grain of the plug as its drawing lies on the pocket: mirrored, then turned', () => {
    const plug = `<g transform="rotate(20 50 50)">${mirrored(LOPSIDED)}</g>`;
    const pair = { pocket: LOPSIDED, plug };
    // In the plug's drawing the grain lies at a; turned back it is a - 20, mirrored 180 - (a - 20).
    for (const [angle, crossed] of [
      [0, 20],
      [20, 0],
      [30, 10],
      [110, 90],
    ])
      expect(moves(pair, { 'plug.stock.grain-angle': angle })).toMatchObject({ crossed });
    expect(moves(pair, { 'plug.stock.grain-angle': 30, 'pocket.stock.grain-angle': 15 })).toMatchObject({
      crossed: 25,
    });
    expect(moves(pair, { 'plug.stock.grain-angle': 30, 'pocket.stock.grain-angle': -15 })).toMatchObject({
      crossed: 5,
    });
  });

  it('has no crossing with end grain, and the strength of the plug across its grain all the same', () => {
    const face = moves({});
    expect(moves({}, { 'plug.stock.grain': 'end', 'plug.stock.grain-angle': undefined })).toMatchObject({
      crossed: undefined,
    });
    expect(moves({}, { 'pocket.stock.grain': 'end', 'pocket.stock.grain-angle': undefined })).toMatchObject({
      crossed: undefined,
    });
    const piece = { species: speciesOf('maple-sugar')!, grain: 'face' as const, grainAngle: 0 };
    for (const found of [face, moves({}, { 'plug.stock.grain': 'end', 'plug.stock.grain-angle': undefined })])
      expect(found).toMatchObject({ strength: standingStrength(piece) });
  });

  it('knows how far the moistures of the two woods are apart when the job says both', () => {
    const apart = (pocket?: number, plug?: number) =>
      moves({}, { 'pocket.stock.moisture': pocket, 'plug.stock.moisture': plug });
    expect(apart(7, 10)).toMatchObject({ apart: 3 });
    expect(apart(10, 7)).toMatchObject({ apart: 3 });
    for (const one of [apart(7), apart(undefined, 7), apart()])
      expect(one).toMatchObject({ apart: undefined });
  });

  it('is not known of a wood that is not named', () => {
    expect(moves({}, { 'pocket.stock.wood': undefined })).toEqual({
      untold: 'The job does not name the wood of the board (pocket: stock: wood).',
    });
    expect(moves({}, { 'plug.stock.wood': undefined })).toEqual({
      untold: 'The job does not name the wood of the plug (plug: stock: wood).',
    });
  });

  it('is not guessed for a wood without printed movement', () => {
    const still = allSpecies().find(({ shrinkage, movement }) => !shrinkage && !movement)!;
    const name = still.name.toLowerCase();
    expect(moves({}, { 'plug.stock.wood': still.id })).toEqual({
      untold: `No movement is printed in the tables for black cherry or ${name}, and none is guessed.`,
    });
    expect(moves({}, { 'pocket.stock.wood': still.id })).toEqual({
      untold: `No movement is printed in the tables for ${name} or sugar maple (hard), and none is guessed.`,
    });
    expect(moves({ pocket: NONE, plug: PANEL })).toEqual({ untold: 'The pocket drawing holds no outline.' });
  });
});

describe('glue', () => {
  const glued = (pair: Partial<BenchPair>) => {
    const found = wood(pair).glued();
    if (!('glue' in found)) throw new Error('no glue');
    return found;
  };
  const frustum = (a: number, b: number, from: number, to: number): number => {
    const at = (z: number): number => (a - 2 * t * z) * (b - 2 * t * z);
    // Simpson's rule is exact for a square of the depth.
    return ((to - from) / 6) * (at(from) + 4 * at((from + to) / 2) + at(to));
  };
  const plugOf = (less: number): string =>
    mirrored(
      `<rect id="panel" x="${20 + less}" y="${20 + less}" width="${60 - 2 * less}" height="${40 - 2 * less}"/>`,
    );

  it('has the room of the pocket less the plug, each by its own drawing', () => {
    const { glue } = glued({ job: { 'bit.tip-flat': 0 }, plug: plugOf(0.1) });
    expect(glue.room / (frustum(60, 40, 0, 7.6) - frustum(59.8, 39.8, 0, 5))).toBeCloseTo(1, 5);
    const face = (59.8 - 10 * t) * (39.8 - 10 * t);
    expect(glue.wallArea / ((59.8 * 39.8 - face) / Math.sin(degrees(15)))).toBeCloseTo(1, 5);
  });

  it('lies from the face down: outlines that lie deeper are wider there, round their corners', () => {
    const { glue } = glued({ job: { 'bit.tip-flat': 0, 'pocket.start-depth': 0.5, 'plug.flat-depth': 3.1 } });
    const d = 0.5 * t;
    const [face, end] = [2400 + 200 * d + Math.PI * d * d, (60 - 10 * t) * (40 - 10 * t)];
    expect((glue.wallArea * Math.sin(degrees(15))) / (face - end)).toBeCloseTo(1, 4);
  });

  it('is not reckoned for two angles, and names woods that bond with difficulty, each once', () => {
    expect(wood({ job: { 'plug-bit': { angle: 60, 'tip-flat': 0 } } }).glued()).toEqual({
      moot: 'Pocket and plug are cut at two angles, so their walls do not lie on one another.',
    });
    const hard = allSpecies().find(({ bonding }) => bonding?.value === 'with difficulty')!;
    const unknown = allSpecies().find(({ bonding }) => bonding === undefined)!;
    const named = (pocket: string | undefined, plug: string | undefined) =>
      glued({ job: { 'pocket.stock.wood': pocket, 'plug.stock.wood': plug } }).hard;
    expect(named(hard.id, hard.id)).toEqual([hard.name]);
    expect(named(undefined, hard.id)).toEqual([hard.name]);
    expect(named(unknown.id, undefined)).toEqual([]);
  });
});

describe('thin parts', () => {
  const thin = (side: 'pocket' | 'plug', pair: Partial<BenchPair>) => {
    const found = wood(pair).thin(side);
    if (!('parts' in found)) throw new Error(JSON.stringify(found));
    return found;
  };

  it('of a wood without a printed strength are not guessed', () => {
    expect(wood({ job: { 'plug.stock.wood': 'lignumvitae' } }).thin('plug')).toEqual({
      untold: 'No strength of lignumvitae is printed in the tables, so what a thin part bears is not known.',
    });
  });

  it('are told weakest first, and tips the longest first', () => {
    const wedge = (y: number, half: number): string =>
      `<path d="M40 ${y} L90 ${y - half} L90 ${y + half} Z"/>`;
    const { parts, tips } = thin('plug', {
      pocket: bars(1.2, 0.6, 0.9) + wedge(75, 5) + wedge(90, 3) + wedge(66, 3.5),
    });
    const bears = parts.map(({ bears, load }) => bears / load);
    expect(parts.length).toBe(3);
    expect(bears).toEqual(bears.toSorted((a, b) => a - b));
    expect(parts[0]?.width).toBeCloseTo(0.6, 3);
    expect(tips.map(({ at }) => Math.round(at[1]))).toEqual([90, 66, 75]);
  });

  it('are weakest where the grain is short, though another is narrower', () => {
    const along = '<rect x="20" y="85" width="40" height="0.95"/>';
    const { parts } = thin('plug', { pocket: along + bars(1), job: { 'plug.stock.grain-angle': 0 } });
    expect(parts.map(({ width }) => Number(width.toFixed(2)))).toEqual([1, 0.95]);
    const end = { 'limits.side-load': '5 N', 'plug.stock.grain': 'end', 'plug.stock.grain-angle': undefined };
    const upright = thin('plug', { pocket: along + bars(1), job: end }).parts;
    expect(upright.map(({ width }) => Number(width.toFixed(2)))).toEqual([0.95, 1]);
  });

  it('of the board stand alone too: what is left in the middle of a ring', () => {
    const ring = '<path d="M20 20 H80 V60 H20 Z M50 40 V42.4 H51 V40 Z"/>';
    const [post] = thin('pocket', { pocket: ring, job: { 'limits.side-load': '5 N' } }).parts;
    expect(post).toMatchObject({
      short: undefined,
      width: expect.closeTo(1, 3),
      weakLength: expect.closeTo(1, 3),
    });
  });

  it('stand by the slope of their own bit and in their own depths', () => {
    const job = { 'plug-bit': { angle: 60, 'tip-flat': 0 } };
    // A stroke of 1.2 mm has its crest at 0.6 / tan 30 over the surface line; a land of 1 mm none.
    const [stroke] = thin('plug', { pocket: bars(1.2), job }).parts;
    const crest = 0.6 / Math.tan(degrees(30));
    expect(stroke!.height).toBeGreaterThanOrEqual(crest - 1e-9);
    expect(stroke!.widthThere).toBeCloseTo(1.2 + 2 * Math.tan(degrees(30)) * (stroke!.height - crest), 6);
    const lands = '<rect x="20" y="20" width="20" height="40"/><rect x="41" y="20" width="20" height="40"/>';
    const [land] = thin('pocket', { pocket: lands, job }).parts;
    expect(land!.width).toBeCloseTo(1, 3);
    expect(land!.widthThere).toBeCloseTo(1 + 2 * t * land!.height, 6);
  });

  it('run across the grain or along it, by the direction of the bar against the grain', () => {
    const short = (grain: number, angle: number): boolean | undefined => {
      const bar = `<rect x="49.5" y="20" width="1" height="60" transform="rotate(${angle} 50 50)"/>`;
      return thin('plug', {
        pocket: mirrored(bar),
        plug: bar,
        job: { 'plug.stock.grain-angle': grain },
      }).parts[0]?.short;
    };
    // The bar runs at 90 + angle degrees.
    expect(short(0, 0)).toBe(true);
    expect(short(90, 0)).toBe(false);
    expect(short(30, 0)).toBe(true);
    expect(short(60, 20)).toBe(true);
    expect(short(60, -20)).toBe(false);
    const end = thin('plug', {
      pocket: bars(1),
      job: { 'plug.stock.grain': 'end', 'plug.stock.grain-angle': undefined },
    });
    expect(end.parts[0]?.short).toBeUndefined();
  });

  it('that stand alone and are stubby are posts, whole with their holes', () => {
    const post = (w: number, h: number) =>
      thin('plug', { pocket: `${PANEL}<rect x="85" y="70" width="${w}" height="${h}"/>` }).parts[0]!;
    expect(post(1, 2.4).short).toBeUndefined();
    expect(post(1, 2.4).weakLength).toBeCloseTo(1, 3);
    expect(post(1, 6).short).toBe(true);
  });
});

describe('what stands on the stock', () => {
  const box = (left: number, top: number, width = 5) => ({ left, top, width, length: 5 });
  const held = (
    keepOut: readonly object[],
    job: Record<string, unknown> = {},
    side: 'pocket' | 'plug' = 'plug',
  ) => wood({ job: { 'keep-out': keepOut, nut: { diameter: 30 }, 'bit.stick-out': 20, ...job } }).held(side);

  it('counts a keep-out whose drawing was not read', () => {
    const drawn = { part: 'plug', name: 'fence', outline: 'fence.svg' };
    const found = held([drawn, { part: 'plug', box: box(50, 40) }]);
    expect(found.keepOuts).toBe(2);
    expect(found.standing).toHaveLength(1);
    expect(found.unseen).toEqual(['The drawing of fence was not read.']);
  });

  it('is told once for the bits and once for the nut, the bits first, each with all that is swept', () => {
    const found = held([{ part: 'plug', name: 'clamp', box: box(81, 40, 9) }], {
      'clearing-bit': { diameter: 6, 'cutting-length': 20, 'stick-out': 20 },
    });
    expect(found.hits.map(({ name, by }) => [name, by])).toEqual([
      ['clamp', 'bit'],
      ['clamp', 'nut'],
    ]);
    // The bits cut 6 + 2.6 t past x = 80; the nut goes past all of it.
    expect(found.hits[0]?.area).toBeCloseTo(5 * (5 + 2.6 * t), 3);
    expect(found.hits[1]?.area).toBeCloseTo(45, 6);
  });

  it('of two nuts the one that goes farther out counts', () => {
    // Half of the nut past where the centres go: 2.6 t + 0.05 for the V-bit, 2.6 t + 3 for a clearing bit of 6.
    const job = { 'clearing-bit': { diameter: 6, 'cutting-length': 20, 'stick-out': 20 } };
    const post = [{ part: 'plug', name: 'post', box: box(97, 40) }];
    const more = 80 + 2.6 * t + 3 + 15 - 97;
    expect(held(post, job).hits.map(({ by, area }) => [by, Number(area.toFixed(2))])).toEqual([
      ['nut', Number((5 * more).toFixed(2))],
    ]);
    expect(held(post).hits).toEqual([]);
    // Where both come, the larger of the two areas is told.
    const near = held([{ part: 'plug', name: 'post', box: box(94, 40) }], job);
    expect(near.hits.map(({ area }) => Number(area.toFixed(2)))).toEqual([
      Number((5 * (more + 3)).toFixed(2)),
    ]);
    // In the pocket the centres stay inside: its nuts reach 15 mm past the outline at most.
    const beside = (left: number) => [{ part: 'pocket', name: 'post', box: box(left, 40) }];
    expect(held(beside(94.97), job, 'pocket').hits.map(({ by }) => by)).toEqual(['nut']);
    expect(held(beside(95.03), job, 'pocket').hits).toEqual([]);
  });

  it('looks with one bit alone where of the other it is not told how far it sticks out', () => {
    const post = [{ part: 'plug', name: 'post', box: box(94, 40) }];
    const job = { 'clearing-bit': { diameter: 6, 'cutting-length': 20 } };
    expect(held(post, job).hits.map(({ by }) => by)).toEqual(['nut']);
    expect(held(post, job).unseen).toHaveLength(1);
    expect(held(post, job).hits[0]?.area).toBeCloseTo(5 * (80 + 2.6 * t + 0.05 + 15 - 94), 2);
    // Each side by its own bit.
    const own = {
      'bit.stick-out': undefined,
      'plug-bit': { angle: 30, 'tip-flat': 0.1, 'stick-out': 20 },
    };
    expect(held(post, own).unseen).toEqual([]);
    expect(held([{ part: 'pocket', box: box(94, 40) }], own, 'pocket').unseen.join()).toContain(
      '(bit: stick-out)',
    );
  });

  it('is told of every keep-out that is met', () => {
    const posts = ['a', 'b'].map((name, k) => ({ part: 'plug', name, box: box(90, 30 + 10 * k) }));
    expect(held(posts).hits.map(({ name, by }) => name + by)).toEqual(['anut', 'bnut']);
    const both = ['a', 'b'].map((name, k) => ({ part: 'plug', name, box: box(78, 30 + 10 * k) }));
    expect(held(both).hits.map(({ name, by }) => name + by)).toEqual(['abit', 'bbit', 'anut', 'bnut']);
  });

  it('may be a disc anywhere in the drawing', () => {
    const [round] = held([{ part: 'plug', disc: { x: 30, y: 90, diameter: 6 } }]).standing;
    const ring = round!.shape.rings[0]!;
    const ys = ring.filter((_, k) => k % 2 === 1);
    const xs = ring.filter((_, k) => k % 2 === 0);
    expect([(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2]).toEqual([
      expect.closeTo(30, 9),
      expect.closeTo(90, 9),
    ]);
    let twice = 0;
    for (let k = 0; k < ring.length; k += 2) {
      const n = (k + 2) % ring.length;
      twice += ring[k]! * ring[n + 1]! - ring[n]! * ring[k + 1]!;
    }
    // A polygon of 96 sides round the disc: 96 r^2 tan(pi / 96), and it turns as outlines do.
    expect(twice / 2).toBeCloseTo(96 * 9 * Math.tan(Math.PI / 96), 6);
  });
});

describe('what a clearing bit takes', () => {
  it('is nothing to tell without one, nor without an outline', () => {
    expect(wood({}).cleared('plug')).toEqual({
      moot: 'The job names no clearing bit: the V-bit clears everything.',
    });
    const job = { 'clearing-bit': { diameter: 3, 'cutting-length': 20 } };
    expect(wood({ job, pocket: NONE, plug: PANEL }).cleared('pocket')).toEqual({
      untold: 'The pocket drawing holds no outline.',
    });
    expect(wood({ job, plug: NONE }).cleared('plug')).toEqual({
      untold: 'The plug drawing holds no outline.',
    });
  });

  it('takes time when the feeds are told in full, and else none is told', () => {
    const job = (feeds: object | undefined) => ({
      'clearing-bit': { diameter: 3, 'cutting-length': 20 },
      feeds: feeds && { clearing: feeds },
    });
    const minutes = (feeds: object | undefined) => {
      const found = wood({ job: job(feeds) }).cleared('pocket');
      return 'share' in found ? found.clearingMinutes : Number.NaN;
    };
    const full = { feed: 1000, 'step-down': 2, 'step-over': 1 };
    expect(minutes(full)).toBeGreaterThan(1);
    expect(minutes({ ...full, 'step-over': undefined })).toBeUndefined();
    expect(minutes({ ...full, 'step-down': undefined })).toBeUndefined();
    expect(minutes(undefined)).toBeUndefined();
  });
});
