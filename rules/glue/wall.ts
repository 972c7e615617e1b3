import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { show } from '../../src/units.ts';
import { placeInJob } from '../place.ts';

/** The sloping wall that is glued, and whether the glue spread on it finds room below the plug. */
export const glueWall: Rule = {
  id: 'glue.wall',
  asks: 'How much wall is glued, and has the glue room?',
  row: "Room for the walls' glue",
  essential: false,
  limits: ['glue-coat'],
  measure: (facts) => {
    const glued = facts.wood.glued();
    if (!('glue' in glued)) return [glued];
    const { glue, needed, overFace, squeezed } = glued;
    const volume = (value: number): string => show(value, 'mm3', facts.job.units);
    const coat = facts.length(facts.limit('glue-coat'));
    const film = glue.film > 0.005 ? ` The walls do not touch but are ${facts.length(glue.film)} apart.` : '';
    const room: Reading = {
      measured: quantity(glue.room, 'mm3'),
      // The volumes are sums over levels; narrow ends and a flat tip put them off by up to three parts in a hundred.
      give: 0.03 * glue.room,
      // Narrow strokes have no floor: what is on their walls leaves by the rim, and more of it is no failure.
      want: { atLeast: needed, hardAtLeast: overFace },
      place: placeInJob(facts, 'pocket.flat-depth'),
      says: `${show(glue.wallArea, 'mm2', facts.job.units)} of wall is glued; ${coat} of glue on both walls is ${volume(needed)}, and all of it may be squeezed down into ${volume(glue.room)} of room.${film}`,
      ...(squeezed > 0
        ? { cure: 'Spread less glue, or cut the pocket deeper: full of glue, it holds the plug up.' }
        : {}),
    };
    return [room, ...glued.hard.map((name) => hardToBond(name, placeInJob(facts, 'plug.stock')))];
  },
};

function hardToBond(name: string, place: Reading['place']): Reading {
  return {
    measured: quantity(1, 'yes'),
    give: 0,
    // Good glue work bonds it all the same, so this is a thing to know and never a fault.
    want: { atMost: 0, hardAtMost: 1 },
    place,
    label: 'Hard to bond',
    says: `${name} bonds with difficulty (Wood Handbook Table 10-1).`,
    cure: 'Ask the sheet of the adhesive, and plane or sand the faces just before gluing.',
  };
}
