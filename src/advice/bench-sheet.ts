import type { Facts } from '../carve/facts.ts';
import type { CheckedJob } from '../engine/checked.ts';
import type { JudgedCheck } from '../engine/judge.ts';
import type { Answer } from '../engine/reading.ts';
import type { LengthStyle } from '../units.ts';
import { cautions } from './bench-sheet-cautions.ts';
import { type BenchDrawing, drawingOf } from './bench-sheet-drawing.ts';
import { fitSteps } from './bench-sheet-fit.ts';
import { rangesNote } from './bench-sheet-grounds.ts';
import { placesOf } from './bench-sheet-places.ts';
import { setupRows } from './bench-sheet-setup.ts';
import { cutSteps } from './bench-sheet-steps.ts';
import type { Note, SetupRow, Step } from './bench-sheet-told.ts';

export type { Cell, Figure, Note, SetupRow, Step, Told } from './bench-sheet-told.ts';

/** A row of the check that does not pass. */
export interface Amiss {
  readonly row: string;
  readonly outcome: 'fail' | 'close' | 'untold';
  readonly says: string;
}

/** The sheet a maker takes to the machine. Quantities are in mm, N and MPa; reports print them in the job's units. */
export interface BenchSheet {
  readonly job: string;
  readonly title: string;
  readonly answer: Answer;
  readonly units: LengthStyle;
  /** What does not pass, the worst first. */
  readonly amiss: readonly Amiss[];
  readonly setup: readonly SetupRow[];
  readonly steps: readonly Step[];
  readonly cautions: readonly Note[];
  /** What the bounds of the figures allow for. */
  readonly ranges: Note;
  readonly drawing: BenchDrawing;
}

/**
 * Sets a job out for the bench from what the dry fit knows: nothing is measured here that the checks do not measure.
 * A job that fails has its sheet too, with what fails on top.
 */
export function benchSheet(checked: CheckedJob, facts: Facts): BenchSheet {
  const places = placesOf(facts);
  return {
    job: checked.job,
    title: checked.title,
    answer: checked.answer,
    units: facts.job.units,
    amiss: checked.checks.flatMap(amissOf).sort((a, b) => RANK[a.outcome] - RANK[b.outcome]),
    setup: setupRows(checked, facts),
    steps: [...cutSteps(facts, places), ...fitSteps(facts, places)],
    cautions: cautions(facts),
    ranges: rangesNote(facts),
    drawing: drawingOf(facts, places),
  };
}

const RANK: Readonly<Record<Amiss['outcome'], number>> = { fail: 0, untold: 1, close: 2 };

/** What is wrong or close in one check, and whatever it could not see. */
function amissOf(check: JudgedCheck): Amiss[] {
  const bad = check.readings.flatMap((reading): Amiss[] =>
    reading.outcome === 'pass'
      ? []
      : [
          {
            row: reading.label ?? check.row,
            outcome: reading.outcome,
            says: reading.cure === undefined ? reading.says : `${reading.says} Mend: ${reading.cure}`,
          },
        ],
  );
  return [...bad, ...check.untold.map((says): Amiss => ({ row: check.row, outcome: 'untold', says }))];
}
