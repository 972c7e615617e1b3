import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readArtwork } from '../../src/artwork/read.ts';
import { measured } from '../reference/svg-compare.ts';

/** Our own drawings, one feature each; areas and boxes follow from the numbers written in them. Drawing units. */
interface Row {
  readonly name: string;
  readonly feature: string;
  readonly svg: string;
  readonly area: number;
  readonly box?: readonly number[];
  readonly parts?: number;
  readonly holes?: number;
  readonly mmPerUnit?: readonly number[];
}

const rows: readonly Row[] = JSON.parse(
  readFileSync(join(import.meta.dirname, '../fixtures/svg/own.json'), 'utf8'),
);

describe('one feature a drawing', () => {
  it.each(rows)('$name: $feature', (row) => {
    const artwork = readArtwork(new TextEncoder().encode(row.svg), `${row.name}.svg`);
    const [sx, sy] = artwork.size.perUserUnit;
    if (row.mmPerUnit !== undefined) {
      expect(sx / row.mmPerUnit[0]!).toBeCloseTo(1, 8);
      expect(sy / (row.mmPerUnit[1] ?? row.mmPerUnit[0]!)).toBeCloseTo(1, 8);
    }
    const ours = measured(artwork);
    // Curves lose at most 5 micrometres all along their outline.
    const chord = 0.005 / Math.min(sx, sy);
    const reach = row.box === undefined ? 0 : row.box[2]! - row.box[0]! + row.box[3]! - row.box[1]!;
    expect(Math.abs(ours.area - row.area)).toBeLessThanOrEqual(1e-6 * row.area + 2 * chord * reach);
    if (row.box !== undefined)
      for (const [i, edge] of row.box.entries())
        expect(Math.abs(ours.bbox![i]! - edge)).toBeLessThanOrEqual(chord + 1e-6 * Math.abs(edge));
    if (row.parts !== undefined) expect(ours.components).toBe(row.parts);
    if (row.holes !== undefined) expect(ours.holes).toBe(row.holes);
  });
});
