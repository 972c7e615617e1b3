import Manifold, { type ManifoldToplevel } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { readArtwork } from '../../src/artwork/read.ts';
import { area, partsOf } from '../../src/geometry/region.ts';
import { boxOf } from '../../src/geometry/ring.ts';
import type { RawShape, Region, Ring } from '../../src/geometry/shapes.ts';
import { tidy } from '../../src/geometry/tidy.ts';
import { edgesOf } from '../../src/geometry/tidy-edges.ts';
import { search } from '../../src/geometry/tidy-search.ts';
import { leastWidth } from '../../src/geometry/width.ts';
import { type Drawing, iconDrawings, letterDrawings, someOf } from './letters.ts';

/** Every other icon and every letter with DRYFIT_FULL=1; every twentieth icon and 26 letters otherwise. */
const FULL = process.env['DRYFIT_FULL'] === '1';
const ACROSS = 100; // mm

let second: ManifoldToplevel;
beforeAll(async () => {
  second = await Manifold();
  second.setup();
});

describe('drawings nobody here made', () => {
  it('icons are read, tidied and measured', () => {
    const icons = iconDrawings(ACROSS).filter((_, k) => k % (FULL ? 2 : 20) === 0);
    expect(icons.length).toBeGreaterThan(FULL ? 2000 : 200);
    measureAll('icons', icons);
  }, 1_200_000);

  it('letters are read, tidied and measured', () => {
    const letters = letterDrawings(ACROSS);
    expect(letters).toHaveLength(26 * 12);
    measureAll('letters', FULL ? letters : someOf(letters, 26, 7));
  }, 600_000);
});

interface Measured {
  readonly vertices: number;
  /** Largest difference to the second engine's area, relative. */
  readonly off: number;
  readonly width: number;
  readonly faults: number;
}

function measureAll(what: string, drawings: readonly Drawing[]): void {
  const all = drawings.map(measure);
  const off = Math.max(...all.map((one) => one.off));
  const vertices = all.reduce((sum, one) => sum + one.vertices, 0);
  const widths = all.map((one) => one.width).sort((a, b) => a - b);
  console.log(
    `${all.length} ${what}, ${vertices} points: areas within ${off.toExponential(1)} of a second engine's, ` +
      `${all.filter((one) => one.faults > 0).length} with something to tell, ` +
      `least widths ${widths[0]?.toFixed(4)} to ${widths.at(-1)?.toFixed(2)} mm, ` +
      `half below ${widths[widths.length >> 1]?.toFixed(2)} mm`,
  );
  expect(off).toBeLessThan(1e-6);
}

function measure({ name, svg }: Drawing): Measured {
  const artwork = readArtwork(new TextEncoder().encode(svg), `${name}.svg`);
  expect(
    artwork.leftOut.filter((item) => item.matters),
    name,
  ).toEqual([]);
  const { region, painted, faults } = tidy(artwork.shapes);
  expectClean(name, region);
  expectClean(name, painted);
  const least = leastWidth(region.rings);
  const { minX, minY, maxX, maxY } = boxOf(region.rings);
  const width = least?.width ?? Number.NaN;
  expect(width, name).toBeGreaterThanOrEqual(0);
  expect(width, name).toBeLessThanOrEqual(Math.min(maxX - minX, maxY - minY) + 1e-6);
  const [x, y] = least?.at ?? [Number.NaN, Number.NaN];
  expect(x >= minX && x <= maxX && y >= minY && y <= maxY, `${name} narrowest at ${x} ${y}`).toBe(true);
  // A narrowest place is the middle of a disc that fits: no edge is nearer, told by plain distances.
  expect(Math.abs(nearestEdge(region.rings, x, y) - width / 2), name).toBeLessThan(1e-6);
  const off = Math.max(
    relative(area(painted), paintedBySecond(artwork.shapes)),
    // Rings that crossed or lay on one another would enclose another area than the sum of their own.
    relative(area(region), filledBySecond(region.rings, 'EvenOdd')),
    relative(area(region), filledBySecond(region.rings, 'Positive')),
  );
  return { vertices: artwork.vertices, off, width, faults: faults.length };
}

/** No edges cross, and every ring is the outline of a part or a hole in one. */
function expectClean(name: string, region: Region): void {
  const crossings = search(edgesOf(region.rings), 0).contacts.filter(({ proper }) => proper);
  expect(crossings, name).toEqual([]);
  const listed = partsOf(region).flatMap((part) => [part.outer, ...part.holes]);
  expect(listed, name).toHaveLength(region.rings.length);
}

function nearestEdge(rings: readonly Ring[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings) {
    for (let k = 0; k < ring.length; k += 2) {
      const next = k + 2 === ring.length ? 0 : k + 2;
      const [ax, ay] = [ring[k]! - x, ring[k + 1]! - y];
      const [dx, dy] = [ring[next]! - x - ax, ring[next + 1]! - y - ay];
      // A point drawn twice makes an edge without length.
      const along = Math.min(1, Math.max(0, -(ax * dx + ay * dy) / (dx * dx + dy * dy || 1)));
      least = Math.min(least, Math.hypot(ax + along * dx, ay + along * dy));
    }
  }
  return least;
}

const relative = (ours: number, theirs: number): number => Math.abs(ours - theirs) / theirs;

const polygon = (points: Float64Array): [number, number][] =>
  Array.from({ length: points.length / 2 }, (_, k) => [points[2 * k]!, points[2 * k + 1]!]);

function filledBySecond(rings: readonly Ring[], rule: 'EvenOdd' | 'Positive'): number {
  const section = second.CrossSection.ofPolygons(rings.map(polygon), rule);
  const value = section.area();
  section.delete();
  return value;
}

function paintedBySecond(shapes: readonly RawShape[]): number {
  const sections = shapes.map(({ lines, fillRule }) =>
    second.CrossSection.ofPolygons(
      lines.map(({ points }) => polygon(points)),
      fillRule === 'nonzero' ? 'NonZero' : 'EvenOdd',
    ),
  );
  const whole = second.CrossSection.union(sections);
  const value = whole.area();
  for (const section of new Set([whole, ...sections])) section.delete();
  return value;
}
