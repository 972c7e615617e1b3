import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { columns } from '../../src/report/layout.ts';
import { planLines } from '../../src/report/plan.ts';
import { factsFor, mirrored } from '../pairs.ts';
import { withMany } from './many.ts';

const SQUARE = '<rect id="square" x="10" y="10" width="80" height="80"/>';

function bench(pocket: string, plug: string) {
  const facts = factsFor({ pocket, plug });
  return { facts, checked: checkJob(facts, RULES) };
}

const twins = bench(SQUARE, mirrored(SQUARE));

function plan(braille = true, width = 80, many = 0, { facts, checked } = twins): string[] {
  return planLines(many > 0 ? withMany(checked, facts, many) : checked, facts, { width, rows: 24, braille });
}

describe('the drawing in the terminal', () => {
  it('keeps to its room at every width', () => {
    for (const width of [60, 80, 110])
      for (const braille of [true, false]) {
        const lines = plan(braille, width, 20);
        expect(Math.max(...lines.map(columns))).toBeLessThanOrEqual(width);
        expect(lines.length).toBeLessThanOrEqual(24 + 3);
      }
  });

  it('draws a square as a square: a character is taken as twice as high as wide', () => {
    const rows = plan(false).filter((line) => /[.:']/.test(line) && !line.startsWith('Pocket'));
    const [first] = rows;
    const wide = (first ?? '').trim().length;
    // Both edges lie on dots, so one dot either way is rounding.
    expect(Math.abs(wide - 2 * rows.length)).toBeLessThanOrEqual(2);
  });

  it('uses plain characters only where braille is not shown', () => {
    const plain = plan(false).join('\n');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: everything beyond plain ASCII is looked for
    expect(plain).not.toMatch(/[^\u0000-\u007f]/);
    expect(plan().join('\n')).toMatch(/[\u2801-\u28ff]/);
  });

  it('shows where only the plug has an outline, and nothing of the kind when the two agree', () => {
    expect(plan().join('\n')).not.toContain('x: here');
    const holed = bench(SQUARE, '<path fill-rule="evenodd" d="M10 10H90V90H10ZM40 40V60H60V40Z"/>');
    const drawn = plan(true, 80, 0, holed);
    expect(drawn.join('\n')).toContain('x: here only the plug has an outline.');
    expect(drawn.filter((line) => /x/.test(line) && !line.includes(':')).length).toBeGreaterThan(2);
  });

  it('puts each number near its place, none over another, and says which had no room', () => {
    const text = plan(true, 80, 60).join('\n');
    for (let number = 1; number <= 60; number++)
      expect(text.split(`(${number})`).length, `(${number})`).toBe(2);
    // All places are corners of the square, which fills the room but for a margin of one character.
    const lines = plan(true, 80, 5);
    const rows = lines.filter((line) => /[\u2801-\u28ff]/.test(line));
    const right = Math.max(...rows.map(columns)) - 1;
    for (let number = 1; number <= 5; number++) {
      const row = lines.findIndex((line) => line.includes(`(${number})`));
      const column = (lines[row] as string).indexOf(`(${number})`) + 1;
      expect(Math.min(Math.abs(row - 1), Math.abs(row - rows.length))).toBeLessThanOrEqual(3);
      expect(Math.min(Math.abs(column - 1), Math.abs(column - right))).toBeLessThanOrEqual(6);
    }
  });

  it('says so when there is nothing to draw', () => {
    expect(plan(true, 80, 0, bench('', ''))).toEqual(['Nothing to draw: neither drawing holds an outline.']);
  });
});
