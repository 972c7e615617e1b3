import type { Facts } from '../../src/carve/facts.ts';
import type { Worn, WornStroke } from '../../src/carve/facts-wood-joint.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { toDegrees } from '../../src/units.ts';
import { counted, placeAt, placeInJob } from '../place.ts';

/** What may be sanded off the face before the first stroke is gone: half its width over the wall's slope. */
export const wearSanding: Rule = {
  id: 'wear.sanding',
  asks: 'What becomes of the inlay when the face is sanded over the years?',
  row: 'Sanding until a stroke goes',
  essential: true,
  limits: [
    'sanding-least',
    'sanding-least-hard',
    'sanding-each',
    'rim-gap-most',
    'rim-gap-most-hard',
    'proud-most',
  ],
  measure: (facts) => {
    const worn = facts.wood.worn();
    const strokes = 'strokes' in worn ? worn.strokes.map((stroke) => ofStroke(facts, worn, stroke)) : [worn];
    return [...strokes, ...opening(facts)];
  },
};

/** Walls cut at two angles meet at the rim alone, and the first sanding opens a line there. */
function opening(facts: Facts): Reading[] {
  const perMm = facts.wood.openingPerMm();
  if (perMm === 0) return [];
  const sanded = facts.limit('sanding-least');
  const line = perMm * sanded;
  const atMost = facts.limit('rim-gap-most');
  return [
    {
      measured: quantity(line, 'mm'),
      give: 0,
      want: { atMost, hardAtMost: facts.limit('rim-gap-most-hard') },
      place: placeInJob(facts, 'plug-bit.angle'),
      label: `Line after sanding ${facts.length(sanded)}`,
      says: `The plug is cut at a flatter angle than the pocket, so their walls meet at the surface alone: sanding ${facts.length(sanded)} off opens a line ${facts.length(line)} wide all round.`,
      ...(line > atMost ? { cure: 'Cut pocket and plug with one bit.' } : {}),
    },
  ];
}

function ofStroke(facts: Facts, worn: Worn, stroke: WornStroke): Reading {
  const atLeast = facts.limit('sanding-least');
  const each = facts.limit('sanding-each');
  const soon = stroke.left < atLeast;
  // A stroke that ends with the plug's face and not by its width is mended by depth alone.
  const byWidth = stroke.left < worn.allGone;
  const held = worn.proud > facts.limit('proud-most');
  const proud = worn.proud > 0.005 ? ` Standing proud by ${facts.length(worn.proud)} is counted.` : '';
  return {
    measured: quantity(stroke.left, 'mm'),
    give: facts.outlineGive() / worn.lossPerMm,
    want: { atLeast, hardAtLeast: facts.limit('sanding-least-hard') },
    place: placeAt(facts, 'pocket', stroke.at),
    says: `This stroke, ${facts.length(stroke.width)} wide, is gone after ${facts.length(stroke.left)} of sanding: ${counted(stroke.times, 'resurfacing')} of ${facts.length(each)}. Strokes of the inlay lose ${facts.length(worn.lossPerMm * each)} of width each time.${proud} ${othersText(stroke)}`,
    ...(soon
      ? {
          cure: held
            ? 'Mend first what holds the plug proud (see fit.proud): what it stands above the board is sanded off.'
            : byWidth
              ? `Widen the stroke to ${facts.length((atLeast + worn.proud) * worn.lossPerMm)}, or take a bit with a smaller angle.`
              : `Give ${facts.length(atLeast - stroke.left)} more mating depth.`,
        }
      : {}),
  };
}

/** The same stroke under other bits, so that a maker who may still choose one sees what it is worth. */
function othersText({ others }: WornStroke): string {
  const all = (words: readonly string[]): string => `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
  const angles = others.map(({ angle }) => toDegrees(angle).toFixed(0));
  return `Seated home and cut with a bit of ${all(angles)} degrees it would stand ${all(others.map(({ times }) => `${times}`))} of them.`;
}
