import type { Mark } from '../src/artwork/artwork.ts';
import type { Facts, Side } from '../src/carve/facts.ts';
import type { Place } from '../src/engine/reading.ts';
import type { Point } from '../src/geometry/shapes.ts';

/** The place of something seen at a point of one drawing, with the element that is drawn there. */
export function placeAt(facts: Facts, side: Side, at: Point): Place {
  return { ...placeOf(facts, side, facts.markAt(side, at)), at };
}

/** The place of an element of one drawing. */
export function placeOf(facts: Facts, side: Side, mark: Mark): Place {
  const { element, line, column } = mark;
  return { part: side, element, file: facts.artwork(side).file, line, column };
}

/** The place of a key in the job file. */
export function placeInJob(facts: Facts, key: string): Place {
  return { part: 'job', file: facts.job.file, ...facts.job.place(key) };
}

export const SIDES: readonly Side[] = ['pocket', 'plug'];

/** `3 strokes`, `1 stroke`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** The same with its first letter large, as a sentence begins. */
export const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
