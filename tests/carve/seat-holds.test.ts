import { describe, expect, it } from 'vitest';
import { type Contact, type FitInput, liftAt, makePair } from '../../src/carve/fit.ts';
import { placesOf, seat, seatPair } from '../../src/carve/seat.ts';
import { contactsOf } from '../../src/carve/seat-holds.ts';
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

describe('what is told of places put by hand', () => {
  const [X, Y, SIZE] = [1000, -500, 40];
  const [r, angle] = [0.1, degrees(15)];
  const depths = { pocketStart: 0.5, pocketFlat: 3, plugStart: 1, plugFlat: 2 };
  const FIELD = [ring(X, Y, X + SIZE, Y, X + SIZE, Y + SIZE, X, Y + SIZE)];
  const field = makePair(inputOf(FIELD, r, depths));
  const unmoved = { height: 9, tiltX: 0, tiltY: 0, dx: 0, dy: 0, turn: 0, middle: field.middle };

  /** On the floor: what holds there is named so. */
  const floorAt = (x: number, y: number, more: Partial<Place> = {}): Place => ({
    x: X + x,
    y: Y + y,
    rides: 'plug',
    feature: 'face',
    own: 0,
    lift: -1,
    nx: 1,
    ny: 0,
    half: 0,
    angle: undefined,
    ...more,
  });
  /** Not on the floor: a corner of an angle. */
  const cornerOf = (x: number, y: number, told: number, more: Partial<Place> = {}): Place =>
    floorAt(x, y, { feature: 'spike', own: 0.1, angle: told, ...more });
  const tight = (...places: Place[]): Contact[] => contactsOf(field, places, unmoved).tight;

  it('floor and corner as they were put', () => {
    expect(tight(floorAt(20, 20))).toEqual([{ kind: 'floor', at: [X + 20, Y + 20], alone: -1 }]);
    expect(tight(cornerOf(20, 20, 1.25))).toEqual([
      { kind: 'corner', at: [X + 20, Y + 20], alone: -1, angle: 1.25 },
    ]);
  });

  it('of places next to one another that hold alike: the nearest to parallel, then the lowest edge, left, below', () => {
    const first = (...places: Place[]): unknown => {
      const told = [places, places.toReversed()].map((all) => tight(...all)[0]);
      expect(told[0]).toEqual(told[1]);
      const touching = contactsOf(field, places.toReversed(), { ...unmoved, height: -1 }).holds;
      expect(touching[0]).toEqual(told[0]);
      return told[0]?.at;
    };
    const at = (x: number, y: number) => [X + x, Y + y];
    expect(first(cornerOf(9, 9, 1.2), cornerOf(9.2, 9, 1.1))).toEqual(at(9.2, 9));
    // Lifts that differ by less than a hundredth of a micrometre are one, others not.
    expect(first(cornerOf(9, 9, 1.2), cornerOf(9.2, 9, 1.1, { lift: -1.000004 }))).toEqual(at(9.2, 9));
    expect(first(cornerOf(9, 9, 1.2), cornerOf(9.2, 9, 1.1, { lift: -1.000019 }))).toEqual(at(9, 9));
    // One wall alone comes after two.
    expect(first(floorAt(9, 9), floorAt(9.2, 9, { angle: 3 }))).toEqual(at(9.2, 9));
    // Along the edge of a spike its point, which is cut the least deep; other places are not told by their depth.
    expect(first(cornerOf(9, 9, 1.1, { own: 0.2 }), cornerOf(9.2, 9, 1.1))).toEqual(at(9.2, 9));
    expect(first(floorAt(9, 9, { own: 0.2 }), floorAt(9.2, 9, { own: 0.1 }))).toEqual(at(9, 9));
    expect(first(cornerOf(9.2, 9, 1.1), cornerOf(9, 9.1, 1.1))).toEqual(at(9, 9.1));
    expect(first(cornerOf(9, 9.2, 1.1), cornerOf(9, 9, 1.1))).toEqual(at(9, 9));
  });

  it('one of a kind of feature within a fortieth of the design, however far from the origin', () => {
    const many = (...places: Place[]): number => tight(...places).length;
    expect(many(cornerOf(9, 9, 1), cornerOf(9.99, 9, 1))).toBe(1);
    expect(many(cornerOf(9, 9, 1), cornerOf(9, 9.99, 1))).toBe(1);
    expect(many(cornerOf(9, 9, 1), cornerOf(10, 9, 1))).toBe(2);
    expect(many(cornerOf(9, 9, 1), cornerOf(9, 10, 1))).toBe(2);
    expect(many(cornerOf(9, 9, 1), cornerOf(9.8, 9.8, 1))).toBe(2);
    // Two features of one kind are told once; what is on the floor a third of the design apart.
    expect(many(floorAt(9, 9), floorAt(9.5, 9, { feature: 'ridge' }))).toBe(1);
    expect(many(floorAt(9, 9), floorAt(22.3, 9))).toBe(1);
    expect(many(floorAt(9, 9), floorAt(9, 22.4))).toBe(2);
    // Two kinds are told beside each other.
    expect(many(floorAt(9, 9), cornerOf(9, 9, 1))).toBe(2);
    const long = makePair(inputOf([ring(0, 0, 4, 0, 4, 80, 0, 80)], r, depths));
    const upright = [40, 41.9].map((y) => ({ ...cornerOf(0, 0, 1), x: 2, y }));
    expect(contactsOf(long, upright, unmoved).tight.length).toBe(1);
  });

  it('no more than 24, of the first 60 that lie apart, of the 400 tightest', () => {
    const row = Array.from({ length: 30 }, (_, k) => cornerOf(3 + 1.1 * k, 9, 1, { lift: -1 - 0.01 * k }));
    expect(tight(...row)).toHaveLength(24);
    const crowd = Array.from({ length: 59 }, (_, k) =>
      floorAt(15 + 1.2 * (k % 8), 15 + 1.2 * Math.floor(k / 8)),
    );
    const later = [cornerOf(5, 5, 1, { lift: -1.1 }), cornerOf(8, 5, 1, { lift: -1.2 })];
    expect(tight(...crowd, ...later).map(({ kind }) => kind)).toEqual(['floor', 'corner']);
    const same = Array.from({ length: 399 }, () => floorAt(20, 20));
    expect(tight(...same, ...later).map(({ kind }) => kind)).toEqual(['floor', 'corner']);
    // The 400th decides by what it is called tight for, not by the last digits of its lift.
    const nearly = Array.from({ length: 450 }, (_, k) => floorAt(20, 20, { lift: -1 - 1e-9 * k }));
    const last = cornerOf(5, 5, 1, { lift: -1 - 4e-6 });
    expect(tight(...nearly, last).map(({ kind }) => kind)).toEqual(['corner', 'floor']);
    // Of many that hold alike those are taken whose walls are nearest to parallel, wherever they stand among them.
    const alike = Array.from({ length: 500 }, () => cornerOf(20, 20, 2));
    const two = tight(...alike, cornerOf(5, 5, 1), cornerOf(8, 5, 3));
    expect(two.map((c) => c.angle)).toEqual([1, 2]);
  });

  it('floor and root only where one part is not cut and the other to its full depth', () => {
    const kind = (change: Partial<Place>, x = 20, y = 20): string =>
      tight(floorAt(x, y, { feature: 'ridge', ...change }))[0]?.kind as string;
    expect(kind({ own: 1.9e-5 })).toBe('floor');
    expect(kind({ own: 2e-5 })).not.toBe('floor');
    expect(kind({ own: 3 })).not.toBe('floor');
    expect(kind({ rides: 'board', own: 3.5 })).toBe('floor');
    expect(kind({ rides: 'board', own: 3.5 - 2e-5 })).toBe('floor');
    expect(kind({ rides: 'board', own: 3.4 })).not.toBe('floor');
    // A millimetre outside the board is whole and the plug's cut deep: on the plug's stock the board rests.
    expect(kind({ own: 3 }, -1)).toBe('root');
    expect(kind({ own: 3 - 2e-5 }, -1)).toBe('root');
    expect(kind({ own: 2.9 }, -1)).not.toBe('root');
    expect(kind({ rides: 'board', own: 0 }, -1)).toBe('root');
    expect(kind({ rides: 'board', own: 2e-5 }, -1)).not.toBe('root');
    expect(kind({ rides: 'board', own: 0 }, -0.1)).not.toBe('root');
  });

  it('the outline where no tip leaves anything, unless the plug is steeper below the mouth', () => {
    const steeper = makePair(
      inputOf(FIELD, 0, { ...depths, pocketTool: { halfAngle: degrees(20), tipFlat: 0 } }),
    );
    const flatter = makePair(
      inputOf(FIELD, 0, { ...depths, plugTool: { halfAngle: degrees(20), tipFlat: 0 } }),
    );
    const sharp = makePair(inputOf(FIELD, 0, depths));
    for (const [pair, ofRidge] of [
      [steeper, 'different-bits'],
      [flatter, 'outline'],
      [sharp, 'outline'],
    ] as const)
      for (const feature of ['ridge', 'face', 'mouth', 'land', 'spike'] as const) {
        const p = floorAt(0.1, 20, { feature, lift: 0, own: pair.plug.depth(X + 0.1, Y + 20) });
        const told = contactsOf(pair, [p], unmoved).tight[0];
        expect(told, feature).toEqual({
          kind: feature === 'mouth' ? 'outline' : ofRidge,
          at: [X + 0.1, Y + 20],
          alone: 0,
        });
      }
  });

  describe('by what a tip leaves, more than half of how high it holds', () => {
    const turned = (points: readonly (readonly [number, number])[], by = 0.7): Float64Array =>
      ring(
        ...points.flatMap(([x, y]) => [
          X + x * Math.cos(by) - y * Math.sin(by),
          Y + x * Math.sin(by) + y * Math.cos(by),
        ]),
      );
    const told = (
      points: readonly (readonly [number, number])[],
      x: number,
      y: number,
      p: Partial<Place>,
    ) => {
      const pair = makePair(inputOf([turned(points)], r, depths));
      const [px, py] = turned([[x, y]]);
      const place = floorAt(px! - X, py! - Y, { feature: 'ridge', own: pair.plug.depth(px!, py!), ...p });
      const { kind, width, angle: between } = contactsOf(pair, [place], unmoved).tight[0] as Contact;
      return { kind, width, angle: between };
    };
    const wedge = (deg: number) => {
      const [c, s] = [Math.cos(degrees(deg / 2)), Math.sin(degrees(deg / 2))];
      return [
        [0, 0],
        [9 * c, -9 * s],
        [9 * c, 9 * s],
      ] as const;
    };
    const notched = (deg: number) => {
      const w = 3 * Math.tan(degrees(deg / 2));
      return [
        [-9, -9],
        [9, -9],
        [9, 0],
        [w, 0],
        [0, -3],
        [-w, 0],
        [-9, 0],
      ] as const;
    };

    it.each([40, 75, 120])('of the pocket in a corner of %d degrees', (deg) => {
      // On the ridge, and at the very point, and outside of it.
      for (const x of [0.3, 0.02, 1e-9, 0, -0.02])
        for (const y of [0, 1e-10])
          expect(told(wedge(deg), x, y, { lift: -9, own: 1.5 }), `${x} ${y}`).toEqual({
            kind: 'corner',
            width: undefined,
            angle: expect.closeTo(degrees(deg), 3),
          });
      expect(told(wedge(deg), -0.02, 0, { feature: 'spike', angle: 1.5, own: 1.5, lift: -9 })).toEqual({
        kind: 'corner',
        width: undefined,
        angle: 1.5,
      });
    });

    it.each([40, 75, 120])('of the plug in a notch of %d degrees', (deg) => {
      const more = { rides: 'board', feature: 'land', own: 5, lift: -20 } as const;
      for (const y of [-2.7, -2.98, -3])
        expect(told(notched(deg), 0, y, more), `${y}`).toEqual({
          kind: 'notch',
          width: undefined,
          angle: expect.closeTo(degrees(deg), 3),
        });
      expect(told(notched(deg), 0, -2.98, { ...more, feature: 'spike', angle: 1.5 })).toEqual({
        kind: 'notch',
        width: undefined,
        angle: 1.5,
      });
      expect(told(notched(deg), 0, -2.98, { ...more, feature: 'spike' }).angle).toBeCloseTo(degrees(deg), 3);
    });

    it('of a finely pointed corner or notch by its angle at the point, where no width is left to tell', () => {
      for (const x of [0, -0.02])
        expect(told(wedge(20), x, 0, { lift: -9, own: 1.5 }), `${x}`).toEqual({
          kind: 'corner',
          width: undefined,
          angle: expect.closeTo(degrees(20), 6),
        });
      const more = { rides: 'board', feature: 'land', own: 3, lift: -20 } as const;
      expect(told(notched(20), 0, -3, more)).toEqual({
        kind: 'notch',
        width: undefined,
        angle: expect.closeTo(degrees(20), 6),
      });
    });

    it('of a stroke or a land by its width, wide ones without end', () => {
      const bar = (w: number) => [[0, 0], [9, 0], [9, w], [0, w]] as const; // biome-ignore format: one line
      // Wide is more than three times as far as the wall goes in.
      const wide = 6 * (r + 3.5 * Math.tan(angle));
      for (const w of [0.5, 0.99 * wide])
        expect(told(bar(w), 4.5, w / 2 - 1e-3, { own: 1.5, lift: -9 })).toEqual({
          kind: 'narrow-stroke',
          width: expect.closeTo(w, 6),
          angle: undefined,
        });
      expect(told(bar(1.01 * wide), 4.5, 0.1, { own: 1.5, lift: -9 })).toEqual({
        kind: 'corner',
        width: undefined,
        angle: Math.PI,
      });
      expect(told(bar(0.15), 4.5, 0.07, { own: 1.5, lift: -9 })).toEqual({
        kind: 'uncut-stroke',
        width: expect.closeTo(0.15, 6),
        angle: undefined,
      });
    });
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
