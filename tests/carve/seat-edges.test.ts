import { describe, expect, it } from 'vitest';
import { type FitInput, liftAt, makePair } from '../../src/carve/fit.ts';
import { placesOf } from '../../src/carve/seat.ts';
import { edgePlaces } from '../../src/carve/seat-edges.ts';
import { degrees } from '../../src/units.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import type { Outline } from '../witness/sweep.ts';

const t = Math.tan(degrees(15));

function pairOf(name: string, change: Partial<FitInput> = {}) {
  const region = { rings: ringsOf(SHAPES[name] as Outline) };
  const bit = { halfAngle: degrees(15), tipFlat: 0.1 };
  return makePair({
    pocket: region,
    plug: region,
    pocketTool: bit,
    plugTool: bit,
    pocketStart: 0,
    pocketFlat: 4,
    plugStart: 1,
    plugFlat: 1,
    ...change,
  });
}

describe('places on the edges from corners', () => {
  it('run out over each corner of the plug up to the mouth, and are none where the outlines meet in the face', () => {
    expect(edgePlaces(pairOf('rectangle'))).toEqual([]);
    const pair = pairOf('rectangle', { pocketStart: 0.8 });
    const over = edgePlaces(pair).filter((p) => p.feature === 'spike');
    for (const [cx, cy] of SHAPES['rectangle']![0]!) {
      const [ux, uy] = [cx > 0 ? 1 : -1, cy > 0 ? 1 : -1].map((v) => v * Math.SQRT1_2) as [number, number];
      const out = over
        .map((p) => [(p.x - cx) * ux + (p.y - cy) * uy, (p.x - cx) * uy - (p.y - cy) * ux] as const)
        .filter(([along, aside]) => Math.abs(aside) < 1e-9 && along > 0 && along < 1)
        .map(([along]) => along)
        .sort((a, b) => a - b);
      expect(out.length).toBeGreaterThan(10);
      // The mouth lies 0.8 t outside the outline; the last tenth of the way is not asked.
      expect(out.at(-1)).toBeCloseTo(0.9 * 0.8 * t, 9);
      const steps = out.slice(1).map((v, k) => v - out[k]!);
      expect(Math.max(...steps)).toBeLessThan(0.06 * 0.8 * t);
    }
    for (const p of over) {
      expect(p.rides).toBe('plug');
      expect(p.lift).toBeCloseTo(liftAt(pair, p.x, p.y), 12);
    }
    // A round outline's corners are none.
    expect(edgePlaces(pairOf('disc', { pocketStart: 0.8 }))).toEqual([]);
  });

  it('meet the ridge over the point of a spike: nothing along the edge there holds higher', () => {
    for (const plugStart of [2.6, 3.5]) {
      const pair = pairOf('notch', { plugStart });
      const found = edgePlaces(pair).filter((p) => p.feature === 'ridge');
      // Midway between the spike's point, 0.9 up, and the edge 2.2 up.
      const middle = found.find((p) => Math.hypot(p.x - 1.5, p.y - 1.55) < 1e-6);
      expect(middle?.half).toBeCloseTo(0.65, 6);
      const most = Math.max(...placesOf(pair).map((p) => p.lift));
      for (let y = 0.9; y < 2; y += 0.001) expect((liftAt(pair, 1.5, y) - most) * t).toBeLessThan(2e-6);
    }
    // A face that lies higher than the ridge cuts it off.
    expect(edgePlaces(pairOf('notch', { plugStart: 2.3 }))).toEqual([]);
  });

  it.each([
    [0.4, 0.1, [6]],
    [0.7, 0.3, [0, 2, 6]],
  ])('meet it beside the ridge where the hold is highest, tips %d and %d', (pocketTip, plugTip, exact) => {
    const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
    const rings = ringsOf(SHAPES['letter with a counter'] as Outline).map((ring) =>
      Float64Array.from(ring, (_, k) => {
        const [x, y] = [ring[k - (k % 2)]!, ring[k - (k % 2) + 1]!];
        return k % 2 === 0 ? 3 + c * x - s * y : -5 + s * x + c * y;
      }),
    );
    const pair = pairOf('disc', {
      pocket: { rings },
      plug: { rings },
      pocketTool: { halfAngle: degrees(15), tipFlat: pocketTip },
      plugTool: { halfAngle: degrees(15), tipFlat: plugTip },
      plugStart: 3.5,
    });
    const found = edgePlaces(pair);
    for (const k of exact) {
      const [ridge, top] = [found[k]!, found[k + 1]!];
      const far = Math.hypot(top.x - ridge.x, top.y - ridge.y);
      let [most, at] = [ridge.lift, 0];
      for (let by = 0; by < 0.25; by += 0.0001) {
        const [x, y] = [(top.x - ridge.x) / far, (top.y - ridge.y) / far];
        const lift = liftAt(pair, ridge.x + by * x, ridge.y + by * y);
        if (lift > most) [most, at] = [lift, by];
      }
      expect(far).toBeCloseTo(at, 3);
      expect(top.lift).toBeGreaterThan(ridge.lift + 0.05);
      expect(Math.abs(top.lift - most)).toBeLessThan(5e-4);
    }
  });

  it('meet the ridge of a land over a corner, where a pocket start depth leaves board over the outline', () => {
    // The land between the islands is 0.18 wide; corners face corners across it.
    const pair = pairOf('two close islands', { pocketStart: 0.8 });
    const lands = edgePlaces(pair).filter((p) => p.feature === 'land');
    expect(lands.length).toBeGreaterThan(0);
    for (const p of lands) {
      expect(p.rides).toBe('board');
      expect(p.lift).toBeCloseTo(liftAt(pair, p.x, p.y), 12);
      expect(p.x).toBeGreaterThan(1.2);
      expect(p.x).toBeLessThan(1.38);
    }
  });

  it('are the corners themselves where the outlines meet in the face and the walls are unlike', () => {
    const found = edgePlaces(pairOf('rectangle', { plugTool: { halfAngle: degrees(20), tipFlat: 0.1 } }));
    expect(found.map(({ x, y, rides, feature }) => [x, y, rides, feature])).toEqual(
      SHAPES['rectangle']![0]!.map(([x, y]) => [x, y, 'plug', 'spike']),
    );
    for (const { angle, half } of found) {
      expect(angle).toBeCloseTo(Math.PI / 2, 9);
      expect(half).toBe(0);
    }
  });

  it('are one over a corner that turns by less than a radian, and none beyond the face', () => {
    // A regular octagon turns by 45 degrees at each corner.
    const eight = Array.from({ length: 8 }, (_, k) => degrees(45 * k + 11)).flatMap((a) => [
      30 + 5 * Math.cos(a),
      -12 + 5 * Math.sin(a),
    ]);
    const region = { rings: [Float64Array.from(eight)] };
    const found = edgePlaces(pairOf('disc', { pocket: region, plug: region, pocketStart: 0.8 }));
    expect(found.map(({ x, y }) => [x, y])).toEqual(
      Array.from({ length: 8 }, (_, k) => [
        expect.closeTo(eight[2 * k]!, 9),
        expect.closeTo(eight[2 * k + 1]!, 9),
      ]),
    );
    expect(edgePlaces(pairOf('notch', { plugStart: 2.3 }))).toEqual([]);
    expect(edgePlaces(pairOf('notch', { plugStart: 2.6 }))).not.toEqual([]);
  });
});
