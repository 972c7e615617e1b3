/**
 * How much a pocket's outline has to grow, and how much deeper it has to be cut, so that a second cut takes away
 * everything of the first.
 *
 * A cut is the union of what the bit takes round each centre of its path. At a depth z below the face a centre with
 * room d (its distance to the outline) clears a disc of some reach(d, z). Growing the outline by g leaves every old
 * centre with at least d + g, so the second cut takes all of the first, and w mm beyond, when
 * reach'(d + g, z) >= reach(d, z) + w for each room d in the old outline and each depth z of the old cut there. That is
 * enough for any shape, and needed wherever two walls face each other or a wall stands alone. For the same bit it comes
 * to g >= w; a wider angle adds (t' - t) times the depth; a shallower setting by e adds e t.
 */
import type { Profile } from '../carve/cut.ts';
import { bottomAt, radiusAt } from '../carve/cut-path.ts';

/** A cut into the board: the bit as it is, the bit its path was made for, and the depths, mm. */
export interface PocketCut {
  readonly real: Profile;
  readonly nominal: Profile;
  readonly start: number;
  readonly flat: number;
  /** How much deeper than meant everything came out; negative: shallower. */
  readonly deeper: number;
}

/** What has to be gone beyond the old pocket itself, mm. */
export interface Beyond {
  /** Sideways, hurt wood. */
  readonly hurt: number;
  /** Sideways, for the place the board may really lie in. */
  readonly place: number;
  /** Downwards, hurt wood. */
  readonly below: number;
}

/** The room from which on a centre stands at the full flat depth. */
export function fullRoom({ nominal, flat }: PocketCut): number {
  return radiusAt(nominal, flat);
}

/** How deep below the face the bit's tip came at a place with room d, mm. */
export function tipDepth(cut: PocketCut, d: number): number {
  return cut.start + Math.min(bottomAt(cut.nominal, d), cut.flat) + cut.deeper;
}

/** Radius of the disc that is clear at depth z round a place with room d; -Infinity where the bit did not come. */
export function reach(cut: PocketCut, d: number, z: number): number {
  if (d < leastRoom(cut.nominal)) return Number.NEGATIVE_INFINITY;
  const full = fullRoom(cut);
  const height = tipDepth(cut, Math.min(d, full)) - z;
  if (height < -1e-12) return Number.NEGATIVE_INFINITY;
  // Room beyond what the full depth asks for is cleared by the centres farther out.
  return radiusAt(cut.real, Math.max(0, height)) + Math.max(0, d - full);
}

/** A flat tip does not go where there is less room than its own. */
const leastRoom = ({ r, ball }: Profile): number => (ball > 0 ? 0 : r);

/** How many rooms and depths are tried where the bits differ; for the same bit the first and last alone decide. */
const ROOMS = 48;
const DEPTHS = 16;
const STEP = 1e-6;
/** No growth beyond this is looked for, mm: something else is wrong with such a job. */
const MOST = 1000;

/** The deepest that anything of the old cut lies in its widest place, mm below the face. */
export function oldBottom(old: PocketCut, widest: number): number {
  return widest < leastRoom(old.nominal) ? 0 : Math.max(0, tipDepth(old, widest));
}

/** Whether a cut with its outline grown by g takes all of the old one. `widest`: the largest room in the old outline. */
export function takesAll(
  old: PocketCut,
  fresh: PocketCut,
  g: number,
  beyond: Beyond,
  widest: number,
): boolean {
  const from = leastRoom(old.nominal);
  if (widest < from) return true;
  const to = Math.min(widest, Math.max(fullRoom(old), fullRoom(fresh)));
  for (let k = 0; k <= ROOMS; k++) {
    const d = from + ((to - from) * k) / ROOMS;
    if (!takesAt(old, fresh, d, g, beyond)) return false;
  }
  return fullRoom(old) > to || takesAt(old, fresh, fullRoom(old), g, beyond);
}

function takesAt(old: PocketCut, fresh: PocketCut, d: number, g: number, beyond: Beyond): boolean {
  const bottom = tipDepth(old, d);
  if (bottom < 0) return true;
  const lowest = bottom + beyond.below;
  for (let k = 0; k <= DEPTHS; k++) {
    const z = (bottom * k) / DEPTHS;
    if (reach(fresh, d + g, z) < reach(old, d, z) + beyond.hurt + beyond.place - STEP) return false;
    // Hurt wood below reaches as far aside as the old cut did so much higher up.
    const deep = (lowest * k) / DEPTHS;
    const above = reach(old, d, Math.max(0, deep - beyond.below)) + beyond.place;
    if (beyond.below > 0 && reach(fresh, d + g, deep) < above - STEP) return false;
  }
  return true;
}

/** The least growth that takes all, mm, to a millionth; undefined when none does. */
export function leastGrowth(
  old: PocketCut,
  fresh: PocketCut,
  beyond: Beyond,
  widest: number,
): number | undefined {
  const takes = (g: number): boolean => takesAll(old, fresh, g, beyond, widest);
  if (takes(0)) return 0;
  let high = 0.01;
  while (!takes(high)) {
    high *= 2;
    if (high > MOST) return undefined;
  }
  let low = 0;
  while (high - low > STEP) {
    const middle = (low + high) / 2;
    if (takes(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** How much deeper the new flat depth must be for its floor to take the old one with what lies below it, mm. */
export function leastDeeper(old: PocketCut, fresh: PocketCut, below: number, widest: number): number {
  const had = fresh.start + fresh.flat + fresh.deeper;
  return Math.max(0, oldBottom(old, widest) + below - had);
}
