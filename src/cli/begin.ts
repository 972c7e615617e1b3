import { existsSync } from 'node:fs';
import { basename, dirname, join, relative, resolve, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { InputFault } from '../fault.ts';
import { readJob } from '../job/job.ts';
import type { Outline } from '../job/schema.ts';
import { beginText } from '../report/begin.ts';
import { type Answers, askAll, type Question, styleOf } from './ask.ts';
import { questionsFor } from './begin-questions.ts';
import { measureDrawings, outlineOf } from './begin-seen.ts';
import { EXIT } from './exit.ts';
import { writeNew } from './files.ts';
import { packageFolder } from './package.ts';
import { faultsOf, say } from './say.ts';

export interface BeginSettings {
  readonly output?: string | undefined;
}

/** Where a person answers; nobody is there when either end is a file or a pipe. */
export interface Person {
  readonly input: NodeJS.ReadableStream;
  readonly output: NodeJS.WritableStream;
}

/**
 * Writes a commented job file for two drawings (`NAME.svg` or `NAME.svg#id`). What the drawings do not tell is
 * asked when a person is there, else suggested or left open. Never overwrites. Returns the exit status.
 */
export async function begin(
  pocketText: string,
  plugText: string,
  settings: BeginSettings,
  person: Person | undefined = personThere(),
): Promise<number> {
  const pocket = outlineOf(pocketText);
  const plug = outlineOf(plugText);
  const path = settings.output ?? join(dirname(pocket.path), `${bareName(pocket)}.dryfit.yaml`);
  if (existsSync(path)) throw isThere(path);
  const drawings = await measureDrawings(pocket, plug);
  for (const care of drawings.seen.cares) say(care);
  const questions = questionsFor(drawings, titleOf(pocket));
  const known = new Map([
    ['pocket.outline', writtenFrom(path, pocket)],
    ['plug.outline', writtenFrom(path, plug)],
  ]);
  const textOf = (answers: Answers, suggested: ReadonlySet<string> = new Set()): string => {
    const { seen } = drawings;
    const text = beginText({ seen, answers, suggested, schema: schemaFrom(path), units: styleOf(answers) });
    readJob(text, path);
    return text;
  };
  if (person !== undefined) {
    written(path, await textAsked(questions, known, person, textOf));
    return EXIT.good;
  }
  const answers = suggestedOf(questions, known);
  const suggested = new Set([...answers.keys()].filter(isSuggestion));
  written(path, textOf(answers, suggested));
  say(`Suggested, and yours to set: ${[...suggested].join(', ')}.`);
  return EXIT.good;
}

/** The job as a person tells it. Answers that do not go together are asked again, with what was answered. */
async function textAsked(
  questions: readonly Question[],
  known: Answers,
  { input, output }: Person,
  textOf: (answers: Answers) => string,
): Promise<string> {
  for (let answers = known; ; ) {
    const told = await askAll(questions, answers, input, output);
    if (told === undefined)
      throw new InputFault('The questions were left before the end, so nothing was written.');
    answers = told;
    try {
      return textOf(answers);
    } catch (error) {
      const faults = faultsOf(error);
      if (faults === undefined) throw error;
      for (const { message } of faults) output.write(`  ${message}\n`);
    }
  }
}

function personThere(): Person | undefined {
  if (process.stdin.isTTY !== true || process.stdout.isTTY !== true) return undefined;
  return { input: process.stdin, output: process.stdout };
}

/** With nobody to ask, only what a job cannot do without is filled in. */
function suggestedOf(questions: readonly Question[], known: Answers): Answers {
  const answers = new Map(known);
  for (const { key, open, suggest } of questions) {
    const suggested = open ? undefined : suggest(answers);
    if (suggested !== undefined) answers.set(key, suggested);
  }
  return answers;
}

/** Depths and the bit are the shop's; the rest of what is filled in comes from the drawings. */
const isSuggestion = (key: string): boolean => key === 'bit.angle' || key.endsWith('-depth');

const bareName = ({ path }: Outline): string => basename(path).replace(/\.svg$/i, '');

function titleOf(pocket: Outline): string {
  const name = bareName(pocket).replaceAll(/[-_]+/g, ' ').trim();
  return name === '' ? 'Inlay' : `${name.slice(0, 1).toUpperCase()}${name.slice(1)}`;
}

/** The outline as a job at `path` names it: from its own folder, with `/` on every system. */
function writtenFrom(path: string, { path: drawing, select }: Outline): string {
  const way = relative(dirname(resolve(path)), resolve(drawing)).replaceAll(sep, '/');
  return select === undefined ? way : `${way}#${select}`;
}

/**
 * Where an editor finds the description of a job file: by a way from the job when the package is installed beside it,
 * which holds on every machine, else at its place on this one.
 */
function schemaFrom(path: string): string {
  const schema = join('dist', 'schema', 'job.schema.json');
  const from = dirname(resolve(path));
  for (let folder = from; ; folder = dirname(folder)) {
    const beside = join(folder, 'node_modules', 'dryfit', schema);
    if (existsSync(beside)) return `./${relative(from, beside).replaceAll(sep, '/')}`;
    if (dirname(folder) === folder) return pathToFileURL(join(packageFolder(), schema)).href;
  }
}

function written(path: string, text: string): void {
  if (!writeNew(path, text)) throw isThere(path);
  say(`${path} is written. Look it through, then: dryfit check ${path}`);
}

const isThere = (path: string): InputFault =>
  new InputFault('This is there already and is not overwritten; name another with --output.', { file: path });
