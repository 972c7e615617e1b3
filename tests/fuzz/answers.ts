/** What any input may lead to: a result that makes sense, or a fault that tells a maker what is wrong and where. */

import { faultText } from '../../src/cli/say.ts';
import { InputFault, InputFaults } from '../../src/fault.ts';

/** An answer that nobody should ever get. */
export class Bad extends Error {}

/** Words that come from inside the program. Allowed where the input itself holds them: it may be quoted. */
const INNER =
  /undefined|\bNaN\b|\[object|\[native|is not a function|Cannot read|(?<! is )not a number\b|without end|below all|node_modules|node:|file:\/\/|\.ts:\d|\n\s+at /g;
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const UNSEEN = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/;
const LONGEST = 1200;

/** Runs `read`, which gives a word for its result; a fault is looked at and is a good answer, too. */
export function answerTo(input: string, file: string | undefined, read: () => string): string {
  try {
    return read();
  } catch (thrown) {
    return faultWord(thrown, input, file);
  }
}

export function faultWord(thrown: unknown, input: string, file: string | undefined): string {
  if (!(thrown instanceof InputFault || thrown instanceof InputFaults)) throw thrown;
  const faults = thrown instanceof InputFaults ? thrown.faults : [thrown];
  if (faults.length === 0) throw new Bad('a fault that tells nothing');
  for (const fault of faults) {
    const { message, place } = fault;
    if (message.trim() === '') throw new Bad('a fault without a word');
    if (file !== undefined && place.file !== file) throw new Bad(`a fault without its file: ${message}`);
    for (const at of [place.line, place.column])
      if (at !== undefined && !(Number.isInteger(at) && at >= 1))
        throw new Bad(`a fault at ${at}: ${message}`);
    plainText(message, input);
    const shown = faultText(fault);
    if (UNSEEN.test(shown)) throw new Bad(`control characters go to the terminal: ${JSON.stringify(shown)}`);
  }
  return 'refused';
}

/** A sentence for a maker: nothing of the program's inside, and not endless. */
export function plainText(text: string, input: string): void {
  for (const [word] of text.matchAll(INNER))
    if (!input.includes(word)) throw new Bad(`the program's inside shows (${word}): ${text.slice(0, 300)}`);
  if (text.length > LONGEST) throw new Bad(`a sentence of ${text.length} characters: ${text.slice(0, 200)}`);
}

export function linesRead(text: string, input: string): void {
  for (const line of text.split('\n')) plainText(line, input);
}

export function pageReads(page: string): void {
  const wrong = /.{0,40}(?:NaN|Infinity|undefined).{0,20}/s.exec(page);
  if (wrong !== null) throw new Bad(`the page holds ${wrong[0]}`);
}

/** Every number in a value is finite. `where` names the value in the complaint. */
export function finite(value: unknown, where: string): void {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new Bad(`${where} is ${value}`);
  } else if (value instanceof Float64Array) {
    const wrong = value.findIndex((item) => !Number.isFinite(item));
    if (wrong >= 0) throw new Bad(`${where}[${wrong}] is ${value[wrong]}`);
  } else if (Array.isArray(value)) value.forEach((item, i) => void finite(item, `${where}[${i}]`));
  else if (value !== null && typeof value === 'object')
    for (const [key, item] of Object.entries(value)) finite(item, `${where}.${key}`);
}
