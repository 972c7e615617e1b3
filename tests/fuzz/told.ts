/** What stands beside a job: a list of bits, what was seen at a test fit, what went wrong with a first cut. */
import { readFileSync } from 'node:fs';
import {
  type Seen as Hurt,
  seenShape as hurtShape,
  readSeen as readHurt,
  SEEN_NAMES,
} from '../../src/advice/recut-seen.ts';
import { seenText, WHY_QUESTIONS } from '../../src/cli/why-questions.ts';
import { bitsShape, readBits } from '../../src/job/bits.ts';
import type { Shape } from '../../src/job/schema.ts';
import { ALONG, PARTS, readSeen, SPOT_KINDS } from '../../src/job/seen.ts';
import { GAP_WORDS, PLACE_WORDS, seenShape } from '../../src/job/seen-schema.ts';
import { answerTo, Bad, faultWord, finite } from './answers.ts';
import type { Chance } from './chance.ts';
import { bytesOf, type FuzzKind, textOf } from './kind.ts';
import { valueText } from './values.ts';
import { yamlFile } from './yaml.ts';

const sample = (name: string): string => readFileSync(`samples/kingfisher/kingfisher.${name}.yaml`, 'utf8');

const BITS = 'mine.bits.yaml';
const LISTS = [
  'units: mm\nbits:\n  - { angle: 30 deg, tip-flat: 0.1, cutting-length: 20, cutting-diameter: 12.7 }\n',
  `units: in
bits:
  - name: engraver # as it is marked
    angle: 15
    tip-flat: 0.004
  - { name: "60, worn", angle: 60 deg, tip-radius: 0.01 in, cutting-diameter: 1/2, shank: 1/4 }
  - { angle: 90, tip-flat: 0, stick-out: 1 1/4, toolpath-angle: 89.5 }
`,
  JSON.stringify({ units: 'mm', bits: [{ angle: 10 }, { angle: 22.5, 'tip-flat': '0.25 mm' }] }),
];

export const bitLists: FuzzKind = {
  name: 'bits',
  make: (chance) =>
    chance.oneIn(3) ? bytesOf(likelyBits(chance, 6)) : yamlFile(LISTS, bitsShape as unknown as Shape, chance),
  attempt: (input) => {
    const text = textOf(input);
    return answerTo(text, BITS, () => {
      const list = readBits(text, BITS);
      if (list.length === 0) throw new Bad('a list without a bit');
      finite(list, 'bits');
      for (const { bit } of list) if (!(bit.angle > 0)) throw new Bad(`an angle of ${bit.angle}`);
      return 'read';
    });
  },
};

/** Bits that may well lie in a drawer; one in a while cannot be. */
export function likelyBits(chance: Chance, most: number): string {
  const one = (): string => {
    const keys = [`angle: ${chance.pick(['10', '15', '30 deg', '60', '90', '12.5', '60 deg', '120'])}`];
    const may = (times: number, key: string, values: readonly string[]): void => {
      if (chance.oneIn(times)) keys.push(`${key}: ${chance.pick(values)}`);
    };
    may(4, 'name', ['old', '"60, worn"', '12', "'it''s mine'"]);
    if (chance.oneIn(5)) may(1, 'tip-radius', ['0.25 mm', '1.5 mm', '0.02 in']);
    else may(1, 'tip-flat', ['0', '0.1 mm', '0.25 mm', '0.004 in', '1 mm']);
    may(2, 'cutting-length', ['20 mm', '1 in', '3 mm']);
    may(2, 'cutting-diameter', ['12.7 mm', '1/4 in', '6 mm']);
    may(5, 'shank', ['6.35 mm', '1/2 in']);
    may(5, 'toolpath-angle', ['30', '29.5', '61']);
    return `  - { ${keys.join(', ')} }`;
  };
  return `units: ${chance.pick(['mm', 'mm', 'in'])}\nbits:\n${chance.some(1, most, one).join('\n')}\n`;
}

const SEEN = 'tray/tray.seen.yaml';

export const seen: FuzzKind = {
  name: 'seen',
  make: (chance) => {
    if (chance.oneIn(5)) return bytesOf(answered(chance));
    const likely = likelySeen(chance, 100);
    if (chance.oneIn(3)) return bytesOf(likely);
    return yamlFile([sample('seen'), likely], seenShape as unknown as Shape, chance);
  },
  attempt: (input) => {
    const text = textOf(input);
    return answerTo(text, SEEN, () => {
      const read = readSeen(text, SEEN);
      finite({ accuracy: read.accuracy, readings: read.readings }, 'seen');
      for (const { path } of read.readings)
        if (!((read.place(path).line ?? 0) >= 1)) throw new Bad(`a reading without a place: ${path}`);
      return 'read';
    });
  },
};

/** What a maker may well have seen of an inlay of this size, mm: mostly likely figures, mostly few of them. */
export function likelySeen(chance: Chance, size: number): string {
  const lines = [`units: ${chance.oneIn(12) ? 'in' : 'mm'}`];
  const say = (times: number, line: () => string): void => {
    if (chance.oneIn(times)) lines.push(line());
  };
  const figure = (most: number, below = true): string =>
    ((chance.share() - (below ? 0.3 : 0)) * most).toFixed(2);
  const far = (): string => (chance.share() * size).toFixed(1);
  const place = (): string =>
    chance.oneIn(4) ? `x: ${far()}, y: ${far()}` : `at: ${chance.pick(PLACE_WORDS)}`;
  say(4, () => `accuracy: ${chance.pick(['0.02', '0.1', '0.5', '1e-9'])}`);
  say(2, () => `pressed: ${chance.pick(['hand', 'caul'])}`);
  for (const kind of SPOT_KINDS) {
    const most = kind === 'pocket-depth' || kind === 'plug-height' ? 12 : chance.pick([0.2, 0.5, 3]);
    const spot = (): string =>
      `{ ${place()}, by: ${figure(most, kind === 'proud' || kind === 'after-clamping')} }`;
    say(kind === 'proud' ? 1 : 4, () => `${kind}: [${chance.some(0, 4, spot).join(', ')}]`);
  }
  say(3, () => `rocks: ${chance.pick(['yes', 'no'])}`);
  say(4, () => `sinks: ${chance.pick(['yes', 'no'])}`);
  say(4, () => `gap-only: ${chance.pick(GAP_WORDS)}`);
  const across = (): string =>
    chance.some(1, 2, () => `${chance.pick(ALONG)}: ${figure(size, false)}`).join(', ');
  for (const kind of ['pocket-size', 'plug-size']) say(6, () => `${kind}: { ${across()} }`);
  say(6, () => `diagonals: { ${chance.pick(PARTS)}: ${figure(0.5)} }`);
  for (const kind of ['board-hollow', 'stock-hollow', 'after-cleaning'])
    say(6, () => `${kind}: ${figure(0.5)}`);
  for (const kind of ['tip-flat', 'runout']) say(6, () => `${kind}: ${figure(0.3, false)}`);
  say(6, () => `angle: ${chance.pick(['30', '29.2 deg', '60', '0.52 rad'])}`);
  return `${lines.join('\n')}\n`;
}

/** The file that the questions on a terminal would leave; an answer is only taken when it can be read. */
function answered(chance: Chance): string {
  const answers = WHY_QUESTIONS.filter(() => chance.oneIn(2)).map(
    ({ key, reads }) => [key, valueText(reads, chance)] as const,
  );
  return seenText(new Map(answers), chance.pick(['mm', 'in']));
}

const HURT = 'first.recut.yaml';

interface Told {
  /** Text of the file that says what went wrong. */
  readonly seen: string | undefined;
  readonly flags: Readonly<Record<string, string>>;
}

export const hurt: FuzzKind = {
  name: 'hurt',
  make: (chance) => {
    const shape = hurtShape as unknown as Shape;
    const file = chance.oneIn(4) ? undefined : textOf(yamlFile([sample('recut')], shape, chance));
    const asked: Told = {
      seen: file,
      flags: Object.fromEntries(file === undefined || chance.oneIn(3) ? hurtEntries(chance) : []),
    };
    return bytesOf(JSON.stringify(asked));
  },
  attempt: (input) => {
    const { seen: text, flags } = JSON.parse(textOf(input)) as Told;
    const all = [text, ...Object.values(flags)].join('\n');
    const file = text === undefined ? undefined : { path: HURT, text };
    try {
      return sensible(readHurt(file, flags, { units: 'mm', spread: { pocketZero: 0.05 } }));
    } catch (thrown) {
      return faultWord(thrown, all, undefined);
    }
  },
};

function sensible(read: Hurt): string {
  finite(read, 'hurt');
  const { gap, damage, glue, floorDamage, shift, turn, zero } = read;
  const least = Math.min(gap, damage, glue, floorDamage, shift, turn, zero);
  if (least < 0) throw new Bad(`less than nothing is hurt: ${least}`);
  return 'read';
}

/** What cannot be left out comes nearly always, and most of it is a likely length. */
export function hurtEntries(chance: Chance): (readonly [string, string])[] {
  return SEEN_NAMES.filter((name) =>
    name === 'glue' || name === 'setup-shift' ? !chance.oneIn(20) : chance.oneIn(4),
  ).map((name) => [
    name,
    chance.oneIn(8)
      ? valueText({ as: 'length', sign: 'any' }, chance)
      : (chance.share() * chance.pick([0, 0.2, 0.5, 3])).toFixed(2),
  ]);
}
