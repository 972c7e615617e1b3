/** What a fit tells of places put by hand: nothing is sought, so that each figure can be worked out. */
import { describe, expect, it } from 'vitest';
import { type FitInput, makePair } from '../../src/carve/fit.ts';
import { placesOf, seatPair, touchingOf, widest } from '../../src/carve/seat.ts';
import type { Place } from '../../src/carve/seat-place.ts';
import { degrees } from '../../src/units.ts';
import { ring } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import type { Outline } from '../witness/sweep.ts';

const [X, Y] = [200, -90];
const FIELD = ring(X, Y, X + 30, Y, X + 30, Y + 20, X, Y + 20);
const DEPTHS = { pocketStart: 0.3, pocketFlat: 1.6, plugStart: 1, plugFlat: 0.8 };
/** Sharp bits, so that no hill is walked up. */
const pairOf = (change: Partial<FitInput> = {}) =>
  makePair({
    pocket: { rings: [FIELD] },
    plug: { rings: [FIELD] },
    pocketTool: { halfAngle: degrees(15), tipFlat: 0 },
    plugTool: { halfAngle: degrees(15), tipFlat: 0 },
    ...DEPTHS,
    ...change,
  });
const place = (x: number, y: number, lift: number, feature: Place['feature']): Place => ({
  x: X + x,
  y: Y + y,
  rides: feature === 'land' || feature === 'mouth' ? 'board' : 'plug',
  feature,
  own: 0.5,
  lift,
  nx: 1,
  ny: 0,
  half: 0,
  angle: undefined,
});

describe('what a fit tells of a plug held level', () => {
  // Riding on the board with its face, a plug is not moved.
  const places = [
    place(5, 5, 1.2, 'face'),
    place(9, 5, 1.1, 'spike'),
    place(4, 7, 0.9, 'land'),
    place(6, 7, 0.8, 'land'),
    place(8, 3, 0.7, 'mouth'),
  ];

  it('is its height, what is left under it and over the board, and over the narrowest land', () => {
    const fit = seatPair(pairOf(), { places, mouth: [] });
    expect(fit.level).toBe(1.2);
    expect(fit.proud).toBe(1.2);
    expect(fit.seat).toMatchObject({ height: 1.2, dx: 0, dy: 0, turn: 0, tiltX: 0, tiltY: 0 });
    expect(fit.glueGap.face).toBeCloseTo(1.6 - 1 + 1.2, 12);
    expect(fit.sawGap.wide).toBeCloseTo(0.8 - 0.3 + 1.2, 12);
    // The highest land holds it at 0.9: so much less than it stands is free over it.
    expect(fit.sawGap.least).toBeCloseTo(1.2 - 0.9, 12);
    expect(fit.sawGap.at).toEqual([X + 4, Y + 7]);
    expect(fit.worstGap).toBeUndefined();
    expect(fit.rim).toEqual([]);
  });

  it('is the room over wide board where no land is nearer', () => {
    for (const lands of [[], [place(4, 7, -0.6, 'land')]]) {
      const { sawGap } = seatPair(pairOf(), { places: [place(5, 5, 1.2, 'face'), ...lands], mouth: [] });
      expect(sawGap).toEqual({ wide: sawGap.wide, least: sawGap.wide, at: undefined });
      expect(sawGap.wide).toBeCloseTo(1.7, 12);
    }
    const low = seatPair(pairOf(), {
      places: [place(5, 5, 1.2, 'face'), place(4, 7, -0.49, 'land')],
      mouth: [],
    });
    expect(low.sawGap.least).toBeCloseTo(1.69, 12);
    expect(low.sawGap.at).toEqual([X + 4, Y + 7]);
  });

  it('is off by two micrometres over the slope of the steeper walls', () => {
    const told = (pocket: number, plug: number): number =>
      seatPair(
        pairOf({
          pocketTool: { halfAngle: degrees(pocket), tipFlat: 0 },
          plugTool: { halfAngle: degrees(plug), tipFlat: 0 },
        }),
        { places: places.slice(0, 1), mouth: [] },
      ).give;
    for (const [pocket, plug] of [[15, 15], [15, 30], [30, 15]] as const) // biome-ignore format: one line
      expect(told(pocket, plug)).toBeCloseTo(0.002 / Math.tan(degrees(15)), 12);
  });

  it('is held by no place at all where there is none', () => {
    const fit = seatPair(pairOf(), { places: [], mouth: [] });
    expect(fit.level).toBeNaN();
    expect(fit.holds).toEqual([]);
  });

  it('opens as wide at each point of the mouth as it draws back', () => {
    const mouth = [[X + 7, Y], [X + 9, Y - 0.1]] as const; // biome-ignore format: one line
    const { rim, worstGap } = seatPair(pairOf(), { places, mouth });
    const gap = (1.2 - 0.3) * Math.tan(degrees(15));
    expect(rim.map((g) => g.at)).toEqual(mouth);
    expect(rim[0]?.gap).toBeCloseTo(gap, 9);
    expect(rim[1]?.gap).toBeCloseTo(gap + 0.1, 9);
    expect(worstGap).toBe(rim[1]);
  });
});

describe('the widest opening', () => {
  it('is the first of the widest, and none where there is no rim', () => {
    const rim = [0.1, 0.3, 0.2, 0.3, 0].map((gap, k) => ({ gap, at: [k, 0] as const }));
    expect(widest(rim)).toBe(rim[1]);
    expect(widest(rim.toReversed())).toBe(rim[3]);
    expect(widest([])).toBeUndefined();
  });
});

describe('where a pair may meet', () => {
  it.each([
    // Both outlines together are 2,000, 200 and 8,000 mm long: a spot on every two-thirds, quarter and whole mm.
    [250, 2 / 3],
    [25, 1 / 4],
    [1000, 1],
  ])('is asked along a square of %d mm at every %f mm', (side, apart) => {
    const field = ring(0, 0, side, 0, side, side, 0, side);
    const { mouth } = touchingOf(pairOf({ pocket: { rings: [field] }, plug: { rings: [field] } }));
    expect(mouth.length / ((4 * side) / apart)).toBeCloseTo(1, 1.5);
  });

  it.each(Object.keys(SHAPES))('is told from the highest down: %s', (name) => {
    const rings = ringsOf(SHAPES[name] as Outline);
    const bit = { halfAngle: degrees(30), tipFlat: 0.12 };
    const input = { pocket: { rings }, plug: { rings }, pocketTool: bit, plugTool: bit };
    for (const plugTool of [bit, { halfAngle: degrees(22.5), tipFlat: 0.05 }]) {
      const places = placesOf(pairOf({ ...input, plugTool, pocketStart: 0.4, plugStart: 0.6 }));
      const order = places.toSorted((a, b) => b.lift - a.lift || a.x - b.x || a.y - b.y);
      expect(places.map(({ lift, x, y }) => [lift, x, y])).toEqual(
        order.map(({ lift, x, y }) => [lift, x, y]),
      );
    }
  });
});
