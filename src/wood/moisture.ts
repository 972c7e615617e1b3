import { type Mpa, mpa } from '../units.ts';

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

/** Moisture where strength stops changing with it, %; Wood Handbook Table 5-13, 25 where it lists nothing. */
export function intersectionMoisture(id: string): number {
  return TABLE_5_13[id] ?? 25;
}

const TABLE_5_13: Readonly<Record<string, number>> = {
  'ash-white': 24,
  'birch-yellow': 27,
  'chestnut-american': 24,
  'douglas-fir-coast': 24,
  'pine-loblolly': 21,
  'pine-longleaf': 21,
  'redwood-old-growth': 21,
  'redwood-young-growth': 21,
};

/**
 * A strength at `moisture` % from those at 12 % and green, same unit; Wood Handbook Eq. 5-3, p. 5-34, near 21 C:
 * P = P12 (P12 / Pg)^((12 - M) / (Mp - 12)). At and above `intersection` it is the green figure. The handbook does not
 * recommend it for tension across the grain, so nothing here applies it to that.
 */
export function strengthAtMoisture(at12: Mpa, green: Mpa, moisture: number, intersection = 25): Mpa {
  if (moisture >= intersection) return green;
  return mpa(at12 * (at12 / green) ** ((12 - moisture) / (intersection - 12)));
}
