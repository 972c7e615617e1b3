import type { SegmentTree } from '../geometry/nearest.ts';
import { depthAlongPath } from './cut-path.ts';
import type { Profile } from './cut-profile.ts';
import { farthestRoom } from './cut-room.ts';
import { signedRoom } from './cut-side.ts';

/**
 * A cone-shaped bit and, when they differ, the bit its toolpaths were computed for. Lengths mm, angles radians.
 * `halfAngle` is half the included angle; `tipFlat` is the diameter of the flat at the tip. A bit with a
 * `tipRadius` ends in a ball of that radius instead, which the cone leaves as a tangent.
 */
export interface ToolShape {
  readonly halfAngle: number;
  readonly tipFlat: number;
  readonly tipRadius?: number | undefined;
  readonly toolpathHalfAngle?: number | undefined;
  readonly toolpathTipFlat?: number | undefined;
}

export type { Profile } from './cut-profile.ts';

/** What a cut needs to be known: where it may go and how deep. */
export interface CutSetup {
  /** Outline of the region that is cut away. */
  readonly tree: SegmentTree;
  /** +1 when the cut lies on the algebraic left of every edge (a pocket), -1 when on the right (round a plug). */
  readonly side: 1 | -1;
  readonly tool: ToolShape;
  /** How far below the face the cut takes the surface to be, mm. */
  readonly start: number;
  /** How far below `start` the cut goes before it turns flat, mm. */
  readonly flat: number;
  /** Ask centre by centre even where the toolpath is for this very bit: so asked, it may be compared with another bit. */
  readonly byCentres?: boolean | undefined;
}

/** A finished cut, asked point by point. */
export interface Cut {
  readonly setup: CutSetup;
  readonly real: Profile;
  readonly nominal: Profile;
  /** Depth of the cut below the face at a point, mm; 0 where nothing was taken. */
  depth(x: number, y: number): number;
  /**
   * The same before it is limited by face and floor, mm: negative outside the mouth by the wall's slope.
   * -Infinity where the bit cannot come near.
   */
  wall(x: number, y: number): number;
  /** Distance to the outline, mm, positive where the cut is. */
  room(x: number, y: number): number;
  /** How much deeper than its setup says the whole cut lies at a point, mm, where it does. */
  deeper?(x: number, y: number): number;
}

/**
 * What a bit leaves when it follows the outline of a region: the flat-tipped cone goes, with its flat at depth
 * start + min((d - r)/t, flat), to every centre whose distance d to the outline is at least r.
 *
 * The depth at p is then start + max over centres c of min((d(c) - r)/t, flat) - max(0, |p - c| - r)/t, which is
 * exact for polygons; physics of the sloping wall: section at depth z is open(erode(A, (z - start) t), r).
 * A toolpath for another bit than the real one, or a ball tip, is followed centre by centre (see cut-path.ts).
 */
export function makeCut(setup: CutSetup): Cut {
  const real = profileOf(setup.tool);
  const nominal = nominalOf(setup.tool);
  const { tree, side, start, flat, byCentres = false } = setup;
  const plain = !byCentres && sameCone({ real, nominal });
  const wall = plain
    ? (x: number, y: number) =>
        start + farthestRoom(tree, side, x, y, real.r, nominal.r, -start * real.t) / real.t
    : (x: number, y: number) => start + depthAlongPath(tree, side, x, y, real, nominal, flat);
  const depth = plain
    ? (x: number, y: number) => Math.max(0, Math.min(wall(x, y), start + flat))
    : (x: number, y: number) => Math.max(0, wall(x, y));
  return { setup, real, nominal, depth, wall, room: (x, y) => signedRoom(tree, side, x, y) };
}

/** Whether a bit with straight sides follows paths made for its own slope: then all sections are offsets. */
export function sameCone({ real, nominal }: Pick<Cut, 'real' | 'nominal'>): boolean {
  return real.t === nominal.t && real.ball === 0 && nominal.ball === 0;
}

/**
 * Whether straight walls of both sides differ by more than their tips: by their slopes, or by toolpaths for other tips.
 * Bent walls are none of these: they are found centre by centre, and a walk uphill would find what that leaves open.
 */
export function unlikeWalls(one: Cut, two: Cut): boolean {
  const own = ({ real, nominal }: Cut): boolean => real.r === nominal.r;
  return straightWalls(one, two) && !(own(one) && own(two) && one.real.t === two.real.t);
}

/** Whether the walls of both sides are straight, so that their depth is exact everywhere. */
export function straightWalls(one: Cut, two: Cut): boolean {
  return sameCone(one) && sameCone(two);
}

export function profileOf(tool: ToolShape): Profile {
  return profile(tool.halfAngle, tool.tipFlat, tool.tipRadius);
}

/** The bit the toolpaths were computed for: the real one unless the job says otherwise. */
export function nominalOf(tool: ToolShape): Profile {
  const angle = tool.toolpathHalfAngle ?? tool.halfAngle;
  if (tool.toolpathTipFlat !== undefined) return profile(angle, tool.toolpathTipFlat, undefined);
  return profile(angle, tool.tipFlat, tool.tipRadius);
}

/** A ball of radius b under a cone reaches the cone at radius b cos h; r is the flat the bare cone would have. */
function profile(halfAngle: number, tipFlat: number, ball: number | undefined): Profile {
  const t = Math.tan(halfAngle);
  if (ball === undefined || ball === 0) return { t, r: tipFlat / 2, ball: 0 };
  return { t, r: (ball * (1 - Math.sin(halfAngle))) / Math.cos(halfAngle), ball };
}
