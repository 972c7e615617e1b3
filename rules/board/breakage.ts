import type { Rule } from '../../src/engine/rule.ts';
import { THIN_LIMITS, thinReadings } from '../thin.ts';

/** The lands that the pocket leaves of the board, under the side push of the cutter, against the wood's strength. */
export const boardBreakage: Rule = {
  id: 'board.breakage',
  asks: 'Do the thin parts of the board stand up to the cutter?',
  row: 'Thin parts of the board hold',
  essential: false,
  limits: THIN_LIMITS,
  measure: (facts) => thinReadings(facts, 'pocket'),
};
