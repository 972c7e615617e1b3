import { describe, expect, it } from 'vitest';
import { stockMargin } from '../../rules/stock/margin.ts';
import { readArtwork } from '../../src/artwork/read.ts';
import { factsOf } from '../../src/carve/facts.ts';
import { judgeCheck } from '../../src/engine/judge.ts';
import { readJob } from '../../src/job/job.ts';
import { degrees } from '../../src/units.ts';
import { ask, goodJob, mirrored, svg, withValues } from '../pairs.ts';

const PANEL = '<rect x="30" y="30" width="40" height="30"/>';
const asked = (job: Record<string, unknown> = {}) => ask(stockMargin, { pocket: PANEL, job });
/** What one lap of the V-bit cuts outside the outline: 2 x half tip + (start + 2 flat) x slope. */
const BORDER = 0.1 + (5 + 2 * 2.6) * Math.tan(degrees(15));

describe('stock.margin', () => {
  it('holds, is exactly at the limit, is close, breaks', () => {
    const at = (margin: number) =>
      asked({ 'plug.stock.width': 40 + 2 * margin, 'plug.stock.length': 200 }).outcome;
    expect(at(BORDER + 20)).toBe('pass');
    expect(at(BORDER + 5)).toBe('pass');
    expect(at(BORDER + 4.999)).toBe('close');
    expect(at(BORDER)).toBe('close');
    expect(at(BORDER - 0.001)).toBe('fail');
  });

  it('wants wood between the pocket and the edge of its board, where the size of that is told', () => {
    // 3 mm, and half a millimetre before the rim breaks out (common practice, no source).
    const at = (margin: number) =>
      asked({ 'pocket.stock.width': 40 + 2 * margin, 'pocket.stock.length': 200 });
    expect([3, 2.999, 0.5, 0.499, 0, -5].map((margin) => at(margin).outcome)).toEqual([
      'pass',
      'close',
      'close',
      'fail',
      'fail',
      'fail',
    ]);
    const short = at(0).readings.find((reading) => reading.label === 'Board round the pocket');
    expect(short?.cure).toContain('46.00 mm by 36.00 mm');
    expect(asked().readings.map((reading) => reading.label)).not.toContain('Board round the pocket');
  });

  it('counts the clearing bit when it cuts wider than the V-bit', () => {
    const reading = asked({ 'clearing-bit': { diameter: 6.35, 'cutting-length': 12 } }).readings[0];
    expect(reading?.want.atLeast).toBeCloseTo(6.35 + 2.6 * Math.tan(degrees(15)) + 5, 9);
    expect(reading?.says).toContain('clearing bit');
  });

  it('goes by the stock’s place where the job states it, and names the side', () => {
    const placed = {
      'plug.stock.left': 28,
      'plug.stock.top': 0,
      'plug.stock.width': 200,
      'plug.stock.length': 200,
    };
    const reading = asked(placed).readings[0];
    expect(reading?.outcome).toBe('fail');
    expect(reading?.measured.value).toBeCloseTo(2, 6);
    expect(reading?.says).toContain('left side');
  });

  it('names a size that mends', () => {
    const cure = asked({ 'plug.stock.width': 41, 'plug.stock.length': 31 }).readings[0]?.cure ?? '';
    const [width, length] = [...cure.matchAll(/([\d.]+) mm/g)].map((found) => Number(found[1]));
    expect(
      asked({ 'plug.stock.width': (width ?? 0) + 0.01, 'plug.stock.length': (length ?? 0) + 0.01 }).outcome,
    ).toBe('pass');
  });

  it('sees a clamp that the bits cut into, and one that only the nut meets', () => {
    // The panel's mirror image spans x 30..70; the clamps stand to its right.
    const clamp = (left: number, height?: number) => ({
      'keep-out': [
        {
          part: 'plug',
          name: 'clamp',
          box: { left, top: 30, width: 10, length: 10 },
          ...(height ? { height } : {}),
        },
      ],
      nut: { diameter: 30 },
      'bit.stick-out': 25,
    });
    expect(asked(clamp(70 + BORDER - 0.2)).readings.at(-1)).toMatchObject({
      outcome: 'fail',
      says: 'The collet nut meets clamp as it goes round.',
    });
    expect(asked(clamp(70 + BORDER - 0.2)).readings.some((r) => r.says.includes('cut into clamp'))).toBe(
      true,
    );
    const nutReach = 15 + 0.05 + 2.6 * Math.tan(degrees(15));
    expect(asked(clamp(70 + nutReach - 0.5, 20)).outcome).toBe('fail');
    expect(asked(clamp(70 + nutReach - 0.5, 17)).outcome).toBe('pass'); // the nut hangs 25 - 7.6 = 17.4 mm up
    expect(asked(clamp(70 + nutReach + 0.1, 20)).outcome).toBe('pass');
  });

  it('a round thing, and a clamp of the other setup', () => {
    const disc = (part: string) => ({
      'keep-out': [{ part, name: 'screw', disc: { x: 50, y: 45, diameter: 8 } }],
      nut: { diameter: 30 },
      'bit.stick-out': 25,
    });
    expect(asked(disc('plug')).readings.some((r) => r.outcome === 'fail' && r.place.part === 'plug')).toBe(
      true,
    );
    expect(
      asked(disc('pocket')).readings.some((r) => r.outcome === 'fail' && r.place.part === 'pocket'),
    ).toBe(true);
  });

  it('reads a clamp from a drawing, and says so when the drawing is not there', () => {
    const values = {
      'keep-out': [{ part: 'plug', name: 'fence', outline: 'fence.svg' }],
      nut: { diameter: 30 },
      'bit.stick-out': 25,
    };
    expect(asked(values).untold[0]).toContain('fence was not read');
    const job = readJob(JSON.stringify(withValues(goodJob(), values)), 'bench.dryfit.yaml');
    const art = (inner: string, name: string) => readArtwork(new TextEncoder().encode(svg(inner)), name);
    const fence = art('<rect x="60" y="35" width="30" height="5"/>', 'fence.svg');
    const facts = factsOf(job, art(PANEL, 'pocket.svg'), art(mirrored(PANEL), 'plug.svg'), [fence]);
    const check = judgeCheck(stockMargin, stockMargin.measure(facts));
    expect(check.outcome).toBe('fail');
    expect(check.untold).toEqual([]);
  });

  it('does not know without the size of the stock, or the nut where clamps stand', () => {
    const sizeless = { 'plug.stock.width': undefined, 'plug.stock.length': undefined };
    expect(asked(sizeless)).toMatchObject({ outcome: 'untold', essential: false });
    const clamp = { 'keep-out': [{ part: 'plug', box: { left: 90, top: 0, width: 5, length: 5 } }] };
    expect(asked(clamp).untold[0]).toContain('nut');
    expect(asked({ ...clamp, nut: { diameter: 30 } }).untold[0]).toContain('stick-out');
  });
});
