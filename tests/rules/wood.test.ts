import { describe, expect, it } from 'vitest';
import { woodMovement } from '../../rules/wood/movement.ts';
import { degrees } from '../../src/units.ts';
import { ask, LEAF } from '../pairs.ts';

const PANEL = '<rect x="10" y="10" width="20" height="80"/>';
const asked = (job: Record<string, unknown> = {}, pocket = PANEL) =>
  ask(woodMovement, { pocket, job: { 'pocket.stock.grain-angle': 0, ...job } });
const row = (label: string, job: Record<string, unknown> = {}) =>
  asked(job).readings.find((reading) => reading.label === label);
const OPENING = 'Plug short of pocket, in a year';
const GRAIN = 'Grain of plug against board';

describe('wood.movement', () => {
  it("opens by the difference of the two woods' coefficients (Wood Handbook Table 13-5, Eq. 13-2)", () => {
    // Sugar maple 0.00353, black cherry 0.00248, tangential, 2 % drier than when cut; the widest way is sought.
    let worst = 0;
    for (let a = 0; a < 180; a++) {
      const [c, s] = [Math.abs(Math.cos(degrees(a))), Math.sin(degrees(a))];
      worst = Math.max(worst, (20 * c + 80 * s) * s * s * (0.00353 - 0.00248) * 2);
    }
    expect(row(OPENING)?.measured.value).toBeCloseTo(worst, 3);
    expect(row(OPENING)?.says).toContain('does not say the moisture');
  });

  it('follows the moistures that the job states, and says nothing of assumptions then', () => {
    const climate = {
      'climate.workshop.moisture': 9,
      'climate.driest.moisture': 6,
      'climate.dampest.moisture': 12,
    };
    const value = row(OPENING)?.measured.value ?? 0;
    expect(row(OPENING, climate)?.measured.value).toBeCloseTo(1.5 * value, 6);
    expect(row(OPENING, climate)?.says).not.toContain('does not say');
  });

  it('holds, is exactly at the limit, is close, breaks', () => {
    const reading = row(OPENING);
    const [value, give] = [reading?.measured.value ?? 0, reading?.give ?? 0];
    const at = (most: number, hard: number) =>
      row(OPENING, { 'limits.joint-opening-most': most, 'limits.joint-opening-most-hard': hard })?.outcome;
    expect(asked().outcome).toBe('pass');
    expect(at(value + give, 9)).toBe('pass');
    expect(at(value + give - 1e-6, 9)).toBe('close');
    expect(at(0, Math.max(0, value - give))).toBe('close');
    const crossed = { 'plug.stock.grain-angle': 90, 'climate.dampest.moisture': 14 };
    expect(row(OPENING, crossed)?.outcome).toBe('fail');
  });

  it('names other woods as the mend where the grains lie alike, and the grain where they cross', () => {
    const wide = { 'limits.joint-opening-most': 0.01 };
    expect(row(OPENING, wide)?.cure).toContain('woods that move alike');
    expect(row(OPENING, { ...wide, 'plug.stock.grain-angle': 90 })?.cure).toContain('Lay the grain');
  });

  it('fails a stress of twice a printed strength, and none where it is not printed', () => {
    const stress = (job: Record<string, unknown>) => row("Stress across the plug's grain", job);
    const cherry = { 'plug.stock.wood': 'cherry-black', 'plug.stock.grain-angle': 90 };
    const { atMost, hardAtMost } = stress(cherry)?.want ?? {};
    // 560 psi across the grain (Wood Handbook Table 5-3b).
    expect(atMost).toBeCloseTo(560 * 0.00689476, 2);
    expect(hardAtMost).toBeCloseTo(2 * (atMost ?? 0), 12);
    expect(stress({})?.want.hardAtMost).toBe(Number.POSITIVE_INFINITY);
  });

  it('names crossed grain, and end grain against face grain, as worth a look', () => {
    expect(row(GRAIN)?.outcome).toBe('pass');
    expect(row(GRAIN, { 'plug.stock.grain-angle': 10 })?.outcome).toBe('pass');
    expect(row(GRAIN, { 'plug.stock.grain-angle': 11 })?.outcome).toBe('close');
    expect(row(GRAIN, { 'plug.stock.grain-angle': 90 })?.says).toContain('cross at 90 degrees');
    const end = { 'plug.stock.grain': 'end', 'plug.stock.grain-angle': undefined };
    expect(row(GRAIN, end)?.says).toContain('An end-grain plug');
  });

  it("reads the plug's grain in the plug's own drawing, which is mirrored", () => {
    // 30 degrees in the mirrored drawing lies on the board as 150.
    const alike = { 'pocket.stock.grain-angle': 150, 'plug.stock.grain-angle': 30 };
    const reading = ask(woodMovement, { pocket: LEAF, job: alike }).readings.find((r) => r.label === GRAIN);
    expect(reading?.measured.value).toBeCloseTo(0, 1);
  });

  it('strains a plug that the glue holds by stiffness times what it would have moved', () => {
    // 1.83 million psi (Table 5-3b) x 0.065 (Table 5-1) x (0.00353 - 0.00248) x 2; N/mm2.
    const reading = row("Stress across the plug's grain");
    expect(reading?.measured.value).toBeCloseTo(1.83e6 * 0.00689476 * 0.065 * 0.0021, 2);
    expect(reading?.outcome).toBe('pass');
    const wild = row("Stress across the plug's grain", {
      'plug.stock.grain-angle': 90,
      'climate.dampest.moisture': 14,
    });
    expect(wild?.outcome).toBe('close');
  });

  it('tells when the two pieces were not equally dry', () => {
    const apart = (plug: number) =>
      row('Moistures of the woods apart', { 'pocket.stock.moisture': 8, 'plug.stock.moisture': plug })
        ?.outcome;
    expect([9, 10, 11, 13, 14].map(apart)).toEqual(['pass', 'pass', 'close', 'close', 'fail']);
  });

  it('sees nothing without woods, their grain, or printed figures', () => {
    for (const job of [
      { 'plug.stock.wood': undefined },
      { 'plug.stock.wood': 'unlisted' },
      { 'plug.stock.grain-angle': undefined },
      { 'plug.stock.wood': 'bubinga' },
      { 'climate.driest.humidity': 99 },
    ])
      expect(asked(job)).toMatchObject({ outcome: 'untold', essential: false, readings: [] });
  });
});
