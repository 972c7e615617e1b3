import { type Job, readJob } from '../job/job.ts';
import { PLAIN_INK } from '../report/colour.ts';
import { jobRows } from '../report/rows.ts';
import { rowOf, tellFaults, worstOf } from './check.ts';
import { EXIT } from './exit.ts';
import { topFolder } from './hook-git.ts';
import { gitPath, readStaged, type Staged, sourceOf, stagedJobs } from './hook-index.ts';
import { type Outcome, outcomeOf } from './jobs-one.ts';
import type { Source } from './run.ts';
import { faultsOf, say } from './say.ts';
import { screen } from './terminal.ts';

export interface HookRunSettings {
  readonly careFails?: boolean | undefined;
  /** Every job of the index, for a machine that checks what others committed. */
  readonly all?: boolean | undefined;
}

/** Checks the jobs that a commit would change, as they are staged. Returns the exit status: not 0 holds it back. */
export async function hookRun(settings: HookRunSettings): Promise<number> {
  const staged = readStaged(topFolder(process.cwd()));
  const source = sourceOf(staged);
  const jobs = stagedJobs(staged).filter((job) => settings.all === true || isTouched(job, staged, source));
  if (jobs.length === 0) {
    // Inside a hook most commits have nothing to do with inlays, and a word at each would be noise.
    if (process.env['GIT_INDEX_FILE'] === undefined) say('No job is touched by what is staged.');
    return EXIT.good;
  }
  const view = screen();
  const order = { format: 'sheet', colour: view.ink !== PLAIN_INK, width: view.width } as const;
  const outcomes: Outcome[] = [];
  for (const job of jobs) outcomes.push(await outcomeOf(job, order, source));
  for (const outcome of outcomes) tellFaults(outcome);
  const careFails = settings.careFails === true;
  const held = outcomes.filter((outcome) => worstOf([outcome], careFails) !== EXIT.good);
  const sheets = held.flatMap((outcome) => ('checked' in outcome ? [outcome.text] : []));
  process.stdout.write([`${jobRows(outcomes.map(rowOf), view.ink).join('\n')}\n`, ...sheets].join('\n'));
  return worstOf(outcomes, careFails);
}

/** A job is touched when its own file is staged, or any drawing it names is: added, changed, renamed or deleted. */
function isTouched(path: string, { top, changed }: Staged, source: Source): boolean {
  if (changed.has(path)) return true;
  let job: Job;
  try {
    job = readJob(source.text(path, 'a job file (NAME.dryfit.yaml)'), path);
  } catch (error) {
    if (faultsOf(error) === undefined) throw error;
    say(`${path} cannot be read, so whether its drawings are staged is not known.`);
    return false;
  }
  const outlines = [job.pocket.outline, job.plug.outline, ...job.keepOut.map(({ outline }) => outline)];
  return outlines.some((outline) => {
    const drawing = outline && gitPath(top, outline.path);
    return drawing !== undefined && changed.has(drawing);
  });
}
