import { quantity } from '../../src/engine/judge.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { otherUnit } from '../meant.ts';
import { placeInJob, sentenceCase } from '../place.ts';

/** Nobody mates deeper walls than this, mm; common practice, no source. */
const MOST_LIKELY = 20;

/** How deep the sloping walls touch: pocket start depth + plug start depth. */
export const depthMating: Rule = {
  id: 'depth.mating',
  asks: 'Do the sloping walls touch deep enough?',
  row: 'Mating depth',
  essential: true,
  limits: ['mating-depth-least', 'mating-depth-least-hard'],
  measure: (facts) => {
    const { mating } = facts.depths;
    const atLeast = facts.limit('mating-depth-least');
    return [
      {
        measured: quantity(mating, 'mm'),
        give: 0,
        want: { atLeast, hardAtLeast: facts.limit('mating-depth-least-hard') },
        place: placeInJob(facts, 'plug.start-depth'),
        says:
          mating < atLeast
            ? 'The walls touch so little that sanding flush, or sanding again in later years, reaches the glue.'
            : 'The walls touch deep enough to wedge, and leave wood to sand.',
        ...(mating < atLeast
          ? {
              cure: sentenceCase(
                `${otherUnit(facts, mating, atLeast, MOST_LIKELY)}add ${facts.length(atLeast - mating)} to the plug's start depth, and the same to the pocket's flat depth to keep the glue gap.`,
              ),
            }
          : {}),
      },
    ];
  },
};
