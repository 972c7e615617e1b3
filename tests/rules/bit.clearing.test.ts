import { describe, expect, it } from 'vitest';
import { bitClearing } from '../../rules/bit/clearing.ts';
import { degrees } from '../../src/units.ts';
import { ask } from '../pairs.ts';

const panel = (width: number, length = 30) => `<rect x="20" y="30" width="${width}" height="${length}"/>`;
const asked = (job: Record<string, unknown>, pocket = panel(40)) =>
  ask(bitClearing, {
    pocket,
    job: { 'bit.tip-flat': 0, 'clearing-bit': { diameter: 3.175, 'cutting-length': 12 }, ...job },
  });
const cleared = (side: string, job: Record<string, unknown> = {}, pocket?: string) =>
  asked(job, pocket).readings.find((reading) => reading.label === `Cleared of the ${side}`);

describe('bit.clearing', () => {
  it('clears a rectangle less the slope, with round corners', () => {
    // Full depth: (a - 2 k)(b - 2 k) - (4 - pi) r^2, k = flat x slope; the whole is a box with sloping walls.
    const t = Math.tan(degrees(15));
    const k = 7.6 * t;
    const area = (40 - 2 * k) * (30 - 2 * k) - (4 - Math.PI) * 1.5875 ** 2;
    const at = (depth: number) => (40 - 2 * t * depth) * (30 - 2 * t * depth);
    const all = (7.6 / 6) * (at(0) + 4 * at(3.8) + at(7.6));
    const reading = cleared('pocket');
    expect(reading?.measured.value).toBeCloseTo((100 * 7.6 * area) / all, 0);
    expect(Number(/clears ([\d.]+) mm2/.exec(reading?.says ?? '')?.[1])).toBeCloseTo(area, 0);
  });

  it('its edges are long enough, exactly so, too short', () => {
    const at = (length: number) =>
      asked({ 'clearing-bit': { diameter: 3.175, 'cutting-length': length } }).outcome;
    expect([12, 7.6, 7.59].map(at)).toEqual(['pass', 'pass', 'fail']);
  });

  it('that it fits nowhere, or hardly, is worth a look and no fault', () => {
    const k = 2 * 7.6 * Math.tan(degrees(15));
    expect(cleared('pocket', {}, panel(k + 3.1))?.outcome).toBe('close');
    expect(cleared('pocket', {}, panel(k + 3.1))?.measured.value).toBe(0);
    expect(cleared('pocket', {}, panel(k + 3.3))?.measured.value).toBeGreaterThan(0);
    expect(cleared('pocket')?.outcome).toBe('pass');
    const share = cleared('pocket')?.measured.value ?? 0;
    expect(cleared('pocket', { 'limits.cleared-share-least': share - 1 })?.outcome).toBe('pass');
    expect(cleared('pocket', { 'limits.cleared-share-least': share })?.outcome).toBe('close');
  });

  it('estimates times only from feeds that the job gives', () => {
    const feeds = {
      feeds: {
        'v-bit': { feed: 600, 'step-down': 2, 'step-over': 0.5 },
        clearing: { feed: 1200, 'step-down': 2, 'step-over': 1.2 },
      },
    };
    expect(cleared('pocket')?.says).not.toContain('estimate');
    expect(cleared('pocket', feeds)?.says).toMatch(
      /clearing takes about [\d.]+ min, the V-bit about [\d.]+ min/,
    );
  });

  it('has no business without a clearing bit, and says what it misses of one', () => {
    expect(asked({ 'clearing-bit': undefined }).outcome).toBe('moot');
    expect(asked({ 'clearing-bit': { diameter: 3.175 } })).toMatchObject({
      outcome: 'untold',
      essential: false,
    });
  });
});
