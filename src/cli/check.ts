import type { Answer } from '../engine/reading.ts';
import type { InputFault } from '../fault.ts';
import { PLAIN_INK, terminalInk } from '../report/colour.ts';
import { json, jsonRecord } from '../report/json.ts';
import { sheet } from '../report/sheet.ts';
import { EXIT, type Format } from './exit.ts';
import { writeWhole } from './files.ts';
import { type Run, runJobFile } from './run.ts';
import { faultsOf, faultText, say } from './say.ts';

export interface CheckSettings {
  readonly format: Format;
  readonly output?: string | undefined;
  readonly only?: readonly string[] | undefined;
  readonly skip?: readonly string[] | undefined;
  readonly careFails?: boolean | undefined;
}

const EXIT_OF: Readonly<Record<Answer, number>> = {
  pass: EXIT.good,
  care: EXIT.good,
  fail: EXIT.fail,
  unknown: EXIT.unknown,
};

/** A job that was asked, or the faults that kept it from being read. */
type Outcome =
  | { readonly job: string; readonly run: Run }
  | { readonly job: string; readonly faults: readonly InputFault[] };

/** Checks jobs and writes one report. Returns the exit status. */
export async function check(jobs: readonly string[], settings: CheckSettings): Promise<number> {
  const outcomes: Outcome[] = [];
  for (const job of jobs) outcomes.push(await outcomeOf(job, settings));
  for (const outcome of outcomes)
    if ('faults' in outcome) for (const fault of outcome.faults) say(faultText(fault));
  const text = report(outcomes, settings);
  if (settings.output !== undefined) writeWhole(settings.output, text);
  else process.stdout.write(text);
  return Math.max(EXIT.good, ...outcomes.map((outcome) => exitOf(outcome, settings.careFails === true)));
}

async function outcomeOf(job: string, settings: CheckSettings): Promise<Outcome> {
  try {
    return { job, run: await runJobFile(job, settings) };
  } catch (error) {
    const faults = faultsOf(error);
    if (faults === undefined) throw error;
    return { job, faults };
  }
}

function exitOf(outcome: Outcome, careFails: boolean): number {
  if ('faults' in outcome) return EXIT.unreadable;
  const { answer } = outcome.run.checked;
  return answer === 'care' && careFails ? EXIT.fail : EXIT_OF[answer];
}

function report(outcomes: readonly Outcome[], settings: CheckSettings): string {
  if (settings.format === 'json') return jsonOf(outcomes);
  return sheetsOf(outcomes, settings);
}

function jsonOf(outcomes: readonly Outcome[]): string {
  const only = outcomes.length === 1 ? outcomes[0] : undefined;
  if (only !== undefined && 'run' in only) return json(only.run.checked);
  const records = outcomes.map((outcome) =>
    'run' in outcome ? jsonRecord(outcome.run.checked) : unreadRecord(outcome),
  );
  return `${JSON.stringify(only === undefined ? records : records[0], null, 2)}\n`;
}

/** A job that could not be read has its place in the JSON too: what is not there could pass for a pass. */
function unreadRecord(outcome: { readonly job: string; readonly faults: readonly InputFault[] }): unknown {
  return {
    job: outcome.job,
    answer: 'unreadable',
    faults: outcome.faults.map(({ message, place }) => ({ says: message, ...place })),
  };
}

function sheetsOf(outcomes: readonly Outcome[], settings: CheckSettings): string {
  const toTerminal = settings.output === undefined && process.stdout.isTTY === true;
  const colour = toTerminal && !process.env['NO_COLOR'] && process.env['TERM'] !== 'dumb';
  const ink = colour ? terminalInk() : PLAIN_INK;
  const width = toTerminal ? Math.min(process.stdout.columns ?? 80, 110) : 80;
  const runs = outcomes.flatMap((outcome) => ('run' in outcome ? [outcome.run] : []));
  return runs.map(({ checked, facts }) => sheet(checked, facts, { ink, width })).join('\n');
}
