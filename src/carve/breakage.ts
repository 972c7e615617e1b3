import { grow } from '../geometry/offset.ts';
import type { Region } from '../geometry/shapes.ts';
import {
  type Piece,
  type Strength,
  spreadPerHeight,
  standingShear,
  standingStrength,
} from '../wood/strength.ts';
import { sectionOf, weakestWay } from './breakage-section.ts';

/**
 * How a part stands while it is cut. `taper`: tan of half the bit's angle. `above`: mm from the board's surface line
 * (where widths are drawn) up to the top; 0 for the board's own lands. `below`: mm from that line down to the root.
 */
export interface Standing {
  readonly piece: Piece;
  readonly taper: number;
  readonly above: number;
  readonly below: number;
  readonly push: Push;
}

/** The cutter's push sideways: `force` N on `over` mm of height it works on, and how many times it must be borne. */
export interface Push {
  readonly force: number;
  readonly over: number;
  readonly safety: number;
}

/**
 * A long part: `width` mm at the surface line, `axis` its direction (radians), and how far it goes on, mm, to either
 * side before it ends free; Infinity where it runs into wider wood.
 */
export interface Wall {
  readonly kind: 'wall';
  readonly width: number;
  readonly axis: number;
  readonly reach: readonly [number, number];
}

/** A part that stands alone: its outline with its holes at the surface line; `radius` mm of its largest disc. */
export interface Island {
  readonly kind: 'island';
  readonly outline: Region;
  readonly radius: number;
}

export type StandingPart = Wall | Island;

/** What a part bears, and how it would go. */
export interface Breakage {
  /** The push it bears, N over the same height as the stated one; undefined where no strength is known. */
  readonly bears: number | undefined;
  /** The push it has to bear: the stated one times the safety. */
  readonly need: number;
  readonly by: 'bending' | 'shear';
  /** Where it breaks: mm below the surface line, towards the root. */
  readonly depth: number;
  /** How wide it is there, mm. For an island: twice the radius of its largest disc there. */
  readonly width: number;
  /** How high it stands above that place, mm. */
  readonly height: number;
  /** The direction it is pushed over in, radians, either way. */
  readonly direction: number;
  /** Bending stress there under the stated push, MPa. */
  readonly stress: number;
  readonly strength: Strength;
}

/** Levels looked at between surface line and root; a wall's best one is then narrowed down. */
const WALL_LEVELS = 24;
export const ISLAND_LEVELS = 12;

/**
 * Weakest place of a standing part under the push, between the surface line and the root. The part widens downward by
 * the wall's slope on both sides. A push of q N per mm on the s mm above a level gives there the moment q s^2/2 and
 * the shear q s; a wall shares it over the length the push has spread to, an island takes it alone.
 */
export function breakage(part: StandingPart, standing: Standing): Breakage {
  const at = part.kind === 'wall' ? wallCuts(part, standing) : islandCuts(part, standing);
  const bending = standingStrength(standing.piece);
  const shear = standingShear(standing.piece);
  const strains = (c: Cut): readonly [number, number] => [
    share(c.bending, bending.value),
    share(c.shear, shear.value),
  ];
  const worst = worstLevel(standing.below, part.kind === 'wall' ? WALL_LEVELS : ISLAND_LEVELS, (depth) =>
    Math.max(...strains(at(depth))),
  );
  const c = at(worst);
  const [bent, sheared] = strains(c);
  const by = sheared > bent ? 'shear' : 'bending';
  const { force, safety } = standing.push;
  return {
    bears: bending.value === undefined ? undefined : force / Math.max(bent, sheared),
    need: force * safety,
    by,
    depth: worst,
    width: c.width,
    height: c.height,
    direction: c.direction,
    stress: c.bending,
    strength: by === 'shear' ? shear : bending,
  };
}

/** A level of a part: stresses in MPa under the push, mm for the rest. */
interface Cut {
  readonly bending: number;
  readonly shear: number;
  readonly width: number;
  readonly height: number;
  readonly direction: number;
}

function wallCuts(wall: Wall, { piece, taper, above, push }: Standing): (depth: number) => Cut {
  const top = topOf(wall.width / 2, taper, above);
  const spread = spreadPerHeight(piece, wall.axis);
  const line = push.force / push.over;
  const direction = wall.axis + Math.PI / 2;
  const [before, after] = wall.reach;
  return (depth) => {
    const width = wall.width + 2 * taper * depth;
    const height = top + depth;
    const place = { width, height, direction };
    if (width <= 0) return { bending: Number.POSITIVE_INFINITY, shear: Number.POSITIVE_INFINITY, ...place };
    if (height === 0) return { bending: 0, shear: 0, ...place };
    const side = width / 2 + spread * (height / 2);
    const length = Math.min(side, before + taper * depth) + Math.min(side, after + taper * depth);
    return {
      bending: (3 * line * height * height) / (length * width * width),
      shear: (1.5 * line * height) / (length * width),
      ...place,
    };
  };
}

function islandCuts(island: Island, { taper, above, push }: Standing): (depth: number) => Cut {
  const top = topOf(island.radius, taper, above);
  const line = push.force / push.over;
  const cut = (depth: number): Cut => {
    const { rings } = grow(island.outline, taper * depth);
    const section = sectionOf(rings);
    const { modulus, direction } = weakestWay(section, rings);
    const height = top + depth;
    return {
      bending: (line * height * height) / 2 / modulus,
      shear: (1.5 * line * height) / section.area,
      width: 2 * (island.radius + taper * depth),
      height,
      direction,
    };
  };
  // The worst level is asked for again.
  const known = new Map<number, Cut>();
  return (depth) => {
    const found = known.get(depth) ?? cut(depth);
    known.set(depth, found);
    return found;
  };
}

/** How far a part stands above the surface line: to the top, or to its crest where the two walls meet lower. */
export function topOf(radius: number, taper: number, above: number): number {
  return Math.min(above, radius / taper);
}

/** Stress over strength; without width the stress has no bound, and without a known strength it counts for nothing. */
function share(stress: number, strength: number | undefined): number {
  if (strength === undefined) return 0;
  return Number.isNaN(stress) ? Number.POSITIVE_INFINITY : stress / strength;
}

/**
 * The depth between 0 and `below` where `strain` is largest: evenly spaced levels, then a narrowing by thirds between
 * the best one's neighbours (the strain has one hump there).
 */
function worstLevel(below: number, levels: number, strain: (depth: number) => number): number {
  let best = 0;
  let most = strain(0);
  for (let i = 1; i <= levels; i++) {
    const value = strain((below * i) / levels);
    if (value > most) [best, most] = [i, value];
  }
  if (best === 0 || best === levels || levels < WALL_LEVELS) return (below * best) / levels;
  let [low, high] = [(below * (best - 1)) / levels, (below * (best + 1)) / levels];
  for (let i = 0; i < 24; i++) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (strain(a) < strain(b)) low = a;
    else high = b;
  }
  return (low + high) / 2;
}
