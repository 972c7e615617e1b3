import type { Pair } from '../carve/fit.ts';
import type { Spread } from '../job/job.ts';
import { SPREAD } from '../job/spread.ts';
import { degrees } from '../units.ts';
import { armOf, type ErrorKey, type Errors, NO_ERRORS } from './why-errors.ts';

export type CauseKey =
  | 'pocket-zero'
  | 'plug-zero'
  | 'angle'
  | 'tip'
  | 'runout'
  | 'pocket-hollow'
  | 'plug-hollow'
  | 'pocket-tilted'
  | 'plug-tilted'
  | 'pocket-scale'
  | 'plug-scale'
  | 'squareness'
  | 'pocket-outline'
  | 'plug-outline'
  | 'held-aside'
  | 'turned'
  | 'not-home'
  | 'crooked'
  | 'floor-filled';

/** One thing that may be wrong, as a size that is sought: mm, radians, or a share of 1. */
export interface Cause {
  readonly key: CauseKey;
  readonly counts: 'length' | 'angle' | 'share';
  /** What it may usually come to: the job's own spread, or common practice where a job has no word for it. */
  readonly usual: number;
  /** The sizes that can be at all; a cause that only grows begins at 0. */
  readonly least: number;
  readonly most: number;
  /** Up to this size it does nothing, when the plug stands where the job wants it. */
  readonly idle: number;
  /** Whether it points somewhere: then it is told by a direction as well, in the drawing, x right and y down. */
  readonly points: boolean;
  readonly errors: (size: number, direction: number) => Errors;
}

/** Common practice, no source, for what no job states; lengths mm. */
const USUAL = { outline: 0.02, aside: 0.05, notHome: 0.2, filling: 0.3 } as const;
/** Nothing is off by more than this many times what is usual: beyond, somebody cut another job. */
const MOST_TIMES = 40;

/** Every cause that is weighed, in the order in which equals are told. */
export function causesOf(pair: Pair, spread: Spread): readonly Cause[] {
  const arm = armOf(pair);
  const flat = Math.min(pair.pocket.real.r, pair.plug.real.r) * 2;
  const { mating, input } = pair;
  const room = Math.max(0.2, input.pocketFlat - input.plugStart);
  const both = (
    key: CauseKey,
    counts: Cause['counts'],
    usual: number,
    error: ErrorKey,
    most = Infinity,
  ): Cause =>
    plain(key, counts, usual, error, -Math.min(most, MOST_TIMES * usual), Math.min(most, MOST_TIMES * usual));
  const grows = (key: CauseKey, usual: number, error: ErrorKey, most: number): Cause =>
    plain(key, 'length', usual, error, 0, Math.min(most, MOST_TIMES * usual));
  const pointing = (key: CauseKey, usual: number, x: ErrorKey, y: ErrorKey, share: number): Cause => ({
    key,
    counts: 'length',
    usual,
    least: 0,
    most: Math.min(MOST_TIMES * usual, mating / 2),
    idle: 0,
    points: true,
    errors: (size, direction) => ({
      ...NO_ERRORS,
      [x]: size * share * Math.cos(direction),
      [y]: size * share * Math.sin(direction),
    }),
  });
  return [
    both(
      'pocket-zero',
      'length',
      ownOr(spread.pocketZero, SPREAD['pocket-zero'].value),
      'pocketZero',
      mating / 2,
    ),
    both('plug-zero', 'length', ownOr(spread.plugZero, SPREAD['plug-zero'].value), 'plugZero', mating / 2),
    both('angle', 'angle', ownOr(spread.angle, degrees(SPREAD.angle.value)), 'angle', degrees(4)),
    plain('tip', 'length', ownOr(spread.tipWear, SPREAD['tip-wear'].value), 'tip', -flat, 1),
    grows('runout', ownOr(spread.runout, SPREAD.runout.value), 'runout', 0.5),
    both(
      'pocket-hollow',
      'length',
      ownOr(spread.pocketFlatness, SPREAD['pocket-flatness'].value),
      'pocketHollow',
      mating / 2,
    ),
    both(
      'plug-hollow',
      'length',
      ownOr(spread.plugFlatness, SPREAD['plug-flatness'].value),
      'plugHollow',
      mating / 2,
    ),
    pointing(
      'pocket-tilted',
      ownOr(spread.pocketFlatness, SPREAD['pocket-flatness'].value),
      'pocketTiltX',
      'pocketTiltY',
      1 / arm,
    ),
    pointing(
      'plug-tilted',
      ownOr(spread.plugFlatness, SPREAD['plug-flatness'].value),
      'plugTiltX',
      'plugTiltY',
      1 / arm,
    ),
    both('pocket-scale', 'share', ownOr(spread.scale, SPREAD.scale.value) / 100, 'pocketScale', 0.02),
    both('plug-scale', 'share', ownOr(spread.scale, SPREAD.scale.value) / 100, 'plugScale', 0.02),
    both(
      'squareness',
      'angle',
      ownOr(spread.squareness, degrees(SPREAD.squareness.value)),
      'shear',
      degrees(1),
    ),
    both('pocket-outline', 'length', USUAL.outline, 'pocketGrowth', 0.6),
    both('plug-outline', 'length', USUAL.outline, 'plugGrowth', 0.6),
    { ...pointing('held-aside', USUAL.aside, 'shiftX', 'shiftY', 1), most: 0.6 },
    plain('turned', 'angle', USUAL.aside / arm, 'turn', -0.6 / arm, 0.6 / arm),
    grows('not-home', USUAL.notHome, 'notHome', mating / 2),
    pointing('crooked', USUAL.notHome, 'crookedX', 'crookedY', 1 / (2 * arm)),
    { ...grows('floor-filled', USUAL.filling, 'filling', room + mating), idle: room },
  ];
}

/** A job may say that something does not vary; a cause with no size at all could never be weighed. */
function ownOr(own: number, usual: number): number {
  return own > 0 ? own : usual;
}

function plain(
  key: CauseKey,
  counts: Cause['counts'],
  usual: number,
  error: ErrorKey,
  least: number,
  most: number,
): Cause {
  return {
    key,
    counts,
    usual,
    least,
    most,
    idle: 0,
    points: false,
    errors: (size) => ({ ...NO_ERRORS, [error]: size }),
  };
}
