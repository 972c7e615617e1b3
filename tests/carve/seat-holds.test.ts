import { describe, expect, it } from 'vitest';
import { type Contact, type FitInput, liftAt, makePair } from '../../src/carve/fit.ts';
import { placesOf, seat, seatPair } from '../../src/carve/seat.ts';
import type { Place } from '../../src/carve/seat-place.ts';
import { contactPlaces } from '../../src/carve/seat-places.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import { degrees } from '../../src/units.ts';
import { circle, ring } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { distance, isIn, type Outline } from '../witness/sweep.ts';

const t = Math.tan(degrees(15));
const DEPTHS = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };

function inputOf(rings: Float64Array[], r: number, change: Partial<FitInput> = {}): FitInput {
  const bit = { halfAngle: degrees(15), tipFlat: 2 * r };
  return { pocket: { rings }, plug: { rings }, pocketTool: bit, plugTool: bit, ...DEPTHS, ...change };
}

const apartBy = (contacts: readonly Contact[]): number =>
  Math.min(
    ...contacts.flatMap((a, k) =>
      contacts.slice(0, k).map((b) => Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1])),
    ),
  );
const kindsOf = (contacts: readonly Contact[]): readonly string[] => [
  ...new Set(contacts.map((c) => c.kind)),
];

describe('what holds a plug, by name', () => {
  it('all corners of a rectangle alike, on the lines that halve them', () => {
    const r = 0.06;
    const { tight, holds, level } = seat(inputOf(ringsOf(SHAPES['rectangle'] as Outline), r));
    const corners = tight.filter((c) => c.alone > level - 1e-6);
    const points = SHAPES['rectangle']![0]!;
    const metAt = corners.map(({ kind, angle, alone, at, width }) => {
      expect(kind).toBe('corner');
      expect(angle).toBeCloseTo(Math.PI / 2, 4);
      expect(width).toBeUndefined();
      expect(alone).toBeCloseTo((r * (1 - Math.SQRT1_2)) / t, 4);
      // All along the ridge out of a corner it is held alike: on the line that halves it.
      const far = points.map(([x, y]) => Math.hypot(x - at[0], y - at[1]));
      const point = points[far.indexOf(Math.min(...far))]!;
      expect(Math.abs(at[0] - point[0])).toBeCloseTo(Math.abs(at[1] - point[1]), 6);
      return point;
    });
    expect(new Set(metAt).size).toBe(4);
    expect(apartBy(corners)).toBeGreaterThan(3.2 / 40);
    // It rests on all four, for it needs no tilt.
    expect(kindsOf(holds)).toContain('corner');
    const ranks = tight.map((c) => Math.round(1e5 * c.alone));
    expect(ranks).toEqual([...ranks].sort((a, b) => b - a));
  });

  it('no more of them than can be read', () => {
    // Thirty triangles in a row with ninety corners.
    const rings = Array.from({ length: 30 }, (_, k) => ring(4 * k, 0, 4 * k + 3, 0, 4 * k + 1.5, 2.6));
    const { tight } = seat(inputOf(rings, 0.06));
    expect(tight).toHaveLength(24);
    expect(kindsOf(tight)).toEqual(['corner']);
  });

  it('a stroke by its width, at its middle line', () => {
    const stroke = ring(0, 0, 12, 0, 12, 0.4, 0, 0.4);
    const { tight } = seat(inputOf([stroke], 0.05));
    const [first] = tight;
    expect(first?.kind).toBe('narrow-stroke');
    expect(first?.width).toBeCloseTo(0.4, 9);
    expect(first?.angle).toBeUndefined();
    expect(first?.at[1]).toBeCloseTo(0.2, 6);
    expect(first?.alone).toBeCloseTo(0.05 / t, 6);
    expect(apartBy(tight.filter((c) => c.kind === 'narrow-stroke'))).toBeGreaterThan(12 / 40);
  });

  it('a stroke and a land that the tip does not get into, by their widths', () => {
    // A field with an arm 0.15 wide, and with a slit as wide.
    const arm = ring(0, 0, 5, 0, 5, 2, 9, 2, 9, 2.15, 5, 2.15, 5, 5, 0, 5);
    const slit = ring(0, 0, 9, 0, 9, 2, 4, 2, 4, 2.15, 9, 2.15, 9, 5, 0, 5);
    const ofArm = seat(inputOf([arm], 0.1)).tight.find((c) => c.kind === 'uncut-stroke');
    expect(ofArm?.width).toBeCloseTo(0.15, 6);
    expect(ofArm?.alone).toBeCloseTo(0.075 / t, 4);
    const ofSlit = seat(inputOf([slit], 0.1)).tight[0];
    expect(ofSlit?.kind).toBe('uncut-land');
    expect(ofSlit?.width).toBeCloseTo(0.15, 6);
    expect(ofSlit?.alone).toBeCloseTo(1, 6);
  });

  it('a notch by the angle of the spike of board in it, at its point', () => {
    const { tight } = seat(inputOf(ringsOf(SHAPES['notch'] as Outline), 0.03));
    expect(tight[0]).toMatchObject({ kind: 'notch', angle: expect.closeTo(2 * Math.atan(0.25 / 0.9), 9) });
    expect(tight[0]?.at[0]).toBeCloseTo(1.5, 4);
    expect(tight[0]?.at[1]).toBeCloseTo(0.9, 4);
  });

  it.each([
    ['outline', 0, { plug: { rings: [circle(0, 0, 5.02, 180)] } as Region }],
    ['different-bits', 0, { pocketTool: { halfAngle: degrees(30), tipFlat: 0 } }],
    ['floor', 0, { plugStart: 1.7 }],
    ['root', 0, { plugFlat: 0.1, pocketStart: 0.3 }],
  ] as const)('%s by a few places that lie far apart', (kind, r, change) => {
    const { tight, holds } = seat(inputOf([circle(0, 0, 5, 180)], r, change));
    for (const told of [tight, holds]) {
      expect(kindsOf(told.slice(0, 1))).toEqual([kind]);
      const same = told.filter((c) => c.kind === kind);
      expect(same.length).toBeLessThan(12);
      if (same.length > 1) expect(apartBy(same)).toBeGreaterThan(10 / 3 - 0.02);
    }
  });
});

/** All places of a pair, by feature. */
function places(input: FitInput, spacing = 0.25): Record<Place['feature'], Place[]> {
  const found: Record<Place['feature'], Place[]> = { ridge: [], face: [], mouth: [], land: [], spike: [] };
  for (const p of contactPlaces(makePair(input), spacing)) found[p.feature].push(p);
  return found;
}

describe('the places where plug and board may meet', () => {
  it('each hold as high as the two cuts say, and know their own', () => {
    for (const [name, outline] of Object.entries(SHAPES)) {
      const pair = makePair(
        inputOf(ringsOf(outline), 0.04, {
          pocketStart: 0.2,
          pocketTool: { halfAngle: degrees(20), tipFlat: 0.1 },
        }),
      );
      const all = placesOf(pair);
      for (const p of all) {
        expect(p.lift, name).toBeCloseTo(liftAt(pair, p.x, p.y), 12);
        expect(p.own, name).toBeCloseTo((p.rides === 'plug' ? pair.plug : pair.pocket).depth(p.x, p.y), 12);
        if (p.feature === 'ridge' || p.feature === 'face') expect(p.rides, name).toBe('plug');
        if (p.feature === 'mouth' || p.feature === 'land') expect(p.rides, name).toBe('board');
        expect(Math.hypot(p.nx, p.ny), name).toBeCloseTo(1, 9);
      }
      // The highest lift first.
      expect(all.map((p) => p.lift)).toEqual(all.map((p) => p.lift).sort((a, b) => b - a));
    }
  });

  it('lie along the edge of the plug face, S t inside, and along the mouth, which a start depth moves out', () => {
    const rings = [ring(0, 0, 12, 0, 12, 8, 0, 8)];
    const outline: Outline = [
      [
        [0, 0],
        [12, 0],
        [12, 8],
        [0, 8],
      ],
    ];
    for (const pocketStart of [0, 0.6]) {
      const { face, mouth, ridge } = places(inputOf(rings, 0.03, { pocketStart }));
      const edge = face.filter((p) => Math.abs(distance(outline, p.x, p.y) - t) < 1e-9);
      expect(edge.length).toBeGreaterThan(4 * 40 * 0.9);
      for (const p of face) expect(isIn(outline, p.x, p.y)).toBe(true);
      // Nothing else of the face but its corners and its middle: two walls away from all edges.
      for (const p of ridge) expect(distance(outline, p.x, p.y)).toBeLessThan(t + 1e-9);
      expect(mouth.length).toBeGreaterThan(4 * 40 * 0.9);
      for (const p of mouth) {
        expect(distance(outline, p.x, p.y)).toBeCloseTo(pocketStart * t, 6);
        if (pocketStart > 0) expect(isIn(outline, p.x, p.y)).toBe(false);
      }
      // None farther from the next than is asked.
      for (let s = 1; s < 11; s += 0.05) {
        const near = (all: readonly Place[], y: number): number =>
          Math.min(...all.map((p) => Math.hypot(p.x - s, p.y - y)));
        expect(near(edge, t)).toBeLessThan(0.13);
        expect(near(mouth, -pocketStart * t)).toBeLessThan(0.13);
      }
    }
  });

  it('lie on ridges, as far from both walls, whose angle they tell', () => {
    const stroke = places(inputOf([ring(0, 0, 12, 0, 12, 0.4, 0, 0.4)], 0.03));
    const level = stroke.ridge.filter((p) => p.x > 1 && p.x < 11);
    expect(level.length).toBeGreaterThan(60);
    for (const p of level) {
      expect(p.y).toBeCloseTo(0.2, 9);
      expect(p.half).toBeCloseTo(0.2, 9);
      expect(p.angle).toBeCloseTo(0, 9);
      expect(p.lift).toBeCloseTo(0.03 / t, 9);
    }
    // In a wedge of 20 degrees the ridge rises by the sine of half of it.
    const [x, y] = [9 * Math.cos(degrees(20)), 9 * Math.sin(degrees(20))];
    const wedge = places(inputOf([ring(0, 0, 9, 0, x, y)], 0.03));
    const along = wedge.ridge.filter((p) => Math.hypot(p.x, p.y) < 1.4);
    expect(along.length).toBeGreaterThan(8);
    for (const p of along) {
      expect(Math.atan2(p.y, p.x)).toBeCloseTo(degrees(10), 9);
      expect(p.angle).toBeCloseTo(degrees(20), 6);
      expect(p.half).toBeCloseTo(Math.hypot(p.x, p.y) * Math.sin(degrees(10)), 9);
    }
  });

  it('lie on lands, midway, and at a spike of board from its point down its edge', () => {
    const islands = places(
      inputOf(ringsOf(SHAPES['two close islands'] as Outline), 0.03, { pocketStart: 0.5 }),
    );
    const between = islands.land.filter((p) => p.y > 0.3 && p.y < 1.3 && p.x > 1.2 && p.x < 1.38);
    expect(between.length).toBeGreaterThan(5);
    for (const p of between) {
      expect(p.x).toBeCloseTo(1.29, 9);
      expect(p.half).toBeCloseTo(0.09, 9);
      expect(p.angle).toBeCloseTo(0, 9);
    }
    const { spike } = places(inputOf(ringsOf(SHAPES['notch'] as Outline), 0.03));
    expect(spike.length).toBeGreaterThan(10);
    expect(spike.some((p) => Math.hypot(p.x - 1.5, p.y - 0.9) < 1e-9)).toBe(true);
    for (const p of spike) {
      expect(p.x).toBeCloseTo(1.5, 9);
      expect(p.angle).toBeCloseTo(2 * Math.atan(0.25 / 0.9), 9);
      expect(p.half).toBe(0);
    }
  });

  it('reach where the plug is held: a finer search finds nothing higher by more than a thousandth of a mm sideways', () => {
    for (const [name, outline] of Object.entries(SHAPES)) {
      const pair = makePair(inputOf(ringsOf(outline), 0.05));
      const { level } = seatPair(pair);
      const xs = outline.flat().map(([x]) => x);
      const ys = outline.flat().map(([, y]) => y);
      for (let x = Math.min(...xs); x < Math.max(...xs); x += 0.04)
        for (let y = Math.min(...ys); y < Math.max(...ys); y += 0.04)
          expect((liftAt(pair, x, y) - level) * t, `${name} ${x} ${y}`).toBeLessThan(0.001);
    }
  });
});
