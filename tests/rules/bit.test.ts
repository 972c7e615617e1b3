import { describe, expect, it } from 'vitest';
import { bitBetween } from '../../rules/bit/between.ts';
import { bitReach } from '../../rules/bit/reach.ts';
import { bitTip } from '../../rules/bit/tip.ts';
import { tan30deg } from '../constants.ts';
import { ask, goodJob, LEAF, withValues } from '../pairs.ts';

const bad = (check: ReturnType<typeof ask>) => check.readings.filter((reading) => reading.outcome !== 'pass');
/** Two blocks joined by a bar of the given width: a neck, 20 mm long. */
const neck = (width: number) =>
  `<path d="M10 20 H40 V${50 - width / 2} H60 V20 H90 V80 H60 V${50 + width / 2} H40 V80 H10 Z"/>`;
/** Two blocks with a gap of the given width between them. */
const gap = (width: number) =>
  `<rect x="10" y="20" width="30" height="60"/><rect x="${40 + width}" y="30" width="35" height="40"/>`;

describe('bit.tip', () => {
  const job = { 'bit.tip-flat': 0.5 };
  it('holds, is close, is exactly at the limit, breaks', () => {
    expect(ask(bitTip, { pocket: LEAF, job }).outcome).toBe('pass');
    expect(ask(bitTip, { pocket: neck(0.7), job }).outcome).toBe('pass');
    expect(ask(bitTip, { pocket: neck(0.52), job }).outcome).toBe('close');
    expect(ask(bitTip, { pocket: neck(0.45), job }).outcome).toBe('fail');
  });

  it('tells width, place and length of the narrow run, and no corner', () => {
    const check = ask(bitTip, { pocket: neck(0.4), job });
    expect(bad(check)).toHaveLength(1);
    const [reading] = bad(check);
    expect(reading?.measured.value).toBeCloseTo(0.4, 6);
    expect(reading?.label).toContain('Neck');
    expect(reading?.place.at?.[1]).toBeCloseTo(50, 1);
    expect(reading?.says).toMatch(/length of (19|20)\.\d+ mm/);
  });

  it('leaves the corners of a square alone, whatever the tip', () => {
    expect(
      ask(bitTip, { pocket: '<rect x="20" y="20" width="60" height="60"/>', job: { 'bit.tip-flat': 3 } })
        .outcome,
    ).toBe('pass');
  });

  it('cannot tell without a tip, and takes the ball of a ball tip', () => {
    expect(ask(bitTip, { pocket: LEAF, job: { 'bit.tip-flat': undefined } }).outcome).toBe('untold');
    const ball = { 'bit.tip-flat': undefined, 'bit.tip-radius': 0.25 };
    // The ball passes into the cone where it is 2 x 0.25 x cos(15 deg) = 0.483 mm wide.
    expect(ask(bitTip, { pocket: neck(0.46), job: ball }).outcome).toBe('fail');
    expect(ask(bitTip, { pocket: neck(0.6), job: ball }).outcome).toBe('pass');
  });
});

describe('bit.between', () => {
  const job = { 'bit.tip-flat': 0.5 };
  it('holds, is close, breaks', () => {
    expect(ask(bitBetween, { pocket: LEAF, job }).outcome).toBe('pass');
    expect(ask(bitBetween, { pocket: gap(0.7), job }).outcome).toBe('pass');
    expect(ask(bitBetween, { pocket: gap(0.52), job }).outcome).toBe('close');
    const check = ask(bitBetween, { pocket: gap(0.4), job });
    expect(check.outcome).toBe('fail');
    expect(bad(check)[0]?.measured.value).toBeCloseTo(0.4, 6);
    expect(bad(check)[0]?.place.part).toBe('plug');
  });

  it("uses the plug's own bit when there is one", () => {
    const own = { 'plug-bit': { angle: 30, 'tip-flat': 1, 'cutting-length': 20, 'cutting-diameter': 12.7 } };
    expect(ask(bitBetween, { pocket: gap(0.9), job: own }).outcome).toBe('fail');
    expect(ask(bitTip, { pocket: neck(0.9), job: own }).outcome).toBe('pass');
  });
});

describe('bit.reach', () => {
  it('holds and breaks on length, exactly at the deepest cut', () => {
    expect(ask(bitReach, { pocket: LEAF, job: { 'bit.cutting-length': 7.6 } }).outcome).toBe('pass');
    const short = ask(bitReach, { pocket: LEAF, job: { 'bit.cutting-length': 7.59 } });
    expect(short.outcome).toBe('fail');
    expect(bad(short)).toHaveLength(2);
  });

  it('asks for the diameter at the face of the piece: 2 (r + depth x tan of half the angle) on wide designs', () => {
    const need = 2 * (0.05 + 7.6 * tan30deg.half);
    const pocketOnly = { 'plug.start-depth': 2, 'plug.flat-depth': 2, 'pocket.flat-depth': 7.6 };
    expect(
      ask(bitReach, { pocket: LEAF, job: { ...pocketOnly, 'bit.cutting-diameter': need + 0.005 } }).outcome,
    ).toBe('pass');
    const slim = ask(bitReach, { pocket: LEAF, job: { ...pocketOnly, 'bit.cutting-diameter': need - 0.01 } });
    expect(slim.outcome).toBe('fail');
    expect(bad(slim)[0]?.label).toContain('pocket');
  });

  it('needs less diameter where no stroke is wide enough to reach the floor', () => {
    const bar = '<rect x="10" y="45" width="80" height="2"/>';
    const job = { 'plug.start-depth': 2, 'plug.flat-depth': 2, 'bit.cutting-diameter': 2.3 };
    const pocket = ask(bitReach, { pocket: bar, job }).readings.find(
      (reading) => reading.label === 'Cutting diameter for the pocket',
    );
    expect(pocket?.want.atLeast).toBeCloseTo(2, 2);
    expect(pocket?.outcome).toBe('pass');
    // The ground round the plug is wide, however fine its strokes are; over the start depth the bit needs no more than
    // half the stroke, whose ridge it then passes.
    const plug = ask(bitReach, { pocket: bar.replace('height="2"', 'height="0.5"'), job }).readings.find(
      (reading) => reading.label === 'Cutting diameter for the plug',
    );
    expect(plug?.want.atLeast).toBeCloseTo(2 * (0.05 + 2 * tan30deg.half + 0.25), 2);
  });

  it('wants the shank above the face when it is thicker than the edges', () => {
    const job = { 'bit.cutting-diameter': 6, 'bit.shank': 8, 'bit.cutting-length': 7 };
    const check = ask(bitReach, { pocket: LEAF, job });
    expect(bad(check).some((reading) => reading.label?.startsWith('Shank'))).toBe(true);
    const longer = ask(bitReach, { pocket: LEAF, job: { ...job, 'bit.cutting-length': 8 } });
    expect(longer.readings.find((reading) => reading.label?.startsWith('Shank'))?.outcome).toBe('pass');
  });

  it('points at the bit that cuts the side', () => {
    const job = {
      'plug-bit': { angle: 30, 'tip-flat': 0.1, 'cutting-length': 20, 'cutting-diameter': 12.7 },
    };
    const columns = ask(bitReach, { pocket: LEAF, job }).readings.map(({ place }) => place.column);
    const text = JSON.stringify(withValues(goodJob(), job));
    const at = (bit: string, key: string) => text.indexOf(`"${key}":`, text.indexOf(`"${bit}":`));
    const values = ['bit', 'plug-bit'].flatMap((bit) =>
      ['cutting-length', 'cutting-diameter'].map((key) => at(bit, key) + key.length + 4),
    );
    expect(columns).toEqual(values);
  });

  it('says nothing of a piece with no length that the tip does not get into but that it is not cut', () => {
    const says = ask(bitTip, {
      pocket: '<rect x="20" y="40" width="0.4" height="0.4"/>',
      job: { 'bit.tip-flat': 0.5 },
    }).readings[0]?.says;
    expect(says).toBe('The tip is wider than this stroke, so the pocket is not cut here.');
  });

  it('cannot tell what the job does not say', () => {
    const job = { 'bit.cutting-length': undefined, 'bit.cutting-diameter': undefined };
    expect(ask(bitReach, { pocket: LEAF, job }).outcome).toBe('untold');
  });
});
