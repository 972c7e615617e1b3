import { afterEach, describe, expect, it, vi } from 'vitest';
import { woods } from '../../src/cli/woods.ts';
import { InputFault } from '../../src/fault.ts';
import { allSpecies } from '../../src/wood/species.ts';

afterEach(() => vi.restoreAllMocks());

function printed(name?: string): string {
  let text = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((chunk) => {
    text += String(chunk);
    return true;
  });
  expect(woods(name)).toBe(0);
  return text;
}

const widest = (text: string) => Math.max(...text.split('\n').map((line) => line.length));

describe('dryfit woods', () => {
  it('lists every wood within 80 columns', () => {
    const text = printed();
    for (const { id } of allSpecies()) expect(text).toContain(`\n${id} `);
    expect(widest(text)).toBeLessThanOrEqual(80);
  });

  it('prints each wood within 80 columns, every figure with a source or as no data', () => {
    for (const { id, name } of allSpecies()) {
      const text = printed(id);
      expect(widest(text)).toBeLessThanOrEqual(80);
      expect(text.split('\n')[0]).toContain(name);
      const rows = text.split('\n').slice(3, 19);
      expect(rows).toHaveLength(16);
      for (const row of rows) expect(row).toMatch(/(no data| {2}[a-h])$/);
      vi.restoreAllMocks();
    }
  });

  it('gives the figure of the table with its table (Table 5-3b: black cherry, 560 psi across the grain, 950 lbf)', () => {
    const text = printed('black cherry');
    expect(text).toMatch(/splitting: tension across the grain +3\.9 MPa {2}a/);
    expect(text).toMatch(/hardness of the side +4226 N {2}a/);
    expect(text).toContain('a  GTR-282 Table 5-3b'.replace('  ', ' '));
  });

  it('leaves a blank of the table blank', () => {
    expect(printed('sugar maple')).toMatch(/splitting: tension across the grain +no data/);
  });

  it('names the nearest woods for a misspelt one, the woods of a name that several have, or none', () => {
    const told = (name: string): string => {
      try {
        woods(name);
      } catch (error) {
        if (error instanceof InputFault) return error.message;
      }
      return '';
    };
    expect(told('blak chery')).toContain('cherry-black');
    expect(told('maple')).toContain('maple-sugar');
    expect(told('qqqqzzzz')).toContain('There is no wood');
  });
});
