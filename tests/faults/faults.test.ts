/**
 * Faults put into pairs that nobody here drew (the icons of tests/reference/width-outlines.ts): what is due at each
 * size follows from the limits. `npm run faults` plants every one in every design; here a sample of each kind.
 */
import { describe, expect, it } from 'vitest';
import { CATALOGUE, type FaultKind, sound } from './catalogue.ts';
import { designs, randomFrom } from './designs.ts';
import { EXPORTS } from './exports.ts';
import { blamed, complaint, type Trial, tryFault } from './trial.ts';

const all = designs(['fern', 'flatfish', 'hummingbird']);
const DRAWN = [
  'artwork.read',
  'artwork.closed',
  'artwork.clean',
  'artwork.size',
  'pair.mirror',
  'pair.match',
];

/** The first size at which something is due, and one at which nothing is. */
function sampleOf(kind: FaultKind): FaultKind {
  const told = kind.sizes.find(([, due]) => due === 'fail') ?? kind.sizes[0];
  const quiet = kind.sizes.find(([, due]) => due === 'nothing');
  return { ...kind, sizes: [told, quiet].filter((size) => size !== undefined) };
}

describe('a planted fault is told where it is, and what is no fault is not', () => {
  CATALOGUE.forEach((kind, n) => {
    it(kind.name, () => {
      const inTurn = [...all.slice(n % all.length), ...all];
      const trials = inTurn.reduce<readonly Trial[]>(
        (found, design) => (found.length > 0 ? found : tryFault(sampleOf(kind), design, n + 1)),
        [],
      );
      expect(trials.length, 'it could be planted').toBeGreaterThan(0);
      const wrong = trials.filter((trial) => complaint(trial) !== undefined);
      expect(wrong).toEqual([]);
    });
  });
});

describe('a sound pair is not blamed for how it was saved', () => {
  EXPORTS.forEach(({ name, save }, n) => {
    it(name, () => {
      const design = all[n % all.length] as (typeof all)[number];
      expect(blamed(sound(design), DRAWN)).toEqual([]);
      expect(blamed(save(design, randomFrom(n + 1)), DRAWN)).toEqual([]);
    });
  });
});
