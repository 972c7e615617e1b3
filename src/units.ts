/**
 * The only file that converts a unit or prints one. Inside, lengths are millimetres, angles radians, forces
 * newtons, stresses megapascals (= N/mm2). Values are born through the makers below and die through the printers.
 */
declare const unit: unique symbol;
type Branded<Name extends string> = number & { readonly [unit]: Name };

export type Mm = Branded<'mm'>;
export type Radians = Branded<'rad'>;
export type Newtons = Branded<'N'>;
/** Megapascals, the same as newtons per square millimetre. */
export type Mpa = Branded<'MPa'>;

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
export const LENGTH_UNITS: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: MM_PER_INCH,
  inch: MM_PER_INCH,
  '"': MM_PER_INCH,
};

/** What a quantity is counted in. The JSON report and the sheet print it; nothing computes with the name. */
export type UnitName = 'mm' | 'mm2' | 'mm3' | 'deg' | 'N' | 'MPa' | '%' | 'times' | 'count' | 'min' | 'yes';

/** The unit the maker reads lengths in. */
export type LengthStyle = 'mm' | 'in';
