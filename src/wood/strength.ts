import { type Mpa, mpa } from '../units.ts';
import type { Species } from './species.ts';

/** Which grain is up: face and edge have the fibres lying in the drawing's plane, end has them standing. */
export type Grain = 'face' | 'edge' | 'end';

/** A piece of wood as it lies under the drawing. `grainAngle`: the fibres' direction, radians from x; 0 for end. */
export interface Piece {
  readonly species: Species;
  readonly grain: Grain;
  readonly grainAngle: number;
}

/**
 * A strength with its ground. `printed`: the figure stands in a table for this very wood. Otherwise `value` is what a
 * stated rule gives instead, or undefined where there is nothing to go by; `says` tells which, in a sentence.
 */
export interface Strength {
  readonly value: Mpa | undefined;
  readonly printed: boolean;
  readonly source: string;
  readonly says?: string | undefined;
}

/**
 * What a part standing on its root bears in bending, MPa. Fibres that lie flat are torn apart sideways at the root
 * (tension across the grain), whichever way the part is pushed; standing fibres bend like a rod (modulus of rupture).
 */
export function standingStrength(piece: Piece): Strength {
  const { species } = piece;
  if (piece.grain === 'end')
    return printed(species.bending, `${species.name}: no bending strength is printed`);
  const across = printed(species.splitting, '');
  return across.printed ? across : splittingFromBending(species);
}

/**
 * What a part standing on its root bears in shear on a level cut, MPa. Standing fibres: the table's shear along the
 * grain (they slide along themselves). Fibres that lie flat roll over one another: one third of it, the only ratio of
 * across to along that was found printed (FPL Report 1522, 1945, for glued joints), whichever way the part is pushed.
 */
export function standingShear(piece: Piece): Strength {
  const along = printed(piece.species.shear, `${piece.species.name}: no shear strength is printed`);
  if (along.value === undefined || piece.grain === 'end') return along;
  return { ...along, value: mpa(along.value / 3), source: `${along.source}, one third (FPL Report 1522)` };
}

/**
 * A property at `angle` (radians) to the grain from the ones along and across it, any unit.
 * N = P Q / (P sin^n + Q cos^n), Wood Handbook Eq. 5-2, pp. 5-28 to 5-30; n = 2 for compression and stiffness, 1.5 to
 * 2 for tension. With n below 2 and across > along the curve is still between the two.
 */
export function atAngle(along: number, across: number, angle: number, n: number): number {
  const sin = Math.abs(Math.sin(angle)) ** n;
  const cos = Math.abs(Math.cos(angle)) ** n;
  return (along * across) / (along * sin + across * cos);
}

/**
 * Stiffness across the grain over stiffness along it, tangential and radial. Wood Handbook Tables 5-1 and 5-2 at about
 * 12 % moisture, as far as seen. `own` is false when the wood's own row was not seen: then sugar maple's is used, which
 * of the three spreads a load least, along the grain and across it.
 */
export interface StiffnessRatios {
  readonly tangential: number;
  readonly radial: number;
  readonly own: boolean;
}

export function stiffnessRatios(species: Species): StiffnessRatios {
  const own = SEEN_RATIOS[species.id];
  return own ? { ...own, own: true } : { ...SEEN_RATIOS['maple-sugar']!, own: false };
}

const SEEN_RATIOS: Readonly<Record<string, { readonly tangential: number; readonly radial: number }>> = {
  'maple-sugar': { tangential: 0.065, radial: 0.132 },
  'mahogany-true': { tangential: 0.064, radial: 0.107 },
  'douglas-fir-coast': { tangential: 0.05, radial: 0.068 },
};

/**
 * How far to each side a push spreads along a standing wall, per millimetre of height below it (no unit). In a plate of
 * even stiffness this is 1: a push at the free edge meets about twice the height at the root. Where the plate is
 * stiffer along the wall than up it, lengths along the wall scale with the fourth root of that ratio (plate equation
 * with x' = x (Dy/Dx)^(1/4)), so short grain spreads a push least. `axis`: direction of the wall, radians. The lie of
 * the year's rings in a piece is not known, so of the two cross directions the one that spreads least is taken.
 */
export function spreadPerHeight(piece: Piece, axis: number): number {
  const { tangential, radial } = stiffnessRatios(piece.species);
  const [least, most] = [Math.min(tangential, radial), Math.max(tangential, radial)];
  if (piece.grain === 'end') return least ** 0.25;
  return (atAngle(1, least, axis - piece.grainAngle, 2) / most) ** 0.25;
}

/**
 * The least share of its bending strength that any wood of Table 5-3b with both figures shows in tension across the
 * grain, and which wood it is. A test finds them again from the whole table.
 */
export const LEAST_SPLITTING_SHARE = {
  hardwood: { share: 260 / 8400, of: 'quaking aspen' },
  softwood: { share: 240 / 10000, of: 'old-growth redwood' },
} as const;

function splittingFromBending(species: Species): Strength {
  const missing = `No strength across the grain is printed for ${species.name.toLowerCase()}`;
  if (!species.bending) return { value: undefined, printed: false, source: 'no data', says: `${missing}.` };
  const kind = species.pores?.value === 'none' ? 'softwood' : 'hardwood';
  const { share, of } = LEAST_SPLITTING_SHARE[kind];
  return {
    value: mpa(species.bending.value * share),
    printed: false,
    source: `${species.bending.source}, bending strength times ${share.toFixed(3)}`,
    says:
      `${missing}; taken instead: ${(share * 100).toFixed(1)} % of its bending strength, the least share any ` +
      `${kind} of Table 5-3b shows (${of}).`,
  };
}

function printed(
  figure: { readonly value: Mpa; readonly source: string } | undefined,
  missing: string,
): Strength {
  return figure
    ? { value: figure.value, printed: true, source: figure.source }
    : { value: undefined, printed: false, source: 'no data', says: `${missing}.` };
}
