import { describe, expect, it } from 'vitest';
import {
  degrees,
  fahrenheit,
  type LengthStyle,
  mm,
  mpa,
  newtons,
  parseAngle,
  parseArea,
  parseFeed,
  parseForce,
  parseLength,
  parseNumber,
  parsePercent,
  parseTemperature,
  poundsForce,
  psi,
  radians,
  show,
  type UnitName,
  unitText,
} from '../src/units.ts';

// The wordings and the last value on each side of every bound. Products are arithmetic on the exact inch (25.4 mm).

describe('makers', () => {
  it('keep the value of what is in the inner unit already', () => {
    expect([mm(7.6), mpa(3.5), newtons(9), radians(0.5)]).toEqual([7.6, 3.5, 9, 0.5]);
  });

  it('take 212 F as 100 C and -40 as the same on both', () => {
    expect([fahrenheit(212), fahrenheit(32), fahrenheit(-40)]).toEqual([100, 0, -40]);
  });
});

describe('what is said of a text that is no measure', () => {
  it.each<[string, unknown, string]>([
    ['length', parseLength('x', 'mm'), '"x" is not a length; write it like 7.6 mm or 5/16 in.'],
    ['angle', parseAngle('x'), '"x" is not an angle; write it like 30 deg.'],
    ['force', parseForce('x'), '"x" is not a force; write it like 10 N.'],
    ['feed', parseFeed('x', 'mm'), '"x" is not a feed; write it like 1200 mm/min.'],
    ['percentage', parsePercent('x'), '"x" is not a percentage; write it like 0.1 %.'],
    ['area', parseArea('x', 'mm'), '"x" is not an area; write it like 0.05 mm2.'],
    ['number', parseNumber('x'), '"x" is not a number; write it like 2.5.'],
    ['temperature', parseTemperature('x'), '"x" is no temperature; write it like 21 C or 70 F.'],
    ['no text', parseLength(undefined, 'mm'), 'undefined is not a length; write it like 7.6 mm or 5/16 in.'],
    ['not finite', parseForce(Number.NaN), 'No number that can be cut stands here; write a force like 10 N.'],
    [
      'division',
      parseLength('1/0 in', 'mm'),
      '"1/0 in" cannot be divided by zero; write a length like 7.6 mm or 5/16 in.',
    ],
    [
      'bare fraction',
      parseLength(' 5/16 ', 'mm'),
      '" 5/16 " is a fraction without a unit; write 5/16 in, or a decimal.',
    ],
    ['comma', parseLength('7,6 mm', 'mm'), '"7,6 mm" has a comma in its number; write a point: 7.6 mm.'],
    ['unit', parseNumber('2.5 mm'), '"2.5 mm" has a unit; a number without a unit was wanted.'],
    [
      'length unit',
      parseLength('7.6 mn', 'mm'),
      '"7.6 mn" ends in "mn", which is not a unit of length; use mm, cm, m, in, inch, inches.',
    ],
    [
      'angle unit',
      parseAngle('3 grad'),
      '"3 grad" ends in "grad", which is not a unit of angle; use deg, degree, degrees, rad.',
    ],
    ['share unit', parsePercent('3 x'), '"3 x" ends in "x", which is not a unit of percentage; use %.'],
    [
      'feed unit',
      parseFeed('3 m', 'mm'),
      '"3 m" ends in "m", which is not a unit of feed; use mm/min, m/min, mm/s, in/min, in/s.',
    ],
    [
      'area unit',
      parseArea('3 mm', 'mm'),
      '"3 mm" ends in "mm", which is not a unit of area; use mm2, cm2, in2.',
    ],
    ['force unit', parseForce('3 kg'), '"3 kg" ends in "kg", which is not a unit of force; use n, lbf.'],
  ])('%s', (_, said, wanted) => {
    expect(said).toBe(wanted);
  });
});

describe('bounds of what is taken', () => {
  it.each<[string, unknown, string]>([
    ['length', parseLength(-1, 'mm'), '-1 is below zero; a length above zero was wanted.'],
    ['length', parseLength(0, 'mm'), '0 is zero; a length above zero was wanted.'],
    ['length', parseLength(10_001, 'mm'), '10001 is more than 10 m, the most that is taken.'],
    ['angle', parseAngle(361), '361 is more than 360 degrees, the most that is taken.'],
    ['angle', parseAngle(-1, 'positive'), '-1 is below zero; an angle above zero was wanted.'],
    ['force', parseForce(0), '0 is zero; a force above zero was wanted.'],
    ['force', parseForce(10_001), '10001 is more than 10000 N, the most that is taken.'],
    ['feed', parseFeed(0, 'mm'), '0 is zero; a feed above zero was wanted.'],
    ['feed', parseFeed(100_001, 'mm'), '100001 is more than 100 m/min, the most that is taken.'],
    ['percentage', parsePercent(-1), '-1 is below zero; a percentage of zero or more was wanted.'],
    ['percentage', parsePercent(31, 'positive', 30), '31 is more than 30 %, the most that is taken.'],
    ['area', parseArea(0, 'mm'), '0 is zero; an area above zero was wanted.'],
    ['area', parseArea(1.1e8, 'mm'), '110000000 is more than 100 square metres, the most that is taken.'],
    ['number', parseNumber(0), '0 is zero; a number above zero was wanted.'],
    ['number', parseNumber(8, 'positive', 7), '8 is more than 7, the most that is taken.'],
    ['temperature', parseTemperature('-61 C'), '"-61 C" is outside -60 C to 80 C.'],
    ['temperature', parseTemperature(81), '81 is outside -60 C to 80 C.'],
  ])('a %s', (_, said, wanted) => {
    expect(said).toBe(wanted);
  });

  it('takes the bound itself', () => {
    expect(parseLength(10_000, 'mm')).toBe(10_000);
    expect(parseAngle(-30)).toBe(degrees(-30));
    expect(parseAngle(-360)).toBe(degrees(-360));
    expect(parseForce(10_000)).toBe(10_000);
    expect(parseFeed(100_000, 'mm')).toBe(100_000);
    expect(parsePercent(0)).toBe(0);
    expect(parsePercent(100)).toBe(100);
    expect(parseArea(1e8, 'mm')).toBe(1e8);
    expect(parseNumber(1e6)).toBe(1e6);
    expect(parseNumber(0, 'zero-or-more')).toBe(0);
    expect(parseTemperature(-60)).toBe(-60);
    expect(parseTemperature('80 C')).toBe(80);
  });

  it('takes a hundred characters and no more', () => {
    const zeros = (more: number) => `${'0'.repeat(more)}7.6`;
    expect(parseLength(zeros(97), 'mm')).toBe(7.6);
    expect(parseLength(zeros(98), 'mm')).toMatch(
      /has more than 100 characters; a shorter way to write a length/,
    );
    expect(parseTemperature(zeros(97))).toBe(7.6);
    expect(parseTemperature(zeros(98))).toMatch(/a shorter way to write a temperature was wanted\.$/);
  });
});

describe('texts as makers write them', () => {
  it.each<[string, LengthStyle, number]>([
    ['12 1/2 in', 'mm', 317.5],
    ['1  1/2 in', 'mm', 38.1],
    ['1  -  1/2 in', 'mm', 38.1],
    ['15/16 in', 'mm', 23.8125],
    ['1/16 in', 'mm', 1.5875],
    ['.35 in', 'mm', 8.89],
    ['1.25 cm', 'mm', 12.5],
    ['3', 'in', 76.2],
  ])('%s in a job of %s', (text, style, wanted) => {
    expect(parseLength(text, style)).toBeCloseTo(wanted, 12);
  });

  it.each([
    'x1/2 in',
    '1/2. in',
    '5\n7 mm',
    '7.6 mm mm',
    '--1 mm',
    'x7.6 mm',
    '1/2/3 in',
    '7.6.1 mm',
    '1 .5 mm',
  ])('refuses %j', (text) => {
    expect(parseLength(text, 'mm')).toMatch(/is not a/);
  });

  it('knows the other units', () => {
    expect(parseAngle('1 degree')).toBe(degrees(1));
    expect(parseAngle('2 degrees')).toBe(degrees(2));
    expect(parseFeed('1 in/s', 'mm')).toBe(1524);
    expect(parseFeed('2 in/min', 'mm')).toBe(50.8);
    expect(parseFeed('1/2 in/min', 'mm')).toBe(12.7);
    expect(parseArea('2 cm2', 'mm')).toBe(200);
    expect(parseArea('1 in2', 'mm')).toBeCloseTo(645.16, 10);
    expect(parseForce('10')).toBe(10);
    expect(parseNumber('1/2')).toBe(0.5);
    expect(psi(1000)).toBeCloseTo(6.894757293168, 9); // NIST SP 811, appendix B
    expect(poundsForce(2)).toBeCloseTo(8.896443230521, 9);
  });

  it.each<[string, number]>([
    [' 70 F ', (38 * 5) / 9],
    ['70f', (38 * 5) / 9],
    ['70 °F', (38 * 5) / 9],
    ['70°F', (38 * 5) / 9],
    ['21 ° C', 21],
    ['21c', 21],
    [' 21 ', 21],
    ['21  °  C', 21],
  ])('reads the temperature %j', (text, wanted) => {
    expect(parseTemperature(text)).toBeCloseTo(wanted, 12);
  });

  it.each(['21 Cx', '21 C 5', 'f70', '70 xf', 'F', '7,5 C', true, null])(
    'finds no temperature in %j',
    (text) => {
      expect(parseTemperature(text)).toMatch(/no temperature/);
    },
  );
});

describe('printers at the places where the digits change', () => {
  it.each<[number, UnitName, LengthStyle, string]>([
    [0.9999, 'mm', 'mm', '1.000 mm'],
    [1, 'mm', 'mm', '1.00 mm'],
    [-1, 'mm', 'mm', '-1.00 mm'],
    [100, 'mm', 'mm', '100.0 mm'],
    [1, 'mm2', 'mm', '1.00 mm2'],
    [0.5, 'mm2', 'mm', '0.500 mm2'],
    [100, '%', 'mm', '100.0 %'],
    [0.5, 'MPa', 'mm', '0.50 MPa'],
    [1, 'N', 'mm', '1.0 N'],
    [100, 'N', 'mm', '100 N'],
    [99.94, 'min', 'mm', '99.9 min'],
    [99.94, 'times', 'mm', '99.94 times'],
    [100, 'times', 'mm', '100.0 times'],
    [2.5, 'count', 'mm', '2.5'],
    [300, 'count', 'mm', '300'],
    [6.4516, 'mm2', 'in', '0.0100 in2'],
    [64516, 'mm2', 'in', '100.00 in2'],
    [5000, 'mm', 'in', '196.8504 in'],
    [163870.64, 'mm3', 'in', '10.0000 in3'],
    [Number.NEGATIVE_INFINITY, 'mm', 'mm', 'below all'],
    [-0.2, 'mm', 'mm', '-0.200 mm'],
    [-0.2, 'yes', 'mm', 'yes'],
  ])('prints %f %s for a maker in %s as %s', (value, unit, style, wanted) => {
    expect(show(value, unit, style)).toBe(wanted);
  });

  it('adds digits until two values differ, and no more than nine', () => {
    expect(show(1e-9, 'mm', 'mm', 0)).toBe('0.000000001 mm');
    expect(show(0, 'mm', 'mm', 1e-9)).toBe('0.000000000 mm');
    expect(show(0.9e-9, 'mm', 'mm', 0)).toBe('0.000 mm');
    expect(show(120.4, 'N', 'mm', 120.44)).toBe('120.40 N');
    expect(show(99.99996, 'mm', 'mm', 100)).toBe('99.99996 mm');
    expect(show(2e-9, 'mm3', 'in', 1e-7)).toBe('0.000000000 in3');
    expect(show(3, 'mm', 'mm', Number.POSITIVE_INFINITY)).toBe('3.00 mm');
    expect(show(3, 'mm', 'mm', Number.NaN)).toBe('3.00 mm');
  });

  it('prints no unit after a word', () => {
    expect(show(Number.NaN, 'N', 'mm')).toBe('not a number');
    expect(['times', 'yes', 'mm3', 'deg'].map((unit) => unitText(unit as UnitName, 'in'))).toEqual([
      'times',
      '',
      'in3',
      'deg',
    ]);
  });
});
