import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { placeAt, SIDES } from '../place.ts';

/** Open ends: a fill closes them with a straight line, a toolpath may stop there or refuse. */
export const artworkClosed: Rule = {
  id: 'artwork.closed',
  asks: 'Is every outline closed?',
  row: 'Every outline is closed',
  essential: true,
  limits: ['closed-gap-most'],
  measure: (facts) => {
    const atMost = facts.limit('closed-gap-most');
    return SIDES.flatMap((side) => {
      const open = facts.tidy(side).faults.filter((fault) => fault.kind === 'open');
      if (open.length === 0)
        return [
          {
            measured: quantity(0, 'mm'),
            give: 0,
            want: { atMost },
            place: { part: side },
            says: `Every outline of the ${side} drawing ends where it starts.`,
          },
        ];
      return open.map(
        (fault): Reading => ({
          measured: quantity(fault.measured, 'mm'),
          give: 0,
          want: { atMost },
          place: placeAt(facts, side, fault.at),
          label: `Open end in the ${side}`,
          says: 'The outline does not end where it starts; what lies between would be cut by guess.',
          cure: 'Join the two ends in the drawing program.',
        }),
      );
    });
  },
};
