import { describe, expect, it } from 'vitest';
import { depthGlue } from '../../rules/depth/glue.ts';
import { fitProud } from '../../rules/fit/proud.ts';
import { fitRim } from '../../rules/fit/rim.ts';
import { fitSpread } from '../../rules/fit/spread.ts';
import { tan30deg } from '../constants.ts';
import { ask, LEAF, mirrored } from '../pairs.ts';

const t = tan30deg.half;
/** A long bar: one level ridge all along, so that the tip's flat lifts the plug by r / t and opens r (geometry of the cut). */
const BAR = '<rect x="10" y="40" width="80" height="1.6"/>';
const first = (check: ReturnType<typeof ask>) => check.readings[0];

describe('a plug that lacks a piece', () => {
  it('has no fit to measure, whichever side lacks it: the hole would be told as a line', () => {
    const berry = '<circle cx="12" cy="12" r="4"/>';
    for (const [pocket, plug, part] of [
      [`${LEAF}${berry}`, mirrored(LEAF), 'The plug lacks a piece that the pocket has'],
      [LEAF, mirrored(`${LEAF}${berry}`), 'The pocket lacks a piece that the plug has'],
    ] as const)
      for (const rule of [fitRim, fitProud]) {
        const check = ask(rule, { pocket, plug });
        expect(check.outcome).toBe('moot');
        expect(check.moot[0]).toBe(`${part} (see pair.match), so there is no fit to measure.`);
      }
  });
});

describe('fit.rim', () => {
  it('is closed all round with a sharp point', () => {
    const reading = first(ask(fitRim, { pocket: LEAF, job: { 'bit.tip-flat': 0 } }));
    expect(reading?.outcome).toBe('pass');
    expect(reading?.measured.value).toBeLessThan(0.001);
  });

  it('opens half the tip flat over a narrow stroke, and is exact at the limit', () => {
    const gap = (flat: number) => first(ask(fitRim, { pocket: BAR, job: { 'bit.tip-flat': flat } }));
    expect(gap(0.08)?.measured.value).toBeCloseTo(0.04, 3);
    expect(gap(0.08)?.outcome).toBe('pass');
    expect(gap(0.08)?.cure).toBeUndefined();
    expect(gap(0.106)?.outcome).toBe('close');
    expect(gap(0.19)?.outcome).toBe('close');
    expect(gap(0.22)?.outcome).toBe('fail');
    expect(gap(0.22)?.says).toContain('narrow stroke');
  });

  it('names a mend with its number, and the number is true when the mend is made', () => {
    const bad = first(ask(fitRim, { pocket: BAR, job: { 'bit.tip-flat': 0.24 } }));
    const told = /tip flat of (\d\.\d+) mm leaves (\d\.\d+) mm open/.exec(bad?.cure ?? '');
    expect(told, bad?.cure).not.toBeNull();
    const mended = first(ask(fitRim, { pocket: BAR, job: { 'bit.tip-flat': Number(told?.[1]) } }));
    expect(mended?.measured.value).toBeCloseTo(Number(told?.[2]), 2);
  });

  it('offers no start depth that the mating depth or the glue gap would not pass', () => {
    // The bar's ridge lies 2.2 mm deep: a plug start that keeps it off the tip is under the 2.5 mm asked for.
    const narrow = first(ask(fitRim, { pocket: BAR.replace('1.6', '1.2'), job: { 'bit.tip-flat': 0.24 } }));
    expect(narrow?.cure).toContain('tip flat');
    expect(narrow?.cure).not.toContain('start depth');
  });

  it('offers a start depth that keeps to both limits, and none beyond either', () => {
    const bar = '<rect x="10" y="40" width="80" height="2.2"/>';
    const plain = { 'bit.tip-flat': 0.3, 'pocket.start-depth': 0.4, 'plug.start-depth': 4.6 };
    const cure = (job: Record<string, unknown>) =>
      first(ask(fitRim, { pocket: bar, job: { ...plain, 'pocket.flat-depth': 7, ...job } }))?.cure ?? '';
    const told = /start depth of (\d\.\d+) mm/.exec(cure({}));
    expect(told, cure({})).not.toBeNull();
    const [mating, glue] = [0.4 + Number(told?.[1]), 7 - Number(told?.[1])];
    for (const [by, is] of [
      [0.02, true],
      [-0.02, false],
    ] as const) {
      expect(cure({ 'limits.mating-depth-least': mating - by }).includes('start depth')).toBe(is);
      expect(cure({ 'limits.glue-gap-most': glue + by }).includes('start depth')).toBe(is);
    }
  });

  it('has a mend for a line that lies at the limit', () => {
    const reading = first(ask(fitRim, { pocket: BAR, job: { 'bit.tip-flat': 0.1 } }));
    expect(reading?.outcome).toBe('close');
    expect(reading?.cure).toContain('tip flat');
  });

  it('cannot tell without a tip, and has no business with a copy', () => {
    expect(ask(fitRim, { pocket: LEAF, job: { 'bit.tip-flat': undefined } }).outcome).toBe('untold');
    expect(ask(fitRim, { pocket: LEAF, plug: LEAF }).outcome).toBe('moot');
  });
});

describe('fit.proud', () => {
  it('lifts by r / t over a level ridge, and is exact at the limit', () => {
    const proud = (flat: number) => first(ask(fitProud, { pocket: BAR, job: { 'bit.tip-flat': flat } }));
    expect(proud(0.12)?.measured.value).toBeCloseTo(0.06 / t, 2);
    expect(proud(0.12)?.outcome).toBe('pass');
    expect(proud(0.2)?.outcome).toBe('close');
    expect(proud(0.34)?.outcome).toBe('fail');
  });

  it('is never off by more than a quarter of what is wanted', () => {
    const give = (most: number) =>
      first(ask(fitProud, { pocket: BAR, job: { 'limits.proud-most': most } }))?.give ?? Number.NaN;
    expect(give(0.3)).toBeLessThan(0.075);
    expect(give(0.3)).toBeGreaterThan(0.005);
    expect(give(0.02)).toBeCloseTo(0.005, 12);
  });

  it('blames what stops a level plug, not the wall on which a tilted one comes to rest', () => {
    const job = { 'bit.tip-flat': 0.3 };
    const pocket =
      '<rect x="10" y="20" width="60" height="60"/><rect x="80" y="20" width="1.2" height="60"/>';
    expect(first(ask(fitProud, { pocket, job }))?.says).toContain('narrow stroke 1.20 mm wide');
  });

  it('is not held by a wide plain shape', () => {
    expect(first(ask(fitProud, { pocket: '<circle cx="50" cy="50" r="30"/>' }))?.measured.value).toBeLessThan(
      0.01,
    );
  });

  it('sees the sharp spike of a notch, which is worse than any stroke of that width', () => {
    // A notch of 30 degrees into a disc-like body: the board's spike stands in a valley filled by the tip.
    const notch = '<path d="M10 20 H45 L50 38.66 L55 20 H90 V80 H10 Z"/>';
    const reading = first(ask(fitProud, { pocket: notch, job: { 'bit.tip-flat': 0.2 } }));
    // Reflex corner 330 degrees: lift t = r (1 / sin(165 deg) - 1) = 2.86 r. The plug slides out of the notch until the
    // wall across from it holds as high: half of that is left.
    expect(reading?.measured.value).toBeCloseTo((2.8637 * 0.1) / 2 / t, 2);
    expect(reading?.says).toContain('notch');
  });

  it('names what holds the plug in a whole sentence', () => {
    const job = { 'plug-bit': { angle: 20, 'tip-flat': 0.1 } };
    const says = first(ask(fitProud, { pocket: LEAF, job }))?.says;
    expect(says).toContain('What holds it first is the walls, cut at two different angles. It holds');
  });
});

describe('depth.glue after settling', () => {
  it('tells when a plug drawn too small sinks into its glue', () => {
    const circle = (r: number) =>
      `<circle cx="50" cy="50" r="${r}"/><rect x="84" y="${10 - (r - 30)}" width="10" height="${20 + 2 * (r - 30)}"/>`;
    const check = ask(depthGlue, {
      pocket: circle(30),
      plug: mirrored('<circle cx="50" cy="50" r="29.9"/><rect x="84.1" y="10.1" width="9.8" height="19.8"/>'),
      job: { 'pocket.flat-depth': 5.6 },
    });
    const settled = check.readings.find((reading) => reading.label === 'Glue gap once settled');
    // The tip's flat of 0.1 mm rounds the square corners, which stop the plug: r (1 - sin 45 deg).
    expect(settled?.measured.value).toBeCloseTo(0.6 - (0.1 - 0.05 * (1 - Math.SQRT1_2)) / t, 3);
    expect(settled?.outcome).not.toBe('pass');
    // Never taken to be off by more than a quarter of what is wanted.
    const strict = ask(depthGlue, {
      pocket: circle(30),
      plug: mirrored('<circle cx="50" cy="50" r="29.9"/><rect x="84.1" y="10.1" width="9.8" height="19.8"/>'),
      job: { 'pocket.flat-depth': 5.6, 'limits.glue-gap-least': 0.02, 'limits.glue-gap-least-hard': 0.01 },
    }).readings.find((reading) => reading.label === 'Glue gap once settled');
    expect(strict?.give).toBeCloseTo(0.005, 12);
    expect(settled?.give).toBeGreaterThan(0.005);
  });
});

describe('fit.spread', () => {
  it('holds when nothing varies, breaks when the board is far from flat, and names what matters', () => {
    const still = {
      'spread.tip-wear': 0,
      'spread.angle': 0,
      'spread.pocket-zero': 0,
      'spread.plug-zero': 0,
      'spread.pocket-flatness': 0,
      'spread.plug-flatness': 0,
      'spread.scale': 0,
      'spread.squareness': 0,
      'spread.runout': 0,
    };
    expect(first(ask(fitSpread, { pocket: LEAF, job: still }))?.measured.value).toBe(0);
    const bowed = first(ask(fitSpread, { pocket: LEAF, job: { ...still, 'spread.pocket-flatness': 2 } }));
    expect(bowed?.outcome).toBe('fail');
    expect(bowed?.says).toContain('how flat the board is');
  });

  it('gives the same chance for the same seed, and another seed stays within its own uncertainty', () => {
    const job = { 'spread.pocket-flatness': 0.5, 'spread.draws': 1000 };
    const a = first(ask(fitSpread, { pocket: LEAF, job }));
    const b = first(ask(fitSpread, { pocket: LEAF, job }));
    const c = first(ask(fitSpread, { pocket: LEAF, job: { ...job, 'spread.seed': 7 } }));
    expect(a?.measured.value).toBe(b?.measured.value);
    expect(Math.abs((a?.measured.value ?? 0) - (c?.measured.value ?? 99))).toBeLessThan(
      2 * ((a?.give ?? 0) + (c?.give ?? 0)),
    );
  });

  it('has no business where the fit fails already', () => {
    expect(ask(fitSpread, { pocket: BAR, job: { 'bit.tip-flat': 0.3 } }).outcome).toBe('moot');
  });
});
