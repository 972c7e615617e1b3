import { describe, expect, it } from 'vitest';
import { glueWall } from '../../rules/glue/wall.ts';
import { degrees } from '../../src/units.ts';
import { ask, LEAF } from '../pairs.ts';

const PANEL = '<rect x="10" y="20" width="60" height="40"/>';
const asked = (job: Record<string, unknown> = {}) =>
  ask(glueWall, { pocket: PANEL, job: { 'bit.tip-flat': 0, ...job } });

describe('glue.wall', () => {
  it('wall and room of a rectangle are those of a wedge-walled box', () => {
    const t = Math.tan(degrees(15));
    const at = (depth: number) => (60 - 2 * t * depth) * (40 - 2 * t * depth);
    // Below the plug's face: Simpson's rule is exact for a quadratic.
    const room = (2.6 / 6) * (at(5) + 4 * at(6.3) + at(7.6));
    const reading = asked().readings[0];
    expect(reading?.measured.value).toBeCloseTo(room, -1);
    const wall = Number(/^([\d.]+) mm2/.exec(reading?.says ?? '')?.[1]);
    expect(wall).toBeCloseTo((at(0) - at(5)) / Math.sin(degrees(15)), 0);
  });

  it('holds, is close at the limit, breaks', () => {
    const reading = asked().readings[0];
    const coat = (0.1 * (reading?.measured.value ?? 0)) / (reading?.want.atLeast ?? 1);
    expect(asked().outcome).toBe('pass');
    expect(asked({ 'limits.glue-coat': 0.96 * coat }).outcome).toBe('pass');
    expect(asked({ 'limits.glue-coat': coat }).outcome).toBe('close');
    expect(asked({ 'limits.glue-coat': 1.04 * coat }).outcome).toBe('close');
    // What stands over the edge of the plug's face fails alone: a frame round it, less its corners.
    const face = 2 * (60 + 40 - 20 * Math.tan(degrees(15))) * (5 / Math.cos(degrees(15)));
    const broken = (reading?.measured.value ?? 0) / (2 * face);
    expect(asked({ 'limits.glue-coat': 0.96 * broken }).outcome).toBe('close');
    expect(asked({ 'limits.glue-coat': 1.04 * broken }).outcome).toBe('fail');
    expect(asked({ 'pocket.flat-depth': 5.01 }).readings[0]?.cure).toContain('less glue');
  });

  it.each([2.2, 4.5])(
    'strokes %d mm wide have no floor to be full: they do not fail, however much is spread',
    (height) => {
      const strokes = [10, 20, 30]
        .map((y) => `<rect x="10" y="${y}" width="60" height="${height}"/>`)
        .join('');
      const thin = ask(glueWall, { pocket: strokes, job: { 'bit.tip-flat': 0, 'limits.glue-coat': 0.4 } });
      expect(thin.readings[0]?.want.atLeast).toBeGreaterThan(1.5 * (thin.readings[0]?.measured.value ?? 0));
      expect(thin.outcome).toBe('close');
    },
  );

  it('tells of a wood that bonds with difficulty (Wood Handbook Table 10-1)', () => {
    const rosewood = asked({ 'plug.stock.wood': 'rosewood-indian' });
    expect(rosewood.readings[1]).toMatchObject({ outcome: 'close', label: 'Hard to bond' });
    expect(asked().readings).toHaveLength(1);
  });

  it('has no business where the plug does not go in or the walls do not match, nor sight without a tip', () => {
    expect(ask(glueWall, { pocket: LEAF, plug: LEAF }).outcome).toBe('moot');
    expect(asked({ 'plug-bit': { angle: 60, 'tip-flat': 0 } }).outcome).toBe('moot');
    expect(asked({ 'bit.tip-flat': undefined }).outcome).toBe('untold');
  });
});
