import type { SegmentTree } from '../geometry/nearest.ts';
import { touchingDisc } from './cut-disc.ts';
import type { Profile } from './cut-profile.ts';
import { leftNormal, normalAt, sideOf } from './cut-side.ts';

/** How far along the outline other centres are tried, as shares of the reach asked for. */
const TRIES = [0.04, 0.12, 0.35, 1];
const GOLDEN = (Math.sqrt(5) - 1) / 2;
const REFINEMENTS = 14;
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
  const i = tree.nearest(x, y);
  if (i < 0) return Number.NEGATIVE_INFINITY;
  const widest = radiusAt(nominal, flat);
  const [mx, my, fx, fy] = normalAt(tree, i, x, y);
  const d = Math.hypot(x - fx, y - fy);
  const inside = sideOf(tree, i, x, y) * side > 0;
  if (inside && d >= widest) return flat;
  const length = d > 1e-9 ? d * (inside ? 1 : -1) : (Math.hypot(mx, my) || 1) * side;
  const [ux, uy] = d > 1e-9 ? [x - fx, y - fy] : [mx, my];
  const own: Start = { segment: i, x: fx, y: fy, nx: ux / length, ny: uy / length };
  // Whether the places asked so far stood clear of all other walls.
  let clear = true;
  const worth = (from: Start): number => {
    const disc = touchingDisc(tree, from.segment, from.x, from.y, from.nx, from.ny, widest);
    clear &&= disc.r === widest;
    if (disc.r < nominal.r - 1e-9 && nominal.ball === 0) return Number.NEGATIVE_INFINITY;
    return Math.min(bottomAt(nominal, disc.r), flat) - riseAt(real, Math.hypot(x - disc.x, y - disc.y));
  };
  const here = worth(own);
  if (here >= mostAt(real, nominal, flat, widest, inside ? d : -d)) return here;
  const at = (s: number): number => worth(along(tree, side, own, s));
  return bestAlong(here, at, widest + d, () => clear);
}

/**
 * No centre gives more than this to a point d mm inside the outline (negative: outside), for one with room c is at
 * least c - d away: the greatest of min(bottom(c), flat) - rise(c - d) over all rooms, where bits have straight sides.
 */
function mostAt(real: Profile, nominal: Profile, flat: number, widest: number, d: number): number {
  if (real.ball > 0 || nominal.ball > 0) return Number.POSITIVE_INFINITY;
  const beside = Math.max(nominal.r, Math.min(widest, d + real.r));
  const worth = (c: number): number => Math.min(bottomAt(nominal, c), flat) - riseAt(real, c - d);
  return Math.max(worth(beside), worth(widest)) - SAME;
}

/**
 * The greatest of a value along the outline, s mm from the foot either way: a few tries, then golden sections.
 * `plain` tells whether what was asked so far stood clear of other walls: where the nearest tries did and nothing
 * farther off is better, the foot itself is the best.
 */
function bestAlong(here: number, at: (s: number) => number, reach: number, plain: () => boolean): number {
  const near = TRIES[0] as number;
  const beside = [at(-near * reach), here, at(near * reach)];
  const isPlain = plain();
  const tries = [...TRIES.map((k) => -k * reach).reverse(), 0, ...TRIES.map((k) => k * reach)];
  const farther = TRIES.slice(1);
  const values = [
    ...farther.map((k) => at(-k * reach)).reverse(),
    ...beside,
    ...farther.map((k) => at(k * reach)),
  ];
  let top = 0;
  for (let k = 1; k < tries.length; k++) if ((values[k] as number) > (values[top] as number)) top = k;
  if (isPlain && tries[top] === 0) return here;
  let low = tries[Math.max(0, top - 1)] as number;
  let high = tries[Math.min(tries.length - 1, top + 1)] as number;
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

interface Start {
  readonly segment: number;
  readonly x: number;
  readonly y: number;
  readonly nx: number;
  readonly ny: number;
}

/** The place s mm further along the outline (backwards when negative), facing into the cut. */
function along(tree: SegmentTree, side: 1 | -1, from: Start, s: number): Start {
  const step = s > 0 ? 1 : -1;
  let segment = from.segment;
  let x = from.x;
  let y = from.y;
  let left = Math.abs(s);
  for (let n = 0; n <= tree.count; n++) {
    const q = 4 * segment + (step > 0 ? 2 : 0);
    const ex = tree.coords[q] as number;
    const ey = tree.coords[q + 1] as number;
    const far = Math.hypot(ex - x, ey - y);
    if (far > left) {
      const [nx, ny] = leftNormal(tree, segment);
      return {
        segment,
        x: x + ((ex - x) * left) / far,
        y: y + ((ey - y) * left) / far,
        nx: side * nx,
        ny: side * ny,
      };
    }
    left -= far;
    x = ex;
    y = ey;
    segment = step > 0 ? tree.next(segment) : tree.prev(segment);
  }
  return from;
}

/** How deep a bit's tip is when the bit just fills a disc of radius d, mm. */
export function bottomAt({ t, r, ball }: Profile, d: number): number {
  if (ball === 0) return (d - r) / t;
  return d < ball / Math.sqrt(1 + t * t) ? ball - Math.sqrt(ball * ball - d * d) : (d - r) / t;
}

/** How high above the tip a bit's side is, s mm from its axis. */
function riseAt(bit: Profile, s: number): number {
  return Math.max(0, bottomAt(bit, s));
}

/** Radius of a bit a height above its tip. */
export function radiusAt({ t, r, ball }: Profile, height: number): number {
  if (ball === 0) return r + height * t;
  const side = ball * (1 - t / Math.sqrt(1 + t * t));
  return height < side ? Math.sqrt(height * (2 * ball - height)) : r + height * t;
}
