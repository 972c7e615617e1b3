import { show } from '../units.ts';
import { describeSpecies, type FigureRow } from '../wood/describe.ts';
import { allSpecies, type Species } from '../wood/species.ts';
import { padEnd, padStart, wrap } from './layout.ts';

const WIDTH = 80;
const ID = 31;
const NO_DATA = 'no data';

/** All woods with a few figures each, at most 80 columns. Ends with a newline. */
export function woodsList(): string {
  const head = listLine('wood', ['splitting', 'hardness', 'movement', 'pores']);
  const lines = allSpecies().map((species) =>
    listLine(species.id, [
      figure(species.splitting?.value, 'MPa'),
      figure(species.hardness?.value, 'N'),
      movementOf(species),
      poresOf(species),
    ]),
  );
  return `${[
    'The woods there are figures of. A job names one by the word in the first column,',
    'or by its common or botanical name.',
    '',
    head,
    ...lines,
    '',
    ...wrap(
      'Splitting is tension across the grain; hardness is that of the side; movement is the change across flat-sawn wood for each 1 % of moisture; pores are large (open-grained), small (closed-grained) or none. A dash means that no figure was printed, and none is guessed.',
      WIDTH,
    ),
    '',
    'One of them in full, with the sources: dryfit woods NAME',
  ].join('\n')}\n`;
}

function listLine(name: string, cells: readonly string[]): string {
  return padEnd(name, ID) + cells.map((cell) => padStart(cell, 12)).join('');
}

function figure(value: number | undefined, unit: 'MPa' | 'N'): string {
  return value === undefined ? '-' : show(value, unit, 'mm');
}

function movementOf({ movement }: Species): string {
  return movement === undefined ? '-' : `${(100 * movement.value.tangential).toFixed(3)} %`;
}

function poresOf({ pores, poreSize }: Species): string {
  return pores?.value === 'none' ? 'none' : (poreSize?.value ?? '-');
}

/** Every figure of one wood with a letter for its source, at most 80 columns. Ends with a newline. */
export function woodPage(species: Species): string {
  const rows = describeSpecies(species);
  const sources = [...new Set(rows.map((row) => row.source))].filter((source) => source !== NO_DATA);
  const lines = rows.map((row) => pageLine(row, sources));
  const notes = species.note === undefined ? [] : ['', ...wrap(`Note: ${species.note}`, WIDTH)];
  return `${[
    `${species.name}  (${species.botanical})`,
    `In a job: wood: ${species.id}`,
    '',
    ...lines,
    ...notes,
    '',
    'SOURCES (GTR-190 and GTR-282: Wood Handbook of 2010 and of 2021, in the public',
    'domain)',
    ...sources.flatMap((source, i) => wrap(`${letter(i)}  ${source}`, WIDTH)),
    '',
    ...wrap(
      'Strengths are means of small clear straight-grained pieces at 12 % moisture, not values to build by.',
      WIDTH,
    ),
  ].join('\n')}\n`;
}

function pageLine({ what, value, unit, source }: FigureRow, sources: readonly string[]): string {
  const at = sources.indexOf(source);
  return `${padEnd(what, 52)}${padStart(valueText(value, unit), 24)}  ${at < 0 ? ' ' : letter(at)}`.trimEnd();
}

function valueText(value: FigureRow['value'], unit: FigureRow['unit']): string {
  if (value === undefined) return NO_DATA;
  if (typeof value === 'string') return value;
  if (unit === undefined) return String(value);
  // Shares are printed with the digits of their table; a shown one would be rounded to tenths.
  return unit === '%' ? `${Number(value.toPrecision(4))} %` : show(value, unit, 'mm');
}

function letter(index: number): string {
  return String.fromCharCode('a'.charCodeAt(0) + index);
}
