import { quantity } from '../../src/engine/judge.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { placeInJob } from '../place.ts';

/** Wood left under the pocket: board thickness - pocket start depth - pocket flat depth. */
export const depthBoard: Rule = {
  id: 'depth.board',
  asks: 'Is enough board left under the pocket?',
  row: 'Board under the pocket',
  essential: true,
  limits: ['board-floor-least', 'board-floor-least-hard'],
  measure: (facts) => {
    const thickness = facts.job.pocket.stock.thickness;
    if (thickness === undefined)
      return [{ untold: 'The job does not say how thick the board is (pocket: stock: thickness).' }];
    const left = thickness - facts.depths.pocketTotal;
    const atLeast = facts.limit('board-floor-least');
    return [
      {
        measured: quantity(left, 'mm'),
        give: 0,
        want: { atLeast, hardAtLeast: facts.limit('board-floor-least-hard') },
        place: placeInJob(facts, 'pocket.stock.thickness'),
        says:
          left <= 0
            ? 'The pocket goes through the board.'
            : left < atLeast
              ? 'The floor under the pocket is so thin that it bows or lets the bit through.'
              : 'The floor under the pocket is thick enough.',
        ...(left < atLeast
          ? {
              cure: `Use a board at least ${facts.length(facts.depths.pocketTotal + atLeast)} thick, or cut less deep.`,
            }
          : {}),
      },
    ];
  },
};
