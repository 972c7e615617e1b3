import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readJob } from '../../src/job/job.ts';
import { faultsOf, SHORT_JOB, WHOLE_JOB } from './texts.ts';

const read = (text: string): string[] => faultsOf(() => readJob(text, 'fern.dryfit.yaml'));
const changed = (from: string, to: string): string[] => {
  expect(WHOLE_JOB).toContain(from);
  return read(WHOLE_JOB.replace(from, to));
};

describe('a job that makes no sense', () => {
  it.each([
    [
      'flat-depth: 7.6',
      'flatdepth: 7.6',
      /^6:3 pocket: "flatdepth" is no key here; did you mean flat-depth\?$/,
    ],
    ['flat-depth: 7.6', 'flatDepth: 7.6', /did you mean flat-depth\?$/],
    ['tip-flat: 0.1', 'tip_flat: 0.1', /^14:23 bit: "tip_flat".*did you mean tip-flat/],
    ['nut:', 'chuck-key:', /"chuck-key" is no key here; the keys are title, units, pocket/],
    ['flat-depth: 7.6', 'flat-depth: 7,6', /^6:15 pocket\.flat-depth: "7,6" has a comma/],
    ['flat-depth: 7.6', 'flat-depth: 0', /above zero was wanted/],
    ['flat-depth: 7.6', `flat-depth: 1${'0'.repeat(400)} mm`, /more than 100 characters/],
    ['flat-depth: 7.6', 'flat-depth: "7 \\e[2J"', /"7 {2}\[2J"/],
    ['flat-depth: 7.6', `flat-depth: ${'9'.repeat(400)} mn`, /: "9{40}\.\.\."/],
    ['flat-depth: 7.6', 'flat-depth: .nan', /No number that can be cut/],
    ['flat-depth: 7.6', 'flat-depth: .inf', /No number that can be cut stands here/],
    ['flat-depth: 7.6', 'flat-depth: 1e400', /No number that can be cut stands here/],
    ['flat-depth: 7.6', 'flat-depth: 0x10', /"0x10"/],
    ['flat-depth: 7.6', 'flat-depth: 11 m', /more than 10 m/],
    ['flat-depth: 7.6', 'flat-depth: 7.6 psi', /"psi", which is not a unit of length/],
    ['flat-depth: 7.6', 'flat-depth: [7.6]', /One value was wanted here, not a list/],
    ['flat-depth: 7.6', 'flat-depth: { mm: 7.6 }', /One value was wanted here, not a map/],
    ['flat-depth: 7.6', 'flat-depth:', /^6:3 pocket\.flat-depth: Nothing is written here/],
    ['start-depth: 0\n', 'start-depth: -1\n', /^5:16 pocket\.start-depth: "?-1"? is below zero/],
    ['units: mm', 'units: inch', /^2:8 units: "inch" will not do; mm or in was wanted/],
    [
      'grain: face, grain-angle: 90',
      'grain: fase, grain-angle: 90',
      /face, edge or end was wanted\. Did you mean face\?/,
    ],
    ['grain: face, grain-angle: 90', 'grain: end, grain-angle: 90', /grain-angle: On end grain/],
    ['angle: 30 deg', 'angle: 4.9', /^14:15 bit\.angle: .*5 to 170 degrees/],
    ['angle: 30 deg', 'angle: 170.1', /5 to 170 degrees/],
    ['angle: 30 deg', 'angle: 30 mm', /not a unit of angle/],
    ['tip-flat: 0.1', 'tip-flat: 0.1, tip-radius: 1', /bit\.tip-radius: The tip is flat or round, not both/],
    [
      'tip-flat: 0.1',
      'tip-flat: 6.35',
      /tip flat of 6\.35 mm must be less than the cutting diameter, 6\.35 mm/,
    ],
    ['tip-flat: 0.1', 'tip-radius: 3.175', /Twice the tip radius/],
    ['tip-flat: 0 }', 'tip-flat: 7 }', /bit\.toolpath-tip-flat: .*must be less/],
    ['stick-out: 30', 'stick-out: 19', /sticks out less/],
    ['cherry-black', 'chery-black', /"chery-black" is no wood.*cherry-black.*unlisted/],
    ['disc: { x: 0, y: 0, diameter: 12 }', 'height: 3', /keep-out, entry 2: One of outline, box and disc/],
    ['disc: {', 'box: { left: 0, top: 0, width: 1, length: 1 }, disc: {', /keep-out, entry 2: One of/],
    ['part: pocket, disc', 'part: board, disc', /keep-out, entry 2, part: "board" will not do/],
    ['workshop: { moisture: 8 % }', 'workshop: { temperature: 20 }', /climate\.workshop: Give the humidity/],
    ['workshop: { moisture: 8 % }', 'workshop: { moisture: 8, humidity: 40 }', /not both/],
    ['humidity: 30 %', 'humidity: 66 %', /climate\.driest\.humidity: The driest time is damper \(66 %\)/],
    ['humidity: 30 %', 'humidity: 130 %', /more than 100 %/],
    ['draws: 2000', 'draws: 99', /whole number from 100 to 200000/],
    ['draws: 2000', 'draws: 200.5', /whole number/],
    [
      'rim-gap-most: 0.004 in',
      'rim-gap-mst: 0.1',
      /"rim-gap-mst" is no key here; did you mean rim-gap-most\?/,
    ],
    [
      'rim-gap-most: 0.004 in',
      'rim-gap-most-hard: 0.04',
      /hard limit \(0\.04\) leaves less room than rim-gap-most \(0\.05\)/,
    ],
    ['side-load: 12 N', 'side-load: 12 mm', /not a unit of force/],
    ['title: Tea tray, kingfisher', 'title: "red \\e[31m"', /unseen control characters/],
    ['title: Tea tray, kingfisher', `title: ${'a'.repeat(201)}`, /longer than 200/],
    ['feed: 50 in/min', 'feed: 50 in', /not a unit of feed/],
  ])('%s -> %s', (from, to, sentence) => {
    expect(changed(from, to)[0]).toMatch(sentence);
  });

  it('takes the values at the very ends of what is taken', () => {
    for (const [from, to] of [
      ['angle: 30 deg', 'angle: 5'],
      ['angle: 30 deg', 'angle: 170 deg'],
      ['tip-flat: 0.1', 'tip-flat: 0'],
      ['tip-flat: 0.1', 'tip-flat: 6.349'],
      ['stick-out: 30', 'stick-out: 20'],
      ['humidity: 30 %', 'humidity: 65 %'],
      ['flat-depth: 7.6', 'flat-depth: 10 m'],
      ['draws: 2000', 'draws: 100'],
      ['cherry-black', 'unlisted'],
    ] as const)
      expect(changed(from, to), to).toEqual([]);
  });

  it('tells everything at once, in the order of the file, and no fault twice', () => {
    const text = SHORT_JOB.replace('units: mm', 'units: m')
      .replace('flat-depth: 7.6', 'flatdepth: 7.6')
      .replace('start-depth: 5', 'start-depth: five')
      .replace('  angle: 30', '  tip-flat: 0.1\n  tip-radius: 0.1');
    expect(read(text)).toEqual([
      expect.stringMatching(/^1:8 units: "m" will not do/),
      expect.stringMatching(/^4:3 pocket: "flatdepth" is no key here; did you mean flat-depth/),
      expect.stringMatching(/^7:16 plug\.start-depth: "five" is not a length/),
      expect.stringMatching(/^10:3 bit: "angle" is missing: the included angle/),
      expect.stringMatching(/^11:15 bit\.tip-radius: The tip is flat or round/),
    ]);
  });

  it('says what was wanted where a section is of the wrong kind', () => {
    expect(read(`${SHORT_JOB}keep-out: none\n`)).toEqual([
      '11:11 keep-out: A list was wanted here, each entry after a dash.',
    ]);
    expect(read(`${SHORT_JOB}saw: 3\n`)).toEqual(['11:6 saw: Keys were wanted here: kerf.']);
    expect(read(`${SHORT_JOB}keep-out: [3]\n`)).toEqual([
      expect.stringMatching(/^11:12 keep-out, entry 1: Keys were wanted here: part, name, outline/),
    ]);
  });

  it('keeps the order of the file where a contradiction stands above a misspelt key', () => {
    const text = `${SHORT_JOB}  tip-flat: 0.1\n  tip-radius: 0.1\nsaws: 1\n`;
    expect(read(text).map((fault) => fault.split(' ')[0])).toEqual(['12:15', '13:1']);
  });

  it('names each missing section', () => {
    expect(read('title: Fern\n')).toEqual([
      expect.stringMatching(/"units" is missing: what a bare number means/),
      expect.stringMatching(/"pocket" is missing/),
      expect.stringMatching(/"plug" is missing/),
      expect.stringMatching(/"bit" is missing/),
    ]);
  });

  it('keeps names that every object has from being keys', () => {
    for (const key of ['__proto__', 'constructor', 'toString', 'hasOwnProperty'])
      expect(read(`${SHORT_JOB}${key}: 1\n`)).toEqual([expect.stringContaining(`"${key}" is no key here`)]);
  });
});

describe('a file that is no job', () => {
  it.each([
    ['', /^-:- The file is empty/],
    ['# only a remark\n', /^-:- The file is empty/],
    ['- a\n- b\n', /^1:1 The file holds no lines like/],
    ['hello', /holds no lines like/],
    ['\n<svg/>', /This looks like a drawing/],
    ['a: b: c', /^1:4 Two keys stand on one line/],
    ['units: mm\nunits: in\n', /^2:1 "units" is written twice; it stands on line 1 already/],
    ['bit: { angle: 30, angle: 60 }', /^1:19 "angle" is written twice/],
    ['units: mm\n---\nunits: mm\n', /^2:1 A second document begins here/],
    ['bit:\n\tangle: 30\n', /^2:1 A tab stands at the start/],
    ['a: &x 1\nb: *x\n', /Anchors and references/],
    ['a: &a [x]\nb: &b [*a, *a]\nc: [*b, *b]\n', /Anchors and references/],
    ['a: *nobody\n', /Anchors and references/],
    ['units: !!str mm\n', /Tags/],
    ['x: "d\\q"\n', /^1:\d+ A backslash in double quotes/],
    ['a: "abc\n', /closing quote/],
    ['a: [1, 2\n', /bracket or brace before it is not closed/],
    ['? [a]\n: 1\n', /A key must be one plain word/],
    ['a: 1\n  b: 2\n', /./],
    ['<svg xmlns="http://www.w3.org/2000/svg"/>', /./],
    ['\u0000\u0001\u0002', /./],
    ['%YAML 9.9\n---\na: 1\n', /./],
  ])('%j', (text, sentence) => {
    expect(read(text)[0]).toMatch(sentence);
  });

  it('is refused when it is hostile: deep, long, full of references', () => {
    expect(read('['.repeat(60_000))).toEqual([expect.stringMatching(/nested too deeply/)]);
    expect(read('{a: '.repeat(16_000))).toEqual([expect.stringMatching(/nested too deeply/)]);
    expect(read('- '.repeat(30_000))[0]).toMatch(/./);
    expect(read(`title: ${'a'.repeat(70_000)}`)).toEqual([expect.stringMatching(/at most 65536 are read/)]);
    expect(read(`a: &a 1\n${'b: *a\n'.repeat(5000)}`).length).toBeLessThan(20);
    expect(read(Array.from({ length: 6000 }, (_, i) => `k${i}: 1`).join('\n')).length).toBeGreaterThan(100);
  });

  it('never brings anything but faults with a sentence, whatever is torn out of a job or put in', () => {
    const marks = fc.constantFrom(
      '',
      '\t',
      ':',
      '- ',
      '{',
      '}',
      '[',
      '"',
      "'",
      '#',
      '&a',
      '*a',
      '!',
      '|',
      '>',
      '\n',
      '\r',
      '%',
      '@',
      '`',
      '\u0000',
      '-1',
      '1e999',
      '~',
      '<<: ',
    );
    const torn = fc.record({
      text: fc.constantFrom(WHOLE_JOB, SHORT_JOB),
      from: fc.double({ min: 0, max: 1, noNaN: true }),
      cut: fc.integer({ min: 0, max: 40 }),
      put: fc.array(marks, { maxLength: 3 }),
    });
    fc.assert(
      fc.property(torn, ({ text, from, cut, put }) => {
        const start = Math.floor(from * text.length);
        const faults = read(text.slice(0, start) + put.join('') + text.slice(start + cut));
        return faults.every(
          (fault) => /^\S+ \S.*[.?]$/s.test(fault) && !/undefined|\[object|TypeError/.test(fault),
        );
      }),
      { numRuns: 1200, seed: 5_081 },
    );
  });
});
