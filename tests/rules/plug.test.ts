import { describe, expect, it } from 'vitest';
import { plugBreakage } from '../../rules/plug/breakage.ts';
import { degrees } from '../../src/units.ts';
import { ask, LEAF } from '../pairs.ts';

/** A stroke that stands alone, along x or along y; the grain of the stock runs along x in every job here. */
const stroke = (width: number, length: number, along: 'x' | 'y'): string =>
  along === 'x'
    ? `<rect id="stroke" x="20" y="40" width="${length}" height="${width}"/>`
    : `<rect id="stroke" x="40" y="20" width="${width}" height="${length}"/>`;
const wood = (name: string | undefined) => ({ 'plug.stock.wood': name });
const asked = (pocket: string, job: Record<string, unknown> = {}) =>
  ask(plugBreakage, { pocket, job: { ...wood('cherry-black'), ...job } });

describe('plug.breakage', () => {
  it('lets 1.2 mm strokes of closed-grained woods stand (common practice, no source)', () => {
    for (const name of ['cherry-black', 'maple-sugar', 'birch-yellow'])
      for (const along of ['x', 'y'] as const)
        expect(['pass', 'close']).toContain(asked(stroke(1.2, 40, along), wood(name)).outcome);
    expect(asked(stroke(1.5, 40, 'x')).outcome).toBe('pass');
  });

  it('fails a 0.4 mm stroke of short grain (common practice, no source)', () => {
    const check = asked(stroke(0.4, 8, 'y'));
    expect(check.outcome).toBe('fail');
    expect(check.readings[0]?.says).toContain('short grain');
    expect(check.readings[0]?.place.element).toBe('#stroke');
  });

  it('bears what the formula of a wall on its root gives, at its weakest depth', () => {
    // Bending 3 q h^2 / (L w^2), L = w + spread x h; cherry 560 psi (Wood Handbook Table 5-3b); the spread is the
    // fourth root of the stiffness along the wall over that up it, sugar maple's ratios (Table 5-1) for want of cherry's.
    const t = Math.tan(degrees(15));
    const spread = (0.065 / 0.132) ** 0.25;
    const top = Math.min(5, 0.5 / t);
    let [least, height] = [Number.POSITIVE_INFINITY, 0];
    for (let depth = 0; depth <= 2.6; depth += 0.001) {
      const [w, h] = [1 + 2 * t * depth, top + depth];
      // At the free end of the stroke the push spreads one way only; the other way the wood goes on for half a width.
      const side = (w + spread * h) / 2;
      const bears = (3.861 * (side + Math.min(side, 0.5 + t * depth)) * w * w) / (3 * h * h);
      if (bears < least) [least, height] = [bears, h];
    }
    const reading = asked(stroke(1, 60, 'y')).readings[0];
    expect(reading?.measured.value).toBeCloseTo(least * height, 1);
    expect(reading?.want.atLeast).toBeCloseTo(1.5 * 0.7 * height, 2);
  });

  it('is exactly at the limit, then beyond it', () => {
    const pocket = stroke(1, 40, 'y');
    const reading = asked(pocket).readings[0];
    const times = (reading?.measured.value ?? 0) / ((reading?.want.atLeast ?? 0) / 1.5);
    const at = (least: number, hard: number) =>
      asked(pocket, { 'limits.breakage-safety-least': least, 'limits.breakage-safety-least-hard': hard })
        .outcome;
    expect(at(times, 0.5)).toBe('pass');
    expect(at(times + 1e-6, 0.5)).toBe('close');
    expect(at(times + 1e-6, times)).toBe('close');
    expect(at(times + 1, times + 1e-6)).toBe('fail');
  });

  it('names mends that mend: the quarter turn and the width', () => {
    const weak = asked(stroke(1.2, 40, 'y')).readings[0];
    expect(weak?.outcome).toBe('close');
    expect(weak?.cure).toMatch(/^Turn the plug stock a quarter turn \(then \d/);
    expect(asked(stroke(1.2, 40, 'y'), { 'plug.stock.grain-angle': 90 }).outcome).toBe('pass');
    const width = Number(/widen it to ([\d.]+) mm/.exec(weak?.cure ?? '')?.[1]);
    expect(asked(stroke(width + 0.01, 40, 'y')).outcome).toBe('pass');
    // It is on the safe side by a tenth at a free end, whose half width grows with the stroke.
    expect(asked(stroke(0.85 * width, 40, 'y')).outcome).toBe('close');
  });

  it('never bears less when the stroke is wider, lower, or turned to long grain', () => {
    const share = (pocket: string, job: Record<string, unknown> = {}) => {
      const reading = asked(pocket, job).readings[0];
      return (reading?.measured.value ?? 0) / (reading?.want.atLeast ?? 1);
    };
    const widths = [0.5, 0.8, 1.2, 1.8, 2.6].map((width) => share(stroke(width, 40, 'y')));
    expect(widths).toEqual(widths.toSorted((a, b) => a - b));
    expect(share(stroke(1.2, 40, 'x'))).toBeGreaterThan(share(stroke(1.2, 40, 'y')));
    expect(share(stroke(1.2, 40, 'y'), { 'plug.flat-depth': 1.8 })).toBeGreaterThanOrEqual(
      share(stroke(1.2, 40, 'y')),
    );
  });

  it('shows the narrowest part when nothing is thin', () => {
    const check = asked(LEAF);
    expect(check.outcome).toBe('pass');
    expect(check.readings[0]?.label).toBe('Narrowest part of the plug');
    expect(check.readings[0]?.measured.unit).toBe('N');
  });

  it('judges a sharp tip by how much of it crumbles', () => {
    const wedge = (base: number) => `<path d="M10 50 L80 ${50 - base} L80 ${50 + base} Z"/>`;
    const tips = (base: number) =>
      asked(wedge(base)).readings.filter((reading) => reading.label === 'Sharp tip of the plug');
    expect(tips(15)).toHaveLength(0);
    expect(tips(4)[0]?.outcome).toBe('close');
    expect(tips(2)[0]?.outcome).toBe('fail');
    expect(tips(4)[0]?.place.at?.[0]).toBeCloseTo(90, 3); // the plug is mirrored in a 100 mm drawing
  });

  it('says what it took where no figure is printed, and then neither fails nor hides it', () => {
    // Sugar maple has a dash for tension across the grain (Wood Handbook Table 5-3b).
    const check = asked(stroke(0.3, 20, 'y'), wood('maple-sugar'));
    expect(check.outcome).toBe('close');
    expect(check.readings[0]?.says).toContain('3.1 % of its bending strength');
  });

  it('minds the pores of an open-grained wood', () => {
    const oak = asked(stroke(0.9, 40, 'x'), wood('oak-red-northern-red'));
    expect(oak.readings.find((reading) => reading.label === 'Open grain in the plug')?.outcome).toBe('close');
    expect(asked(stroke(0.9, 40, 'x')).readings.every((reading) => reading.measured.unit === 'N')).toBe(true);
    expect(asked(stroke(0.9, 40, 'x'), wood('teak')).untold[0]).toContain('pores');
    expect(asked(LEAF, wood('teak')).untold).toEqual([]);
  });

  it('takes the weakest way where the grain is not stated, and says so', () => {
    const silent = asked(stroke(1.2, 40, 'x'), { 'plug.stock.grain-angle': undefined }).readings[0];
    const across = asked(stroke(1.2, 40, 'y')).readings[0];
    expect(silent?.measured.value).toBeCloseTo(across?.measured.value ?? 0, 2);
    expect(silent?.says).toContain('weakest way');
  });

  it('cannot see without a wood, or with one that the tables lack, and that alone is no FAIL', () => {
    expect(asked(LEAF, wood(undefined))).toMatchObject({ outcome: 'untold', essential: false });
    expect(asked(LEAF, wood(undefined)).untold[0]).toContain('plug: stock: wood');
    expect(asked(LEAF, wood('unlisted')).untold[0]).toContain('not in the tables');
  });
});
