import { ARC_ERROR } from '../geometry/offset.ts';
import { standingShear, standingStrength } from '../wood/strength.ts';
import { breakage, ISLAND_LEVELS, type Island, type Standing, topOf } from './breakage.ts';
import { holds } from './breakage-mends.ts';

/** Parts wider than this are never looked at as thin, mm. */
const WIDEST = 20;
/** Corners of the polygon that stands for a round island. */
const CORNERS = 48;

/** The diameter, mm, from which a round island holds, to 0.05 mm; undefined when not even 20 mm do. */
export function discThatHolds(standing: Standing): number | undefined {
  const ok = (diameter: number): boolean =>
    surelyHolds(diameter / 2, standing) ?? holds(breakage(roundIsland(diameter / 2), standing));
  if (!ok(WIDEST)) return undefined;
  let [low, high] = [0.01, WIDEST];
  while (high - low > 0.05) {
    const middle = (low + high) / 2;
    if (ok(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** The polygon that stands for a round island of a radius, mm. */
export function roundIsland(radius: number): Island {
  const ring = Float64Array.from({ length: 2 * CORNERS }, (_, i) => {
    const angle = (2 * Math.PI * Math.floor(i / 2)) / CORNERS;
    return radius * (i % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
  });
  return { kind: 'island', outline: { rings: [ring] }, radius };
}

/** What an offset may be off by arcs and grid, mm, twice over. */
const OFF = 2 * ARC_ERROR;

/**
 * Whether that polygon holds, told without drawing it level by level; undefined where it is too near to tell. Each
 * level lies between two circles about one centre, of radius a inside it and b round it. So its area lies between
 * theirs, and so do its second moments: about any line those of a are no more, about its own centre those of b no less.
 * Its farthest corner is at least a from its centre, and at most b and what that centre lies off by, which is at most
 * the moment of the ring between the circles over the area of a.
 */
export function surelyHolds(
  radius: number,
  { piece, taper, above, below, push }: Standing,
): boolean | undefined {
  const [bending, shear] = [standingStrength(piece).value, standingShear(piece).value];
  if (bending === undefined) return undefined;
  const line = push.force / push.over;
  const top = topOf(radius, taper, above);
  let sure = true;
  for (let i = 0; i <= ISLAND_LEVELS; i++) {
    const depth = (below * i) / ISLAND_LEVELS;
    const a = radius * Math.cos(Math.PI / CORNERS) + taper * depth - OFF;
    const b = radius + taper * depth + OFF;
    if (a <= 0) return undefined;
    const height = top + depth;
    const times = (modulus: number, area: number): number =>
      push.safety *
      Math.max(
        (line * height * height) / 2 / modulus / bending,
        shear === undefined ? 0 : (1.5 * line * height) / area / shear,
      );
    const moment = (r: number): number => (Math.PI * r ** 4) / 4;
    if (times(moment(b) / a, Math.PI * b * b) > 1 + ROUNDING) return false;
    const farthest = b + ((b * b - a * a) * b) / (a * a);
    sure &&= times(moment(a) / farthest, Math.PI * a * a) < 1 - ROUNDING;
  }
  return sure ? true : undefined;
}

const ROUNDING = 1e-9;
