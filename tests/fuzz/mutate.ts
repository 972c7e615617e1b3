/** Spoils a text a little, the way a slip of the hand, a bad copy or somebody who means harm would. */
import type { Chance } from './chance.ts';

/** Pieces that mean something to some reader, beside those a kind of input has of its own. */
const ANYWHERE: readonly string[] = [
  '\0',
  '\t',
  '\r',
  '\r\n',
  '\u0085',
  '\u2028',
  '\ufeff',
  '\u001b[2J',
  '\u202e',
  '\u200b',
  '\ud800',
  'é',
  '𝕏',
  '"',
  "'",
  '\\',
  '#',
  '%',
  '&',
  '<',
  '>',
  '-0',
  '1e999',
  '1e-400',
  '0x10',
  '1_000',
  '99999999999999999999999',
  '.5',
  '5.',
  '+',
  '−',
  '１２',
  'NaN',
  'Infinity',
  '__proto__',
  'constructor',
  'toString',
  'undefined',
  'null',
  '[object Object]',
];

export function mutated(text: string, times: number, tokens: readonly string[], chance: Chance): string {
  let now = text;
  for (let i = 0; i < times; i++) now = once(now, tokens, chance);
  return now;
}

function once(text: string, tokens: readonly string[], chance: Chance): string {
  const at = chance.count(0, text.length);
  const to = Math.min(text.length, at + chance.count(1, chance.oneIn(5) ? 200 : 4));
  const piece = (): string => chance.pick(chance.oneIn(3) ? ANYWHERE : tokens);
  switch (chance.count(0, 9)) {
    case 0:
      return text.slice(0, at) + text.slice(to);
    case 1:
      return text.slice(0, at) + text.slice(at, to).repeat(chance.oneIn(10) ? 200 : 2) + text.slice(to);
    case 2:
    case 3:
      return text.slice(0, at) + piece() + text.slice(at);
    case 4:
      return text.slice(0, at) + piece() + text.slice(to);
    case 5:
      return numberChanged(text, chance);
    case 6:
      return linesChanged(text, chance);
    case 7:
      return text.slice(0, at) + String.fromCharCode(chance.count(0, 0x17f)) + text.slice(at + 1);
    case 8:
      return chance.oneIn(4) ? text.slice(0, at) : wordsSwapped(text, chance);
    default:
      return (
        text.slice(0, at) + piece().repeat(chance.oneIn(8) ? chance.count(50, 2000) : 3) + text.slice(at)
      );
  }
}

const NUMBERS = [
  '0',
  '-1',
  '1e308',
  '-1e308',
  '1e-308',
  '1e5',
  '0.0000001',
  '4294967296',
  '9007199254740993',
];

function numberChanged(text: string, chance: Chance): string {
  const numbers = [...text.matchAll(/-?\d+(?:\.\d+)?/g)];
  if (numbers.length === 0) return text;
  const found = chance.pick(numbers);
  const value = Number(found[0]);
  const other = chance.oneIn(2)
    ? chance.pick(NUMBERS)
    : String(chance.pick([-value, value * 1000, value / 1000, value + 1, Math.round(value), value * 25.4]));
  return text.slice(0, found.index) + other + text.slice(found.index + found[0].length);
}

function linesChanged(text: string, chance: Chance): string {
  const lines = text.split('\n');
  const at = chance.count(0, lines.length - 1);
  const other = chance.count(0, lines.length - 1);
  const line = lines[at]!;
  switch (chance.count(0, 5)) {
    case 0:
      lines.splice(at, 1);
      break;
    case 1:
      lines.splice(other, 0, line);
      break;
    case 2:
      lines[at] = lines[other]!;
      lines[other] = line;
      break;
    case 3:
      lines[at] = ' '.repeat(chance.count(1, 5)) + line;
      break;
    case 4:
      lines[at] = line.trimStart();
      break;
    default:
      return lines.join(chance.pick(['\r\n', '\r', '', '\n\n']));
  }
  return lines.join('\n');
}

function wordsSwapped(text: string, chance: Chance): string {
  const words = [...text.matchAll(/[\w.-]+/g)];
  if (words.length < 2) return text;
  const [a, b] = [chance.pick(words), chance.pick(words)].sort((x, y) => x.index - y.index) as [
    RegExpExecArray,
    RegExpExecArray,
  ];
  if (a.index + a[0].length > b.index) return text;
  return (
    text.slice(0, a.index) +
    b[0] +
    text.slice(a.index + a[0].length, b.index) +
    a[0] +
    text.slice(b.index + b[0].length)
  );
}

/** Bytes in place of letters: what a broken disk or a wrong encoding leaves. */
export function spoilt(bytes: Uint8Array, chance: Chance): Uint8Array {
  const copy = Uint8Array.from(bytes);
  for (let i = chance.count(1, 4); i > 0 && copy.length > 0; i--)
    copy[chance.count(0, copy.length - 1)] = chance.count(0, 255);
  return chance.oneIn(4) ? copy.subarray(0, chance.count(0, copy.length)) : copy;
}
