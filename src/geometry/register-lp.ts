/** Rows c + a.z of a worst-of-many function of a few variables; `slopes` holds `dims` numbers a row. */
export interface Rows {
  readonly dims: number;
  readonly offsets: readonly number[];
  readonly slopes: readonly number[];
}

/** Where the worst row is least, and how much it is there. */
export interface LeastWorst {
  readonly z: readonly number[];
  readonly worst: number;
}

/** A half space: normal . x <= limit. */
interface HalfSpace {
  readonly normal: readonly number[];
  readonly limit: number;
}

/** Rows added at a time when the answer for the rows taken so far breaks others. */
const ADDED = 6;
/** Far more rounds than were ever needed (about ten); what is reached then is still a true upper bound. */
const ROUNDS = 100;

/**
 * Minimises max over rows of (c + a.z) with every |z| <= reach: a linear programme in `dims` + 1 unknowns. Solved
 * for a few rows, then again with the rows that the answer breaks most, until none is broken by more than a
 * billionth of the largest row: the answer is then that of all rows. `worst` is the true largest row at `z`.
 * With no rows: z = 0, worst = -Infinity. Equal input gives equal output.
 */
export function leastWorst(rows: Rows, reach: number): LeastWorst {
  const { dims, offsets } = rows;
  const count = offsets.length;
  let z: readonly number[] = new Array<number>(dims).fill(0);
  if (count === 0) return { z, worst: Number.NEGATIVE_INFINITY };
  const far = 2 * largestRow(rows, reach) + 1e-9;
  const taken: number[] = [];
  let best: LeastWorst = { z, worst: Number.POSITIVE_INFINITY };
  let promised = Number.NEGATIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    const values = valuesAt(rows, z);
    const worst = values.reduce((a, b) => Math.max(a, b));
    if (worst < best.worst) best = { z, worst };
    if (worst <= promised + 1e-9 * far) break;
    const broken = highest(values, promised, ADDED).filter((i) => !taken.includes(i));
    if (broken.length === 0) break;
    taken.push(...broken);
    const x = solveRows(rows, taken, reach, far);
    z = x.slice(0, dims);
    promised = x[dims];
  }
  return best;
}

function largestRow({ dims, offsets, slopes }: Rows, reach: number): number {
  let most = 0;
  for (let i = 0; i < offsets.length; i++) {
    let size = Math.abs(offsets[i]);
    for (let k = 0; k < dims; k++) size += Math.abs(slopes[i * dims + k]) * reach;
    most = Math.max(most, size);
  }
  return most;
}

function valuesAt({ dims, offsets, slopes }: Rows, z: readonly number[]): Float64Array {
  const values = new Float64Array(offsets.length);
  for (let i = 0; i < values.length; i++) {
    let value = offsets[i];
    for (let k = 0; k < dims; k++) value += slopes[i * dims + k] * z[k];
    values[i] = value;
  }
  return values;
}

/** Numbers of the `most` highest values above a level, the highest first. */
function highest(values: Float64Array, level: number, most: number): readonly number[] {
  const top: number[] = [];
  for (let i = 0; i < values.length; i++) {
    if (values[i] <= level || (top.length === most && values[i] <= values[top[most - 1]])) continue;
    let k = top.length === most ? most - 1 : top.length;
    for (; k > 0 && values[top[k - 1]] < values[i]; k--) top[k] = top[k - 1];
    top[k] = i;
  }
  return top;
}

/** The answer for some rows: z, then the level they are all held under. */
function solveRows(rows: Rows, taken: readonly number[], reach: number, far: number): readonly number[] {
  const { dims, offsets, slopes } = rows;
  const spaces = taken.map((i) => ({
    normal: [...slopes.slice(i * dims, (i + 1) * dims), -1],
    limit: -offsets[i],
  }));
  const bounds = [...new Array<number>(dims).fill(reach), far];
  const goal = [...new Array<number>(dims).fill(0), 1];
  return solve(spaces, spaces.length, goal, bounds, 1e-13 * far) ?? [...new Array<number>(dims).fill(0), far];
}

/**
 * Seidel's way (1991, from memory): one half space after the other; when one is broken the answer lies on its own
 * plane, which is the same question with one unknown less.
 * Least goal.x with the first `count` half spaces and |x_k| <= bounds_k; undefined when there is no such x.
 */
function solve(
  spaces: readonly HalfSpace[],
  count: number,
  goal: readonly number[],
  bounds: readonly number[],
  slack: number,
): number[] | undefined {
  if (goal.length === 1) return solveLine(spaces, count, goal[0], bounds[0], slack);
  let x: number[] = bounds.map((b, k) => (goal[k] > 0 ? -b : goal[k] < 0 ? b : 0));
  for (let i = 0; i < count; i++) {
    if (excess(spaces[i], x) <= slack) continue;
    const onPlane = solveOnPlane(spaces, i, goal, bounds, slack);
    if (onPlane === undefined) return undefined;
    x = onPlane;
  }
  return x;
}

function solveLine(
  spaces: readonly HalfSpace[],
  count: number,
  goal: number,
  bound: number,
  slack: number,
): number[] | undefined {
  let low = -bound;
  let high = bound;
  for (let i = 0; i < count; i++) {
    const a = spaces[i].normal[0];
    const b = spaces[i].limit;
    if (a > 1e-14) high = Math.min(high, b / a);
    else if (a < -1e-14) low = Math.max(low, b / a);
    else if (b < -slack) return undefined;
  }
  if (low > high) {
    if (low - high > slack + 1e-9 * bound) return undefined;
    return [(low + high) / 2];
  }
  return [goal > 0 ? low : goal < 0 ? high : Math.max(low, Math.min(0, high))];
}

/** The same question on the plane of half space `i`, with its largest coordinate written through the others. */
function solveOnPlane(
  spaces: readonly HalfSpace[],
  i: number,
  goal: readonly number[],
  bounds: readonly number[],
  slack: number,
): number[] | undefined {
  const { normal, limit } = spaces[i];
  let k = 0;
  for (let j = 1; j < normal.length; j++) if (Math.abs(normal[j]) > Math.abs(normal[k])) k = j;
  const pivot = normal[k];
  if (Math.abs(pivot) < 1e-14) return undefined;
  const drop = (v: readonly number[], factor: number): number[] => {
    const kept: number[] = [];
    for (let j = 0; j < v.length; j++) if (j !== k) kept.push(v[j] - factor * normal[j]);
    return kept;
  };
  const flat: HalfSpace[] = [];
  // The bounds of the coordinate that goes away become two half spaces of the others.
  const zero = new Array<number>(normal.length).fill(0);
  flat.push({ normal: drop(zero, 1 / pivot), limit: bounds[k] - limit / pivot });
  flat.push({ normal: drop(zero, -1 / pivot), limit: bounds[k] + limit / pivot });
  for (let j = 0; j < i; j++) {
    const factor = spaces[j].normal[k] / pivot;
    flat.push({ normal: drop(spaces[j].normal, factor), limit: spaces[j].limit - factor * limit });
  }
  const rest = solve(
    flat,
    flat.length,
    drop(goal, goal[k] / pivot),
    bounds.filter((_, j) => j !== k),
    slack,
  );
  if (rest === undefined) return undefined;
  let own = limit;
  let at = 0;
  const x: number[] = [];
  for (let j = 0; j < normal.length; j++) {
    if (j === k) {
      x.push(0);
      continue;
    }
    x.push(rest[at]);
    own -= normal[j] * rest[at++];
  }
  x[k] = own / pivot;
  return x;
}

function excess(space: HalfSpace, x: readonly number[]): number {
  let sum = -space.limit;
  for (let k = 0; k < x.length; k++) sum += space.normal[k] * x[k];
  return sum;
}
