import { describe, expect, it } from 'vitest';
import { boardBreakage } from '../../rules/board/breakage.ts';
import { ask, LEAF } from '../pairs.ts';

/** A square inlay with a strip of board left standing in it. */
const land = (width: number, along: 'x' | 'y'): string => {
  const [w, h] = along === 'x' ? [24, width] : [width, 24];
  return `<path id="frame" fill-rule="evenodd" d="M20 20 H70 V70 H20 Z M30 30 h${w} v${h} h${-w} Z"/>`;
};
const asked = (pocket: string, job: Record<string, unknown> = {}) =>
  ask(boardBreakage, {
    pocket,
    job: { 'pocket.stock.wood': 'pine-eastern-white', 'pocket.stock.grain-angle': 0, ...job },
  });

describe('board.breakage', () => {
  it('holds broad, is close thin, fails thinner', () => {
    expect(asked(land(4, 'x')).outcome).toBe('pass');
    expect(asked(land(0.4, 'y')).outcome).toBe('close');
    expect(asked(land(0.12, 'y')).outcome).toBe('fail');
    expect(asked(LEAF).outcome).toBe('moot'); // one leaf: nothing of the board stands alone
    expect(asked('').outcome).toBe('untold');
  });

  it('is exactly at the limit, then beyond it', () => {
    const pocket = land(0.5, 'y');
    const reading = asked(pocket).readings[0];
    const times = (1.5 * (reading?.measured.value ?? 0)) / (reading?.want.atLeast ?? 1);
    const at = (least: number) => asked(pocket, { 'limits.breakage-safety-least': least }).outcome;
    expect(at(times)).toBe('pass');
    expect(at(times + 1e-6)).toBe('close');
  });

  it('a land widens downward, so it bears more than a stroke of the plug of the same width', () => {
    // A ring of plug round a ring of board: only their heights above the face differ.
    const reading = asked(land(1, 'y')).readings[0];
    expect((reading?.measured.value ?? 0) / (reading?.want.atLeast ?? 1)).toBeGreaterThan(1);
    expect(reading?.place.part).toBe('pocket');
  });

  it('does not know what a wood that is not named bears', () => {
    expect(asked(LEAF, { 'pocket.stock.wood': undefined }).untold[0]).toContain('pocket: stock: wood');
    expect(asked(LEAF, { 'pocket.stock.wood': 'unlisted' }).outcome).toBe('untold');
  });
});
