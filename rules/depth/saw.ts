import type { Facts } from '../../src/carve/facts.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
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
      ...settled(facts, taken),
    ];
  },
};

/** The same once the plug has settled: a slack plug sinks, and its stock comes down towards the board. */
function settled(facts: Facts, taken: number): Reading[] {
  const fitted = facts.fitted();
  if (!('fit' in fitted)) return [];
  const { fit } = fitted;
  const { wide } = fit.sawGap;
  // A plug that does not sink has the saw gap of its depths, and that was told already.
  if (wide >= facts.depths.saw - fit.give) return [];
  const atLeast = taken + facts.limit('saw-spare-least');
  return [
    {
      measured: quantity(wide, 'mm'),
      give: fit.give,
      want: { atLeast, hardAtLeast: taken },
      place: { part: 'pair' },
      label: 'Saw gap once settled',
      says:
        wide < atLeast
          ? `Pressed home, the plug sinks by ${facts.length(facts.depths.saw - wide)}, and the saw has too little room above the board.`
          : `Pressed home, the plug sinks by ${facts.length(facts.depths.saw - wide)}, and the saw still has room.`,
      ...(wide < atLeast
        ? {
            cure: `Add ${facts.length(atLeast - wide)} to the plug's flat depth, or mend what lets the plug sink.`,
          }
        : {}),
    },
  ];
}
