import type { Rule } from '../../src/engine/rule.ts';
import { THIN_LIMITS, thinReadings } from '../thin.ts';

/** Islands, necks and thin walls of the plug under the side push of the cutter, against the wood's strength. */
export const plugBreakage: Rule = {
  id: 'plug.breakage',
  asks: 'Do the thin parts of the plug stand up to the cutter?',
  row: 'Thin parts of the plug hold',
  // A job need not name its wood; then this is a thing not seen, and no reason to give no answer at all.
  essential: false,
  limits: THIN_LIMITS,
  measure: (facts) => thinReadings(facts, 'plug'),
};
