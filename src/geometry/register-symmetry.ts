import { fitAt } from './register.ts';
import { outlineOf } from './register-outline.ts';
import { centred, distinct, WIDE_GUESSES } from './register-search.ts';
import { settle } from './register-settle.ts';
import type { Motion, Region } from './shapes.ts';

/** A motion that lays a design on itself. */
export interface Symmetry {
  readonly motion: Motion;
  /** How far from exact, mm. */
  readonly deviation: number;
}

/**
 * The design's own symmetries within `tolerance` mm, turns first (the first of them leaves it as it is), then
 * reflections. At most 64 of either kind: a disc has no end of them.
 */
export function symmetries(region: Region, tolerance: number): readonly Symmetry[] {
  const own = outlineOf(region);
  if (own.x.length === 0) return [];
  return [false, true].flatMap((reflect) => {
    const guesses = centred(region.rings, region.rings, own.centre, own.centre, reflect, WIDE_GUESSES);
    const near = guesses
      .map((guess) => settle(own, own, guess, 4, 4))
      .filter((s) => s.most <= tolerance)
      .map((s) => settle(own, own, s.motion, 4, 1));
    return distinct(near, own)
      .map(({ motion }) => ({ motion, deviation: fitAt(own, own, motion).deviation }))
      .filter(({ deviation }) => deviation <= tolerance)
      .sort((a, b) => Math.abs(a.motion.angle) - Math.abs(b.motion.angle));
  });
}
