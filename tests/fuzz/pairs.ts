/** Pairs of small outlines and a job, through the whole check and every report. */
import { outcomeOf } from '../../src/cli/jobs-one.ts';
import type { Source } from '../../src/cli/run.ts';
import type { CheckedJob } from '../../src/engine/checked.ts';
import { InputFault } from '../../src/fault.ts';
import { html } from '../../src/report/html.ts';
import { jsonRecord } from '../../src/report/json.ts';
import { junit } from '../../src/report/junit.ts';
import { sarif } from '../../src/report/sarif.ts';
import { goodJob, svg, withValues } from '../pairs.ts';
import { Bad, finite, plainText } from './answers.ts';
import type { Chance } from './chance.ts';
import { bytesOf, type FuzzKind, textOf } from './kind.ts';
import { outlinePair } from './outlines.ts';

/** The files of a pair by name. */
type Files = Readonly<Record<string, string>>;
const JOB = 'pair.dryfit.yaml';

export const pairs: FuzzKind = {
  name: 'pair',
  make: (chance) => {
    const [pocket, plug] = outlinePair(chance);
    return bytesOf(
      JSON.stringify({
        [JOB]: JSON.stringify(withValues(goodJob(), jobValues(chance)), null, 1),
        'pocket.svg': svg(pathOf(pocket, chance)),
        'plug.svg': svg(pathOf(plug, chance)),
      }),
    );
  },
  attempt: async (input) => checkPair(JSON.parse(textOf(input)) as Files),
};

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

const ORDER = { colour: false, width: 80, plan: { width: 80, rows: 12, braille: true } } as const;
const ANSWERS = ['pass', 'care', 'fail', 'unknown'];

async function checkPair(files: Files): Promise<string> {
  const text = (path: string): string => {
    const found = files[path];
    if (found === undefined) throw new InputFault('There is no such file.', { file: path });
    return found;
  };
  const source: Source = { text, bytes: (path) => bytesOf(text(path)) };
  const all = Object.values(files).join('\n');
  const outcome = await outcomeOf(JOB, { ...ORDER, format: 'sheet' }, source);
  const listed = [outcome];
  readsAsXml(junit(listed, true));
  JSON.parse(
    sarif(listed, { status: 0, pathOf: (path) => path, helpOf: () => ({ why: 'why', mend: 'mend' }) }),
  );
  if ('faults' in outcome) {
    if (outcome.faults.length === 0) throw new Bad('a fault that tells nothing');
    for (const { message, place } of outcome.faults) {
      if (place.file === undefined) throw new Bad(`a fault without its file: ${message}`);
      plainText(message, all);
    }
    return 'refused';
  }
  judged(outcome.checked, all);
  for (const line of outcome.text.split('\n')) plainText(line, all);
  const again = await outcomeOf(JOB, { ...ORDER, format: 'html' }, source);
  if (!('checked' in again)) throw new Bad('read once, and then not');
  if (JSON.stringify(jsonRecord(again.checked)) !== JSON.stringify(jsonRecord(outcome.checked)))
    throw new Bad('two answers to one question');
  const page = html([{ checked: again.checked, sheet: JSON.parse(again.text) }], '');
  if (/NaN|Infinity|undefined/.test(page))
    throw new Bad(`the page holds ${/.{40}(?:NaN|Infinity|undefined).{20}/s.exec(page)?.[0]}`);
  return outcome.checked.answer;
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
