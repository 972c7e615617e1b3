import { describe, expect, it } from 'vitest';
import type { Pair, Seat } from '../../src/carve/fit.ts';
import { higherPlaces } from '../../src/carve/seat-peaks.ts';
import type { Place } from '../../src/carve/seat-place.ts';
import { highestHold, holdAt } from '../../src/carve/seat-pose.ts';
import { levelSeat } from '../../src/carve/seat-settle.ts';
import { seeded } from '../geometry/shapes-for-tests.ts';
import { type Depth, formulaPair, placeIn } from './formula-pair.ts';

/** A pair of which nothing is known but how high it clashes at a point. */
function clashing(lift: (x: number, y: number) => number): Pair {
  const real = { t: 0.25, r: 0.05, ball: 0 };
  return {
    mating: 0,
    middle: [100, 80],
    plug: { depth: (x: number, y: number) => -lift(x, y), real, nominal: real },
    pocket: { depth: () => 0, real, nominal: real },
  } as unknown as Pair;
}

const startAt = (pair: Pair, x: number, y: number): Place =>
  ({ x, y, rides: 'plug', own: pair.plug.depth(x, y), lift: -pair.plug.depth(x, y) }) as unknown as Place;

/** Uphill from near the middle, level: what is held at the most is found without moving. */
function walked(pair: Pair): readonly Place[] {
  const from = [startAt(pair, 100, 80)];
  return higherPlaces(pair, from, levelSeat(pair, from), 10);
}

describe('walking uphill to where a plug is held highest', () => {
  it('finds the top of a ridge that rises to a point', () => {
    const pair = clashing((x, y) => 1 - 0.5 * Math.abs(x - 100.03) - 0.2 * Math.abs(y - 80.02));
    const [higher] = walked(pair);
    expect(higher?.lift).toBeCloseTo(1, 6);
  });

  it.each([
    ['beyond a brink', (x: number) => (x > 100.01 ? Number.POSITIVE_INFINITY : x - 99)],
    ['at a brink', (x: number) => (x > 100 ? Number.POSITIVE_INFINITY : x - 99)],
    ['on a cliff', (x: number) => 1 + 1e12 * Math.max(0, x - 100)],
    ['where nothing is known', () => Number.NaN],
  ])('ends, with a height there is, %s', (_, lift) => {
    const pair = clashing(lift);
    for (const { lift: found } of walked(pair)) expect(Number.isFinite(found)).toBe(true);
  });
});

/** What a walk over formulas finds, and how often it asked for the plug's depth. */
function found(
  lift: Depth,
  starts: readonly (readonly [number, number, Partial<Place>?])[],
  {
    most = 10,
    seat = {},
    ...walls
  }: { most?: number; seat?: Partial<Seat>; tp?: number; tq?: number; r?: number } = {},
) {
  let asked = 0;
  const pair = formulaPair({
    tp: 0.25,
    tq: 0.25,
    mating: 0,
    middle: [100, 80],
    plug: (x, y) => {
      asked++;
      return -lift(x, y);
    },
    pocket: () => 0,
    ...walls,
  });
  const places = starts.map(([x, y, more]) => ({ ...placeIn(pair, 'plug', x, y), ...more }));
  const still = { ...levelSeat(pair, []), ...seat };
  const { hold } = highestHold(pair, places, still);
  asked = 0;
  const higher = higherPlaces(pair, places, { ...still, height: hold }, most);
  return { higher, asked, at: higher.map(({ x, y }) => [x, y] as const) };
}

describe('walking up hills told by formulas', () => {
  /** Peaks 1 high, 0.04 round, on a plain as low as told. */
  const peaks =
    (...tops: readonly (readonly [number, number])[]): Depth =>
    (x, y) =>
      Math.max(0, ...tops.map(([px, py]) => 1 - 25 * Math.hypot(x - px, y - py)));
  /** Only along one line through the middle, alone, is anything known. */
  const along =
    (upright: boolean, height: (s: number) => number): Depth =>
    (x, y) =>
      Math.abs(upright ? x - 100 : y - 80) > 1e-9 ? Number.NaN : height(upright ? y - 80 : x - 100);

  it.each([0.031, -0.031, 0.26, -0.26])(
    'goes along the way a place looks, ahead or back, where no slope is known, %f far',
    (to) => {
      for (const upright of [false, true])
        for (const way of [1, -1]) {
          const look = upright ? { nx: 0, ny: way } : { nx: way, ny: 0 };
          const { higher } = found(
            along(upright, (s) => 1 - 0.3 * Math.abs(s - to)),
            [[100, 80, look]],
          );
          expect(higher).toHaveLength(1);
          expect((upright ? higher[0]!.y - 80 : higher[0]!.x - 100) - to).toBeCloseTo(0, 3.7);
          expect(higher[0]).toMatchObject({ ...look, rides: 'plug', own: -higher[0]!.lift });
        }
    },
  );

  it('looks ahead and back with nine steps, each half as long, on a plain, and stays', () => {
    const { higher, asked } = found(
      along(false, () => 1),
      [[100, 80]],
    );
    expect(higher).toEqual([]);
    // Where it stands, ahead and back, and twice beside where it stands for the slope.
    expect(asked).toBe(1 + 2 * 9 + 2);
  });

  it.each([
    ['alike, by four halves of the tip flat', { r: 0.05 }, 0.1],
    ['alike, wider tips', { r: 0.08 }, 0.16],
    ['unlike, by half of that', { r: 0.08, tp: 0.2 }, 0.08],
    ['unlike and sharp, as if the tips were a tenth wide', { r: 0, tp: 0.2 }, 0.05],
  ])('takes places near one another for one hill where walls are %s', (_, walls, size) => {
    for (const upright of [false, true])
      for (const [far, hills] of [
        [0.98 * size, 1],
        [1.02 * size, 2],
      ] as const) {
        const tops = [0, far].map((s) => (upright ? [100, 80 + s] : [100 + s, 80]) as [number, number]);
        const starts = tops.map(
          ([x, y], k) =>
            [x + (upright ? 0.002 + 1e-4 * k : 0), y + (upright ? 0 : 0.002 + 1e-4 * k)] as const,
        );
        const { at } = found(peaks(...tops), starts, walls);
        expect(at).toHaveLength(hills);
        for (const [k, [x, y]] of at.entries())
          expect(Math.hypot(x - tops[k]![0], y - tops[k]![1])).toBeLessThan(1e-6);
      }
  });

  it('fills nothing with sharp points on walls alike', () => {
    const near = [[100, 80.002]] as const;
    expect(found(peaks([100, 80]), near, { r: 0 }).asked).toBe(0);
    expect(found(peaks([100, 80]), near, { r: 0.05 }).higher).toHaveLength(1);
  });

  it('walks from places no lower than the tip over the slope, and from the highest hills alone', () => {
    const tops = [[100, 80], [101, 80], [102, 80]] as const; // biome-ignore format: one line
    // Half a tip flat of 0.05 over the flatter slope, 0.2: what holds 0.25 lower cannot come as high.
    for (const walls of [
      { tp: 0.2, tq: 0.3 },
      { tp: 0.3, tq: 0.2 },
    ]) {
      const { at } = found(peaks(...tops), [[100, 80.004], [101, 80.0136], [102, 80.0144]], walls); // biome-ignore format: one line
      expect(at.map(([x]) => Math.round(x))).toEqual([100, 101]);
    }
    const starts = [[100, 80.004], [101, 80.005], [102, 80.006]] as const; // biome-ignore format: one line
    for (const most of [1, 2, 3])
      expect(found(peaks(...tops), starts, { most }).at.map(([x]) => Math.round(x))).toEqual(
        [100, 101, 102].slice(0, most),
      );
    // Tilted by 0.1 the plug is held highest where it is lowest of all.
    const tilted = { tiltX: 0.1, middle: [100, 80] as const };
    expect(found(peaks(...tops), starts.toReversed(), { most: 1, seat: tilted }).at[0]![0]).toBeCloseTo(
      100,
      3,
    );
    expect(
      found(peaks(...tops), starts, { most: 1, seat: { ...tilted, tiltX: -0.1 } }).at[0]![0],
    ).toBeCloseTo(102, 3);
  });

  it('starts where a place of the board meets the plug that has moved', () => {
    const moves = { dx: 0.5, dy: -0.25, turn: 0, middle: [100, 80] as const };
    const on = (rides: Place['rides'], x: number, y: number) => {
      const p = { rides, own: 0, lift: 0.9, x, y };
      return found(peaks([100.002, 80]), [[x, y, p]], { seat: moves }).at;
    };
    expect(on('board', 100.5, 79.75)).toHaveLength(1);
    expect(on('board', 100, 80)).toHaveLength(0);
    expect(on('plug', 100, 80.003)).toHaveLength(1);
  });

  it('comes to the top of what both parts leave for a plug that has moved, as a fine search finds it', () => {
    const random = seeded(31);
    const part = (): number => 2 * random() - 1;
    for (let n = 0; n < 12; n++) {
      const [ax, ay, bx, by] = [0.02 * part(), 0.02 * part(), 0.02 * part(), 0.02 * part()];
      const [tp, tq] = [0.25, n % 2 === 0 ? 0.25 : 0.2];
      const pair = formulaPair({
        tp,
        tq,
        middle: [99, 81],
        plug: (x, y) => 0.2 + Math.hypot(x - 100 - ax, 0.5 * (y - 80 - ay)) / tq,
        pocket: (x, y) => 0.3 + Math.hypot(0.4 * (x - 100 - bx), y - 80 - by) / tp,
      });
      const tilts = { tiltX: 0.05 * part(), tiltY: 0.05 * part(), turn: 0.003 * part() };
      const still = { ...levelSeat(pair, []), dx: 0.01 * part(), dy: 0.01 * part(), ...tilts };
      const place = placeIn(pair, 'plug', 100, 80);
      const height = holdAt(pair, { ...still, height: 0.4 }, place);
      const moved = { ...still, height };
      const holdOf = (x: number, y: number): number => holdAt(pair, moved, placeIn(pair, 'plug', x, y));
      let [x, y] = [100, 80];
      for (let step = 0.02; step > 1e-8; step /= 2)
        for (let k = 0; k < 3; k++)
          for (const [
            ux,
            uy,
          ] of [[1, 0], [-1, 0], [0, 1], [0, -1], [0.7, 0.7], [-0.7, 0.7], [0.7, -0.7], [-0.7, -0.7]] as const) // biome-ignore format: one line
            if (holdOf(x + step * ux, y + step * uy) > holdOf(x, y)) [x, y] = [x + step * ux, y + step * uy];
      const [higher] = higherPlaces(pair, [place], moved, 10);
      expect(higher, `${n}`).toBeDefined();
      expect(holdOf(higher!.x, higher!.y), `${n}`).toBeGreaterThan(holdOf(x, y) - 1e-5);
      expect(higher?.lift).toBeCloseTo(
        1 - pair.plug.depth(higher!.x, higher!.y) - pair.pocket.depth(higher!.x, higher!.y),
        12,
      );
    }
  });

  it('takes some dozens of questions', () => {
    const cone = (x: number, y: number): number => 1 - 2 * Math.hypot(x - 100.011, y - 80.013);
    const bowl = (x: number, y: number): number => 1 - 9 * ((x - 100.011) ** 2 + 2 * (y - 80.013) ** 2);
    const brink = (x: number): number => (x > 100.3 ? Number.POSITIVE_INFINITY : x - 99);
    for (const [lift, most] of [[cone, 45], [bowl, 50], [brink, 40]] as const) // biome-ignore format: one line
      expect(found(lift, [[100, 80]]).asked).toBeLessThanOrEqual(most);
  });
});
