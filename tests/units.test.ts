import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  degrees,
  inches,
  type LengthStyle,
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
  show,
  showBare,
  toDegrees,
  toInches,
  type UnitName,
  unitText,
} from '../src/units.ts';

const SEED = 20_117;

describe('factors', () => {
  it('takes the inch as 25.4 mm exactly (international yard and pound agreement, 1959)', () => {
    expect(inches(1)).toBe(25.4);
    expect(toInches(254)).toBe(10);
  });

  it('takes the pound-force as the international pound (0.45359237 kg, 1959) under standard gravity (9.80665 m/s2, CGPM 1901)', () => {
    expect(poundsForce(1)).toBeCloseTo(0.45359237 * 9.80665, 12);
  });

  it('takes psi as a pound-force on a square inch; NIST SP 811 appendix B prints 6.894 757 E+03 Pa', () => {
    expect(psi(1)).toBeCloseTo(poundsForce(1) / (25.4 * 25.4), 14);
    expect((psi(1) * 1e6).toFixed(3)).toBe('6894.757');
  });

  it('turns degrees round and round', () => {
    expect(degrees(180)).toBe(Math.PI);
    expect(toDegrees(degrees(30))).toBeCloseTo(30, 12);
  });
});

describe('lengths as makers write them', () => {
  // Each product is arithmetic on the exact inch.
  it.each<[unknown, LengthStyle, number]>([
    [7.6, 'mm', 7.6],
    [0.3, 'in', 7.62],
    ['7.6 mm', 'in', 7.6],
    ['7.6mm', 'in', 7.6],
    [' 7.6  MM ', 'in', 7.6],
    ['0.3 in', 'mm', 7.62],
    ['.3 inch', 'mm', 7.62],
    ['3. in', 'mm', 76.2],
    ['5/16 in', 'mm', 7.9375],
    ['5/16"', 'mm', 7.9375],
    ['5 / 16 ″', 'mm', 7.9375],
    ['5/16', 'in', 7.9375],
    ['1 1/2 in', 'mm', 38.1],
    ['1-1/2 in', 'mm', 38.1],
    ['1 - 1/2”', 'mm', 38.1],
    ['0.3"', 'mm', 7.62],
    ['12 cm', 'mm', 120],
    ['10 m', 'mm', 10_000],
    ['2 inches', 'mm', 50.8],
    ['+2', 'in', 50.8],
  ])('reads %j in a job of %s as %f mm', (written, style, wanted) => {
    expect(parseLength(written, style)).toBeCloseTo(wanted, 12);
  });

  it.each<[unknown, LengthStyle, RegExp]>([
    ['7,6 mm', 'mm', /comma.*7\.6 mm/],
    ['1,000', 'mm', /comma/],
    ['5/16', 'mm', /fraction without a unit.*5\/16 in/],
    ['1/0 in', 'mm', /divided by zero/],
    ['7.6 mn', 'mm', /"mn".*not a unit of length; use mm, cm, m, in/],
    ['7.6 constructor', 'mm', /not a unit/],
    ["7.6'", 'mm', /not a unit/],
    ['1e3 mm', 'mm', /not a/],
    ['1 000 mm', 'mm', /not a length/],
    ['1.2.3', 'mm', /not a length/],
    ['mm', 'mm', /not a length/],
    ['', 'mm', /not a length/],
    ['½ in', 'mm', /not a length/],
    ['0x10', 'mm', /not a/],
    [true, 'mm', /true is not a length/],
    [null, 'mm', /not a length/],
    [[1], 'mm', /not a length/],
    [Number.NaN, 'mm', /No number that can be cut/],
    [Number.POSITIVE_INFINITY, 'mm', /No number that can be cut/],
    [0, 'mm', /zero; a length above zero/],
    ['-3 mm', 'mm', /below zero; a length above zero/],
    ['−3 mm', 'mm', /below zero/],
    [10_000.001, 'mm', /more than 10 m/],
    [394, 'in', /more than 10 m/],
  ])('refuses %j in a job of %s', (written, style, sentence) => {
    expect(parseLength(written, style)).toMatch(sentence);
  });

  it('takes zero and values below it where they make sense', () => {
    expect(parseLength(0, 'mm', 'zero-or-more')).toBe(0);
    expect(parseLength(-1, 'mm', 'zero-or-more')).toMatch(/below zero; a length of zero or more/);
    expect(parseLength('-1 1/2 in', 'mm', 'any')).toBeCloseTo(-38.1, 12);
    expect(parseLength(-10_001, 'mm', 'any')).toMatch(/more than 10 m/);
  });

  it('answers any text with a length or a sentence, quickly', () => {
    const bits = fc.constantFrom(
      '1',
      '0',
      '.',
      ',',
      '/',
      '-',
      ' ',
      'in',
      'mm',
      '"',
      'e',
      '+',
      'x',
      '\n',
      '9'.repeat(400),
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(bits).map((all) => all.join('')),
        ),
        (text) => {
          const read = parseLength(text, 'mm', 'any');
          return typeof read === 'string'
            ? read.length > 0
            : Number.isFinite(read) && Math.abs(read) <= 10_000;
        },
      ),
      { numRuns: 3000, seed: SEED },
    );
  });
});

describe('other quantities', () => {
  it('reads angles', () => {
    expect(parseAngle('30 deg')).toBe(degrees(30));
    expect(parseAngle(30)).toBe(degrees(30));
    expect(parseAngle('30°')).toBe(degrees(30));
    expect(parseAngle('0.5236 rad')).toBe(0.5236);
    expect(parseAngle('30 grad')).toMatch(/"grad".*not a unit of angle/);
    expect(parseAngle(360)).toBe(degrees(360));
    expect(parseAngle(361)).toMatch(/more than 360 degrees/);
    expect(parseAngle(0, 'positive')).toMatch(/zero/);
  });

  it('reads forces, feeds, areas, percentages, temperatures and plain numbers', () => {
    expect(parseForce('10 N')).toBe(10);
    expect(parseForce('2 lbf')).toBe(poundsForce(2));
    expect(parseForce('2 kg')).toMatch(/not a unit of force/);
    expect(parseFeed(1200, 'mm')).toBe(1200);
    expect(parseFeed(50, 'in')).toBe(1270);
    expect(parseFeed('20 mm/s', 'in')).toBe(1200);
    expect(parseFeed('1.2 m/min', 'in')).toBe(1200);
    expect(parseFeed('200 m/min', 'mm')).toMatch(/more than 100 m\/min/);
    expect(parseArea('0.05 mm2', 'in')).toBe(0.05);
    expect(parseArea(1, 'in')).toBeCloseTo(645.16, 10);
    expect(parsePercent('0.1 %')).toBe(0.1);
    expect(parsePercent('0.1%')).toBe(0.1);
    expect(parsePercent(101)).toMatch(/more than 100 %/);
    expect(parseTemperature('21 C')).toBe(21);
    expect(parseTemperature('70 F')).toBeCloseTo(21.111, 3); // (70 - 32) x 5 / 9
    expect(parseTemperature('-5 °C')).toBe(-5);
    expect(parseTemperature('70 K')).toMatch(/no temperature/);
    expect(parseTemperature(120)).toMatch(/outside/);
    expect(parseNumber(2.5)).toBe(2.5);
    expect(parseNumber('2.5 mm')).toMatch(/has a unit/);
  });
});

describe('printers', () => {
  it.each<[number, UnitName, LengthStyle, string]>([
    [0.0312, 'mm', 'mm', '0.031 mm'],
    [7.6, 'mm', 'mm', '7.60 mm'],
    [118.24, 'mm', 'mm', '118.2 mm'],
    [-0.00001, 'mm', 'mm', '0.000 mm'],
    [7.62, 'mm', 'in', '0.3000 in'],
    [0.0254, 'mm', 'in', '0.0010 in'],
    [645.16, 'mm2', 'in', '1.0000 in2'],
    [0.05, 'mm2', 'in', '0.000078 in2'],
    [16387.064, 'mm3', 'in', '1.0000 in3'],
    [9.07, 'N', 'in', '9.1 N'],
    [120.4, 'N', 'mm', '120 N'],
    [30, 'deg', 'mm', '30.0 deg'],
    [0.1, '%', 'mm', '0.100 %'],
    [2, 'times', 'mm', '2.00 times'],
    [3, 'count', 'mm', '3'],
    [1, 'yes', 'mm', 'yes'],
    [0, 'yes', 'mm', 'no'],
    [Number.NaN, 'mm', 'mm', 'not a number'],
    [Number.POSITIVE_INFINITY, 'mm', 'mm', 'without end'],
  ])('prints %f %s for a maker in %s as %s', (value, unit, style, wanted) => {
    expect(show(value, unit, style)).toBe(wanted);
  });

  it('never lets a value just over its limit look equal to it', () => {
    expect(show(0.05004, 'mm', 'mm', 0.05)).toBe('0.05004 mm');
    expect(show(0.05, 'mm', 'mm', 0.05004)).toBe('0.05000 mm');
    expect(show(9.9996, 'mm', 'mm', 10)).toBe('9.9996 mm');
    expect(show(0.0500000000001, 'mm', 'mm', 0.05)).toBe('0.050 mm'); // arithmetic, not wood
    expect(show(2.01, 'count', 'mm', 2)).toBe('2.01');
  });

  it('keeps the order of any two values in print', () => {
    const units: readonly UnitName[] = ['mm', 'mm2', 'mm3', 'deg', 'N', 'MPa', '%', 'times', 'count', 'min'];
    const near = fc.tuple(
      fc.double({ min: 0.001, max: 3000, noNaN: true }),
      fc.double({ min: -1, max: 1, noNaN: true }),
      fc.integer({ min: -7, max: 2 }),
      fc.constantFrom(...units),
      fc.constantFrom<LengthStyle>('mm', 'in'),
    );
    fc.assert(
      fc.property(near, ([limit, part, power, unit, style]) => {
        const value = limit + part * 10 ** power;
        // An inch cubed hides 16387 mm3: nine decimals cannot hold nanometres there.
        if (Math.abs(value - limit) < (style === 'in' ? 4e-5 : 1e-8)) return true;
        const text = Number(showBare(value, unit, style, limit));
        const limitText = Number(showBare(limit, unit, style, value));
        return value > limit ? text > limitText : text < limitText;
      }),
      { numRuns: 5000, seed: SEED },
    );
  });

  it('prints what it reads back, within half of its last digit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 9000, noNaN: true }),
        fc.constantFrom<LengthStyle>('mm', 'in'),
        (value, style) => {
          const text = show(value, 'mm', style);
          const half =
            (0.5 / 10 ** (text.split(' ')[0]?.split('.')[1]?.length ?? 0)) * (style === 'in' ? 25.4 : 1);
          return Math.abs(Number(parseLength(text, 'mm')) - value) <= half * 1.000001;
        },
      ),
      { numRuns: 2000, seed: SEED },
    );
  });

  it('names units for a column', () => {
    expect(unitText('mm2', 'in')).toBe('in2');
    expect(unitText('N', 'in')).toBe('N');
    expect(unitText('count', 'mm')).toBe('');
  });
});
