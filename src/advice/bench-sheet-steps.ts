import { profileOf } from '../carve/cut.ts';
import type { Facts, Side } from '../carve/facts.ts';
import { open, shrink } from '../geometry/offset.ts';
import { boxOf } from '../geometry/ring.ts';
import { SPREAD } from '../job/spread.ts';
import { show, toDegrees } from '../units.ts';
import {
  around,
  depthOff,
  JOB,
  length,
  limitGround,
  MODEL,
  PRACTICE,
  slopeOff,
} from './bench-sheet-grounds.ts';
import { type Across, type Places, widthWhere } from './bench-sheet-places.ts';
import { bitWords } from './bench-sheet-setup.ts';
import type { Figure, Note, Step } from './bench-sheet-told.ts';

/** The work up to the test fit: the bits, the board, the plug, each with what to measure after it. */
export function cutSteps(facts: Facts, places: Places | { readonly none: string }): readonly Step[] {
  return [
    bitStep(facts),
    woodStep(facts),
    cutStep(facts, 'pocket'),
    measured(facts, 'pocket', places),
    cutStep(facts, 'plug'),
    measured(facts, 'plug', places),
  ];
}

function bitStep(facts: Facts): Step {
  const sides: readonly Side[] = facts.job.plugBit === facts.job.bit ? ['pocket'] : ['pocket', 'plug'];
  const sides2 = sides.length > 1;
  return {
    part: 'both',
    does: `Look at the tip${sides2 ? 's' : ''} through a loupe, then cut a groove in scrap with each V-bit, as deep as told here, and measure how wide it is.`,
    figures: sides.flatMap((side) => bitFigures(facts, side, sides2 ? ` (${side})` : '')),
    notes: [
      {
        says: 'A groove that is wider or narrower tells the true angle or tip: put that into the job and check it again.',
        ground: PRACTICE,
      },
    ],
  };
}

function bitFigures(facts: Facts, side: Side, which: string): Figure[] {
  const bit = facts.bit(side);
  const key = side === 'plug' ? 'plug-bit' : 'bit';
  const { tipWear } = facts.job.spread;
  if (bit.tipFlat === undefined && bit.tipRadius === undefined)
    return [{ name: `Tip${which}`, missing: `${key}: tip-flat or tip-radius` }];
  const tip =
    bit.tipFlat !== undefined
      ? length(`Tip flat${which}`, bit.tipFlat, JOB, { from: bit.tipFlat, to: bit.tipFlat + tipWear })
      : length(`Tip radius${which}`, bit.tipRadius as number, JOB);
  const { t, r } = profileOf({
    halfAngle: bit.angle / 2,
    tipFlat: bit.tipFlat ?? 0,
    ...(bit.tipRadius === undefined ? {} : { tipRadius: bit.tipRadius }),
  });
  const deep = facts.job[side].flatDepth;
  const wide = 2 * (r + deep * t);
  const off = 2 * deep * slopeOff(facts, side);
  const groove = length(`Groove ${facts.length(deep)} deep${which}: its width`, wide, MODEL, {
    from: wide - off,
    to: wide + off + tipWear,
  });
  return [tip, groove];
}

function woodStep(facts: Facts): Step {
  const { spread, pocket, plug } = facts.job;
  const ground = (side: Side): string =>
    facts.job.says(`spread.${side}-flatness`) ? JOB : SPREAD[`${side}-flatness`].ground;
  const flat = (side: Side, name: string, most: number): Figure =>
    length(name, most, ground(side), { from: 0, to: most });
  const moisture = (side: Side, name: string, value: number | undefined): Figure =>
    value === undefined
      ? { name, missing: `${side}: stock: moisture` }
      : { name, value: { value, unit: '%' }, ground: JOB };
  return {
    part: 'both',
    does: 'Face both pieces flat and measure their moisture. Mark the faces that are zero, and on the plug stock the way its grain is to run.',
    figures: [
      flat('pocket', 'Board out of flat, most', spread.pocketFlatness),
      flat('plug', 'Stock out of flat, most', spread.plugFlatness),
      moisture('pocket', 'Moisture of the board', pocket.stock.moisture),
      moisture('plug', 'Moisture of the plug stock', plug.stock.moisture),
    ],
    notes: [
      {
        says: `The two moistures should be no more than ${show(facts.limit('moisture-apart-most'), '%', facts.job.units)} apart.`,
        ground: limitGround(facts, 'moisture-apart-most'),
      },
      grainNote(facts),
    ],
  };
}

/** How the plug's grain lies once it is turned over and in its place. */
function grainNote(facts: Facts): Note {
  const moves = facts.wood.moves();
  if (!('crossed' in moves)) return { says: 'moot' in moves ? moves.moot : moves.untold };
  if (moves.crossed === undefined) return { says: 'One of the two pieces shows end grain.', ground: JOB };
  const apart = toDegrees(moves.crossed);
  const most = facts.limit('grain-crossing-most');
  const text = show(apart, 'deg', facts.job.units);
  return {
    says:
      apart <= most
        ? `Turned over and in its place, the plug's grain lies along the board's (${text} apart): clamp its stock that way round.`
        : `Turned over and in its place, the plug's grain CROSSES the board's by ${text}: the job has it so; if that is not meant, turn the stock.`,
    ground: MODEL,
  };
}

function cutStep(facts: Facts, side: Side): Step {
  const { startDepth, flatDepth } = facts.job[side];
  const cleared = facts.wood.cleared(side);
  const clearing =
    'share' in cleared && cleared.clearing.area > 0
      ? `Clear down to ${facts.length(cleared.clearing.depth)} with the clearing bit; change to the V-bit and set the depth zero anew. `
      : '';
  const piece = side === 'pocket' ? 'board, show face up' : 'plug stock, marked face up, grain as marked';
  const where = side === 'pocket' ? 'inside its outline' : 'outside its outline, all round';
  const mirror = side === 'plug' && facts.job.plug.mirror === 'toolpath' ? ', the toolpath mirrored' : '';
  const zero = side === 'pocket' ? facts.job.spread.pocketZero : facts.job.spread.plugZero;
  const ground = facts.job.says(`spread.${side}-zero`) ? JOB : SPREAD[`${side}-zero`].ground;
  return {
    part: side,
    does: `Clamp the ${piece}; set the depth zero on it; run round the outline in the air, spindle off, and watch the clamps. ${clearing}Carve the ${side} ${where}${mirror}: ${bitWords(facts, side)}; start depth ${facts.length(startDepth)}, flat depth ${facts.length(flatDepth)}.`,
    figures: [length('Depth zero found again within', zero, ground)],
    notes: [],
  };
}

function measured(facts: Facts, side: Side, places: Places | { readonly none: string }): Step {
  const does =
    side === 'pocket'
      ? 'Brush the pocket out. Before the clamps come off, measure (W and N are on the plan):'
      : 'Brush the plug off. Before the clamps come off, measure:';
  if ('none' in places)
    return { part: side, does, figures: [], notes: [{ says: `Not worked out. ${places.none}` }] };
  const figures = side === 'pocket' ? pocketFigures(facts, places) : plugFigures(facts, places);
  const again =
    side === 'pocket'
      ? 'Too shallow: cut once more with the same zero. Too deep: the mouth is wider; measure it and check the job with the depths as cut.'
      : 'Too shallow: cut once more with the same zero. Do not sand the sloping walls.';
  return { part: side, does, figures, notes: [{ says: again, ground: PRACTICE }] };
}

function pocketFigures(facts: Facts, { pair, widest, narrowest }: Places): Figure[] {
  const off = depthOff(facts, 'pocket');
  const depth = (name: string, place: Across | undefined): Figure[] => {
    if (place === undefined) return [];
    const deep = pair.pocket.depth(...place.at);
    const text = deep < facts.depths.pocketTotal - 1e-6 ? `${name}, in the V` : `${name}, on the flat`;
    return [length(text, deep, MODEL, around(deep, off))];
  };
  const mouth = (place: Across | undefined): Figure[] => {
    if (place === undefined) return [];
    const wide = widthWhere((at) => pair.pocket.depth(...at) > 0, place);
    return [
      length(
        'Stroke at N, wide at the face',
        wide,
        MODEL,
        widthRange(facts, 'pocket', wide, pair.pocket.depth(...place.at)),
      ),
    ];
  };
  return [
    ...depth('Depth at W', widest),
    ...depth('Depth at N', narrowest),
    ...mouth(narrowest),
    ...overall(facts, 'pocket'),
  ];
}

function plugFigures(facts: Facts, { pair, narrowest }: Places): Figure[] {
  const deep = facts.depths.plugTotal;
  const flat = length('Flat round it, below its face', deep, MODEL, around(deep, depthOff(facts, 'plug')));
  if (narrowest === undefined) return [flat, ...overall(facts, 'plug')];
  const crest = pair.plug.depth(...narrowest.at);
  if (crest > 1e-6) {
    const ridge = length(
      'Crest at N, below the face',
      crest,
      MODEL,
      around(crest, depthOff(facts, 'plug') + crestOff(facts, narrowest)),
    );
    return [flat, ridge, ...overall(facts, 'plug')];
  }
  const wide = widthWhere((at) => pair.plug.depth(...at) <= 1e-9, narrowest);
  const face = length(
    'Plug at N, wide at its face',
    wide,
    MODEL,
    widthRange(facts, 'plug', wide, facts.depths.plugTotal),
  );
  return [flat, face, ...overall(facts, 'plug')];
}

/** A crest lies where the two walls meet: the true angle moves it by the stroke's half width over the slope. */
function crestOff(facts: Facts, { width }: Across): number {
  const t = Math.tan(facts.bit('plug').angle / 2);
  return (width / 2) * (slopeOff(facts, 'plug') / (t * t));
}

/**
 * Where a width across two sloping walls may lie: each wall moves by the depth error times the slope, and by the depth
 * it is cut from times the change of slope; a worn tip makes the pocket wider and the plug narrower.
 */
function widthRange(facts: Facts, side: Side, wide: number, deep: number): { from: number; to: number } {
  const t = Math.tan(facts.bit(side).angle / 2);
  const { tipWear, scale } = facts.job.spread;
  const off = 2 * (depthOff(facts, side) * t + deep * slopeOff(facts, side)) + (wide * scale) / 100;
  const [less, more] = side === 'pocket' ? [0, tipWear] : [tipWear, 0];
  return { from: Math.max(0, wide - off - less), to: wide + off + more };
}

/** Corners of this radius are cut off the overall size by the tip at most; rounder arcs than this are not needed, mm. */
const ARC_ERROR = 0.001;

/** Overall size of the pocket's mouth, or of the plug's face, along x and y of its drawing. */
function overall(facts: Facts, side: Side): Figure[] {
  const bit = facts.bit(side);
  if (bit.toolpathAngle !== undefined || bit.toolpathTipFlat !== undefined) return [];
  const { startDepth, flatDepth } = facts.job[side];
  const t = Math.tan(bit.angle / 2);
  const shown =
    side === 'pocket'
      ? shrink(
          open(facts.region('pocket'), (bit.tipFlat ?? 0) / 2, { arcError: ARC_ERROR }),
          -startDepth * t,
          { arcError: ARC_ERROR },
        )
      : shrink(facts.region('plug'), startDepth * t, { arcError: ARC_ERROR });
  if (shown.rings.length === 0) return [];
  const box = boxOf(shown.rings);
  const what = side === 'pocket' ? 'Pocket' : "Plug's face";
  const one = (name: string, size: number): Figure =>
    length(
      `${what}, ${name}`,
      size,
      MODEL,
      widthRange(facts, side, size, side === 'pocket' ? flatDepth : startDepth + flatDepth),
    );
  return [one('along x', box.maxX - box.minX), one('along y', box.maxY - box.minY)];
}
