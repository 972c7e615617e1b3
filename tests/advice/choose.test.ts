/** Chosen depths and their ranges against figures worked out by hand from the limits; the new job file. */
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { choose, marginOf } from '../../src/advice/choose.ts';
import { chosenFile, chosenPath } from '../../src/advice/choose-file.ts';
import { rangesOf } from '../../src/advice/choose-range.ts';
import { cutsOf, jobWith, missed, spaceOf } from '../../src/advice/choose-space.ts';
import { readArtwork } from '../../src/artwork/read.ts';
import { cutOtherwise, type Facts, factsOf } from '../../src/carve/facts.ts';
import { runJobFile } from '../../src/cli/run.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { type Job, readJob } from '../../src/job/job.ts';
import type { Bit } from '../../src/job/schema.ts';
import { degrees, mm } from '../../src/units.ts';
import { factsFor, LEAF, svg } from '../pairs.ts';

beforeAll(loadClipper);

const alone = (bit: Bit) => [{ name: undefined, bit }];
const leafIn = (job: Readonly<Record<string, unknown>>): Facts => factsFor({ pocket: LEAF, job });

describe('the ranges of a leaf without narrow places', () => {
  it('end where board, plug stock and limits end them', () => {
    // Limits: mating 2.5, glue gap 0.5 to 4, kerf 0.9 + 0.5 for the saw, 3 left under and behind both.
    const facts = leafIn({ 'pocket.stock.thickness': 10, 'plug.stock.thickness': 9 });
    const ranges = rangesOf(spaceOf(cutsOf(facts, facts.job.bit), 'wanted'));
    const ends = (name: 'mating' | 'glue' | 'saw') => {
      const range = ranges?.[name];
      return [range?.least, range?.leastBy, Number(range?.most.toFixed(3)), range?.mostBy?.id];
    };
    // 9 of stock - 3 behind - 1.4 of saw gap; the board would allow 10 - 3 - 0.5.
    expect(ends('mating')).toEqual([2.5, 'depth.mating', 4.6, 'depth.plug-stock']);
    expect(ends('glue')).toEqual([0.5, 'depth.glue', 4, 'depth.glue']);
    expect(ends('saw')).toEqual([1.4, 'depth.saw', 9 - 3 - 2.5, 'depth.plug-stock']);
  });

  it('begin with sanding where that asks for more than the walls do', () => {
    const facts = leafIn({ 'limits.mating-depth-least': 1, 'limits.sanding-least': 2 });
    const space = spaceOf(cutsOf(facts, facts.job.bit), 'wanted');
    // 2 to sand and 0.3 that the plug may stand proud of it.
    expect(space.depthFor(1).mating).toBeCloseTo(2.3, 9);
    expect(space.matingBy).toBe('wear.sanding');
  });
});

describe('the range of a bit whose line ends it', () => {
  it('is told to a hundredth: there everything is kept, and two hundredths deeper it is not', async () => {
    const { facts } = await runJobFile('samples/kingfisher/kingfisher.dryfit.yaml');
    const space = spaceOf(cutsOf(facts, { ...facts.job.bit, angle: degrees(60) }), 'wanted');
    const mating = rangesOf(space)?.mating;
    expect(mating?.mostBy?.id).toBe('fit.spread');
    const lostAt = (more: number) =>
      missed(space.held({ ...space.depthFor(1), mating: (mating?.most ?? 0) + more }));
    expect(lostAt(0)).toBeUndefined();
    expect(lostAt(0.02)?.id).toBe('fit.spread');
  });
});

describe('the widest margin', () => {
  it('is where the floor of the board is kept as often as mating depth and glue gap', () => {
    const facts = leafIn({ 'pocket.stock.thickness': 10 });
    const { best, bits } = choose(facts, alone(facts.job.bit));
    const proposal = bits[best ?? -1]?.proposal;
    // 10 - 2.5 n - 0.5 n = 3 n
    const times = 10 / 6;
    expect(marginOf(proposal?.held ?? [])).toBeGreaterThan(0.993 * times);
    expect(marginOf(proposal?.held ?? [])).toBeLessThan(1.001 * times);
    expect(['pass', 'care']).toContain(proposal?.checked.answer);
    expect(proposal?.depth.mating).toBeCloseTo(2.5 * times, 1);
    expect(proposal?.job.pocket.flatDepth).toBeCloseTo(3 * times, 1);
  });

  it('is as wide as the deepest floor makes it, where the glue needs more room than the least gap', () => {
    for (const coat of [5, 8]) {
      const facts = leafIn({
        'plug.stock.thickness': 9,
        'pocket.stock.thickness': 30,
        'limits.glue-coat': coat,
      });
      const { bit } = facts.job;
      const margin = marginOf(choose(facts, alone(bit)).bits[0]?.proposal?.held ?? []);
      const space = spaceOf(cutsOf(facts, bit), 'wanted');
      const keptAt = (times: number): boolean =>
        space
          .held({ ...space.depthFor(times), glue: facts.limit('glue-gap-most') / times })
          .every((one) => one.times > 0.999 * times);
      for (let times = 1.02 * margin; times < 1.4; times *= 1.02)
        expect(keptAt(times), `${coat} ${times}`).toBe(false);
      expect(keptAt(0.98 * margin), `${coat}`).toBe(true);
    }
  });

  it('is told of the bit that leaves it, from a list', { timeout: 600_000 }, () => {
    const facts = leafIn({ 'pocket.stock.thickness': 10 });
    const short = { ...facts.job.bit, cuttingLength: mm(4) };
    const { best, bits } = choose(facts, [...alone(short), ...alone(facts.job.bit)]);
    expect(best).toBe(1);
    // Edges of 4 mm: 2.5 n + 1.4 n = 4 / n, the plug being the deeper side.
    const times = marginOf(bits[0]?.proposal?.held ?? []);
    expect(times).toBeGreaterThan(0.99 * Math.sqrt(4 / 3.9));
    expect(times).toBeLessThan(1.001 * Math.sqrt(4 / 3.9));
  });
});

describe('when nothing passes', () => {
  it('says how thick the board would have to be, and that it passes so', () => {
    const facts = leafIn({ 'pocket.stock.thickness': 2 });
    const { best, bits, changes } = choose(facts, alone(facts.job.bit));
    expect(best).toBeUndefined();
    expect(bits[0]?.missed[0]?.id).toBe('depth.board');
    // 2.5 and 0.5 deep, 3 left.
    expect(changes?.needed.map(({ says }) => says)).toEqual(['Take a board at least 6.00 mm thick.']);
    expect(['pass', 'care']).toContain(changes?.mended);
    expect(changes?.scale).toBeUndefined();
  });

  it('says by how much both drawings must grow: so grown they pass, a twentieth less does not do', () => {
    const drawn = (times: number): Facts => {
      const at = (x: number, y: number): string => `${(x * times).toFixed(6)} ${(y * times).toFixed(6)}`;
      // A flag on a staff 0.2 mm wide: too fine to be sanded even once at any depth.
      const flag = `M${at(10, 10)} L${at(30, 13)} L${at(28, 24)} L${at(10.2, 22)} L${at(10.2, 40)} L${at(10, 40)} Z`;
      return factsFor({ pocket: `<path id="flag" d="${flag}"/>` });
    };
    const small = drawn(1);
    const bits = alone(small.job.bit);
    const { best, changes } = choose(small, bits);
    expect([best, changes?.mended]).toEqual([undefined, undefined]);
    const scale = changes?.scale ?? Number.NaN;
    expect(scale).toBeGreaterThan(1);
    const grown = choose(drawn(scale), bits);
    const proposal = grown.bits[grown.best ?? -1]?.proposal;
    expect(checkJob(cutOtherwise(grown.facts, proposal?.job as Job), RULES).answer).not.toBe('fail');
    expect(choose(drawn(0.95 * scale), bits).best).toBeUndefined();
  });

  it('chooses nothing for drawings that are no pair', () => {
    const facts = factsFor({ pocket: LEAF, plug: LEAF });
    const { drawings, bits, best } = choose(facts, undefined);
    expect(drawings.map(({ id }) => id)).toContain('pair.mirror');
    expect([bits.length, best]).toEqual([0, undefined]);
  });
});

describe('the new job file', () => {
  const folder = mkdtempSync(join(tmpdir(), 'choose-'));
  const files = (text: string, wanted: (facts: Facts) => Facts['job']) => {
    const job = readJob(text, join(folder, 'a.dryfit.yaml'));
    const art = readArtwork(new TextEncoder().encode(svg(LEAF)), 'p.svg');
    const facts = factsOf(job, art, art);
    return chosenFile(facts, text, wanted(facts));
  };
  const depth = { mating: 4, glue: 1, saw: 2 };
  const body = (bits: string): string => `# my leaf
units: in
pocket: { outline: p.svg, flat-depth: "5/16 in", stock: { thickness: 0.75 } } # the lid
plug:
  outline: p.svg
  mirror: toolpath
  start-depth: 0.2 # as last time
  flat-depth: 0.1
  stock: { thickness: 0.75, width: 8, length: 8 }
${bits}
# thin blade
saw: { kerf: 1/32 in }
`;
  const one = 'bit: { angle: 30 deg, tip-flat: 0.004, cutting-length: 0.8, cutting-diameter: 0.5 }';

  it('keeps remarks, order and units of the old one', () => {
    const { text, path, checked } = files(body(one), ({ job }) => jobWith(job, job.bit, depth));
    expect(path).toBe(join(folder, 'a-chosen.dryfit.yaml'));
    expect(checked.answer).not.toBe('fail');
    const lines = text.split('\n').slice(1);
    const changed = body(one)
      .split('\n')
      .flatMap((line, n) => (line === lines[n] ? [] : [lines[n]]));
    expect(changed).toEqual([
      'pocket: { outline: p.svg, flat-depth: "0.19685 in", stock: { thickness: 0.75 } } # the lid',
      '  start-depth: 0.15748 # as last time',
      '  flat-depth: 0.07874',
    ]);
  });

  it('names another bit in place of the two there were', () => {
    const bits = `bit:\n  angle: 30\n  tip-flat: 0.004\n# for the plug\nplug-bit: { angle: 31, tip-flat: 0.004 }`;
    const bit: Bit = { angle: degrees(60), tipFlat: mm(0.1), cuttingLength: mm(10), cuttingDiameter: mm(12) };
    const { text } = files(body(bits), ({ job }) => jobWith(job, bit, depth));
    const read = readJob(text, 'b.dryfit.yaml');
    expect(read.plugBit).toBe(read.bit);
    expect(read.bit.angle).toBeCloseTo(degrees(60), 6);
    expect(text).toContain('# for the plug\n# thin blade\nsaw:');
  });

  it('is written anew where the old text cannot be edited', () => {
    const text = JSON.stringify({
      units: 'mm',
      pocket: { outline: 'p.svg', 'flat-depth': 7 },
      plug: { outline: 'p.svg', mirror: 'toolpath', 'start-depth': 5, 'flat-depth': 3 },
      bit: { angle: 30, 'tip-flat': 0.1 },
    });
    const bit: Bit = { angle: degrees(15), tipFlat: mm(0.2) };
    const made = files(text, ({ job }) => jobWith(job, bit, depth));
    const read = readJob(made.text, 'c.dryfit.yaml');
    expect([read.pocket.flatDepth, read.plug.startDepth, read.plug.flatDepth]).toEqual([5, 4, 2]);
    expect(read.bit.tipFlat).toBe(0.2);
  });

  it.each([
    ['a/b.dryfit.yaml', 'a/b-chosen.dryfit.yaml'],
    ['b.yml', 'b-chosen.yml'],
    ['job', 'job-chosen.dryfit.yaml'],
  ])('of %s is called %s', (old, fresh) => expect(chosenPath(old)).toBe(fresh));
});
