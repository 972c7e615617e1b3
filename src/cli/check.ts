import { join, relative, resolve, sep } from 'node:path';
import type { Answer } from '../engine/reading.ts';
import { InputFault } from '../fault.ts';
import { hasFlags, jobFromFlags, type QuickFlags } from '../job/flags.ts';
import { PLAIN_INK, terminalInk } from '../report/colour.ts';
import { json, jsonRecord } from '../report/json.ts';
import { jobRows } from '../report/rows.ts';
import { EXIT, FORMATS, type Format, formatFor } from './exit.ts';
import { readText, unbroken, writeReport } from './files.ts';
import { runJobs } from './jobs.ts';
import { type Order, type Outcome, outcomeOf, type Unread } from './jobs-one.ts';
import { progressOf } from './jobs-progress.ts';
import { packageFolder } from './package.ts';
import { faultText, say } from './say.ts';
import { screen, showsBraille } from './terminal.ts';

/** How to check and how to tell it; the rest are flags that stand in for a job file. */
export interface CheckSettings extends QuickFlags {
  /** Unless given, what the output's ending says. */
  readonly format?: Format | undefined;
  readonly output?: string | undefined;
  readonly only?: readonly string[] | undefined;
  readonly skip?: readonly string[] | undefined;
  readonly careFails?: boolean | undefined;
  /** Whether the sheet holds the drawing; when not said, it does on a terminal. */
  readonly plan?: boolean | undefined;
}

/** Columns beyond which a sheet's rows are hard to follow. */
const WIDEST_SHEET = 110;

const EXIT_OF: Readonly<Record<Answer, number>> = {
  pass: EXIT.good,
  care: EXIT.good,
  fail: EXIT.fail,
  unknown: EXIT.unknown,
};

/** Checks jobs, or the one job that flags describe, and writes one report. Returns the exit status. */
export async function check(jobs: readonly string[], settings: CheckSettings): Promise<number> {
  const order = orderOf(settings);
  const outcomes = await outcomesOf(jobs, settings, order);
  for (const outcome of outcomes) tellFaults(outcome);
  const text = await report(outcomes, order, settings);
  if (settings.output !== undefined) writeReport(settings.output, text);
  else unbroken(() => process.stdout.write(text));
  return worstOf(outcomes, settings.careFails === true);
}

async function outcomesOf(
  jobs: readonly string[],
  settings: CheckSettings,
  order: Order,
): Promise<readonly Outcome[]> {
  const flagged = hasFlags(settings);
  if (flagged && jobs.length > 0)
    throw new InputFault('Name job files, or describe one job by flags such as --pocket; not both.');
  if (flagged) return [await outcomeOf(jobFromFlags(settings), order)];
  if (jobs.length === 0)
    throw new InputFault(
      'Nothing to check: name a job file (NAME.dryfit.yaml), or describe a job by --pocket, --plug, --pocket-depth, --plug-depth and --angle.',
    );
  const progress = progressOf(jobs.length);
  return runJobs(jobs, order, progress.done).finally(progress.end);
}

/** The exit status of several jobs: the worst counts. */
export function worstOf(outcomes: readonly Outcome[], careFails: boolean): number {
  return Math.max(EXIT.good, ...outcomes.map((outcome) => exitOf(outcome, careFails)));
}

function exitOf(outcome: Outcome, careFails: boolean): number {
  if ('faults' in outcome) return EXIT.unreadable;
  const { answer } = outcome.checked;
  return answer === 'care' && careFails ? EXIT.fail : EXIT_OF[answer];
}

/** Says why a job could not be read; nothing for one that could. */
export function tellFaults(outcome: Outcome): void {
  if ('faults' in outcome) for (const fault of outcome.faults) say(faultText(fault));
}

function orderOf({ format: given, output, only, skip, plan }: CheckSettings): Order {
  const format = formatFor(FORMATS, given, output);
  const { terminal, colour, width } = screen(WIDEST_SHEET, output === undefined);
  // The figures below the drawing should still be on the screen.
  const rows = terminal ? Math.floor((process.stdout.rows ?? 48) / 2) : 24;
  const drawing = (plan ?? terminal) ? { width, rows, braille: showsBraille() } : undefined;
  return { format, colour, width, plan: drawing, only, skip };
}

async function report(
  outcomes: readonly Outcome[],
  order: Order,
  { careFails = false }: CheckSettings,
): Promise<string> {
  if (order.format === 'json') return jsonOf(outcomes);
  if (order.format === 'html') return await htmlOf(outcomes);
  if (order.format === 'sarif') return await sarifOf(outcomes, worstOf(outcomes, careFails));
  if (order.format === 'junit') {
    const { junit } = await import('../report/junit.ts');
    return junit(outcomes, careFails);
  }
  return sheetsOf(outcomes, order);
}

function jsonOf(outcomes: readonly Outcome[]): string {
  const only = outcomes.length === 1 ? outcomes[0] : undefined;
  if (only !== undefined && 'checked' in only) return json(only.checked);
  const records = outcomes.map((outcome) =>
    'checked' in outcome ? jsonRecord(outcome.checked) : unreadRecord(outcome),
  );
  return `${JSON.stringify(only === undefined ? records : records[0], null, 2)}\n`;
}

/** One page for all jobs, a sheet each; the page's own program comes from the build. */
async function htmlOf(outcomes: readonly Outcome[]): Promise<string> {
  const { html } = await import('../report/html.ts');
  const jobs = outcomes.map((outcome) =>
    'checked' in outcome ? { checked: outcome.checked, sheet: JSON.parse(outcome.text) } : outcome,
  );
  return html(jobs, readText(join(packageFolder(), 'dist', 'page.js'), "the page's program"));
}

/** Paths are told from the folder the check was started in; the help of a check is its page. */
async function sarifOf(outcomes: readonly Outcome[], status: number): Promise<string> {
  const [{ sarif }, { pageOf }, { sectionOf, plainBlock }] = await Promise.all([
    import('../report/sarif.ts'),
    import('./explain.ts'),
    import('../report/page.ts'),
  ]);
  const helpOf = (id: string) => {
    const page = pageOf(id);
    const plain = (heading: 'Why wood cares' | 'How to mend it'): string =>
      sectionOf(page, heading)
        .blocks.flatMap((block) => (block.kind === 'drawing' ? [] : [plainBlock(block)]))
        .join('\n');
    return { why: plain('Why wood cares'), mend: plain('How to mend it') };
  };
  const pathOf = (path: string): string => relative(process.cwd(), resolve(path)).split(sep).join('/');
  return sarif(outcomes, { status, pathOf, helpOf });
}

/** A job that could not be read has its place in the JSON too: what is not there could pass for a pass. */
function unreadRecord({ job, faults }: Unread): unknown {
  return {
    job,
    answer: 'unreadable',
    faults: faults.map(({ message, place }) => ({ says: message, ...place })),
  };
}

/** One job's sheet; of several a line each, then the sheets of those that do not pass. */
function sheetsOf(outcomes: readonly Outcome[], { colour }: Order): string {
  const sheets = outcomes.flatMap((outcome) =>
    'checked' in outcome && (outcomes.length === 1 || outcome.checked.answer !== 'pass')
      ? [outcome.text]
      : [],
  );
  if (outcomes.length === 1) return sheets.join('');
  const rows = jobRows(outcomes.map(rowOf), colour ? terminalInk() : PLAIN_INK);
  return [`${rows.join('\n')}\n`, ...sheets].join('\n');
}

/** A job's line among several. */
export function rowOf(outcome: Outcome) {
  if ('faults' in outcome) return { answer: 'unread', title: undefined, path: outcome.job } as const;
  const { answer, title, job } = outcome.checked;
  return { answer, title, path: job };
}
