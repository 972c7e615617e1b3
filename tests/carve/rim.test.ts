/** The line at the rim beside notches that the bit has filled, against brute-force cutting. */
import { describe, expect, it } from 'vitest';
import { NO_ERRORS, pairWith } from '../../src/advice/why-errors.ts';
import type { ToolShape } from '../../src/carve/cut.ts';
import { makePair, type Pair } from '../../src/carve/fit.ts';
import { placesOf } from '../../src/carve/seat.ts';
import { gapAt, gapsAlong, rimOf } from '../../src/carve/seat-rim.ts';
import { levelSeat } from '../../src/carve/seat-settle.ts';
import type { Point } from '../../src/geometry/shapes.ts';
import { degrees } from '../../src/units.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { type Bit, type Outline, sweep } from '../witness/sweep.ts';

const DEPTHS = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };
const BIT: Bit = { t: Math.tan(degrees(15)), r: 0.1 };
/** Half the window that is cut about a place, mm. */
const WITHIN = 0.45;
const PITCHES = [0.02, 0.01, 0.005];

function pairOf(outline: Outline, r: number, more: Partial<ToolShape> = {}): Pair {
  const region = { rings: ringsOf(outline) };
  const tool = { halfAngle: degrees(15), tipFlat: 2 * r, ...more };
  return makePair({ pocket: region, plug: region, pocketTool: tool, plugTool: tool, ...DEPTHS });
}

/** From a place to the nearest column of swept plug wood in the board's face, mm; only a window about it is cut. */
function sweptGap(
  outline: Outline,
  lift: number,
  [x, y]: Point,
  pitch: number,
  bit: Bit,
  path = bit,
  onPath = false,
): number {
  const across = 2 * Math.ceil(WITHIN / pitch) + 1;
  const columns = {
    x0: x - ((across - 1) / 2) * pitch + 0.37 * pitch,
    y0: y - ((across - 1) / 2) * pitch + 0.61 * pitch,
    pitch,
    across,
    down: across,
  };
  const plug = sweep(outline, false, bit, DEPTHS.plugStart, DEPTHS.plugFlat, columns, path, onPath);
  let nearest = Number.POSITIVE_INFINITY;
  plug.forEach((depth, k) => {
    if (DEPTHS.plugStart - lift - depth < 0) return;
    const ex = columns.x0 + (k % across) * pitch - x;
    const ey = columns.y0 + Math.floor(k / across) * pitch - y;
    nearest = Math.min(nearest, Math.hypot(ex, ey));
  });
  return nearest;
}

describe('the line beside filled notches', () => {
  it.each([
    // Along the counter's foot, between two notches that the bit fills in part: both reach as far as its middle.
    [[1.3, 1.2]],
    [[1.145, 1.2]],
    [[1.126, 1.2]],
    [[1.2806, 1.2]],
  ] as const)('is as wide at %j as the swept cut leaves it', (at) => {
    const outline = SHAPES['letter with a counter'] as Outline;
    const pair = pairOf(outline, BIT.r);
    const level = levelSeat(pair, placesOf(pair));
    const told = gapAt(pair, level, at);
    for (const pitch of PITCHES) {
      const off = told - sweptGap(outline, level.height, at, pitch, BIT);
      // A grid of centres leaves wood, up to two pitches of it, and columns may miss its point by as much.
      expect(off, `at ${pitch}`).toBeGreaterThan(-2 * pitch);
      expect(off, `at ${pitch}`).toBeLessThan(2 * pitch);
    }
  });

  it.each([
    ['letter with a counter', 0.06, 29, [1.0098, 1.2069]],
    ['star', 0.03, 29, [0.4295, 0.4005]],
    ['notch', 0.06, 31, [1.526, 0.8588]],
  ] as const)(
    'in the %s, tip %f, path for %d deg, is as wide at %j as the swept cut leaves it',
    (name, r, angle, at) => {
      const outline = SHAPES[name] as Outline;
      const pair = pairOf(outline, r, { toolpathHalfAngle: degrees(angle / 2), toolpathTipFlat: 2 * r });
      const path = { t: Math.tan(degrees(angle / 2)), r };
      const level = levelSeat(pair, placesOf(pair));
      const told = gapAt(pair, level, at);
      for (const pitch of PITCHES) {
        const off = told - sweptGap(outline, level.height, at, pitch, { ...BIT, r }, path, angle > 30);
        expect(off, `at ${pitch}`).toBeGreaterThan(-2 * pitch);
        expect(off, `at ${pitch}`).toBeLessThan(2 * pitch);
      }
    },
  );

  it.each([
    ['notch', [1.5, 0.9]],
    ['letter with a counter', [1.7667, 0.7556]],
  ] as const)('in the %s under a ball is as wide at %j as the swept cut leaves it', (name, at) => {
    const outline = SHAPES[name] as Outline;
    const ball = { t: BIT.t, r: 0, ball: 0.12 };
    const pair = pairOf(outline, 0, { tipRadius: 0.12 });
    const level = levelSeat(pair, placesOf(pair));
    const told = gapAt(pair, level, at);
    for (const pitch of PITCHES) {
      const off = told - sweptGap(outline, level.height, at, pitch, ball, ball, true);
      // At the board's spike of 31 degrees a grid leaves a little more wood than beside plain corners.
      expect(off, `at ${pitch}`).toBeGreaterThan(-2 * pitch);
      expect(off, `at ${pitch}`).toBeLessThan(2.5 * pitch);
    }
  });

  it('opens by a cut that is deeper all over as by a plug that stands so much higher', () => {
    const pair = pairOf(SHAPES['letter with a counter'] as Outline, BIT.r);
    const level = levelSeat(pair, placesOf(pair));
    const deeper = pairWith(pair, { ...NO_ERRORS, plugZero: 0.1 });
    const higher = { ...level, height: level.height + 0.1 };
    for (const at of rimOf(pair, 0.05))
      expect(Math.abs(gapAt(deeper, level, at) - gapAt(pair, higher, at)), `${at}`).toBeLessThan(1e-4);
  });

  it('changes along the rim by no more than the way from place to place', () => {
    for (const [name, outline] of Object.entries(SHAPES))
      for (const r of [0.03, 0.06, 0.085, 0.1]) {
        // Where the bit does not get between the parts at all there is no fit.
        if (name === 'two close islands' && r > 0.09) continue;
        const pair = pairOf(outline, r);
        const level = levelSeat(pair, placesOf(pair));
        const rim = gapsAlong(pair, level, rimOf(pair, 0.02));
        rim.forEach(({ gap, at }, k) => {
          const before = rim[k - 1];
          if (before === undefined) return;
          const way = Math.hypot(at[0] - before.at[0], at[1] - before.at[1]);
          expect(Math.abs(gap - before.gap), `${name} ${r} ${at}`).toBeLessThan(way + 1e-4);
        });
      }
  });
});

/** Corners of a shape turned about the origin and set far from it. */
function turned(points: readonly (readonly [number, number])[]): Float64Array {
  const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
  return Float64Array.from(points.flatMap(([x, y]) => [500 + c * x - s * y, -300 + s * x + c * y]));
}

const FIELD = [[0, 0], [20, 0], [20, 16], [0, 16]] as const; // biome-ignore format: one line
/** The same with a notch of the angle in its lower edge, its point at (10, 3). */
const notched = (angle: number) => {
  const w = 3 * Math.tan(angle / 2);
  return [[0, 0], [10 - w, 0], [10, 3], [10 + w, 0], [20, 0], [20, 16], [0, 16]] as const; // biome-ignore format: one line
};
const at = (x: number, y: number): Point => turned([[x, y]]) as unknown as Point;

describe('the rim', () => {
  const rimIn = (points: readonly (readonly [number, number])[], pocketStart: number, r: number) => {
    const region = { rings: [turned(points)] };
    const tool = { halfAngle: degrees(15), tipFlat: 2 * r };
    return rimOf(
      makePair({ pocket: region, plug: region, pocketTool: tool, plugTool: tool, ...DEPTHS, pocketStart }),
      1,
    ).map(([px, py]) => {
      const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
      const [x, y] = [px - 500, py + 300];
      return [c * x + s * y, c * y - s * x] as const;
    });
  };

  it.each([0, 0.4, 1.1])(
    'lies as far outside the outline as the wall goes in by a start depth of %f',
    (depth) => {
      const out = depth * BIT.t;
      const rim = rimIn(FIELD, depth, 0.1);
      let corners = 0;
      for (const [x, y] of rim) {
        const [across, up] = [Math.max(-x, x - 20), Math.max(-y, y - 16)];
        // In a corner the bit's round about a centre as far from both walls as its tip's half.
        const inCorner = Math.abs(across - up) < 1e-6;
        if (inCorner) corners++;
        expect(Math.max(across, up)).toBeCloseTo(
          inCorner ? (0.1 + out) * Math.SQRT1_2 - 0.1 : out,
          inCorner ? 3.7 : 9,
        );
      }
      expect(corners).toBe(4);
      // On all four edges, none farther from the next than is asked.
      const low = rim.filter(([, y]) => Math.abs(y + out) < 1e-6).map(([x]) => x).sort((a, b) => a - b); // biome-ignore format: one line
      expect(low.length).toBeGreaterThan(18);
      expect(Math.max(...low.slice(1).map((x, k) => x - low[k]!))).toBeLessThan(1.01);
      expect(rim.length).toBeGreaterThan(68);
    },
  );

  it.each([20, 60, 100])(
    'at a spike of board of %d degrees lies where both its walls meet the face',
    (deg) => {
      const half = degrees(deg / 2);
      const rim = rimIn(notched(2 * half), 0.4, 0);
      const point = rim.filter(([x]) => Math.abs(x - 10) < 1e-6);
      expect(point).toHaveLength(2);
      expect(Math.min(...point.map(([, y]) => y))).toBeCloseTo(3 - (0.4 * BIT.t) / Math.sin(half), 3);
    },
  );

  it('is none where the tip does not get in', () => {
    const arm = [[0, 0], [8, 0], [8, 3], [14, 3], [14, 3.1], [8, 3.1], [8, 9], [0, 9]] as const; // biome-ignore format: one line
    const rim = rimIn(arm, 0, 0.1);
    expect(rim.filter(([x]) => x > 8.2)).toEqual([]);
    expect(rim.length).toBeGreaterThan(20);
  });
});

describe('the line round a plug that stands high', () => {
  const t = BIT.t;
  const gap = (
    points: readonly (readonly [number, number])[],
    where: readonly [number, number],
    height: number,
    { r = 0, plug = points, more = {}, dx = 0, dy = 0 } = {} as {
      r?: number;
      plug?: readonly (readonly [number, number])[];
      more?: Partial<ToolShape>;
      dx?: number;
      dy?: number;
    },
  ): number => {
    const tool = { halfAngle: degrees(15), tipFlat: 2 * r, ...more };
    const pair = makePair({
      pocket: { rings: [turned(points)] },
      plug: { rings: [turned(plug)] },
      pocketTool: tool,
      plugTool: tool,
      ...DEPTHS,
    });
    const still = { height, tiltX: 0, tiltY: 0, dx, dy, turn: 0, middle: pair.middle };
    return gapAt(pair, still, at(...where));
  };
  /** The field drawn smaller all round. */
  const smaller = (e: number) => FIELD.map(([x, y]) => [x === 0 ? e : x - e, y === 0 ? e : y - e] as const);

  it('is as wide beside a plain wall as the wall draws back, and no line where it is low', () => {
    for (const r of [0, 0.1])
      for (const [
        height,
        e,
      ] of [[0.3, 0], [1.5, 0], [0.5, 0.2], [-0.2, 0.2], [2.5, 0], [2.5, 0.1], [0.5, 0.6]] as const) // biome-ignore format: one line
        expect(gap(FIELD, [7, 0], height, { r, plug: smaller(e) }), `${r} ${height} ${e}`).toBeCloseTo(
          e + height * t,
          6,
        );
    expect(gap(FIELD, [7, 0], -0.1)).toBe(0);
    expect(gap(FIELD, [7, 0], -0.5, { plug: smaller(0.1) })).toBe(0);
    // Shifted by 0.05 away from the lower wall.
    const [dx, dy] = [-0.05 * Math.sin(0.7), 0.05 * Math.cos(0.7)];
    expect(gap(FIELD, [7, 0], 0.3, { dx, dy })).toBeCloseTo(0.3 * t + 0.05, 9);
    expect(gap(FIELD, [7, 16], 0.3, { dx, dy })).toBeCloseTo(0.3 * t - 0.05, 9);
  });

  it('is as wide at a corner as the way to its drawn back point', () => {
    for (const r of [0, 0.1])
      for (const [height, e] of [[0.3, 0], [1.5, 0], [0.5, 0.2]] as const) // biome-ignore format: one line
        expect(gap(FIELD, [0, 0], height, { r, plug: smaller(e) }), `${r} ${height} ${e}`).toBeCloseTo(
          Math.SQRT2 * (e + height * t),
          4,
        );
    // Sunk, the corner is a round about its drawn point.
    for (const r of [0, 0.1])
      expect(gap(FIELD, [0, 0], -0.4, { r, plug: smaller(0.2) })).toBeCloseTo(Math.SQRT2 * 0.2 - 0.4 * t, 4);
  });

  it('over half a millimetre is that beside the outline, not of corners or filled notches', () => {
    for (const r of [0, 0.1]) {
      expect(gap(FIELD, [0, 0], 2.5, { r })).toBeCloseTo(2.5 * t, 9);
      // Too large by 0.3, so that the line is less than that though the plug stands so high.
      expect(gap(FIELD, [0, 0], 2.5, { r, plug: smaller(-0.3) })).toBeCloseTo(2.5 * t - 0.3, 9);
      expect(gap(notched(1), [10, 3], 2.5, { r })).toBeCloseTo(2.5 * t, 9);
    }
    expect(gap(FIELD, [0, 0], 0.5, { plug: smaller(0.6) })).toBeCloseTo(Math.SQRT2 * 0.6 + 0.5 * t, 9);
  });

  it('into a needle is told to ten times what its walls draw back', () => {
    const sine = Math.sin(degrees(4));
    const needle = (e: number) => {
      const [c, s] = [Math.cos(degrees(4)), sine];
      const x = e / s;
      return [[x, 0], [x + 40 * c, -40 * s], [x + 40 * c, 40 * s]] as const; // biome-ignore format: one line
    };
    expect(gap(needle(0), [0, 0], 0.4)).toBeCloseTo(10 * 0.4 * t, 9);
    // A plug too large by half of what it draws back: its point is nearer.
    const back = 0.4 * t;
    expect(gap(needle(0), [0, 0], 0.4, { plug: needle(-0.5 * back) })).toBeCloseTo((0.5 * back) / sine, 4);
  });

  it.each([60, 90, 120])(
    'at the point of a notch of %d degrees is that to the round the bit has left',
    (deg) => {
      const half = degrees(deg / 2);
      const r = 0.1;
      for (const height of [0.3, 0.8, 1.5]) {
        const far = Math.max(0, r + height * t - r / Math.sin(half));
        expect(gap(notched(2 * half), [10, 3], height, { r }), `${height}`).toBeCloseTo(far, 3.7);
        expect(gap(notched(2 * half), [10, 3], height)).toBeCloseTo(height * t, 9);
      }
    },
  );

  it('beside walls cut at another angle than their path means goes out by the flat depth too, in corners also', () => {
    const more = { toolpathHalfAngle: degrees(14), toolpathTipFlat: 0.2 };
    const out = DEPTHS.plugFlat * (t - Math.tan(degrees(14)));
    expect(gap(FIELD, [7, 0], 0.5, { r: 0.1, more })).toBeCloseTo(0.5 * t + out, 3);
    expect(gap(FIELD, [0, 0], 0.5, { r: 0.1, more })).toBeCloseTo(Math.SQRT2 * (0.5 * t + out), 3);
  });
});
