import type { Species } from './species.ts';
import type { Grain } from './strength.ts';

/** How a change of size was reckoned. */
export type MovementRule = 'Eq. 13-2' | 'Eq. 13-3';

/**
 * Change of size per 1 % of moisture (a fraction), the way the wood lies most likely, and the ends of what it can be
 * when the lie of the year's rings is not known.
 */
export interface MovementCoefficients {
  readonly likely: number;
  readonly least: number;
  readonly most: number;
  readonly source: string;
}

/**
 * Change of a size of `size` mm when the moisture goes from `from` to `to` %, mm, with coefficient `perPercent`:
 * dD = D C (Mf - Mi), Wood Handbook Eq. 13-2, good between 6 and 14 % moisture.
 */
export function sizeChange(size: number, perPercent: number, from: number, to: number): number {
  return size * perPercent * (to - from);
}

/**
 * The same from the total shrinkage (%, green to ovendry) for moistures up to 30 %: dD = D (Mf - Mi) /
 * (3000 / S - 30 + Mi), Wood Handbook Eq. 13-3. The form is from memory; at Mi = 10 it becomes C = S / (3000 - 20 S),
 * which gives Table 13-5 back from Table 4-3. Undefined above 30 %.
 */
export function sizeChangeFromShrinkage(
  size: number,
  shrinkage: number,
  from: number,
  to: number,
): number | undefined {
  if (!(from >= 0 && to >= 0 && from <= 30 && to <= 30)) return undefined;
  return (size * (to - from)) / (3000 / shrinkage - 30 + from);
}

/** The moistures between which Eq. 13-2 holds, %. */
export const LINEAR_MOISTURE = { least: 6, most: 14 } as const;

/**
 * The wood's change across the grain: from Table 13-5, or from its shrinkage through C = S / (3000 - 20 S) when that
 * table has no row; undefined (no data) when neither is printed. A face-grain piece is taken as flatsawn (tangential),
 * an edge-grain piece as quartersawn (radial); an end-grain piece moves either way by up to the tangential figure.
 */
export function crossGrainMovement(species: Species, grain: Grain): MovementCoefficients | undefined {
  const from = species.movement ?? fromShrinkage(species);
  if (!from) return undefined;
  const { radial, tangential } = from.value;
  return {
    likely: grain === 'edge' ? radial : tangential,
    least: Math.min(radial, tangential),
    most: Math.max(radial, tangential),
    source: from.source,
  };
}

function fromShrinkage(species: Species): Species['movement'] {
  const { radial, tangential } = species.shrinkage?.value ?? {};
  if (radial === undefined || tangential === undefined) return undefined;
  const perPercent = (s: number): number => s / (3000 - 20 * s);
  return {
    value: { radial: perPercent(radial), tangential: perPercent(tangential) },
    source: `${species.shrinkage!.source}, through C = S / (3000 - 20 S)`,
  };
}
