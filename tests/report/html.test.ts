import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'esbuild';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { checkJob } from '../../src/engine/checked.ts';
import type { HtmlJob } from '../../src/report/html.ts';
import { html } from '../../src/report/html.ts';
import type { HtmlSheet, PlanData } from '../../src/report/html-data.ts';
import { htmlSheet } from '../../src/report/html-gather.ts';
import { factsFor } from '../pairs.ts';
import { withMany } from './many.ts';

const root = resolve(import.meta.dirname, '../..');
const CHROMIUM = '/usr/bin/chromium';
const here = existsSync(CHROMIUM);
if (!here) console.log(`The page was not tried in a browser: there is no ${CHROMIUM}.`);

/** A bar with round ends, 60 mm by 20 mm: its walls are straight, so its figures are known by hand. */
const BAR =
  '<rect id="bar" x="20" y="40" width="60" height="20" rx="9"/><circle id="dot" cx="50" cy="80" r="8"/>';
const WALL = Math.tan((15 * Math.PI) / 180);

const facts = factsFor({ pocket: BAR });
const asked = checkJob(facts, RULES);

/** The bench job, with readings that do not pass and with its first section where a test wants it. */
function jobOf(count = 0, cut?: PlanData['cut']): HtmlJob {
  const checked = count === 0 ? asked : withMany(asked, facts, count);
  const sheet = JSON.parse(JSON.stringify(htmlSheet(checked, facts))) as HtmlSheet;
  return { checked, sheet: cut === undefined ? sheet : { ...sheet, data: { ...sheet.data, cut } } };
}

const unread: HtmlJob = {
  job: 'lids/ring.dryfit.yaml',
  faults: [{ message: 'A bit has no angle.', place: { file: 'lids/ring.dryfit.yaml', line: 9 } }],
};

describe('the page as text', () => {
  const plain = html([jobOf(), unread], 'let a = "</script>";');

  it('needs nothing from elsewhere', () => {
    const links = [...plain.matchAll(/(?:src|href)="([^"]*)"/g)].map((match) => match[1] as string);
    expect(links.filter((link) => !link.startsWith('#'))).toEqual([]);
    expect(plain).not.toMatch(/url\((?!#)|@import|https?:\/\/(?!www\.w3\.org)/);
    expect(plain).toContain("default-src 'none'");
  });

  it('gives equal bytes for equal input', () => {
    expect(html([jobOf(), unread], 'let a = "</script>";')).toBe(plain);
  });

  it('lets no text out of its place: a title with marks, a script that names its own end', () => {
    const text = html([jobOf(5)], 'let a = "</script>";');
    expect(text).toContain('second try &lt;3 &amp; &quot;more&quot;');
    expect(text).not.toContain('try <3');
    expect(text.match(/<\/script>/g)?.length).toBe(2);
  });

  it('has a sheet for a job that could not be read, with what was wrong', () => {
    expect(plain).toContain('NOT READ');
    expect(plain).toContain('A bit has no angle.');
  });

  it('shows every check, passing or not', () => {
    for (const check of asked.checks) {
      const row = check.readings[0]?.label ?? check.row;
      expect(plain.includes(check.row) || plain.includes(row), check.id).toBe(true);
    }
  });
});

describe.skipIf(!here)('the page in a browser', () => {
  let browser: Browser;
  const folder = mkdtempSync(join(tmpdir(), 'dryfit-page-'));
  const troubles: string[] = [];
  let script = '';

  beforeAll(async () => {
    const built = await build({
      entryPoints: [join(root, 'src/report/html-page.ts')],
      bundle: true,
      format: 'iife',
      write: false,
      target: 'es2022',
    });
    script = built.outputFiles[0]?.text ?? '';
    writeFileSync(join(folder, 'one.html'), html([jobOf(), unread], script));
    // Across the bar, 40 mm from board to board; and beside everything.
    writeFileSync(
      join(folder, 'across.html'),
      html(
        [
          jobOf(0, [
            [50, 30],
            [50, 70],
          ]),
        ],
        script,
      ),
    );
    writeFileSync(
      join(folder, 'beside.html'),
      html(
        [
          jobOf(0, [
            [5, 5],
            [30, 5],
          ]),
        ],
        script,
      ),
    );
    writeFileSync(join(folder, 'many.html'), html([jobOf(60)], script));
    browser = await chromium.launch({
      executablePath: CHROMIUM,
      args: ['--headless', '--no-sandbox', '--disable-gpu'],
    });
  });

  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  async function opened(name: string, width: number, dark = false): Promise<Page> {
    const page = await browser.newPage({
      viewport: { width, height: 900 },
      colorScheme: dark ? 'dark' : 'light',
    });
    page.on('console', (message) => troubles.push(message.text()));
    page.on('pageerror', (error) => troubles.push(error.message));
    page.on('request', (request) => {
      if (!request.url().startsWith('file:')) troubles.push(`asked for ${request.url()}`);
    });
    await page.goto(`file://${join(folder, name)}`);
    return page;
  }

  for (const name of ['one.html', 'many.html'])
    for (const width of [360, 800, 1400])
      it(`${name} at ${width} pixels: nothing beyond the edge, no balloon over another`, async () => {
        const page = await opened(name, width, width === 800);
        const found = await page.evaluate(() => {
          const boxes = (list: Iterable<Element>) => [...list].map((part) => part.getBoundingClientRect());
          const hits = (all: DOMRect[]): number => {
            let count = 0;
            all.forEach((a, i) => {
              for (const b of all.slice(i + 1))
                if (
                  a.left < b.right - 1 &&
                  b.left < a.right - 1 &&
                  a.top < b.bottom - 1 &&
                  b.top < a.bottom - 1
                )
                  count++;
            });
            return count;
          };
          const plans = [...document.querySelectorAll('svg.drawing')];
          return {
            wide: document.documentElement.scrollWidth,
            // Round balloons: the boxes of their figures tell whether one covers another.
            figures: plans.map((plan) => hits(boxes(plan.querySelectorAll('text')))),
            labels: hits(boxes(document.querySelectorAll('svg.section .dimension text'))),
            balloons: document.querySelectorAll('.balloon').length,
            cells: [...document.querySelectorAll('tbody tr')].filter((row) => hits(boxes(row.children)) > 0)
              .length,
          };
        });
        expect(found.wide).toBeLessThanOrEqual(width);
        expect(found.figures).toEqual([0, 0]);
        expect(found.labels).toBe(0);
        expect(found.cells).toBe(0);
        if (name === 'many.html') expect(found.balloons).toBeGreaterThanOrEqual(60);
        await page.close();
      });

  it('sands the face: the inlay narrows by twice the wall slope times what is taken off', async () => {
    const page = await opened('across.html', 1400);
    const shown = () =>
      page.evaluate(() => {
        const path = document.querySelector('svg.section .shown');
        return path instanceof SVGPathElement ? path.getTotalLength() : 0;
      });
    const scale = await page.evaluate(() => {
      const face = document.querySelector('svg.section .face');
      return face instanceof SVGPathElement ? face.getTotalLength() / 40 : 0;
    });
    const before = await shown();
    expect(before / scale).toBeCloseTo(20, 1);
    await page.locator('.sanding input').evaluate((slider: HTMLInputElement) => {
      slider.value = '200';
      slider.dispatchEvent(new Event('input'));
    });
    await page.waitForTimeout(100);
    // A fifth of the 5 mm of mating wall is 1 mm; the loss is geometry alone (sloping wall, 15 degrees a side).
    expect((before - (await shown())) / scale).toBeCloseTo(2 * WALL, 1);
    expect(await page.locator('.sanding output').textContent()).toMatch(/^After 1\.00\d? mm off the face/);
    const worn = await page.locator('use.worn').first().getAttribute('stroke-width');
    expect(Number(worn)).toBeCloseTo(2 * WALL, 2);
    await page.close();
  });

  it('cuts where it is told: the depths of the job are in the section, and none beside the inlay', async () => {
    const label = async (name: string) => {
      const page = await opened(name, 1400);
      const text = await page.locator('svg.section').getAttribute('aria-label');
      await page.close();
      return text;
    };
    // The bench job: start 5, flat 7.6 and 2.6 mm, board 19 mm (physics of the sloping wall: 7.6 - 5, 19 - 7.6).
    expect(await label('across.html')).toMatch(
      /saw gap 2\.60 mm, plug goes in 5\.00 mm, glue gap 2\.60 mm, board left 11\.40 mm/,
    );
    expect(await label('beside.html')).not.toContain('plug goes in');
  });

  it('moves an end of the section by the keys, and draws a new one by dragging', async () => {
    const page = await opened('one.html', 1400);
    const section = () => page.locator('.section-holder').innerHTML();
    const before = await section();
    await page.locator('[data-end=to]').focus();
    for (let k = 0; k < 5; k++) await page.keyboard.press('ArrowDown');
    await page.waitForTimeout(150);
    const moved = await section();
    expect(moved).not.toBe(before);
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-end'))).toBe('to');
    await page.getByRole('button', { name: 'Draw a section' }).click();
    const box = await page.locator('svg.drawing').first().boundingBox();
    if (box === null) throw new Error('the plan is not on the page');
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 4);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 3, box.y + box.height / 1.6, { steps: 6 });
    await page.mouse.up();
    await page.waitForTimeout(150);
    expect(await section()).not.toBe(moved);
    await page.close();
  });

  it('lights a row and its balloon together, both ways', async () => {
    const page = await opened('many.html', 1400);
    const lit = () =>
      page.evaluate(() => [...document.querySelectorAll('.on')].map((part) => part.localName).sort());
    await page.locator('tr.row[data-row="1"]').hover();
    expect(await lit()).toEqual(['a', 'tr', 'tr']);
    await page.locator('a.balloon[data-row="2"]').focus();
    expect(await lit()).toEqual(['a', 'a', 'tr', 'tr', 'tr', 'tr'].sort());
    await page.close();
  });

  it('grows, moves and shows the whole again by the keys, and shows what is asked for', async () => {
    const page = await opened('one.html', 1400);
    const placed = () => page.locator('svg.drawing .moved').first().getAttribute('transform');
    const whole = await placed();
    await page.locator('svg.drawing').first().focus();
    await page.keyboard.press('+');
    await page.keyboard.press('ArrowRight');
    expect(await placed()).not.toBe(whole);
    await page.keyboard.press('0');
    expect(await placed()).toBe(whole);
    expect(await page.locator('.widths').isVisible()).toBe(false);
    await page.getByLabel('stroke widths').check();
    expect(await page.locator('.widths').isVisible()).toBe(true);
    expect(await page.locator('.for-widths').isVisible()).toBe(true);
    const fills = await page
      .locator('.moved .width')
      .evaluateAll((paths) => paths.map((path) => getComputedStyle(path).fill));
    expect(new Set(fills).size).toBe(4);
    expect(fills).not.toContain('none');
    await page.close();
  });

  it('prints one job on two sheets at most, on A4 and on Letter', async () => {
    for (const format of ['A4', 'Letter']) {
      const page = await opened('one.html', 1000);
      const pdf = (await page.pdf({ format })).toString('latin1');
      // The second job, not read, takes a sheet of its own.
      expect(pdf.match(/\/Type\s*\/Page\b/g)?.length, format).toBeLessThanOrEqual(3);
      await page.close();
    }
  });

  it('said nothing to the console and asked for nothing', () => {
    expect(troubles).toEqual([]);
  });
});
