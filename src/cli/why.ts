import { type Why, type WhyAnswer, why } from '../advice/why.ts';
import { type Facts, factsOf } from '../carve/facts.ts';
import { InputFault } from '../fault.ts';
import { type Job, readJob } from '../job/job.ts';
import { readSeen } from '../job/seen.ts';
import { whyText } from '../report/why.ts';
import { whyJson } from '../report/why-json.ts';
import { askAll } from './ask.ts';
import { readDrawing } from './drawings.ts';
import { EXIT } from './exit.ts';
import { readText } from './files.ts';
import { refuseThere, writeAll } from './new-files.ts';
import { say } from './say.ts';
import { screen } from './terminal.ts';
import { seenText, WHY_QUESTIONS } from './why-questions.ts';

export interface WhySettings {
  readonly format: 'text' | 'json';
  /** File for what was answered, so that a further measurement can be added. */
  readonly keep?: string | undefined;
}

/** Where a person answers; undefined when nobody is there. */
export interface Person {
  readonly input: NodeJS.ReadableStream;
  readonly output: NodeJS.WritableStream;
}

const EXIT_OF: Readonly<Record<WhyAnswer, number>> = {
  'as-drawn': EXIT.good,
  one: EXIT.good,
  several: EXIT.good,
  none: EXIT.fail,
  unknown: EXIT.unknown,
};

const ANSWERS = 'your answers';

/**
 * Weighs what may have gone wrong with one job by what was seen at its test fit, said in a file or asked for. Returns
 * the exit status.
 */
export async function whyJob(
  path: string,
  seenPath: string | undefined,
  settings: WhySettings,
  person: Person | undefined = personThere(),
): Promise<number> {
  const job = readJob(readText(path, 'a job file (NAME.dryfit.yaml)'), path);
  // Read before anything is asked: a drawing that is missing costs no answers.
  const facts = factsOf(job, await readDrawing(job.pocket.outline), await readDrawing(job.plug.outline));
  const { keep } = settings;
  if (keep !== undefined) refuseThere([keep], 'name another with --keep');
  const keepIt = (text: string): void => {
    if (keep !== undefined) writeAll([{ path: keep, text }], false, 'name another with --keep');
  };
  let answer: Why;
  if (seenPath === undefined) {
    const text = await asked(job, path, person);
    // Kept before it is weighed: a reading that will not do is put right in the file, and nothing is typed twice.
    keepIt(text);
    answer = weighed(facts, text, keep ?? ANSWERS);
  } else {
    const text = readText(seenPath, 'a file that says what was seen at the test fit (NAME.seen.yaml)');
    answer = weighed(facts, text, seenPath);
    keepIt(text);
  }
  process.stdout.write(settings.format === 'json' ? whyJson(answer) : whyText(answer, screen()));
  if (keep !== undefined) say(`Written: ${keep}`);
  return EXIT_OF[answer.answer];
}

function weighed(facts: Facts, text: string, file: string): Why {
  return why(facts, readSeen(text, file));
}

async function asked(job: Job, path: string, person: Person | undefined): Promise<string> {
  if (person === undefined)
    throw new InputFault(
      `What was seen? Write it in a file, such as "units: mm" and below it "proud: [{ at: middle, by: 0.3 }, { at: left, by: 0.25 }]", and ask: dryfit why ${path} FILE. "dryfit explain why" has all that may be written; on a terminal it is asked for.`,
    );
  person.output.write(
    `What did you see at the test fit? Enter leaves a question open;\na bare number is in ${job.units}. How far it stands above its seat: the back of\nthe plug stock above the board, plus the mating depth, less the thickness of the\nplug stock.\n`,
  );
  const units = new Map([['units', job.units]]);
  const told = await askAll(WHY_QUESTIONS, units, person.input, person.output);
  if (told === undefined)
    throw new InputFault('The questions were left before the end, so nothing was weighed.');
  const answers = new Map([...told].filter(([key]) => key !== 'units'));
  return seenText(answers, job.units);
}

function personThere(): Person | undefined {
  if (process.stdin.isTTY !== true || process.stdout.isTTY !== true) return undefined;
  // Questions go beside the report, so that the report alone can be kept.
  return { input: process.stdin, output: process.stderr };
}
