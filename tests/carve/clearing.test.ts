import { describe, expect, it } from 'vitest';
import { carvingTime, clearing, clearingTime, type ToClear, volume } from '../../src/carve/clearing.ts';
import { degrees, inches } from '../../src/units.ts';
import { disc, rectangle } from './breakage-shapes.ts';

const TAPER = Math.tan(degrees(15));
const pocket = (size: number, change: Partial<ToClear> = {}): ToClear => ({
  wood: { rings: [rectangle(size, size)] },
  start: 0,
  flat: 7.62,
  taper: TAPER,
  tip: 0,
  ...change,
});

describe('where the clearing bit reaches', () => {
  it('a square less flat x taper all round, its corners round by the bit', () => {
    const side = 40 - 2 * 7.62 * TAPER;
    const { area, depth, cleared } = clearing(pocket(40), 3.175);
    const want = side * side - (4 - Math.PI) * 1.5875 ** 2;
    expect(area).toBeCloseTo(want, 2);
    expect(depth).toBe(7.62);
    expect(cleared).toBeCloseTo(want * 7.62, 1);
  });

  it('the narrowest stroke it enters is 2 (flat x taper + its radius): 5.6710, 7.2585, 10.4335 mm', () => {
    // Check values worked out apart for 30 degrees, 0.3 in deep, mills of 1/16, 1/8 and 1/4 in.
    for (const [mill, width] of [
      [inches(1 / 16), 5.671],
      [inches(1 / 8), 7.2585],
      [inches(1 / 4), 10.4335],
    ] as const) {
      const strip = (w: number): ToClear => pocket(0, { wood: { rings: [rectangle(80, w)] } });
      expect(clearing(strip(width - 0.002), mill).area).toBe(0);
      expect(clearing(strip(width + 0.002), mill).area).toBeGreaterThan(0);
    }
  });

  it('a plug: the frame round it, counted from its face', () => {
    const hole = rectangle(40, 40);
    const points = Array.from({ length: 4 }, (_, i) => [hole[2 * i]!, hole[2 * i + 1]!]);
    const frame = { rings: [rectangle(100, 100), new Float64Array(points.reverse().flat())] };
    const side = { wood: frame, start: 5, flat: 2.6, taper: TAPER, tip: 0 };
    const { depth, area } = clearing(side, 6);
    expect(depth).toBe(7.6);
    const off = 2.6 * TAPER;
    // Outside: 100 square drawn in with corners round by 3; inside: the plug grown, round by its own distance.
    const outer = (100 - 2 * off) ** 2 - (4 - Math.PI) * 9;
    const inner = 40 * 40 + 160 * off + Math.PI * off * off;
    expect(area).toBeCloseTo(outer - inner, 1);
  });

  it('what it leaves and what it takes make up the whole: the square frustum', () => {
    const side = pocket(40);
    const bottom = 40 - 2 * 7.62 * TAPER;
    const frustum = (7.62 / 3) * (1600 + 40 * bottom + bottom * bottom);
    expect(volume(side) / frustum).toBeCloseTo(1, 5);
    const cut = clearing(side, 3.175);
    expect(cut.cleared + cut.left).toBeCloseTo(volume(side), 9);
    expect(cut.left).toBeGreaterThan(0);
  });

  it('a start depth opens the mouth: the disc frustum from the face down', () => {
    const side = pocket(0, { wood: { rings: [disc(20, 800)] }, start: 2, flat: 5 });
    const [R, r] = [20 + 2 * TAPER, 20 - 5 * TAPER];
    expect(volume(side) / ((Math.PI * 7 * (R * R + R * r + r * r)) / 3)).toBeCloseTo(1, 4);
  });

  it('a bit that fits nowhere clears nothing and leaves all', () => {
    const side = pocket(5);
    const cut = clearing(side, 6.35);
    expect(cut.area).toBe(0);
    expect(cut.left).toBe(volume(side));
  });
});

describe('first estimates of the time', () => {
  const feed = { feed: 1000, passDepth: 2, stepover: 1 };

  it('clearing: area over stepover, once a pass', () => {
    const cut = clearing(pocket(40), 3.175);
    expect(clearingTime(cut, feed)).toBeCloseTo((cut.area / 1) * (4 / 1000), 9);
    expect(clearingTime({ ...cut, depth: 8 }, feed)).toBeCloseTo((cut.area * 4) / 1000, 9);
    // Paths half as far apart are twice as many.
    expect(clearingTime(cut, { ...feed, stepover: 0.5 })).toBeCloseTo(2 * clearingTime(cut, feed), 9);
  });

  it('carving: round the outline each pass, and what of the floor is left', () => {
    const side = pocket(40);
    const floor = (40 - 2 * 7.62 * TAPER) ** 2;
    expect(carvingTime(side, undefined, feed)).toBeCloseTo((160 * 4 + floor) / 1000, 4);
    const cut = clearing(side, 3.175);
    expect(carvingTime(side, cut.region, feed)).toBeCloseTo((640 + (4 - Math.PI) * 1.5875 ** 2) / 1000, 4);
    expect(carvingTime(side, undefined, { ...feed, stepover: 0.5 })).toBeCloseTo((640 + 2 * floor) / 1000, 4);
    // Three passes of 0.1 mm for 0.3 mm, whatever the last bit of 0.1 + 0.2 says.
    const shallow = pocket(40, { start: 0.1, flat: 0.2 });
    const bottom = (40 - 0.4 * TAPER) ** 2;
    const passes = { ...feed, passDepth: 0.1 };
    expect(carvingTime(shallow, undefined, passes)).toBeCloseTo((160 * 3 + bottom) / 1000, 4);
  });
});
