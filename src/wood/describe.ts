import type { UnitName } from '../units.ts';
import type { Figure, Species } from './species.ts';

/** One line of a wood's figures: what it is, the value in its unit (undefined: no data), and where it was printed. */
export interface FigureRow {
  readonly what: string;
  readonly value: number | string | undefined;
  readonly unit?: UnitName | undefined;
  readonly source: string;
}

/** Everything known of one wood, in the order a maker asks; what was not printed stays in the list as no data. */
export function describeSpecies(species: Species): readonly FigureRow[] {
  const { shrinkage, movement } = species;
  return [
    row('weight over volume at 12 % moisture, against water', species.gravity),
    row('weight over green volume, against water', species.greenGravity),
    row('bending strength along the grain', species.bending, 'MPa'),
    row('stiffness along the grain', species.stiffness, 'MPa'),
    row('crushing across the grain', species.crushing, 'MPa'),
    row('shear along the grain', species.shear, 'MPa'),
    row('splitting: tension across the grain', species.splitting, 'MPa'),
    row('hardness of the side', species.hardness, 'N'),
    row('shrinkage green to ovendry, radial', pick(shrinkage, shrinkage?.value.radial), '%'),
    row('shrinkage green to ovendry, tangential', pick(shrinkage, shrinkage?.value.tangential), '%'),
    row('shrinkage green to ovendry, volume', pick(shrinkage, shrinkage?.value.volumetric), '%'),
    row('movement for each 1 % of moisture, radial', percent(movement, movement?.value.radial), '%'),
    row('movement for each 1 % of moisture, tangential', percent(movement, movement?.value.tangential), '%'),
    row('pores', species.pores && { ...species.pores, value: PORE_WORDS[species.pores.value] }),
    row('size of the pores', species.poreSize),
    row('bonds', species.bonding),
  ];
}

const PORE_WORDS = {
  ring: 'in rings',
  'semi-ring': 'partly in rings',
  diffuse: 'spread evenly',
  none: 'none (softwood)',
} as const;

function row(what: string, figure: Figure<number | string> | undefined, unit?: UnitName): FigureRow {
  return { what, value: figure?.value, unit, source: figure?.source ?? 'no data' };
}

function pick(from: Figure<unknown> | undefined, value: number | undefined): Figure | undefined {
  return from && value !== undefined ? { value, source: from.source } : undefined;
}

function percent(from: Figure<unknown> | undefined, fraction: number | undefined): Figure | undefined {
  return pick(from, fraction === undefined ? undefined : fraction * 100);
}
