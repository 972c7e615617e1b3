import { describe, expect, it } from 'vitest';
import { InputFaults } from '../../src/fault.ts';
import { jobFromFlags, type QuickFlags } from '../../src/job/flags.ts';
import { readJob } from '../../src/job/job.ts';

const FLAGS: QuickFlags = {
  pocket: 'art/fern.svg',
  plug: 'art/fern-plug.svg#leaf',
  pocketDepth: '0+7.6',
  plugDepth: '5 + 2.6',
  angle: '30',
  tipFlat: '0.1',
};

describe('flags in place of a job file', () => {
  it('give the job that a file with the same values gives', () => {
    const file = readJob(
      `title: art/fern.svg and art/fern-plug.svg#leaf
units: mm
pocket: { outline: art/fern.svg, start-depth: 0, flat-depth: 7.6 }
plug: { outline: "art/fern-plug.svg#leaf", start-depth: 5, flat-depth: 2.6 }
bit: { angle: 30, tip-flat: 0.1 }
`,
      'command line',
    );
    expect(JSON.stringify(jobFromFlags(FLAGS))).toBe(JSON.stringify(file));
  });

  it('carry one unit over both depths', () => {
    const job = jobFromFlags({ ...FLAGS, pocketDepth: '0+0.3in', plugDepth: '0.2+0.1 in' });
    expect(job.pocket.flatDepth).toBeCloseTo(7.62, 12);
    expect(job.plug.startDepth).toBeCloseTo(5.08, 12);
    expect(jobFromFlags({ ...FLAGS, plugDepth: '5 mm+0.1 in' }).plug.startDepth).toBe(5);
    expect(jobFromFlags({ ...FLAGS, units: 'in', plugDepth: '3/16+1/8' }).plug.flatDepth).toBeCloseTo(
      3.175,
      12,
    );
  });

  it('take one drawing when the toolpath mirrors', () => {
    const { plug: _, ...rest } = FLAGS;
    expect(jobFromFlags({ ...rest, mirror: 'toolpath' }).plug.outline.path).toBe('art/fern.svg');
  });

  it.each<[Partial<QuickFlags>, string, RegExp]>([
    [{ pocketDepth: '0,7.6' }, '--pocket-depth', /with a plus between/],
    [{ plugDepth: '5' }, '--plug-depth', /with a plus between/],
    [{ plugDepth: '1+2+3' }, '--plug-depth', /with a plus between/],
    [{ plugDepth: '5+2,6' }, '--plug-depth', /comma/],
    [{ plugDepth: '5+0' }, '--plug-depth', /zero/],
    [{ angle: '300' }, '--angle', /5 to 170/],
    [{ units: 'ft' }, '--units', /mm or in/],
    [{ tipRadius: '1' }, '--tip-radius', /flat or round/],
    [{ plug: undefined }, '--plug', /"outline" is missing/],
    [{ mirror: 'yes' }, '--mirror', /drawn or toolpath/],
    [{ pocket: '' }, '--pocket', /Nothing is written/],
  ])('%j is told with its flag', (change, flag, sentence) => {
    try {
      jobFromFlags({ ...FLAGS, ...change });
      expect.unreachable('the flags were taken');
    } catch (error) {
      if (!(error instanceof InputFaults)) throw error;
      expect(
        error.faults.some((fault) => fault.place.element === flag && sentence.test(fault.message)),
        error.message,
      ).toBe(true);
    }
  });
});
