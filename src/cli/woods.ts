import { InputFault, quoted } from '../fault.ts';
import { woodPage, woodsList } from '../report/woods.ts';
import { findSpecies } from '../wood/species.ts';
import { EXIT } from './exit.ts';

/** Prints the list of woods, or the figures of one with their sources. Returns the exit status. */
export function woods(name: string | undefined): number {
  if (name === undefined) {
    process.stdout.write(woodsList());
    return EXIT.good;
  }
  const found = findSpecies(name);
  if (!('species' in found)) throw new InputFault(notFound(name, found.near));
  process.stdout.write(woodPage(found.species));
  return EXIT.good;
}

function notFound(name: string, near: readonly string[]): string {
  const rest = '"dryfit woods" lists all there are figures of.';
  if (near.length === 0)
    return `There is no wood ${quoted(name)} in the tables, nor one called nearly so. ${rest}`;
  return `${quoted(name)} is no single wood of the tables; perhaps ${near.join(', ')}. ${rest}`;
}
