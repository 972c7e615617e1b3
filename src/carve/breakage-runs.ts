import { hypot } from '../geometry/hypot.ts';
import type { Point } from '../geometry/shapes.ts';
import type { NarrowRun } from '../geometry/width.ts';
import { type Breakage, breakage, type Standing, type Wall } from './breakage.ts';

/** What is needed of a narrow run. */
export type RunShape = Pick<NarrowRun, 'kind' | 'width' | 'at' | 'axis' | 'length' | 'line'>;

export interface RunBreakage extends Breakage {
  readonly at: Point;
  /** The piece of the run there, to ask again with other wood or another width. */
  readonly wall: Wall;
  /** Length of the run, mm, that does not bear what it must. */
  readonly weakLength: number;
}

/**
 * The weakest place along a narrow run: its narrowest place and every point of its middle line are taken as a wall of
 * the width there; towards a free end the push has only that much wood to spread into. A sharp tip comes to nothing, so
 * its very end always bears nothing: of a tip judge `weakLength`, the length that would crumble.
 */
export function runBreakage(run: RunShape, standing: Standing): RunBreakage {
  const along = nodesOf(run).map((node) => ({
    ...breakage(node.wall, standing),
    at: node.at,
    wall: node.wall,
    way: node.way,
  }));
  const weakest = [...along, narrowest(run, along, standing)].reduce((a, b) => (borne(b) < borne(a) ? b : a));
  const { way: _, ...place } = weakest;
  const whole = along.length === 0 && borne(weakest) < weakest.need ? run.length : 0;
  return { ...place, weakLength: whole + weakLength(along) };
}

interface Node {
  readonly wall: Wall;
  readonly at: Point;
  /** Distance along the middle line from its start, mm. */
  readonly way: number;
}

/** Unknown strength never makes a place the weakest; the caller sees `bears` undefined. */
function borne({ bears }: Breakage): number {
  return bears ?? Number.POSITIVE_INFINITY;
}

/** The run's least width, which lies between the points of its middle line, with the reach of the nearest of them. */
function narrowest(
  { kind, width, at, axis, length }: RunShape,
  along: readonly Node[],
  standing: Standing,
): Breakage & Node {
  const far = (node: Node): number => hypot(node.at[0] - at[0], node.at[1] - at[1]);
  const near = along.reduce<Node | undefined>((a, b) => (a && far(a) <= far(b) ? a : b), undefined);
  const alone = kind === 'neck' ? Number.POSITIVE_INFINITY : length / 2;
  const wall: Wall = { kind: 'wall', width, axis, reach: near?.wall.reach ?? [alone, alone] };
  return { ...breakage(wall, standing), at, wall, way: near?.way ?? 0 };
}

function nodesOf(run: RunShape): readonly Node[] {
  const line = withTip(run);
  if (line.length < 2) return [];
  const ways = [0];
  for (let i = 1; i < line.length; i++) {
    const [[ax, ay], [bx, by]] = [line[i - 1]!, line[i]!];
    ways.push(ways[i - 1]! + hypot(bx - ax, by - ay));
  }
  const [first, last, total] = [line[0]!, line.at(-1)!, ways.at(-1)!];
  const [freeStart, freeEnd] = freeEnds(run.kind);
  return line.map(([x, y, r], i) => {
    const [a, b] = [line[Math.max(0, i - 1)]!, line[Math.min(line.length - 1, i + 1)]!];
    const before = freeStart ? ways[i]! + first[2] : Number.POSITIVE_INFINITY;
    const after = freeEnd ? total - ways[i]! + last[2] : Number.POSITIVE_INFINITY;
    const axis = Math.atan2(b[1] - a[1], b[0] - a[0]);
    return { wall: { kind: 'wall', width: 2 * r, axis, reach: [before, after] }, at: [x, y], way: ways[i]! };
  });
}

/** The middle line as x, y, half width; a sharp tip's begins at the tip itself, where the width is nothing. */
function withTip({ kind, at, line }: RunShape): readonly (readonly [number, number, number])[] {
  const points = Array.from(
    { length: Math.floor(line.length / 3) },
    (_, i) => [line[3 * i]!, line[3 * i + 1]!, line[3 * i + 2]!] as const,
  );
  if (kind !== 'sharp-tip' || points.length === 0) return points;
  const far = ([x, y]: readonly [number, number, number]): number => hypot(x - at[0], y - at[1]);
  const fromTip = far(points[0]!) <= far(points.at(-1)!) ? points : points.toReversed();
  return [[at[0], at[1], 0], ...fromTip];
}

/** Which ends of the middle line stand free. A dead end's root is not marked, so both are taken as free. */
function freeEnds(kind: RunShape['kind']): readonly [boolean, boolean] {
  if (kind === 'neck') return [false, false];
  return kind === 'sharp-tip' ? [true, false] : [true, true];
}

/** Length of middle line that bears too little; between a point that holds and one that does not by proportion. */
function weakLength(along: readonly (Breakage & Node)[]): number {
  let length = 0;
  for (let i = 1; i < along.length; i++) {
    const [a, b] = [along[i - 1]!, along[i]!];
    const [low, high] = borne(a) < borne(b) ? [borne(a), borne(b)] : [borne(b), borne(a)];
    const weak = high < a.need ? 1 : low < a.need ? (a.need - low) / (high - low) : 0;
    length += weak * (b.way - a.way);
  }
  return length;
}
