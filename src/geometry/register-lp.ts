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

/**
 * Minimises max over rows of (c + a.z) with every |z| <= reach: a linear programme in `dims` + 1 unknowns, solved
 * exactly (to rounding) by adding one row at a time and, when a row is broken, solving again on that row's own
 * plane. Cost grows in step with the number of rows (Seidel 1991, from memory); the rows are shuffled by a fixed
 * rule, so equal input gives equal output. With no rows: z = 0, worst = -Infinity.
 */
export function leastWorst(rows: Rows, reach: number): LeastWorst {
  const { dims, offsets, slopes } = rows;
  if (offsets.length === 0) return { z: new Array<number>(dims).fill(0), worst: Number.NEGATIVE_INFINITY };
  const spaces = shuffled(
    offsets.map((c, i) => ({ normal: [...slopes.slice(i * dims, (i + 1) * dims), -1], limit: -c })),
  );
  let most = 0;
  offsets.forEach((c, i) => {
    let size = Math.abs(c);
    for (let k = 0; k < dims; k++) size += Math.abs(slopes[i * dims + k]) * reach;
    most = Math.max(most, size);
  });
  const far = 2 * most + 1;
  const bounds = [...new Array<number>(dims).fill(reach), far];
  const goal = [...new Array<number>(dims).fill(0), 1];
  const x = solve(spaces, spaces.length, goal, bounds, 1e-13 * far) ?? [...new Array<number>(dims).fill(0), far];
  const z = x.slice(0, dims);
  return { z, worst: worstAt(rows, z) };
}

function worstAt(rows: Rows, z: readonly number[]): number {
  let worst = Number.NEGATIVE_INFINITY;
  rows.offsets.forEach((c, i) => {
    let value = c;
    for (let k = 0; k < rows.dims; k++) value += rows.slopes[i * rows.dims + k] * z[k];
    worst = Math.max(worst, value);
  });
  return worst;
}

/** Least goal.x with the first `count` half spaces and |x_k| <= bounds_k; undefined when there is no such x. */
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
  const rest = solve(flat, flat.length, drop(goal, goal[k] / pivot), bounds.filter((_, j) => j !== k), slack);
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

/** A fixed shuffle: the expected cost rests on no order being unlucky, and equal input must give equal output. */
function shuffled<T>(items: readonly T[]): readonly T[] {
  const order = [...items];
  let state = 88172645;
  for (let i = order.length - 1; i > 0; i--) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const j = state % (i + 1);
    [order[i], order[j]] = [order[j], order[i]];
  }
  return order;
}
