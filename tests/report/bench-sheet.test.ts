import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { type BenchSheet, benchSheet } from '../../src/advice/bench-sheet.ts';
import { runJobFile } from '../../src/cli/run.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { benchSheetHtml } from '../../src/report/bench-sheet-html.ts';
import { benchSheetText } from '../../src/report/bench-sheet-text.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { factsFor, LEAF } from '../pairs.ts';

const CHROMIUM = '/usr/bin/chromium';
const here = existsSync(CHROMIUM);
if (!here) console.log(`The bench sheet was not printed: there is no ${CHROMIUM}.`);

const LEAVES = Array.from({ length: 120 }, (_, n) => {
  const [x, y] = [4 + 8 * (n % 12), 4 + 9 * Math.floor(n / 12)];
  return `<ellipse cx="${x}" cy="${y}" rx="3.4" ry="${1.2 + (n % 5) / 4}" transform="rotate(${(n * 37) % 180} ${x} ${y})"/>`;
}).join('');
const CLAMPS = Array.from({ length: 9 }, (_, n) => ({
  part: n % 2 === 0 ? 'pocket' : 'plug',
  name: `clamp with a long name ${n} <&>`,
  box: { left: -30, top: 12 * n, width: 12, length: 8 },
}));

function ofPair(pair: Parameters<typeof factsFor>[0]): BenchSheet {
  const facts = factsFor(pair);
  return benchSheet(checkJob(facts, RULES), facts);
}

async function ofSample(id: string): Promise<BenchSheet> {
  const { checked, facts } = await runJobFile(`samples/${id}/${id}.dryfit.yaml`);
  return benchSheet(checked, facts);
}

/** Millimetres and inches, passing and failing, with clamps, with many strokes, with nothing to fit, with little told. */
const SHEETS: Readonly<Record<string, () => BenchSheet | Promise<BenchSheet>>> = {
  kingfisher: () => ofSample('kingfisher'),
  'fern-lid': () => ofSample('fern-lid'),
  'fit.proud': () => ofSample('fit.proud'),
  'pair.mirror': () => ofSample('pair.mirror'),
  clamps: () =>
    ofPair({ pocket: LEAF, job: { title: 'A <title> & more', 'keep-out': CLAMPS, nut: { diameter: 22 } } }),
  leaves: () => ofPair({ pocket: LEAVES, job: { title: 'Meadow '.repeat(14) } }),
  untold: () => ofPair({ pocket: LEAF, job: { 'bit.tip-flat': undefined, 'plug.stock': undefined } }),
};

const made = new Map<string, BenchSheet>();
for (const [name, make] of Object.entries(SHEETS)) made.set(name, await make());

describe('the bench sheet', () => {
  const sheet = (name: string): BenchSheet => made.get(name) as BenchSheet;

  it.each(Object.keys(SHEETS))(
    '%s as text: 80 columns, a box for every step, a letter for every ground',
    (name) => {
      const text = benchSheetText(sheet(name), 80, PLAIN_INK);
      for (const line of text.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
      expect(text.match(/^\[ \]/gm)).toHaveLength(sheet(name).steps.length);
      const legend = text.slice(text.indexOf('Grounds:'));
      for (const [, letter] of text.matchAll(/\[([a-z])\]/g))
        expect(legend).toMatch(new RegExp(`^${letter}  `, 'm'));
      expect(text).not.toMatch(/NaN|undefined|Infinity|\[object/);
    },
  );

  it.each(Object.keys(SHEETS))(
    '%s as a page: needs nothing else, runs nothing, lets no text out of its place',
    (name) => {
      const page = benchSheetHtml(sheet(name));
      expect(page).not.toMatch(/<script|<link|<img|@import|url\((?!#)|https?:/);
      expect(page).not.toMatch(/NaN|undefined|Infinity|\[object/);
      expect(page).not.toContain('<title> & more');
      expect(page).toBe(benchSheetHtml(sheet(name)));
    },
  );

  it('says on top that a job fails', () => {
    expect(benchSheetText(sheet('pair.mirror'), 80, PLAIN_INK).split('\n').slice(0, 3).join(' ')).toContain(
      'FAIL',
    );
    expect(benchSheetHtml(sheet('pair.mirror'))).toContain('THIS JOB FAILS ITS DRY FIT');
  });

  describe.skipIf(!here)('printed', () => {
    let browser: Browser;
    const folder = mkdtempSync(join(tmpdir(), 'dryfit-print-'));
    beforeAll(async () => {
      browser = await chromium.launch({
        executablePath: CHROMIUM,
        args: ['--headless', '--no-sandbox', '--disable-gpu'],
      });
    });
    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
    });

    /** Paper less the margins of the page, CSS pixels (96 to the inch): A4 is 210 mm wide, Letter 8.5 in. */
    const PAPERS = [
      ['A4', ((210 - 18) * 96) / 25.4],
      ['Letter', 8.5 * 96 - (18 * 96) / 25.4],
    ] as const;

    for (const name of Object.keys(SHEETS))
      it.each(PAPERS)(`${name} on %s: one or two pages, nothing cut off`, async (format, width) => {
        const path = join(folder, `${name}.html`);
        writeFileSync(path, benchSheetHtml(sheet(name)));
        const page = await browser.newPage({ viewport: { width: Math.floor(width), height: 900 } });
        await page.goto(`file://${path}`);
        await page.emulateMedia({ media: 'print' });
        const found = await page.evaluate(() => {
          const edge = document.documentElement.clientWidth + 0.5;
          const beyond = [...document.querySelectorAll('main *')]
            .filter((part) => {
              const { left, right } = part.getBoundingClientRect();
              return right > edge || left < -0.5;
            })
            .map(
              (part) =>
                `${part.tagName} ${part.getAttribute('class') ?? ''} ${part.textContent?.slice(0, 40)}`,
            );
          const rule = document.querySelector('.ruler path')?.getBoundingClientRect().width;
          const high = (part: Element): number => part.getBoundingClientRect().height;
          const names = [...document.querySelectorAll('.figures div > .name:first-child')];
          const line = Math.min(...names.map(high));
          const torn = [...document.querySelectorAll('.figures .value')]
            .filter((part) => high(part) > 1.5 * line)
            .map((part) => part.textContent);
          const strays = [...document.querySelectorAll('svg.plan .letter')].filter((part) => {
            const paper = part.closest('svg')?.getBoundingClientRect();
            const { top, bottom, left, right } = part.getBoundingClientRect();
            return (
              paper &&
              (top < paper.top - 1 ||
                bottom > paper.bottom + 1 ||
                left < paper.left - 1 ||
                right > paper.right + 1)
            );
          }).length;
          return { beyond, rule, torn, strays };
        });
        expect(found.beyond).toEqual([]);
        expect(found.torn).toEqual([]);
        expect(found.strays).toBe(0);
        // The line to check a print by: 50 mm, or 2 in, of 96 pixels to the inch.
        expect(found.rule).toBeCloseTo(sheet(name).units === 'in' ? 192 : (50 * 96) / 25.4, 0);
        const pdf = await page.pdf({ format, printBackground: true });
        const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
        expect(pages).toBeGreaterThanOrEqual(1);
        expect(pages).toBeLessThanOrEqual(2);
        await page.close();
      });
  });
});
