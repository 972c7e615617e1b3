import { leastSquares } from './compare-squares.ts';
import { matrixOf } from './motion.ts';
import type { Outline } from './register-outline.ts';
import { emptyMeeting, type Meeting, meetFromPlug, meetFromPocket, nudge } from './register-settle.ts';
import type { Motion } from './shapes.ts';

/** How much larger the plug is all round. */
export interface Growth {
  /** mm, positive when the plug's outline lies outside the pocket's. */
  readonly by: number;
  /** What 19 of 20 places on straight walls stay within after taking it off, mm. Corners may be round or sharp. */
  readonly residual: number;
}

/** A growth, and how the grown plug lies on the pocket. */
export interface Grown {
  readonly growth: Growth;
  readonly motion: Motion;
}

const ROUNDS = 8;

/** The growth seen where the plug lies now, without looking for a better place. */
export function growthAt(pocket: Outline, plug: Outline, motion: Motion): Growth {
  return grownAt(wallsOf(pocket, plug, motion), motion).growth;
}

/** One place away from corners: where it meets and on which side of the edge met the wood is. */
interface Wall {
  readonly meeting: Meeting;
  readonly side: number;
}

/**
 * The growth that explains most of the outline, with the shift and turn that go with it: weighted least squares from
 * a motion near the right one, far places counting little.
 */
export function growthOf(pocket: Outline, plug: Outline, start: Motion): Grown {
  let walls = wallsOf(pocket, plug, start);
  let best = grownAt(walls, start);
  let motion = start;
  let by = best.growth.by;
  for (let round = 0; round < ROUNDS; round++) {
    const left = walls.map((w) => Math.abs(outward(w) - by));
    const width = Math.max(1.5 * ranked(left, 0.5), 1e-6 * pocket.size);
    const z = leastSquares(
      walls.map(({ meeting: m, side }, k) => {
        const turn = (m.ny * (m.x - pocket.centre[0]) - m.nx * (m.y - pocket.centre[1])) / pocket.size;
        const value = -(m.nx * m.rx + m.ny * m.ry);
        return { row: [m.nx, m.ny, turn, side], value, weight: 1 / (1 + (left[k] / width) ** 2) };
      }),
      4,
    );
    if (z === undefined) break;
    motion = nudge(motion, pocket, z[0], z[1], z[2] / pocket.size);
    by = z[3];
    walls = wallsOf(pocket, plug, motion);
    const next = grownAt(walls, motion);
    if (next.growth.residual < best.growth.residual) best = next;
    if (Math.hypot(z[0], z[1], z[2]) < 1e-6) break;
  }
  return best;
}

function grownAt(walls: readonly Wall[], motion: Motion): Grown {
  if (walls.length === 0) return { growth: { by: 0, residual: Number.POSITIVE_INFINITY }, motion };
  const by = ranked(walls.map(outward), 0.5);
  const residual = ranked(
    walls.map((w) => Math.abs(outward(w) - by)),
    0.95,
  );
  return { growth: { by, residual }, motion };
}

/** How far the plug's wall lies outside the pocket's. */
function outward({ meeting: m, side }: Wall): number {
  return -side * (m.nx * m.rx + m.ny * m.ry);
}

function wallsOf(pocket: Outline, plug: Outline, motion: Motion): readonly Wall[] {
  const t = matrixOf(motion);
  const walls: Wall[] = [];
  for (let k = 0; k < plug.x.length; k++) {
    const meeting = emptyMeeting();
    meetFromPlug(pocket, plug.x[k], plug.y[k], t, meeting);
    if (!meeting.corner) walls.push({ meeting, side: 1 });
  }
  for (let k = 0; k < pocket.x.length; k++) {
    const meeting = emptyMeeting();
    meetFromPocket(plug, pocket.x[k], pocket.y[k], t, meeting);
    // Turned over, the plug's own wood lies on the other side of its edges.
    if (!meeting.corner) walls.push({ meeting, side: motion.reflect ? -1 : 1 });
  }
  return walls;
}

function ranked(values: readonly number[], part: number): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))];
}
