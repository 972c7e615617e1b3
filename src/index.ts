/**
 * The library: checks a job the way the command line does.
 *
 * `await check('tray/tray.dryfit.yaml')` reads the job and its drawings and gives the judged answer; a file that
 * cannot be read throws InputFault or InputFaults, with the place and what was wanted.
 */
import type { Choice } from './cli/choice.ts';
import { runJobFile } from './cli/run.ts';
import type { CheckedJob } from './engine/checked-job.ts';

export async function check(jobFile: string, choice: Choice = {}): Promise<CheckedJob> {
  return (await runJobFile(jobFile, choice)).checked;
}

export type { Choice } from './cli/choice.ts';
export type { CheckedJob } from './engine/checked-job.ts';
export type { JudgedCheck, JudgedReading } from './engine/judge.ts';
export type { Answer, Outcome, PartName, Place, Quantity, Reading, Want } from './engine/reading.ts';
export { InputFault, InputFaults } from './fault.ts';
export { jobSchema } from './job/schema-json.ts';
export { jsonRecord } from './report/json.ts';
export { reportSchema } from './report/schema.ts';
