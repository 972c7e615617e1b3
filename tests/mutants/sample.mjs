import { createHash } from 'node:crypto';

/** What tells one mutant from all others, whatever number the tool gave it in this run. */
const nameOf = (file, { mutatorName, replacement, location: { start, end } }) =>
  [file, start.line, start.column, end.line, end.column, mutatorName, replacement].join('|');

/** The mutants in an order that only the seed decides; each is `{ file, mutatorName, replacement, location }`. */
export function shuffled(mutants, seed) {
  const place = new Map(
    mutants.map((mutant) => [
      mutant,
      createHash('sha256')
        .update(`${seed}|${nameOf(mutant.file, mutant)}`)
        .digest('hex'),
    ]),
  );
  return mutants.toSorted((a, b) => (place.get(a) < place.get(b) ? -1 : 1));
}

/**
 * A checker lets a mutant through to the tests or turns it away. This one lets through the first `count` of the
 * shuffled mutants, so that a large room can be judged by a sample; the tool itself only knows "all".
 */
class Sample {
  #taken = new Set();

  async init() {}

  async group(mutants) {
    const { root, count, seed } = JSON.parse(process.env.DRYFIT_MUTANTS);
    const named = mutants.map((mutant) => ({
      ...mutant,
      file: mutant.fileName.slice(root.length + 1),
      location: countedFromOne(mutant.location),
    }));
    for (const { id } of shuffled(named, seed).slice(0, count)) this.#taken.add(id);
    return [mutants.map(({ id }) => id)];
  }

  async check(mutants) {
    return Object.fromEntries(
      mutants.map(({ id }) => [
        id,
        this.#taken.has(id) ? { status: 'passed' } : { status: 'compileError', reason: 'not in the sample' },
      ]),
    );
  }
}

/** The tool counts lines and columns from zero inside and from one in its report. */
const countedFromOne = ({ start, end }) => ({
  start: { line: start.line + 1, column: start.column + 1 },
  end: { line: end.line + 1, column: end.column + 1 },
});

export const strykerPlugins = [{ kind: 'Checker', name: 'sample', injectableClass: Sample }];
