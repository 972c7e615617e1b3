import { RULES } from '../../rules/index.ts';
import { type Facts, factsOf } from '../carve/facts.ts';
import { type CheckedJob, checkJob } from '../engine/checked.ts';
import { InputFault, quoted } from '../fault.ts';
import { type Job, readJob } from '../job/job.ts';
import type { Choice } from './choice.ts';
import { readDrawing, readKeepOuts } from './drawings.ts';
import { readBytes, readText } from './files.ts';

export interface Run {
  readonly checked: CheckedJob;
  readonly facts: Facts;
}

/** How a job's files are had: from the disk, or for the hook from what is staged. */
export interface Source {
  readonly text: (path: string, what: string) => string;
  readonly bytes: (path: string, what: string) => Uint8Array;
}

export const DISK: Source = { text: readText, bytes: readBytes };

export type { Choice } from './choice.ts';

/** Reads one job file with its drawings and asks every check. Throws InputFault(s) when something cannot be read. */
export async function runJobFile(path: string, choice: Choice = {}, source: Source = DISK): Promise<Run> {
  const job = readJob(source.text(path, 'a job file (NAME.dryfit.yaml)'), path);
  return runJob(job, choice, source);
}

/** The same for a job that was put together from flags or by a program. */
export async function runJob(job: Job, choice: Choice = {}, source: Source = DISK): Promise<Run> {
  const leftOut = leftOutBy(choice);
  const pocket = await readDrawing(job.pocket.outline, source.bytes);
  const plug = await readDrawing(job.plug.outline, source.bytes);
  const keepOuts = await readKeepOuts(job.keepOut, source.bytes);
  const facts = factsOf(job, pocket, plug, keepOuts);
  return { checked: checkJob(facts, RULES, leftOut), facts };
}

function leftOutBy({ only, skip }: Choice): ReadonlySet<string> {
  const known = new Set(RULES.map((rule) => rule.id));
  for (const id of [...(only ?? []), ...(skip ?? [])])
    if (!known.has(id))
      throw new InputFault(`There is no check ${quoted(id)}. The checks are: ${[...known].join(', ')}.`);
  const leftOut = new Set(
    only === undefined || only.length === 0 ? [] : [...known].filter((id) => !only.includes(id)),
  );
  for (const id of skip ?? []) leftOut.add(id);
  return leftOut;
}
