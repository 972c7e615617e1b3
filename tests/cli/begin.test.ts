/** A job file begun from two drawings: what is filled in, what is asked, and that nothing is ever overwritten. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { PassThrough } from 'node:stream';
import Ajv from 'ajv';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { parse } from 'yaml';
import { begin } from '../../src/cli/begin.ts';
import { suggestedAngle } from '../../src/cli/begin-questions.ts';
import { runJobFile } from '../../src/cli/run.ts';
import { InputFault } from '../../src/fault.ts';
import { readJob } from '../../src/job/job.ts';
import { jobSchema } from '../../src/job/schema-json.ts';
import { yamlText } from '../../src/report/begin.ts';
import { toDegrees } from '../../src/units.ts';
import { LEAF, mirrored, svg } from '../pairs.ts';

const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'dryfit-begin-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string): string => join(folder, name);
const text = (name: string): string => readFileSync(at(name), 'utf8');

/** A bar 40 x 2 mm joined to a block 20 x 30 mm, so that its narrowest stroke is known by its making. */
const BAR = '<path d="M20 40 H60 V30 H80 V60 H60 V42 H20 Z"/>';
const INCHES = 'width="4in" height="4in" viewBox="0 0 4 4"';

const said: string[] = [];
beforeAll(() => {
  vi.spyOn(process.stderr, 'write').mockImplementation((chunk) => {
    said.push(String(chunk));
    return true;
  });
  writeFileSync(at('tea-tray.svg'), svg(LEAF));
  writeFileSync(at('tea-tray-plug.svg'), svg(mirrored(LEAF)));
  writeFileSync(at('bar.svg'), svg(BAR));
  writeFileSync(at('bar-plug.svg'), svg(mirrored(BAR)));
  writeFileSync(at('inch.svg'), svg('<path d="M1 1 H3 V2 L1 3 Z"/>', INCHES));
  writeFileSync(at('inch-plug.svg'), svg('<path d="M3 1 H1 V2 L3 3 Z"/>', INCHES));
});

/** A person who types these lines, each when asked; leaves when they are used up. */
async function typed(lines: readonly string[], ...words: [string, string, string]): Promise<string> {
  const input = new PassThrough();
  const output = new PassThrough();
  let shown = '';
  const left = [...lines];
  output.on('data', (chunk: Buffer) => {
    const asked = chunk.toString('utf8');
    shown += asked;
    if (!/[?\]] $/.test(asked)) return;
    const line = left.shift();
    if (line === undefined) input.end();
    else input.write(`${line}\n`);
  });
  const [pocket, plug, job] = words;
  await begin(at(pocket), at(plug), { output: at(job) }, { input, output });
  expect(left).toEqual([]);
  return shown;
}

describe('with nobody there', () => {
  it('fills in what the drawings tell, marks what it suggests, and leaves the rest open', async () => {
    expect(await begin(at('tea-tray.svg'), at('tea-tray-plug.svg'), {}, undefined)).toBe(0);
    const job = text('tea-tray.dryfit.yaml');
    const read = readJob(job, at('tea-tray.dryfit.yaml'));
    expect(read.title).toBe('Tea tray');
    expect(read.pocket.outline.path).toBe(at('tea-tray.svg'));
    expect(read.bit.tipFlat).toBeUndefined();
    expect(read.pocket.stock).toEqual({});
    for (const key of ['flat-depth: 7.5', 'start-depth: 5', 'flat-depth: 2.5', 'angle: '])
      expect(job.split('\n').find((line) => line.includes(` ${key}`))).toContain('# suggested; ');
    expect(job).toContain("The plug is the pocket's mirror image");
    expect(said.join('')).toContain('yours to set: plug.start-depth');
    // Nobody told the tip or the woods, so the check must not pass what it cannot know.
    const { checked } = await runJobFile(at('tea-tray.dryfit.yaml'));
    expect(checked.answer).toBe('unknown');
    const depths = checked.checks.filter(({ id }) =>
      ['depth.mating', 'depth.glue', 'depth.saw'].includes(id),
    );
    expect(depths.map(({ outcome }) => outcome)).toEqual(['pass', 'pass', 'pass']);
  });

  it('tells the size and the narrowest stroke of a drawing whose figures are known by its making', async () => {
    await begin(at('bar.svg'), at('bar-plug.svg'), {}, undefined);
    expect(text('bar.dryfit.yaml')).toContain('The inlay is 60.00 x 30.00 mm as drawn.');
    expect(text('bar.dryfit.yaml')).toContain('The narrowest stroke of the pocket is 2.00 mm');
  });

  it('takes the unit a drawing is made in, with depths to match', async () => {
    await begin(at('inch.svg'), at('inch-plug.svg'), {}, undefined);
    const job = text('inch.dryfit.yaml');
    expect(job).toContain('The inlay is 2.0000 x 2.0000 in');
    const read = readJob(job, 'inch.dryfit.yaml');
    expect(read.units).toBe('in');
    // 0.3 in by the international inch of 25.4 mm.
    expect(read.pocket.flatDepth).toBeCloseTo(7.62, 9);
    const { checked } = await runJobFile(at('inch.dryfit.yaml'), {
      only: ['depth.mating', 'depth.glue', 'depth.saw'],
    });
    expect(checked.checks.map((check) => check.outcome)).toEqual(['pass', 'pass', 'pass']);
  });

  it('says first when the plug is a copy, in the job and on the screen', async () => {
    await begin(at('tea-tray.svg'), at('tea-tray.svg'), { output: at('copy.dryfit.yaml') }, undefined);
    expect(text('copy.dryfit.yaml')).toContain('# Look at this first: The plug is drawn as a copy');
    expect(said.join('')).toContain('The plug is drawn as a copy of the pocket');
  });

  it('finds drawings from the job, wherever it is written, with odd names', async () => {
    mkdirSync(at('jobs'));
    mkdirSync(at('図 #1'));
    writeFileSync(at('図 #1/tray: a.svg'), svg(LEAF));
    await begin(
      at('図 #1/tray: a.svg'),
      at('tea-tray-plug.svg'),
      { output: at('jobs/odd.dryfit.yaml') },
      undefined,
    );
    const read = readJob(text('jobs/odd.dryfit.yaml'), at('jobs/odd.dryfit.yaml'));
    expect(read.pocket.outline.path).toBe(at('図 #1/tray: a.svg'));
  });

  it('never overwrites', async () => {
    writeFileSync(at('kept.dryfit.yaml'), 'mine\n');
    const again = begin(at('bar.svg'), at('bar-plug.svg'), { output: at('kept.dryfit.yaml') }, undefined);
    await expect(again).rejects.toThrow(/not overwritten/);
    expect(text('kept.dryfit.yaml')).toBe('mine\n');
  });

  it('names a language description that is there, and keeps to it', async () => {
    const job = text('bar.dryfit.yaml');
    const [, schema] = /\$schema=(\S+)/.exec(job) ?? [];
    expect(schema).toMatch(/^file:.*\/dist\/schema\/job\.schema\.json$/);
    expect(new Ajv({ strict: false }).validate(jobSchema(), parse(job))).toBe(true);
    mkdirSync(at('node_modules/dryfit/dist/schema'), { recursive: true });
    writeFileSync(at('node_modules/dryfit/dist/schema/job.schema.json'), '{}');
    await begin(at('bar.svg'), at('bar-plug.svg'), { output: at('jobs/near.dryfit.yaml') }, undefined);
    expect(text('jobs/near.dryfit.yaml')).toContain(
      '$schema=./../node_modules/dryfit/dist/schema/job.schema.json',
    );
  });
});

describe('with a person there', () => {
  it('asks for the rest, takes Enter for the choice in brackets and a dash for not known, and asks again', async () => {
    const shown = await typed(
      [
        'Fern lid',
        '',
        '4',
        '',
        '5/16',
        '2.5 mm',
        '400',
        '60',
        '0.1',
        '20',
        '-',
        'chery',
        'black cherry',
        '',
        '19',
        'maple-sugar',
        'edge',
        '18',
        '',
        '',
        '0.9',
      ],
      'tea-tray.svg',
      'tea-tray-plug.svg',
      'asked.dryfit.yaml',
    );
    expect(shown).toContain('5/16 in');
    expect(shown).toContain('more than 360 degrees');
    expect(shown).toContain('Did you mean cherry-black');
    const read = readJob(text('asked.dryfit.yaml'), 'asked.dryfit.yaml');
    expect(read).toMatchObject({
      title: 'Fern lid',
      pocket: { flatDepth: 7.5, stock: { wood: 'cherry-black', grain: 'face', thickness: 19 } },
      plug: { startDepth: 4, flatDepth: 2.5, stock: { wood: 'maple-sugar', grain: 'edge', thickness: 18 } },
      bit: { tipFlat: 0.1, cuttingLength: 20 },
      saw: { kerf: 0.9 },
    });
    expect(toDegrees(read.bit.angle)).toBeCloseTo(60, 9);
    expect(read.bit.cuttingDiameter).toBeUndefined();
    expect(text('asked.dryfit.yaml')).not.toContain('# suggested');
  });

  it('asks whether the toolpath mirrors a copy', async () => {
    const lines = ['', '', 'toolpath', ...Array.from({ length: 16 }, () => '')];
    await typed(lines, 'tea-tray.svg', 'tea-tray.svg', 'toolpath.dryfit.yaml');
    expect(readJob(text('toolpath.dryfit.yaml'), 'x').plug.mirror).toBe('toolpath');
  });

  it('asks again, with what was answered, when the answers do not go together', async () => {
    const lines = ['Bar', '', '', '', '', '60', '8', '', '6', ...Array.from({ length: 9 }, () => '')];
    const again = ['', '', '', '', '', '', '0.1', ...Array.from({ length: 11 }, () => '')];
    const shown = await typed([...lines, ...again], 'bar.svg', 'bar-plug.svg', 'again.dryfit.yaml');
    expect(shown).toContain('[Bar]');
    expect(readJob(text('again.dryfit.yaml'), 'x').bit).toMatchObject({ tipFlat: 0.1, cuttingDiameter: 6 });
  });

  it('writes nothing when the person leaves', async () => {
    const left = typed(['Fern lid', 'mm'], 'bar.svg', 'bar-plug.svg', 'left.dryfit.yaml');
    await expect(left).rejects.toThrow(InputFault);
    expect(existsSync(at('left.dryfit.yaml'))).toBe(false);
  });
});

describe('the parts', () => {
  it('suggests the bluntest usual bit whose walls meet in the narrowest stroke (2 x mating x tan of half the angle)', () => {
    const mating = (depth: string) =>
      new Map([
        ['units', 'mm'],
        ['plug.start-depth', depth],
      ]);
    // tan 45 deg = 1, tan 30 deg = 1 / sqrt 3, tan 15 deg = 2 - sqrt 3: 10, 5.7735 and 2.6795 mm for 5 mm.
    expect(suggestedAngle(10.01, mating('5'))).toBe(90);
    expect(suggestedAngle(9.99, mating('5'))).toBe(60);
    expect(suggestedAngle(5.78, mating('5'))).toBe(60);
    expect(suggestedAngle(5.77, mating('5'))).toBe(45);
    expect(suggestedAngle(2.68, mating('5'))).toBe(30);
    expect(suggestedAngle(0.01, mating('5'))).toBe(15);
  });

  it.each([
    'a: b',
    '- a',
    '#1',
    'true',
    'no',
    "it's",
    '"',
    'a #b',
    '5"',
    '~',
    '',
    ' a',
    'é 図',
    'C:/a b.svg',
    '1e3',
    '&a',
    '{a}',
    'a\\b',
  ])('writes %j so that YAML reads it back', (value) => {
    expect(parse(`key: ${yamlText(value)} # remark`)).toEqual({ key: value });
  });

  it('is on the command line, and refuses what is no drawing in words', () => {
    const run = (...words: string[]) =>
      spawnSync(process.execPath, [join(root, 'bin/dryfit.js'), 'begin', ...words], {
        cwd: folder,
        encoding: 'utf8',
      });
    const made = run('bar.svg', 'bar-plug.svg', '--output', 'cli.dryfit.yaml');
    expect(made.status, made.stderr).toBe(0);
    expect(made.stdout).toBe('');
    expect(existsSync(at('cli.dryfit.yaml'))).toBe(true);
    const refused = run('nowhere.svg', 'bar-plug.svg');
    expect(refused.status).toBe(3);
    expect(refused.stderr).toContain('no such file');
  });
});
