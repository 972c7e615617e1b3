/** Pairs of small outlines and a job, through the whole check and every report. */
import { runJobFile, type Source } from '../../src/cli/run.ts';
import { faultsOf } from '../../src/cli/say.ts';
import type { CheckedJob } from '../../src/engine/checked.ts';
import { InputFault } from '../../src/fault.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { html } from '../../src/report/html.ts';
import { htmlSheet } from '../../src/report/html-gather.ts';
import { json } from '../../src/report/json.ts';
import { junit } from '../../src/report/junit.ts';
import { planLines } from '../../src/report/plan.ts';
import { type ListedJob, sarif } from '../../src/report/sarif.ts';
import { sheet } from '../../src/report/sheet.ts';
import { goodJob, mirrored, svg, withValues } from '../pairs.ts';
import { Bad, faultWord, finite, linesRead, pageReads, plainText } from './answers.ts';
import type { Chance } from './chance.ts';
import { bytesOf, type FuzzKind, textOf } from './kind.ts';
import { calmOutlines, outlinePair } from './outlines.ts';

/** The files of a pair by name. */
export type Files = Readonly<Record<string, string>>;
export const JOB = 'pair.dryfit.yaml';

export const pairs: FuzzKind = {
  name: 'pair',
  make: (chance) => bytesOf(JSON.stringify(pairFiles(chance))),
  attempt: async (input) => checkPair(JSON.parse(textOf(input)) as Files),
};

export function pairFiles(chance: Chance): Files {
  const [pocket, plug] = outlinePair(chance);
  return {
    [JOB]: JSON.stringify(withValues(goodJob(), jobValues(chance)), null, 1),
    'pocket.svg': svg(pathOf(pocket, chance)),
    'plug.svg': svg(pathOf(plug, chance)),
  };
}

/** The plug is the pocket's mirror image, and the job mostly a good one. */
export function fairPairFiles(chance: Chance): Files {
  const inner = pathOf(chance.oneIn(5) ? outlinePair(chance)[0] : calmOutlines(chance), chance);
  const values = chance.oneIn(4) ? jobValues(chance) : { 'spread.draws': 100 };
  return {
    [JOB]: JSON.stringify(withValues(goodJob(), values), null, 1),
    'pocket.svg': svg(inner),
    'plug.svg': svg(mirrored(inner)),
  };
}

/** Files that lie nowhere. */
export function sourceOf(files: Files): Source {
  const text = (path: string): string => {
    const found = files[path];
    if (found === undefined) throw new InputFault('There is no such file.', { file: path });
    return found;
  };
  return { text, bytes: (path) => bytesOf(text(path)) };
}

function pathOf(rings: readonly (readonly (readonly [number, number])[])[], chance: Chance): string {
  const data = rings.map((ring) =>
    ring.length === 0 ? '' : `M${ring.map(([x, y]) => `${x} ${y}`).join('L')}Z`,
  );
  const rule = chance.oneIn(3) ? ' fill-rule="evenodd"' : '';
  if (chance.oneIn(3)) return data.map((d) => `<path${rule} d="${d}"/>`).join('\n');
  return `<path id="inlay"${rule} d="${data.join('')}"/>`;
}

/** What a job could say otherwise than the plain good one; few draws, for time. */
function jobValues(chance: Chance): Record<string, unknown> {
  const size = (most: number): number => Number((chance.share() * most + 0.001).toFixed(3));
  const some = (value: unknown, times = 3): unknown[] => (chance.oneIn(times) ? [value] : []);
  const values: [string, unknown][] = [['spread.draws', 100]];
  const put = (key: string, [value]: unknown[]): void => {
    if (value !== undefined) values.push([key, value === 'gone' ? undefined : value]);
  };
  put('bit.angle', some(chance.pick([5, 10, 15, 20, 45, 60, 90, 120, 170])));
  put('bit.tip-flat', some(chance.pick([0, 0.01, 0.2, 1, 6, 'gone'])));
  if (chance.oneIn(6)) values.push(['bit.tip-flat', undefined], ['bit.tip-radius', size(2)]);
  put('bit.cutting-length', some(chance.pick([0.5, 3, 'gone']), 5));
  put('bit.cutting-diameter', some(chance.pick([7, 50, 'gone']), 5));
  put('plug-bit', some({ angle: chance.pick([30, 31, 60]), 'tip-flat': size(0.3) }, 6));
  put('pocket.start-depth', some(size(3), 5));
  put('pocket.flat-depth', some(size(chance.pick([0.01, 3, 12, 200]))));
  put('plug.start-depth', some(chance.oneIn(4) ? 0 : size(chance.pick([0.01, 3, 12, 200]))));
  put('plug.flat-depth', some(size(chance.pick([0.01, 3, 12]))));
  put('plug.mirror', some('toolpath', 6));
  put('pocket.stock.thickness', some(size(30)));
  put('plug.stock.width', some(size(300)));
  put('plug.stock.grain-angle', some(chance.count(-360, 360)));
  put('pocket.stock.grain', some(chance.pick(['edge', 'end', 'face'])));
  if (chance.oneIn(4)) values.push(['plug.stock.grain', 'end'], ['plug.stock.grain-angle', undefined]);
  put('plug.stock.wood', some(chance.pick(['unlisted', 'balsa', 'walnut-black', 'gone']), 5));
  put('clearing-bit', some({ diameter: size(12), 'cutting-length': size(20) }));
  put(
    'climate',
    some({ driest: { humidity: chance.count(0, 40) }, dampest: { humidity: chance.count(41, 99) } }),
  );
  put(
    'keep-out',
    some([{ part: 'plug', box: { left: 5, top: size(90), width: size(40), length: 20 }, height: 30 }], 5),
  );
  put('units', some('in', 10));
  put('limits.side-load', some(size(100), 6));
  return Object.fromEntries(values);
}

/** One pair in so many is checked twice. */
const AGAIN = 10;
const ANSWERS = ['pass', 'care', 'fail', 'unknown'];

async function checkPair(files: Files): Promise<string> {
  const source = sourceOf(files);
  const all = Object.values(files).join('\n');
  try {
    const { checked, facts } = await runJobFile(JOB, {}, source);
    judged(checked, all);
    listed([{ checked }]);
    const plan = planLines(checked, facts, { width: 80, rows: 12, braille: true });
    linesRead(sheet(checked, facts, { ink: PLAIN_INK, width: 80, plan }), all);
    pageReads(html([{ checked, sheet: htmlSheet(checked, facts) }], ''));
    if (all.length % AGAIN === 0) {
      const again = (await runJobFile(JOB, {}, source)).checked;
      if (json(again) !== json(checked)) throw new Bad('two answers to one question');
    }
    return checked.answer;
  } catch (thrown) {
    const faults = faultsOf(thrown);
    if (faults !== undefined) listed([{ job: JOB, faults }]);
    return faultWord(thrown, all, undefined);
  }
}

/** The listings for other programs hold what they should, whatever was found. */
function listed(jobs: readonly ListedJob[]): void {
  readsAsXml(junit(jobs, true));
  JSON.parse(
    sarif(jobs, { status: 0, pathOf: (path) => path, helpOf: () => ({ why: 'why', mend: 'mend' }) }),
  );
}

function judged({ answer, checks, figures }: CheckedJob, all: string): void {
  if (!ANSWERS.includes(answer)) throw new Bad(`the answer ${answer}`);
  finite(figures, 'figures');
  for (const { id, readings, untold, moot } of checks) {
    if (readings.length + untold.length + moot.length === 0) throw new Bad(`${id} tells nothing`);
    for (const sentence of [...untold, ...moot]) plainText(sentence, all);
    for (const { measured, give, want, room, place, says, cure, label } of readings) {
      const { atLeast = 0, atMost = 0 } = want;
      finite({ measured, give, atLeast, atMost, room: room ?? 0, place: place.at ?? [] }, id);
      if (Object.values(want).some(Number.isNaN)) throw new Bad(`${id} wants what is no number`);
      if (give < 0) throw new Bad(`${id} is off by less than nothing: ${give}`);
      for (const sentence of [says, cure ?? 'none', label ?? 'none']) plainText(sentence, all);
      if (says.trim() === '') throw new Bad(`${id} says nothing`);
    }
  }
}

/** Enough to see that the text is no broken XML; the whole is tried with the report's own tests. */
function readsAsXml(text: string): void {
  const opened = text.match(/<testcase\b/g)?.length ?? 0;
  const closed =
    (text.match(/<\/testcase>/g)?.length ?? 0) + (text.match(/<testcase\b[^>]*\/>/g)?.length ?? 0);
  if (opened === 0 || opened !== closed)
    throw new Bad(`a listing with ${opened} cases opened and ${closed} closed`);
}
