import type { CheckedJob } from '../engine/checked.ts';
import type { InputFault } from '../fault.ts';
import type { Job } from '../job/job.ts';
import { PLAIN_INK, terminalInk } from '../report/colour.ts';
import { type PlanSettings, planLines } from '../report/plan.ts';
import { sheet } from '../report/sheet.ts';
import type { Format } from './exit.ts';
import { type Choice, DISK, type Run, runJob, runJobFile, type Source } from './run.ts';
import { faultsOf } from './say.ts';

/** What is asked of each of several jobs. Plain data: it goes to other threads. */
export interface Order extends Choice {
  readonly format: Format;
  readonly colour: boolean;
  /** Columns of a sheet. */
  readonly width: number;
  /** Room for the drawing in the sheet; undefined when none is wanted. */
  readonly plan?: PlanSettings | undefined;
}

/** A job that was judged, with the part of the report that needs more than its figures. */
export interface Judged {
  readonly job: string;
  readonly checked: CheckedJob;
  readonly text: string;
}

/** A job that could not be read, and why. */
export interface Unread {
  readonly job: string;
  readonly faults: readonly Pick<InputFault, 'message' | 'place'>[];
}

export type Outcome = Judged | Unread;

/** Checks one job, by its file or already read. Outcomes are plain data, so that they can come from another thread. */
export async function outcomeOf(asked: string | Job, order: Order, source: Source = DISK): Promise<Outcome> {
  const byFile = typeof asked === 'string';
  const job = byFile ? asked : asked.file;
  try {
    const run = await (byFile ? runJobFile(asked, order, source) : runJob(asked, order, source));
    return { job, checked: run.checked, text: await textOf(run, order) };
  } catch (error) {
    const faults = faultsOf(error);
    if (faults === undefined) throw error;
    return { job, faults: faults.map(({ message, place }) => ({ message, place })) };
  }
}

/** What only the thread that ran the job can write, as it has the facts. */
async function textOf({ checked, facts }: Run, { format, colour, width, plan }: Order): Promise<string> {
  if (format === 'html') {
    const { htmlSheet } = await import('../report/html-gather.ts');
    return JSON.stringify(htmlSheet(checked, facts));
  }
  if (format !== 'sheet') return '';
  const ink = colour ? terminalInk() : PLAIN_INK;
  return sheet(checked, facts, { ink, width, plan: plan && planLines(checked, facts, plan) });
}
