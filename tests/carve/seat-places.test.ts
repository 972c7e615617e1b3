import { describe, expect, it } from 'vitest';
import { type FitInput, liftAt, makePair, type Pair } from '../../src/carve/fit.ts';
import type { Place } from '../../src/carve/seat-place.ts';
import { contactPlaces } from '../../src/carve/seat-places.ts';
import { degrees } from '../../src/units.ts';

const POCKET = { halfAngle: degrees(15), tipFlat: 0.1 };
const PLUG = { halfAngle: degrees(20), tipFlat: 0.24 };
const [tp, tq] = [Math.tan(degrees(15)), Math.tan(degrees(20))];
const [rp, rq] = [0.05, 0.12];

function pairOf(points: readonly (readonly [number, number])[], change: Partial<FitInput> = {}): Pair {
  const region = { rings: [Float64Array.from(points.flat())] };
  const depths = { pocketStart: 0.4, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };
  return makePair({ pocket: region, plug: region, pocketTool: POCKET, plugTool: PLUG, ...depths, ...change });
}

/** Whether there is a place of the kind at a point. */
const placeAt = (places: readonly Place[], feature: Place['feature'], x: number, y: number) =>
  places.find((p) => p.feature === feature && Math.hypot(p.x - x, p.y - y) < 1e-9);

const [X, Y, W, H] = [100, -50, 40, 30];
const FIELD = [
  [X, Y],
  [X + W, Y],
  [X + W, Y + H],
  [X, Y + H],
] as const;

describe('the places of a wide field', () => {
  const SPACING = 7;
  /** Distances from the walls of the places of a kind beside the lower wall, and of all gaps between them along it. */
  function beside(places: readonly Place[], feature: Place['feature'], way: 1 | -1): [Set<string>, number] {
    const low = places.filter(
      (p) =>
        p.feature === feature &&
        p.nx === 0 &&
        p.ny === way &&
        way * (p.y - Y) > 0.01 &&
        p.angle === undefined,
    );
    const xs = [...low.map((p) => p.x), X, X + W].sort((a, b) => a - b);
    const farthest = Math.max(...xs.slice(1).map((x, k) => x - xs[k]!));
    return [new Set(low.map((p) => (way * (p.y - Y)).toFixed(7))), farthest];
  }
  const far = (...distances: number[]) => new Set(distances.map((d) => d.toFixed(7)));

  it.each([
    // Where the floor reaches farther in than the face, and where the face does; the same outside.
    { pocketStart: 0.4, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 },
    { pocketStart: 1.7, pocketFlat: 1.1, plugStart: 1, plugFlat: 0.3 },
  ])('are the edge of its face, the foot of its walls, the mouth and the root: %j', (depths) => {
    const places = contactPlaces(pairOf(FIELD, depths), SPACING);
    const faceIn = depths.plugStart * tq;
    const floorIn = depths.pocketFlat * tp + rp;
    const mouthOut = depths.pocketStart * tp;
    const rootOut = depths.plugFlat * tq + rq;
    const [face, faceApart] = beside(places, 'face', 1);
    expect(face).toEqual(far(faceIn, Math.max(faceIn, floorIn) + rp + rq));
    expect(faceApart).toBeLessThanOrEqual(SPACING);
    const [mouth, mouthApart] = beside(places, 'mouth', -1);
    expect(mouth).toEqual(far(mouthOut));
    expect(mouthApart).toBeLessThanOrEqual(SPACING);
    expect(beside(places, 'land', -1)[0]).toEqual(far(Math.max(mouthOut, rootOut) + rq));
  });

  it('hold as their columns do, ride on their part, and are half as wide as told', () => {
    const pair = pairOf(FIELD);
    const places = contactPlaces(pair, SPACING);
    expect(new Set(places.map((p) => [p.feature, p.x, p.y].join())).size, 'none twice').toBe(places.length);
    for (const p of places) {
      expect(p.lift).toBeCloseTo(liftAt(pair, p.x, p.y), 12);
      expect(p.rides).toBe(p.feature === 'mouth' || p.feature === 'land' ? 'board' : p.rides);
      if (p.feature === 'face' || p.feature === 'ridge') expect(p.rides).toBe('plug');
      if (p.feature === 'face' || p.feature === 'mouth') expect(p.half).toBe(Number.POSITIVE_INFINITY);
    }
  });

  it('are the corners of its face, where both walls are as far off as the face begins', () => {
    const places = contactPlaces(pairOf(FIELD), SPACING);
    for (const [x, y, ux, uy] of [
      [X, Y, 1, 1],
      [X + W, Y, -1, 1],
      [X + W, Y + H, -1, -1],
      [X, Y + H, 1, -1],
    ] as const)
      expect(placeAt(places, 'face', x + ux * tq, y + uy * tq)).toBeDefined();
    // A plug too small to have a face there has no such corner.
    const small = [
      [0, 0],
      [0.4, 0],
      [0.4, 0.3],
      [0, 0.3],
    ] as const;
    expect(contactPlaces(pairOf(small), 0.1).filter((p) => p.feature === 'face')).toEqual([]);
  });

  it('are where the walls meet the faces too when the path is for another bit', () => {
    const pair = pairOf(FIELD, {
      pocketTool: { ...POCKET, toolpathHalfAngle: degrees(14) },
      plugTool: { ...PLUG, toolpathHalfAngle: degrees(22) },
    });
    const places = contactPlaces(pair, SPACING);
    // The plug's wall stands further out by the flat depth times the difference of the slopes.
    const out = 0.5 * (Math.tan(degrees(22)) - tq);
    expect(beside(places, 'face', 1)[0]).toContain((tq - out).toFixed(7));
    for (const p of places)
      if (p.feature === 'mouth') expect(Math.abs(pair.pocket.wall(p.x, p.y))).toBeLessThan(1e-6);
  });
});

describe('the places in corners', () => {
  /** A wedge of the angle with its point at the origin, opening to the right and closed far off. */
  function wedge(angle: number): readonly (readonly [number, number])[] {
    const [x, y] = [40 * Math.cos(angle / 2), 40 * Math.sin(angle / 2)];
    return [
      [0, 0],
      [x, -y],
      [60, 0],
      [x, y],
    ];
  }

  it.each([30, 60, 90, 110, 140, 155])(
    'lie on the ridge where the tip begins to be felt, %d degrees',
    (angle) => {
      const half = degrees(angle) / 2;
      const out = ((rq * (1 - Math.sin(half))) / Math.sin(half)) * Math.cos(half);
      const places = contactPlaces(pairOf(wedge(2 * half), { plugStart: 3 }), 1);
      const ridgeAt = (along: number) => placeAt(places, 'ridge', along / Math.cos(half), 0);
      const first = ridgeAt(1.05 * out + 1e-3);
      expect(first?.half).toBeCloseTo((1.05 * out + 1e-3) * Math.tan(half), 9);
      // The walls of the ridge stand at the corner's own angle.
      expect(first?.angle).toBeCloseTo(2 * half, 6);
      // A corner that turns by more than a radian is asked again further out.
      expect(ridgeAt(2 * out + 1e-3) !== undefined).toBe(Math.PI - 2 * half > 1);
    },
  );

  it.each([30, 60, 100, 140])(
    'run down the edge of a spike of board, from its mouth, %d degrees',
    (angle) => {
      const half = degrees(angle) / 2;
      const [w, y] = [3 * Math.tan(half), 6];
      const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
      const points = (
        [
          [-20, 0],
          [-w, 0],
          [0, 3],
          [w, 0],
          [20, 0],
          [20, 20],
          [-20, 20],
        ] as const
      ).map(([px, py]) => [c * px - s * py, s * px + c * py] as const);
      const spikes = contactPlaces(pairOf(points), 1)
        .filter((p) => p.feature === 'spike' && p.rides === 'board')
        .map((p) => ({ ...p, x: c * p.x + s * p.y, y: c * p.y - s * p.x }));
      const over = spikes.filter((p) => Math.abs(p.x) < 1e-9 && p.y < y).map((p) => p.y - 3);
      // Corners of the plug that stand out have none.
      expect(spikes.length).toBe(Math.PI - 2 * half < 1 ? 1 : 21);
      // The mouth's walls meet there, 0.4 tp from each wall of the spike.
      expect(Math.min(...over)).toBeCloseTo(-(0.4 * tp) / Math.sin(half), 9);
      const under = over.filter((v) => v > 1e-9).sort((a, b) => a - b);
      if (Math.PI - 2 * half < 1) expect(under).toEqual([]);
      else {
        // Down to nine tenths of the plug's depth, in twenty equal steps.
        expect(under.length).toBe(20);
        for (const [k, v] of under.entries()) expect(v).toBeCloseTo((0.9 * tp * (k + 1)) / 20, 9);
      }
      for (const p of spikes.filter(({ x }) => Math.abs(x) < 1e-9)) {
        expect(p.half).toBe(0);
        expect(p.angle).toBeCloseTo(2 * half, 9);
      }
    },
  );
});

describe('the places of narrow parts', () => {
  it('are the ridge of a stroke, half as wide as the stroke, and no face', () => {
    const bar = [
      [0, 0],
      [20, 0],
      [20, 0.5],
      [0, 0.5],
    ] as const;
    const places = contactPlaces(pairOf(bar), 1);
    expect(places.some((p) => p.feature === 'face')).toBe(false);
    const middle = places.filter((p) => p.feature === 'ridge' && p.x > 1 && p.x < 19);
    expect(middle.length).toBeGreaterThan(30);
    for (const p of middle) {
      expect(p.y).toBeCloseTo(0.25, 9);
      expect(p.half).toBeCloseTo(0.25, 9);
      expect(p.angle).toBeCloseTo(0, 6);
    }
  });

  it('are the middle of a land that the mouths leave no face', () => {
    const gap = 0.16;
    const both = [0, 5 + gap].map((x) => Float64Array.of(x, 0, x + 5, 0, x + 5, 9, x, 9));
    const region = { rings: both };
    const places = contactPlaces(pairOf([], { pocket: region, plug: region }), 1);
    const lands = places.filter(
      (p) => p.feature === 'land' && p.x > 5 && p.x < 5 + gap && p.y > 0.5 && p.y < 8.5,
    );
    expect(lands.length).toBeGreaterThan(10);
    for (const p of lands) {
      expect(p.x).toBeCloseTo(5 + gap / 2, 9);
      expect(p.half).toBeCloseTo(gap / 2, 9);
    }
    expect(
      places.some((p) => p.feature === 'mouth' && p.x > 5 && p.x < 5 + gap && p.y > 0.5 && p.y < 8.5),
    ).toBe(false);
  });

  it.each([1, -1])(
    'are the tops of ridges between the spots, whichever bulge is the widest, from side %d',
    (way) => {
      // A stroke too narrow for the tip: its pocket holds the plug by half its width, over the slope.
      const wide = { halfAngle: degrees(15), tipFlat: 1 };
      const halves = [0.1, 0.16, 0.12, 0.19, 0.1, 0.17, 0.11];
      const xs = halves.map((_, k) => way * (5 * k + 0.37));
      const points = [
        ...xs.map((x, k) => [x, -halves[k]!] as const),
        ...xs.map((x, k) => [x, halves[k]!] as const).reverse(),
      ];
      const pair = pairOf(way > 0 ? points : points.reverse(), { pocketTool: wide, plugTool: wide });
      let most = Number.NEGATIVE_INFINITY;
      for (let n = -200; n <= 200; n++) most = Math.max(most, liftAt(pair, xs[3]! + n * 1e-3, 0));
      for (const spacing of [1.3, 2, 5]) {
        const places = contactPlaces(pair, spacing);
        const highest = Math.max(...places.map((p) => p.lift));
        expect(places.find((p) => p.lift === highest)?.feature).toBe('ridge');
        expect((highest - most) * tp, `${spacing}`).toBeGreaterThan(-2e-6);
      }
    },
  );
});
