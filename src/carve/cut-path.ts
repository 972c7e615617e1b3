import { hypot } from '../geometry/hypot.ts';
import type { SegmentTree } from '../geometry/nearest.ts';
import { touchingDisc } from './cut-disc.ts';
import type { Profile } from './cut-profile.ts';
import { leftNormal, neighbour, normalAt, sideOf } from './cut-side.ts';

/** How far along the outline other centres are tried, as shares of the reach asked for. */
const TRIES = [0.04, 0.12, 0.35, 1];
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const REFINEMENTS = 14;
/** Farther along than this many times the reach no way in is sought. */
const FARTHEST = 20;
/** Depths this near are one, mm. */
const SAME = 1e-12;

/**
 * Depth below the start depth, mm, left at a point by a bit that is not the one its toolpath was computed for, or
 * that ends in a ball. The bit follows the path of the nominal bit: along the line of discs that touch the outline
 * twice, and round at the room the flat depth asks for; deeper places are cleared. The depth is
 * max over that path of min(bottom(d(c)), flat) - rise(|p - c|).
 *
 * The best centre is sought along the outline from the foot of p; a centre missed makes the cut seem too shallow,
 * never too deep. Negative outside the mouth; -Infinity where no centre is legal nearby.
 */
export function depthAlongPath(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  real: Profile,
  nominal: Profile,
  flat: number,
): number {
  const worth = (down: number, cx: number, cy: number): number =>
    Math.min(down, flat) - riseAt(real, hypot(x - cx, y - cy));
  return bestOnPath(tree, side, x, y, nominal, flat, worth, (widest, d) =>
    mostAt(real, nominal, flat, widest, d),
  );
}

/** The bit where it stood, cut through at some depth: a disc without wood. Lengths mm. */
export interface Bare {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/**
 * Of all sections of such a bit `deep` mm below the start depth, along its path, the one that reaches farthest round a
 * point; its edge lies short of the point where wood is left there. Undefined where the bit is nowhere so deep.
 */
export function sectionAlongPath(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  real: Profile,
  nominal: Profile,
  flat: number,
  deep: number,
): Bare | undefined {
  let best: Bare | undefined;
  let most = Number.NEGATIVE_INFINITY;
  const worth = (down: number, cx: number, cy: number): number => {
    const height = Math.min(down, flat) - deep;
    if (height < 0) return Number.NEGATIVE_INFINITY;
    const r = radiusAt(real, height);
    const round = r - hypot(x - cx, y - cy);
    if (round > most) {
      most = round;
      best = { x: cx, y: cy, r };
    }
    return round;
  };
  bestOnPath(tree, side, x, y, nominal, flat, worth, () => Number.POSITIVE_INFINITY);
  return best;
}

/** The most that any centre of the path is worth to a point, by how deep the tip is there and where. */
function bestOnPath(
  tree: SegmentTree,
  side: 1 | -1,
  x: number,
  y: number,
  nominal: Profile,
  flat: number,
  worthOf: (down: number, cx: number, cy: number) => number,
  mostWorth: (widest: number, d: number) => number,
): number {
  const i = tree.nearest(x, y);
  if (i < 0) return Number.NEGATIVE_INFINITY;
  const widest = radiusAt(nominal, flat);
  const [mx, my, fx, fy] = normalAt(tree, i, x, y);
  const d = hypot(x - fx, y - fy);
  const inside = sideOf(tree, i, x, y) * side > 0;
  if (inside && d >= widest) return worthOf(flat, x, y);
  const length = d > 1e-9 ? d * (inside ? 1 : -1) : (hypot(mx, my) || 1) * side;
  const [ux, uy] = d > 1e-9 ? [x - fx, y - fy] : [mx, my];
  const own: Start = { segment: i, x: fx, y: fy, nx: ux / length, ny: uy / length };
  const pointed = nominal.r === 0 || nominal.ball > 0;
  // Whether the places asked so far stood clear of all other walls.
  let clear = true;
  const worth = (from: Start): number => {
    if (from === own && standsInCorner(tree, own))
      return pointed ? worthOf(0, own.x, own.y) : Number.NEGATIVE_INFINITY;
    const disc = touchingDisc(tree, from.segment, from.x, from.y, from.nx, from.ny, widest);
    clear &&= disc.r === widest;
    if (disc.r < nominal.r - 1e-9 && nominal.ball === 0) return Number.NEGATIVE_INFINITY;
    return worthOf(bottomAt(nominal, disc.r), disc.x, disc.y);
  };
  const here = worth(own);
  if (here >= mostWorth(widest, inside ? d : -d)) return here;
  const at = (s: number): number => worth(along(tree, side, own, s, widest));
  return bestAlong(here, at, widest + d, () => clear);
}

/**
 * No centre gives more than this to a point d mm inside the outline (negative: outside), for one with room c is at
 * least c - d away: the greatest of min(bottom(c), flat) - rise(c - d) over all rooms, where bits have straight sides.
 */
function mostAt(real: Profile, nominal: Profile, flat: number, widest: number, d: number): number {
  if (real.ball > 0) return Number.POSITIVE_INFINITY;
  const beside = Math.max(nominal.r, Math.min(widest, d + real.r));
  const worth = (c: number): number => Math.min(bottomAt(nominal, c), flat) - riseAt(real, c - d);
  return Math.max(worth(beside), worth(widest)) - SAME;
}

/** A corner that closes on the bit more than curves do, by their chords, as the sine of half its turn. */
const CLOSES = 0.02;

/**
 * Whether the foot is a corner that closes on the bit, one where an edge lies ahead: there is no disc that touches the
 * outline in its very point.
 */
function standsInCorner(tree: SegmentTree, { segment, x, y, nx, ny }: Start): boolean {
  const a = tree.coords;
  return [segment, neighbour(tree, segment, -1), neighbour(tree, segment, 1)].some((edge) => {
    const [ax, ay, bx, by] = [0, 1, 2, 3].map(
      (k) => (a[4 * edge + k] as number) - ((k & 1) === 0 ? x : y),
    ) as [number, number, number, number];
    if (!((ax === 0 && ay === 0) || (bx === 0 && by === 0))) return false;
    return (ax + bx) * nx + (ay + by) * ny > CLOSES * hypot(ax + bx, ay + by);
  });
}

/**
 * The greatest of a value along the outline, s mm from the foot either way: a few tries, then golden sections.
 * `plain` tells whether what was asked so far stood clear of other walls: where the nearest tries did and nothing
 * farther off is better, the foot itself is the best. Where the bit does not get in beside the foot, the tries begin
 * where it does.
 */
function bestAlong(here: number, at: (s: number) => number, reach: number, plain: () => boolean): number {
  const shut = here === Number.NEGATIVE_INFINITY;
  const [back, ahead] = shut ? [brink((s) => at(-s), reach), brink(at, reach)] : [0, 0];
  const near = TRIES[0] as number;
  const beside = [at(-back - near * reach), at(ahead + near * reach)];
  const isPlain = !shut && plain();
  const farther = TRIES.slice(1);
  const tries = [
    ...TRIES.map((k) => -back - k * reach).reverse(),
    ...(shut ? [-back, ahead] : [0]),
    ...TRIES.map((k) => ahead + k * reach),
  ];
  const values = [
    ...farther.map((k) => at(-back - k * reach)).reverse(),
    beside[0] as number,
    ...(shut ? [at(-back), at(ahead)] : [here]),
    beside[1] as number,
    ...farther.map((k) => at(ahead + k * reach)),
  ];
  let top = 0;
  for (let k = 1; k < tries.length; k++) if ((values[k] as number) > (values[top] as number)) top = k;
  if (isPlain && tries[top] === 0) return here;
  // Where it is shut between them, each side is sought by itself.
  let low = shut && tries[top] === ahead ? ahead : (tries[Math.max(0, top - 1)] as number);
  let high = shut && tries[top] === -back ? -back : (tries[Math.min(tries.length - 1, top + 1)] as number);
  let best = values[top] as number;
  let a = high - GOLDEN * (high - low);
  let b = low + GOLDEN * (high - low);
  let atA = at(a);
  let atB = at(b);
  for (let n = 0; n < REFINEMENTS; n++) {
    best = Math.max(best, atA, atB);
    if (atA > atB) {
      [high, b, atB] = [b, a, atA];
      a = high - GOLDEN * (high - low);
      atA = at(a);
    } else {
      [low, a, atA] = [a, b, atB];
      b = low + GOLDEN * (high - low);
      atB = at(b);
    }
  }
  return best;
}

/** How far along from a foot where the bit does not get in it does, mm; found to a thousandth of a micrometre. */
function brink(at: (s: number) => number, reach: number): number {
  let shut = 0;
  let open = 0.01 * reach;
  while (at(open) === Number.NEGATIVE_INFINITY) {
    if (open > FARTHEST * reach) return 0;
    [shut, open] = [open, 1.5 * open];
  }
  while (open - shut > 1e-6) {
    const middle = (shut + open) / 2;
    if (at(middle) === Number.NEGATIVE_INFINITY) shut = middle;
    else open = middle;
  }
  return open;
}

interface Start {
  readonly segment: number;
  readonly x: number;
  readonly y: number;
  readonly nx: number;
  readonly ny: number;
}

/**
 * The place s mm further along the outline (backwards when negative), facing into the cut. Round a corner about which
 * the bit swings it turns in its place: by as much as a circle of radius `swing` would be long.
 */
function along(tree: SegmentTree, side: 1 | -1, from: Start, s: number, swing: number): Start {
  const step = s > 0 ? 1 : -1;
  let { segment, x, y, nx, ny } = from;
  let left = Math.abs(s);
  for (let n = 0; n <= 2 * tree.count; n++) {
    const q = 4 * segment + (step > 0 ? 2 : 0);
    const ex = tree.coords[q] as number;
    const ey = tree.coords[q + 1] as number;
    const far = hypot(ex - x, ey - y);
    const [lx, ly] = leftNormal(tree, segment);
    if (far > 0 && (lx !== 0 || ly !== 0)) {
      const [mx, my] = [side * lx, side * ly];
      const turn = Math.atan2(nx * my - ny * mx, nx * mx + ny * my);
      const length = step * side * turn < 0 ? Math.abs(turn) * swing : 0;
      if (length > left) return { segment, x, y, ...turned(nx, ny, (turn * left) / length) };
      left -= length;
      [nx, ny] = [mx, my];
      if (far > left)
        return { segment, x: x + ((ex - x) * left) / far, y: y + ((ey - y) * left) / far, nx, ny };
      left -= far;
    }
    x = ex;
    y = ey;
    segment = step > 0 ? tree.next(segment) : tree.prev(segment);
  }
  return from;
}

function turned(x: number, y: number, by: number): { nx: number; ny: number } {
  const [c, s] = [Math.cos(by), Math.sin(by)];
  return { nx: c * x - s * y, ny: s * x + c * y };
}

/** How deep a bit's tip is when the bit just fills a disc of radius d, mm. */
export function bottomAt({ t, r, ball }: Profile, d: number): number {
  return d < ball / Math.sqrt(1 + t * t) ? ball - Math.sqrt(ball * ball - d * d) : (d - r) / t;
}

/** How high above the tip a bit's side is, s mm from its axis. */
function riseAt(bit: Profile, s: number): number {
  return Math.max(0, bottomAt(bit, s));
}

/** Radius of a bit a height above its tip. */
export function radiusAt({ t, r, ball }: Profile, height: number): number {
  const side = ball * (1 - t / Math.sqrt(1 + t * t));
  return height < side ? Math.sqrt(height * (2 * ball - height)) : r + height * t;
}
