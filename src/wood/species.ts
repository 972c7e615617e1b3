import { type Mpa, type Newtons, poundsForce, psi } from '../units.ts';
import { NAMES, NOTES, TABLE_5_3B, TABLE_5_5B } from './data.ts';
import {
  LARGE_PORES,
  PORE_SIZE_SOURCE,
  PORES,
  type PoreStructure,
  SHRINKAGE,
  SMALL_PORES,
  TABLE_10_1,
  TABLE_13_5,
} from './data-habits.ts';

/** A figure with the place it was printed. */
export interface Figure<Value = number> {
  readonly value: Value;
  readonly source: string;
}

/**
 * One wood. Strengths are means of small clear straight-grained pieces at 12 % moisture, not design values;
 * an undefined figure was not printed ("no data"), and nobody fills it in. Stresses in MPa, hardness in N.
 */
export interface Species {
  readonly id: string;
  readonly name: string;
  readonly botanical: string;
  /** Ovendry weight over volume at 12 % moisture. */
  readonly gravity?: Figure | undefined;
  /** Ovendry weight over green volume: not to be compared with `gravity`. */
  readonly greenGravity?: Figure | undefined;
  /** Modulus of rupture, loaded across a straight-grained bar. */
  readonly bending?: Figure<Mpa> | undefined;
  /** Modulus of elasticity along the grain. */
  readonly stiffness?: Figure<Mpa> | undefined;
  /** Compression across the grain at the proportional limit. */
  readonly crushing?: Figure<Mpa> | undefined;
  /** Shear along the grain. */
  readonly shear?: Figure<Mpa> | undefined;
  /** Tension across the grain: what splits. */
  readonly splitting?: Figure<Mpa> | undefined;
  readonly hardness?: Figure<Newtons> | undefined;
  /** Shrinkage green to ovendry, % of the green size. */
  readonly shrinkage?: Figure<Shrinkage> | undefined;
  /** Change of size per 1 % of moisture, as a fraction, between 6 and 14 % moisture. */
  readonly movement?: Figure<{ readonly radial: number; readonly tangential: number }> | undefined;
  readonly pores?: Figure<PoreStructure> | undefined;
  readonly poreSize?: Figure<'large' | 'small'> | undefined;
  readonly bonding?: Figure<keyof typeof TABLE_10_1> | undefined;
  readonly note?: string | undefined;
}

export interface Shrinkage {
  readonly radial?: number | undefined;
  readonly tangential?: number | undefined;
  readonly volumetric?: number | undefined;
}

/**
 * The wood called `name` by its id (`maple-sugar`), common name ("sugar maple", "black cherry") or botanical name,
 * in any case and word order; or, when no single wood is called so, the ids of the nearest (at most five, best
 * first, possibly none). Never guesses.
 */
export function findSpecies(
  name: string,
): { readonly species: Species } | { readonly near: readonly string[] } {
  const called = NAMES.filter((row) => namesOf(row).some((known) => isCalled(name, known)));
  if (called.length === 1) return { species: speciesOf(called[0]![0])! };
  if (called.length > 1) return { near: called.map(([id]) => id) };
  return { near: nearest(name) };
}

/** Every wood there are figures of, in the order of the tables. */
export function allSpecies(): readonly Species[] {
  return NAMES.map(([id]) => speciesOf(id)!);
}

/** The wood with that very id, or undefined. */
export function speciesOf(id: string): Species | undefined {
  const row = NAMES.find(([known]) => known === id);
  if (!row) return undefined;
  return { id, name: row[1], botanical: row[2], ...strength(id), ...habits(id), note: NOTES[id] };
}

function strength(id: string): Partial<Species> {
  const ours = TABLE_5_3B[id];
  const theirs = TABLE_5_5B[id];
  const source = ours ? 'GTR-282 Table 5-3b' : 'GTR-282 Table 5-5b';
  const [gravity, greenGravity, bending, stiffness, crushing, shear, splitting, hardness] = ours ?? [
    undefined,
    ...(theirs?.slice(0, 3) ?? []),
    undefined,
    theirs?.[3],
    undefined,
    theirs?.[4],
  ];
  return {
    gravity: figure(gravity, source),
    greenGravity: figure(greenGravity, source),
    bending: figure(bending, source, psi),
    stiffness: figure(stiffness, source, (millions) => psi(millions * 1e6)),
    crushing: figure(crushing, source, psi),
    shear: figure(shear, source, psi),
    splitting: figure(splitting, source, psi),
    hardness: figure(hardness, source, poundsForce),
  };
}

function habits(id: string): Partial<Species> {
  const shrinkage = SHRINKAGE.find((group) => group.rows[id]);
  const moves = TABLE_13_5[id];
  const row = moves?.[2] ? ` (row "${moves[2]}")` : '';
  const size = LARGE_PORES.includes(id) ? 'large' : SMALL_PORES.includes(id) ? 'small' : undefined;
  const classes = Object.keys(TABLE_10_1) as (keyof typeof TABLE_10_1)[];
  return {
    shrinkage: shrinkage && figure(namedShrinkage(shrinkage.rows[id]!), shrinkage.source),
    movement: moves && figure({ radial: moves[0], tangential: moves[1] }, `GTR-190 Table 13-5${row}`),
    pores: poresOf(id),
    poreSize: figure(size, PORE_SIZE_SOURCE),
    bonding: figure(
      classes.find((name) => TABLE_10_1[name].includes(id)),
      'GTR-190 Table 10-1, p. 10-7',
    ),
  };
}

function namedShrinkage(cells: readonly (number | undefined)[]): Shrinkage {
  return { radial: cells[0], tangential: cells[1], volumetric: cells[2] };
}

function poresOf(id: string): Figure<PoreStructure> | undefined {
  for (const { source, rows } of PORES) {
    for (const [structure, ids] of Object.entries(rows)) {
      if (ids.includes(id)) return { value: structure as PoreStructure, source };
    }
  }
  return undefined;
}

function figure<Printed, Value = Printed>(
  printed: Printed | undefined,
  source: string,
  inOurs: (printed: Printed) => Value = (same) => same as unknown as Value,
): Figure<Value> | undefined {
  return printed === undefined ? undefined : { value: inOurs(printed), source };
}

/** What a wood may be called: its id, its names, and the common name with the bracket left out or read first. */
function namesOf([id, name, botanical]: readonly [string, string, string]): readonly string[] {
  const bracket = /^(.*?) \((.*)\)$/.exec(name);
  if (!bracket) return [id, name, botanical];
  const [, plain, other] = bracket;
  const kind = plain!.split(' ').at(-1);
  return [id, name, plain!, other!, `${other} ${kind}`, botanical];
}

/** Names compare by their words alone: case, order, hyphens, brackets and gaps do not count. */
function isCalled(asked: string, known: string): boolean {
  const [a, b] = [wordsOf(asked), wordsOf(known)];
  return a.length > 0 && (a.join('') === b.join('') || a.sort().join(' ') === b.sort().join(' '));
}

function wordsOf(name: string): string[] {
  return name.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
}

function nearest(name: string): readonly string[] {
  const words = wordsOf(name.slice(0, 80));
  if (words.length === 0) return [];
  return NAMES.map((row) => ({ id: row[0], far: Math.min(...namesOf(row).map((n) => distance(words, n))) }))
    .filter(({ far }) => far <= 0.3)
    .sort((a, b) => a.far - b.far || (a.id < b.id ? -1 : 1))
    .slice(0, 5)
    .map(({ id }) => id);
}

/**
 * How far the asked words are from a known name, 0 (all found in it) to 1 (nothing alike): each asked word against
 * its best fellow, by letters to change over letters there are.
 */
function distance(asked: readonly string[], known: string): number {
  const others = wordsOf(known);
  const glued = others.join('');
  const far = asked.map((word) =>
    Math.min(...[...others, glued].map((o) => edits(word, o) / Math.max(word.length, o.length))),
  );
  const whole = asked.join('');
  const mean = far.reduce((sum, d) => sum + d, 0) / far.length;
  return Math.min(mean, edits(whole, glued) / Math.max(whole.length, glued.length));
}

/** Letters to put in, take out, change or swap with the neighbour to make `a` into `b`. */
function edits(a: string, b: string): number {
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = above[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      let least = Math.min(change, above[j]! + 1, row[j - 1]! + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, before[j - 2]! + 1);
      }
      row.push(least);
    }
    before = above;
    above = row;
  }
  return above[b.length]!;
}
