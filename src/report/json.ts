import type { CheckedJob } from '../engine/checked-job.ts';
import type { JudgedCheck, JudgedReading } from '../engine/judge.ts';
import { SCHEMA_ID, VERSION } from './version.ts';

/** Figures are written to a millionth of their unit: finer than any of them is known. */
const DECIMALS = 6;

/** The job's answer as the stable JSON record. Equal input gives equal bytes; ends with a newline. */
export function json(checked: CheckedJob): string {
  return `${JSON.stringify(jsonRecord(checked), null, 2)}\n`;
}

/** The same as a plain value, for several jobs in one document and for the library. */
export function jsonRecord(checked: CheckedJob): unknown {
  return {
    schema: SCHEMA_ID,
    dryfit: VERSION,
    job: checked.job,
    title: checked.title,
    answer: checked.answer,
    facts: Object.fromEntries(
      Object.entries(checked.figures).map(([name, figure]) => [
        name,
        figure === undefined ? null : { value: rounded(figure.value), unit: figure.unit },
      ]),
    ),
    checks: checked.checks.map(checkRecord),
    'not-asked': checked.notAsked,
  };
}

function checkRecord(check: JudgedCheck): unknown {
  return {
    id: check.id,
    asks: check.asks,
    outcome: check.outcome,
    readings: check.readings.map(readingRecord),
    ...(check.untold.length > 0 ? { untold: check.untold.join(' ') } : {}),
    ...(check.moot.length > 0 ? { moot: check.moot.join(' ') } : {}),
  };
}

function readingRecord(reading: JudgedReading): unknown {
  const { measured, want, place } = reading;
  return {
    measured: { value: rounded(measured.value), unit: measured.unit },
    give: rounded(reading.give),
    'at-least': rounded(want.atLeast),
    'at-most': rounded(want.atMost),
    room: rounded(reading.room),
    outcome: reading.outcome,
    part: place.part,
    ...(place.at === undefined ? {} : { at: { x: rounded(place.at[0]), y: rounded(place.at[1]) } }),
    ...(place.element === undefined ? {} : { element: place.element }),
    ...(place.file === undefined ? {} : { file: place.file }),
    ...(place.line === undefined ? {} : { line: place.line }),
    ...(place.column === undefined ? {} : { column: place.column }),
    ...(reading.label === undefined ? {} : { label: reading.label }),
    says: reading.says,
    ...(reading.cure === undefined ? {} : { cure: reading.cure }),
  };
}

/** Rounded, never -0; what is not a finite number becomes null, as JSON has no other word for it. */
function rounded(value: number | undefined): number | null {
  if (value === undefined || !Number.isFinite(value)) return null;
  const scale = 10 ** DECIMALS;
  return Math.round(value * scale) / scale + 0;
}
