import { describe, expect, it } from 'vitest';
import { type Effects, ONLY_GROWS, SOURCE_KEYS } from '../../src/carve/spread-effects.ts';
import { gapsOf, lotOf, nominalGap } from '../../src/carve/spread-lot.ts';
import { seeded } from '../geometry/shapes-for-tests.ts';

const COUNT = SOURCE_KEYS.length;

/** A point that holds at `hold`, and what single sources add at their plus and their minus. */
function point(
  hold: number,
  adds: Readonly<Record<number, readonly [plus: number, minus: number]>> = {},
): Effects {
  const plus = new Float64Array(COUNT);
  const minus = new Float64Array(COUNT);
  for (const [k, [more, less]] of Object.entries(adds)) {
    plus[Number(k)] = more;
    minus[Number(k)] = less;
  }
  return { hold, plus, minus };
}

describe('a lot of draws', () => {
  it.each(SOURCE_KEYS.map((key, k) => [key, k] as const))(
    'lets %s go evenly from its minus to its plus, or from nothing where it only grows',
    (key, k) => {
      const [h, t] = [3, 0.25];
      const { all, still } = gapsOf(lotOf([point(h, { [k]: [2, -1] })], [point(0)], t), 4000, 500, 7);
      const sorted = [...all].sort((a, b) => a - b).map((gap) => gap / t - h);
      const grows = ONLY_GROWS.has(key);
      const [low, high] = [sorted[0] as number, sorted.at(-1) as number];
      expect(low).toBeGreaterThanOrEqual(grows ? 0 : -1);
      expect(low).toBeLessThan(grows ? 0.01 : -0.99);
      expect(high).toBeLessThanOrEqual(2);
      expect(high).toBeGreaterThan(1.99);
      // Half of the draws on either side of its stated value; four standard errors of a share seen 4000 times: 0.032.
      const above = sorted.filter((v) => v > 0).length / 4000;
      expect(Math.abs(above - (grows ? 1 : 0.5))).toBeLessThan(0.032);
      const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
      expect(Math.abs(mean(sorted.filter((v) => v > 0)) - 1)).toBeLessThan(0.06);
      // Held still it is its stated value; any other held still changes nothing.
      still.forEach((gaps, j) => {
        expect(gaps).toHaveLength(500);
        gaps.forEach((gap, n) => {
          expect(gap).toBeCloseTo(j === k ? h * t : (all[n] as number), 12);
        });
      });
    },
  );

  it('opens by a wall that draws back as by a hold that rises, and never below nothing', () => {
    const wall = gapsOf(lotOf([point(0)], [point(-1, { 2: [-2, 3] })], 1), 2000, 2000, 3);
    const hold = gapsOf(lotOf([point(1, { 2: [2, -3] })], [point(0)], 1), 2000, 2000, 3);
    expect([...wall.all]).toEqual([...hold.all].map((gap) => expect.closeTo(gap, 12)));
    expect([...(wall.still[2] as Float64Array)].every((gap) => gap === 1)).toBe(true);
    expect(Math.min(...wall.all)).toBe(0);
    expect(Math.max(...wall.all)).toBeGreaterThan(2.99);
  });

  it('is the same for one seed, another for another, and as long as asked', () => {
    const lot = lotOf([point(1, { 3: [1, -1], 5: [2, 1] })], [point(0)], 1);
    const gaps = (draws: number, shared: number, seed: number) => gapsOf(lot, draws, shared, seed);
    expect(gaps(50, 0, 4).all).toEqual(gaps(80, 80, 4).all.slice(0, 50));
    expect(gaps(50, 0, 4).all).not.toEqual(gaps(50, 0, 5).all);
    expect(gaps(50, 20, 4).still.map((one) => one.length)).toEqual(SOURCE_KEYS.map(() => 20));
    expect(gaps(50, 90, 4).still.map((one) => one.length)).toEqual(SOURCE_KEYS.map(() => 50));
    expect(gaps(0, 0, 4).all).toHaveLength(0);
  });

  it('of many points is the widest of all pairs of a hold and a wall, each by itself', () => {
    const random = seeded(71);
    const part = (far: number): number => far * (2 * random() - 1);
    for (let n = 0; n < 12; n++) {
      const points = (count: number): Effects[] =>
        Array.from({ length: count }, () => ({
          hold: part(1),
          plus: Float64Array.from({ length: COUNT }, () => (random() < 0.4 ? part(0.3) : 0)),
          minus: Float64Array.from({ length: COUNT }, () => (random() < 0.4 ? part(0.3) : 0)),
        }));
      // Some of them beaten by others in every draw, some told twice.
      const [holds, walls] = [points(9), points(7)];
      holds.push({ ...holds[0]!, hold: holds[0]!.hold - 0.2 }, holds[1]!);
      walls.unshift({ ...walls[0]!, hold: walls[0]!.hold + 0.2 }, walls[1]!);
      const t = 0.2 + 0.1 * n;
      const whole = gapsOf(lotOf(holds, walls, t), 150, 150, n);
      const pairs = holds.flatMap((hold) => walls.map((wall) => lotOf([hold], [wall], t)));
      const each = pairs.map((lot) => gapsOf(lot, 150, 150, n));
      const widest = (of: (gaps: (typeof each)[number]) => Float64Array, k: number): number =>
        Math.max(...each.map((gaps) => of(gaps)[k] as number));
      for (let k = 0; k < 150; k++) {
        expect(whole.all[k]).toBeCloseTo(
          widest((gaps) => gaps.all, k),
          12,
        );
        for (let j = 0; j < COUNT; j++)
          expect(whole.still[j]?.[k]).toBeCloseTo(
            widest((gaps) => gaps.still[j] as Float64Array, k),
            12,
          );
      }
      const highest = Math.max(...holds.map((p) => p.hold));
      const lowest = Math.min(...walls.map((p) => p.hold));
      expect(nominalGap(lotOf(holds, walls, t))).toBeCloseTo(Math.max(0, (highest - lowest) * t), 12);
    }
  });

  it('leaves out what another point beats in every draw, and keeps what can win one', () => {
    const wall = [point(0)];
    const rows = (holds: Effects[]): number => lotOf(holds, wall, 1).holds.length / (1 + 2 * COUNT);
    expect(rows([point(1), point(0.9)])).toBe(1);
    expect(rows([point(0.9), point(1)])).toBe(1);
    expect(rows([point(1), point(1)])).toBe(1);
    expect(rows([point(1), point(0.9, { 4: [0.2, 0] })])).toBe(2);
    expect(rows([point(1), point(0.9, { 4: [0, 0.2] })])).toBe(2);
    expect(rows([point(1), point(0.9, { 4: [0.05, 0.2], 6: [-3, -3] })])).toBe(2);
    expect(rows([point(1), point(0.9, { 4: [0.05, 0.09] })])).toBe(1);
    const low = (walls: Effects[]): number => lotOf([point(0)], walls, 1).walls.length / (1 + 2 * COUNT);
    expect(low([point(1), point(0.9)])).toBe(1);
    expect(low([point(0.9), point(1, { 4: [-0.2, 0] })])).toBe(2);
    expect(low([point(0.9), point(1, { 4: [0.2, 0] })])).toBe(1);
  });

  it('of nothing opens nothing', () => {
    expect(nominalGap(lotOf([point(1)], [point(2)], 1))).toBe(0);
    expect(nominalGap(lotOf([point(2), point(5), point(3)], [point(4), point(1), point(2)], 0.5))).toBe(2);
  });
});
