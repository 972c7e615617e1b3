import type { Point } from '../geometry/shapes.ts';
import { type Breakage, breakage, type Standing, type Wall } from './breakage.ts';

/** What is needed of a narrow run (geometry/width.ts): its kind and its centreline as x, y, half width triples. */
export interface RunShape {
  readonly kind: 'neck' | 'dead-end' | 'sharp-tip' | 'thin-island' | 'small-island';
  readonly axis: number;
  readonly width: number;
  readonly at: Point;
  readonly length: number;
  readonly line: Float64Array;
}

export interface RunBreakage extends Breakage {
  readonly at: Point;
  /** The piece of the run there, to ask again with other wood or another width. */
  readonly wall: Wall;
  /** Length of the run, mm, that does not bear what it must. */
  readonly weakLength: number;
}

/**
 * The weakest place along a narrow run. Every point of its centreline is a wall of the width there; towards a free end
 * the push has only that much wood to spread into. A sharp tip comes to nothing, so its very end bears nothing: there
 * `weakLength` is the figure to judge. Undefined for a run that has no centreline.
 */
export function runBreakage(run: RunShape, standing: Standing): RunBreakage | undefined {
  const walls = wallsAlong(run);
  if (walls.length === 0) return undefined;
  const all = walls.map(({ wall, at, length }) => ({ ...breakage(wall, standing), at, wall, length }));
  const bears = (b: Breakage): number => b.bears ?? Number.POSITIVE_INFINITY;
  const { length: _, ...weakest } = all.reduce((a, b) => (bears(b) < bears(a) ? b : a));
  const weak = all.filter((b) => bears(b) < b.need);
  return { ...weakest, weakLength: weak.reduce((sum, b) => sum + b.length, 0) };
}

interface Step {
  readonly wall: Wall;
  readonly at: Point;
  /** Length of centreline that this step stands for, mm. */
  readonly length: number;
}

function wallsAlong({ kind, line, axis, width, at, length }: RunShape): readonly Step[] {
  const n = Math.floor(line.length / 3);
  if (n < 2) {
    const free = kind === 'neck' ? Number.POSITIVE_INFINITY : length / 2;
    return [{ wall: { kind: 'wall', width, axis, reach: [free, free] }, at, length }];
  }
  const along = distances(line, n);
  const total = along[n - 1]!;
  const [freeStart, freeEnd] = freeEnds(kind, line, n);
  return Array.from({ length: n }, (_, i) => {
    const [a, b] = [Math.max(0, i - 1), Math.min(n - 1, i + 1)];
    const reach = [
      freeStart ? along[i]! + line[2]! : Number.POSITIVE_INFINITY,
      freeEnd ? total - along[i]! + line[3 * n - 1]! : Number.POSITIVE_INFINITY,
    ] as const;
    const turned = Math.atan2(line[3 * b + 1]! - line[3 * a + 1]!, line[3 * b]! - line[3 * a]!);
    return {
      wall: { kind: 'wall', width: 2 * line[3 * i + 2]!, axis: turned, reach },
      at: [line[3 * i]!, line[3 * i + 1]!],
      length: (along[b]! - along[a]!) / 2,
    };
  });
}

function distances(line: Float64Array, n: number): readonly number[] {
  const along = [0];
  for (let i = 1; i < n; i++) {
    const step = Math.hypot(line[3 * i]! - line[3 * i - 3]!, line[3 * i + 1]! - line[3 * i - 2]!);
    along.push(along[i - 1]! + step);
  }
  return along;
}

/** Which ends of the centreline stand free: none of a neck, both of an island, the thinner one of a tip. */
function freeEnds(kind: RunShape['kind'], line: Float64Array, n: number): readonly [boolean, boolean] {
  if (kind === 'neck') return [false, false];
  if (kind === 'thin-island' || kind === 'small-island') return [true, true];
  const startsThin = line[2]! <= line[3 * n - 1]!;
  return [startsThin, !startsThin];
}
