export { printable } from '../fault.ts';

/**
 * Number of terminal columns a text takes: full-width characters count two, combining marks none. Colour codes
 * must not be in it.
 */
export function columns(text: string): number {
  let count = 0;
  for (const character of text) {
    if (/\p{Mark}|\p{Cf}/u.test(character)) continue;
    count += isWide(character.codePointAt(0) ?? 0) ? 2 : 1;
  }
  return count;
}

/** East Asian wide and emoji blocks (Unicode Standard Annex 11, the blocks that are wide as a whole). */
function isWide(code: number): boolean {
  return (
    (code >= 0x1100 && code <= 0x115f) ||
    (code >= 0x2e80 && code <= 0xa4cf) ||
    (code >= 0xac00 && code <= 0xd7a3) ||
    (code >= 0xf900 && code <= 0xfaff) ||
    (code >= 0xfe30 && code <= 0xfe6f) ||
    (code >= 0xff00 && code <= 0xff60) ||
    (code >= 0xffe0 && code <= 0xffe6) ||
    (code >= 0x1f300 && code <= 0x1faff) ||
    (code >= 0x20000 && code <= 0x3fffd)
  );
}

export function padEnd(text: string, width: number): string {
  return text + ' '.repeat(Math.max(0, width - columns(text)));
}

export function padStart(text: string, width: number): string {
  return ' '.repeat(Math.max(0, width - columns(text))) + text;
}

/** Shortens a text to a width, with three dots where something was left out. */
export function fitTo(text: string, width: number): string {
  if (columns(text) <= width) return text;
  let kept = '';
  for (const character of text) {
    if (columns(kept + character) > width - 3) break;
    kept += character;
  }
  return `${kept}...`;
}

/** Breaks a text into lines of at most `width` columns at blanks; a longer word is cut. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).filter((piece) => piece !== '')) {
    let rest = word;
    if (line !== '' && columns(line) + 1 + columns(rest) <= width) {
      line += ` ${rest}`;
      continue;
    }
    if (line !== '') lines.push(line);
    while (columns(rest) > width) {
      lines.push([...rest].slice(0, width).join(''));
      rest = [...rest].slice(width).join('');
    }
    line = rest;
  }
  if (line !== '') lines.push(line);
  return lines;
}
