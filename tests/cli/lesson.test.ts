/** `dryfit lesson`: the samples as lessons, asked without the answer, answered by the real check. */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pageOf } from '../../src/cli/explain.ts';
import { lesson, lessonIds, lessonOf, listLines, questionText } from '../../src/cli/lesson.ts';
import type { RawShape } from '../../src/geometry/shapes.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { columns } from '../../src/report/layout.ts';
import { answerLines, findings, type Lesson } from '../../src/report/lesson.ts';
import { drawingLines, pathData } from '../../src/report/lesson-drawing.ts';
import { answersHtml, handoutHtml } from '../../src/report/lesson-html.ts';

const root = resolve(import.meta.dirname, '../..');
const view = { ink: PLAIN_INK, width: 80 };
const ids = lessonIds();
// The first lesson of each subject; DRYFIT_ALL=1 takes every one.
const taken = ids.filter(
  (id, i) =>
    process.env['DRYFIT_ALL'] === '1' ||
    ids.findIndex((other) => other.split('.')[0] === id.split('.')[0]) === i,
);
const lessons: Lesson[] = [];
const folder = mkdtempSync(join(tmpdir(), 'dryfit-lesson-'));
beforeAll(async () => {
  for (const id of taken) lessons.push(await lessonOf(id, ids));
}, 300_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const squeezed = (lines: readonly string[]): string => lines.join(' ').replace(/\s+/g, ' ');

describe('lessons', () => {
  it('are all the samples that show one mistake (they bear the name of their check)', () => {
    const samples = readdirSync(join(root, 'samples')).filter((name) => name.includes('.'));
    expect([...ids].sort()).toEqual(samples.sort());
  });

  it('are listed with their titles, without the answer until it is asked for', () => {
    const [plain, answers] = [listLines(ids, false, view), listLines(ids, true, view)];
    for (const line of [...plain, ...answers]) expect(columns(line), line).toBeLessThanOrEqual(80);
    for (const { number, checked, id } of lessons) {
      expect(squeezed(plain)).toContain(` ${number} ${checked.title} `);
      expect(squeezed(plain)).not.toContain(pageOf(id).title);
      expect(squeezed(answers)).toContain(`${checked.title} ${pageOf(id).title}`);
    }
  });

  it('are refused by a number that is not there', async () => {
    for (const number of ['0', '99', '1.5', 'one', '-1', ''])
      await expect(lesson(number, {})).rejects.toThrow(`from 1 to ${ids.length}`);
  });
});

describe.each(taken)('the lesson of %s', (id) => {
  const of = (): Lesson => lessons[taken.indexOf(id)] as Lesson;

  it('puts the design with every figure and keeps the answer to itself, within 80 columns', () => {
    for (const braille of [true, false]) {
      const lines = questionText(of(), view, braille);
      for (const line of lines) expect(columns(line), line).toBeLessThanOrEqual(80);
      const text = squeezed(lines);
      for (const check of of().checked.checks) expect(text).toContain(check.row);
      expect(text).not.toMatch(/FAIL|CLOSE|Mend:|need|>=|<=/);
      expect(text).not.toContain(of().story);
    }
  });

  it('is answered by the check itself: its own finding first, with have, need, why and mend', () => {
    const lines = answerLines(of(), pageOf(id), 80, PLAIN_INK);
    for (const line of lines) expect(columns(line), line).toBeLessThanOrEqual(80);
    const first = findings(of())[0];
    expect(first?.check.id).toBe(id);
    expect(first?.word).toBe('FAIL');
    expect(first?.cure).toBeDefined();
    const text = squeezed(lines);
    expect(of().story).not.toBe('');
    for (const part of [
      of().story,
      first?.says,
      `Mend: ${first?.cure}`,
      `have ${first?.have} need ${first?.need}`,
    ])
      expect(text).toContain((part as string).replace(/\s+/g, ' '));
    expect(text).toContain(`dryfit explain ${id}`);
  });
});

describe('the handout', () => {
  it('is one file without scripts or anything from elsewhere, alike each time, and gives nothing away', () => {
    const [handout, answers] = [handoutHtml(lessons), answersHtml(lessons, pageOf)];
    for (const html of [handout, answers]) {
      expect(html).not.toMatch(/<script|<link|https?:|url\(|@import| src=/);
      expect(html).toMatch(/prefers-color-scheme: dark/);
      expect(html).toMatch(/@media print/);
      expect(html.match(/<article /g)).toHaveLength(taken.length);
      expect(html.match(/<svg [^>]*role="img" aria-label="/g)).toHaveLength(2 * taken.length);
    }
    expect(handoutHtml(lessons)).toBe(handout);
    const plain = (html: string): string => html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
    const escaped = (text: string): string =>
      text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
    for (const each of lessons) {
      const told = [each.story, findings(each)[0]?.says as string].map((text) =>
        escaped(text).replace(/\s+/g, ' '),
      );
      for (const text of told) {
        expect(plain(handout)).not.toContain(text);
        expect(plain(answers)).toContain(text);
      }
    }
    expect(plain(handout)).not.toMatch(/FAIL|CLOSE/);
  });

  it('is written whole to the path that is given', async () => {
    const path = join(folder, 'one.html');
    expect(await lesson('1', { html: path })).toBe(0);
    expect(readFileSync(path, 'utf8')).toBe(handoutHtml(lessons.slice(0, 1)));
    expect(await lesson('1', { html: path, answer: true })).toBe(0);
    expect(readFileSync(path, 'utf8')).toBe(answersHtml(lessons.slice(0, 1), pageOf));
    await expect(lesson('1', { html: join(folder, 'no/such/folder.html') })).rejects.toThrow(
      'no such folder',
    );
  });
});

const shapeOf = (points: readonly number[], closed = true): RawShape => ({
  lines: [{ points: Float64Array.from(points), closed }],
  fillRule: 'nonzero',
  source: 0,
});
const artworkOf = (...shapes: RawShape[]) => ({ ...(lessons[0] as Lesson).facts.artwork('pocket'), shapes });

describe('the drawing in text', () => {
  // A hook: tall on the left, and its mirror image.
  const hook = [0, 0, 10, 0, 10, 20, 30, 20, 30, 30, 0, 30];
  const turned = hook.map((value, i) => (i % 2 === 0 ? 30 - value : value));

  it('stands pocket and plug side by side at one scale, so that a mirror is seen as one', () => {
    const lines = drawingLines(artworkOf(shapeOf(hook)), artworkOf(shapeOf(turned)), 80, false).slice(1);
    const wide = Math.max(...lines.map((line) => line.slice(0, 38).trimEnd().length));
    for (const line of lines) {
      const [left, right] = [line.slice(0, wide).padEnd(wide), line.slice(42, 42 + wide).padEnd(wide)];
      expect([...right].reverse().join('')).toBe(left);
    }
    const half = hook.map((value) => value / 2);
    const uneven = drawingLines(artworkOf(shapeOf(hook)), artworkOf(shapeOf(half)), 80, false).slice(1);
    expect(uneven.filter((line) => line.slice(42) !== '').length).toBeLessThanOrEqual(
      Math.ceil(lines.length / 2) + 1,
    );
  });

  it('leaves an open line open, and copes with nothing at all', () => {
    const square = [0, 0, 10, 0, 10, 10, 0, 10];
    const drawn = drawingLines(artworkOf(shapeOf(square)), artworkOf(shapeOf(square, false)), 80, false);
    const [left, right] = [0, 42].map((from) => (drawn[3] as string).slice(from, from + 38).trim());
    expect(left?.length).toBeGreaterThan(right?.length as number);
    expect(drawingLines(artworkOf(), artworkOf(), 80, true)).toHaveLength(2);
  });

  it('keeps its outlines on paper within 0.03 mm and a rounding of 0.01 mm', () => {
    const circle = Array.from({ length: 4000 }, (_, i) => [
      20 * Math.cos((i * Math.PI) / 2000),
      20 * Math.sin((i * Math.PI) / 2000),
    ]).flat();
    const kept = [...pathData(shapeOf(circle)).matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => [
      Number(m[1]),
      Number(m[2]),
    ]);
    expect(kept.length).toBeLessThan(200);
    // Every point stays on the circle, and no chord between neighbours dips further below it.
    kept.forEach(([x = 0, y = 0], i) => {
      const [nextX = 0, nextY = 0] = kept[(i + 1) % kept.length] as number[];
      expect(Math.abs(Math.hypot(x, y) - 20)).toBeLessThan(0.01);
      expect(Math.hypot((x + nextX) / 2, (y + nextY) / 2)).toBeGreaterThan(20 - 0.04);
    });
  });
});

/** util-linux `script` gives a terminal of its own to a command. */
const hasTerminal = existsSync('/usr/bin/script') && existsSync(join(root, 'dist/cli.cjs'));
if (!hasTerminal)
  console.log('lesson at a terminal: not run, it needs util-linux "script" and a built dist/cli.cjs');

describe.skipIf(!hasTerminal)('a student at a terminal', () => {
  /** Runs a call at a terminal of its own and types once it asks. */
  const at = (words: string, typed: string): Promise<{ stdout: string; status: number | null }> =>
    new Promise((resolve, reject) => {
      const command = `${process.execPath} ${join(root, 'bin/dryfit.js')} ${words}`;
      const run = spawn('/usr/bin/script', ['-qec', command, '/dev/null'], {
        timeout: 55_000,
        env: { ...process.env, NO_COLOR: '1', COLUMNS: '80', TERM: 'xterm', LC_ALL: 'C.UTF-8' },
      });
      let stdout = '';
      let asked = false;
      run.stdout.setEncoding('utf8').on('data', (text: string) => {
        stdout += text;
        if (!asked && stdout.includes(PROMPT)) {
          asked = true;
          run.stdin.write(typed);
        }
      });
      run.on('error', reject).on('close', (status) => resolve({ stdout, status }));
    });
  const PROMPT = 'Press Enter for the answer.';

  it('reads the question, presses Enter and reads the answer', async () => {
    const { stdout, status } = await at('lesson 1', '\r');
    expect(status).toBe(0);
    const [before, after] = stdout.split(PROMPT) as [string, string];
    expect(before).toContain(`Lesson 1 of ${ids.length}`);
    expect(before).not.toContain('FAIL');
    expect(after).toContain('FAIL');
    expect(after).toContain(`dryfit explain ${ids[0]}`);
  });

  it.each([
    ['the end of input', '\u0004'],
    ['an interrupt', '\u0003'],
  ])('may leave without the answer, by %s', async (_, typed) => {
    const { stdout, status } = await at('lesson 1', typed);
    expect(stdout).toContain(PROMPT);
    expect(stdout).not.toContain('FAIL');
    expect(status).toBe(0);
  });

  it('is told how to get it when the page goes into a pipe', () => {
    const run = spawnSync(process.execPath, [join(root, 'bin/dryfit.js'), 'lesson', '1'], {
      encoding: 'utf8',
      input: '',
    });
    expect(run.stdout).toContain('The answer: dryfit lesson 1 --answer');
    expect(run.stdout).not.toContain('FAIL');
    expect(run.status).toBe(0);
  });
});
