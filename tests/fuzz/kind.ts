import type { Chance } from './chance.ts';

/** One kind of input: how it is made from chance, and what happens when it is read. */
export interface FuzzKind {
  readonly name: string;
  /** Processor time that one input may take; 5 s unless stated. */
  readonly seconds?: number;
  readonly make: (chance: Chance) => Uint8Array;
  /** A word for how it was answered; throws `Bad`, or whatever went wrong, when the answer is none. */
  readonly attempt: (input: Uint8Array) => string | Promise<string>;
}

export const bytesOf = (text: string): Uint8Array => Buffer.from(text, 'utf8');
export const textOf = (bytes: Uint8Array): string => Buffer.from(bytes).toString('utf8');
