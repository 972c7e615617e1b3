import { describe, expect, it } from 'vitest';
import { bestInDisc, type Edge, solve } from '../../src/carve/cut-room-lines.ts';
import { degrees } from '../../src/units.ts';
import { seeded } from '../geometry/shapes-for-tests.ts';

/** The distance from a straight wall through a point, growing towards an angle. */
function wall(angle: number, x: number, y: number): Edge {
  const [gx, gy] = [Math.cos(degrees(angle)), Math.sin(degrees(angle))];
  return { gx, gy, k: -gx * x - gy * y };
}

const roomOf = (edges: readonly Edge[], x: number, y: number): number =>
  Math.min(...edges.map((e) => e.gx * x + e.gy * y + e.k));

/** Places of a disc, 4 in 100 of its radius apart. */
function* placesIn(x: number, y: number, r: number): Generator<readonly [number, number]> {
  for (let k = 0; k <= 25; k++)
    for (let a = 0; a < 360; a += 4)
      yield [x + ((r * k) / 25) * Math.cos(degrees(a)), y + ((r * k) / 25) * Math.sin(degrees(a))];
}

function randomWalls(random: () => number, count: number): Edge[] {
  return Array.from({ length: count }, () => wall(360 * random(), 2 * random() - 1, 2 * random() - 1));
}

describe('the most room among straight walls that a disc reaches', () => {
  it('is straight away from one wall, in the corner of two, and in the middle of three', () => {
    expect(bestInDisc(0, 0, 2, [wall(90, 0, -1)])).toMatchObject({ x: expect.closeTo(0, 12), y: 2, room: 3 });
    // A wall drawn in three pieces is one.
    const piece = { gx: 0, gy: 1, k: 1 };
    expect(bestInDisc(0, 0, 2, [piece, piece, piece])).toEqual({ x: 0, y: 2, room: 3 });
    // A trough open to the right, its walls 60 degrees apart.
    const trough = [wall(60, 0, 0), wall(-60, 0, 0)];
    const { x, y, room } = bestInDisc(0, 1, 3, trough);
    expect(x).toBeCloseTo(Math.sqrt(8), 12);
    expect(y).toBeCloseTo(0, 12);
    expect(room).toBeCloseTo(Math.sqrt(8) / 2, 12);
    // An equilateral triangle of inscribed radius 1.
    const three = [90, 210, 330].map((a) => wall(a, -Math.cos(degrees(a)), -Math.sin(degrees(a))));
    const middle = bestInDisc(0.5, 0.4, 1, three);
    expect([middle.x, middle.y, middle.room]).toEqual([0, 0, 1].map((v) => expect.closeTo(v, 12)));
  });

  it('between parallel walls is half the way across', () => {
    const { y, room } = bestInDisc(0.3, 0.2, 2, [wall(90, 0, -1), wall(-90, 0, 1)]);
    expect([y, room]).toEqual([0, 1].map((v) => expect.closeTo(v, 12)));
  });

  it('is the point itself where the way across is level, and in a dead end the middle before its wall', () => {
    const across = [
      { gx: 0, gy: 1, k: 1 },
      { gx: 0, gy: -1, k: 1 },
    ];
    expect(bestInDisc(0.25, 0, 2, across)).toEqual({ x: 0.25, y: 0, room: 1 });
    // A stroke 2 wide that ends at x = 3: whichever wall is named first, one pair never crosses.
    const end = wall(180, 3, 0);
    for (const edges of [
      [...across, end],
      [end, ...across],
    ]) {
      const { x, y, room } = bestInDisc(2.5, 0.5, 1, edges);
      expect([y, room]).toEqual([0, 1].map((v) => expect.closeTo(v, 12)));
      expect(x).toBeLessThan(2 + 1e-12);
    }
  });

  it('is at least what any place tried has, lies within, and is what it says', () => {
    const random = seeded(41);
    for (let n = 0; n < 300; n++) {
      const edges = randomWalls(random, 1 + (n % 6));
      const [x, y, r] = [2 * random() - 1, 2 * random() - 1, 1.5 * random()];
      const best = bestInDisc(x, y, r, edges);
      expect(Math.hypot(best.x - x, best.y - y)).toBeLessThan(r + 1e-9);
      expect(best.room).toBeCloseTo(roomOf(edges, best.x, best.y), 12);
      let most = Number.NEGATIVE_INFINITY;
      for (const [px, py] of placesIn(x, y, r)) most = Math.max(most, roomOf(edges, px, py));
      expect(best.room).toBeGreaterThan(most - 1e-9);
    }
  });
});

describe('the best centre for straight walls', () => {
  it('is within the tip of the point where that is legal, else the nearest legal place', () => {
    const floor = [wall(90, 0, 0)];
    expect(solve(5, 1, 0.5, 0.5, floor)).toMatchObject({
      x: expect.closeTo(5, 12),
      y: expect.closeTo(1.5, 12),
    });
    expect(solve(5, 0.1, 0.5, 2, floor)).toMatchObject({
      x: expect.closeTo(5, 12),
      y: expect.closeTo(2, 12),
    });
    // Into a corner of 90 degrees from outside both walls.
    const corner = [wall(0, 0, 0), wall(90, 0, 0)];
    expect(solve(-3, -1, 0.5, 2, corner)).toMatchObject({
      x: expect.closeTo(2, 12),
      y: expect.closeTo(2, 12),
    });
    // Between two walls too near together there is none.
    expect(solve(0, 0, 0.1, 1, [wall(90, 0, -0.5), wall(-90, 0, 0.5)])).toBeUndefined();
  });

  it('in a stroke just as wide as the bit lies in its middle', () => {
    const across = [
      { gx: 0, gy: 1, k: 1 },
      { gx: 0, gy: -1, k: 1 },
    ];
    expect(solve(0.25, 0, 0.5, 1, across)).toMatchObject({ x: 0.25, y: 0 });
  });

  it('keeps its room off every wall to a few hundred-millionths', () => {
    // A corner of 90 degrees, and a wall across it that takes just more away than the nearest place to the corner.
    const legal = 0.5;
    const more = 2e-7;
    const g = Math.SQRT1_2;
    const edges = [wall(0, 0, 0), wall(90, 0, 0), { gx: g, gy: g, k: legal - more - 2 * g * legal }];
    const found = solve(-1, -1, 0.1, legal, edges);
    const room = roomOf(edges, found?.x ?? 0, found?.y ?? 0);
    expect(room).toBeGreaterThan(legal - 2e-8);
  });

  it('is as near as any legal place tried, and legal', () => {
    const random = seeded(42);
    let found = 0;
    for (let n = 0; n < 300; n++) {
      const edges = randomWalls(random, 1 + (n % 4));
      const [x, y, legal] = [2 * random() - 1, 2 * random() - 1, random()];
      const r = 0.2 * random();
      let nearest = Number.POSITIVE_INFINITY;
      for (const [px, py] of placesIn(x, y, 6))
        if (roomOf(edges, px, py) >= legal) nearest = Math.min(nearest, Math.hypot(px - x, py - y));
      const at = solve(x, y, r, legal, edges);
      if (at === undefined) {
        expect(nearest).toBeGreaterThan(5);
        continue;
      }
      found++;
      expect(roomOf(edges, at.x, at.y)).toBeGreaterThan(legal - 1e-7);
      const far = Math.hypot(at.x - x, at.y - y);
      expect(far).toBeLessThan(Math.max(r, nearest) + 1e-9);
    }
    expect(found).toBeGreaterThan(200);
  });
});
