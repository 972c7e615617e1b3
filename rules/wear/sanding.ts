import type { Facts } from '../../src/carve/facts.ts';
import type { Worn, WornStroke } from '../../src/carve/facts-wood-joint.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { counted, placeAt } from '../place.ts';

/** What may be sanded off the face before the first stroke is gone: half its width over the wall's slope. */
export const wearSanding: Rule = {
  id: 'wear.sanding',
  asks: 'What becomes of the inlay when the face is sanded over the years?',
  row: 'Sanding until a stroke goes',
  essential: true,
  limits: ['sanding-least', 'sanding-least-hard', 'sanding-each'],
  measure: (facts) => {
    const worn = facts.wood.worn();
    return 'strokes' in worn ? worn.strokes.map((stroke) => ofStroke(facts, worn, stroke)) : [worn];
  },
};

function ofStroke(facts: Facts, worn: Worn, stroke: WornStroke): Reading {
  const atLeast = facts.limit('sanding-least');
  const each = facts.limit('sanding-each');
  const soon = stroke.left < atLeast;
  // A stroke that ends with the plug's face and not by its width is mended by depth alone.
  const byWidth = stroke.left < worn.allGone;
  const proud = worn.proud > 0.005 ? ` Standing proud by ${facts.length(worn.proud)} is counted.` : '';
  return {
    measured: quantity(stroke.left, 'mm'),
    give: facts.outlineGive() / worn.lossPerMm,
    want: { atLeast, hardAtLeast: facts.limit('sanding-least-hard') },
    place: placeAt(facts, 'pocket', stroke.at),
    says: `This stroke, ${facts.length(stroke.width)} wide, is gone after ${facts.length(stroke.left)} of sanding: ${counted(stroke.times, 'resurfacing')} of ${facts.length(each)}. Strokes of the inlay lose ${facts.length(worn.lossPerMm * each)} of width each time.${proud}`,
    ...(soon
      ? {
          cure: byWidth
            ? `Widen the stroke to ${facts.length((atLeast + worn.proud) * worn.lossPerMm)}, or take a bit with a smaller angle.`
            : `Give ${facts.length(atLeast - stroke.left)} more mating depth.`,
        }
      : {}),
  };
}
