import { describe, expect, it } from 'vitest';
import {
  keepOutHits,
  nutSweep,
  plugBorder,
  pocketBorder,
  stockMargin,
  sweptAt,
} from '../../src/carve/stock.ts';
import { contains } from '../../src/geometry/region.ts';
import { degrees } from '../../src/units.ts';
import { disc, rectangle } from './breakage-shapes.ts';

const TAPER = Math.tan(degrees(15));
const outline = { rings: [rectangle(100, 60, 80, 50)] }; // x 30..130, y 20..80

describe('the border a plug needs', () => {
  it('one lap of the V-bit: its path tip + flat t off the outline, and as wide again at the face as it is deep', () => {
    // Start 5, flat 2.6, tip 0.05: path 0.05 + 2.6 t outside, radius at the face 0.05 + 7.6 t.
    const by = { taper: TAPER, tip: 0.05, start: 5, flat: 2.6 };
    expect(plugBorder(by)).toBeCloseTo(0.1 + 10.2 * TAPER, 9);
    expect(plugBorder({ ...by, clearing: 3.175 })).toBeCloseTo(2.6 * TAPER + 3.175, 9);
    expect(plugBorder({ ...by, clearing: 0.5 })).toBeCloseTo(0.1 + 10.2 * TAPER, 9);
  });

  it('a pocket reaches past its outline only when that lies below the face', () => {
    expect(pocketBorder({ taper: TAPER, start: 0 })).toBe(0);
    expect(pocketBorder({ taper: TAPER, start: 2 })).toBeCloseTo(2 * TAPER, 9);
  });
});

describe('the stock against the design', () => {
  it('as if centred when its place is not stated', () => {
    expect(stockMargin(outline, { width: 120, length: 70 })).toEqual({
      margin: 5,
      side: undefined,
      centred: true,
      turned: -15,
      size: { width: 100, length: 60 },
    });
    expect(stockMargin(outline, { width: 120 }).margin).toBe(10);
    expect(stockMargin(outline, {}).margin).toBeUndefined();
    expect(stockMargin(outline, { width: 90, length: 90 }).margin).toBe(-5);
  });

  it('side by side when it is', () => {
    const margin = stockMargin(outline, { left: 10, top: 15, width: 125, length: 80 });
    expect(margin).toMatchObject({ margin: 5, centred: false });
    expect(stockMargin(outline, { left: 0, top: 0, width: 133, length: 100 })).toMatchObject({
      margin: 3,
      side: 'right',
    });
    expect(stockMargin(outline, { left: 40, top: 0 })).toMatchObject({ margin: -10, side: 'left' });
  });
});

describe('each side of the stock', () => {
  it('is told by its own name: the design lies at x 30 to 130, y 20 to 80', () => {
    const held = (left: number, top: number, width: number, length: number) =>
      stockMargin(outline, { left, top, width, length });
    expect(held(28, 10, 120, 90)).toMatchObject({ margin: 2, side: 'left' });
    expect(held(20, 17, 120, 90)).toMatchObject({ margin: 3, side: 'top' });
    expect(held(20, 10, 114, 90)).toMatchObject({ margin: 4, side: 'right' });
    expect(held(20, 10, 120, 71)).toMatchObject({ margin: 1, side: 'bottom' });
    expect(held(28, 18, 104, 64)).toMatchObject({ margin: 2, side: 'left' });
  });

  it('is not known by half a place, and one size alone tells the other way only', () => {
    for (const place of [{ left: 0 }, { top: 0 }])
      expect(stockMargin(outline, { ...place, width: 120, length: 70 })).toMatchObject({
        margin: 5,
        centred: true,
      });
    expect(stockMargin(outline, { left: 20, top: 10, width: 112 })).toMatchObject({
      margin: 2,
      side: 'right',
    });
    expect(stockMargin(outline, { left: 20, top: 10, length: 72 })).toMatchObject({
      margin: 2,
      side: 'bottom',
    });
    expect(stockMargin(outline, { length: 68 })).toMatchObject({ margin: 4, turned: -16 });
    expect(stockMargin(outline, { width: 108 })).toMatchObject({ margin: 4, turned: 24 });
  });
});

describe('keep-outs', () => {
  const clamp = (x: number, height?: number) => ({
    name: 'clamp',
    shape: { rings: [disc(5, 200, x, 50)] },
    height,
  });

  it('the swept place is the outline grown by the border', () => {
    const swept = sweptAt(outline, 3);
    expect(contains(swept, 132.9, 50)).toBe(true);
    expect(contains(swept, 133.1, 50)).toBe(false);
    expect(contains(swept, 132.9, 82.9)).toBe(false); // round at the corner
  });

  it('are hit by the bit when they overlap it, at a place inside both', () => {
    const [hit] = keepOutHits(outline, 3, [clamp(137)]);
    expect(hit).toMatchObject({ name: 'clamp', by: 'bit' });
    expect(hit!.at[0]).toBeGreaterThan(132);
    expect(hit!.at[0]).toBeLessThan(133);
    // Circle segment of height 1 in a circle of radius 5: r^2 acos(1 - h/r) - (r - h) sqrt(2 r h - h^2).
    expect(hit!.area).toBeCloseTo(25 * Math.acos(0.8) - 4 * 3, 1);
    expect(keepOutHits(outline, 3, [clamp(138.5)])).toEqual([]);
    expect(keepOutHits(outline, 3, [])).toEqual([]);
  });

  it('are hit by the nut when they stand higher than it hangs', () => {
    const nut = nutSweep(0.75, 7.6, { diameter: 30, stickOut: 25 });
    expect(nut.reach).toBeCloseTo(15.75, 9);
    expect(nut.height).toBeCloseTo(17.4, 9);
    expect(keepOutHits(outline, 3, [clamp(140, 20)], nut)).toMatchObject([{ by: 'nut' }]);
    expect(keepOutHits(outline, 3, [clamp(140, 17)], nut)).toEqual([]);
    expect(keepOutHits(outline, 3, [clamp(140, nut.height)], nut)).toEqual([]);
    expect(keepOutHits(outline, 3, [clamp(140)], nut)).toMatchObject([{ by: 'nut' }]);
    expect(keepOutHits(outline, 3, [clamp(151, 20)], nut)).toEqual([]);
  });
});
