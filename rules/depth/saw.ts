import { quantity } from '../../src/engine/judge.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { placeInJob } from '../place.ts';

/** Board surface to the plug stock's cut plane: plug flat depth - pocket start depth. The saw has to pass there. */
export const depthSaw: Rule = {
  id: 'depth.saw',
  asks: 'Can the saw pass between the board and the plug stock?',
  row: 'Saw gap',
  essential: true,
  limits: ['saw-spare-least', 'saw-kerf-assumed'],
  measure: (facts) => {
    const { saw } = facts.depths;
    const kerf = facts.job.saw?.kerf;
    const taken = kerf ?? facts.limit('saw-kerf-assumed');
    const atLeast = taken + facts.limit('saw-spare-least');
    const assumed = kerf === undefined ? ' (the job names no saw; this kerf was taken)' : '';
    return [
      {
        measured: quantity(saw, 'mm'),
        give: 0,
        // With less than the kerf itself the blade runs in the board.
        want: { atLeast, hardAtLeast: taken },
        place: placeInJob(facts, 'plug.flat-depth'),
        says:
          saw < atLeast
            ? `A saw that cuts ${facts.length(taken)} wide${assumed} has too little room and would mark the board.`
            : `A saw that cuts ${facts.length(taken)} wide${assumed} has room.`,
        ...(saw < atLeast ? { cure: `Add ${facts.length(atLeast - saw)} to the plug's flat depth.` } : {}),
      },
    ];
  },
};
