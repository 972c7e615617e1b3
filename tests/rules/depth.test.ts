import { describe, expect, it } from 'vitest';
import { depthBoard } from '../../rules/depth/board.ts';
import { depthGlue } from '../../rules/depth/glue.ts';
import { depthMating } from '../../rules/depth/mating.ts';
import { depthPlugStock } from '../../rules/depth/plug-stock.ts';
import { depthSaw } from '../../rules/depth/saw.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { tan30deg } from '../constants.ts';
import { ask, factsFor, LEAF } from '../pairs.ts';

const outcome = (rule: Rule, job: Record<string, unknown>) => ask(rule, { pocket: LEAF, job }).outcome;
const first = (rule: Rule, job: Record<string, unknown>) => ask(rule, { pocket: LEAF, job }).readings[0];

describe('the depth budget', () => {
  it('gives 0.2 in of wall, 0.1 in of glue and 0.1 in of saw from the usual four depths (common practice, no source)', () => {
    const { depths } = factsFor({
      pocket: LEAF,
      job: {
        'pocket.start-depth': '0 in',
        'pocket.flat-depth': '0.3 in',
        'plug.start-depth': '0.2 in',
        'plug.flat-depth': '0.1 in',
      },
    });
    expect(depths.mating).toBeCloseTo(5.08, 12);
    expect(depths.glue).toBeCloseTo(2.54, 12);
    expect(depths.saw).toBeCloseTo(2.54, 12);
  });

  it('counts a pocket start depth on both sides of the joint', () => {
    const { depths } = factsFor({ pocket: LEAF, job: { 'pocket.start-depth': 0.5 } });
    expect(depths.mating).toBeCloseTo(5.5, 12);
    expect(depths.glue).toBeCloseTo(2.6, 12);
    expect(depths.saw).toBeCloseTo(2.1, 12);
    expect(depths.pocketTotal).toBeCloseTo(8.1, 12);
  });
});

describe('depth.mating', () => {
  it('holds, is close, is exactly at the limit, breaks', () => {
    expect(outcome(depthMating, { 'plug.start-depth': 5 })).toBe('pass');
    expect(outcome(depthMating, { 'plug.start-depth': 2.5 })).toBe('pass');
    expect(outcome(depthMating, { 'plug.start-depth': 2.49 })).toBe('close');
    expect(outcome(depthMating, { 'plug.start-depth': 1 })).toBe('close');
    expect(outcome(depthMating, { 'plug.start-depth': 0.99 })).toBe('fail');
  });

  it('names a mend that mends', () => {
    const short = first(depthMating, { 'plug.start-depth': 1.5 });
    expect(short?.cure).toContain('1.00 mm');
    expect(outcome(depthMating, { 'plug.start-depth': 2.5, 'pocket.flat-depth': 8.6 })).toBe('pass');
  });

  it('obeys the job when it sets the limit', () => {
    expect(outcome(depthMating, { 'limits.mating-depth-least': 5.1 })).toBe('close');
    expect(
      outcome(depthMating, { 'limits.mating-depth-least': 5.1, 'limits.mating-depth-least-hard': 5.1 }),
    ).toBe('fail');
  });
});

describe('depth.glue', () => {
  it('holds, is exactly at each limit, breaks on both sides', () => {
    expect(outcome(depthGlue, { 'pocket.flat-depth': 7.6 })).toBe('pass');
    expect(outcome(depthGlue, { 'pocket.flat-depth': 5.5 })).toBe('pass');
    expect(outcome(depthGlue, { 'pocket.flat-depth': 5.49 })).toBe('close');
    expect(outcome(depthGlue, { 'pocket.flat-depth': 5.2 })).toBe('close');
    expect(outcome(depthGlue, { 'pocket.flat-depth': 5.19 })).toBe('fail');
    expect(outcome(depthGlue, { 'pocket.flat-depth': 9 })).toBe('pass');
    expect(outcome(depthGlue, { 'pocket.flat-depth': 9.01 })).toBe('fail');
  });

  it('says so when the plug is longer than the pocket is deep', () => {
    const reading = first(depthGlue, { 'pocket.flat-depth': 4.5 });
    expect(reading?.outcome).toBe('fail');
    expect(reading?.measured.value).toBeCloseTo(-0.5, 12);
    expect(reading?.says).toContain('stands on the floor');
  });
});

describe('depth.saw', () => {
  it('holds, is exactly at the limit, breaks', () => {
    expect(outcome(depthSaw, { 'plug.flat-depth': 1.4 })).toBe('pass');
    expect(outcome(depthSaw, { 'plug.flat-depth': 1.39 })).toBe('close');
    expect(outcome(depthSaw, { 'plug.flat-depth': 0.9 })).toBe('close');
    expect(outcome(depthSaw, { 'plug.flat-depth': 0.89 })).toBe('fail');
  });

  it('takes a usual kerf and says so when the job names no saw', () => {
    const reading = first(depthSaw, { saw: undefined });
    expect(reading?.want.atLeast).toBeCloseTo(1.7, 12);
    expect(reading?.says).toContain('names no saw');
  });
});

describe('depth.saw after settling', () => {
  it('tells when a plug that is slack all round brings its stock down on the saw', () => {
    // Toolpaths for a sharp point cut with a 0.2 mm flat: both halves 0.1 mm loose, so the plug sinks 2 r / t.
    const slack = { 'bit.tip-flat': 0.2, 'bit.toolpath-tip-flat': 0, 'plug.flat-depth': 1.5 };
    const reading = ask(depthSaw, { pocket: LEAF, job: slack }).readings.find(
      (one) => one.label === 'Saw gap once settled',
    );
    expect(reading?.measured.value).toBeCloseTo(1.5 - 0.2 / tan30deg.half, 1);
    expect(reading?.outcome).toBe('fail');
    expect(ask(depthSaw, { pocket: LEAF, job: { 'plug.flat-depth': 1.5 } }).readings).toHaveLength(1);
  });
});

describe('depth.board and depth.plug-stock', () => {
  it('hold, are exactly at the limit, break', () => {
    expect(outcome(depthBoard, { 'pocket.stock.thickness': 10.6 })).toBe('pass');
    expect(outcome(depthBoard, { 'pocket.stock.thickness': 10.59 })).toBe('close');
    expect(outcome(depthBoard, { 'pocket.stock.thickness': 9.1 })).toBe('close');
    expect(outcome(depthBoard, { 'pocket.stock.thickness': 9.09 })).toBe('fail');
    expect(outcome(depthPlugStock, { 'plug.stock.thickness': 10.6 })).toBe('pass');
    expect(outcome(depthPlugStock, { 'plug.stock.thickness': 10.59 })).toBe('close');
    expect(outcome(depthPlugStock, { 'plug.stock.thickness': 9.09 })).toBe('fail');
  });

  it('say when a cut goes through', () => {
    expect(first(depthBoard, { 'pocket.stock.thickness': 7.6 })?.says).toContain('goes through the board');
    expect(first(depthPlugStock, { 'plug.stock.thickness': 7.6 })?.says).toContain('falls off');
  });

  it('cannot tell without a thickness', () => {
    expect(outcome(depthBoard, { 'pocket.stock.thickness': undefined })).toBe('untold');
    expect(outcome(depthPlugStock, { 'plug.stock.thickness': undefined })).toBe('untold');
  });
});

describe('depths written in the other unit', () => {
  const cures = (rule: Parameters<typeof ask>[0], job: Record<string, unknown>) =>
    ask(rule, { pocket: LEAF, job }).readings.map(({ cure }) => cure ?? '');
  const depths = (pocket: number, plug: number) => ({
    'pocket.flat-depth': pocket,
    'plug.start-depth': plug,
  });

  it('are asked about first where they would be right: inches read as millimetres, and the other way', () => {
    const inches = "If the job's figures are inches, write units: in. Else: ";
    const mm = "If the job's figures are millimetres, write units: mm. Else: ";
    expect(cures(depthMating, depths(0.3, 0.2))[0]).toMatch(new RegExp(`^${inches}add 2.30 mm`));
    expect(cures(depthGlue, depths(0.3, 0.2))[0]).toMatch(new RegExp(`^${inches}cut the pocket`));
    expect(cures(depthGlue, { units: 'in', ...depths(7.6, 5) })[0]).toMatch(new RegExp(`^${mm}take `));
  });

  it('are not where they would be wrong in either', () => {
    expect(cures(depthMating, depths(7.6, 0.05))[0]).toMatch(/^Add 2.45 mm/);
    expect(cures(depthGlue, depths(9.6, 5))[0]).toMatch(/^Take 0.600 mm/);
    expect(cures(depthGlue, { units: 'in', ...depths(0.21, 0.2) })[0]).toMatch(/^Cut the pocket/);
  });
});
