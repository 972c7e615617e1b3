import { describe, expect, it } from 'vitest';
import { hardOf, LIMIT_NAMES, LIMITS, type LimitName, limitsOf, stricter } from '../../src/job/limits.ts';
import { nearest } from '../../src/job/near.ts';
import { SOURCE_NAMES, SPREAD } from '../../src/job/spread.ts';

describe('the table of limits', () => {
  it('gives each a kebab-case name, a finite value, a ground and a meaning', () => {
    for (const name of LIMIT_NAMES) {
      const { value, ground, means } = LIMITS[name];
      expect(name).toMatch(/^[a-z]+(-[a-z]+)+$/);
      expect(Number.isFinite(value) && value >= 0, name).toBe(true);
      expect(ground, name).toMatch(
        /handbook|follows from the geometry|common practice, no source|estimate|standard/i,
      );
      expect(means, name).toMatch(/^[a-z].{8,}[a-z)]$/);
    }
  });

  it('has a soft limit for every hard one, in the same unit, with less asked by the hard one', () => {
    const hard = LIMIT_NAMES.filter((name) => name.endsWith('-hard'));
    expect(hard.length).toBeGreaterThan(4);
    for (const name of hard) {
      const soft = name.replace(/-hard$/, '') as LimitName;
      expect(hardOf(soft)).toBe(name);
      expect(LIMITS[soft].unit).toBe(LIMITS[name].unit);
      expect(stricter(soft, LIMITS[name].value, LIMITS[soft].value), name).toBe(false);
    }
  });

  it('lays a job over the defaults and takes the hard limit along when it is passed', () => {
    expect(limitsOf({})).toEqual(Object.fromEntries(LIMIT_NAMES.map((name) => [name, LIMITS[name].value])));
    expect(limitsOf({ 'rim-gap-most': 0.08 })).toMatchObject({
      'rim-gap-most': 0.08,
      'rim-gap-most-hard': 0.1,
    });
    expect(limitsOf({ 'rim-gap-most': 0.2 })).toMatchObject({
      'rim-gap-most': 0.2,
      'rim-gap-most-hard': 0.2,
    });
    expect(limitsOf({ 'glue-gap-least': 0.1 })).toMatchObject({ 'glue-gap-least-hard': 0.1 });
    expect(limitsOf({ 'glue-gap-least': 0.3 })).toMatchObject({ 'glue-gap-least-hard': 0.2 });
    expect(limitsOf({ 'rim-gap-most': 0.2, 'rim-gap-most-hard': 0.3 })).toMatchObject({
      'rim-gap-most-hard': 0.3,
    });
  });
});

describe('the table of what varies', () => {
  it('marks every default as common practice, since none is published', () => {
    for (const name of SOURCE_NAMES) {
      expect(SPREAD[name].ground).toBe('common practice, no source');
      expect(SPREAD[name].value, name).toBeGreaterThan(0);
    }
  });
});

describe('the nearest name', () => {
  const known = ['flat-depth', 'start-depth', 'tip-flat', 'tip-radius', 'angle', 'saw'];
  it.each([
    ['flatdepth', 'flat-depth'],
    ['flatDepth', 'flat-depth'],
    ['FLAT_DEPTH', 'flat-depth'],
    ['falt-depth', 'flat-depth'],
    ['tip-radious', 'tip-radius'],
    ['angel', 'angle'],
    ['saws', 'saw'],
    ['colour', undefined],
    ['', undefined],
    ['x'.repeat(5000), undefined],
  ])('%s -> %s', (written, wanted) => {
    expect(nearest(written, known)).toBe(wanted);
  });
});
