/** Where in an input a fault was met. Lines and columns count from 1. */
export interface FaultPlace {
  readonly file?: string | undefined;
  readonly line?: number | undefined;
  readonly column?: number | undefined;
  readonly element?: string | undefined;
}

/**
 * An input that cannot be used: a missing file, a broken drawing, a job that makes no sense.
 * Thrown by the rooms that read, caught by the cli, which prints `message` with its place and ends with
 * exit status 3. `message` is one or two plain sentences: what was read, what was wanted. It may quote the input, and
 * is made fit to be shown on a terminal.
 */
export class InputFault extends Error {
  readonly place: FaultPlace;
  constructor(message: string, place: FaultPlace = {}) {
    super(printable(message));
    this.name = 'InputFault';
    this.place = place;
  }
}

/** Several faults of one input, told at once (the job file lists every problem it has). */
export class InputFaults extends Error {
  readonly faults: readonly InputFault[];
  constructor(faults: readonly InputFault[]) {
    super(faults.map((f) => f.message).join('\n'));
    this.name = 'InputFaults';
    this.faults = faults;
  }
}

/** A text on one line, without anything that would move a terminal's cursor or turn its direction. */
export function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g, ' ');
}

const LONGEST_QUOTE = 40;

/** The beginning of what was read, for a message; all of it when it is short. */
export function begin(text: string): string {
  const letters = [...text.slice(0, 2 * LONGEST_QUOTE + 2)];
  return letters.length > LONGEST_QUOTE ? `${letters.slice(0, LONGEST_QUOTE).join('')}...` : text;
}

export const quoted = (text: string): string => `"${begin(text)}"`;
