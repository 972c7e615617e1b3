import { describe, expect, it } from 'vitest';
import { breakage, type Standing } from '../../src/carve/breakage.ts';
import { holds } from '../../src/carve/breakage-mends.ts';
import { islandAt, lonePiecesOf, safeWidth } from '../../src/carve/breakage-parts.ts';
import { discThatHolds } from '../../src/carve/breakage-round.ts';
import { runBreakage } from '../../src/carve/breakage-runs.ts';
import { area } from '../../src/geometry/region.ts';
import { narrowRuns } from '../../src/geometry/width.ts';
import { degrees } from '../../src/units.ts';
import { speciesOf } from '../../src/wood/species.ts';
import { disc, rectangle } from './breakage-shapes.ts';

const standing = (id: string): Standing => ({
  piece: { species: speciesOf(id)!, grain: 'face', grainAngle: 0 },
  taper: Math.tan(degrees(15)),
  above: 5,
  below: 2.6,
  push: { force: 10, over: 5, safety: 2 },
});

/** By halving between 0.01 and 20 mm, every disc drawn as a polygon of 48 corners and asked at every level. */
function leastRound(s: Standing): number | undefined {
  const ok = (diameter: number): boolean => {
    const ring = Float64Array.from({ length: 96 }, (_, i) => {
      const angle = (Math.PI * Math.floor(i / 2)) / 24;
      return (diameter / 2) * (i % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
    });
    return holds(breakage({ kind: 'island', outline: { rings: [ring] }, radius: diameter / 2 }, s));
  };
  if (!ok(20)) return undefined;
  let [low, high] = [0.01, 20];
  while (high - low > 0.05) {
    const middle = (low + high) / 2;
    if (ok(middle)) high = middle;
    else low = middle;
  }
  return high;
}

describe('parts of a drawing', () => {
  it('the piece a place lies in, with its hole, and nothing outside', () => {
    const hole = disc(2).slice();
    const backwards = new Float64Array(
      Array.from({ length: hole.length / 2 }, (_, i) => [hole[2 * i]!, hole[2 * i + 1]!])
        .reverse()
        .flat(),
    );
    const pieces = lonePiecesOf({ rings: [disc(5), backwards, rectangle(4, 4, 20, 0)] });
    expect(area(islandAt(pieces, [3, 0], 1.5)!.outline)).toBeCloseTo(Math.PI * 21, 1);
    expect(area(islandAt(pieces, [20, 1], 2)!.outline)).toBeCloseTo(16, 9);
    expect(islandAt(pieces, [0, 0], 1)).toBeUndefined();
    expect(islandAt(pieces, [10, 0], 1)).toBeUndefined();
  });

  it('from the safe width on every wall and round island holds, whichever way it lies', () => {
    for (const id of ['cherry-black', 'maple-sugar', 'walnut-black']) {
      const s = standing(id);
      const width = safeWidth(s)!;
      for (const axis of [0, 0.5, Math.PI / 2]) {
        const reach = [0, Number.POSITIVE_INFINITY] as const;
        expect(holds(breakage({ kind: 'wall', width: width + 0.01, axis, reach }, s))).toBe(true);
      }
      const r = width / 2 + 0.01;
      expect(holds(breakage({ kind: 'island', outline: { rings: [disc(r)] }, radius: r }, s))).toBe(true);
    }
    expect(safeWidth(standing('lignumvitae'))).toBeUndefined();
  });

  it.each(
    ['cherry-black', 'maple-sugar', 'walnut-black'].flatMap((id) =>
      [5, 15, 30, 45].flatMap((angle) =>
        (
          [
            [0, 7.6],
            [5, 2.6],
            [2, 0.4],
          ] as const
        ).map(([above, below]) => [id, angle, above, below] as const),
      ),
    ),
  )(
    'the width from which a round island holds is the one that drawing it at every level tells: %s, %d degrees, %d + %d mm',
    (id, angle, above, below) => {
      for (const force of [1, 10, 60]) {
        const s = { ...standing(id), taper: Math.tan(degrees(angle)), above, below };
        const pushed = { ...s, push: { ...s.push, force } };
        expect(discThatHolds(pushed)).toBe(leastRound(pushed));
      }
    },
  );

  it('a bar of a real outline is measured where it stands: 20 x 1.4 mm along x', () => {
    const { runs } = narrowRuns([rectangle(20, 1.4)], 3);
    const b = runBreakage(runs[0]!, standing('cherry-black'));
    expect(runs[0]!.kind).toBe('thin-island');
    expect(b.wall.width).toBeCloseTo(1.4, 3);
    expect(Math.abs(Math.sin(b.direction))).toBeCloseTo(1, 6);
    const alone = breakage({ kind: 'wall', width: 1.4, axis: 0, reach: [0, 20] }, standing('cherry-black'));
    expect(b.bears!).toBeGreaterThanOrEqual(alone.bears! * 0.999);
    expect(b.weakLength).toBeLessThanOrEqual(20);
  });

  it('a dumbbell breaks at its waist', () => {
    // Two 8 mm blocks joined by a bridge 1.2 wide and 4 long.
    const ring = new Float64Array([
      -10, -4, -2, -4, -2, -0.6, 2, -0.6, 2, -4, 10, -4, 10, 4, 2, 4, 2, 0.6, -2, 0.6, -2, 4, -10, 4,
    ]);
    const { runs } = narrowRuns([ring], 3);
    const neck = runs.find((r) => r.kind === 'neck')!;
    const b = runBreakage(neck, standing('cherry-black'));
    expect(b.wall.width).toBeCloseTo(1.2, 6);
    expect(Math.abs(b.at[0])).toBeLessThanOrEqual(2.01);
    expect(b.bears!).toBeLessThan(20);
  });
});
