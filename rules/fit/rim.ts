import { asPressed, RIM_GIVE } from '../../src/carve/fit.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { culprit, holdText } from '../holds.ts';
import { fitCure } from '../mends.ts';
import { placeAt } from '../place.ts';

/** The widest line that shows at the surface after the plug has settled as best it can. */
export const fitRim: Rule = {
  id: 'fit.rim',
  asks: 'Will a line show between plug and board?',
  row: 'Line at the rim',
  essential: true,
  limits: ['rim-gap-most', 'rim-gap-most-hard', 'mating-depth-least', 'glue-gap-most'],
  measure: (facts) => {
    const fitted = facts.fitted();
    if (!('fit' in fitted)) return [fitted];
    const { fit } = fitted;
    const atMost = facts.limit('rim-gap-most');
    const { widest } = asPressed(fit);
    const gap = Math.max(0, widest?.gap ?? 0);
    const first = culprit(fit);
    return [
      {
        measured: quantity(gap, 'mm'),
        give: RIM_GIVE,
        want: { atMost, hardAtMost: facts.limit('rim-gap-most-hard') },
        place: widest === undefined ? { part: 'pair' } : placeAt(facts, 'pocket', widest.at),
        says:
          gap <= RIM_GIVE
            ? 'Plug and board meet at the surface all round.'
            : `A line ${facts.length(gap)} wide stays open here.${first === undefined ? '' : ` ${holdText(facts, first, 'place')}`}`,
        ...(gap > atMost - RIM_GIVE ? fitCure(facts, 'gap', gap) : {}),
      },
    ];
  },
};
