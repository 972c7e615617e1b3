import { type FaultPlace, InputFault, InputFaults } from '../fault.ts';
import { readDocument } from './document.ts';
import { type Bit, bit, choice, keys, ListOf, Optional, type Shape, text } from './schema.ts';
import { senseOfBit } from './sense.ts';
import { spoken, walk } from './walk.ts';

/** A bit from a list, with the name its owner gave it. */
export interface NamedBit {
  readonly name: string | undefined;
  readonly bit: Bit;
}

/** The one description of a list of bits: a bit is told as in a job, and may have a name. */
export const bitsShape = keys('A list of bits for dryfit choose', {
  units: choice(['mm', 'in'], 'what a bare number means'),
  bits: ListOf(
    keys('a V-bit; tip-flat or tip-radius', {
      name: Optional(text('what its owner calls it')),
      ...bit.properties,
    }),
    { description: 'the bits there are, each after a dash' },
  ),
});

/** Bits of one list at most: more nobody owns, and each takes seconds. */
const MOST_BITS = 40;

/** Reads a list of bits. Throws InputFaults with everything that is wrong, each with line and column. */
export function readBits(content: string, file: string): readonly NamedBit[] {
  const root = readDocument(content, file);
  const units = root.entries.get('units')?.value;
  const style = units?.kind === 'value' && units.value === 'in' ? 'in' : 'mm';
  const { values, places, faults } = walk(root, bitsShape as unknown as Shape, style);
  const placeOf = (path: string): FaultPlace =>
    places.get(path) ?? places.get(path.slice(0, path.lastIndexOf('.'))) ?? { file };
  const all = [...faults];
  const read = (values['bits'] ?? []) as readonly (Partial<Bit & { readonly name: string }> | undefined)[];
  read.forEach((one, n) => {
    senseOfBit(`bits.${n}`, one, style, (path, sentence) =>
      all.push(new InputFault(`${spoken(path)}: ${sentence}`, placeOf(path))),
    );
  });
  if (all.length === 0 && read.length === 0)
    all.push(
      new InputFault('The list holds no bit; one after a dash below "bits:" was wanted.', placeOf('bits')),
    );
  if (read.length > MOST_BITS)
    all.push(
      new InputFault(
        `The list holds ${read.length} bits; at most ${MOST_BITS} are looked at.`,
        placeOf('bits'),
      ),
    );
  if (all.length > 0) throw new InputFaults(all.sort(byPlace));
  return (read as readonly (Bit & { readonly name?: string })[]).map(({ name, ...rest }) => ({
    name,
    bit: rest,
  }));
}

function byPlace(a: InputFault, b: InputFault): number {
  return (a.place.line ?? 0) - (b.place.line ?? 0) || (a.place.column ?? 0) - (b.place.column ?? 0);
}
