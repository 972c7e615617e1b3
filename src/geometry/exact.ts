/**
 * Where two edges cross, exactly: for the few places where drawn outlines run through one another, not for loops over
 * a whole drawing. The library behind it takes anything within 1e-6 mm as touching.
 */
import { Point as FlatPoint, Segment } from '@flatten-js/core';
import type { Point } from './shapes.ts';

/** A straight edge from one point to another. */
export type Edge = readonly [from: Point, to: Point];

/** Where two edges meet; undefined when they stay apart or lie along one another. */
export function crossingOf(a: Edge, b: Edge): Point | undefined {
  const meets = segment(a).intersect(segment(b));
  const point = meets[0];
  return meets.length === 1 && point !== undefined ? [point.x, point.y] : undefined;
}

function segment([from, to]: Edge): Segment {
  return new Segment(flat(from), flat(to));
}

function flat([x, y]: Point): FlatPoint {
  return new FlatPoint(x, y);
}
