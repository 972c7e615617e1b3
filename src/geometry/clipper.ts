/**
 * The only file that speaks to the polygon engine (a WebAssembly build of Clipper2). Rings go in and come out
 * as our own arrays; every object made on the engine's side is deleted again.
 *
 * The engine counts in whole steps of a grid of 2^-GRID_BITS mm, so a coordinate moves by at most half a step
 * on the way in, and each crossing it makes lands within one step of its true place.
 */
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Ring } from './shapes.ts';

/** Decimals asked of the engine; it takes the next finer power of two: 2^-20 mm, about 1e-6 mm. */
const DECIMALS = 6;

/** One step of the engine's grid, in mm. */
export const GRID = 2 ** -20;

/** Coordinates farther out than this, in mm, are refused: the engine would silently wrap or lose digits. */
export const FARTHEST = 1e6;

interface EnginePath {
  assign(coordinates: Float64Array): void;
  view(): Float64Array;
  size(): number;
  delete(): void;
}

interface EnginePaths {
  push_back(path: EnginePath): void;
  size(): number;
  get(index: number): EnginePath;
  delete(): void;
}

type Choice<Name extends string> = Readonly<Record<Name, unknown>>;

interface Engine {
  readonly PathD: new () => EnginePath;
  readonly PathsD: new () => EnginePaths;
  readonly FillRule: Choice<'EvenOdd' | 'NonZero' | 'Positive'>;
  readonly ClipType: Choice<Operation>;
  readonly JoinType: Choice<'Round'>;
  readonly EndType: Choice<'Polygon'>;
  BooleanOpD(kind: unknown, rule: unknown, a: EnginePaths, b: EnginePaths, decimals: number): EnginePaths;
  UnionSelfD(a: EnginePaths, rule: unknown, decimals: number): EnginePaths;
  InflatePathsD(
    a: EnginePaths,
    by: number,
    join: unknown,
    end: unknown,
    miterLimit: number,
    decimals: number,
    arcError: number,
  ): EnginePaths;
}

export type Operation = 'Intersection' | 'Union' | 'Difference' | 'Xor';
export type FillRule = 'nonzero' | 'evenodd';

/** A started WebAssembly engine is costly to make and has no state of its own, so one serves the whole process. */
let started: Engine | undefined;

/** Starts the engine, once; everything else in this file is synchronous afterwards. */
export async function loadClipper(): Promise<void> {
  if (started !== undefined) return;
  const { default: start } = await import('clipper2-wasm/dist/es/clipper2z.js');
  started = (await start({ wasmBinary: readFileSync(binaryPath()) })) as Engine;
}

/** Beside the bundle when built, in the package when run from sources. */
function binaryPath(): string {
  const beside = fileURLToPath(new URL('./clipper2z.wasm', import.meta.url));
  if (existsSync(beside)) return beside;
  const main = createRequire(import.meta.url).resolve('clipper2-wasm');
  return join(dirname(main), '../es/clipper2z.wasm');
}

/** The area all rings cover together by a fill rule. */
export function fillRings(rings: readonly Ring[], rule: FillRule): readonly Ring[] {
  const engine = running();
  const fill = rule === 'nonzero' ? engine.FillRule.NonZero : engine.FillRule.EvenOdd;
  return withPaths(engine, [rings], ([a]) => engine.UnionSelfD(a!, fill, DECIMALS));
}

/** Combines two sets of clean, oriented rings. */
export function combineRings(kind: Operation, a: readonly Ring[], b: readonly Ring[]): readonly Ring[] {
  const engine = running();
  return withPaths(engine, [a, b], ([first, second]) =>
    engine.BooleanOpD(engine.ClipType[kind], engine.FillRule.NonZero, first!, second!, DECIMALS),
  );
}

/** Moves every wall outward by `by` mm (inward when negative); round joins keep within `arcError` mm inside. */
export function inflateRings(rings: readonly Ring[], by: number, arcError: number): readonly Ring[] {
  const engine = running();
  const { Round } = engine.JoinType;
  const { Polygon } = engine.EndType;
  return withPaths(engine, [rings], ([a]) =>
    engine.InflatePathsD(a!, by, Round, Polygon, 2, DECIMALS, arcError),
  );
}

function running(): Engine {
  if (started === undefined) throw new Error('the polygon engine was used before loadClipper() was awaited');
  return started;
}

function withPaths(
  engine: Engine,
  sets: readonly (readonly Ring[])[],
  work: (paths: readonly EnginePaths[]) => EnginePaths,
): readonly Ring[] {
  const paths = sets.map((rings) => toPaths(engine, rings));
  try {
    const result = work(paths);
    try {
      return toRings(result);
    } finally {
      result.delete();
    }
  } finally {
    for (const set of paths) set.delete();
  }
}

function toPaths(engine: Engine, rings: readonly Ring[]): EnginePaths {
  for (const ring of rings) refuseFarOut(ring);
  const paths = new engine.PathsD();
  const path = new engine.PathD();
  for (const ring of rings) {
    const triples = new Float64Array((ring.length / 2) * 3); // the engine carries a third number we leave at 0
    for (let i = 0, k = 0; i < ring.length; i += 2, k += 3) {
      triples[k] = ring[i]!;
      triples[k + 1] = ring[i + 1]!;
    }
    path.assign(triples);
    paths.push_back(path);
  }
  path.delete();
  return paths;
}

function refuseFarOut(ring: Ring): void {
  for (let i = 0; i < ring.length; i++) {
    if (!(Math.abs(ring[i]!) <= FARTHEST)) {
      throw new RangeError(
        `a coordinate of ${ring[i]} mm was given to the polygon engine; it takes up to ${FARTHEST} mm`,
      );
    }
  }
}

function toRings(paths: EnginePaths): readonly Ring[] {
  const rings: Ring[] = [];
  for (let r = 0; r < paths.size(); r++) {
    const path = paths.get(r);
    if (path.size() >= 3) rings.push(toRing(path.view()));
    path.delete();
  }
  return rings;
}

function toRing(triples: Float64Array): Ring {
  const ring = new Float64Array((triples.length / 3) * 2);
  for (let i = 0, k = 0; i < ring.length; i += 2, k += 3) {
    ring[i] = triples[k]!;
    ring[i + 1] = triples[k + 1]!;
  }
  return ring;
}
