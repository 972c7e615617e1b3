import { describe, expect, it } from 'vitest';
import { type FitInput, makePair, withInput } from '../../src/carve/fit.ts';
import { section } from '../../src/carve/section.ts';
import type { Point, Ring } from '../../src/geometry/shapes.ts';
import { degrees } from '../../src/units.ts';
import { rectangle } from './breakage-shapes.ts';

const t = Math.tan(degrees(15));
const input = (rings: Ring[], change: Partial<FitInput> = {}): FitInput => {
  const bit = { halfAngle: degrees(15), tipFlat: 0 };
  const region = { rings };
  return {
    pocket: region,
    plug: region,
    pocketTool: bit,
    plugTool: bit,
    pocketStart: 0.25,
    pocketFlat: 1.5,
    plugStart: 1,
    plugFlat: 0.75,
    ...change,
  };
};

describe('the middle of a plug, where an even pressure presses', () => {
  const middle = (...rings: Ring[]): readonly number[] => makePair(input(rings)).middle;
  const close = (x: number, y: number) => [expect.closeTo(x, 8), expect.closeTo(y, 8)];

  it('of a triangle is the mean of its corners, from whichever it begins and far from the origin', () => {
    const points = [1000, -700, 1009, -697, 1003, -688];
    for (const by of [0, 2, 4])
      expect(middle(Float64Array.from([...points.slice(by), ...points.slice(0, by)]))).toEqual(
        close(1004, -695),
      );
  });

  it('of several rings is weighed by their areas, holes taken off', () => {
    // 12 mm2 about (1, 2) and 4 about (9, -6); and 100 mm2 about (5, 5) less 4 about (7, 8).
    expect(middle(rectangle(4, 3, 1, 2), rectangle(2, 2, 9, -6))).toEqual(close(3, 0));
    const hole = Float64Array.of(6, 7, 6, 9, 8, 9, 8, 7);
    expect(middle(rectangle(10, 10, 5, 5), hole)).toEqual(close((500 - 28) / 96, (500 - 32) / 96));
  });

  it('of what has no area is told all the same', () => {
    expect(middle(Float64Array.of(3, 4, 5, 6, 3, 4))).toEqual([0, 0]);
  });
});

describe('a pair', () => {
  it('mates as deep as both starts together, and cut otherwise keeps what was sought in its outlines', () => {
    const first = makePair(input([rectangle(10, 10)]));
    expect(first.mating).toBe(1.25);
    const deeper = withInput(first, { ...first.input, plugStart: 2 });
    expect(deeper.mating).toBe(2.25);
    expect([deeper.pocketTree, deeper.plugTree]).toEqual([first.pocketTree, first.plugTree]);
    expect(deeper.pocketTree === first.pocketTree && deeper.plugTree === first.plugTree).toBe(true);
    const [pocket, plug] = [{ rings: [rectangle(12, 12)] }, { rings: [rectangle(11, 11)] }];
    const other = withInput(first, { ...first.input, pocket, plug });
    expect(other.pocketTree === first.pocketTree || other.plugTree === first.plugTree).toBe(false);
    expect(other.box).toEqual({ minX: -5.5, minY: -5.5, maxX: 5.5, maxY: 5.5 });
  });
});

describe('a cut through a plug that is not home', () => {
  const pair = makePair(input([rectangle(20, 20, 50, 30)]));
  const level = { height: 0, tiltX: 0, tiltY: 0, dx: 0, dy: 0, turn: 0, middle: pair.middle };
  const cut = (seat: Partial<typeof level>, from: Point = [35, 30], to: Point = [65, 30]) =>
    section(pair, { seat: { ...level, ...seat } }, from, to);
  const height = (profile: readonly (readonly [number, number])[], s: number): number => {
    const k = Math.max(
      1,
      profile.findIndex(([at]) => at >= s),
    );
    const [[a, ha], [b, hb]] = [profile[k - 1]!, profile[k]!];
    return ha + ((s - a) * (hb - ha)) / (b - a);
  };

  it('has its root as high as it stands over the face, less the start of the pocket, and the saw halfway', () => {
    // The outlines lie 0.25 mm deep, the plug 0.4 higher: 0.4 + 0.75 - 0.25.
    const { root, saw } = cut({ height: 0.4 });
    expect(root).toEqual([
      [0, expect.closeTo(0.9, 12)],
      [30, expect.closeTo(0.9, 12)],
    ]);
    expect(saw.map(([, h]) => h)).toEqual([expect.closeTo(0.45, 12), expect.closeTo(0.45, 12)]);
    // Tilted by 0.01 along x it rises by 0.15 mm to either end.
    expect(cut({ height: 0.4, tiltX: 0.01 }).root.map(([, h]) => h)).toEqual([
      expect.closeTo(0.75, 9),
      expect.closeTo(1.05, 9),
    ]);
  });

  it('shows its face at mating depth less how proud it stands, moved and turned with it', () => {
    const { plug } = cut({ height: 0.4, dx: 0.5 });
    expect(height(plug, 15)).toBeCloseTo(-0.85, 6);
    // Walls of the plug: its outline is drawn at x 40 and 60 and lies 0.25 - 0.4 mm deep.
    expect(height(plug, 5.5 + 0.5 * t)).toBeCloseTo(0.15 - 0.5, 2);
    expect(height(plug, 25.5 - 0.5 * t)).toBeCloseTo(0.15 - 0.5, 2);
    const up = cut({ dy: -0.5 }, [50, 15], [50, 45]).plug;
    expect(height(up, 4.5 + 0.5 * t)).toBeCloseTo(-0.25 - 0.5, 2);
    expect(height(up, 24.5 - 0.5 * t)).toBeCloseTo(-0.25 - 0.5, 2);
  });

  it('swings sideways below the board as it tilts: a point h above the face by -tilt h along the slope', () => {
    // The right wall of the plug at x: h = tilt (x - 50) - 0.25 - (60 - x - tilt h) / t; the left one likewise.
    const tilt = 0.05;
    const { plug } = cut({ tiltX: tilt });
    expect(height(plug, 24.9)).toBeCloseTo((tilt * 9.9 - 0.25 - 0.1 / t) / (1 - tilt / t), 3);
    expect(height(plug, 5.1)).toBeCloseTo((-tilt * 9.9 - 0.25 - 0.1 / t) / (1 + tilt / t), 3);
    expect(height(plug, 18) - height(plug, 12)).toBeCloseTo(6 * tilt, 3);
    // And so along y.
    const up = cut({ tiltY: tilt }, [50, 15], [50, 45]).plug;
    expect(height(up, 24.9)).toBeCloseTo((tilt * 9.9 - 0.25 - 0.1 / t) / (1 - tilt / t), 3);
  });

  it('keeps glue under the face of the board', () => {
    const { glue, board } = cut({ height: 1.6 });
    expect(glue.length).toBeGreaterThan(0);
    for (const room of glue)
      for (const [k, [s, h]] of room.plug.entries()) {
        expect(h).toBeLessThanOrEqual(0);
        expect(s).toBe(room.board[k]![0]);
      }
    // Lifted clear out of the pocket, the room goes up to the board's face and no higher.
    expect(Math.max(...glue.flatMap((room) => room.plug.map(([, h]) => h)))).toBe(0);
    expect(Math.min(...board.map(([, h]) => h))).toBeCloseTo(-1.75, 6);
  });

  it('is the same told backwards and in any direction', () => {
    const there = cut({ height: 0.2, tiltX: 0.01, dx: 0.1 }, [36, 22], [63, 37]);
    const back = cut({ height: 0.2, tiltX: 0.01, dx: 0.1 }, [63, 37], [36, 22]);
    for (const s of [3, 9, 15, 21, 27]) {
      expect(height(back.plug, there.length - s)).toBeCloseTo(height(there.plug, s), 3);
      expect(height(back.board, there.length - s)).toBeCloseTo(height(there.board, s), 3);
    }
  });
});
