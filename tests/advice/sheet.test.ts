import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { type BenchSheet, benchSheet, type Figure } from '../../src/advice/bench-sheet.ts';
import { benchSheetOf } from '../../src/cli/bench-sheet.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { InputFault, InputFaults } from '../../src/fault.ts';
import { type BenchPair, factsFor, LEAF } from '../pairs.ts';

/** A bar with round ends, 60 mm by 20 mm, and a disc 16 mm across: every figure follows by hand from tan 15 degrees. */
const BAR = '<rect x="20" y="40" width="60" height="20" rx="9"/><circle cx="50" cy="80" r="8"/>';
const T = Math.tan((15 * Math.PI) / 180);

function sheetOf(pair: BenchPair): BenchSheet {
  const facts = factsFor(pair);
  return benchSheet(checkJob(facts, RULES), facts);
}

function figure(sheet: BenchSheet, name: string): Figure & { value: { value: number } } {
  const found = sheet.steps.flatMap((step) => step.figures).find((one) => one.name.startsWith(name));
  if (found === undefined || !('value' in found)) throw new Error(`no figure ${name}`);
  return found;
}

describe('the bench sheet of a plain pair (closed forms of the sloping wall, by hand)', () => {
  const sheet = sheetOf({ pocket: BAR });
  const closed: readonly (readonly [string, number, number])[] = [
    ['Groove', 0.1 + 2 * 7.6 * T, 1e-9],
    ['Depth at W', 7.6, 1e-9],
    ['Depth at N', 7.6, 1e-9],
    ['Stroke at N', 16, 0.02],
    ['Pocket, along x', 60, 0.01],
    ['Pocket, along y', 48, 0.02],
    ['Flat round it', 7.6, 1e-9],
    ['Plug at N', 16 - 2 * 5 * T, 0.02],
    ["Plug's face, along x", 60 - 2 * 5 * T, 0.01],
    ['Gap, clamped dry', 2.6, 0.02],
    ['Clay under it', 2.6, 0.02],
    ['Cut above board, lower side', (2.6 - 0.9) / 2, 0.01],
    ['Width a stroke loses', 2 * T * 0.25, 1e-9],
  ];
  it.each(closed)('%s', (name, value, within) => {
    expect(Math.abs(figure(sheet, name).value.value - value)).toBeLessThanOrEqual(within);
  });

  it('has bounds that hold the figure: depth by zero and flatness of its setup (0.05 and 0.1 mm)', () => {
    const depth = figure(sheet, 'Depth at W') as unknown as { from: number; to: number };
    expect(depth.from).toBeCloseTo(7.45, 9);
    expect(depth.to).toBeCloseTo(7.75, 9);
    for (const one of sheet.steps.flatMap((step) => step.figures))
      if ('value' in one && one.from !== undefined && one.to !== undefined) {
        expect(one.from, one.name).toBeLessThanOrEqual(one.value.value);
        expect(one.to, one.name).toBeGreaterThanOrEqual(one.value.value);
      }
  });

  it('tells a force of pressure x wall x sin of half the angle (175 psi, 1 psi = 0.00689476 MPa: NIST SP 811)', () => {
    const wall = figure(sheet, 'Sloping wall').value.value;
    const force = figure(sheet, 'Force').value.value;
    expect(force / (175 * 0.006894757 * wall * Math.sin(Math.PI / 12))).toBeCloseTo(1, 6);
  });

  it('names a ground for every figure, or what is not given', () => {
    const cells = [...sheet.setup.flatMap(({ pocket, plug }) => [pocket, plug])];
    for (const one of [...cells, ...sheet.steps.flatMap((step) => step.figures)])
      expect('missing' in one || (one.ground ?? '') !== '', JSON.stringify(one)).toBe(true);
  });

  it('has no first place where the walls meet all round', () => {
    expect(sheet.drawing.pocket.marks.map(({ mark }) => mark)).toEqual(['W', 'N']);
  });
});

describe('what is not so, or not given', () => {
  it('numbers the places that hold the plug up, on both plans', () => {
    const blunt = sheetOf({
      pocket: `${LEAF}<rect x="20" y="80" width="60" height="2"/>`,
      job: { 'bit.tip-flat': 0.6 },
    });
    const marks = blunt.drawing.plug.marks.map(({ mark }) => mark);
    expect(marks).toContain('1');
    expect(blunt.answer).toBe('fail');
    expect(blunt.amiss[0]?.outcome).toBe('fail');
  });

  it('says what is not given instead of a figure', () => {
    const bare = sheetOf({
      pocket: BAR,
      job: { 'bit.tip-flat': undefined, 'plug.stock': undefined, saw: undefined },
    });
    const text = JSON.stringify(bare);
    for (const key of ['bit: tip-flat or tip-radius', 'plug: stock: wood', 'saw: kerf'])
      expect(text).toContain(key);
    expect(bare.answer).toBe('unknown');
    expect(bare.drawing.section).toHaveProperty('none');
  });

  it('names a clamp in the path of the bits, in the table and in the cautions', () => {
    const met = sheetOf({
      pocket: BAR,
      job: { 'keep-out': [{ part: 'pocket', name: 'stop', disc: { x: 50, y: 50, diameter: 10 } }] },
    });
    expect(met.answer).toBe('fail');
    expect(JSON.stringify(met.setup)).toContain('stop: THE BITS CUT IT');
    expect(met.cautions.some(({ says }) => says.includes('IN THE PATH: stop'))).toBe(true);
    expect(met.drawing.pocket.keepOuts).toMatchObject([{ name: 'stop', met: true }]);
  });

  it('tells a drawing that the toolpath has to mirror', () => {
    const sheet = sheetOf({ pocket: LEAF, plug: LEAF, job: { 'plug.mirror': 'toolpath' } });
    expect(JSON.stringify(sheet.setup)).toContain('SWITCH MIRRORING ON');
  });

  it('tells grain that crosses', () => {
    const sheet = sheetOf({ pocket: LEAF, job: { 'pocket.stock.grain-angle': 90 } });
    expect(JSON.stringify(sheet.steps)).toContain("CROSSES the board's by 90");
  });
});

describe('dryfit sheet', () => {
  const folder = mkdtempSync(join(tmpdir(), 'dryfit-bench-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const kingfisher = 'samples/kingfisher/kingfisher.dryfit.yaml';

  it('writes data that parses, with the status of the check', async () => {
    vi.spyOn(process.stderr, 'write').mockReturnValue(true);
    const output = join(folder, 'sheet.json');
    expect(await benchSheetOf(kingfisher, { format: 'json', output })).toBe(0);
    expect(JSON.parse(readFileSync(output, 'utf8'))).toMatchObject({
      answer: 'pass',
      units: 'mm',
      'bench-sheet': 1,
    });
    const failing = 'samples/pair.mirror/pair.mirror.dryfit.yaml';
    expect(await benchSheetOf(failing, { format: 'text', output })).toBe(1);
    expect(readFileSync(output, 'utf8')).toContain('THIS JOB FAILS ITS DRY FIT');
    vi.restoreAllMocks();
  });

  it.each([
    ['a job that is not there', join(folder, 'none.dryfit.yaml'), undefined],
    ['a folder', folder, undefined],
    ['no job at all', 'README.md', undefined],
    ['a place that cannot be written to', kingfisher, join(folder, 'none', 'sheet.txt')],
  ])('refuses %s in plain words', async (_, path, output) => {
    const thrown = await benchSheetOf(path, { format: 'text', output }).catch((error: unknown) => error);
    expect(thrown instanceof InputFault || thrown instanceof InputFaults).toBe(true);
  });
});
