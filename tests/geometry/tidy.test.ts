import icons from '@iconify-json/game-icons/icons.json' with { type: 'json' };
import Manifold, { type ManifoldToplevel } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { CHORD_ERROR, Flattener } from '../../src/artwork/flatten.ts';
import { drawPath } from '../../src/artwork/path.ts';
import { InputFault } from '../../src/fault.ts';
import { GRID } from '../../src/geometry/combine.ts';
import { area, contains, partsOf } from '../../src/geometry/region.ts';
import { perimeter, reversed, signedArea } from '../../src/geometry/ring.ts';
import type { RawShape, Region, Ring } from '../../src/geometry/shapes.ts';
import { type FaultKind, tidy } from '../../src/geometry/tidy.ts';
import { edgesOf } from '../../src/geometry/tidy-edges.ts';
import { search } from '../../src/geometry/tidy-search.ts';
import { circle, drawn, ring, seeded, square, starShaped } from './shapes-for-tests.ts';

let second: ManifoldToplevel;
beforeAll(async () => {
  second = await Manifold();
  second.setup();
});

const kindsOf = (shapes: readonly RawShape[]): FaultKind[] => tidy(shapes).faults.map(({ kind }) => kind);

/** No edges cross, and every hole lies in a part: what a clean region promises. */
function expectClean(region: Region): void {
  expect(search(edgesOf(region.rings), 0).contacts.filter(({ proper }) => proper)).toEqual([]);
  expect(partsOf(region).flatMap((part) => [part.outer, ...part.holes])).toHaveLength(region.rings.length);
}

describe('a clean drawing', () => {
  it('keeps its very vertices and has no fault', () => {
    const outer = circle(1 / 3, 2 / 7, 50, 97);
    const hole = reversed(circle(1 / 3, 2 / 7, 20, 31));
    const { region, painted, faults } = tidy([drawn(0, [outer, hole])]);
    expect(region.rings).toEqual([outer, hole]);
    expect(painted.rings).toEqual([outer, hole]);
    expect(faults).toEqual([]);
  });

  it('has its orientation set right without moving a vertex', () => {
    const { region } = tidy([drawn(0, [reversed(square(0, 0, 10))]), drawn(1, [square(2, 2, 3)], 'maple')]);
    expect(region.rings.map(signedArea)).toEqual([100, -9]);
    expect(region.rings.map((r) => new Set(r))).toEqual([new Set([0, 10]), new Set([2, 5])]);
  });

  it('of nothing is nothing', () => {
    expect(tidy([]).region.rings).toEqual([]);
    expect(tidy([]).sourceOf([0, 0])).toBe(-1);
  });
});

describe('nesting', () => {
  it('makes a hole of a shape lying inside another, and an island of one inside that', () => {
    const shapes = [
      drawn(0, [square(0, 0, 30)], 'walnut'),
      drawn(1, [square(5, 5, 20)], 'maple'),
      drawn(2, [square(10, 10, 5)], 'walnut'),
    ];
    const { region, painted, faults } = tidy(shapes);
    expect([area(region), area(painted)]).toEqual([900 - 400 + 25, 900]);
    expect(partsOf(region)).toHaveLength(2);
    expect(faults).toEqual([]);
  });

  it('tells a hole that cannot be seen: same paint, or covered by a later shape', () => {
    const same = tidy([drawn(4, [square(0, 0, 10)]), drawn(7, [square(2, 2, 3)])]);
    expect(same.faults).toMatchObject([{ kind: 'hidden-hole', sources: [7, 4], measured: 9, unit: 'mm2' }]);
    expect([area(same.region), area(same.painted)]).toEqual([91, 100]);
    const under = tidy([drawn(0, [square(2, 2, 3)], 'maple'), drawn(1, [square(0, 0, 10)], 'walnut')]);
    expect(under.faults).toMatchObject([{ kind: 'hidden-hole', sources: [0, 1], measured: 9 }]);
  });

  it('within one shape follows the fill rule, and tells an outline the rule leaves unseen', () => {
    const rings = [square(0, 0, 10), square(2, 2, 3)];
    const solid = tidy([drawn(0, rings, 'walnut', 'nonzero')]);
    expect([area(solid.region), solid.faults[0]?.kind]).toEqual([100, 'hidden-hole']);
    const cutOut = tidy([drawn(0, rings, 'walnut', 'evenodd')]);
    expect([area(cutOut.region), cutOut.faults]).toEqual([91, []]);
  });

  it('fits the policy at random points of 150 drawings of random rectangles', () => {
    const random = seeded(12);
    for (let k = 0; k < 150; k++) {
      const boxes = Array.from({ length: 2 + Math.floor(random() * 7) }, () => {
        const [x, y] = [random() * 70, random() * 70];
        return [x, y, x + 5 + random() * 60, y + 5 + random() * 60] as const;
      });
      const { region } = tidy(boxes.map(([x, y, X, Y], i) => drawn(i, [ring(x, y, X, y, X, Y, x, Y)])));
      expectClean(region);
      for (let p = 0; p < 60; p++) {
        const [x, y] = [random() * 140, random() * 140];
        expect(contains(region, x, y)).toBe(byPolicy(boxes, x, y));
      }
    }
  });
});

type Rectangle = readonly [x: number, y: number, X: number, Y: number];

/** The stated policy worked from the rectangles themselves: joined where their sides cross, then even-odd. */
function byPolicy(boxes: readonly Rectangle[], x: number, y: number): boolean {
  const group = boxes.map((_, i) => i);
  boxes.forEach((a, i) => {
    boxes.forEach((b, j) => {
      const meet = a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
      const within = (p: Rectangle, q: Rectangle): boolean =>
        p[0] > q[0] && p[1] > q[1] && p[2] < q[2] && p[3] < q[3];
      if (!meet || within(a, b) || within(b, a)) return;
      const [from, to] = [group[i]!, group[j]!];
      group.forEach((own, member) => {
        if (own === from) group[member] = to;
      });
    });
  });
  const around = boxes.map(([bx, by, bX, bY]) => x > bx && x < bX && y > by && y < bY);
  return new Set(group.filter((_, i) => around[i])).size % 2 === 1;
}

describe('shapes against each other', () => {
  it('that overlap in part are joined and reported with area and place', () => {
    const { region, faults } = tidy([drawn(0, [square(0, 0, 10)]), drawn(1, [square(8, 7, 10)], 'maple')]);
    expect(area(region)).toBe(194);
    expect(partsOf(region)).toHaveLength(1);
    expect(faults).toMatchObject([{ kind: 'overlap', sources: [0, 1], measured: 6, unit: 'mm2' }]);
    const [x, y] = faults[0]!.at;
    expect(x > 8 && x < 10 && y > 7 && y < 10).toBe(true);
  });

  it('drawn twice count once, from another start, another way round, or flattened otherwise', () => {
    const twins = [
      square(0, 0, 10),
      ring(10, 10, 0, 10, 0, 0, 10, 0),
      reversed(square(0, 0, 10)),
      ring(0, 0, 5, 0, 10, 0, 10, 10, 0, 10),
    ];
    for (const twin of twins) {
      const { region, faults } = tidy([drawn(3, [square(0, 0, 10)]), drawn(5, [twin])]);
      expect(area(region)).toBeCloseTo(100, 6);
      expect(faults).toMatchObject([{ kind: 'repeat', sources: [3, 5], unit: 'mm2' }]);
      expect(faults[0]!.measured).toBeCloseTo(100, 6);
    }
    const circles = tidy([drawn(0, [circle(0, 0, 20, 300)]), drawn(1, [circle(0, 0, 20, 217)])]);
    expect(circles.faults.map(({ kind }) => kind)).toEqual(['repeat']);
    expect(area(tidy(Array.from({ length: 4 }, (_, i) => drawn(i, [square(0, 0, 10)]))).region)).toBe(100);
  });

  it('that share an edge are joined along it, and the touch is told', () => {
    const { region, faults } = tidy([drawn(0, [square(0, 0, 10)]), drawn(1, [square(10, 2, 5)])]);
    expect([area(region), region.rings.length]).toEqual([125, 1]);
    expect(faults).toMatchObject([{ kind: 'near-touch', measured: 0, unit: 'mm' }]);
  });

  it('of which one lies inside against an edge make a notch, also when both stand on a third', () => {
    const door = [
      drawn(0, [square(0, 0, 10)], 'walnut'),
      drawn(1, [ring(4, 6, 6, 6, 6, 10, 4, 10)], 'maple'),
    ];
    expect(area(tidy(door).region)).toBeCloseTo(92, 9);
    expect(area(tidy([...door, drawn(2, [ring(-5, 10, 15, 10, 15, 14, -5, 14)])]).region)).toBeCloseTo(
      172,
      9,
    );
  });

  it('that touch in a point stay two parts, and the touch is told', () => {
    const { region, faults } = tidy([drawn(0, [square(0, 0, 10)]), drawn(1, [square(10, 10, 10)])]);
    expect(partsOf(region)).toHaveLength(2);
    expect(faults).toMatchObject([{ kind: 'near-touch', measured: 0, at: [10, 10] }]);
  });
});

describe('one outline', () => {
  it('crossing itself is told at the exact place, with the area of the smaller loop', () => {
    const bow = tidy([drawn(2, [ring(0, 0, 12, 12, 12, 0, 0, 6)])]);
    // By hand: y = x meets y = 6 - x / 2 at (4, 4); the loop (4,4) (0,0) (0,6) has the area 12.
    expect(bow.faults).toMatchObject([{ kind: 'crossing', sources: [2], unit: 'mm2' }]);
    expect(bow.faults[0]!.at[0]).toBeCloseTo(4, 12);
    expect(bow.faults[0]!.at[1]).toBeCloseTo(4, 12);
    expect(bow.faults[0]!.measured).toBeCloseTo(12, 9);
  });

  it('crossing itself through a corner is a crossing; touching itself there is not', () => {
    const through = ring(0, 0, 5, 5, 10, 10, 10, 0, 5, 5, 0, 10);
    const touching = ring(0, 0, 5, 5, 10, 0, 10, 10, 5, 5, 0, 10);
    expect(kindsOf([drawn(0, [through])])).toEqual(['crossing']);
    expect(kindsOf([drawn(0, [touching])])).toEqual(['near-touch']);
  });

  it('is filled by its rule where it crosses (pentagram, both rules, five crossings)', () => {
    const star = ring(
      ...[0, 2, 4, 1, 3].flatMap((k) => [
        50 * Math.sin((k * 2 * Math.PI) / 5),
        50 * Math.cos((k * 2 * Math.PI) / 5),
      ]),
    );
    const whole = tidy([drawn(0, [star], 'walnut', 'nonzero')]);
    const points = tidy([drawn(0, [star], 'walnut', 'evenodd')]);
    expect([whole, points].map(({ region }) => partsOf(region).length)).toEqual([1, 5]);
    for (const { faults } of [whole, points])
      expect(faults.map(({ kind }) => kind)).toEqual(Array(5).fill('crossing'));
  });

  it('going round twice is a repeat and not a crossing', () => {
    const twice = ring(0, 0, 10, 0, 10, 10, 0, 10, 0, 0, 10, 0, 10, 10, 0, 10);
    const { region, faults } = tidy([drawn(0, [twice])]);
    expect(area(region)).toBe(100);
    expect(faults).toMatchObject([{ kind: 'repeat', measured: 100 }]);
  });

  it('left open is told with the distance of its ends, and closed by a straight line', () => {
    const points = ring(0, 0, 10, 0, 10, 10, 0, 10, 0, 0.5);
    const { region, faults } = tidy([{ source: 0, fillRule: 'nonzero', lines: [{ points, closed: false }] }]);
    expect(area(region)).toBe(100);
    expect(faults).toMatchObject([{ kind: 'open', measured: 0.5, unit: 'mm', at: [0, 0.5] }]);
    const met = ring(0, 0, 10, 0, 10, 10, 0, 10, 0, 0);
    expect(
      tidy([{ source: 0, fillRule: 'nonzero', lines: [{ points: met, closed: false }] }]).faults,
    ).toEqual([]);
  });

  it('without area is told with its length', () => {
    expect(tidy([drawn(0, [ring(0, 0, 3, 4)])]).faults).toMatchObject([
      { kind: 'no-area', measured: 5, unit: 'mm' },
    ]);
    expect(kindsOf([drawn(0, [ring(1, 1, 1, 1, 1, 1)])])).toEqual(['no-area']);
    expect(kindsOf([drawn(0, [ring(0, 0, 1, 1, 2, 2, 5, 5)])])).toEqual(['no-area']);
    expect(kindsOf([drawn(0, [ring()])])).toEqual(['no-area']);
    expect(kindsOf([drawn(0, [square(0, 0, 9), square(0, 0, 9)], 'walnut', 'evenodd')])).toEqual([
      'no-area',
      'repeat',
    ]);
  });

  it('running out and back is a spike of that length, and loses it', () => {
    const { region, faults } = tidy([drawn(0, [ring(0, 0, 10, 0, 10, 5, 18, 5, 10, 5, 10, 10, 0, 10)])]);
    expect(faults).toMatchObject([{ kind: 'spike', measured: 8, at: [18, 5], unit: 'mm' }]);
    expect(Math.max(...region.rings[0]!)).toBe(10);
  });

  it('refuses points that are no numbers', () => {
    expect(() => tidy([drawn(0, [ring(0, 0, Number.NaN, 0, 5, 5)])])).toThrow(RangeError);
  });
});

describe('slivers and specks', () => {
  it('are told at the limit and below, not above', () => {
    const big = square(0, 0, 20);
    const strip = (width: number): Ring => ring(30, 0, 60, 0, 60, width, 30, width);
    // The mean width of a strip l x w is w l / (l + w).
    expect(kindsOf([drawn(0, [big, strip(0.019)])])).toEqual(['sliver']);
    expect(kindsOf([drawn(0, [big, strip(0.0201)])])).toEqual([]);
    expect(kindsOf([drawn(0, [big, square(30, 0, 0.2236)])])).toEqual(['speck']);
    expect(kindsOf([drawn(0, [big, square(30, 0, 0.2237)])])).toEqual([]);
  });

  it('are told in holes as well, and follow the settings', () => {
    const pinhole = [square(0, 0, 20), reversed(square(5, 5, 0.1))];
    expect(tidy([drawn(0, pinhole)]).faults).toMatchObject([{ kind: 'speck', unit: 'mm2' }]);
    expect(tidy([drawn(0, pinhole)], { speckAreaLeast: 0.001 }).faults).toEqual([]);
  });
});

describe('edges that nearly touch', () => {
  it('does not tell a hair beside a corner by how finely its edges are cut', () => {
    // The sharp end of a board spike with a hair of 0.002 mm beside it, from a real drawing.
    const hair = [
      [54.46305, 121.81462],
      [54.46557, 121.81714],
      [54.68217, 122.0418],
      [54.46734, 121.82016],
      [54.52457, 121.89941],
      [54.5711, 121.98538],
      [54.74662, 122.40174],
      [60, 130],
      [50, 130],
      [50, 122],
    ] as const;
    const finer = hair.flatMap(([x, y], k) => {
      const [nx, ny] = hair[(k + 1) % hair.length]!;
      return [x, y, (x + nx) / 2, (y + ny) / 2];
    });
    for (const ring of [hair.flat(), finer])
      for (const way of [Float64Array.from(ring), reversed(Float64Array.from(ring))])
        expect(kindsOf([drawn(0, [way])])).not.toContain('near-touch');
  });

  it('are told with their distance and place', () => {
    const { faults } = tidy([drawn(0, [square(0, 0, 10)]), drawn(1, [square(10.03, 4, 10)])]);
    expect(faults).toMatchObject([{ kind: 'near-touch', sources: [0, 1], unit: 'mm' }]);
    expect(faults[0]!.measured).toBeCloseTo(0.03, 12);
    expect(faults[0]!.at[0]).toBeCloseTo(10.015, 12);
    expect(kindsOf([drawn(0, [square(0, 0, 10)]), drawn(1, [square(10.051, 4, 10)])])).toEqual([]);
  });

  it('are found far apart along one outline: a pinched neck', () => {
    const pinched = ring(0, 0, 40, 0, 50, 9.98, 60, 0, 100, 0, 100, 20, 60, 20, 50, 10.01, 40, 20, 0, 20);
    expect(tidy([drawn(0, [pinched])]).faults).toMatchObject([{ kind: 'near-touch' }]);
  });

  it('are not the sides of a pointed corner, of a cusp, of a slot, nor the points of a fine curve', () => {
    const tip = ring(0, 0, 40, 0, 0, 1.5);
    const half = Array.from({ length: 60 }, (_, k) => [0.2 * (k + 1), 0.0005 * (k + 1) ** 2] as const);
    const cusp = ring(0, 0, ...half.flatMap(([x, y]) => [x, -y]), ...half.toReversed().flat());
    const slot = ring(0, 0, 20, 0, 20, 4, 5, 4, 5, 4.03, 20, 4.03, 20, 8, 0, 8);
    for (const outline of [tip, cusp, slot, circle(0, 0, 5, 5000)])
      expect(kindsOf([drawn(0, [outline])])).toEqual([]);
  });

  it('are told once for a long run, however finely it is drawn', () => {
    for (const corners of [100, 700]) {
      const rings = [circle(0, 0, 20, corners), reversed(circle(0, 0, 19.97, corners))];
      expect(kindsOf([drawn(0, rings)])).toEqual(['near-touch']);
    }
  });
});

describe('the rounding of a drawing written to few digits', () => {
  it('leaves no fault and no crumb of a ring where a seam crosses itself by a hair', () => {
    // The outline overshoots its own start by 3 um: real icons written to two digits do so at every other seam.
    const overshot = ring(0, 0, 20, 0, 20, 20, 0, 20, 0, -0.003, 0.002, 0.001);
    const { region, faults } = tidy([drawn(0, [overshot])]);
    expect(region.rings).toHaveLength(1);
    expect(Math.abs(area(region) - 400)).toBeLessThan(0.01);
    expect(faults).toEqual([]);
    expect(tidy([drawn(0, [overshot])], { loopAreaLeast: 0 }).faults.map(({ kind }) => kind)).toEqual([
      'crossing',
    ]);
  });

  it('closes ends that meet to a millionth of a millimetre, and tells ends a micrometre apart', () => {
    const ends = (gap: number): FaultKind[] =>
      tidy([
        {
          source: 0,
          fillRule: 'nonzero',
          lines: [{ points: ring(0, 0, 9, 0, 9, 9, 0, gap), closed: false }],
        },
      ]).faults.map(({ kind }) => kind);
    expect([ends(1e-6), ends(1e-3)]).toEqual([[], ['open']]);
  });

  it('does not swallow a speck drawn as its own outline beside a crossing one', () => {
    const bow = ring(0, 0, 12, 12, 12, 0, 0, 6);
    expect(kindsOf([drawn(0, [bow, square(30, 30, 0.005)])])).toEqual(['crossing', 'speck']);
  });
});

describe('any drawing', () => {
  it('of scribbles gives a clean region with the area a second engine finds, over 300 of them', () => {
    const random = seeded(31);
    let worst = 0;
    for (let k = 0; k < 300; k++) {
      const rule = k % 2 === 0 ? 'nonzero' : 'evenodd';
      const rings = Array.from({ length: 1 + (k % 3) }, () =>
        Float64Array.from({ length: 2 * (3 + Math.floor(random() * 12)) }, () => random() * 100),
      );
      const { region } = tidy([drawn(0, rings, 'walnut', rule)]);
      expectClean(region);
      const length = rings.reduce((sum, r) => sum + perimeter(r), 0);
      worst = Math.max(worst, Math.abs(area(region) - secondFill(rings, rule)) / length);
    }
    console.log(`300 scribbles: area within ${worst.toExponential(1)} mm times the outline`);
    expect(worst).toBeLessThan(2 * GRID);
  });

  it('gives the same faults when moved, mirrored or turned by a quarter', () => {
    const shapes = [square(0, 0, 10), starShaped(seeded(2), 12, 3, 8, 15), ring(0, 0, 12, 12, 12, 0, 0, 6)];
    const kinds = kindsOf(shapes.map((r, i) => drawn(i, [r])));
    expect(kinds).toContain('overlap');
    const motions = [
      (x: number, y: number) => [x + 300.25, y - 17.5],
      (x: number, y: number) => [-x, y],
      (x: number, y: number) => [-y, x],
    ];
    for (const motion of motions) {
      const moved = shapes.map((r, i) => drawn(i, [r.map((_, k) => motion(r[k & ~1]!, r[k | 1]!)[k % 2]!)]));
      expect(kindsOf(moved)).toEqual(kinds);
    }
  });

  it('too tangled to measure is refused in plain words', () => {
    const random = seeded(1);
    const scribble = Float64Array.from({ length: 2400 }, () => random() * 100);
    expect(() => tidy([drawn(0, [scribble])])).toThrow(InputFault);
  });

  it('names the nearest drawn shape to a place', () => {
    const { sourceOf } = tidy([drawn(6, [square(0, 0, 10)]), drawn(9, [square(20, 0, 10)])]);
    expect([sourceOf([1, 5]), sourceOf([29, 5]), sourceOf([14, 5])]).toEqual([6, 9, 6]);
  });
});

function secondFill(rings: readonly Ring[], rule: 'nonzero' | 'evenodd'): number {
  const polygons = rings.map((r) =>
    Array.from({ length: r.length / 2 }, (_, k): [number, number] => [r[2 * k]!, r[2 * k + 1]!]),
  );
  const section = second.CrossSection.ofPolygons(polygons, rule === 'nonzero' ? 'NonZero' : 'EvenOdd');
  const value = section.area();
  section.delete();
  return value;
}

/** All of them with DRYFIT_FULL=1, every tenth otherwise. */
const EVERY = process.env['DRYFIT_FULL'] === '1' ? 1 : 10;

describe('real icons', () => {
  it('read and tidied are clean, and agree with a second engine within a millionth of their area', () => {
    const names = Object.keys(icons.icons).filter((_, k) => k % EVERY === 0);
    let worst = 0;
    const faulty = new Map<FaultKind, number>();
    for (const name of names) {
      const shapes = shapesOf(icons.icons[name as keyof typeof icons.icons].body);
      const { painted, region, faults } = tidy(shapes);
      expectClean(region);
      for (const kind of new Set(faults.map((fault) => fault.kind)))
        faulty.set(kind, (faulty.get(kind) ?? 0) + 1);
      const expected = secondPainted(shapes);
      worst = Math.max(worst, Math.abs(area(painted) - expected) / expected);
    }
    const told = [...faulty].map(([kind, count]) => `${kind} in ${count}`).join(', ');
    console.log(
      `${names.length} icons: areas within ${worst.toExponential(1)} of a second engine's; ${told}`,
    );
    expect(names.length).toBeGreaterThan(400);
    expect(worst).toBeLessThan(1e-6);
  });
});

/** The paths of an icon drawn on 512 units, laid out 150 mm wide. */
function shapesOf(body: string): RawShape[] {
  const scale = 150 / 512;
  return [...body.matchAll(/ d="([^"]*)"/g)].map(([, data], source) => {
    const pen = new Flattener([scale, 0, 0, scale, 0, 0], CHORD_ERROR, { left: 1e6 });
    expect(drawPath(data!, pen)).toBeUndefined();
    return { source, fillRule: 'nonzero', paint: 'walnut', lines: pen.finish() };
  });
}

function secondPainted(shapes: readonly RawShape[]): number {
  const sections = shapes.map(({ lines, fillRule }) => {
    const polygons = lines.map(({ points }) =>
      Array.from({ length: points.length / 2 }, (_, k): [number, number] => [
        points[2 * k]!,
        points[2 * k + 1]!,
      ]),
    );
    return second.CrossSection.ofPolygons(polygons, fillRule === 'nonzero' ? 'NonZero' : 'EvenOdd');
  });
  const whole = second.CrossSection.union(sections);
  const value = whole.area();
  for (const section of new Set([whole, ...sections])) section.delete();
  return value;
}
