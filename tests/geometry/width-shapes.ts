import type { Ring } from '../../src/geometry/shapes.ts';

export const ring = (...values: number[]): Ring => new Float64Array(values);

/** A closed curve by `n` points. */
export function curve(n: number, at: (angle: number) => readonly [number, number]): Ring {
  return new Float64Array(Array.from({ length: n }, (_, k) => at((2 * Math.PI * k) / n)).flat());
}

export function circle(n: number, r: number, x = 0, y = 0): Ring {
  return curve(n, (t) => [x + r * Math.cos(t), y + r * Math.sin(t)]);
}

export function reversedRing(points: Ring): Ring {
  const out = new Float64Array(points.length);
  for (let k = 0; k < points.length; k += 2) {
    out[k] = points[points.length - 2 - k]!;
    out[k + 1] = points[points.length - 1 - k]!;
  }
  return out;
}

/** The ring turned by an angle, then scaled. */
export function turned(points: Ring, angle: number, scale = 1): Ring {
  const [c, s] = [scale * Math.cos(angle), scale * Math.sin(angle)];
  const out = new Float64Array(points.length);
  for (let k = 0; k < points.length; k += 2) {
    out[k] = c * points[k]! - s * points[k + 1]!;
    out[k + 1] = s * points[k]! + c * points[k + 1]!;
  }
  return out;
}

/** The same outline with more points on its sides, as two exports of one drawing may have. */
export function moreOften(points: Ring, shares: readonly number[]): Ring {
  const out: number[] = [];
  for (let k = 0; k < points.length; k += 2) {
    const next = (k + 2) % points.length;
    const [ax, ay, bx, by] = [points[k]!, points[k + 1]!, points[next]!, points[next + 1]!];
    out.push(ax, ay);
    for (const t of shares) out.push(ax + t * (bx - ax), ay + t * (by - ay));
  }
  return new Float64Array(out);
}

/** Two wide bodies that nearly part between two inward corners standing off one another: sqrt(0.3^2 + 0.7^2). */
export const NECK = ring(0, 0, 40, 0, 50, 9.6, 60, 0, 100, 0, 100, 20, 60, 20, 50.3, 10.3, 40, 20, 0, 20);

/** Two wide bodies joined by a bar 2 mm wide and 0.3 mm long. */
export const DUMBBELL = ring(
  0,
  0,
  10,
  0,
  10,
  4,
  10.3,
  4,
  10.3,
  0,
  20,
  0,
  20,
  10,
  10.3,
  10,
  10.3,
  6,
  10,
  6,
  10,
  10,
  0,
  10,
);

/** A body with a stroke 1 mm wide and 5 mm long. */
export const PEG = ring(0, 0, 10, 0, 10, 4, 15, 4, 15, 5, 10, 5, 10, 10, 0, 10);

/** A body with a tip of `opening` radians and a base 4 mm wide. */
export function tipped(opening: number): Ring {
  return ring(0, 0, 40, 0, 40, 20, 0, 20, 0, 12, -2 / Math.tan(opening / 2), 10, 0, 8);
}

/** An upright letter-like comb: body 6 high, tines 0.8 wide and 7 long, gaps 1.2 wide. */
export const COMB = ring(
  0,
  0,
  6.8,
  0,
  6.8,
  13,
  6,
  13,
  6,
  6,
  4.8,
  6,
  4.8,
  13,
  4,
  13,
  4,
  6,
  2.8,
  6,
  2.8,
  13,
  2,
  13,
  2,
  6,
  0,
  6,
);
