import type { Cause } from './why-causes.ts';
import type { Lie, Outcome } from './why-trial.ts';

/** One trial of a cause: its size and direction, and how the fit came out. */
export interface Tried {
  readonly size: number;
  readonly direction: number;
  readonly outcome: Outcome;
}

/** The outcome a share of the way from one to another, as if all grew straight; beyond 1 it goes on. Its errors are b's. */
function between(a: Outcome, b: Outcome, share: number): Outcome {
  const mix = (from: number, to: number): number => from + share * (to - from);
  const lie = (from: Lie, to: Lie): Lie => ({
    height: mix(from.height, to.height),
    tiltX: mix(from.tiltX, to.tiltX),
    tiltY: mix(from.tiltY, to.tiltY),
  });
  const gaps = new Float64Array(a.gaps.length);
  for (let k = 0; k < gaps.length; k++) gaps[k] = Math.max(0, mix(a.gaps[k] as number, b.gaps[k] as number));
  return {
    errors: b.errors,
    ...lie(a, b),
    gaps,
    rock: Math.max(0, mix(a.rock, b.rock)),
    cleaned: mix(a.cleaned, b.cleaned),
    clamped: lie(a.clamped, b.clamped),
    pocketLonger: a.pocketLonger.map((from, k) => mix(from, b.pocketLonger[k] as number)),
    plugLonger: a.plugLonger.map((from, k) => mix(from, b.plugLonger[k] as number)),
  };
}

/**
 * What a size (and direction) would come to by the trials made so far: straight between neighbours, and on from the
 * last. `none` is the fit with nothing wrong.
 */
export function guessed(
  cause: Cause,
  none: Outcome,
  tried: readonly Tried[],
  size: number,
  direction: number,
): Outcome {
  const [before, after, share] = neighbours(tried, direction);
  const one = alongSizes(none, before, size);
  const guess = after === before ? one : between(one, alongSizes(none, after, size), share);
  return { ...guess, errors: cause.errors(size, direction) };
}

/** The trials of the two directions on either side of one; the same twice where a cause does not point. */
function neighbours(
  tried: readonly Tried[],
  direction: number,
): readonly [readonly Tried[], readonly Tried[], number] {
  const ways = [...new Set(tried.map((t) => t.direction))].sort((a, b) => a - b);
  const of = (way: number): readonly Tried[] => tried.filter((t) => t.direction === way);
  if (ways.length < 2) return [tried, tried, 0];
  const turned = wrapped(direction);
  const next = ways.findIndex((way) => way > turned);
  const to = Math.max(0, next);
  const from = (to + ways.length - 1) % ways.length;
  const [a, b] = [ways[from] as number, ways[to] as number];
  const span = wrapped(b - a);
  return [of(a), of(b), span === 0 ? 0 : wrapped(turned - a) / span];
}

/** An angle from 0 up to a whole turn. */
export function wrapped(angle: number): number {
  const turn = 2 * Math.PI;
  return ((angle % turn) + turn) % turn;
}

function alongSizes(none: Outcome, tried: readonly Tried[], size: number): Outcome {
  const same = tried.filter((t) => t.size !== 0 && t.size > 0 === size > 0);
  const points = [{ size: 0, outcome: none }, ...same].sort((a, b) => Math.abs(a.size) - Math.abs(b.size));
  if (points.length === 1) return none;
  const beyond = points.findIndex((p) => Math.abs(p.size) >= Math.abs(size));
  const to = Math.max(1, beyond < 0 ? points.length - 1 : beyond);
  const [a, b] = [points[to - 1], points[to]] as [Tried, Tried];
  return between(a.outcome, b.outcome, (size - a.size) / (b.size - a.size));
}
