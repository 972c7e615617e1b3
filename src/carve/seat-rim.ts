import type { Point } from '../geometry/shapes.ts';
import { spotsAlong } from './cut-disc.ts';
import type { GapAt, Pair, Seat } from './fit.ts';
import { heightAt, sideways } from './seat-pose.ts';

/** How near to the mouth a point must be to count as on it, mm. */
const ON_THE_RIM = 1e-4;
const CORNER = 0.1;

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
  const t = pair.pocket.real.t / Math.max(1e-3, Math.cos(turn / 2));
  let out = 0;
  for (let n = 0; n < 4; n++) {
    const wall = pair.pocket.wall(x + out * nx, y + out * ny);
    if (!Number.isFinite(wall)) return undefined;
    if (Math.abs(wall) * t < ON_THE_RIM) return [x + out * nx, y + out * ny];
    out += wall * t;
  }
  return undefined;
}

/** Distance from a point of the rim to the plug's wood in the board's face, mm; 0 where they touch. */
export function gapAt(pair: Pair, s: Seat, at: Point): number {
  const [vx, vy] = sideways(pair, s, at[0], at[1], 0);
  const wall = pair.plug.wall(at[0] - vx, at[1] - vy);
  const here = pair.mating - heightAt(pair, s, at[0], at[1]);
  return Math.max(0, (wall - here) * pair.plug.real.t);
}
