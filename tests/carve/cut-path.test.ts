import { describe, expect, it } from 'vitest';
import { makeCut, type ToolShape } from '../../src/carve/cut.ts';
import { bottomAt, radiusAt, sectionAlongPath } from '../../src/carve/cut-path.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';
import { ring, seeded } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { distance, isIn, type Outline } from '../witness/sweep.ts';

const slope = (angle: number): number => Math.tan(degrees(angle / 2));

describe('the side of a bit', () => {
  it('with a flat is a cone from its edge on', () => {
    const bit = { t: slope(60), r: 0.2, ball: 0 };
    expect(radiusAt(bit, 0)).toBe(0.2);
    expect(radiusAt(bit, 3)).toBeCloseTo(0.2 + 3 * slope(60), 12);
    expect(bottomAt(bit, 0.2)).toBe(0);
    expect(bottomAt(bit, 1.2)).toBeCloseTo(1 / slope(60), 12);
  });

  it('with a ball is a circle, then the cone that touches it, and both questions are one', () => {
    const [q, half] = [2, degrees(30)];
    // The flat that the bare cone would have at the ball's end.
    const bit = { t: Math.tan(half), r: (q * (1 - Math.sin(half))) / Math.cos(half), ball: q };
    const joint = q * (1 - Math.sin(half));
    for (const height of [0, 0.2, 0.8, joint - 1e-6])
      expect(radiusAt(bit, height)).toBeCloseTo(Math.sqrt(q * q - (q - height) ** 2), 12);
    for (const more of [0, 0.5, 4])
      expect(radiusAt(bit, joint + more)).toBeCloseTo(q * Math.cos(half) + more * Math.tan(half), 9);
    for (const height of [0.01, 0.3, joint - 0.01, joint + 0.01, 3])
      expect(bottomAt(bit, radiusAt(bit, height))).toBeCloseTo(height, 9);
  });
});

describe('a cut followed centre by centre', () => {
  it.each([0, 0.05])(
    'is that of offsets where the path is made for the bit itself, half the tip %f mm',
    (r) => {
      const random = seeded(61);
      const tool: ToolShape = { halfAngle: degrees(15), tipFlat: 2 * r };
      for (const name of ['rectangle', 'acute triangle', 'notch', 'letter with a counter', 'lens']) {
        const outline = SHAPES[name] as Outline;
        const tree = new SegmentTree(ringsOf(outline));
        const corners = outline.flat();
        for (const side of [1, -1] as const) {
          const setup = { tree, side, tool, start: 0.3, flat: 1.2 };
          const [plain, followed] = [makeCut(setup), makeCut({ ...setup, byCentres: true })];
          for (let n = 0; n < 60; n++) {
            const [cx, cy] = corners[n % corners.length] as readonly [number, number];
            const [x, y] = [cx + 0.6 * (random() - 0.5), cy + 0.6 * (random() - 0.5)];
            const [deep, found] = [plain.depth(x, y), followed.depth(x, y)];
            const says = `${name} ${side} ${x} ${y}`;
            // A centre that is missed makes it too shallow, never too deep.
            expect((found - deep) * slope(30), says).toBeLessThan(1e-6);
            expect((deep - found) * slope(30), says).toBeLessThan(2e-3);
          }
        }
      }
    },
  );

  const field = new SegmentTree([ring(0, 0, 60, 0, 60, 60, 0, 60)]);

  it.each([
    // True and nominal angle, half the tip.
    [31, 30, 0],
    [36, 30, 0.1],
    [29, 30, 0],
    [28, 30, 0.1],
    [60, 30, 0.05],
  ])('moves a wide wall by flat depth times the slopes, %f degrees for %f', (angle, meant, r) => {
    const [start, flat, t, tn] = [0.4, 2, slope(angle), slope(meant)];
    const tool = {
      halfAngle: degrees(angle / 2),
      tipFlat: 2 * r,
      toolpathHalfAngle: degrees(meant / 2),
      toolpathTipFlat: 2 * r,
    };
    const out = flat * (t - tn);
    for (const side of [1, -1] as const) {
      const cut = makeCut({ tree: field, side, tool, start, flat });
      for (const below of [-0.1, 0.05, 0.3, 1, 1.9]) {
        // At a depth the wall lies depth times the true slope in, less what it has moved out as a whole.
        const inset = below * t - out;
        expect(cut.wall(30, side * inset)).toBeCloseTo(start + below, 6);
      }
      expect(cut.depth(30, side * 9)).toBeCloseTo(start + flat, 9);
      expect(cut.depth(30, -side * 9)).toBe(0);
    }
  });

  it('keeps, with a narrow stroke, to the stroke: (k - 1) (R - r) out', () => {
    const [R, r, t, tn] = [0.3, 0.05, slope(34), slope(30)];
    const stroke = new SegmentTree([ring(0, 0, 30, 0, 30, 2 * R, 0, 2 * R)]);
    const tool = {
      halfAngle: degrees(17),
      tipFlat: 2 * r,
      toolpathHalfAngle: degrees(15),
      toolpathTipFlat: 2 * r,
    };
    const cut = makeCut({ tree: stroke, side: 1, tool, start: 0, flat: 5 });
    const deepest = (R - r) / tn;
    expect(cut.wall(15, R)).toBeCloseTo(deepest, 6);
    expect(cut.wall(15, R + r)).toBeCloseTo(deepest, 6);
    const out = (t / tn - 1) * (R - r);
    expect(cut.wall(15, -out)).toBeCloseTo(0, 6);
    expect(cut.wall(15, 0.1)).toBeCloseTo((0.1 + out) / t, 6);
  });

  it('with a ball leaves a round floor beside a wide wall, and in a stroke a round valley', () => {
    const [q, half] = [1, degrees(30)];
    const tool = { halfAngle: half, tipFlat: 0, tipRadius: q };
    const [start, flat] = [0.2, 4];
    const cut = makeCut({ tree: field, side: 1, tool, start, flat });
    // On plain walls the cone touches the outline at the start depth and the floor lies flat below it.
    expect(cut.wall(30, 0)).toBeCloseTo(start, 6);
    expect(cut.wall(30, 1)).toBeCloseTo(start + 1 / Math.tan(half), 6);
    expect(cut.depth(30, 20)).toBeCloseTo(start + flat, 9);
    // Towards the floor the wall is the ball's: as far over it as a circle that stands on it.
    const reach = (q * (1 - Math.sin(half))) / Math.cos(half) + flat * Math.tan(half);
    for (const off of [0.2, 0.5, 0.8])
      expect(cut.depth(30, reach - off)).toBeCloseTo(start + flat - (q - Math.sqrt(q * q - off * off)), 6);
    // A stroke narrower than the ball: its tip is q - sqrt(q q - R R) deep and the valley is the ball itself.
    const R = 0.5;
    const stroke = makeCut({
      tree: new SegmentTree([ring(0, 0, 30, 0, 30, 2 * R, 0, 2 * R)]),
      side: 1,
      tool,
      start: 0,
      flat,
    });
    for (const off of [0, 0.2, 0.45])
      expect(stroke.depth(15, R + off)).toBeCloseTo(
        Math.sqrt(q * q - off * off) - Math.sqrt(q * q - R * R),
        6,
      );
  });
});

describe('the section of a bit along its path that reaches farthest round a point', () => {
  it('lies without wood: as wide as the bit is there, centred where it may be', () => {
    const random = seeded(62);
    const bit = { t: slope(30), r: 0.05, ball: 0 };
    for (const name of ['rectangle', 'notch', 'letter with a counter']) {
      const outline = SHAPES[name] as Outline;
      const tree = new SegmentTree(ringsOf(outline));
      for (let n = 0; n < 150; n++) {
        const [x, y] = [3 * random(), 2.6 * random()];
        const deep = 0.6 * random();
        const found = sectionAlongPath(tree, 1, x, y, bit, bit, 1.2, deep);
        if (found === undefined) continue;
        const d = distance(outline, found.x, found.y);
        expect(isIn(outline, found.x, found.y)).toBe(true);
        const down = Math.min(1.2, (d - bit.r) / bit.t);
        expect(down).toBeGreaterThan(deep - 1e-6);
        expect(found.r).toBeCloseTo(bit.r + (down - deep) * bit.t, 6);
        // The cut is so deep at the point exactly where the disc covers it.
        const cut = makeCut({
          tree,
          side: 1,
          tool: { halfAngle: degrees(15), tipFlat: 0.1 },
          start: 0,
          flat: 1.2,
        });
        const covers = found.r - Math.hypot(found.x - x, found.y - y);
        if (Math.abs(covers) > 3e-3) expect(covers > 0).toBe(cut.wall(x, y) > deep);
      }
    }
  });

  it('is none where the bit is nowhere so deep', () => {
    const bit = { t: slope(30), r: 0.05, ball: 0 };
    const stroke = new SegmentTree([ring(0, 0, 30, 0, 30, 0.4, 0, 0.4)]);
    const most = 0.15 / slope(30);
    expect(sectionAlongPath(stroke, 1, 15, 0.2, bit, bit, 5, most + 1e-6)).toBeUndefined();
    const just = sectionAlongPath(stroke, 1, 15, 0.2, bit, bit, 5, most - 0.1);
    expect(just?.r).toBeCloseTo(0.05 + 0.1 * slope(30), 6);
    expect([just?.x, just?.y]).toEqual([15, 0.2].map((v) => expect.closeTo(v, 9)));
    expect(sectionAlongPath(new SegmentTree([]), 1, 0, 0, bit, bit, 5, 0)).toBeUndefined();
  });
});
