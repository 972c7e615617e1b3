/**
 * The pages of the checks: one each, complete, in a fixed order, within a terminal's 80 columns, and with figures
 * that follow from the geometry they talk about. Formulas: a wall cut with included angle a has slope tan(a / 2),
 * stated beside each check; 1 in = 25.4 mm by definition.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { SPREAD } from '../../src/job/spread.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { columns } from '../../src/report/layout.ts';
import { type Block, pageLines, readPage, SECTIONS, sectionOf } from '../../src/report/page.ts';
import { degrees, inches } from '../../src/units.ts';

const folder = resolve(import.meta.dirname, '../../rules');
const ids = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.md'))
  .map((path) => path.replace(/\.md$/, '').replace(/[\\/]/, '.'))
  .sort();
const textOf = (id: string): string => readFileSync(join(folder, `${id.replace('.', '/')}.md`), 'utf8');
const drawingsOf = (id: string) =>
  sectionOf(readPage(textOf(id)), 'The drawing').blocks.filter(
    (block): block is Extract<Block, { kind: 'drawing' }> => block.kind === 'drawing',
  );
const slope = (angle: number): number => Math.tan(degrees(angle) / 2);

describe('pages', () => {
  it('stand beside every check, and none without a check', () => {
    expect(ids).toEqual(RULES.map((rule) => rule.id).sort());
  });

  it.each(ids)('%s has the question and every section, in order, each with something in it', (id) => {
    const page = readPage(textOf(id));
    expect(page.title).toBe(RULES.find((rule) => rule.id === id)?.asks);
    expect(page.sections.map((section) => section.heading)).toEqual(SECTIONS);
    for (const section of page.sections) expect(section.blocks, section.heading).not.toEqual([]);
    expect(drawingsOf(id).length).toBeGreaterThan(0);
  });

  it.each(ids)('%s fits 80 columns, with its drawing in plain characters of at most 76', (id) => {
    for (const line of pageLines(readPage(textOf(id)), 80, PLAIN_INK))
      expect(columns(line), line).toBeLessThanOrEqual(80);
    for (const { lines } of drawingsOf(id)) {
      expect(lines.length).toBeGreaterThan(3);
      for (const line of lines) expect(line).toMatch(/^[ -~]{0,76}$/);
    }
  });

  it.each(ids)('%s uses no word of a programmer', (id) => {
    expect(textOf(id)).not.toMatch(
      /\b(null|undefined|boolean|array|parse[dr]?|vert(ex|ices)|epsilon|polygons?|algorithm|tolerance value|NaN|exception|config|parameter)\b/i,
    );
  });

  it('state the same length in mm and inches wherever they state both', () => {
    let pairs = 0;
    for (const id of ids)
      for (const [written, mm, inch] of textOf(id).matchAll(/([\d.]+)\s+mm\s+\(([\d./]+)\s+in\)/g)) {
        const [over = 0, under = 1] = (inch as string).split('/').map(Number);
        // Rounded for reading: a sixteenth more or less than the other.
        expect(Math.abs(inches(over / under) / Number(mm) - 1), `${id}: ${written}`).toBeLessThan(1 / 16);
        pairs++;
      }
    expect(pairs).toBeGreaterThan(20);
  });
});

/** The numbers of a page's drawing on the line that starts with these words. */
function row(id: string, start: string): number[] {
  const line = drawingsOf(id)
    .flatMap(({ lines }) => lines)
    .find((candidate) => candidate.trim().startsWith(start));
  if (line === undefined) throw new Error(`${id} has no line "${start}"`);
  const rest = line.trim().slice(start.length);
  return [...rest.matchAll(/\d+(?:\.\d+)?(?![\d/])/g)].map(([text]) => Number(text));
}

/** A printed figure equals the true one to half of its last printed digit, here given as the number of decimals. */
const printed = (figures: readonly number[], truth: readonly number[], decimals: number): void => {
  expect(figures.slice(0, truth.length)).toEqual(truth.map((value) => Number(value.toFixed(decimals))));
};

describe('the figures on the pages', () => {
  it.each([15, 30, 60])('wear.sanding: a stroke loses 2 s tan(a/2), %i degrees', (angle) => {
    printed(
      row('wear.sanding', `${angle} deg`),
      [0.25, 0.5, 1].map((s) => 2 * s * slope(angle)),
      2,
    );
    printed(row('wear.sanding', `${angle} deg`).slice(3), [2 * slope(angle)], 3);
    const text = textOf('wear.sanding').replaceAll('\n', ' ');
    // Gone after half width / slope.
    expect(text).toContain(`gone after ${(0.8 / slope(30)).toFixed(1)} mm, with a 60`);
    expect(text).toContain(`bit after ${(0.8 / slope(60)).toFixed(1)} mm.`);
  });

  it.each([15, 30, 60])('fit.rim: the gap is the lift times tan(a/2), %i degrees', (angle) => {
    const [shape, gap] = row('fit.rim', `${angle} deg`) as [number, number];
    printed([shape], [slope(angle)], 3);
    printed([gap], [0.3 * slope(angle)], 2);
  });

  it('fit.proud: what a tip 0.25 mm wide holds up: r, r (1 - sin(a/2)), r (1 / sin(a/2) - 1), over tan', () => {
    const r = 0.125;
    const corner = (angle: number) => (r * (1 - Math.sin(degrees(angle) / 2))) / slope(30);
    const spike = (angle: number) => (r * (1 / Math.sin(degrees(angle) / 2) - 1)) / slope(30);
    const check = (start: string, lift: number): void => {
      const [mm, inch] = row('fit.proud', start) as [number, number];
      printed([mm], [lift], 2);
      printed([inch], [lift / inches(1)], 3);
    };
    check('stroke narrower than the walls are deep', r / slope(30));
    for (const angle of [90, 36]) check(`corner of the inlay, ${angle} degrees`, corner(angle));
    for (const angle of [90, 60, 30]) check(`board's spike, ${angle} degrees`, spike(angle));
  });

  it('fit.spread: an angle half a degree off, at sharp corners: depth (tan - tan)', () => {
    expect(textOf('fit.spread')).toContain(`line of ${(7.6 * (slope(30.5) - slope(30))).toFixed(3)} mm`);
  });

  it('fit.spread: what is taken when the job says nothing is what the job reader takes', () => {
    const text = textOf('fit.spread').replace(/\s+/g, ' ');
    const said: Record<string, string> = {
      'tip-wear': 'tip wear 0.03 mm',
      angle: 'angle 0.25 degrees',
      'pocket-zero': 'each depth zero 0.05 mm',
      'plug-zero': 'each depth zero 0.05 mm',
      'pocket-flatness': 'each piece flat to 0.1 mm',
      'plug-flatness': 'each piece flat to 0.1 mm',
      scale: 'scale 0.02 %',
      squareness: 'squareness 0.02 degrees',
      runout: 'runout 0.02 mm',
    };
    for (const [name, { value }] of Object.entries(SPREAD)) {
      expect(said[name], name).toContain(` ${value} `);
      expect(text).toContain(said[name]);
    }
  });

  it('bit.reach: twice the depth times tan(a/2)', () => {
    printed(
      row('bit.reach', 'width needed  '),
      [30, 60].map((angle) => 2 * 7.62 * slope(angle)),
      1,
    );
  });

  it.each([
    ['3.175 mm (1/8 in)', 3.175],
    ['6.35 mm  (1/4 in)', 6.35],
  ])('bit.clearing: twice (flat tan + radius), %s', (start, diameter) => {
    const least = (angle: number, flat: number) => 2 * flat * slope(angle) + diameter;
    const truth = [30, 60].flatMap((angle) => [least(angle, 7.6), least(angle, 2.6)]);
    printed(row('bit.clearing', start), truth, 1);
  });

  it('stock.margin: both bits outside the outline: tip + (start + 2 flat) tan, flat tan + diameter', () => {
    const v = (angle: number) => 2 * 0.05 + (5 + 2 * 2.6) * slope(angle);
    const mill = (angle: number) => 2.6 * slope(angle) + 3.175;
    printed(row('stock.margin', 'V-bit alone'), [v(30), v(60)], 1);
    printed(row('stock.margin', '3.175 mm end mill'), [mill(30), mill(60)], 1);
  });

  it('glue.wall: a cone frustum of 1 in and a pyramid frustum of 1 in, by their textbook formulas', () => {
    const [mating, deep] = [inches(0.2), inches(0.3)];
    const of = (angle: number, share: number): [number, number] => {
      const side = (depth: number) => inches(1) - 2 * depth * slope(angle);
      const level = (depth: number) => share * side(depth) ** 2;
      const prismoid = (from: number, to: number) =>
        ((to - from) / 6) * (level(from) + 4 * level((from + to) / 2) + level(to));
      const wall = (4 * share * ((side(0) + side(mating)) / 2) * mating) / Math.cos(degrees(angle) / 2);
      return [wall, prismoid(0, deep) - prismoid(0, mating)];
    };
    const lines = drawingsOf('glue.wall').flatMap(({ lines: all }) => all);
    const figures = (shape: string) =>
      lines
        .filter((line) => line.trim().startsWith(shape))
        .map((line) => [...line.matchAll(/(\d+) mm[23]/g)].map(([, value]) => Number(value)));
    expect(figures('disc')).toEqual([30, 60].map((angle) => of(angle, Math.PI / 4).map(Math.round)));
    expect(figures('square')).toEqual([30, 60].map((angle) => of(angle, 1).map(Math.round)));
  });

  it('wood.movement: size x coefficient x change (Wood Handbook Eq. 13-2, Table 13-5)', () => {
    const text = textOf('wood.movement').replaceAll('\n', ' ');
    const [maple, cherry] = [100 * 0.00353 * 2, 100 * 0.00248 * 2];
    for (const value of [maple, cherry, maple - cherry]) expect(text).toContain(`${value.toFixed(2)} mm`);
  });

  it('pair.match: growth e stands e / tan(a/2) proud', () => {
    const text = textOf('pair.match').replaceAll('\n', ' ');
    for (const angle of [30, 60]) expect(text).toContain(`${(0.05 / slope(angle)).toFixed(2)} mm`);
  });
});
