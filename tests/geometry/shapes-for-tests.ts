import type { RawShape, Region, Ring } from '../../src/geometry/shapes.ts';

/** Small seeded generator (mulberry32), so that every run meets the same shapes. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export const ring = (...values: number[]): Ring => Float64Array.from(values);

export const square = (x: number, y: number, size: number): Ring =>
  ring(x, y, x + size, y, x + size, y + size, x, y + size);

export const circle = (x: number, y: number, radius: number, corners: number): Ring =>
  Float64Array.from({ length: corners * 2 }, (_, k) => {
    const angle = (Math.floor(k / 2) / corners) * 2 * Math.PI;
    return k % 2 === 0 ? x + radius * Math.cos(angle) : y + radius * Math.sin(angle);
  });

/** A simple outline that sees its own middle: random radii at even angles. */
export const starShaped = (
  random: () => number,
  x: number,
  y: number,
  radius: number,
  corners: number,
): Ring =>
  Float64Array.from({ length: corners }).reduce<Float64Array>(
    (points, _, k) => {
      const angle = (k / corners) * 2 * Math.PI;
      const r = radius * (0.4 + 0.6 * random());
      points[2 * k] = x + r * Math.cos(angle);
      points[2 * k + 1] = y + r * Math.sin(angle);
      return points;
    },
    new Float64Array(2 * corners),
  );

export const regionOf = (...rings: Ring[]): Region => ({ rings });

export const drawn = (
  source: number,
  rings: readonly Ring[],
  paint: string | undefined = 'walnut',
  fillRule: RawShape['fillRule'] = 'nonzero',
): RawShape => ({ source, paint, fillRule, lines: rings.map((points) => ({ points, closed: true })) });
