import { type Cut, makeCut, nominalOf, profileOf, type ToolShape } from '../carve/cut.ts';
import { type FitInput, type Pair, withInput } from '../carve/fit.ts';
import { grow } from '../geometry/offset.ts';
import type { Point, Region } from '../geometry/shapes.ts';

/**
 * Everything that may be otherwise than the job says, all 0 for a job carried out to the letter. Lengths mm, angles
 * radians, scales a share of 1. Depths count as too deep, hollows as the middle lying too low.
 */
export interface Errors {
  readonly pocketZero: number;
  readonly plugZero: number;
  /** How far the edge of the inlay is cut deeper than its middle: the face was hollow. */
  readonly pocketHollow: number;
  readonly plugHollow: number;
  /** The piece lay tilted: cut deeper by this much a mm, along x and along y. */
  readonly pocketTiltX: number;
  readonly pocketTiltY: number;
  readonly plugTiltX: number;
  readonly plugTiltY: number;
  /** True included angle of the bits less the stated one. */
  readonly angle: number;
  /** Tip flat wider than stated, with the toolpath as it was. */
  readonly tip: number;
  readonly runout: number;
  readonly pocketScale: number;
  readonly plugScale: number;
  /** How far the axes of the two cuts are out of square with one another; each cut has half of it. */
  readonly shear: number;
  /** Outline larger all round than drawn. */
  readonly pocketGrowth: number;
  readonly plugGrowth: number;
  /** Held off its place: it did not find its own seat. */
  readonly shiftX: number;
  readonly shiftY: number;
  readonly turn: number;
  /** Not pressed home, evenly; and crooked, as a rise a mm along x and y from the side that is home. */
  readonly notHome: number;
  readonly crookedX: number;
  readonly crookedY: number;
  /** Dust or glue that lies on the pocket's floor. */
  readonly filling: number;
}
export type ErrorKey = keyof Errors;

export const NO_ERRORS: Errors = {
  pocketZero: 0,
  plugZero: 0,
  pocketHollow: 0,
  plugHollow: 0,
  pocketTiltX: 0,
  pocketTiltY: 0,
  plugTiltX: 0,
  plugTiltY: 0,
  angle: 0,
  tip: 0,
  runout: 0,
  pocketScale: 0,
  plugScale: 0,
  shear: 0,
  pocketGrowth: 0,
  plugGrowth: 0,
  shiftX: 0,
  shiftY: 0,
  turn: 0,
  notHome: 0,
  crookedX: 0,
  crookedY: 0,
  filling: 0,
};

/** Half the diagonal of the plug, mm: tilts, hollows and turns are told by what they come to there. */
export function armOf({ box }: Pair): number {
  return Math.max(1e-6, Math.hypot(box.maxX - box.minX, box.maxY - box.minY) / 2);
}

/** How much too deep each part is cut at a point, mm. */
export function deeperAt(pair: Pair, errors: Errors, side: 'pocket' | 'plug', x: number, y: number): number {
  const [rx, ry] = [x - pair.middle[0], y - pair.middle[1]];
  const bow = (rx * rx + ry * ry) / armOf(pair) ** 2;
  return side === 'pocket'
    ? errors.pocketZero + errors.pocketHollow * bow + errors.pocketTiltX * rx + errors.pocketTiltY * ry
    : errors.plugZero + errors.plugHollow * bow + errors.plugTiltX * rx + errors.plugTiltY * ry;
}

/**
 * The pair as it is cut with these errors. Its mating depth, middle and box stay those of the job, so that a seat's
 * height is how far the plug stands above where the job wants it.
 */
export function pairWith(pair: Pair, errors: Errors): Pair {
  const cut = withInput(pair, inputWith(pair, errors));
  const most = mostDeeper(pair, errors);
  return {
    ...cut,
    mating: pair.mating,
    middle: pair.middle,
    box: pair.box,
    pocket: deepened(
      cut.pocket,
      most.pocket,
      (x, y) => deeperAt(pair, errors, 'pocket', x, y),
      errors.filling,
    ),
    plug: deepened(cut.plug, most.plug, (x, y) => deeperAt(pair, errors, 'plug', x, y), 0),
  };
}

function inputWith(pair: Pair, errors: Errors): FitInput {
  const { input, middle } = pair;
  const { angle, tip, runout, pocketScale, plugScale, shear } = errors;
  return {
    ...input,
    // A plug is cut as the mirror image: what one machine has out of square goes the other way in its pocket.
    pocket: regionWith(input.pocket, middle, pocketScale, -shear / 2, errors.pocketGrowth),
    plug: regionWith(input.plug, middle, plugScale, shear / 2, errors.plugGrowth),
    pocketTool: toolWith(input.pocketTool, angle, tip + 2 * runout),
    plugTool: toolWith(input.plugTool, angle, tip + 2 * runout),
  };
}

/** The bit as it is, with the toolpath it was given all the same. */
function toolWith(tool: ToolShape, angle: number, wider: number): ToolShape {
  if (angle === 0 && wider === 0) return tool;
  const nominal = nominalOf(tool);
  return {
    halfAngle: tool.halfAngle + angle / 2,
    tipFlat: Math.max(0, 2 * profileOf(tool).r + wider),
    toolpathHalfAngle: Math.atan(nominal.t),
    toolpathTipFlat: 2 * nominal.r,
  };
}

function regionWith(region: Region, [mx, my]: Point, scale: number, shear: number, growth: number): Region {
  if (scale === 0 && shear === 0 && growth === 0) return region;
  const rings = region.rings.map((ring) =>
    ring.map((value, k) => {
      const along = value - (k % 2 === 0 ? mx : my);
      const across = (ring[k % 2 === 0 ? k + 1 : k - 1] as number) - (k % 2 === 0 ? my : mx);
      return value + scale * along + (shear / 2) * across;
    }),
  );
  return grow({ rings }, growth);
}

/** The greatest depth error of each side over the plug, mm, and never below 0. */
function mostDeeper(pair: Pair, errors: Errors): { readonly pocket: number; readonly plug: number } {
  const { minX, minY, maxX, maxY } = pair.box;
  const [gx, gy] = [(maxX - minX) / 4, (maxY - minY) / 4];
  const spots = [minX - gx, pair.middle[0], maxX + gx].flatMap((x) =>
    [minY - gy, pair.middle[1], maxY + gy].map((y): Point => [x, y]),
  );
  const most = (side: 'pocket' | 'plug') =>
    spots.reduce((high, [x, y]) => Math.max(high, deeperAt(pair, errors, side, x, y)), 0);
  return { pocket: most('pocket'), plug: most('plug') };
}

/**
 * A cut that goes deeper by a field, and whose floor carries a filling. It is made from a cut deeper everywhere by
 * the greatest of the field, for above its face a cut's wall need not be exact.
 */
function deepened(cut: Cut, most: number, by: (x: number, y: number) => number, filling: number): Cut {
  if (most === 0 && filling === 0 && by(0, 0) === 0 && by(1, 2) === 0) return cut;
  const { start, flat } = cut.setup;
  const base = most === 0 ? cut : makeCut({ ...cut.setup, start: start + most });
  const floor = start + flat;
  const wall = (x: number, y: number): number => base.wall(x, y) + by(x, y) - most;
  const depth = (x: number, y: number): number =>
    Math.max(0, Math.min(base.wall(x, y) - most, floor) + by(x, y));
  return {
    ...base,
    setup: cut.setup,
    deeper: by,
    wall,
    depth: filling === 0 ? depth : (x, y) => Math.min(depth(x, y), Math.max(0, floor + by(x, y) - filling)),
  };
}
