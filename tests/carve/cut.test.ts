import { describe, expect, it } from 'vitest';
import {
  type Cut,
  makeCut,
  nominalOf,
  profileOf,
  sameCone,
  straightWalls,
  type ToolShape,
  unlikeWalls,
} from '../../src/carve/cut.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';
import { ring } from '../geometry/shapes-for-tests.ts';
import { questionsOf } from './questions.ts';

const field = new SegmentTree([ring(0, 0, 60, 0, 60, 60, 0, 60)]);
const cutBy = (tool: ToolShape, change: { byCentres?: boolean; start?: number } = {}): Cut =>
  makeCut({ tree: field, side: 1, tool, start: 0.2, flat: 1.5, ...change });

const half = degrees(15);
const t = Math.tan(half);
const FLAT: ToolShape = { halfAngle: half, tipFlat: 0.1 };
const BALL: ToolShape = { halfAngle: half, tipFlat: 0, tipRadius: 0.3 };
/** The flat that a cone of that angle would have at the end of the ball. */
const BALL_R = (0.3 * (1 - Math.sin(half))) / Math.cos(half);

describe('the side of a bit', () => {
  it('is told by slope, half the flat and ball', () => {
    expect(profileOf(FLAT)).toEqual({ t, r: 0.05, ball: 0 });
    expect(profileOf({ ...FLAT, tipRadius: 0 })).toEqual({ t, r: 0.05, ball: 0 });
    expect(profileOf(BALL)).toEqual({ t, r: BALL_R, ball: 0.3 });
    // Where ball and cone meet, they are as wide and as steep: the circle there leans by half the angle.
    const height = 0.3 * (1 - Math.sin(half));
    expect(BALL_R + height * t).toBeCloseTo(0.3 * Math.cos(half), 12);
  });

  it('of which the toolpath is made is its own, but for what the job says', () => {
    expect(nominalOf(FLAT)).toEqual(profileOf(FLAT));
    expect(nominalOf(BALL)).toEqual(profileOf(BALL));
    expect(nominalOf({ ...FLAT, toolpathHalfAngle: degrees(20) })).toEqual({
      t: Math.tan(degrees(20)),
      r: 0.05,
      ball: 0,
    });
    expect(nominalOf({ ...BALL, toolpathHalfAngle: degrees(20) }).ball).toBe(0.3);
    // A path for a flat, even for none, is not for a ball.
    expect(nominalOf({ ...FLAT, toolpathTipFlat: 0 })).toEqual({ t, r: 0, ball: 0 });
    expect(nominalOf({ ...BALL, toolpathTipFlat: 0.4 })).toEqual({ t, r: 0.2, ball: 0 });
  });
});

describe('which walls are straight and alike', () => {
  const own = cutBy(FLAT);
  const slim = cutBy({ ...FLAT, halfAngle: degrees(14) });
  const tip = cutBy({ ...FLAT, toolpathTipFlat: 0 });
  const bent = [
    cutBy(BALL),
    cutBy({ ...BALL, toolpathTipFlat: 0 }),
    cutBy({ ...FLAT, toolpathHalfAngle: degrees(14) }),
  ];

  it('those of a cone on the path for its own slope are straight', () => {
    for (const cut of [own, slim, tip]) expect(sameCone(cut)).toBe(true);
    for (const cut of bent) expect(sameCone(cut)).toBe(false);
    const [real, ball] = [profileOf(FLAT), profileOf(BALL)];
    expect(sameCone({ real, nominal: ball })).toBe(false);
    for (const one of [own, slim, tip]) {
      for (const two of [own, slim, tip]) expect(straightWalls(one, two)).toBe(true);
      for (const two of bent) {
        expect(straightWalls(one, two)).toBe(false);
        expect(straightWalls(two, one)).toBe(false);
        expect(straightWalls(two, two)).toBe(false);
      }
    }
  });

  it('straight ones are unlike by slope, or where a path is for another tip', () => {
    expect(unlikeWalls(own, own)).toBe(false);
    expect(unlikeWalls(own, cutBy({ ...FLAT, tipFlat: 0.3 }))).toBe(false);
    for (const [one, two] of [
      [own, slim],
      [own, tip],
      [tip, tip],
      [slim, tip],
    ] as const) {
      expect(unlikeWalls(one, two)).toBe(true);
      expect(unlikeWalls(two, one)).toBe(true);
    }
    for (const two of bent)
      for (const one of [own, slim, tip, two]) {
        expect(unlikeWalls(one, two)).toBe(false);
        expect(unlikeWalls(two, one)).toBe(false);
      }
  });
});

describe('a cut', () => {
  it('tells the distance to its outline, and its depth between face and floor', () => {
    const cut = cutBy(FLAT);
    expect([cut.room(30, 2), cut.room(30, -3)]).toEqual([2, -3]);
    expect(cut.depth(30, 0.1)).toBeCloseTo(0.2 + 0.1 / t, 9);
    expect(cut.depth(30, 9)).toBe(1.7);
    expect(cut.wall(30, 9)).toBeCloseTo(0.2 + 9 / t, 9);
    expect(cut.depth(30, -1)).toBe(0);
    expect(cut.wall(30, -1)).toBeCloseTo(0.2 - 1 / t, 9);
    // Followed centre by centre it is held by the floor at once.
    expect(cutBy(FLAT, { byCentres: true }).wall(30, 9)).toBeCloseTo(1.7, 9);
  });

  it('on a path for its own bit is asked for its room alone, and centre by centre where that is wanted', () => {
    const asked = (cut: Cut): number => questionsOf(() => cut.wall(30, 9));
    expect(asked(cutBy(FLAT))).toBe(2);
    expect(asked(cutBy(FLAT, { byCentres: false }))).toBe(2);
    expect(asked(cutBy(FLAT, { byCentres: true }))).toBe(1);
  });

  it('is exact as far out as it takes wood, past a slit that is nearer and too thin for the bit', () => {
    // A field below the line, and above it a slit of 0.01 mm whose end is the nearest place.
    const tree = new SegmentTree([
      ring(-9, -9, 9, -9, 9, -0.3, -9, -0.3),
      ring(0.005, 0.1, 0.005, 3, -0.005, 3, -0.005, 0.1),
    ]);
    const asked = (start: number): number =>
      questionsOf(() => makeCut({ tree, side: 1, tool: FLAT, start, flat: 1 }).wall(0, 0));
    const wall = (start: number): number => makeCut({ tree, side: 1, tool: FLAT, start, flat: 1 }).wall(0, 0);
    // The mouth at the face lies start t out.
    expect(wall(0.31 / t)).toBeCloseTo(0.01 / t, 6);
    expect(wall(0.29 / t)).toBeLessThan(0);
    // Where that does not reach to the field it is not asked.
    expect(asked(0.25 / t)).toBeLessThan(asked(0.31 / t));
  });
});
