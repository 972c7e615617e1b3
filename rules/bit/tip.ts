import { tipWidth } from '../../src/carve/reach.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { narrowReadings, STROKE_NAMES } from '../narrow.ts';

/** Strokes of the pocket that are finer than the bit's tip: they stay uncut, and the plug's stroke has no place. */
export const bitTip: Rule = {
  id: 'bit.tip',
  asks: 'Does the tip get into every stroke of the pocket?',
  row: 'Strokes take the tip',
  essential: true,
  limits: ['tip-spare-least'],
  measure: (facts) => {
    if (facts.region('pocket').rings.length === 0)
      return [{ untold: 'The pocket drawing holds no outline.' }];
    const tip = tipWidth(facts.bit('pocket'));
    if (tip === undefined)
      return [
        {
          untold:
            "The job does not say what the bit's tip is: give tip-flat (0 for a sharp point) or tip-radius.",
        },
      ];
    return narrowReadings(facts, {
      side: 'pocket',
      tip,
      runs: facts.narrowStrokes('pocket', tip + facts.limit('tip-spare-least')).runs,
      least: facts.leastStroke('pocket'),
      label: 'Narrowest stroke of the pocket',
      name: (kind) => STROKE_NAMES[kind],
      narrow: (over) => `The tip is wider than this stroke${over}, so the pocket is not cut here.`,
      close: 'The tip barely gets into this stroke and cuts it only skin deep.',
      fine: 'The tip gets into every stroke.',
      cure: (width) => `Widen the stroke to ${width}, or take a bit with a finer tip.`,
    });
  },
};
