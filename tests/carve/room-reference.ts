/**
 * The room for a flat tip worked out apart from the product: with d the distance to the outline on the side that is
 * cut, a centre may be moved towards the point until it is `legal` from the outline or r from the point without loss.
 * So the best is the most d within r of the point, less `legal`; and where no d there is that much, r less the way to
 * the nearest centre with d = legal. Where the nearest centre with at least t of room lies is known exactly: on the
 * outline shifted by t, which is made of lines and circles, straight over from the point or where two of them cross.
 */
type Pt = readonly [x: number, y: number];
type Line = readonly [ax: number, ay: number, bx: number, by: number];

/** Lengths that count as none here, mm. */
const NONE = 1e-9;

export function roomByHand(
  rings: readonly Float64Array[],
  side: 1 | -1,
  x: number,
  y: number,
  r: number,
  legal: number,
): number {
  const lines = rings.flatMap(linesOf);
  const way = wayToRoom(lines, side, x, y, legal, Number.POSITIVE_INFINITY);
  if (way > r) return r - way;
  let [low, high] = [legal, r + Math.max(legal, leastTo(lines, x, y)) + NONE];
  while (high - low > 3e-8) {
    const middle = (low + high) / 2;
    if (wayToRoom(lines, side, x, y, middle, r) <= r) low = middle;
    else high = middle;
  }
  return low - legal;
}

function linesOf(ring: Float64Array): Line[] {
  return Array.from({ length: ring.length / 2 }, (_, k) => {
    const next = (k + 1) % (ring.length / 2);
    return [ring[2 * k], ring[2 * k + 1], ring[2 * next], ring[2 * next + 1]] as unknown as Line;
  });
}

/** The way from a point to the nearest centre with at least t of room; infinite when that is more than `most`. */
function wayToRoom(
  lines: readonly Line[],
  side: 1 | -1,
  x: number,
  y: number,
  t: number,
  most: number,
): number {
  // Only outline within t of a centre bounds it: enough is asked for the centres so far off, and more when there is none.
  for (let far = Math.min(most, 0.1 + t); ; far *= 2) {
    const near = lines.filter((line) => distanceTo(line, x, y) <= far + t + NONE);
    // All of it bounds centres however far off they are.
    let best = (near.length === lines.length ? most : far) + NONE;
    let found = false;
    const look = (cx: number, cy: number): void => {
      const way = Math.hypot(cx - x, cy - y);
      if (!(way <= best) || !near.every((line) => distanceTo(line, cx, cy) >= t - NONE)) return;
      const atOutline = t <= NONE && leastTo(near, cx, cy) <= 2 * NONE;
      if (!atOutline && isInside(lines, cx, cy) !== side > 0) return;
      best = way;
      found = true;
    };
    look(x, y);
    const shifted = near.flatMap((line) => shiftedBy(line, t));
    const round = near.map(([ax, ay]) => [ax, ay] as const).concat(near.map(([, , bx, by]) => [bx, by]));
    for (const [px, py, ux, uy] of shifted) {
      const along = (x - px) * ux + (y - py) * uy;
      look(px + along * ux, py + along * uy);
    }
    for (const [px, py] of round) {
      const way = Math.hypot(x - px, y - py);
      if (way > 0) look(px + (t * (x - px)) / way, py + (t * (y - py)) / way);
      else look(px + t, py);
    }
    shifted.forEach((one, k) => {
      for (const other of shifted.slice(0, k)) for (const c of lineAndLine(one, other)) look(...c);
      for (const c of round) for (const at of lineAndCircle(one, c, t)) look(...at);
    });
    round.forEach((one, k) => {
      for (const other of round.slice(0, k)) for (const c of twoCircles(one, other, t)) look(...c);
    });
    if (found) return best;
    if (far >= most || near.length === lines.length) return Number.POSITIVE_INFINITY;
  }
}

function distanceTo([ax, ay, bx, by]: Line, x: number, y: number): number {
  const [ex, ey] = [bx - ax, by - ay];
  const length2 = ex * ex + ey * ey;
  const t = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * ex + (y - ay) * ey) / length2));
  return Math.hypot(x - ax - t * ex, y - ay - t * ey);
}

function leastTo(lines: readonly Line[], x: number, y: number): number {
  return Math.min(...lines.map((line) => distanceTo(line, x, y)));
}

/** By how often a ray meets the outline. */
function isInside(lines: readonly Line[], x: number, y: number): boolean {
  const met = lines.filter(
    ([ax, ay, bx, by]) => ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay),
  );
  return met.length % 2 === 1;
}

/** A point and the direction of the line beside an edge, t to its left and to its right. */
function shiftedBy([ax, ay, bx, by]: Line, t: number): Line[] {
  const length = Math.hypot(bx - ax, by - ay);
  if (length === 0) return [];
  const [ux, uy] = [(bx - ax) / length, (by - ay) / length];
  return [
    [ax - t * uy, ay + t * ux, ux, uy],
    [ax + t * uy, ay - t * ux, ux, uy],
  ];
}

function lineAndLine([px, py, ux, uy]: Line, [qx, qy, vx, vy]: Line): Pt[] {
  const cross = ux * vy - uy * vx;
  if (Math.abs(cross) < 1e-12) return [];
  const along = ((qx - px) * vy - (qy - py) * vx) / cross;
  return [[px + along * ux, py + along * uy]];
}

function lineAndCircle([px, py, ux, uy]: Line, [cx, cy]: Pt, t: number): Pt[] {
  const along = (cx - px) * ux + (cy - py) * uy;
  const half2 = t * t - (px + along * ux - cx) ** 2 - (py + along * uy - cy) ** 2;
  if (half2 < -NONE * t) return [];
  const half = Math.sqrt(Math.max(0, half2));
  return [along - half, along + half].map((k) => [px + k * ux, py + k * uy]);
}

function twoCircles([ax, ay]: Pt, [bx, by]: Pt, t: number): Pt[] {
  const between = Math.hypot(bx - ax, by - ay);
  const half2 = t * t - (between / 2) ** 2;
  if (between === 0 || half2 < 0) return [];
  const k = Math.sqrt(half2) / between;
  const [mx, my] = [(ax + bx) / 2, (ay + by) / 2];
  return [
    [mx - k * (by - ay), my + k * (bx - ax)],
    [mx + k * (by - ay), my - k * (bx - ax)],
  ];
}
