import type { Point } from '../geometry/shapes.ts';
import { type Cut, makeCut, nominalOf, profileOf, type ToolShape } from './cut.ts';
import type { Pair } from './fit.ts';
import type { Place } from './seat-places.ts';

/** What varies in a shop. Each is a plus-and-minus in mm or radians (scale: a share of 1); wear and runout only grow. */
export interface Sources {
  /** Growth of the tip flat's width; the worn bit is touched off on its tip again. */
  readonly tipWear: number;
  /** True included angle against the stated one. */
  readonly angle: number;
  readonly pocketZero: number;
  readonly plugZero: number;
  /** How far the middle of the inlay lies above or below its edge. */
  readonly pocketFlatness: number;
  readonly plugFlatness: number;
  /** Machine scale of one setup against the other. */
  readonly scale: number;
  /** Machine axes out of square between the setups. */
  readonly squareness: number;
  /** Swing of the bit off its axis: it cuts wider by this all round. */
  readonly runout: number;
}

export type SourceKey = keyof Sources;

/** In the order in which draws are taken; the order is part of "same seed, same bytes". */
export const SOURCE_KEYS: readonly SourceKey[] = [
  'tipWear',
  'angle',
  'pocketZero',
  'plugZero',
  'pocketFlatness',
  'plugFlatness',
  'scale',
  'squareness',
  'runout',
];

/** Sources that have no minus: both make the bit cut wider. */
export const ONLY_GROWS: ReadonlySet<SourceKey> = new Set(['tipWear', 'runout']);

/** How much the hold of one point grows when a source goes to its full plus or its full minus, mm of height. */
export interface Effects {
  readonly hold: number;
  readonly plus: Float64Array;
  readonly minus: Float64Array;
}

/**
 * A pair with one source at its full value, asked for the lift of a point. `moves` is the point of the outline whose
 * motion it shares: walls below the face move with their outline, for the bit does not grow with the drawing.
 */
export type Shifted = (
  x: number,
  y: number,
  kind: 'hold' | 'wall',
  rides: Place['rides'],
  moves: Point,
) => number;

/** One question-answerer for each source and sign; index 2k for plus, 2k + 1 for minus. */
export function shiftedPairs(pair: Pair, sources: Sources): readonly Shifted[] {
  return SOURCE_KEYS.flatMap((key) => [
    shifted(pair, key, sources[key]),
    shifted(pair, key, minusOf(key, sources[key])),
  ]);
}

/** Wear and runout only ever cut wider. */
function minusOf(key: SourceKey, value: number): number {
  return ONLY_GROWS.has(key) ? 0 : -value;
}

function shifted(pair: Pair, key: SourceKey, value: number): Shifted {
  const pocket = recut(pair.pocket, key, value);
  const plug = recut(pair.plug, key, value);
  const arm2 = ((pair.box.maxX - pair.box.minX) ** 2 + (pair.box.maxY - pair.box.minY) ** 2) / 4;
  return (x, y, kind, rides, moves) => {
    const [rx, ry] = [x - pair.middle[0], y - pair.middle[1]];
    const [vx, vy] = motionAt(key, value, moves[0] - pair.middle[0], moves[1] - pair.middle[1]);
    const [px, py] = rides === 'plug' ? [x, y] : [x - vx, y - vy];
    const [bx, by] = rides === 'plug' ? [x + vx, y + vy] : [x, y];
    const board = kind === 'wall' ? pocket.wall(bx, by) : pocket.depth(bx, by);
    const taken = kind === 'wall' ? plug.wall(px, py) : plug.depth(px, py);
    return pair.mating - board - taken - depthError(key, value, (rx * rx + ry * ry) / Math.max(arm2, 1e-12));
  };
}

/** Sideways motion of the plug's cut against the pocket's, mm, at a point from the middle. */
function motionAt(key: SourceKey, value: number, rx: number, ry: number): Point {
  if (key === 'scale') return [value * rx, value * ry];
  if (key === 'squareness') return [(value * ry) / 2, (value * rx) / 2];
  return [0, 0];
}

/** How much too deep a part is cut, mm; flatness is a bow, 0 at the middle and its full value at the edge. */
function depthError(key: SourceKey, value: number, share: number): number {
  if (key === 'pocketZero' || key === 'plugZero') return value;
  if (key === 'pocketFlatness' || key === 'plugFlatness') return value * share;
  return 0;
}

/** The cut as the changed bit leaves it, with the toolpath it was given all the same. */
function recut(cut: Cut, key: SourceKey, value: number): Cut {
  if (value === 0 || !(key === 'tipWear' || key === 'runout' || key === 'angle')) return cut;
  return makeCut({ ...cut.setup, tool: changedTool(cut.setup.tool, key, value) });
}

function changedTool(tool: ToolShape, key: SourceKey, value: number): ToolShape {
  const nominal = nominalOf(tool);
  const path = { toolpathHalfAngle: Math.atan(nominal.t), toolpathTipFlat: 2 * nominal.r };
  const flat = 2 * profileOf(tool).r;
  if (key === 'angle') return { halfAngle: tool.halfAngle + value / 2, tipFlat: flat, ...path };
  const wider = key === 'tipWear' ? value : 2 * value;
  return { halfAngle: tool.halfAngle, tipFlat: Math.max(0, flat + wider), ...path };
}
