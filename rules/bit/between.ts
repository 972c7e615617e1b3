import { tipWidth } from '../../src/carve/reach.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { narrowReadings } from '../narrow.ts';

/** Gaps between the strokes of the plug finer than the tip: wood is left standing there and holds the plug up. */
export const bitBetween: Rule = {
  id: 'bit.between',
  asks: 'Does the tip get between the strokes of the plug?',
  row: 'Lands take the tip',
  essential: true,
  limits: ['tip-spare-least'],
  measure: (facts) => {
    if (facts.region('plug').rings.length === 0) return [{ untold: 'The plug drawing holds no outline.' }];
    const tip = tipWidth(facts.bit('plug'));
    if (tip === undefined)
      return [
        {
          untold:
            "The job does not say what the bit's tip is: give tip-flat (0 for a sharp point) or tip-radius.",
        },
      ];
    const least = facts.leastLand('plug');
    if (least === undefined)
      return [
        {
          measured: quantity(0, 'count'),
          give: 0,
          want: { atMost: 0 },
          place: { part: 'plug' },
          label: 'Lands finer than the tip',
          says: 'No two edges of the plug face one another across a land.',
        },
      ];
    return narrowReadings(facts, {
      side: 'plug',
      tip,
      runs: facts.narrowLands('plug', tip + facts.limit('tip-spare-least')).runs,
      least,
      label: 'Narrowest land beside the plug',
      name: () => 'Gap between strokes',
      narrow: (over) =>
        `The tip is wider than this gap${over}: wood is left standing and the plug cannot seat.`,
      close: 'The tip barely gets into this gap and leaves it only skin deep.',
      fine: 'The tip gets between all strokes.',
      cure: (width) => `Open the gap to ${width}, close it altogether, or take a bit with a finer tip.`,
    });
  },
};
