import { choices, whys } from './advice.ts';
import { chanceOf } from './chance.ts';
import { drawings, paths } from './drawings.ts';
import { anew, jobs } from './jobs.ts';
import type { FuzzKind } from './kind.ts';
import { flags, values } from './measures.ts';
import { pairs } from './pairs.ts';
import { seconds } from './seconds.ts';
import { bitLists, hurt, seen } from './told.ts';

/** Every kind of input, with its share of a long run: a whole pair takes a thousand times as long as a drawing. */
export const KINDS: readonly (readonly [FuzzKind, share: number])[] = [
  [jobs, 0.12],
  [anew, 0.08],
  [bitLists, 0.05],
  [seen, 0.05],
  [hurt, 0.05],
  [drawings, 0.25],
  [paths, 0.3],
  [values, 0.04],
  [flags, 0.058],
  [pairs, 0.0015],
  [seconds, 0.0005],
  [choices, 0.0002],
  [whys, 0.0002],
];

export const kindNamed = (name: string): FuzzKind | undefined =>
  KINDS.find(([kind]) => kind.name === name)?.[0];

/** How one input came out: a word, or what was bad about its answer. */
export type Attempt = { readonly word: string } | { readonly bad: string };

/** The input of this number and kind. */
export const inputOf = (kind: FuzzKind, number: number): Uint8Array => kind.make(chanceOf(number));

export async function attempt(kind: FuzzKind, input: Uint8Array): Promise<Attempt> {
  try {
    return { word: await kind.attempt(input) };
  } catch (thrown) {
    return { bad: thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown) };
  }
}
