import { InputFault } from '../fault.ts';
import type { Seen } from '../job/seen.ts';
import type { GapWord } from '../job/seen-schema.ts';
import { expected, type Measure, sigmaOf } from './why-measures.ts';
import { type Scene, towards } from './why-scene.ts';
import type { Outcome } from './why-trial.ts';

/** One thing that was seen, asked of an outcome. */
export interface Evidence {
  readonly path: string;
  /** What was measured; undefined for what was said in a word. */
  readonly reading: { readonly measure: Measure; readonly value: number } | undefined;
  /** How many standard uncertainties the outcome is off it, with its sign; for words the sign means nothing. */
  readonly off: (outcome: Outcome) => number;
}

/** A line below this is not seen, mm (common practice, no source); what an eye may be off. */
const VISIBLE = 0.08;
const EYE = 0.025;
/** A plug that gives by this much under a finger rocks; what a finger may be off, mm. */
export const FELT = 0.08;
const FINGER = 0.025;
/** A plug is said to sink when it is lower by this many standard uncertainties. */
const NOTICED = 3.2;
/** A word is never worse than this: somebody may have looked from the wrong side. */
const MOST_OFF = 5;

export function evidenceOf(scene: Scene, seen: Seen): readonly Evidence[] {
  const readings = seen.readings.map(({ path, value, ...measure }): Evidence => {
    const asked = measure as Measure;
    const sigma = sigmaOf(scene, asked);
    return {
      path,
      reading: { measure: asked, value },
      off: (outcome) => (expected(scene, asked, outcome, value) - value) / sigma,
    };
  });
  return [...readings, ...wordsOf(scene, seen)];
}

function wordsOf(scene: Scene, { rocks, sinks, gapOnly, place, accuracy }: Seen): readonly Evidence[] {
  const word = (path: string, off: (outcome: Outcome) => number): Evidence => ({
    path,
    reading: undefined,
    off: (outcome) => Math.min(MOST_OFF, Math.max(0, off(outcome))),
  });
  const words: Evidence[] = [];
  if (rocks !== undefined)
    words.push(word('rocks', ({ rock }) => (rocks ? (FELT - rock) / FINGER : (rock - FELT) / FINGER)));
  const low = NOTICED * accuracy;
  if (sinks !== undefined)
    words.push(
      word('sinks', ({ height }) => (sinks ? (height + low) / accuracy : (-height - low) / accuracy)),
    );
  if (gapOnly !== undefined) {
    const split = splitOf(scene, gapOnly);
    if (split === undefined)
      throw new InputFault(
        'gap-only: All strokes of this design are about as wide, so a line cannot be told from thin or wide ones; write where it is seen with gap:.',
        place('gap-only'),
      );
    words.push(word('gap-only', ({ gaps }) => gapMisfit(scene, gapOnly, split, gaps)));
  }
  return words;
}

/** Which sites of the rim belong to the word; undefined when the design has none such, or no others. */
function splitOf({ settings, rim }: Scene, word: GapWord): readonly boolean[] | undefined {
  const sites = settings.sites.slice(0, rim);
  if (word !== 'thin-strokes' && word !== 'wide-parts') return sites.map(() => true);
  const strict = sites.map(({ thin }) => thin);
  const halves = sites.map(({ half }) => half).sort((a, b) => a - b);
  const cut = halves[Math.floor(halves.length / 4)] as number;
  const mixed = strict.includes(true) && strict.includes(false);
  const thin = mixed ? strict : sites.map(({ half }) => half <= cut);
  if (!thin.includes(true) || !thin.includes(false)) return undefined;
  return word === 'thin-strokes' ? thin : thin.map((is) => !is);
}

function gapMisfit(scene: Scene, word: GapWord, split: readonly boolean[], all: Float64Array): number {
  const gaps = all.subarray(0, scene.rim);
  const sorted = Float64Array.from(gaps).sort();
  const share = (q: number): number => sorted[Math.floor(q * (sorted.length - 1))] as number;
  const seen = (VISIBLE - share(0.95)) / EYE;
  switch (word) {
    case 'nowhere':
      return (share(0.97) - VISIBLE) / EYE;
    case 'all-round':
      return (VISIBLE - share(0.1)) / EYE;
    case 'one-side':
      return Math.min(
        ...(['left', 'right', 'top', 'bottom'] as const).map((side) => sideMisfit(scene, gaps, side)),
      );
    case 'left':
    case 'right':
    case 'top':
    case 'bottom':
      return sideMisfit(scene, gaps, word);
    case 'one-region': {
      const open = gaps.filter((gap) => gap > Math.max(VISIBLE, share(1) / 2)).length / gaps.length;
      return Math.max((VISIBLE - share(1)) / EYE, (open - 0.25) / 0.1);
    }
    case 'thin-strokes':
    case 'wide-parts': {
      const [there, elsewhere] = [meanOf(gaps, split, true), meanOf(gaps, split, false)];
      return Math.max(seen, (VISIBLE / 2 - (there - elsewhere)) / EYE, (elsewhere - VISIBLE) / EYE);
    }
  }
}

/** A line on this side and none opposite. */
function sideMisfit(
  { settings, pair }: Scene,
  gaps: Float64Array,
  side: 'left' | 'right' | 'top' | 'bottom',
): number {
  const [ux, uy] = towards(side);
  const { minX, maxX, minY, maxY } = pair.box;
  const reach = ux === 0 ? (maxY - minY) / 2 : (maxX - minX) / 2;
  const [mx, my] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const outward = settings.sites
    .slice(0, gaps.length)
    .map(({ at }) => ((at[0] - mx) * ux + (at[1] - my) * uy) / Math.max(reach, 1e-9));
  const here = meanOf(
    gaps,
    outward.map((o) => o > 0.5),
    true,
  );
  const there = meanOf(
    gaps,
    outward.map((o) => o < -0.5),
    true,
  );
  return Math.max((VISIBLE - here) / EYE, (there - VISIBLE) / EYE, (VISIBLE / 2 - (here - there)) / EYE);
}

function meanOf(gaps: Float64Array, split: readonly boolean[], side: boolean): number {
  let [sum, count] = [0, 0];
  gaps.forEach((gap, k) => {
    if (split[k] !== side) return;
    sum += gap;
    count += 1;
  });
  return count === 0 ? 0 : sum / count;
}
