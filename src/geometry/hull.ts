import type { Point } from './shapes.ts';

/** Corners of the convex hull, counterclockwise (A. M. Andrew's two chains, 1979, from memory). */
export function hullOf(points: readonly Point[]): readonly Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  return [...chain(sorted), ...chain(sorted.reverse())];
}

function chain(points: readonly Point[]): Point[] {
  const kept: Point[] = [];
  for (const p of points) {
    while (kept.length > 1 && !turnsLeft(kept.at(-2) as Point, kept.at(-1) as Point, p)) kept.pop();
    kept.push(p);
  }
  return kept.slice(0, -1);
}

function turnsLeft(a: Point, b: Point, c: Point): boolean {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0;
}
