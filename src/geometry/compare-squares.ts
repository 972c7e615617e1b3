/** One weighted linear equation row . z = value. */
export interface Equation {
  readonly row: readonly number[];
  readonly value: number;
  readonly weight: number;
}

/** Weighted least squares in `n` unknowns; undefined when the equations leave one of them open. */
export function leastSquares(equations: readonly Equation[], n: number): readonly number[] | undefined {
  const a = Array.from({ length: n }, () => new Array<number>(n + 1).fill(0));
  for (const { row, value, weight } of equations) {
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) a[i][j] += weight * row[i] * row[j];
      a[i][n] += weight * row[i] * value;
    }
  }
  // A little stiffness answers 0 for what the equations hardly determine, the turn of a disc for one.
  const stiff = 1e-9 * a.reduce((sum, r, i) => sum + r[i], 0);
  for (let i = 0; i < n; i++) a[i][i] += stiff;
  for (let i = 0; i < n; i++) {
    if (!(a[i][i] > 0)) return undefined;
    for (let j = 0; j < n; j++) {
      if (j === i) continue;
      const factor = a[j][i] / a[i][i];
      for (let k = i; k <= n; k++) a[j][k] -= factor * a[i][k];
    }
  }
  return a.map((r, i) => r[n] / r[i]);
}
