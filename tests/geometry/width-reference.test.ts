import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { findNecks } from '../../src/geometry/width-necks.ts';
import { lap, walk } from '../../src/geometry/width-walk.ts';
import { outlines } from '../reference/width-outlines.ts';

interface Recorded {
  readonly limit: number;
  readonly outlines: readonly {
    readonly name: string;
    readonly segments: number;
    readonly count: number;
    readonly necks: readonly (readonly [x: number, y: number, width: number])[];
  }[];
}

// Source: Boost.Polygon's exact Voronoi diagram of segments. To record the figures again (needs a C++ compiler and the
// Boost headers): node tests/reference/record-widths.mjs
const recorded = JSON.parse(
  readFileSync(join(import.meta.dirname, '../reference/widths.json'), 'utf8'),
) as Recorded;
/** The reference counts whole nanometres; a width has two ends and a place in between. */
const NANOMETRES = 3e-6;

describe('narrowest places of real outlines, against a segment Voronoi diagram', () => {
  const real = outlines();

  test('the outlines are the recorded ones', () => {
    expect(real.map(({ name, rings }) => [name, rings.reduce((sum, r) => sum + r.length / 2, 0)])).toEqual(
      recorded.outlines.map(({ name, segments }) => [name, segments]),
    );
  });

  test.each(recorded.outlines.map((row) => [row.name, row] as const))('%s', (name, row) => {
    const walked = walk(real.find((outline) => outline.name === name)!.rings, recorded.limit);
    const found: (readonly [number, number, number])[] = [];
    findNecks(walked, ({ width, contacts: [p, q], segments: [i, j] }) => {
      // The reference tells dents by their outline alone, so necks known by the wide material behind them are left out.
      const way = lap(walked, i, p[0], p[1], j, q[0], q[1]);
      if (way < Math.max(3 * width, recorded.limit / 2)) return;
      found.push([(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, width]);
    });
    const least = Math.min(...found.map(([, , width]) => width));
    if (row.count === 0) expect(least).toBe(Number.POSITIVE_INFINITY);
    else expect(Math.abs(least - row.necks[0]![2])).toBeLessThan(NANOMETRES);
    // None is overlooked: beside each there is one found that is as narrow. (Where walls run side by side, whole
    // nanometres make little narrowest places of their own, so beside means within a few widths.)
    for (const [x, y, width] of row.necks) {
      const beside = found.filter(([u, v]) => Math.hypot(x - u, y - v) < 5 * width).map(([, , w]) => w);
      expect(Math.min(...beside)).toBeLessThan(width + NANOMETRES);
    }
  });
});
