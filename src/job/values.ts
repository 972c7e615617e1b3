import { begin, quoted } from '../fault.ts';
import {
  degrees,
  type LengthStyle,
  parseAngle,
  parseArea,
  parseFeed,
  parseForce,
  parseLength,
  parseNumber,
  parsePercent,
  parseTemperature,
  toDegrees,
  type UnitName,
} from '../units.ts';
import { findSpecies } from '../wood/species.ts';
import type { WrittenValue } from './document.ts';
import { nearest } from './near.ts';
import type { Outline, Reads } from './schema.ts';

/** A value of ours, or one plain sentence about what is wrong with what was written. */
export type Heard = { readonly value: unknown } | { readonly wrong: string };

/** The word for a wood that the tables do not hold: checks that need its figures then say so. */
const UNLISTED = 'unlisted';

const LEAST_BIT_ANGLE = degrees(5);
const MOST_BIT_ANGLE = degrees(170);
const LONGEST_WORDS = 200;

export function hear(written: WrittenValue, reads: Reads, style: LengthStyle): Heard {
  if (written.value === null || written.text.trim() === '') return { wrong: 'Nothing is written here.' };
  switch (reads.as) {
    case 'length':
      return numberOr(parseLength(amount(written), style, reads.sign));
    case 'bit-angle':
      return hearBitAngle(written);
    case 'angle':
      return numberOr(parseAngle(amount(written)));
    case 'feed':
      return numberOr(parseFeed(amount(written), style));
    case 'percent':
      return numberOr(parsePercent(amount(written)));
    case 'temperature':
      return numberOr(parseTemperature(amount(written)));
    case 'measure':
      return numberOr(parseMeasured(amount(written), reads.unit, style));
    case 'count':
      return hearCount(written, reads.least, reads.most);
    case 'text':
      return hearText(written);
    case 'outline':
      return hearOutline(written);
    case 'wood':
      return hearWood(written);
    case 'choice':
      return hearChoice(written, reads.of);
  }
}

function numberOr(read: number | string): Heard {
  return typeof read === 'string' ? { wrong: read } : { value: read };
}

/** Numbers in other bases look like a slip of the hand; their text is judged, not their value. */
function amount(written: WrittenValue): WrittenValue['value'] {
  return typeof written.value === 'number' && /^[+-]?0[xo]/i.test(written.text)
    ? written.text
    : written.value;
}

function hearBitAngle(written: WrittenValue): Heard {
  const angle = parseAngle(amount(written), 'positive');
  if (typeof angle === 'string') return { wrong: angle };
  if (angle < LEAST_BIT_ANGLE || angle > MOST_BIT_ANGLE)
    return {
      wrong: `${quoted(written.text)} is no V-bit; an included angle of 5 to 170 degrees was wanted.`,
    };
  return { value: angle };
}

/** A number counted in one of the units of readings; angles in degrees, areas in mm2. */
function parseMeasured(written: unknown, unit: UnitName, style: LengthStyle): number | string {
  switch (unit) {
    case 'mm':
      return parseLength(written, style, 'zero-or-more');
    case 'mm2':
      return parseArea(written, style, 'zero-or-more');
    case 'deg': {
      const angle = parseAngle(written, 'zero-or-more');
      return typeof angle === 'string' ? angle : toDegrees(angle);
    }
    case 'N':
      return parseForce(written, 'zero-or-more');
    case '%':
      return parsePercent(written, 'zero-or-more', 10_000);
    default:
      return parseNumber(written, 'zero-or-more');
  }
}

function hearCount(written: WrittenValue, least: number, most: number): Heard {
  const { value } = written;
  if (typeof value === 'number' && Number.isInteger(value) && value >= least && value <= most)
    return { value };
  return {
    wrong: `${quoted(written.text)} will not do; a whole number from ${least} to ${most} was wanted.`,
  };
}

/** Texts end up on a terminal: nothing that moves its cursor or turns its direction may pass. */
const UNSEEN = /[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/u;

function hearText(written: WrittenValue): Heard {
  const text = typeof written.value === 'string' ? written.value.trim() : written.text;
  if (UNSEEN.test(text))
    return { wrong: 'Plain text on one line was wanted; this holds unseen control characters.' };
  if (text.length > LONGEST_WORDS) return { wrong: `The text is longer than ${LONGEST_WORDS} characters.` };
  return { value: text };
}

function hearWood(written: WrittenValue): Heard {
  const text = hearText(written);
  if ('wrong' in text) return text;
  const name = String(text.value);
  if (name.toLowerCase() === UNLISTED) return { value: UNLISTED };
  const found = findSpecies(name);
  if ('species' in found) return { value: found.species.id };
  const near = found.near.length > 0 ? `Did you mean ${found.near.join(', ')}? ` : '';
  return {
    wrong: `${quoted(name)} is no wood the tables hold. ${near}Write ${UNLISTED} for a wood without figures.`,
  };
}

function oneOf(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

function hearChoice(written: WrittenValue, of: readonly string[]): Heard {
  if (of.includes(written.text)) return { value: written.text };
  const near = nearest(written.text, of);
  const hint = near === undefined ? '' : ` Did you mean ${near}?`;
  return { wrong: `${quoted(written.text)} will not do; ${oneOf(of)} was wanted.${hint}` };
}

/**
 * `NAME.svg` or `NAME.svg#id`. What follows the first `.svg#` is the id, so a `#` in a folder or file name does no
 * harm; only in a name that does not end in .svg the last `#` parts it. Backslashes part folders on every system.
 */
function hearOutline(written: WrittenValue): Heard {
  if (typeof written.value !== 'string')
    return { wrong: `${quoted(written.text)} is no file; NAME.svg or NAME.svg#id was wanted.` };
  const text = written.value.trim();
  if (UNSEEN.test(text))
    return {
      wrong:
        'The path holds a tab or another control character; in double quotes a backslash does that. Write / between folders.',
    };
  if (written.gluedRemark !== undefined)
    return {
      wrong: `After a blank, # begins a remark; for one element write ${begin(`${text}#${written.gluedRemark}`)} without the blank.`,
    };
  if (/^[a-z][a-z0-9+.-]+:\/\//i.test(text))
    return { wrong: `${quoted(text)} is an address; only files are read.` };
  const { file, select } = partsOf(text);
  if (file === '' || select === '')
    return {
      wrong: `${quoted(text)} lacks ${file === '' ? 'the file' : 'an id after its #'}; NAME.svg or NAME.svg#id was wanted.`,
    };
  const path = file.replaceAll('\\', '/');
  const outline: Outline = select === undefined ? { path, written: text } : { path, select, written: text };
  return { value: outline };
}

function partsOf(text: string): { file: string; select?: string } {
  const named = /^(.*?\.svg)#(.*)$/is.exec(text);
  if (named !== null) return { file: named[1] as string, select: named[2] as string };
  const hash = text.lastIndexOf('#');
  if (hash < 0 || /\.svg$/i.test(text)) return { file: text };
  return { file: text.slice(0, hash), select: text.slice(hash + 1) };
}
