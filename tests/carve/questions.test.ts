/**
 * What answers cost, in questions to the outline: they are the same on any machine. A short way that no longer spares
 * anything gives right answers still, so nothing else would tell.
 */
import { describe, expect, it } from 'vitest';
import { makeCut, type ToolShape } from '../../src/carve/cut.ts';
import { farthestRoom } from '../../src/carve/cut-room.ts';
import { makePair } from '../../src/carve/fit.ts';
import { largestRadiusUpTo } from '../../src/carve/reach.ts';
import { placesOf } from '../../src/carve/seat.ts';
import { contactPlaces } from '../../src/carve/seat-places.ts';
import { settle } from '../../src/carve/seat-settle.ts';
import { nearestWood } from '../../src/carve/seat-wood.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { degrees } from '../../src/units.ts';
import { ring } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { distance, isIn, type Outline } from '../witness/sweep.ts';
import { questionsOf } from './questions.ts';

const field = new SegmentTree([ring(0, 0, 60, 0, 60, 60, 0, 60)]);

describe('the room for a tip', () => {
  it('beside a plain wall takes two questions, and one where a sharp tip may go anywhere', () => {
    for (const side of [1, -1] as const)
      for (const d of [-0.4, -0.01, 0.02, 0.3, 5])
        for (const [r, legal] of [
          [0.05, 0.05],
          [0.1, 0],
          [0, 0.3],
          [0.05, 2],
          [0, 0],
        ] as const) {
          const asked = questionsOf(() => farthestRoom(field, side, 17, side * d, r, legal, -9));
          expect(asked, `${side} ${d} ${r} ${legal}`).toBe(r + legal === 0 && d > 0 ? 1 : 2);
        }
  });

  it('takes no more than some dozen in corners', () => {
    for (const name of ['rectangle', 'acute triangle', 'notch', 'star', 'letter with a counter']) {
      const outline = SHAPES[name] as Outline;
      const tree = new SegmentTree(ringsOf(outline));
      for (const [cx, cy] of outline.flat())
        for (let k = 0; k < 8; k++) {
          const [x, y] = [cx + 0.04 * Math.cos(k * 0.8), cy + 0.04 * Math.sin(k * 0.8)];
          expect(questionsOf(() => farthestRoom(tree, 1, x, y, 0.06, 0.06, -0.3))).toBeLessThan(16);
        }
    }
  });
});

describe('the depth of a cut along a path for another bit', () => {
  const asked = (tool: ToolShape, side: 1 | -1, d: number): number => {
    const cut = makeCut({ tree: field, side, tool, start: 0.2, flat: 1.5 });
    return questionsOf(() => cut.wall(30, side * d));
  };
  const bit = { halfAngle: degrees(15), tipFlat: 0.12 };

  it.each([
    // Wider than the path's bit its centre is at once as good as any can be; else the places beside it are asked.
    [{ ...bit, toolpathHalfAngle: degrees(14) }, 2],
    [{ ...bit, tipFlat: 0, toolpathHalfAngle: degrees(14) }, 2],
    [{ ...bit, toolpathHalfAngle: degrees(16) }, 10],
    [{ ...bit, tipFlat: 0, tipRadius: 0.3 }, 10],
  ])('beside a plain wall, %j: %d', (tool, most) => {
    for (const side of [1, -1] as const) {
      for (const d of [-0.1, 0.1, 0.3]) expect(asked(tool, side, d)).toBe(most);
      // Over the floor the point itself is a centre.
      expect(asked(tool, side, 1)).toBe(1);
    }
  });
});

describe('the nearest wood', () => {
  it('beside a plain wall is met past one disc: six questions for where it stands, two whether wood is there', () => {
    const tool = { halfAngle: degrees(15), tipFlat: 0.12 };
    const plug = makeCut({ tree: field, side: -1, tool, start: 1, flat: 0.8 });
    const asked = (depth: number, d: number) => questionsOf(() => nearestWood(plug, depth, 30, -d, 9));
    for (const depth of [0.3, 0.9, 1.2]) {
      const wood = (depth - 1) * Math.tan(degrees(15));
      for (const d of [0.005, 0.02, 0.055]) expect(asked(depth, d), `${depth} ${d}`).toBe(d < wood ? 2 : 8);
      // Where the bit may stand over the place itself all ways out are as long, and sixteen are looked along.
      for (const d of [0.2, 0.7]) expect(asked(depth, d), `${depth} ${d}`).toBeLessThanOrEqual(16 * 6 + 8);
    }
  });
});

describe('whether a disc has room in a wide design', () => {
  it.each([
    [40, 60, 8],
    [60, 40, 3],
    [-70, 15, 5.2],
  ])(
    'is told by the first place with so much room on grids of 2, 4, 8, 16, 32 across, the widest %d by %d',
    (w, h, radius) => {
      const wide = Math.abs(w);
      // Only one corner is wide; the frame round the whole is thin.
      const outline: Outline = [
        [
          [100, 30],
          [100 + wide, 30],
          [100 + wide, 30 + h],
          [100, 30 + h],
        ],
        [
          [101, 31],
          [101, 29 + h],
          [99 + wide, 29 + h],
          [99 + wide, 31 + 2.4 * radius],
          [99 + wide - 2.4 * radius, 31 + 2.4 * radius],
          [99 + wide - 2.4 * radius, 31],
        ],
      ];
      const region = { rings: ringsOf(outline) };
      let places = 0;
      const hasRoom = (): boolean => {
        for (let across = 2; across <= 32; across *= 2)
          for (let k = 0; k < across * across; k++) {
            places++;
            const x = 100 + ((0.5 + (k % across)) / across) * wide;
            const y = 30 + ((0.5 + Math.floor(k / across)) / across) * h;
            if (isIn(outline, x, y) && distance(outline, x, y) >= radius) return true;
          }
        return false;
      };
      expect(hasRoom()).toBe(true);
      expect(questionsOf(() => largestRadiusUpTo(region, radius))).toBe(places);
      // Nothing is asked for nothing.
      expect(questionsOf(() => largestRadiusUpTo(region, 0))).toBe(0);
    },
  );
});

function pairOf(pocket: Float64Array[], plug: Float64Array[], halfAngle: number, plugStart: number) {
  const tool = { halfAngle: degrees(halfAngle), tipFlat: 0.12 };
  return makePair({
    pocket: { rings: pocket },
    plug: { rings: plug },
    pocketTool: tool,
    plugTool: tool,
    pocketStart: 0.2,
    pocketFlat: 1.5,
    plugStart,
    plugFlat: 0.5,
  });
}

describe('where a plug comes to rest', () => {
  it.each([
    ['disc', 0, 6],
    ['star', 0, 6],
    ['letter T', 0, 6],
    ['lens', 0.013, 9],
    ['star', 0.013, 4],
  ])('is found by asking each place few times: %s, %f mm aside', (name, by, times) => {
    const rings = ringsOf(SHAPES[name] as Outline);
    const aside = rings.map((one) => one.map((v, k) => v + (k % 2 === 0 ? by : -by / 2)));
    const pair = pairOf(rings, aside, 15, 1);
    const places = placesOf(pair);
    expect(questionsOf(() => settle(pair, places))).toBeLessThan(times * places.length);
  });
});

describe('where a pair may meet', () => {
  // So many as when each place was last shown to be needed; more of them cost time and tell nothing new.
  it.each([
    ['disc', 160, 1066],
    ['rectangle', 210, 1708],
    ['acute triangle', 195, 1513],
    ['star', 355, 3307],
    ['notch', 325, 2628],
    ['letter T', 282, 2757],
    ['lens', 109, 2460],
    ['letter with a counter', 399, 4626],
    ['two close islands', 332, 3029],
  ])(
    'is asked at no more places, and of the outlines no oftener, than it need be: %s',
    (name, most, times) => {
      const rings = ringsOf(SHAPES[name] as Outline);
      const pair = pairOf(rings, rings, 30, 0.6);
      let places = 0;
      const asked = questionsOf(() => {
        places = contactPlaces(pair, 0.3).length;
      });
      expect(places).toBe(most);
      expect(asked).toBeLessThanOrEqual(times);
    },
  );
});

describe('how wide a region is', () => {
  it.each([
    ['disc', 1450, 8.797],
    ['rectangle', 1783, 4],
    ['acute triangle', 3318, 6.357],
    ['star', 4162, 4.584],
    ['notch', 4481, 6.601],
    ['letter T', 2130, 8 / 3],
    ['lens', 5033, 0.8],
    ['letter with a counter', 5121, 2.379],
    ['two close islands', 2025, 4.88],
  ])('is found without asking oftener than it need: %s', (name, times, wide) => {
    // Eight times as large, and 300 mm off: places alike are told by how far they lie apart, wherever that is.
    const rings = ringsOf(SHAPES[name] as Outline).map((one) => one.map((v) => 8 * v + 300));
    let radius = 0;
    const asked = questionsOf(() => {
      radius = largestRadiusUpTo({ rings }, 40);
    });
    expect(radius).toBeCloseTo(wide, 3);
    // Rounding may take a walk a step further.
    expect(asked).toBeLessThanOrEqual(1.02 * times);
  });

  it('is found at once where one disc along the outline is as wide as is asked for', () => {
    // Wider than half of it asks for many places of the grid; this is the bar's own half width.
    const bar = { rings: [ring(0, 0, 400, 0, 400, 4, 0, 4)] };
    expect(questionsOf(() => largestRadiusUpTo(bar, 2))).toBeLessThan(2000);
    expect(largestRadiusUpTo(bar, 2)).toBe(2);
  });
});
