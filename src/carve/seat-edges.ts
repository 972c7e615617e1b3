import { unlikeWalls } from './cut.ts';
import { type Spot, spotsAlong, touchingDisc } from './cut-disc.ts';
import type { Pair } from './fit.ts';
import { type Place, placeOn } from './seat-place.ts';

/**
 * Corners that turn by less are asked as curves are, radians: a tip of half flat r feels such a corner by
 * r (1 - cos 0.15) = 0.011 r at most, sideways.
 */
export const CORNER = 0.3;
/** Corners that turn by more are asked at more places, radians. */
export const SHARP = 1;
/**
 * Parts of the way from a corner to the mouth, or to the plug's face, at which an edge is asked: where it is filled it
 * may be met at any. Beyond the last, mouth or face have passed.
 */
export const EDGE_SHARES = Array.from({ length: 20 }, (_, k) => (0.9 * (k + 1)) / 20);

/**
 * Places on the edges that run from the corners of the outline: over a corner of the plug up to the mouth, where the
 * outlines meet below the board's face, and wherever such an edge, or the one under a spike of board, meets a ridge.
 */
export function edgePlaces(pair: Pair): readonly Place[] {
  const faceIn = pair.plug.setup.start * pair.plug.real.t;
  const mouthOut = pair.pocket.setup.start * pair.pocket.real.t;
  const unlike = unlikeWalls(pair.pocket, pair.plug);
  return spotsAlong(pair.plugTree, 1, Number.POSITIVE_INFINITY, CORNER).flatMap(
    (corner): readonly Place[] => {
      if (corner.turn < 0) return onRidge(pair, corner, 1, faceIn);
      if (corner.turn === 0) return [];
      if (mouthOut <= 0)
        return unlike ? [placeOn('plug', pair, corner.x, corner.y, 'spike', corner, undefined)] : [];
      return [...overCorner(pair, corner, mouthOut), ...onRidge(pair, corner, -1, mouthOut)];
    },
  );
}

/** The tip leaves the pocket filled all along the edge over a corner, by as much as it leaves under a spike of board. */
function overCorner(pair: Pair, corner: Spot, mouthOut: number): readonly Place[] {
  const shares = corner.turn > SHARP ? [0, ...EDGE_SHARES] : [0];
  return shares.map((share) => {
    const [x, y] = [corner.x - share * mouthOut * corner.nx, corner.y - share * mouthOut * corner.ny];
    return placeOn('plug', pair, x, y, 'spike', corner, undefined);
  });
}

/**
 * Where the edge from a corner meets a ridge. What the tip leaves at the corner and what it leaves of the ridge add up,
 * and no disc that grows from a wall has its middle there. Beside the ridge, nearer to the corner, the hold first rises,
 * while the other wall is the one that is cut less, and then falls: it is highest where the two lines cross.
 */
function onRidge(pair: Pair, corner: Spot, way: 1 | -1, limit: number): readonly Place[] {
  const [nx, ny] = [way * corner.nx, way * corner.ny];
  const disc = touchingDisc(pair.plugTree, corner.segment, corner.x, corner.y, nx, ny, limit);
  const { other } = disc;
  if (other === undefined) return [];
  const placeAt = (back: number): Place => {
    const [x, y] = [disc.x - back * nx, disc.y - back * ny];
    const [rides, feature] = way === 1 ? (['plug', 'ridge'] as const) : (['board', 'land'] as const);
    return placeOn(rides, pair, x, y, feature, corner, { ...disc, x, y });
  };
  const { t, r } = (way === 1 ? pair.pocket : pair.plug).real;
  const facing = (nx * (other.x - disc.x) + ny * (other.y - disc.y)) / disc.r;
  const back = Math.min(r, disc.r);
  const [ridge, beside] = [placeAt(0), placeAt(back)];
  const top = (t * (beside.lift - ridge.lift) + back) / (1 + facing);
  return top > 0 && top < back ? [ridge, placeAt(top)] : [ridge];
}
