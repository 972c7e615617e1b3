/** Job files, and job files written anew with other entries. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readDocument } from '../../src/job/document.ts';
import { type Job, readJob } from '../../src/job/job.ts';
import { withEntries, yamlOf } from '../../src/job/rewritten.ts';
import { jobShape, type Shape } from '../../src/job/schema.ts';
import { SHORT_JOB, WHOLE_JOB } from '../job/texts.ts';
import { answerTo, Bad, finite } from './answers.ts';
import type { Chance } from './chance.ts';
import { type FuzzKind, textOf } from './kind.ts';
import { yamlFile } from './yaml.ts';

const FILE = 'tray/tray.dryfit.yaml';

/** Read from the project's folder, where tests and scripts are started. */
const REAL: readonly string[] = [
  SHORT_JOB,
  WHOLE_JOB,
  ...readdirSync('samples', { recursive: true })
    .map(String)
    .filter((path) => path.endsWith('.yaml'))
    .sort()
    .map((path) => readFileSync(join('samples', path), 'utf8')),
];

const jobFile = (chance: Chance): Uint8Array => yamlFile(REAL, jobShape as unknown as Shape, chance);

export const jobs: FuzzKind = {
  name: 'job',
  make: jobFile,
  attempt: (input) => {
    const text = textOf(input);
    return answerTo(text, FILE, () => checked(readJob(text, FILE)));
  },
};

/** A job that was read: every figure in it is one, and its keys have a place. */
export function checked(job: Job): string {
  for (const [key, value] of Object.entries(job)) if (typeof value !== 'function') finite(value, key);
  const { file, line } = job.place('plug.flat-depth');
  if (file !== job.file || line === 0) throw new Bad(`a job whose keys have no place: ${file} ${line}`);
  if (typeof job.says('bit.angle') !== 'boolean') throw new Bad('a job that does not know what it says');
  if (job.title.trim() === '') throw new Bad('a job without a title');
  return 'read';
}

/** A job's text written anew says the same, but for the entries that were set. */
export const anew: FuzzKind = {
  name: 'anew',
  make: jobFile,
  attempt: (input) => {
    const text = textOf(input);
    return answerTo(text, FILE, () => {
      const job = readJob(text, FILE);
      const root = readDocument(text, FILE);
      same(job, readAgain(yamlOf(root)), {});
      const depth = job.pocket.flatDepth + 1;
      const deeper = withEntries(root, { 'pocket.flat-depth': `${depth} mm`, 'pocket.outline': "o'b #1: x" });
      same(job, readAgain(yamlOf(deeper)), { flatDepth: depth });
      return 'written';
    });
  },
};

function readAgain(text: string): Job {
  try {
    return readJob(text, FILE);
  } catch (thrown) {
    throw new Bad(`what was written is not read: ${thrown} ${text.slice(0, 400)}`);
  }
}

function same(job: Job, other: Job, pocket: Readonly<Record<string, unknown>>): void {
  // A plug that the toolpath mirrors may have the pocket's drawing.
  const plug = job.plug.outline.path === job.pocket.outline.path ? other.plug.outline : job.plug.outline;
  const wanted = {
    ...job,
    pocket: { ...job.pocket, ...pocket, outline: other.pocket.outline },
    plug: { ...job.plug, outline: plug },
  };
  const [a, b] = [wanted, other].map((one) => JSON.stringify(one));
  if (a !== b) throw new Bad(`a job written anew is another: ${a} ${b}`);
}
