import { describe, expect, it } from 'vitest';
import { wearSanding } from '../../rules/wear/sanding.ts';
import { degrees } from '../../src/units.ts';
import { ask } from '../pairs.ts';

const SHARP = { 'bit.tip-flat': 0 };
const stroke = (width: number) =>
  `<rect id="broad" x="10" y="10" width="40" height="30"/><rect id="fine" x="10" y="60" width="70" height="${width}"/>`;
const asked = (width: number, job: Record<string, unknown> = {}) =>
  ask(wearSanding, { pocket: stroke(width), job: { ...SHARP, ...job } });

describe('wear.sanding', () => {
  it('compares what a stroke stands between bit angles: half its width over the slope, in whole resurfacings', () => {
    // 0.8 mm over tan(7.5), tan(30), tan(45): 6.08 (but 5 of mating), 1.386 and 0.8 mm, at 0.25 mm each.
    const says = asked(1.6, { 'limits.sanding-each': 0.25 }).readings[0]?.says;
    expect(says).toContain('cut with a bit of 15, 60 and 90 degrees it would stand 20, 5 and 3 of them');
    expect(says).not.toMatch(/bit of [^.]*30/);
  });

  it('a stroke of 1.6 mm is gone after 3.0 mm with a 30 degree bit, after 1.4 mm with 60 (half width over slope)', () => {
    const narrow = asked(1.6).readings[0];
    expect(narrow?.measured.value).toBeCloseTo(0.8 / Math.tan(degrees(15)), 2);
    expect(narrow?.measured.value).toBeCloseTo(2.99, 1);
    expect(asked(1.6, { 'bit.angle': 60 }).readings[0]?.measured.value).toBeCloseTo(1.386, 1);
  });

  it('holds, is close at and below the limit, breaks', () => {
    const widthFor = (sanded: number) => 2 * sanded * Math.tan(degrees(15));
    expect(asked(widthFor(1.05)).outcome).toBe('pass');
    expect(asked(widthFor(1)).outcome).toBe('close');
    expect(asked(widthFor(0.3)).outcome).toBe('close');
    expect(asked(widthFor(0.2)).outcome).toBe('fail');
    expect(asked(widthFor(0.2)).readings[0]?.place.element).toBe('#fine');
  });

  it('names a width that mends, and asks for depth when the plug ends before its width does', () => {
    const cure = asked(0.3).readings[0]?.cure ?? '';
    const width = Number(/to ([\d.]+) mm/.exec(cure)?.[1]);
    expect(asked(width + 0.02).outcome).toBe('pass');
    const shallow = asked(20, { 'plug.start-depth': 0.8, 'pocket.flat-depth': 3.4 }).readings[0];
    expect(shallow?.measured.value).toBeCloseTo(0.8, 2);
    expect(shallow?.cure).toContain('mating depth');
  });

  it('counts what the plug stands proud: a flat tip in narrow strokes holds it up', () => {
    const blunt = asked(1.6, { 'bit.tip-flat': 0.3 }).readings[0];
    expect(blunt?.says).toContain('Standing proud');
    expect(blunt?.measured.value).toBeLessThan((asked(1.6).readings[0]?.measured.value ?? 0) - 0.1);
  });

  it('leaves strokes that the tip does not get into to bit.tip', () => {
    const fine = asked(0.12, { 'bit.tip-flat': 0.1 });
    expect(fine.outcome).toBe('moot');
    expect(fine.moot[0]).toContain('bit.tip');
  });

  it('has no business where the walls never meet, and sees nothing without an outline', () => {
    expect(asked(3, { 'plug.start-depth': 0 }).outcome).toBe('moot');
    expect(ask(wearSanding, { pocket: '' }).outcome).toBe('untold');
  });

  it('tells how the joint opens when the plug is cut at a flatter angle than the pocket', () => {
    // At depth s below the rim the walls are s (tan 30 - tan 15) = 0.3094 s apart: follows from the geometry.
    const at = (angle: number) =>
      ask(wearSanding, {
        pocket: stroke(20),
        job: { ...SHARP, 'plug-bit': { angle, 'tip-flat': 0 } },
      }).readings.find((reading) => reading.label?.startsWith('Line after'));
    expect(at(60)?.measured.value).toBeCloseTo(0.3094, 3);
    expect(at(60)).toMatchObject({ outcome: 'fail' });
    expect(at(38)?.outcome).toBe('close');
    expect(at(32)?.outcome).toBe('pass');
    // Steeper than the pocket, the plug stands on its face's edge and fit.proud tells it; alike, nothing opens.
    expect(at(20)).toBeUndefined();
    expect(at(30)).toBeUndefined();
  });

  it('names a width that mends where a flat tip holds the plug a little proud', () => {
    const job = { 'bit.tip-flat': 0.06 };
    const cure = asked(0.5, job).readings[0]?.cure ?? '';
    const width = Number(/to ([\d.]+) mm/.exec(cure)?.[1]);
    expect(asked(width + 0.02, job).outcome).toBe('pass');
  });

  it('asks for the seat to be mended before the depth when the plug stands far proud', () => {
    const pair = {
      pocket: stroke(20),
      job: { ...SHARP, 'plug-bit': { angle: 15, 'tip-flat': 0 }, 'limits.sanding-least': 4 },
    };
    const reading = ask(wearSanding, pair).readings[0];
    expect(reading?.outcome).not.toBe('pass');
    expect(reading?.cure).toContain('fit.proud');
  });
});
