import type { Point } from '../geometry/shapes.ts';
import { type Cut, makeCut, nominalOf, profileOf, type ToolShape } from './cut.ts';
import type { Pair } from './fit.ts';
import type { Place } from './seat-place.ts';

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

/** A point to be asked, with the depths both cuts have there while nothing varies. */
export interface Varied {
  readonly x: number;
  readonly y: number;
  readonly kind: 'hold' | 'wall';
  readonly rides: Place['rides'];
  /**
   * The point of the outline whose motion it shares: walls below the face move with their outline, for the bit does
   * not grow with the drawing.
   */
  readonly moves: Point;
  readonly board: number;
  readonly taken: number;
}

/** By how much the hold of a point grows with one source at its full value, mm. */
export type Shifted = (point: Varied) => number;

/** One question-answerer for each source and sign; index 2k for plus, 2k + 1 for minus. */
export function shiftedPairs(pair: Pair, sources: Sources): readonly Shifted[] {
  const sameWay = askedSameWay(pair);
  return SOURCE_KEYS.flatMap((key) => [
    shifted(pair, key, sources[key], sameWay),
    shifted(pair, key, minusOf(key, sources[key]), sameWay),
  ]);
}

/** Wear and runout only ever cut wider. */
function minusOf(key: SourceKey, value: number): number {
  return ONLY_GROWS.has(key) ? 0 : -value;
}

function shifted(pair: Pair, key: SourceKey, value: number, sameWay: SameWay): Shifted {
  if (value === 0) return () => 0;
  const pocket = recut(pair.pocket, key, value);
  const plug = recut(pair.plug, key, value);
  const arm2 = ((pair.box.maxX - pair.box.minX) ** 2 + (pair.box.maxY - pair.box.minY) ** 2) / 4;
  return (point) => {
    const { x, y, kind, rides, moves } = point;
    const [rx, ry] = [x - pair.middle[0], y - pair.middle[1]];
    const [vx, vy] = motionAt(key, value, moves[0] - pair.middle[0], moves[1] - pair.middle[1]);
    const stays = vx === 0 && vy === 0;
    const { board, taken } = key === 'angle' ? sameWay(point) : point;
    // A cut is asked again only where the source changes it or carries it away from the point.
    const onBoard = rides === 'board' || stays;
    const onPlug = rides === 'plug' || stays;
    const lessBoard =
      pocket === pair.pocket && onBoard
        ? 0
        : board - asked(pocket, kind, onBoard ? x : x + vx, onBoard ? y : y + vy);
    const lessTaken =
      plug === pair.plug && onPlug ? 0 : taken - asked(plug, kind, onPlug ? x : x - vx, onPlug ? y : y - vy);
    const deeper = depthError(key, value, (rx * rx + ry * ry) / Math.max(arm2, 1e-12));
    return lessBoard + lessTaken - deeper;
  };
}

type SameWay = (point: Varied) => Pick<Varied, 'board' | 'taken'>;

/**
 * Both cuts at a point as they are, asked centre by centre. A bit of another angle is asked so, and a centre that is
 * missed makes a cut seem too shallow: what the angle changes is told only when the cut before is asked the same way.
 */
function askedSameWay(pair: Pair): SameWay {
  const pocket = makeCut({ ...pair.pocket.setup, byCentres: true });
  const plug = makeCut({ ...pair.plug.setup, byCentres: true });
  let last: { readonly point: Varied; readonly told: ReturnType<SameWay> } | undefined;
  return (point) => {
    const { x, y, kind } = point;
    // Asked for the plus and for the minus in turn.
    if (last?.point !== point)
      last = { point, told: { board: asked(pocket, kind, x, y), taken: asked(plug, kind, x, y) } };
    return last.told;
  };
}

/** The depth of a cut at a point, or its wall's. */
function asked(cut: Cut, kind: Varied['kind'], x: number, y: number): number {
  return kind === 'wall' ? cut.wall(x, y) : cut.depth(x, y);
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
