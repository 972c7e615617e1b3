import { quantity } from '../../src/engine/judge.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { placeInJob } from '../place.ts';

/** Wood left behind the plug: plug stock thickness - plug start depth - plug flat depth. */
export const depthPlugStock: Rule = {
  id: 'depth.plug-stock',
  asks: 'Is the plug stock thick enough?',
  row: 'Stock behind the plug',
  essential: true,
  limits: ['plug-stock-floor-least', 'plug-stock-floor-least-hard'],
  measure: (facts) => {
    const thickness = facts.job.plug.stock.thickness;
    if (thickness === undefined)
      return [{ untold: 'The job does not say how thick the plug stock is (plug: stock: thickness).' }];
    const left = thickness - facts.depths.plugTotal;
    const atLeast = facts.limit('plug-stock-floor-least');
    return [
      {
        measured: quantity(left, 'mm'),
        give: 0,
        want: { atLeast, hardAtLeast: facts.limit('plug-stock-floor-least-hard') },
        place: placeInJob(facts, 'plug.stock.thickness'),
        says:
          left <= 0
            ? 'The cut around the plug goes through its stock, so the plug falls off.'
            : left < atLeast
              ? 'So little wood is left behind the plug that it bends in the clamps.'
              : 'Enough wood is left behind the plug to hold it.',
        ...(left < atLeast
          ? {
              cure: `Use plug stock at least ${facts.length(facts.depths.plugTotal + atLeast)} thick, or cut less deep.`,
            }
          : {}),
      },
    ];
  },
};
