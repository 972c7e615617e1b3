import { profileOf } from '../carve/cut.ts';
import type { Point } from '../geometry/shapes.ts';
import {
  ALONG,
  type Along,
  type LoneKind,
  PARTS,
  type Part,
  SPOT_KINDS,
  type SpotKind,
  type Where,
} from '../job/seen.ts';
import { PLACE_WORDS, type PlaceWord } from '../job/seen-schema.ts';
import { degrees } from '../units.ts';
import { deeperAt } from './why-errors.ts';
import { pointAt, type Scene, sitesAt } from './why-scene.ts';
import type { Lie, Outcome } from './why-trial.ts';

/** Something that can be measured at a test fit. */
export type Measure =
  | { readonly kind: SpotKind; readonly where: Where }
  | { readonly kind: 'pocket-size' | 'plug-size'; readonly along: Along }
  | { readonly kind: 'diagonals'; readonly of: Part }
  | { readonly kind: LoneKind | 'rocks' };

/** How exactly the rest is measured, whatever the gauge for lengths: a lens, a test groove, a dial gauge, a hand. */
const SIGMA = { tip: 0.02, angle: degrees(0.2), runout: 0.015, rocks: 0.05 } as const;
/**
 * What else moves every reading a little, mm: the usual spread of all that is not the cause that is weighed (common
 * practice, no source).
 */
const REST = 0.03;
/** The same for the length of a whole part, whose ends are seldom plain walls. */
const ENDS = 0.08;

/** Not every gauge lies at hand: the shares by which a measurement that asks for more is put back. */
const EASE: Partial<Readonly<Record<Measure['kind'], number>>> = {
  'glue-gap': 0.7,
  'tip-flat': 0.8,
  angle: 0.8,
  runout: 0.8,
  'plug-size': 0.8,
};

/**
 * What the measurement comes to with an outcome: mm, or radians for the angle. Where it may have been made at several
 * places, that one counts which comes nearest to what was read.
 */
export function expected(scene: Scene, measure: Measure, outcome: Outcome, read = 0): number {
  const { pair, job } = scene;
  const { errors } = outcome;
  const { input } = pair;
  switch (measure.kind) {
    case 'proud':
      return heightOf(scene, outcome, pointAt(scene, measure.where));
    case 'gap':
      return nearestTo(
        read,
        sitesAt(scene, measure.where).map((k) => Math.max(0, outcome.gaps[k] ?? 0)),
      );
    case 'saw-gap': {
      const [x, y] = pointAt(scene, measure.where);
      const room = input.plugFlat - input.pocketStart + deeperAt(pair, errors, 'plug', x, y);
      return Math.max(0, room + heightOf(scene, outcome, [x, y]));
    }
    case 'glue-gap': {
      const [x, y] = pointAt(scene, measure.where);
      const room = input.pocketFlat - input.plugStart + deeperAt(pair, errors, 'pocket', x, y);
      return Math.max(0, room - errors.filling + heightOf(scene, outcome, [x, y]));
    }
    case 'pocket-depth': {
      const [x, y] = pointAt(scene, measure.where);
      return input.pocketStart + input.pocketFlat + deeperAt(pair, errors, 'pocket', x, y);
    }
    case 'plug-height': {
      const [x, y] = pointAt(scene, measure.where);
      return input.plugStart + input.plugFlat + deeperAt(pair, errors, 'plug', x, y);
    }
    case 'pocket-size':
      return sizeOf(scene, outcome, 'pocket', measure.along);
    case 'plug-size':
      return sizeOf(scene, outcome, 'plug', measure.along);
    case 'diagonals':
      return sizeOf(scene, outcome, measure.of, 'falling') - sizeOf(scene, outcome, measure.of, 'rising');
    case 'board-hollow':
      return errors.pocketHollow;
    case 'stock-hollow':
      return errors.plugHollow;
    case 'tip-flat':
      return Math.max(0, 2 * profileOf(input.pocketTool).r + errors.tip);
    case 'angle':
      return job.bit.angle + errors.angle;
    case 'runout':
      // A dial goes to and fro: it shows the swing to both sides.
      return 2 * errors.runout;
    case 'after-cleaning':
      return outcome.cleaned;
    case 'after-clamping':
      return heightOf(scene, outcome.clamped, pointAt(scene, measure.where));
    case 'rocks':
      return outcome.rock;
  }
}

function sizeOf(scene: Scene, outcome: Outcome, part: Part, along: Along): number {
  const k = ALONG.indexOf(along);
  return (scene[`${part}Size`][k] as number) + (outcome[`${part}Longer`][k] as number);
}

function nearestTo(wanted: number, values: readonly number[]): number {
  return values.reduce(
    (best, v) => (Math.abs(v - wanted) < Math.abs(best - wanted) ? v : best),
    values[0] ?? 0,
  );
}

function heightOf({ pair }: Scene, { height, tiltX, tiltY }: Lie, [x, y]: Point): number {
  return height + tiltX * (x - pair.middle[0]) + tiltY * (y - pair.middle[1]);
}

/** How far the measurement may be off what is expected by chance, one standard uncertainty. */
export function sigmaOf({ accuracy, settings }: Scene, measure: Measure): number {
  switch (measure.kind) {
    case 'tip-flat':
      return SIGMA.tip;
    case 'angle':
      return SIGMA.angle;
    case 'runout':
      return SIGMA.runout;
    case 'rocks':
      return SIGMA.rocks;
    case 'pocket-size':
      return Math.hypot(accuracy, ENDS);
    case 'plug-size':
      return Math.hypot(accuracy, ENDS) * mostPointed(settings, [measure.along]);
    case 'diagonals': {
      // The same callipers at two pairs of like ends: their own error and what moves all ends alike fall out.
      const ends = measure.of === 'pocket' ? 1 : mostPointed(settings, ['falling', 'rising']);
      return Math.hypot(accuracy, REST * ends);
    }
    default:
      return Math.hypot(accuracy, REST);
  }
}

/** How pointed the sharpest end is of the spans along these ways. */
function mostPointed({ spans }: Scene['settings'], ways: readonly Along[]): number {
  return Math.max(1, ...spans.filter(({ along }) => ways.includes(along)).flatMap(({ pointed }) => pointed));
}

export const easeOf = (kind: Measure['kind']): number => EASE[kind] ?? 1;

/** The same thing measured twice has the same key. */
export function keyOf(measure: Measure): string {
  if ('of' in measure) return `${measure.kind} ${measure.of}`;
  const at = 'where' in measure ? String(measure.where) : 'along' in measure ? measure.along : '';
  return `${measure.kind} ${at}`;
}

const SIDES: readonly PlaceWord[] = ['left', 'right', 'top', 'bottom'];
const DEPTHS: readonly PlaceWord[] = ['middle', ...SIDES];

/** Everything that could be measured, the easiest first; a line is only asked for where a word means one wall. */
export function everyMeasure(scene: Scene): readonly Measure[] {
  const { job } = scene;
  const places = (kind: SpotKind): readonly PlaceWord[] =>
    kind === 'proud'
      ? PLACE_WORDS
      : kind === 'gap'
        ? PLACE_WORDS.filter((word) => word !== 'middle' && sitesAt(scene, word).length === 1)
        : DEPTHS;
  const lone: Measure['kind'][] = [
    'rocks',
    'after-cleaning',
    'board-hollow',
    'stock-hollow',
    'runout',
    'angle',
    ...(job.bit.tipFlat === undefined ? [] : ['tip-flat' as const]),
  ];
  return [
    ...SPOT_KINDS.flatMap((kind) => places(kind).map((where): Measure => ({ kind, where }))),
    ...lone.map((kind) => ({ kind }) as Measure),
    ...PARTS.map((of): Measure => ({ kind: 'diagonals', of })),
    ...(['pocket-size', 'plug-size'] as const).flatMap((kind) =>
      ALONG.map((along): Measure => ({ kind, along })),
    ),
  ];
}
