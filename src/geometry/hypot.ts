/**
 * Length of the vector x, y: what Math.hypot gives, to the last digit, but written out, so that it is compiled into
 * the loops that ask it by the million.
 */
export function hypot(x: number, y: number): number {
  const most = Math.max(Math.abs(x), Math.abs(y));
  if (!(most > 0 && most < Number.POSITIVE_INFINITY)) return most;
  const p = x / most;
  const q = y / most;
  return Math.sqrt(p * p + q * q) * most;
}
