/**
 * Exact evidence lines: where two edges cross, and the shortest line between two edges or an edge and an arc.
 * Meant for the few places a report names, not for loops over a whole drawing. The library behind it takes
 * anything within 1e-6 mm as touching.
 */
import { Arc, Point as FlatPoint, Segment } from '@flatten-js/core';
import type { Point } from './shapes.ts';

/** A straight edge from one point to another. */
export type Edge = readonly [from: Point, to: Point];

/** An arc of a circle from one angle to another, radians, turning from x towards y when `forward`. */
export interface ArcEdge {
  readonly centre: Point;
  readonly radius: number;
  readonly from: number;
  readonly to: number;
  readonly forward: boolean;
}

/** The shortest line between two things: its length in mm and its ends, the first on the first thing. */
export interface Clearance {
  readonly distance: number;
  readonly ends: readonly [Point, Point];
}

/** Where two edges meet; undefined when they stay apart or lie along one another. */
export function crossingOf(a: Edge, b: Edge): Point | undefined {
  const meets = segment(a).intersect(segment(b));
  const point = meets[0];
  return meets.length === 1 && point !== undefined ? [point.x, point.y] : undefined;
}

export function clearanceOf(a: Edge, b: Edge): Clearance {
  return clearance(segment(a).distanceTo(segment(b)));
}

export function clearanceToArc(edge: Edge, arc: ArcEdge): Clearance {
  const { centre, radius, from, to, forward } = arc;
  return clearance(segment(edge).distanceTo(new Arc(flat(centre), radius, from, to, forward)));
}

function clearance([distance, line]: [number, Segment]): Clearance {
  return {
    distance,
    ends: [
      [line.start.x, line.start.y],
      [line.end.x, line.end.y],
    ],
  };
}

function segment([from, to]: Edge): Segment {
  return new Segment(flat(from), flat(to));
}

function flat([x, y]: Point): FlatPoint {
  return new FlatPoint(x, y);
}
