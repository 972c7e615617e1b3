import { join } from 'node:path';
import { besideJob, type Recut, type RecutAnswer, recut } from '../advice/recut.ts';
import { readSeen, SEEN_NAMES, type SeenFlags } from '../advice/recut-seen.ts';
import { factsOf } from '../carve/facts.ts';
import { readDocument } from '../job/document.ts';
import { readJob } from '../job/job.ts';
import { recutText } from '../report/recut.ts';
import { recutJson } from '../report/recut-json.ts';
import { recutPlan } from '../report/recut-plan.ts';
import { readDrawing, readKeepOuts } from './drawings.ts';
import { EXIT } from './exit.ts';
import { readText } from './files.ts';
import { folderFor, type NewFile, refuseSameName, writeAll } from './new-files.ts';
import { say } from './say.ts';
import { screen } from './terminal.ts';

/** What was asked; the rest are the flags of what went wrong, in camel case. */
export interface RecutSettings {
  readonly [flag: string]: unknown;
  readonly format: 'text' | 'json';
  /** Folder for the new pair, its job and the plan. */
  readonly output?: string | undefined;
  /** File for the plan alone, whatever the answer. */
  readonly plan?: string | undefined;
  readonly overwrite?: boolean | undefined;
}

const EXIT_OF: Readonly<Record<RecutAnswer, number>> = {
  sound: EXIT.good,
  saved: EXIT.good,
  care: EXIT.good,
  lost: EXIT.fail,
  unknown: EXIT.unknown,
};

/**
 * Plans the second cut of one job from what went wrong with the first, said in a file, by flags, or both. The new pair
 * is only written when it passes. Returns the exit status.
 */
export async function recutJob(
  path: string,
  seenPath: string | undefined,
  settings: RecutSettings,
): Promise<number> {
  const plan = await planOf(path, seenPath, settings);
  const good = plan.answer === 'saved' || plan.answer === 'care';
  const { output } = settings;
  const pair = good && output !== undefined ? pairFiles(plan, output) : [];
  const alone = settings.plan === undefined ? [] : [{ path: settings.plan, text: recutPlan(plan) }];
  const files = [...pair, ...alone];
  refuseSameName(files);
  if (pair.length > 0 && output !== undefined) folderFor(output);
  if (files.length > 0)
    writeAll(files, settings.overwrite === true, 'name another folder, or add --overwrite');
  const written = files.map((file) => file.path);
  process.stdout.write(settings.format === 'json' ? recutJson(plan, written) : recutText(plan, screen()));
  if (written.length > 0) say(`Written: ${written.join(', ')}`);
  if (output !== undefined && !good) say('No new pair was written.');
  return EXIT_OF[plan.answer];
}

async function planOf(path: string, seenPath: string | undefined, settings: RecutSettings): Promise<Recut> {
  const text = readText(path, 'a job file (NAME.dryfit.yaml)');
  const job = readJob(text, path);
  const file =
    seenPath === undefined
      ? undefined
      : { path: seenPath, text: readText(seenPath, 'a file that says what went wrong (NAME.recut.yaml)') };
  const seen = readSeen(file, flagsOf(settings), job);
  const pocket = await readDrawing(job.pocket.outline);
  const plug = await readDrawing(job.plug.outline);
  const keepOuts = await readKeepOuts(job.keepOut);
  const facts = factsOf(job, pocket, plug, keepOuts);
  const folder = settings.output ?? besideJob(job);
  return recut({ facts, root: readDocument(text, path), keepOuts, seen, folder });
}

function flagsOf(settings: RecutSettings): SeenFlags {
  const camel = (name: string): string =>
    name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
  return Object.fromEntries(SEEN_NAMES.map((name) => [name, settings[camel(name)]]));
}

function pairFiles(plan: Recut, folder: string): readonly NewFile[] {
  const { pair } = plan;
  if (pair === undefined) return [];
  const planName = pair.jobName.replace(/\.dryfit\.yaml$/, '-plan.svg');
  return [...pair.files, { name: planName, text: recutPlan(plan) }].map(({ name, text }) => ({
    path: join(folder, name),
    text,
  }));
}
