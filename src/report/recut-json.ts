import type { Recut } from '../advice/recut.ts';
import { jsonRecord } from './json.ts';
import { recutPlaces, recutSentence } from './recut.ts';
import { VERSION } from './version.ts';

/** The repair as data: lengths in mm, places in the pocket's drawing. Equal input gives equal bytes. */
export function recutJson(plan: Recut, written: readonly string[]): string {
  const { facts, growth, deeper, pair } = plan;
  const record = {
    dryfit: VERSION,
    job: facts.job.file,
    title: facts.job.title,
    answer: plan.answer,
    says: recutSentence(plan),
    growth: { least: micro(growth.least), taken: micro(growth.taken), unit: 'mm' },
    deeper: { least: micro(deeper.least), taken: micro(deeper.taken), unit: 'mm' },
    'takes-all': plan.takesAll,
    parts: plan.parts.map(({ what, sideways, below }) => ({
      what,
      sideways: micro(sideways),
      below: micro(below),
    })),
    left: plan.left.map(({ at, depth, short }) => ({
      ...place(at),
      depth: micro(depth),
      short: micro(short),
    })),
    'left-at-nine-tenths': plan.leftAtLess.map(({ at, depth, short }) => ({
      ...place(at),
      depth: micro(depth),
      short: micro(short),
    })),
    lands: plan.lands.map(({ at, before, after }) => ({
      ...place(at),
      before: micro(before),
      after: micro(after),
    })),
    places: recutPlaces(plan).map(({ number, at, says }) => ({ number, ...place(at), says })),
    check: pair === undefined ? null : jsonRecord(pair.checked),
    written,
  };
  return `${JSON.stringify(record, null, 2)}\n`;
}

const micro = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;
const place = ([x, y]: readonly [number, number]) => ({ at: { x: micro(x), y: micro(y) } });
