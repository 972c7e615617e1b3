/** Values of a job and words of the command line, each read for itself. */
import { jobFromFlags, type QuickFlags } from '../../src/job/flags.ts';
import type { Reads } from '../../src/job/schema.ts';
import { hear } from '../../src/job/values.ts';
import { showBare, type UnitName } from '../../src/units.ts';
import { answerTo, Bad, finite, plainText } from './answers.ts';
import type { Chance } from './chance.ts';
import { checked } from './jobs.ts';
import { bytesOf, type FuzzKind, textOf } from './kind.ts';
import { mutated } from './mutate.ts';
import { numberText, valueText } from './values.ts';

/** Each with whether a thousandth more is told apart in its inch style, too. */
const UNITS: readonly (readonly [UnitName, boolean])[] = [
  ['mm', true],
  ['mm2', false],
  ['mm3', false],
  ['deg', true],
  ['N', true],
  ['MPa', true],
  ['%', true],
  ['times', true],
  ['count', true],
  ['min', true],
];

/** Every way in which a value of a job is read. */
const WAYS: readonly Reads[] = [
  { as: 'length', sign: 'positive' },
  { as: 'length', sign: 'any' },
  { as: 'bit-angle' },
  { as: 'angle' },
  { as: 'feed' },
  { as: 'percent' },
  { as: 'temperature' },
  ...(['mm', 'mm2', 'deg', 'N', '%', 'times', 'min'] as const).map(
    (unit) => ({ as: 'measure', unit }) as const,
  ),
  { as: 'count', least: 1, most: 200_000 },
  { as: 'text' },
  { as: 'outline' },
  { as: 'wood' },
  { as: 'choice', of: ['drawn', 'toolpath'] },
];

const TOKENS = [
  ' ',
  'mm',
  '"',
  '/',
  '-',
  ',',
  '.',
  '°',
  '%',
  '#',
  '.svg',
  'in',
  '1',
  '0',
  '\u00a0',
  '½',
  'e5',
];

export const values: FuzzKind = {
  name: 'value',
  make: (chance) =>
    bytesOf(mutated(valueText(chance.pick(WAYS), chance), chance.pick([0, 0, 1, 2]), TOKENS, chance)),
  attempt: (input) => {
    const text = textOf(input);
    let good = 0;
    for (const reads of WAYS)
      for (const value of new Set([text, Number(text)]))
        for (const style of reads.as === 'wood' ? (['mm'] as const) : (['mm', 'in'] as const)) {
          const heard = hear({ kind: 'value', place: {}, value, text }, reads, style);
          if ('wrong' in heard) {
            if (heard.wrong.trim() === '') throw new Bad('wrong, without a word');
            plainText(heard.wrong, `${text} ${Number(text)}`);
          } else {
            good++;
            finite(heard.value, reads.as);
            if (typeof heard.value === 'number') printed(heard.value);
          }
        }
    return good > 0 ? 'read' : 'refused';
  },
};

/** A figure prints as one, whatever it is counted in, and reads back as itself within what is printed. */
function printed(value: number): void {
  for (const [unit, apart] of UNITS) {
    const text = showBare(value, unit, 'mm');
    if (!Number.isFinite(Number(text))) throw new Bad(`${value} ${unit} prints as ${text}`);
    const other = value + Math.abs(value) / 1000 + 1e-6;
    if (apart && showBare(value, unit, 'in', other) === showBare(other, unit, 'in', value))
      throw new Bad(`${value} and ${other} ${unit} print alike`);
  }
}

const small = (chance: Chance, most: number): string => (chance.share() * most + 0.05).toFixed(2);

const FLAGS: Readonly<Record<string, (chance: Chance) => string>> = {
  pocket: (chance) => (chance.oneIn(2) ? 'fern.svg' : valueText({ as: 'outline' }, chance)),
  plug: (chance) => valueText({ as: 'outline' }, chance),
  units: (chance) => chance.pick(['mm', 'in', 'in', 'mm', 'cm', '']),
  pocketDepth: (chance) =>
    chance.oneIn(2)
      ? `0+${small(chance, 9)}`
      : `${numberText(chance)}${chance.pick(['+', '+', '/', ',', ''])}${numberText(chance)}`,
  plugDepth: (chance) =>
    `5${chance.pick(['+', '+', ' + ', ' in + '])}${chance.oneIn(2) ? '2.6' : numberText(chance)}`,
  angle: (chance) => valueText({ as: 'bit-angle' }, chance),
  tipFlat: (chance) =>
    chance.oneIn(2) ? small(chance, 20) : valueText({ as: 'length', sign: 'zero-or-more' }, chance),
  tipRadius: (chance) =>
    chance.oneIn(2) ? small(chance, 20) : valueText({ as: 'length', sign: 'positive' }, chance),
  cuttingLength: (chance) =>
    chance.oneIn(2) ? small(chance, 20) : valueText({ as: 'length', sign: 'positive' }, chance),
  cuttingDiameter: (chance) =>
    chance.oneIn(2) ? small(chance, 20) : valueText({ as: 'length', sign: 'positive' }, chance),
  pocketThickness: (chance) =>
    chance.oneIn(2) ? small(chance, 20) : valueText({ as: 'length', sign: 'positive' }, chance),
  plugThickness: (chance) =>
    chance.oneIn(2) ? small(chance, 20) : valueText({ as: 'length', sign: 'positive' }, chance),
  mirror: (chance) => chance.pick(['drawn', 'drawn', 'toolpath', 'toolpath', 'mirror', '']),
};

export const flags: FuzzKind = {
  name: 'flags',
  make: (chance) => {
    const given = Object.entries(FLAGS).filter(([name]) =>
      chance.oneIn(/Depth|angle|^pocket$|^plug$/.test(name) ? 1.04 : 3),
    );
    const texts = given.map(([name, text]) => [
      name,
      mutated(text(chance), chance.pick([0, 0, 0, 1]), TOKENS, chance),
    ]);
    return bytesOf(JSON.stringify(Object.fromEntries(texts)));
  },
  attempt: (input) => {
    const given = JSON.parse(textOf(input)) as QuickFlags;
    const all = Object.values(given).join(' ');
    return answerTo(all, 'command line', () => checked(jobFromFlags(given)));
  },
};
