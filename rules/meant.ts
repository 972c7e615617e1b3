import type { Facts } from '../src/carve/facts.ts';
import { MM_PER_INCH } from '../src/units.ts';

/**
 * What to look at first where a depth is out of its range and would lie in it, `least` to `most` mm, if the job's figures
 * were meant in the other unit; nothing else.
 */
export function otherUnit(facts: Facts, value: number, least: number, most: number): string {
  const [times, meant, unit] =
    facts.job.units === 'mm' ? [MM_PER_INCH, 'inches', 'in'] : [1 / MM_PER_INCH, 'millimetres', 'mm'];
  const other = value * times;
  return other >= least && other <= most
    ? `If the job's figures are ${meant}, write units: ${unit}. Else: `
    : '';
}
