import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { area } from '../../src/geometry/region.ts';
import { paintedRegion } from '../reference/svg-compare.ts';
import { read } from './drawings.ts';

/** Outlines that nobody here drew: icon packages from the registry. `DRYFIT_ALL=1` reads every one of them. */
const PACKAGES = [
  '@iconify-json/game-icons',
  '@iconify-json/healthicons',
  '@iconify-json/fluent-emoji-high-contrast',
];
const all = process.env['DRYFIT_ALL'] !== undefined;
const SHARE = all ? 1 : 40;

interface Icons {
  readonly icons: Readonly<
    Record<string, { readonly body: string; readonly width?: number; readonly height?: number }>
  >;
  readonly width?: number;
  readonly height?: number;
}

describe('real outlines', () => {
  it('are read whole, and alike as drawn, mirrored, turned and enlarged', () => {
    const require = createRequire(import.meta.url);
    let count = 0;
    let vertices = 0;
    for (const name of PACKAGES) {
      const set: Icons = JSON.parse(readFileSync(require.resolve(`${name}/icons.json`), 'utf8'));
      for (const [i, icon] of Object.values(set.icons).entries()) {
        if (i % SHARE !== 0) continue;
        const width = icon.width ?? set.width ?? 16;
        const height = icon.height ?? set.height ?? 16;
        const drawing = (inner: string): string =>
          `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" viewBox="0 0 ${width} ${height}">${inner}</svg>`;
        const plain = read(drawing(icon.body));
        const moved = read(drawing(`<g transform="translate(5 7) rotate(33) scale(-2 2)">${icon.body}</g>`));
        count++;
        vertices += plain.vertices;
        expect(
          plain.leftOut.filter((item) => item.kind === 'path-error' || item.kind === 'unreadable-value'),
        ).toEqual([]);
        const size = area(paintedRegion(plain));
        // Chords of 5 micrometres on both; the larger drawing loses a quarter as much of its area.
        expect(Math.abs(area(paintedRegion(moved)) / 4 - size)).toBeLessThan(0.002 * size + 0.05);
      }
    }
    console.log(`icons: ${count} read (${all ? 'all' : `one in ${SHARE}`}), ${vertices} points`);
    expect(count).toBeGreaterThan(100);
  });
});
