import { describe, expect, it } from 'vitest';
import { readJob } from '../../src/job/job.ts';
import { LIMITS } from '../../src/job/limits.ts';
import { degrees, type Mm } from '../../src/units.ts';
import { faultsOf, SHORT_JOB, WHOLE_JOB } from './texts.ts';

describe('a whole job', () => {
  const job = readJob(WHOLE_JOB, 'jobs/tray.dryfit.yaml');

  it('gives every key in millimetres and radians', () => {
    expect(job).toMatchObject({
      file: 'jobs/tray.dryfit.yaml',
      title: 'Tea tray, kingfisher',
      units: 'mm',
      pocket: {
        outline: {
          path: 'jobs/drawings/kingfisher.svg',
          select: 'bird',
          written: 'drawings/kingfisher.svg#bird',
        },
        startDepth: 0,
        flatDepth: 7.6,
        stock: { wood: 'cherry-black', grain: 'face', grainAngle: degrees(90), thickness: 19, moisture: 8 },
      },
      plug: {
        mirror: 'drawn',
        startDepth: 5,
        flatDepth: 2.6,
        stock: { wood: 'maple-sugar', grainAngle: 0, width: 220, length: 160, left: -10, top: 0 },
      },
      bit: {
        angle: degrees(30),
        tipFlat: 0.1,
        cuttingDiameter: 6.35,
        stickOut: 30,
        toolpathAngle: degrees(30),
        toolpathTipFlat: 0,
      },
      plugBit: { angle: 0.5236, tipRadius: 0.05 },
      clearingBit: { diameter: 3.175, cuttingLength: 12, stickOut: 25 },
      nut: { diameter: 35 },
      saw: { kerf: 0.9 },
      keepOut: [
        { part: 'plug', name: 'left clamp', box: { left: -30, top: 20, width: 25, length: 40 }, height: 22 },
        { part: 'pocket', disc: { x: 0, y: 0, diameter: 12 } },
        { part: 'plug', outline: { path: 'jobs/kingfisher-plug.svg', select: 'clamps' } },
      ],
      feeds: {
        vBit: { feed: 1200, stepDown: 3, stepOver: 0.2 },
        clearing: { feed: 1270 },
      },
      climate: {
        workshop: { moisture: 8 },
        driest: { temperature: 21, humidity: 30 },
        dampest: { humidity: 65 },
      },
      spread: {
        tipWear: 0.05,
        angle: degrees(0.5),
        scale: 0.01,
        runout: 0,
        draws: 2000,
        seed: 7,
        pocketZero: 0.05,
      },
    });
    expect(job.limits['rim-gap-most']).toBeCloseTo(0.1016, 12); // 0.004 in
    expect(job.limits['side-load']).toBe(12);
    expect(job.limits['glue-gap-least']).toBe(LIMITS['glue-gap-least'].value);
  });

  it('keeps the place of every key, and falls back to the parent', () => {
    expect(job.place('plug.flat-depth')).toEqual({ file: 'jobs/tray.dryfit.yaml', line: 12, column: 15 });
    const lines = WHOLE_JOB.split('\n');
    for (const [path, written] of [
      ['units', 'mm'],
      ['pocket.outline', 'drawings/kingfisher.svg#bird'],
      ['plug.stock', '{ wood: Sugar maple'],
      ['bit.tip-flat', '0.1,'],
      ['keep-out', '- { part: plug, name'],
      ['keep-out.1.disc.diameter', '12 }'],
      ['limits.side-load', '12 N'],
    ] as const) {
      const { line = 0, column = 0 } = job.place(path);
      expect(lines[line - 1]?.slice(column - 1).startsWith(written), path).toBe(true);
    }
    expect(job.place('plug.stock.moisture')).toEqual(job.place('plug.stock'));
    expect(job.place('nothing.here')).toEqual({ file: 'jobs/tray.dryfit.yaml' });
  });

  it('tells what the job itself says from defaults', () => {
    expect(job.says('saw')).toBe(true);
    expect(job.says('limits.rim-gap-most')).toBe(true);
    expect(job.says('limits.proud-most')).toBe(false);
    expect(job.says('spread.plug-zero')).toBe(false);
  });

  it('holds units apart in its types', () => {
    const length: Mm = job.plug.flatDepth;
    // @ts-expect-error an angle is no length
    const wrong: Mm = job.bit.angle;
    // @ts-expect-error a key that does not exist
    const missing: unknown = job.bit.colour;
    expect([length, wrong, missing]).toEqual([2.6, degrees(30), undefined]);
  });
});

describe('a short job', () => {
  it('fills in what may be left out', () => {
    const job = readJob(SHORT_JOB, 'fern.dryfit.yaml');
    expect(job.title).toBe('fern');
    expect(job.pocket.startDepth).toBe(0);
    expect(job.pocket.outline.path).toBe('fern.svg');
    expect(job.pocket.stock).toEqual({});
    expect(job.plug.mirror).toBe('drawn');
    expect(job.plugBit).toBe(job.bit);
    expect(job.bit.tipFlat).toBeUndefined();
    expect(job.bit.tipRadius).toBeUndefined();
    expect(job.keepOut).toEqual([]);
    expect(job.spread.draws).toBe(4000);
  });

  it('reads bare numbers in the unit the job names, wherever the key stands', () => {
    const job = readJob(`${SHORT_JOB.replace('units: mm\n', '')}units: in\n`, 'fern.dryfit.yaml');
    expect(job.pocket.flatDepth).toBeCloseTo(193.04, 10); // 7.6 x 25.4
    expect(job.units).toBe('in');
  });

  it('takes blank sections, where every line is a remark', () => {
    const job = readJob(
      `${SHORT_JOB}limits:\n  # rim-gap-most: 0.1\nspread:\nkeep-out:\n`,
      'fern.dryfit.yaml',
    );
    expect(job.limits['rim-gap-most']).toBe(0.05);
    expect(job.keepOut).toEqual([]);
  });

  it('reads the same with a byte order mark and with the line ends of other systems', () => {
    const plain = readJob(SHORT_JOB, 'fern.dryfit.yaml');
    const other = readJob(`\ufeff${SHORT_JOB.replaceAll('\n', '\r\n')}`, 'fern.dryfit.yaml');
    expect(JSON.stringify(other)).toBe(JSON.stringify(plain));
    expect(other.place('bit.angle')).toEqual(plain.place('bit.angle'));
  });
});

describe('outlines', () => {
  const outlineOf = (text: string, file = 'fern.dryfit.yaml') =>
    readJob(SHORT_JOB.replace('outline: fern.svg', `outline: ${text}`), file).pocket.outline;

  it.each([
    ['fern.svg', 'fern.svg', undefined],
    ['fern.svg#leaf', 'fern.svg', 'leaf'],
    ['a#1/fern.svg', 'a#1/fern.svg', undefined],
    ['fern#2.svg#leaf', 'fern#2.svg', 'leaf'],
    ['FERN.SVG#leaf', 'FERN.SVG', 'leaf'],
    ['fern.xml#leaf', 'fern.xml', 'leaf'],
    ['fern.svg#a.svg', 'fern.svg', 'a.svg'],
    ['../my drawings/Farn-Größe.svg', '../my drawings/Farn-Größe.svg', undefined],
    ['art\\fern.svg#leaf', 'art/fern.svg', 'leaf'],
    ["'fern.svg'", 'fern.svg', undefined],
    ['fern.svg # the left one', 'fern.svg', undefined],
  ])('parts %s', (text, path, select) => {
    const outline = outlineOf(text);
    expect([outline.path, outline.select]).toEqual([path, select]);
  });

  it('finds them from the folder of the job, unless they are absolute', () => {
    expect(outlineOf('art/fern.svg', 'jobs/spring/fern.dryfit.yaml').path).toBe('jobs/spring/art/fern.svg');
    expect(outlineOf('../fern.svg', 'jobs/fern.dryfit.yaml').path).toBe('fern.svg');
    expect(outlineOf('/srv/fern.svg', 'jobs/fern.dryfit.yaml').path).toBe('/srv/fern.svg');
    expect(outlineOf('D:\\art\\fern.svg', 'jobs/fern.dryfit.yaml').path).toBe('D:/art/fern.svg');
  });

  it.each([
    ['fern.svg #leaf', /write fern\.svg#leaf without the blank/],
    ['fern.svg#', /lacks an id after its #/],
    ["'#leaf'", /lacks the file/],
    ['"art\\tfern.svg"', /control character.*backslash/],
    ['https://example.org/fern.svg', /is an address/],
    ['12', /"12" is no file/],
    ['', /Nothing is written/],
  ])('refuses %s', (text, sentence) => {
    expect(faultsOf(() => outlineOf(text))).toEqual([expect.stringMatching(sentence)]);
  });

  it('lets the plug share the drawing of the pocket only when the toolpath mirrors it', () => {
    const shared = SHORT_JOB.replace('outline: fern-plug.svg', 'mirror: toolpath');
    expect(readJob(shared, 'fern.dryfit.yaml').plug).toMatchObject({
      mirror: 'toolpath',
      outline: { path: 'fern.svg' },
    });
    expect(faultsOf(() => readJob(shared.replace('toolpath', 'drawn'), 'fern.dryfit.yaml'))).toEqual([
      expect.stringMatching(/^6:3 plug: "outline" is missing/),
    ]);
  });
});
