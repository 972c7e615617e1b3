/** A motion of the plug: shift x and y, turn, tilt along x and y; the last three in mm at the plug's edge. */
export type Motion = Float64Array;
export const UNKNOWNS = 5;

/** Straight lower bounds on a height: rows of the bound with no motion, mm, then its growth with each unknown. */
export type Bounds = readonly Float64Array[];

export interface Least {
  readonly motion: Motion;
  /** What the bounds say of the height there, mm. */
  readonly height: number;
}

/** One bound of each kind taken together; `share` is how much of the plug's weight rests on it. */
interface Active {
  readonly row: Float64Array;
  share: number;
}

const MOST_STEPS = 200;
/** More bounds than unknowns cannot matter at once; rounding may keep a few more for a step. */
const MOST_ACTIVE = 2 * UNKNOWNS;
/** Shares this little below nothing are rounding. */
const NO_SHARE = 1e-13;

/**
 * Minimises max(bounds) + max(rises) + weight / 2 |motion - centre|^2 over all motions, by the dual way: from one
 * bound on, the one that is violated most is taken in, shares are balanced anew, and bounds without a share dropped.
 * At most six decide; the answer is the only one, whatever order they come in.
 */
export function leastHeight(
  bounds: Bounds,
  rises: Bounds,
  centre: Motion,
  weight: number,
  tolerance: number,
): Least {
  let motion = centre;
  let height = Number.NEGATIVE_INFINITY;
  const active: Active[] = [];
  for (let step = 0; step < MOST_STEPS && active.length < MOST_ACTIVE; step++) {
    const [bound, rise] = [highestRow(bounds, motion), highestRow(rises, motion)];
    if (heightOf(bound, motion) + heightOf(rise, motion) <= height + tolerance) break;
    const row = bound.map((v, i) => v + (rise[i] as number));
    active.push({ row, share: active.length === 0 ? 1 : 0 });
    height = balance(active, centre, weight);
    motion = carried(active, centre, weight);
  }
  return { motion, height };
}

export function heightOf(row: Float64Array, m: Motion): number {
  let sum = row[0] as number;
  for (let i = 0; i < UNKNOWNS; i++) sum += (row[i + 1] as number) * (m[i] as number);
  return sum;
}

function highestRow(rows: Bounds, m: Motion): Float64Array {
  let best = rows[0] as Float64Array;
  let most = Number.NEGATIVE_INFINITY;
  for (const row of rows) {
    const here = heightOf(row, m);
    if (here > most) {
      most = here;
      best = row;
    }
  }
  return best;
}

/** Where the active bounds together push the plug. */
function carried(active: readonly Active[], centre: Motion, weight: number): Motion {
  const motion = Float64Array.from(centre);
  for (const { row, share } of active)
    for (let i = 0; i < UNKNOWNS; i++)
      motion[i] = (motion[i] as number) - (share * (row[i + 1] as number)) / weight;
  return motion;
}

/** Gives each active bound its share, and drops those left without one. Answers the height, the same on all. */
function balance(active: Active[], centre: Motion, weight: number): number {
  for (;;) {
    const { shares, height } = evenShares(active, centre, weight);
    let part = 1;
    let leaving = -1;
    active.forEach(({ share }, k) => {
      const to = shares[k] as number;
      if (to >= -NO_SHARE) return;
      const until = share / (share - to);
      if (leaving >= 0 && until >= part) return;
      part = until;
      leaving = k;
    });
    active.forEach((a, k) => {
      a.share += part * ((shares[k] as number) - a.share);
    });
    if (leaving < 0) return height;
    active.splice(leaving, 1);
  }
}

/** Shares, summing to 1, with which all active bounds are equally high, and how high that is. */
function evenShares(
  active: readonly Active[],
  centre: Motion,
  weight: number,
): { shares: Float64Array; height: number } {
  const n = active.length;
  const width = n + 2;
  const table = new Float64Array((n + 1) * width);
  for (let i = 0; i < n; i++) {
    const { row } = active[i] as Active;
    for (let j = 0; j < n; j++) table[i * width + j] = dot(row, (active[j] as Active).row) / weight;
    // Two bounds alike may both be active for a step: then neither has a share of its own.
    table[i * width + i] = (table[i * width + i] as number) * (1 + NO_SHARE) + NO_SHARE;
    table[i * width + n] = 1;
    table[n * width + i] = 1;
    table[i * width + n + 1] = heightOf(row, centre);
  }
  table[n * width + n + 1] = 1;
  const solved = solvedTable(table, n + 1);
  return { shares: solved.subarray(0, n), height: solved[n] as number };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 1; i <= UNKNOWNS; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

/** Solves n equations, each a row of n factors and the right side, by Gauss with the largest pivot. */
function solvedTable(a: Float64Array, n: number): Float64Array {
  const width = n + 1;
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let i = c + 1; i < n; i++)
      if (Math.abs(a[i * width + c] as number) > Math.abs(a[pivot * width + c] as number)) pivot = i;
    const row = a.slice(pivot * width, pivot * width + width);
    a.copyWithin(pivot * width, c * width, c * width + width);
    a.set(row, c * width);
    for (let i = c + 1; i < n; i++) {
      const factor = (a[i * width + c] as number) / (row[c] as number);
      for (let k = c; k < width; k++)
        a[i * width + k] = (a[i * width + k] as number) - factor * (row[k] as number);
    }
  }
  const solved = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = a[i * width + n] as number;
    for (let k = i + 1; k < n; k++) sum -= (a[i * width + k] as number) * (solved[k] as number);
    solved[i] = sum / (a[i * width + i] as number);
  }
  return solved;
}
