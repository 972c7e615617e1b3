import { randomFrom } from '../faults/designs.ts';

/** What a generator draws from: everything it decides follows from one number. */
export interface Chance {
  /** From 0 up to but without 1. */
  readonly share: () => number;
  /** A whole number from `least` to `most`. */
  readonly count: (least: number, most: number) => number;
  readonly oneIn: (times: number) => boolean;
  readonly pick: <T>(from: readonly T[]) => T;
  /** `least` to `most` of what `make` gives. */
  readonly some: <T>(least: number, most: number, make: (index: number) => T) => T[];
}

export function chanceOf(number: number): Chance {
  // Neighbouring numbers are drawn far apart, so that a run over 1, 2, 3 ... does not begin alike.
  const share = randomFrom(Math.imul(number + 1, 0x9e3779b1));
  const count = (least: number, most: number): number => least + Math.floor(share() * (most - least + 1));
  return {
    share,
    count,
    oneIn: (times) => share() * times < 1,
    pick: (from) => from[count(0, from.length - 1)]!,
    some: (least, most, make) => Array.from({ length: count(least, most) }, (_, i) => make(i)),
  };
}
