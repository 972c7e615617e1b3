/** Where a second cut would leave something of the first: the finished cut asked at places of the old one. */
import { makeCut, type ToolShape } from '../carve/cut.ts';
import { type Spot, spotsAlong, type TouchingDisc, touchingDisc } from '../carve/cut-disc.ts';
import { SegmentTree } from '../geometry/nearest.ts';
import { perimeter } from '../geometry/ring.ts';
import type { Point, Region } from '../geometry/shapes.ts';
import { type Beyond, fullRoom, type PocketCut, reach, tipDepth } from './recut-least.ts';

/** Old wood that would stay. */
export interface Left {
  /** The place on the old outline, mm. */
  readonly at: Point;
  /** How deep below the face it lies, mm. */
  readonly depth: number;
  /** How far the new wall or floor falls short of it, sideways, mm. */
  readonly short: number;
}

export interface Second {
  readonly old: PocketCut;
  readonly fresh: PocketCut;
  readonly tool: ToolShape;
  /** Old outline, and the same grown. */
  readonly region: Region;
  readonly grown: Region;
  readonly beyond: Beyond;
}

/** Places tried along the outline, and how near together they need not be, mm. */
const MOST_PLACES = 1500;
const NEAREST = 0.05;
/** Shares of the old depth that are tried at each place. */
const LEVELS = [0, 0.35, 0.7, 1];
/** What the model of a cut may miss, sideways, mm. */
const GIVE = 0.003;

/**
 * Every place tried where old wood would stay if the board lay as badly as it may, worst first. A place not tried may
 * be worse; that nothing stays is what `takesAll` says for every place.
 */
export function leftBy(second: Second): readonly Left[] {
  const { old, fresh, region, grown, tool } = second;
  if (region.rings.length === 0) return [];
  const tree = new SegmentTree(region.rings);
  const setup = {
    tree: new SegmentTree(grown.rings),
    side: 1,
    tool,
    start: fresh.start,
    flat: fresh.flat,
  } as const;
  const cut = makeCut(setup);
  const length = region.rings.reduce((sum, ring) => sum + perimeter(ring), 0);
  const spots = spotsAlong(tree, 1, Math.max(NEAREST, length / MOST_PLACES), Number.POSITIVE_INFINITY);
  const depth = (x: number, y: number): number => cut.depth(x, y) + fresh.deeper;
  const found = spots.flatMap((spot): readonly Left[] => {
    const disc = touchingDisc(tree, spot.segment, spot.x, spot.y, spot.nx, spot.ny, fullRoom(old));
    const left = leftAt(second, spot, disc, depth);
    return left === undefined ? [] : [left];
  });
  return found.sort((a, b) => b.short - a.short || a.at[0] - b.at[0] || a.at[1] - b.at[1]);
}

function leftAt(
  { old, fresh, beyond }: Second,
  spot: Spot,
  disc: TouchingDisc,
  depth: (x: number, y: number) => number,
): Left | undefined {
  const bottom = tipDepth(old, disc.r);
  if (bottom < 0) return undefined;
  let worst: Left | undefined;
  const look = (z: number, far: number, [ux, uy]: Point): void => {
    if (!(far > 0)) return;
    const short = (z - depth(disc.x + far * ux, disc.y + far * uy)) * fresh.real.t;
    if (short > GIVE && short > (worst?.short ?? 0)) worst = { at: [spot.x, spot.y], depth: z, short };
  };
  for (const to of directions(spot, disc))
    for (const level of LEVELS) {
      const z = bottom * level;
      look(z, reach(old, disc.r, z) + beyond.hurt + beyond.place, to);
      look(z + beyond.below, reach(old, disc.r, z) + beyond.place, to);
    }
  return worst;
}

/** From a disc's centre to where it touches the outline, and midway between the two places where a corner is near. */
function directions(spot: Spot, disc: TouchingDisc): readonly Point[] {
  const own: Point = [-spot.nx, -spot.ny];
  if (disc.other === undefined || disc.r === 0) return [own];
  const other: Point = [(disc.other.x - disc.x) / disc.r, (disc.other.y - disc.y) / disc.r];
  const middle = Math.hypot(own[0] + other[0], own[1] + other[1]);
  return middle < 0.5
    ? [own, other]
    : [own, other, [(own[0] + other[0]) / middle, (own[1] + other[1]) / middle]];
}

/** The worst of those places, none nearer to a worse one than `apart` mm. */
export function apartBy(left: readonly Left[], apart: number, most: number): readonly Left[] {
  const kept: Left[] = [];
  for (const place of left) {
    if (kept.length === most) break;
    const near = kept.some(({ at }) => Math.hypot(at[0] - place.at[0], at[1] - place.at[1]) < apart);
    if (!near) kept.push(place);
  }
  return kept;
}
