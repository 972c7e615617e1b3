import type { Species } from '../wood/species.ts';

/** Whether a part is so thin that the wood's pores, not its strength, decide. */
export interface PoreCare {
  /** Undefined where the size of the wood's pores is not known. */
  readonly tooThin: boolean | undefined;
  readonly says: string;
}

/**
 * For a part `width` mm wide at its thinnest visible place, against `least` mm (a stated limit) for a wood with pores
 * large enough to be filled in finishing. Pore diameters are not printed per wood, so only the class is used.
 */
export function poreCare(species: Species, width: number, least: number): PoreCare {
  const name = species.name.toLowerCase();
  if (species.pores?.value === 'none')
    return { tooThin: false, says: `${species.name} is a softwood without pores.` };
  if (!species.poreSize)
    return { tooThin: undefined, says: `The size of the pores of ${name} is not known here.` };
  if (species.poreSize.value === 'small')
    return { tooThin: false, says: `${species.name} is closed-grained.` };
  const tooThin = width < least;
  return {
    tooThin,
    says: tooThin
      ? `${species.name} is open-grained: in a part this thin a row of pores can be the whole part.`
      : `${species.name} is open-grained, and the part is many pores wide.`,
  };
}
