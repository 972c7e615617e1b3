/** A test fit by questions and by a file: what is kept, what is refused, and when. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { whyJob } from '../../src/cli/why.ts';
import { WHY_QUESTIONS } from '../../src/cli/why-questions.ts';
import { InputFault, InputFaults } from '../../src/fault.ts';
import { goodJob, LEAF, mirrored, svg } from '../pairs.ts';

const folder = mkdtempSync(join(tmpdir(), 'dryfit-why-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string): string => join(folder, name);
const JOB = at('leaf.dryfit.yaml');
const KEPT = at('kept.seen.yaml');

beforeEach(() => {
  writeFileSync(at('pocket.svg'), svg(LEAF));
  writeFileSync(at('plug.svg'), svg(mirrored(LEAF)));
  writeFileSync(JOB, JSON.stringify(goodJob(), null, 2));
  rmSync(KEPT, { force: true });
});

/** Answers by key, all other questions left open; what was asked comes back. */
function someone(answers: Readonly<Record<string, string>>) {
  const input = new PassThrough();
  const output = new PassThrough();
  const asked: string[] = [];
  output.on('data', (part) => asked.push(String(part)));
  input.end(WHY_QUESTIONS.map(({ key }) => `${answers[key] ?? ''}\n`).join(''));
  return { person: { input, output }, asked };
}

/** What is refused, as "file: sentence". */
async function refusal(run: Promise<unknown>): Promise<readonly string[]> {
  try {
    await run;
  } catch (error) {
    const faults = error instanceof InputFaults ? error.faults : [error];
    return faults.map((fault) => {
      if (!(fault instanceof InputFault)) throw fault;
      return `${fault.place.file}: ${fault.message}`;
    });
  }
  return [];
}

describe('dryfit why by questions', () => {
  it('says what a bare number is, how the height is measured, and keeps to 80 columns', async () => {
    const { person, asked } = someone({});
    expect(await refusal(whyJob(JOB, undefined, { format: 'text' }, person))).toEqual([
      expect.stringContaining('Nothing was seen'),
    ]);
    const text = asked.join('');
    expect(text).toContain('a bare number is in mm');
    expect(text).toContain('less the thickness of the\nplug stock');
    // The answers are typed, not echoed here: a question ends at its bracket.
    for (const line of text.split(/\n|(?<=\]) /)) expect(line.length, line).toBeLessThanOrEqual(80);
  });

  it('keeps what was answered even where it will not do, and tells the line in that file', async () => {
    const { person } = someone({ 'proud.middle': '0.3', sinks: 'yes' });
    const faults = await refusal(whyJob(JOB, undefined, { format: 'text', keep: KEPT }, person));
    expect(faults).toEqual([expect.stringContaining(`${KEPT}: sinks: It cannot go in too far`)]);
    expect(readFileSync(KEPT, 'utf8')).toContain('{ at: middle, by: 0.3 }');
  });

  it('asks nothing before it knows that the drawings are there and the answers can be kept', async () => {
    const first = someone({});
    rmSync(at('plug.svg'));
    const missing = await refusal(whyJob(JOB, undefined, { format: 'text' }, first.person));
    expect(missing).toEqual([expect.stringContaining('plug.svg: There is no such file')]);
    writeFileSync(at('plug.svg'), svg(mirrored(LEAF)));
    writeFileSync(KEPT, 'mine\n');
    const second = someone({ 'proud.middle': '0.3' });
    const there = await refusal(whyJob(JOB, undefined, { format: 'text', keep: KEPT }, second.person));
    expect(there).toEqual([
      `${KEPT}: This is there already and is not overwritten; name another with --keep.`,
    ]);
    expect(first.asked.concat(second.asked)).toEqual([]);
    expect(readFileSync(KEPT, 'utf8')).toBe('mine\n');
  });

  it('tells a folder that is not there by the name that was given, and leaves nothing', async () => {
    const { person } = someone({ 'proud.middle': '0.3' });
    const nowhere = at('none/kept.yaml');
    const faults = await refusal(whyJob(JOB, undefined, { format: 'text', keep: nowhere }, person));
    expect(faults).toEqual([`${nowhere}: This could not be written: there is no such folder.`]);
    expect(existsSync(at('none'))).toBe(false);
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});

describe('help', () => {
  it.each(['check', 'sheet', 'why', 'recut', 'begin', 'hook'])('of %s keeps to 80 columns', (name) => {
    const bin = join(import.meta.dirname, '../../bin/dryfit.js');
    const text = spawnSync(process.execPath, [bin, name, '--help'], { encoding: 'utf8' }).stdout;
    expect(text).toContain('Usage');
    for (const line of text.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
  });
});
