import type { Point } from '../geometry/shapes.ts';
import { sameCone } from './cut.ts';
import { spotsAlong } from './cut-disc.ts';
import { farthestRoom } from './cut-room.ts';
import type { GapAt, Pair, Seat } from './fit.ts';
import { heightAt, sideways } from './seat-pose.ts';
import { nearestWood } from './seat-wood.ts';

/** How near to the mouth a point must be to count as on it, mm. */
const ON_THE_RIM = 1e-4;
const CORNER = 0.1;
/** A gap is told up to this many times what the wall has drawn back. */
const FARTHEST = 10;
/** A gap wider than this is no line any more, mm: then only the outlines tell it, not corners or filled notches. */
const HOPELESS = 0.5;

/**
 * The rim: where the pocket's wall meets the board's face, mm, in the pocket's frame. Where the bit rounds a
 * corner off or never enters, the drawn outline is no rim; such spots are left out.
 */
export function rimOf(pair: Pair, spacing: number): Point[] {
  const rim: Point[] = [];
  for (const spot of spotsAlong(pair.pocketTree, -1, spacing, CORNER)) {
    const at = mouthFrom(pair, spot.x, spot.y, spot.nx, spot.ny, spot.turn);
    if (at !== undefined) rim.push(at);
  }
  return rim;
}

/** The opening at each point of the rim for a seated plug, mm. */
export function gapsAlong(pair: Pair, s: Seat, rim: readonly Point[]): GapAt[] {
  return rim.map((at) => ({ gap: gapAt(pair, s, at), at }));
}

/** Walks from the outline along its normal to where the pocket's wall meets the face. */
function mouthFrom(
  pair: Pair,
  x: number,
  y: number,
  nx: number,
  ny: number,
  turn: number,
): Point | undefined {
  // Out of a spike of board the wall's distance grows by the sine of half its angle; into a rounded corner by 1.
  const t = pair.pocket.real.t / Math.max(1e-3, turn > 0 ? Math.cos(turn / 2) : 1);
  let out = 0;
  for (let n = 0; n < 4; n++) {
    const wall = pair.pocket.wall(x + out * nx, y + out * ny);
    if (!Number.isFinite(wall)) return undefined;
    if (Math.abs(wall) * t < ON_THE_RIM) return [x + out * nx, y + out * ny];
    out += wall * t;
  }
  return undefined;
}

/**
 * Distance from a point of the rim to the plug's wood in the board's face, mm; 0 where they touch. Beside a plain
 * wall that is the wall's own distance, and never less. A raised plug's corner draws back further than its walls: there
 * the drawn outline, drawn back all round, tells the nearest wood. Where the bit has filled a notch nearby there is
 * more wood than that, and the nearest of it is sought among what the bit has cut.
 */
export function gapAt(pair: Pair, s: Seat, at: Point): number {
  const { plug } = pair;
  const [vx, vy] = sideways(pair, s, at[0], at[1], 0);
  const [x, y] = [at[0] - vx, at[1] - vy];
  const height = heightAt(pair, s, at[0], at[1]);
  const hopeless = height * plug.real.t > HOPELESS;
  const wall = hopeless ? plug.setup.start + plug.room(x, y) / plug.real.t : plug.wall(x, y);
  const beside = (wall - pair.mating + height) * plug.real.t;
  if (beside <= 0) return 0;
  if (hopeless || beside > HOPELESS) return beside;
  const level = pair.mating - height - (plug.deeper?.(x, y) ?? 0);
  const inset = (plug.setup.start - level) * plug.real.t;
  const farthest = FARTHEST * Math.max(inset, beside);
  if (!sameCone(plug)) return nearestWood(plug, level, x, y, farthest);
  if (inset <= 0) return plug.real.r === 0 ? beside : nearestWood(plug, level, x, y, farthest);
  const nearest = -farthestRoom(pair.plugTree, 1, x, y, 0, inset, -farthest);
  const drawn = Math.max(beside, Math.min(nearest, farthest));
  if (plug.real.r === 0 || drawn <= beside + ON_THE_RIM) return drawn;
  const wood = nearestWood(plug, level, x, y, drawn);
  return wood < drawn - ON_THE_RIM ? wood : drawn;
}
