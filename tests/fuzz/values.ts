/** Values as they could stand in a job: mostly good ones, and every kind of bad. */
import type { Reads } from '../../src/job/schema.ts';
import type { Chance } from './chance.ts';

const LENGTH_UNITS = [
  '',
  ' mm',
  'mm',
  ' in',
  '"',
  ' cm',
  ' m',
  ' inch',
  '″',
  ' MM',
  ' pt',
  ' ft',
  ' mm2',
  ' °',
];
const WORDS = [
  'kingfisher',
  'Deckel',
  'tea tray',
  'ＡＢ',
  '箱',
  'a'.repeat(300),
  '',
  ' ',
  '~',
  'null',
  'yes',
  '#',
];
const PATHS = [
  'fern.svg',
  'fern.svg#leaf',
  'a/b.svg',
  '../x.svg',
  'C:\\art\\fern.svg',
  'c:/x.svg#a',
  '/fern.svg',
  '#leaf',
  'fern.svg#',
  'fern.svg#a#b',
  'FERN.SVG',
  'https://somewhere/fern.svg',
  '.',
  '..',
  '"a b.svg"',
  "o'brien.svg",
  'fern',
  '.svg',
];
const WOODS = [
  'cherry-black',
  'Sugar maple',
  'maple',
  'unlisted',
  'UNLISTED',
  'oak',
  'chery',
  'walnut',
  '__proto__',
];

export function numberText(chance: Chance): string {
  const n = chance.share() * chance.pick([1, 10, 100, 1e4, 1e9]);
  switch (chance.count(0, 15)) {
    case 0:
      return `${chance.count(0, 3)} ${chance.count(0, 9)}/${chance.count(0, 16)}`;
    case 1:
      return `${chance.count(0, 99)}/${chance.count(0, 64)}`;
    case 2:
      return `${chance.count(0, 9)}-${chance.count(1, 9)}/${chance.count(2, 16)}`;
    case 3:
      return chance.pick([
        '-0',
        '0',
        '1e400',
        '.inf',
        '-.inf',
        '.nan',
        '0x1F',
        '0o17',
        '1e3',
        '5e-324',
        '1_000',
      ]);
    case 4:
      return `-${n.toFixed(2)}`;
    case 5:
      return n.toFixed(1).replace('.', ',');
    case 6:
      return `1${'0'.repeat(chance.count(1, 400))}`;
    case 7:
      return `0.${'0'.repeat(chance.count(1, 400))}1`;
    case 8:
      return String(n);
    default:
      return n.toFixed(chance.count(0, 3));
  }
}

/** What could be written for a value that is read in this way. */
export function valueText(reads: Reads, chance: Chance): string {
  if (chance.oneIn(12)) return chance.pick([...WORDS, numberText(chance), ...PATHS]);
  const bare = chance.oneIn(3) ? numberText(chance) : (chance.share() * 20).toFixed(2);
  switch (reads.as) {
    case 'length':
      return bare + chance.pick(LENGTH_UNITS);
    case 'bit-angle':
      return chance.pick(['30', '60 deg', '90°', '0.5236 rad', '15', '4', '180', bare]);
    case 'angle':
      return bare + chance.pick(['', ' deg', '°', ' rad', ' grad']);
    case 'feed':
      return bare + chance.pick(['', ' mm/min', ' in/s', ' m/min', ' mm']);
    case 'percent':
      return bare + chance.pick(['', '%', ' %', ' mm']);
    case 'temperature':
      return bare + chance.pick(['', ' C', ' F', '°C', '° f', ' K']);
    case 'measure':
      return bare + chance.pick(['', ` ${reads.unit}`, ...LENGTH_UNITS]);
    case 'count':
      return String(chance.oneIn(3) ? numberText(chance) : chance.count(reads.least, reads.most));
    case 'text':
      return chance.pick(WORDS);
    case 'outline':
      return chance.pick(PATHS);
    case 'wood':
      return chance.pick(WOODS);
    case 'choice':
      return chance.oneIn(6) ? chance.pick(WORDS) : chance.pick(reads.of);
  }
}
