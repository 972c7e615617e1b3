/** One demand on the answer: row . y >= least. */
export interface Demand {
  readonly row: Float64Array;
  readonly least: number;
}

/**
 * Minimises cost . y under demands, with lower <= y <= upper, by the dual simplex method: it starts at the corner
 * y = lower, where every positive cost is content, and takes in the most violated demand until none is left.
 * All costs must be positive. A handful of demands decide, however many are given; each step is one pass over
 * them. Undefined when the demands contradict each other.
 */
export function leastCost(
  cost: Float64Array,
  lower: Float64Array,
  upper: Float64Array,
  demands: readonly Demand[],
  tolerance: number,
): Float64Array | undefined {
  const n = cost.length;
  const all = [...boundDemands(lower, upper), ...demands];
  const basis = Array.from({ length: n }, (_, i) => i);
  for (let step = 0; step < 40 * n; step++) {
    const rows = basis.map((i) => (all[i] as Demand).row);
    const inverse = invert(rows, n);
    if (inverse === undefined) return undefined;
    const y = times(
      inverse,
      basis.map((i) => (all[i] as Demand).least),
      n,
    );
    const worst = mostViolated(all, basis, y, tolerance);
    if (worst < 0) return y;
    const weights = timesTransposed(inverse, (all[worst] as Demand).row, n);
    const prices = timesTransposed(inverse, cost, n);
    const leaving = leastRatio(prices, weights);
    if (leaving < 0) return undefined;
    basis[leaving] = worst;
  }
  return undefined;
}

function boundDemands(lower: Float64Array, upper: Float64Array): Demand[] {
  const n = lower.length;
  const unit = (i: number, sign: number): Float64Array => {
    const row = new Float64Array(n);
    row[i] = sign;
    return row;
  };
  const low = Array.from({ length: n }, (_, i) => ({ row: unit(i, 1), least: lower[i] as number }));
  const high = Array.from({ length: n }, (_, i) => ({ row: unit(i, -1), least: -(upper[i] as number) }));
  return [...low, ...high];
}

function mostViolated(
  all: readonly Demand[],
  basis: readonly number[],
  y: Float64Array,
  tolerance: number,
): number {
  let worst = -1;
  let most = tolerance;
  for (let k = 0; k < all.length; k++) {
    const { row, least } = all[k] as Demand;
    let short = least;
    for (let i = 0; i < y.length; i++) short -= (row[i] as number) * (y[i] as number);
    if (short > most && !basis.includes(k)) {
      most = short;
      worst = k;
    }
  }
  return worst;
}

function leastRatio(prices: Float64Array, weights: Float64Array): number {
  let best = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < prices.length; i++) {
    const w = weights[i] as number;
    if (w <= 1e-9) continue;
    const ratio = Math.max(0, prices[i] as number) / w;
    if (ratio < least) {
      least = ratio;
      best = i;
    }
  }
  return best;
}

/** Inverse of the matrix whose rows are given, row-major, by Gauss with the largest pivot. */
function invert(rows: readonly Float64Array[], n: number): Float64Array | undefined {
  const a = new Float64Array(n * n);
  const b = new Float64Array(n * n);
  rows.forEach((row, i) => {
    a.set(row, i * n);
    b[i * n + i] = 1;
  });
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let i = c + 1; i < n; i++)
      if (Math.abs(a[i * n + c] as number) > Math.abs(a[pivot * n + c] as number)) pivot = i;
    if (Math.abs(a[pivot * n + c] as number) < 1e-12) return undefined;
    swapRows(a, n, c, pivot);
    swapRows(b, n, c, pivot);
    clearColumn(a, b, n, c);
  }
  return b;
}

function swapRows(m: Float64Array, n: number, i: number, j: number): void {
  if (i === j) return;
  const row = m.slice(i * n, i * n + n);
  m.copyWithin(i * n, j * n, j * n + n);
  m.set(row, j * n);
}

function clearColumn(a: Float64Array, b: Float64Array, n: number, c: number): void {
  const scale = 1 / (a[c * n + c] as number);
  for (let k = 0; k < n; k++) {
    a[c * n + k] = (a[c * n + k] as number) * scale;
    b[c * n + k] = (b[c * n + k] as number) * scale;
  }
  for (let i = 0; i < n; i++) {
    const f = a[i * n + c] as number;
    if (i === c || f === 0) continue;
    for (let k = 0; k < n; k++) {
      a[i * n + k] = (a[i * n + k] as number) - f * (a[c * n + k] as number);
      b[i * n + k] = (b[i * n + k] as number) - f * (b[c * n + k] as number);
    }
  }
}

function times(m: Float64Array, v: readonly number[], n: number): Float64Array {
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let k = 0; k < n; k++) sum += (m[i * n + k] as number) * (v[k] as number);
    out[i] = sum;
  }
  return out;
}

function timesTransposed(m: Float64Array, v: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const f = v[k] as number;
    if (f === 0) continue;
    for (let i = 0; i < n; i++) out[i] = (out[i] as number) + f * (m[k * n + i] as number);
  }
  return out;
}
