/** Any input has a defined answer: a small sample of each kind, and every input whose answer was ever bad. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { attempt, inputOf, KINDS, kindNamed } from './kinds.ts';

/** How many of each kind are tried here; `npm run fuzz` tries many more. */
const SAMPLE: Readonly<Record<string, number>> = {
  job: 400,
  anew: 200,
  bits: 200,
  seen: 200,
  hurt: 200,
  drawing: 400,
  path: 400,
  value: 200,
  flags: 300,
  pair: 10,
  second: 4,
  choice: 3,
  why: 8,
};
const kept = join(import.meta.dirname, 'kept');

describe('a sample of each kind', () => {
  it.each(KINDS.map(([kind]) => kind))('$name', async (kind) => {
    const words = new Set<string>();
    for (let number = 1; number <= SAMPLE[kind.name]!; number++) {
      const answer = await attempt(kind, inputOf(kind, number));
      expect(answer, `${kind.name} ${number}`).not.toHaveProperty('bad');
      if ('word' in answer) words.add(answer.word);
    }
    // A sample that is refused throughout, or never, tries only half of the reader.
    expect(words.size).toBeGreaterThan(1);
  });

  it('is the same for the same number', () => {
    for (const [kind] of KINDS) {
      expect(inputOf(kind, 7)).toEqual(inputOf(kind, 7));
      expect(inputOf(kind, 7)).not.toEqual(inputOf(kind, 8));
    }
  });
});

describe('inputs whose answer was bad once', () => {
  it.each(readdirSync(kept))('%s', async (name) => {
    const kind = kindNamed(name.split('.')[0]!)!;
    expect(await attempt(kind, readFileSync(join(kept, name)))).toEqual({ word: expect.any(String) });
  });
});
