/** Powers of ten that a double holds exactly, for reading decimals right to the last bit. */
const TENS = Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));

/** Reads numbers and separators as the SVG grammar writes them (SVG 2, section 9.3.9). */
export class Scanner {
  readonly text: string;
  at = 0;

  constructor(text: string) {
    this.text = text;
  }

  get done(): boolean {
    return this.at >= this.text.length;
  }

  skipSpace(): void {
    while (isSpace(this.text.charCodeAt(this.at))) this.at++;
  }

  /** Skips white space and at most one comma; tells whether a comma was there. */
  skipComma(): boolean {
    this.skipSpace();
    if (this.text.charCodeAt(this.at) !== 44) return false;
    this.at++;
    this.skipSpace();
    return true;
  }

  /** An arc's flag is one digit, also when glued to what follows. NaN when there is none. */
  flag(): number {
    const code = this.text.charCodeAt(this.at);
    if (code !== 48 && code !== 49) return Number.NaN;
    this.at++;
    return code - 48;
  }

  /** A number, or NaN (and nothing read) when none stands here. `90.` is no number: digits must follow the point. */
  number(): number {
    const { text } = this;
    const start = this.at;
    let at = start;
    let code = text.charCodeAt(at);
    const minus = code === 45;
    if (minus || code === 43) code = text.charCodeAt(++at);
    let mantissa = 0;
    let digits = 0;
    let decimals = 0;
    for (; code >= 48 && code <= 57; code = text.charCodeAt(++at), digits++)
      mantissa = mantissa * 10 + (code - 48);
    if (code === 46) {
      code = text.charCodeAt(++at);
      const point = at;
      for (; code >= 48 && code <= 57; code = text.charCodeAt(++at)) mantissa = mantissa * 10 + (code - 48);
      decimals = at - point;
      if (decimals === 0) return Number.NaN;
      digits += decimals;
    }
    if (digits === 0) return Number.NaN;
    const end = this.skipExponent(at);
    this.at = end;
    // Up to 15 digits and 22 decimals both are exact doubles, so that one division rounds right.
    if (end === at && digits <= 15 && decimals <= 22) {
      const value = mantissa / TENS[decimals]!;
      return minus ? -value : value;
    }
    return Number(text.slice(start, end));
  }

  private skipExponent(at: number): number {
    const { text } = this;
    const letter = text.charCodeAt(at);
    if (letter !== 101 && letter !== 69) return at;
    let end = at + 1;
    const sign = text.charCodeAt(end);
    if (sign === 43 || sign === 45) end++;
    if (!isDigit(text.charCodeAt(end))) return at;
    while (isDigit(text.charCodeAt(end))) end++;
    return end;
  }
}

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isSpace = (code: number): boolean =>
  code === 32 || code === 9 || code === 10 || code === 13 || code === 12;

/** A whole text of numbers with optional commas; `undefined` when it holds anything else. */
export function readNumbers(text: string): number[] | undefined {
  const scanner = new Scanner(text);
  const numbers: number[] = [];
  scanner.skipSpace();
  while (!scanner.done) {
    const value = scanner.number();
    if (!Number.isFinite(value)) return undefined;
    numbers.push(value);
    if (scanner.skipComma() && scanner.done) return undefined;
  }
  return numbers;
}
