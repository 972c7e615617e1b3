/**
 * Closed forms of the fit, for a level plug that goes straight down and twin outlines cut with one bit, unless
 * told otherwise. t = tan(half the included angle), r = half the tip flat, S = the plug's start depth, all mm.
 * Each is the greatest, over one kind of feature, of lift >= mating - plugDepth(p) - pocketDepth(p); derived for
 * the feature alone and measured against swept cuts. The seat itself knows none
 * of them: it is held against them.
 */

/**
 * A stroke with parallel walls, R half its width. The plug's ridge is sharp, the pocket's valley is 2r wide.
 * Holds while the pocket's floor is deeper than the ridge.
 */
export function liftOfStroke(R: number, r: number, S: number, t: number): number {
  if (R < r) return Math.min(R / t, S);
  return Math.min(r, Math.max(0, r + S * t - R)) / t;
}

/** A corner of the inlay with interior angle `angle` (radians, below pi): the bit rounds the pocket's corner off. */
export function liftOfCorner(angle: number, r: number, t: number): number {
  return (r * (1 - Math.sin(angle / 2))) / t;
}

/**
 * A spike of board of the given angle standing into the inlay: the bit cannot clear the plug's notch to its point.
 * Above S the plug's face rides on the board.
 */
export function liftOfNotch(angle: number, r: number, S: number, t: number): number {
  return Math.min(S, (r * (1 / Math.sin(angle / 2) - 1)) / t);
}

/** A plug larger all round by e (smaller: negative) on plain walls, before floor or root stop it. */
export function liftOfGrowth(e: number, t: number): number {
  return e / t;
}

/** The same at a spike of board, where an oversize plug meets it first. */
export function liftOfGrowthAtNotch(e: number, angle: number, r: number, t: number): number {
  const sine = Math.sin(angle / 2);
  const x = e + r * (1 - sine);
  return (x > 0 ? x / sine : x) / t;
}

/** How far a plug smaller by e sinks before its face meets the floor or its root meets the board, mm. */
export function sinkOfShrink(e: number, t: number, glueGap: number, sawGap: number): number {
  return Math.min(Math.abs(e) / t, glueGap, sawGap);
}

/** Different bits on plain walls (tp pocket, tq plug), sharp points: only a steeper plug meets the wall below. */
export function liftOfBits(tp: number, tq: number, S: number, pocketFlat: number): number {
  return tq >= tp ? 0 : S - Math.min((S * tq) / tp, pocketFlat);
}

/**
 * Wide walls cut with a bit of slope t while the toolpath was computed for tn: the pocket's wall moves out by
 * Fp (t - tn), the plug's in by Fm (t - tn). Negative: the plug sinks.
 */
export function liftOfTrueAngle(t: number, tn: number, pocketFlat: number, plugFlat: number): number {
  return (-(t - tn) * (pocketFlat + plugFlat)) / t;
}
