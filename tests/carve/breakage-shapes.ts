import type { Ring } from '../../src/geometry/shapes.ts';

export function rectangle(width: number, height: number, x = 0, y = 0): Ring {
  const [w, h] = [width / 2, height / 2];
  return new Float64Array([x - w, y - h, x + w, y - h, x + w, y + h, x - w, y + h]);
}

/** A polygon of `corners` on a circle. */
export function disc(radius: number, corners = 360, x = 0, y = 0): Ring {
  const ring = new Float64Array(2 * corners);
  for (let i = 0; i < corners; i++) {
    const a = (2 * Math.PI * i) / corners;
    ring[2 * i] = x + radius * Math.cos(a);
    ring[2 * i + 1] = y + radius * Math.sin(a);
  }
  return ring;
}

/** A star of five points, as drawn with crossing lines: outer radius `radius`. */
export function star(radius: number): Ring {
  const inner = radius * (Math.sin(Math.PI / 10) / Math.sin((7 * Math.PI) / 10));
  const ring = new Float64Array(20);
  for (let i = 0; i < 10; i++) {
    const [r, a] = [i % 2 === 0 ? radius : inner, (Math.PI * i) / 5];
    ring[2 * i] = r * Math.cos(a);
    ring[2 * i + 1] = r * Math.sin(a);
  }
  return ring;
}

export function turned(ring: Ring, angle: number): Ring {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return ring.map((_, i) =>
    i % 2 === 0 ? c * ring[i]! - s * ring[i + 1]! : s * ring[i - 1]! + c * ring[i]!,
  );
}
