import type { Facts } from '../../src/carve/facts.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { otherUnit } from '../meant.ts';
import { placeInJob, sentenceCase } from '../place.ts';

/** Room between the plug's face and the pocket's floor: pocket flat depth - plug start depth. */
export const depthGlue: Rule = {
  id: 'depth.glue',
  asks: 'Is there room for glue under the plug?',
  row: 'Glue gap',
  essential: true,
  limits: ['glue-gap-least', 'glue-gap-least-hard', 'glue-gap-most'],
  measure: (facts) => {
    const { glue } = facts.depths;
    const atLeast = facts.limit('glue-gap-least');
    const atMost = facts.limit('glue-gap-most');
    const reading: Reading = {
      measured: quantity(glue, 'mm'),
      give: 0,
      want: { atLeast, atMost, hardAtLeast: facts.limit('glue-gap-least-hard') },
      place: placeInJob(facts, 'pocket.flat-depth'),
      says: sentence(glue, atLeast, atMost),
      ...cure(facts, glue, atLeast, atMost),
    };
    return [reading, ...settled(facts)];
  },
};

/** The same once the plug has settled: a slack plug sinks into the glue, a tip leaves a proud one more room. */
function settled(facts: Facts): Reading[] {
  const fitted = facts.fitted();
  if (!('fit' in fitted)) return [];
  const { face } = fitted.fit.glueGap;
  const atLeast = facts.limit('glue-gap-least');
  // A plug that does not sink has the glue gap of its depths, and that was told already.
  if (face >= facts.depths.glue - fitted.fit.give) return [];
  return [
    {
      measured: quantity(face, 'mm'),
      give: Math.min(fitted.fit.give, atLeast / 4),
      want: { atLeast, hardAtLeast: facts.limit('glue-gap-least-hard') },
      place: { part: 'pair' },
      label: 'Glue gap once settled',
      says:
        face < atLeast
          ? 'Once pressed home the plug sinks so far that little room is left under its face.'
          : 'Room is left under the face of the plug once it is pressed home.',
      ...(face < atLeast
        ? {
            cure: `Cut the pocket ${facts.length(atLeast - face)} deeper (flat depth), or mend what lets the plug sink.`,
          }
        : {}),
    },
  ];
}

function sentence(glue: number, atLeast: number, atMost: number): string {
  if (glue < 0)
    return 'The plug is longer than the pocket is deep: its face stands on the floor and the walls never meet.';
  if (glue < atLeast) return 'Glue and dust under the plug have nowhere to go and will hold it up.';
  if (glue > atMost)
    return 'This much room under the plug is most likely a depth written wrong; it takes much glue and the walls may be short.';
  return 'Glue and dust find room under the plug.';
}

function cure(facts: Facts, glue: number, atLeast: number, atMost: number): { cure?: string } {
  if (glue >= atLeast && glue <= atMost) return {};
  const text =
    glue < atLeast
      ? `cut the pocket ${facts.length(atLeast - glue)} deeper (flat depth), or lower the plug's start depth by as much.`
      : `take ${facts.length(glue - atMost)} off the pocket's flat depth.`;
  return { cure: sentenceCase(`${otherUnit(facts, glue, atLeast, atMost)}${text}`) };
}
