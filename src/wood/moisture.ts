/** Air around the wood. */
export interface Air {
  /** Degrees Celsius. */
  readonly temperature: number;
  /** Relative humidity, %. */
  readonly humidity: number;
}

/**
 * The moisture content, %, at which wood neither gains nor loses water in that air. Wood Handbook Eq. 4-5 with the
 * Celsius coefficients; the table computed from it (Table 4-2) runs from -1.1 to 54.4 C, 5 to 85 % (as far as seen).
 * Taken to be the same for all woods (as the handbook does for practical use). Undefined outside -5..70 C or 0..98 %.
 */
export function equilibriumMoisture({ temperature: T, humidity }: Air): number | undefined {
  if (!(T >= -5 && T <= 70 && humidity >= 0 && humidity <= 98)) return undefined;
  const W = 349 + 1.29 * T + 0.0135 * T * T;
  const K = 0.805 + 0.000736 * T - 0.00000273 * T * T;
  const K1 = 6.27 - 0.00938 * T - 0.000303 * T * T;
  const K2 = 1.91 + 0.0407 * T - 0.000293 * T * T;
  const Kh = (K * humidity) / 100;
  const bound = (K1 * Kh + 2 * K1 * K2 * Kh * Kh) / (1 + K1 * Kh + K1 * K2 * Kh * Kh);
  return (1800 / W) * (Kh / (1 - Kh) + bound);
}
