import { type Cut, sameCone } from './cut.ts';
import { type Bare, radiusAt, sectionAlongPath } from './cut-path.ts';
import { farthestRoom } from './cut-room.ts';

/** Wood so near is met, mm. */
const MET = 2e-5;
/** Slopes are taken over this length, mm. */
const NEARBY = 1e-5;
const MOST_DISCS = 60;
/** Out of a disc every way is as long as how far in one is: a slope this much off 1 is that of two discs at once. */
const TWO_DISCS = 1e-3;

/**
 * Distance from a point to the nearest wood that a cut leaves at a depth below its face, mm; `most` where it is that or
 * more. A point without wood lies under the bit, whose section at that depth is a disc without wood. The nearest point
 * outside all discs met so far is asked next, until there is wood: nothing nearer can be, for each disc is bare.
 */
export function nearestWood(cut: Cut, depth: number, x: number, y: number, most: number): number {
  const bareAt = sameCone(cut) ? bareByRoom(cut, depth) : bareByPath(cut, depth);
  const discs: Bare[] = [];
  let at = { x, y };
  let far = 0;
  while (far < most && discs.length < MOST_DISCS) {
    const disc = bareAt(at.x, at.y);
    if (disc === undefined) return far;
    discs.push(disc);
    at = nearestOutside(discs, x, y);
    far = Math.hypot(at.x - x, at.y - y);
  }
  return Math.min(far, most);
}

/** The disc without wood that reaches farthest round a point; undefined in wood. */
type BareAt = (x: number, y: number) => Bare | undefined;

function bareByPath({ setup, real, nominal }: Cut, depth: number): BareAt {
  const { tree, side, start, flat } = setup;
  return (x, y) => {
    const disc = sectionAlongPath(tree, side, x, y, real, nominal, flat, depth - start);
    return disc === undefined || disc.r - Math.hypot(x - disc.x, y - disc.y) <= MET ? undefined : disc;
  };
}

/**
 * The same where the path is made for the bit itself. Centres no nearer to the outline than `legal` reach so deep, with
 * a section as large as `bit` or larger; how far it reaches grows straight towards the centre.
 */
function bareByRoom({ setup, real, nominal }: Cut, depth: number): BareAt {
  const { tree, side, start } = setup;
  const bit = radiusAt(real, Math.max(0, start - depth));
  const legal = nominal.r + Math.max(0, (depth - start) * real.t);
  const round = (x: number, y: number): number => bit + farthestRoom(tree, side, x, y, 0, legal, -bit);
  return (x, y) => {
    const here = round(x, y);
    if (here <= MET) return undefined;
    // Midway between two centres the slope is neither's: a little aside it is one's.
    for (const aside of [0, 7, -11]) {
      const [px, py] = [x + aside * NEARBY, y + 3 * aside * NEARBY];
      const there = aside === 0 ? here : round(px, py);
      const gx = (round(px + NEARBY, py) - there) / NEARBY;
      const gy = (round(px, py + NEARBY) - there) / NEARBY;
      const slope = Math.hypot(gx, gy);
      if (!(Math.abs(slope - 1) < TWO_DISCS)) continue;
      const back = Math.max(0, bit - there) / slope;
      return { x: px + back * gx, y: py + back * gy, r: Math.max(bit, there) };
    }
    return { x, y, r: here };
  };
}

/** The nearest point to x,y outside some discs, or on their edge. */
function nearestOutside(discs: readonly Bare[], x: number, y: number): { x: number; y: number } {
  let best = { x, y };
  let least = Number.POSITIVE_INFINITY;
  const look = (px: number, py: number): void => {
    const far = Math.hypot(px - x, py - y);
    if (!(far < least) || discs.some((d) => Math.hypot(px - d.x, py - d.y) < d.r - MET / 10)) return;
    least = far;
    best = { x: px, y: py };
  };
  discs.forEach((a, i) => {
    const [ex, ey] = [x - a.x, y - a.y];
    const far = Math.hypot(ex, ey);
    if (far > NEARBY) look(a.x + (a.r * ex) / far, a.y + (a.r * ey) / far);
    else for (const turn of ROUND) look(a.x + a.r * Math.cos(turn), a.y + a.r * Math.sin(turn));
    for (let j = 0; j < i; j++) lookAtCrossings(a, discs[j] as Bare, look);
  });
  return best;
}

/** Out of the middle of a disc all ways are as good. */
const ROUND = Array.from({ length: 16 }, (_, k) => (k * Math.PI) / 8);

/** Where edges do not cross there is nothing between the discs, or a place outside both, which is no nearer than others. */
function lookAtCrossings(a: Bare, b: Bare, look: (x: number, y: number) => void): void {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const d = Math.hypot(dx, dy);
  const along = (d * d + a.r * a.r - b.r * b.r) / (2 * d);
  const up = Math.sqrt(Math.max(0, a.r * a.r - along * along));
  const [ux, uy] = [dx / d, dy / d];
  look(a.x + along * ux - up * uy, a.y + along * uy + up * ux);
  look(a.x + along * ux + up * uy, a.y + along * uy - up * ux);
}
