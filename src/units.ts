/**
 * The only file that converts a unit or prints one. Inside, lengths are millimetres, angles radians, forces
 * newtons, stresses megapascals (= N/mm2). Values are born through the makers below and die through the printers.
 */
import { begin, quoted as quotedText } from './fault.ts';

declare const unit: unique symbol;
type Branded<Name extends string> = number & { readonly [unit]: Name };

export type Mm = Branded<'mm'>;
export type Radians = Branded<'rad'>;
export type Newtons = Branded<'N'>;
/** Megapascals, the same as newtons per square millimetre. */
export type Mpa = Branded<'MPa'>;
/** A feed: millimetres a minute. */
export type MmPerMinute = Branded<'mm/min'>;

export const MM_PER_INCH = 25.4; // exact: the international inch (1959)
export const CSS_PX_PER_INCH = 96; // CSS Values and Units 4, section 6.2

export const mm = (value: number): Mm => value as Mm;
export const inches = (value: number): Mm => (value * MM_PER_INCH) as Mm;
export const degrees = (value: number): Radians => ((value * Math.PI) / 180) as Radians;
export const radians = (value: number): Radians => value as Radians;
export const newtons = (value: number): Newtons => value as Newtons;
export const mpa = (value: number): Mpa => value as Mpa;
export const psi = (value: number): Mpa => (value * 0.006894757293168) as Mpa; // lbf/in2, NIST SP 811
export const poundsForce = (value: number): Newtons => (value * 4.4482216152605) as Newtons; // exact, NIST SP 811
export const toDegrees = (angle: number): number => (angle * 180) / Math.PI;
export const toInches = (length: number): number => length / MM_PER_INCH;
export const fahrenheit = (value: number): number => ((value - 32) * 5) / 9;

/** Units a length may be written in, with their size in millimetres. */
const LENGTH_UNITS: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: MM_PER_INCH,
  inch: MM_PER_INCH,
  inches: MM_PER_INCH,
  '"': MM_PER_INCH,
  '″': MM_PER_INCH,
};

const ANGLE_UNITS: Readonly<Record<string, number>> = {
  deg: degrees(1),
  degree: degrees(1),
  degrees: degrees(1),
  '°': degrees(1),
  rad: 1,
};
const FORCE_UNITS: Readonly<Record<string, number>> = { n: 1, lbf: poundsForce(1) };
const FEED_UNITS: Readonly<Record<string, number>> = {
  'mm/min': 1,
  'm/min': 1000,
  'mm/s': 60,
  'in/min': MM_PER_INCH,
  'in/s': 60 * MM_PER_INCH,
};
const SHARE_UNITS: Readonly<Record<string, number>> = { '%': 1 };
const AREA_UNITS: Readonly<Record<string, number>> = { mm2: 1, cm2: 100, in2: MM_PER_INCH * MM_PER_INCH };

/** What a quantity is counted in. The JSON report and the sheet print it; nothing computes with the name. */
export type UnitName = 'mm' | 'mm2' | 'mm3' | 'deg' | 'N' | 'MPa' | '%' | 'times' | 'count' | 'min' | 'yes';

/** The unit the maker reads lengths in. */
export type LengthStyle = 'mm' | 'in';

/** Which side of zero a written value may lie on. */
export type Sign = 'positive' | 'zero-or-more' | 'any';

/** Nothing on a router's table is longer than this. */
const LONGEST = 10_000;
const FASTEST = 100_000; // mm/min

/**
 * A length as a maker writes it: a number in the job's unit, or text with its own unit (`7.6 mm`, `5/16 in`,
 * `1 1/2 in`, `1-1/2"`). Gives millimetres, or one plain sentence that says what is wrong with it.
 */
export function parseLength(written: unknown, style: LengthStyle, sign: Sign = 'positive'): Mm | string {
  const measure = { what: 'a length', units: LENGTH_UNITS, bare: style, example: '7.6 mm or 5/16 in' };
  return taken(written, measure, sign, LONGEST, '10 m') as Mm | string;
}

/** An angle: a number of degrees, or text with its unit (`30 deg`, `0.5236 rad`). Radians, or what is wrong. */
export function parseAngle(written: unknown, sign: Sign = 'any'): Radians | string {
  const measure = { what: 'an angle', units: ANGLE_UNITS, bare: 'deg', example: '30 deg' };
  return taken(written, measure, sign, degrees(360) + 1e-9, '360 degrees') as Radians | string;
}

/** A force: a number of newtons, or text (`10 N`, `2.2 lbf`). Newtons, or what is wrong. */
export function parseForce(written: unknown, sign: Sign = 'positive'): Newtons | string {
  const measure = { what: 'a force', units: FORCE_UNITS, bare: 'n', example: '10 N' };
  return taken(written, measure, sign, 10_000, '10000 N') as Newtons | string;
}

/** A feed: a number in the job's length unit a minute, or text (`1200 mm/min`, `50 in/min`, `20 mm/s`). */
export function parseFeed(written: unknown, style: LengthStyle): MmPerMinute | string {
  const measure = { what: 'a feed', units: FEED_UNITS, bare: `${style}/min`, example: '1200 mm/min' };
  return taken(written, measure, 'positive', FASTEST, '100 m/min') as MmPerMinute | string;
}

/** A share in percent: a number of percent, or text (`0.1 %`). Stays in percent. */
export function parsePercent(written: unknown, sign: Sign = 'zero-or-more', most = 100): number | string {
  const measure = { what: 'a percentage', units: SHARE_UNITS, bare: '%', example: '0.1 %' };
  return taken(written, measure, sign, most, `${most} %`);
}

/** An area: a number in the job's unit squared, or text (`0.05 mm2`, `0.01 in2`). Square millimetres. */
export function parseArea(written: unknown, style: LengthStyle, sign: Sign = 'positive'): number | string {
  const measure = { what: 'an area', units: AREA_UNITS, bare: `${style}2`, example: '0.05 mm2' };
  return taken(written, measure, sign, LONGEST * LONGEST, '100 square metres');
}

/** An air temperature: a number of degrees Celsius, or text (`21 C`, `70 F`). Degrees Celsius. */
export function parseTemperature(written: unknown): number | string {
  const text = typeof written === 'string' ? written.trim() : written;
  const inFahrenheit = typeof text === 'string' && /[°\s\d]f$/i.test(text);
  if (typeof text === 'string' && text.length > LONGEST_FIGURE) return tooLong(text, 'a temperature');
  const plain = typeof text === 'string' ? text.replace(/\s*°?\s*[cf]$/i, '') : text;
  const value = parseMeasure(plain, { what: 'a temperature', units: {}, bare: '', example: '21 C or 70 F' });
  if (typeof value === 'string') return `${quoted(written)} is no temperature; write it like 21 C or 70 F.`;
  const celsius = inFahrenheit ? fahrenheit(value) : value;
  if (celsius < -60 || celsius > 80) return `${quoted(written)} is outside -60 C to 80 C.`;
  return celsius;
}

/** A bare number without a unit, such as a factor. */
export function parseNumber(written: unknown, sign: Sign = 'positive', most = 1e6): number | string {
  const measure = { what: 'a number', units: {}, bare: '', example: '2.5' };
  return taken(written, measure, sign, most, String(most));
}

interface Measure {
  readonly what: string;
  /** Lower-case unit texts with their size in the inner unit. */
  readonly units: Readonly<Record<string, number>>;
  /** The unit that a bare number is in; empty for a number that has none. */
  readonly bare: string;
  readonly example: string;
}

/** No figure is written longer; the patterns below would take long over a longer one. */
const LONGEST_FIGURE = 100;

const tooLong = (written: string, what: string): string =>
  `${quoted(written)} has more than ${LONGEST_FIGURE} characters; a shorter way to write ${what} was wanted.`;

const DECIMAL = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)$/;
const FRACTION = /^([+-]?)(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*\/\s*(\d+)$/;

/** What was written, in the inner unit, if it has the wanted sign and is not beyond `most`; else what is wrong. */
function taken(
  written: unknown,
  measure: Measure,
  sign: Sign,
  most: number,
  mostText: string,
): number | string {
  const value = parseMeasure(written, measure);
  if (typeof value === 'string') return value;
  return refusal(written, value, sign, most, mostText, measure.what) ?? value;
}

function parseMeasure(written: unknown, measure: Measure): number | string {
  const bareSize = measure.units[measure.bare] ?? 1;
  if (typeof written === 'number') {
    if (!Number.isFinite(written))
      return `No number that can be cut stands here; write ${measure.what} like ${measure.example}.`;
    return written * bareSize;
  }
  if (typeof written !== 'string')
    return `${quoted(written)} is not ${measure.what}; write it like ${measure.example}.`;
  if (written.length > LONGEST_FIGURE) return tooLong(written, measure.what);
  const text = written.trim().replaceAll('”', '"').replaceAll('−', '-');
  if (/\d,\d/.test(text))
    return `${quoted(written)} has a comma in its number; write a point: ${begin(text.replaceAll(',', '.'))}.`;
  const split = /^(.*?\d\.?)\s*([^\d\s./][^\d\s]*\d?)?$/u.exec(text);
  const amount = split === null ? undefined : amountOf(split[1] ?? '');
  if (split === null || amount === undefined)
    return `${quoted(written)} is not ${measure.what}; write it like ${measure.example}.`;
  if (!Number.isFinite(amount))
    return `${quoted(written)} cannot be divided by zero; write ${measure.what} like ${measure.example}.`;
  const unit = split[2]?.toLowerCase();
  if (unit === undefined) {
    // A fraction of a millimetre is nobody's habit: the inch mark was forgotten.
    if (measure.bare === 'mm' && text.includes('/'))
      return `${quoted(written)} is a fraction without a unit; write ${begin(text)} in, or a decimal.`;
    return amount * bareSize;
  }
  const size = Object.hasOwn(measure.units, unit) ? measure.units[unit] : undefined;
  if (size !== undefined) return amount * size;
  const known = Object.keys(measure.units).filter((name) => /^[a-z%]/.test(name));
  if (known.length === 0) return `${quoted(written)} has a unit; ${measure.what} without a unit was wanted.`;
  return `${quoted(written)} ends in ${quoted(split[2])}, which is not a unit of ${measure.what.replace(/^an? /, '')}; use ${known.join(', ')}.`;
}

function amountOf(text: string): number | undefined {
  if (DECIMAL.test(text)) return Number(text);
  const fraction = FRACTION.exec(text);
  if (fraction === null) return undefined;
  const [, minus, whole, over, under] = fraction;
  const amount = Number(whole ?? 0) + Number(over) / Number(under);
  return minus === '-' ? -amount : amount;
}

function refusal(
  written: unknown,
  value: number,
  sign: Sign,
  most: number,
  mostText: string,
  what: string,
): string | undefined {
  if (value < 0 && sign !== 'any')
    return `${quoted(written)} is below zero; ${what} ${sign === 'positive' ? 'above zero' : 'of zero or more'} was wanted.`;
  if (value === 0 && sign === 'positive') return `${quoted(written)} is zero; ${what} above zero was wanted.`;
  if (Math.abs(value) > most) return `${quoted(written)} is more than ${mostText}, the most that is taken.`;
  return undefined;
}

function quoted(written: unknown): string {
  return typeof written === 'string' ? quotedText(written) : String(written);
}

/** The farthest a printer goes to tell two values apart; below this a difference is arithmetic (see the judge). */
const MOST_DECIMALS = 9;
const SAME = 1e-9;

/**
 * A quantity as a maker reads it, with its unit: `7.60 mm`, `0.2992 in`, `9.1 N`. `value` is counted in `unit`
 * (angles in degrees). Given `against`, a limit in the same unit, digits are added until the two print
 * differently, so that a value just over its limit never looks equal to it; print the limit against the value too.
 */
export function show(value: number, unit: UnitName, style: LengthStyle, against?: number): string {
  const text = showBare(value, unit, style, against);
  const name = unitText(unit, style);
  return name === '' || !/\d/.test(text) ? text : `${text} ${name}`;
}

/** The same without its unit, for a column that names the unit once. */
export function showBare(value: number, unit: UnitName, style: LengthStyle, against?: number): string {
  if (unit === 'yes') return value === 0 ? 'no' : 'yes';
  if (Number.isNaN(value)) return 'not a number';
  if (!Number.isFinite(value)) return value > 0 ? 'without end' : 'below all';
  const size = sizeShown(unit, style);
  const shown = value / size;
  const decimals = decimalsFor(shown, unit, style);
  if (against === undefined || Math.abs(value - against) < SAME) return fixed(shown, decimals);
  const other = against / size;
  const otherDecimals = decimalsFor(other, unit, style);
  for (let more = 0; ; more++) {
    const text = fixed(shown, Math.min(MOST_DECIMALS, decimals + more));
    const otherText = fixed(other, Math.min(MOST_DECIMALS, otherDecimals + more));
    if (more === MOST_DECIMALS || Number(text) !== Number(otherText)) return text;
  }
}

/** The unit as printed after a number in this style; empty for counts. */
export function unitText(unit: UnitName, style: LengthStyle): string {
  if (style === 'in' && isLengthLike(unit)) return unit.replace('mm', 'in');
  return unit === 'count' || unit === 'yes' ? '' : unit;
}

const isLengthLike = (unit: UnitName): boolean => unit === 'mm' || unit === 'mm2' || unit === 'mm3';

function sizeShown(unit: UnitName, style: LengthStyle): number {
  if (style === 'mm' || !isLengthLike(unit)) return 1;
  return MM_PER_INCH ** (unit === 'mm' ? 1 : unit === 'mm2' ? 2 : 3);
}

/** Digits that match what a shop can measure: microns on small lengths, tenths of thousandths of an inch. */
function decimalsFor(shown: number, unit: UnitName, style: LengthStyle): number {
  const size = Math.abs(shown);
  if (style === 'in' && isLengthLike(unit)) return unit === 'mm' ? 4 : size < 0.01 ? 6 : size < 100 ? 4 : 2;
  if (unit === 'count') return Number.isInteger(shown) ? 0 : 1;
  if (unit === 'mm' || unit === 'mm2' || unit === '%') return size < 1 ? 3 : size < 100 ? 2 : 1;
  if (unit === 'times') return size < 100 ? 2 : 1;
  return size < 1 ? 2 : size < 100 ? 1 : 0;
}

/** `toFixed` without a minus sign in front of zeros. */
function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}
