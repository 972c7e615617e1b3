import { hypot } from '../geometry/hypot.ts';
import type { SegmentTree } from '../geometry/nearest.ts';
import { bestInDisc, type Centre, edgeAt, NOTHING, solve } from './cut-room-lines.ts';
import { hookAt, neighbour, normalAt, sideBy, sideOf, signedRoom } from './cut-side.ts';

const MOST_STEPS = 40;
/** Distances that differ by less are alike, mm. */
const ALIKE = 1e-5;
/** Directions this near are one, and feet this near to opposite face each other, radians. */
const OPPOSITE = 1e-3;

/**
 * The most room a flat tip finds that still reaches a point: max over centres c with d(c) >= legal of
 * d(c) - max(r, |p - c|) + r - legal, where d is the distance to the outline inside the cut region. Millimetres.
 * Equals d(p) - (legal - r) beside a plain wall; less near ridges and corners; negative outside the mouth;
 * -Infinity when no legal centre is found by walking away from the nearest edges.
 *
 * Answers below `lowest` need not be exact. Exact for polygons up to rounding while the best centre can be reached
 * uphill from one of the edges nearby. Otherwise the answer is too small, never too large: every value returned
 * belongs to a true centre. Cost: two nearest-segment questions beside a plain wall, 5-15 elsewhere.
 */
export function farthestRoom(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  r: number,
  legal: number,
  lowest: number,
): number {
  const i = tree.nearest(x, y);
  if (i < 0) return Number.NEGATIVE_INFINITY;
  const plain = roomBesideWall(tree, side, i, x, y, r, legal);
  if (plain > Number.NEGATIVE_INFINITY) return plain;
  const away = awayFrom(tree, side, i, x, y);
  const outside = Math.max(0, -away.d);
  const reach = Math.max(r, legal + outside);
  if (reach === 0) return away.d;
  const want = Math.max(away.d, 0) + reach - outside;
  const cx = away.x + away.nx * want;
  const cy = away.y + away.ny * want;
  const hit = tree.nearest(cx, cy, Math.max(0, want - NOTHING) ** 2, i);
  if (hit < 0) return away.d + r - legal;
  const found = fromWalls(tree, side, x, y, r, legal, lowest, away, [i, hit]);
  const hook = hookAt(tree, i, found <= lowest);
  return hook === 0 ? found : Math.max(found, fromHook(tree, side, x, y, r, legal, away, OFF * hook));
}

/** The best centre met from the walls at hand, the nearest first, and from others where that is outside the mouth. */
function fromWalls(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  r: number,
  legal: number,
  lowest: number,
  away: Away,
  walls: readonly [number, ...number[]],
): number {
  const first = climb(tree, side, x, y, r, legal, away, walls);
  return first >= 0 ? first : fromElsewhere(tree, side, x, y, r, legal, first, lowest, walls[0]);
}

/** Ways out of a hook, all round; the walk begins so many of its lengths from it. */
const WAYS = 16;
const OFF = 4;

/**
 * At a hook the outline folds back on itself: the direction halfway between its edges means nothing, and no walk from
 * there may lead out. So the walk begins beside it, wherever that is in the cut; it asks for the point itself all the
 * same, and every centre it finds is a true one.
 */
function fromHook(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  r: number,
  legal: number,
  away: Away,
  off: number,
): number {
  let best = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < WAYS; k++) {
    const angle = (2 * Math.PI * k) / WAYS;
    const start = { x: away.x + off * Math.cos(angle), y: away.y + off * Math.sin(angle) };
    if (signedRoom(tree, side, start.x, start.y) <= 0) continue;
    const i = tree.nearest(start.x, start.y);
    const met = startingEdges(tree, [i], awayFrom(tree, side, i, start.x, start.y), legal);
    best = Math.max(best, walkUp(tree, side, x, y, r, legal, start, met).worth);
  }
  return best;
}

/**
 * The answer beside a plain wall, where nearly all questions are asked: the foot lies within the edge and the best
 * centre, straight in from it, is free. -Infinity elsewhere. Written out without records, for it is asked so often.
 */
function roomBesideWall(
  tree: SegmentTree,
  side: 1 | -1,
  segment: number,
  x: number,
  y: number,
  r: number,
  legal: number,
): number {
  const a = tree.coords;
  const q = 4 * segment;
  const px = x - (a[q] as number);
  const py = y - (a[q + 1] as number);
  const ex = (a[q + 2] as number) - (a[q] as number);
  const ey = (a[q + 3] as number) - (a[q + 1] as number);
  const along = px * ex + py * ey;
  const length2 = ex * ex + ey * ey;
  if (along <= 0 || along >= length2) return Number.NEGATIVE_INFINITY;
  const length = Math.sqrt(length2);
  const d = (side * (ex * py - ey * px)) / length;
  const outside = d < 0 ? -d : 0;
  const reach = Math.max(r, legal + outside);
  if (reach === 0) return d;
  const want = Math.max(d, 0) + reach - outside;
  // From the point itself, d short of that: to the left of the edge where that is the side that is cut.
  const step = (side * (want - d)) / length;
  const free = Math.max(0, want - NOTHING) ** 2;
  const hit = tree.nearest(x - step * ey, y + step * ex, free, segment);
  return hit < 0 ? d + r - legal : Number.NEGATIVE_INFINITY;
}

/** Starts beyond this many are left untried; the answer is then too small at worst. */
const MOST_STARTS = 24;

/**
 * Outside the mouth the nearest edge need not lead to the nearest centre: a corner the bit cannot enter may lie
 * nearer than a plain wall. No edge farther than the answer so far can better it; the others are tried in turn.
 */
function fromElsewhere(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  r: number,
  legal: number,
  first: number,
  lowest: number,
  tried: number,
): number {
  let best = first;
  const within = r - legal - Math.max(best, lowest);
  const others: { segment: number; d2: number }[] = [];
  tree.within(x, y, within, (segment) => {
    if (segment !== tried) others.push({ segment, d2: tree.d2(segment, x, y) });
    return undefined;
  });
  others.sort((a, b) => a.d2 - b.d2 || a.segment - b.segment);
  let starts = 0;
  const feet: Away[] = [];
  const apart = Math.max(r, legal) / 4;
  for (const { segment, d2 } of others) {
    const d = Math.sqrt(d2);
    if (r - legal - d <= best || starts === MOST_STARTS) break;
    const away = awayFrom(tree, side, segment, x, y);
    if (away.d > 0) continue;
    // Edges a fraction of the tip apart that face alike lead to the same centre.
    if (feet.some((f) => facesAlike(f, away) && hypot(f.x - away.x, f.y - away.y) < apart)) continue;
    feet.push(away);
    starts++;
    const want = Math.max(legal, r - d);
    const hit = tree.nearest(
      away.x + away.nx * want,
      away.y + away.ny * want,
      Math.max(0, want - NOTHING) ** 2,
    );
    const worth = hit < 0 ? r - legal - d : climb(tree, side, x, y, r, legal, away, [segment, hit]);
    best = Math.max(best, worth);
  }
  return best;
}

interface Away {
  readonly d: number;
  /** Nearest point of the outline. */
  readonly x: number;
  readonly y: number;
  /** Unit direction from there to p, or away from p when p lies outside the cut. */
  readonly nx: number;
  readonly ny: number;
  /** Unit direction from there into the cut, halfway between both edges at a corner. */
  readonly bx: number;
  readonly by: number;
}

function facesAlike(a: Away, b: Away): boolean {
  return a.bx * b.bx + a.by * b.by > 0;
}

function awayFrom(tree: SegmentTree, side: 1 | -1, segment: number, x: number, y: number): Away {
  const normal = normalAt(tree, segment, x, y);
  const [mx, my, fx, fy] = normal;
  const d = hypot(x - fx, y - fy);
  const length = hypot(mx, my) || 1;
  const bx = (side * mx) / length;
  const by = (side * my) / length;
  const sign = sideBy(tree, segment, x, y, normal) * side >= 0 ? 1 : -1;
  if (d <= NOTHING) return { d: 0, x: fx, y: fy, nx: bx, ny: by, bx, by };
  return { d: sign * d, x: fx, y: fy, nx: (sign * (x - fx)) / d, ny: (sign * (y - fy)) / d, bx, by };
}

/**
 * A foot that lies all but on the next edge too is taken to the corner between them: in a corner of less than a right
 * angle one edge's own direction leads out of the cut, and in a sharp one from farther off.
 */
function atCorner(tree: SegmentTree, side: 1 | -1, segment: number, away: Away): Away {
  for (const step of [-1, 1] as const) {
    const next = neighbour(tree, segment, step);
    if (tree.d2(next, away.x, away.y) > (20 * NOTHING) ** 2) continue;
    const q = 4 * segment + (step > 0 ? 2 : 0);
    const x = tree.coords[q] as number;
    const y = tree.coords[q + 1] as number;
    const [mx, my] = normalAt(tree, segment, x, y);
    const length = hypot(mx, my) || 1;
    return { ...away, x, y, bx: (side * mx) / length, by: (side * my) / length };
  }
  return away;
}

/**
 * Walks the centre uphill from p itself, or from the outline beside it. Between corners that face each other every
 * straight distance is level and leads nowhere: then the ways out between those corners are taken as well.
 */
function climb(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  r: number,
  legal: number,
  away: Away,
  first: readonly number[],
): number {
  const inside = away.d > NOTHING;
  const from = inside ? away : atCorner(tree, side, first[0] as number, away);
  const met = startingEdges(tree, first, from, legal);
  const start = inside
    ? { x, y }
    : { x: from.x + 10 * NOTHING * from.bx, y: from.y + 10 * NOTHING * from.by };
  const top = walkUp(tree, side, x, y, r, legal, start, met);
  const others = waysOut(tree, x, y, top, r, met).map((out) => {
    if (signedRoom(tree, side, out.x, out.y) < legal) return top.worth;
    // Its own nearest edge with those met so far, or it would be taken for roomier than it is.
    return walkUp(tree, side, x, y, r, legal, out, [...met, tree.nearest(out.x, out.y)]).worth;
  });
  return Math.max(top.worth, ...others);
}

/**
 * Each step solves the problem exactly for the edges met so far, taken as straight; the true distance to an edge is
 * convex, so it is never less than the straight one and a step never loses. Ends of edges within `turn` are asked by
 * the edges' lines, which tell how the bit may go round them; where one is the point of a spike, the way is walked again
 * by the ends alone, for those tell how much room there is straight across from it, and the better walk counts.
 */
function walkUp(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  r: number,
  legal: number,
  start: Centre,
  met: number[],
  turn = legal,
): Centre & { readonly worth: number } {
  const worth = (room: number, cx: number, cy: number): number =>
    room >= legal - NOTHING
      ? room - Math.max(r, hypot(cx - x, cy - y)) + r - legal
      : Number.NEGATIVE_INFINITY;
  let { x: cx, y: cy } = start;
  let room = roomTo(tree, met, cx, cy);
  let best = worth(room, cx, cy);
  let [roundSpike, behind] = [false, false];
  for (let n = 0; n < MOST_STEPS; n++) {
    const edges = met.map((i) => edgeAt(tree, side, i, cx, cy, turn, behind));
    roundSpike ||= edges.some((edge) => edge.roundSpike);
    const next = solve(x, y, r, legal, edges) ?? bestInDisc(cx, cy, Math.max(r, legal), edges);
    const hit = tree.nearest(next.x, next.y);
    const isNew = !met.includes(hit);
    if (isNew) met.push(hit);
    const inside = sideOf(tree, hit, next.x, next.y) * side > 0;
    const roomThere = inside ? Math.sqrt(tree.d2(hit, next.x, next.y)) : -1;
    const worthThere = inside ? worth(roomThere, next.x, next.y) : Number.NEGATIVE_INFINITY;
    const gain = best > Number.NEGATIVE_INFINITY ? worthThere - best : roomThere - room;
    if (gain > NOTHING / 100) {
      cx = next.x;
      cy = next.y;
      room = roomThere;
      best = worthThere;
    }
    if (isNew || gain >= NOTHING) continue;
    if (behind || best > Number.NEGATIVE_INFINITY) break;
    behind = true;
  }
  const found = { x: cx, y: cy, worth: best };
  if (!roundSpike) return found;
  const across = walkUp(tree, side, x, y, r, legal, start, met, 0);
  return across.worth > best ? across : found;
}

/**
 * Midway between neighbours among the edges that are nearest all alike, as far as the tip reaches. Where the walk has
 * led away from p that is worth asking between two edges that face each other alone, for there it may have gone
 * either way.
 */
function waysOut(
  tree: SegmentTree,
  x: number,
  y: number,
  top: Centre,
  r: number,
  met: readonly number[],
): Centre[] {
  const room = roomTo(tree, met, top.x, top.y);
  const foot: [number, number] = [0, 0];
  const near = met.filter((i) => Math.sqrt(tree.d2(i, top.x, top.y)) < room + ALIKE);
  const facing = near
    .map((i) => {
      tree.foot(i, top.x, top.y, foot);
      return Math.atan2(foot[1] - top.y, foot[0] - top.x);
    })
    .sort((p, q) => p - q)
    .filter((angle, k, all) => k === 0 || angle - (all[k - 1] as number) > OPPOSITE);
  const [one, two] = facing as [number, number];
  const opposite = facing.length === 2 && Math.abs(two - one - Math.PI) < OPPOSITE;
  if (facing.length === 1 || !(opposite || (top.x === x && top.y === y))) return [];
  return facing.flatMap((angle, k) => {
    const next = k + 1 < facing.length ? (facing[k + 1] as number) : one + 2 * Math.PI;
    const [ux, uy] = [Math.cos((angle + next) / 2), Math.sin((angle + next) / 2)];
    // From the place beside p on the line through the top.
    const far = r + (x - top.x) * ux + (y - top.y) * uy;
    return [{ x: top.x + far * ux, y: top.y + far * uy }];
  });
}

/** With an edge shorter than the tip go those beside it: they are walls that lead the bit away from there. */
function startingEdges(tree: SegmentTree, first: readonly number[], away: Away, tip: number): number[] {
  const met = new Set(first);
  const i = first[0] as number;
  const out: [number, number] = [0, 0];
  const t = tree.foot(i, away.x, away.y, out);
  const length = tree.lengthOf(i);
  if (length < tip || t >= 1) met.add(neighbour(tree, i, 1));
  if (length < tip || t <= 0) met.add(neighbour(tree, i, -1));
  return [...met];
}

function roomTo(tree: SegmentTree, segments: readonly number[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < segments.length; k++) least = Math.min(least, tree.d2(segments[k] as number, x, y));
  return Math.sqrt(least);
}
