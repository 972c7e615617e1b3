import type { Facts, Side } from '../carve/facts.ts';
import { coarser } from '../carve/facts-wood-coarse.ts';
import { asPressed, type Pair } from '../carve/fit.ts';
import { type Section, section } from '../carve/section.ts';
import { sweptAt } from '../carve/stock.ts';
import { apply, invert } from '../geometry/motion.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Box, Point, Region } from '../geometry/shapes.ts';
import type { Across, Places } from './bench-sheet-places.ts';

/** A place of the plan with its number or letter, in the frame of its own drawing, mm. */
export interface Marked {
  readonly mark: string;
  readonly at: Point;
}

/** One side from above, mm, in the frame of its own drawing. */
export interface BenchPlan {
  readonly outline: Region;
  /** How far the outline here may lie from the checked one, mm. */
  readonly thinned: number;
  /** The piece of wood; `placed`: the job says where it lies, else it is drawn round the middle of the design. */
  readonly piece: (Box & { readonly placed: boolean }) | undefined;
  /** Direction of the grain, radians from x towards y; undefined when not given or standing upright. */
  readonly grain: number | undefined;
  /** All that the bits cut at the face; undefined where they do not go outside the outline. */
  readonly swept: Region | undefined;
  readonly keepOuts: readonly { readonly name: string; readonly shape: Region; readonly met: boolean }[];
  readonly marks: readonly Marked[];
  /** Where the section is taken; on the pocket's plan alone. */
  readonly cut?: readonly [Point, Point] | undefined;
}

export interface BenchDrawing {
  readonly pocket: BenchPlan;
  readonly plug: BenchPlan;
  /** The pair cut through, pressed home; or why not. */
  readonly section:
    | {
        readonly cut: Section;
        readonly faceDepth: number;
        readonly boardThickness: number | undefined;
        readonly stockThickness: number | undefined;
      }
    | { readonly none: string };
}

/** Outlines on paper need be followed no closer than this, mm. */
const THINNED = 0.05;
/** A section longer than this many times its depth shows nothing but length: then one wall is enough. */
const LONGEST = 9;
/** Board shown beyond the pocket's wall, in depths. */
const BEYOND = 1.2;

export function drawingOf(facts: Facts, places: Places | { readonly none: string }): BenchDrawing {
  if ('none' in places)
    return { pocket: planOf(facts, 'pocket', []), plug: planOf(facts, 'plug', []), section: places };
  const { widest, narrowest, touches, pair, fit } = places;
  const marks: Marked[] = [
    ...(widest === undefined ? [] : [{ mark: 'W', at: widest.at }]),
    ...(narrowest === undefined ? [] : [{ mark: 'N', at: narrowest.at }]),
    ...touches.map(({ at }, n) => ({ mark: String(n + 1), at })),
  ];
  const line = widest && lineAcross(pair, widest);
  const back = invert(facts.match().aligned);
  const onPlug = marks.map(({ mark, at }) => ({ mark, at: apply(back, at[0], at[1]) }));
  const { proud } = asPressed(fit);
  const seat = { ...fit.seat, height: proud, tiltX: 0, tiltY: 0, dx: 0, dy: 0, turn: 0 };
  const { pocket, plug } = facts.job;
  return {
    pocket: { ...planOf(facts, 'pocket', marks), cut: line },
    plug: planOf(facts, 'plug', onPlug),
    section:
      line === undefined
        ? { none: 'The pocket has no stroke to cut through.' }
        : {
            cut: section(pair, { seat: fit.proud === proud ? fit.seat : seat }, ...line),
            faceDepth: facts.depths.mating - proud,
            boardThickness: pocket.stock.thickness,
            stockThickness: plug.stock.thickness,
          },
  };
}

/** Across the widest stroke from board to board; of a very wide one only across one of its walls. */
function lineAcross({ input }: Pair, { at, way, width }: Across): readonly [Point, Point] {
  const deep = input.pocketStart + input.pocketFlat;
  const beyond = BEYOND * deep;
  const point = (far: number): Point => [at[0] + far * way[0], at[1] + far * way[1]];
  const half = width / 2;
  if (width + 2 * beyond <= LONGEST * deep) return leftToRight(point(-half - beyond), point(half + beyond));
  return leftToRight(point(half + 2 * beyond - LONGEST * deep), point(half + 2 * beyond));
}

const leftToRight = (a: Point, b: Point): readonly [Point, Point] => (b[0] < a[0] ? [b, a] : [a, b]);

function planOf(facts: Facts, side: Side, marks: readonly Marked[]): BenchPlan {
  const outline = coarser(facts.region(side), THINNED);
  if (outline.rings.length === 0)
    return {
      outline,
      thinned: 0,
      piece: undefined,
      grain: undefined,
      swept: undefined,
      keepOuts: [],
      marks: [],
    };
  const { grain, grainAngle } = facts.job[side].stock;
  const held = facts.wood.held(side);
  const met = new Set(held.hits.map(({ name }) => name));
  return {
    outline,
    thinned: THINNED,
    piece: pieceOf(facts, side, boxOf(outline.rings)),
    grain: grain === 'end' ? undefined : grainAngle,
    swept: held.border > 0 ? coarser(sweptAt(outline, held.border), THINNED) : undefined,
    keepOuts: held.standing.map(({ name, shape }) => ({ name, shape, met: met.has(name) })),
    marks,
  };
}

function pieceOf({ job }: Facts, side: Side, box: Box): BenchPlan['piece'] {
  const { width, length, left, top } = job[side].stock;
  if (width === undefined || length === undefined) return undefined;
  const placed = left !== undefined && top !== undefined;
  const [x, y] = placed
    ? [left, top]
    : [(box.minX + box.maxX - width) / 2, (box.minY + box.maxY - length) / 2];
  return { minX: x, minY: y, maxX: x + width, maxY: y + length, placed };
}
