import { type BitAnswer, type Choice, marginOf, type Proposal } from '../advice/choose.ts';
import type { Held } from '../advice/choose-held.ts';
import type { Range } from '../advice/choose-range.ts';
import type { Depth } from '../advice/choose-space.ts';
import type { Place } from '../engine/reading.ts';
import type { Bit } from '../job/schema.ts';
import { toDegrees } from '../units.ts';
import { chooseSentence, chooseWord } from './choose.ts';
import { jsonRecord } from './json.ts';
import { VERSION } from './version.ts';

/** The choice as data: lengths in mm, angles in degrees. Equal input gives equal bytes. `written`: the new job file. */
export function chooseJson(choice: Choice, written: string | undefined): string {
  const { facts, now, drawings, bits, best, changes } = choice;
  const proposal = best === undefined ? undefined : bits[best]?.proposal;
  const record = {
    dryfit: VERSION,
    job: facts.job.file,
    title: facts.job.title,
    answer: chooseWord(choice).toLowerCase().replaceAll(' ', '-'),
    says: chooseSentence(choice),
    now: { answer: now.answer, margin: now.held.length > 0 ? micro(marginOf(now.held)) : null },
    drawings: drawings.map(({ id }) => id),
    best: best ?? null,
    bits: bits.map(bitRecord),
    changes:
      changes === undefined
        ? null
        : {
            bit: bitFigures(changes.candidate.bit),
            needed: changes.needed.map(({ id, reading, says }) => ({
              id,
              have: micro(reading.measured.value),
              unit: reading.measured.unit,
              'at-least': micro(reading.want.atLeast),
              'at-most': micro(reading.want.atMost),
              ...placeRecord(reading.place),
              says,
            })),
            'checked-so': changes.mended ?? null,
            scale: changes.scale ?? null,
          },
    check: proposal === undefined ? null : jsonRecord(proposal.checked),
    written: written ?? null,
  };
  return `${JSON.stringify(record, null, 2)}\n`;
}

function bitRecord({ candidate, lost, ranges, rangesTier, proposal, missed }: BitAnswer) {
  return {
    name: candidate.name ?? null,
    from: candidate.from,
    bit: bitFigures(candidate.bit),
    ranges:
      ranges === undefined
        ? null
        : {
            limits: rangesTier,
            mating: rangeRecord(ranges.mating),
            glue: rangeRecord(ranges.glue),
            saw: rangeRecord(ranges.saw),
          },
    chosen: proposal === undefined ? null : proposalRecord(proposal),
    missed: missed.map(heldRecord),
    lost: lost.map(({ side, at, width, length, barely }) => ({
      side,
      at: { x: micro(at[0]), y: micro(at[1]) },
      width: micro(width),
      length: micro(length),
      barely,
    })),
  };
}

function proposalRecord({ depth, job, checked, tier, held }: Proposal) {
  return {
    answer: checked.answer,
    margin: micro(marginOf(held)),
    limits: tier,
    ...depthRecord(depth),
    pocket: { 'start-depth': micro(job.pocket.startDepth), 'flat-depth': micro(job.pocket.flatDepth) },
    plug: { 'start-depth': micro(job.plug.startDepth), 'flat-depth': micro(job.plug.flatDepth) },
    held: held.map(heldRecord),
  };
}

const depthRecord = ({ mating, glue, saw }: Depth) => ({
  'mating-depth': micro(mating),
  'glue-gap': micro(glue),
  'saw-gap': micro(saw),
});

const rangeRecord = ({ least, leastBy, most, mostBy }: Range) => ({
  least: micro(least),
  'least-by': leastBy,
  // What nothing ends has no most.
  most: mostBy === undefined ? null : micro(most),
  'most-by': mostBy === undefined ? null : { id: mostBy.id, label: mostBy.label },
});

function heldRecord({ id, end, label, times, reading }: Held) {
  return {
    id,
    label,
    times: micro(times),
    have: micro(reading.measured.value),
    unit: reading.measured.unit,
    [end === 'least' ? 'at-least' : 'at-most']: micro(
      end === 'least' ? reading.want.atLeast : reading.want.atMost,
    ),
    ...placeRecord(reading.place),
  };
}

const placeRecord = ({ part, at, element }: Place) => ({
  part,
  ...(at === undefined ? {} : { at: { x: micro(at[0]), y: micro(at[1]) } }),
  ...(element === undefined ? {} : { element }),
});

const bitFigures = (bit: Bit) =>
  Object.fromEntries(
    Object.entries(bit)
      .filter(([, value]) => value !== undefined)
      .map(([name, value]) => [
        name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`),
        micro(/angle$/i.test(name) ? toDegrees(value as number) : (value as number)),
      ]),
  );

/** Rounded, never -0; what is no finite number becomes null. */
const micro = (value: number | undefined): number | null =>
  value === undefined || !Number.isFinite(value) ? null : Math.round(value * 1e6) / 1e6 + 0;
