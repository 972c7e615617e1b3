import type { Point } from '../geometry/shapes.ts';

/** The rectangle that balloons must stay in, on the screen. */
export interface Frame {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Air between two balloons, and the shortest leader, as shares of a balloon's radius. */
const AIR = 0.25;
const LEADER = 1.1;
const KEPT = 1.75;
const TURNS = 24;

/**
 * Places a balloon of `radius` for each point so that none covers another or a point, with short leaders that point
 * away from the middle and do not cross where that can be helped. Where a frame is too full for all, the last ones
 * are left out (undefined). `kept` are places to leave clear, such as figures. Screen units; equal input gives equal places.
 */
export function placeBalloons(
  points: readonly Point[],
  frame: Frame,
  radius: number,
  kept: readonly Point[] = [],
): (Point | undefined)[] {
  const middle: Point = [(frame.left + frame.right) / 2, (frame.top + frame.bottom) / 2];
  const placed: (Point | undefined)[] = [];
  points.forEach((point, i) => {
    placed.push(nearestFree(point, { points, placed: placed.slice(0, i), kept, frame, radius }, middle));
  });
  return placed;
}

interface Taken {
  readonly points: readonly Point[];
  readonly placed: readonly (Point | undefined)[];
  readonly kept: readonly Point[];
  readonly frame: Frame;
  readonly radius: number;
}

function nearestFree(point: Point, taken: Taken, middle: Point): Point | undefined {
  const { frame, radius } = taken;
  const away = Math.atan2(point[1] - middle[1], point[0] - middle[0]);
  const reach = Math.hypot(frame.right - frame.left, frame.bottom - frame.top);
  let crossing: Point | undefined;
  for (let far = radius * (1 + LEADER); far < reach; far += radius) {
    for (let turn = 0; turn < TURNS; turn++) {
      // Alternately to either side of straight away.
      const side = turn % 2 === 0 ? 1 : -1;
      const angle = away + (side * Math.ceil(turn / 2) * 2 * Math.PI) / TURNS;
      const spot: Point = [point[0] + far * Math.cos(angle), point[1] + far * Math.sin(angle)];
      if (!isFree(spot, taken)) continue;
      if (!crosses(point, spot, taken.points, taken.placed)) return spot;
      crossing ??= spot;
    }
    if (crossing !== undefined && far > 6 * radius) return crossing;
  }
  return crossing;
}

function isFree([x, y]: Point, { points, placed, kept, frame, radius }: Taken): boolean {
  const { left, top, right, bottom } = frame;
  if (x - radius < left || x + radius > right || y - radius < top || y + radius > bottom) return false;
  const clear = (other: Point | undefined, apart: number): boolean =>
    other === undefined || Math.hypot(x - other[0], y - other[1]) >= apart;
  return (
    placed.every((other) => clear(other, radius * (2 + AIR))) &&
    points.every((other) => clear(other, radius * (1 + AIR))) &&
    kept.every((other) => clear(other, radius * KEPT))
  );
}

function crosses(
  from: Point,
  to: Point,
  points: readonly Point[],
  placed: readonly (Point | undefined)[],
): boolean {
  return placed.some((other, i) => other !== undefined && meet(from, to, points[i] as Point, other));
}

function meet(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (p: Point, q: Point, r: Point): number =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}
