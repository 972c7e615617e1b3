import type { Facts } from '../carve/facts.ts';
import type { Seen } from '../job/seen.ts';
import { causesOf } from './why-causes.ts';
import { NO_ERRORS } from './why-errors.ts';
import { type Evidence, evidenceOf } from './why-evidence.ts';
import { expected } from './why-measures.ts';
import { type Scene, sceneOf } from './why-scene.ts';
import { misfitOf, type Sized, sizeCauses } from './why-size.ts';
import { type Question, type Telling, TOLD_APART, tellings } from './why-telling.ts';
import { type Outcome, type Trial, trial } from './why-trial.ts';

/**
 * as-drawn: nothing need be wrong; one, several: so many causes explain it; none: none of them does; unknown: the job
 * does not say enough for a dry fit.
 */
export type WhyAnswer = 'as-drawn' | 'one' | 'several' | 'none' | 'unknown';

/** One cause at the size that explains best what was seen. */
export interface Weighed extends Sized {
  /** Every reading may be what this cause makes of it, within what measuring can tell. */
  readonly explains: boolean;
  /** The reading that fits worst. */
  readonly worst: Left;
}

export interface Left {
  readonly evidence: Evidence;
  /** How far off, in standard uncertainties, and what was expected in the reading's own unit. */
  readonly off: number;
  readonly expected: number | undefined;
}

export interface Why {
  readonly facts: Facts;
  readonly seen: Seen;
  readonly answer: WhyAnswer;
  /** Why there is no answer. */
  readonly untold: string | undefined;
  /** With nothing wrong at all. */
  readonly asDrawn: { readonly misfit: number; readonly worst: Left } | undefined;
  /** Every cause, the likeliest first; those that explain it come before the others. */
  readonly causes: readonly Weighed[];
  /** Pairs of those that explain it that no measurement known here tells apart at these sizes. */
  readonly alike: readonly (readonly [Weighed, Weighed])[];
  /** The one further measurement that best tells `between` apart: the first two that can be. */
  readonly next: (Telling & { readonly between: readonly [Weighed, Weighed] }) | undefined;
}

/**
 * A single reading this many standard uncertainties off is not explained; of `count` readings the worst lies further
 * off by chance alone, and this keeps the chance about what it is for one (the normal law's tail, within 0.1).
 */
const mostOff = (count: number): number => Math.sqrt(9 + 2 * Math.log(count));
/** A cause must explain so much more than nothing at all does. */
const WORTH = 4;
/**
 * Weighs every cause against what was seen; `tryOut` cuts and fits a pair with errors. Throws InputFaults when a reading
 * cannot be of this pair.
 */
export function why(facts: Facts, seen: Seen, tryOut: Trial = trial): Why {
  const made = facts.fitted();
  if (!('fit' in made)) return unknown(facts, seen, 'untold' in made ? made.untold : made.moot);
  const scene = sceneOf(facts, made, seen);
  const evidence = evidenceOf(scene, seen);
  const none = tryOut(scene.pair, NO_ERRORS, scene.settings);
  const asDrawn = { misfit: misfitOf(evidence, none), worst: worstOf(scene, evidence, none) };
  const sized = sizeCauses({ scene, evidence, none, tryOut }, causesOf(scene.pair, facts.job.spread));
  const weighed = sized
    .map((s) => weigh(scene, evidence, s, asDrawn.misfit))
    .sort((a, b) => Number(b.explains) - Number(a.explains) || a.cost - b.cost);
  const good = weighed.filter(({ explains }) => explains);
  const drawn = fits(evidence, asDrawn.misfit, asDrawn.worst);
  const few = good.slice(0, SET_AGAINST).map((one) => rocked(scene, one, tryOut));
  const question: Question = { scene, evidence, none: rocked(scene, { outcome: none }, tryOut).outcome };
  const alike = pairsOf(few).filter(([a, b]) => cannotTell(question, a, b));
  return {
    facts,
    seen,
    answer: answerOf(good, drawn, asDrawn.misfit),
    untold: undefined,
    asDrawn,
    causes: [...few, ...weighed.slice(few.length)],
    alike,
    next: nextOf(question, few, alike),
  };
}

function unknown(facts: Facts, seen: Seen, untold: string): Why {
  return {
    facts,
    seen,
    answer: 'unknown',
    untold,
    asDrawn: undefined,
    causes: [],
    alike: [],
    next: undefined,
  };
}

function answerOf(good: readonly Weighed[], drawn: boolean, misfit: number): WhyAnswer {
  if (drawn && (good[0] === undefined || good[0].cost > misfit - WORTH)) return 'as-drawn';
  if (good.length === 0) return 'none';
  return good.length === 1 && !drawn ? 'one' : 'several';
}

function weigh(scene: Scene, evidence: readonly Evidence[], sized: Sized, misfit: number): Weighed {
  const worst = worstOf(scene, evidence, sized.outcome);
  const explains = sized.size !== 0 && fits(evidence, sized.misfit, worst) && sized.misfit < misfit - WORTH;
  return { ...sized, explains, worst };
}

/** No single reading far off, and not all of them a little: three standard deviations of chi-square. */
function fits({ length }: readonly Evidence[], misfit: number, worst: Left): boolean {
  return Math.abs(worst.off) <= mostOff(length) && misfit <= length + 3 * Math.sqrt(2 * length);
}

function worstOf(scene: Scene, evidence: readonly Evidence[], outcome: Outcome): Left {
  const all = evidence.map((one): Left => {
    const { reading } = one;
    return {
      evidence: one,
      off: one.off(outcome),
      expected: reading && expected(scene, reading.measure, outcome, reading.value),
    };
  });
  return all.reduce((worst, left) => (Math.abs(left.off) > Math.abs(worst.off) ? left : worst));
}

/** Of likely causes only the first few are set against each other: the rest hang behind them. */
const SET_AGAINST = 8;

/** The same with its rocking, which is only worked out when somebody asks for it. */
function rocked<T extends { readonly outcome: Outcome }>(
  { pair, settings }: Scene,
  one: T,
  tryOut: Trial,
): T {
  if (settings.rocking) return one;
  const { rock } = tryOut(pair, one.outcome.errors, { ...settings, rocking: true });
  return { ...one, outcome: { ...one.outcome, rock } };
}

function pairsOf(few: readonly Weighed[]): (readonly [Weighed, Weighed])[] {
  return few.flatMap((a, k) => few.slice(k + 1).map((b) => [a, b] as const));
}

/** Whether no measurement known here tells two causes apart at their sizes. */
function cannotTell(question: Question, a: Sized, b: Sized): boolean {
  return tellings(question, a, b, 'all').every(({ apart }) => apart < TOLD_APART);
}

function nextOf(question: Question, good: readonly Weighed[], alike: Why['alike']): Why['next'] {
  const isAlike = (a: Weighed, b: Weighed): boolean =>
    alike.some((pair) => pair.includes(a) && pair.includes(b));
  for (const between of pairsOf(good)) {
    if (isAlike(...between)) continue;
    const [best] = tellings(question, ...between, 'new');
    if (best && best.apart >= TOLD_APART) return { ...best, between };
  }
  return undefined;
}
