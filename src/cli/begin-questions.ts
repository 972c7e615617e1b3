import type { Reads } from '../job/schema.ts';
import { degrees, mm, parseLength } from '../units.ts';
import { type Answers, type Question, styleOf } from './ask.ts';
import type { Drawings } from './begin-seen.ts';

/**
 * Depths that leave a wall to glue, room for the glue and room for the saw (common practice, no source; the depth
 * checks pass them), as a maker would write them in each unit.
 */
const DEPTHS = {
  mm: { 'pocket.flat-depth': '7.5', 'plug.start-depth': '5', 'plug.flat-depth': '2.5' },
  in: { 'pocket.flat-depth': '0.3', 'plug.start-depth': '0.2', 'plug.flat-depth': '0.1' },
} as const;

/** Included angles that V-bits are sold with, in degrees, the bluntest first (common practice, no source). */
const USUAL_ANGLES = [90, 60, 45, 30, 20, 15] as const;

const LENGTH: Reads = { as: 'length', sign: 'positive' };
const GRAIN: Reads = { as: 'choice', of: ['face', 'edge', 'end'] };

/** What drawings cannot tell, in the order a maker decides it. */
export function questionsFor({ seen, units, isCopy }: Drawings, title: string): readonly Question[] {
  const depth = (key: keyof (typeof DEPTHS)['mm'], asks: string): Question =>
    must(key, asks, LENGTH, (answers) => DEPTHS[styleOf(answers)][key]);
  return [
    must('title', 'What is the piece called?', { as: 'text' }, () => title),
    must('units', 'What is a bare number: mm or in?', { as: 'choice', of: ['mm', 'in'] }, () => units),
    ...(isCopy
      ? [
          must(
            'plug.mirror',
            'The plug is a copy, not the mirror image. Will the toolpath mirror it (toolpath), or not (drawn)?',
            { as: 'choice', of: ['drawn', 'toolpath'] },
            () => 'drawn',
          ),
        ]
      : []),
    depth('plug.start-depth', 'Plug: start depth, which is how deep the sloping walls meet?'),
    depth('pocket.flat-depth', 'Pocket: flat depth, which is the start depth of the plug and room for glue?'),
    depth('plug.flat-depth', 'Plug: flat depth, which is room for the saw?'),
    must('bit.angle', 'V-bit: included angle in degrees?', { as: 'bit-angle' }, (answers) =>
      String(suggestedAngle(seen.pocket.narrow?.width, answers)),
    ),
    may('bit.tip-flat', 'V-bit: width of the flat at the tip, as measured?', {
      as: 'length',
      sign: 'zero-or-more',
    }),
    may('bit.cutting-length', 'V-bit: height of the cutting edges?', LENGTH),
    may('bit.cutting-diameter', 'V-bit: widest diameter the edges cut?', LENGTH),
    may('pocket.stock.wood', 'Board: which wood (dryfit woods lists them)?', { as: 'wood' }),
    may('pocket.stock.grain', 'Board: which grain is up: face, edge or end?', GRAIN, 'face'),
    may('pocket.stock.thickness', 'Board: how thick?', LENGTH),
    may('plug.stock.wood', 'Plug stock: which wood?', { as: 'wood' }),
    may('plug.stock.grain', 'Plug stock: which grain is up: face, edge or end?', GRAIN, 'face'),
    may('plug.stock.thickness', 'Plug stock: how thick?', LENGTH),
    may('plug.stock.width', 'Plug stock: how wide, along x of the drawing?', LENGTH),
    may('plug.stock.length', 'Plug stock: how long, along y of the drawing?', LENGTH),
    may('saw.kerf', 'Saw that frees the plug: how wide is its cut?', LENGTH),
  ];
}

/**
 * The bluntest usual bit whose walls still meet over the whole mating depth in the narrowest stroke: there the walls
 * of the plug's face have drawn in by mating depth x tan(half the angle) from either side. Degrees.
 */
export function suggestedAngle(narrowest: number | undefined, answers: Answers): number {
  const read = parseLength(answers.get('plug.start-depth'), styleOf(answers));
  const mating = typeof read === 'string' ? mm(0) : read;
  const fits = (angle: number): boolean =>
    narrowest === undefined || 2 * mating * Math.tan(degrees(angle) / 2) <= narrowest;
  return USUAL_ANGLES.find(fits) ?? (USUAL_ANGLES.at(-1) as number);
}

function must(key: string, asks: string, reads: Reads, suggest: Question['suggest']): Question {
  return { key, asks, reads, suggest, open: false };
}

function may(key: string, asks: string, reads: Reads, suggested?: string): Question {
  return { key, asks, reads, suggest: () => suggested, open: true };
}
