import { asPressed } from '../../src/carve/fit.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { culprit, holdText } from '../holds.ts';
import { fitCure } from '../mends.ts';
import { placeAt } from '../place.ts';

/** How high the plug sits once it has settled, and what holds it. */
export const fitProud: Rule = {
  id: 'fit.proud',
  asks: 'Does the plug go home, or does something hold it proud?',
  row: 'Plug goes home',
  essential: true,
  limits: ['proud-most', 'proud-most-hard', 'rim-gap-most', 'mating-depth-least', 'glue-gap-most'],
  measure: (facts) => {
    const fitted = facts.fitted();
    if (!('fit' in fitted)) return [fitted];
    const { fit } = fitted;
    const atMost = facts.limit('proud-most');
    const first = culprit(fit);
    const proud = Math.max(0, asPressed(fit).proud);
    return [
      {
        measured: quantity(proud, 'mm'),
        give: Math.min(fit.give, atMost / 4),
        want: { atMost, hardAtMost: facts.limit('proud-most-hard') },
        place: first === undefined ? { part: 'pair' } : placeAt(facts, 'pocket', first.at),
        says:
          first === undefined || proud < fit.give
            ? 'Nothing holds the plug up: its walls meet the board all round.'
            : `${holdText(facts, first, 'no place')} It holds the plug ${facts.length(proud)} proud, and the walls do not meet.`,
        ...(proud > atMost ? fitCure(facts, 'level', proud) : {}),
      },
    ];
  },
};
