import type { Left, Weighed, Why } from '../advice/why.ts';
import { toDegrees } from '../units.ts';
import { VERSION } from './version.ts';
import { whySentence } from './why.ts';
import { causeName, plausibleWord } from './why-words.ts';

/** What may have gone wrong as data: lengths in mm, angles in degrees, scales in percent. Equal input, equal bytes. */
export function whyJson(why: Why): string {
  const { facts, seen, next } = why;
  const record = {
    dryfit: VERSION,
    job: facts.job.file,
    seen: seen.file,
    title: facts.job.title,
    answer: why.answer,
    says: whySentence(why),
    'as-drawn':
      why.asDrawn === undefined ? null : { misfit: micro(why.asDrawn.misfit), ...left(why.asDrawn.worst) },
    causes: why.causes.map(cause),
    'not-told-apart': why.alike.map(([a, b]) => [a.cause.key, b.cause.key]),
    next:
      next === undefined
        ? null
        : {
            measure: next.kind,
            between: next.between.map((one) => one.cause.key),
            readings: next.readings.map(({ measure, first, second }) => ({
              ...('where' in measure ? { at: measure.where } : {}),
              ...('along' in measure ? { along: measure.along } : {}),
              ...('of' in measure ? { of: measure.of } : {}),
              first: own(next.kind, first),
              second: own(next.kind, second),
            })),
            apart: micro(next.apart),
          },
  };
  return `${JSON.stringify(record, null, 2)}\n`;
}

function cause(weighed: Weighed): unknown {
  const { counts, usual, key, points } = weighed.cause;
  const amount = (size: number): number =>
    micro(counts === 'angle' ? toDegrees(size) : counts === 'share' ? 100 * size : size);
  return {
    cause: key,
    says: causeName(weighed),
    explains: weighed.explains,
    size: amount(weighed.size),
    usual: amount(usual),
    unit: counts === 'angle' ? 'deg' : counts === 'share' ? '%' : 'mm',
    ...(points ? { direction: micro(toDegrees(weighed.direction)) } : {}),
    plausible: plausibleWord(weighed),
    misfit: micro(weighed.misfit),
    ...left(weighed.worst),
  };
}

function left({ evidence, expected, off }: Left): object {
  const { reading, path } = evidence;
  return {
    worst: {
      reading: path,
      ...(reading === undefined || expected === undefined
        ? {}
        : { read: own(reading.measure.kind, reading.value), expected: own(reading.measure.kind, expected) }),
      off: micro(off),
    },
  };
}

const own = (kind: string, value: number): number => micro(kind === 'angle' ? toDegrees(value) : value);
const micro = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;
