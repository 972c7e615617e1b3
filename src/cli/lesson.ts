import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { RULES } from '../../rules/index.ts';
import { InputFault, quoted } from '../fault.ts';
import { readJob } from '../job/job.ts';
import { padEnd, wrap } from '../report/layout.ts';
import { answerLines, type Lesson, questionLines } from '../report/lesson.ts';
import { drawingLines } from '../report/lesson-drawing.ts';
import { answersHtml, handoutHtml } from '../report/lesson-html.ts';
import { EXIT } from './exit.ts';
import { pageOf, samplePath } from './explain.ts';
import { readText, writeReport } from './files.ts';
import { packageFolder } from './package.ts';
import { runJobFile } from './run.ts';
import { say } from './say.ts';
import { type Screen, screen, showsBraille } from './terminal.ts';

export interface LessonSettings {
  readonly answer?: boolean | undefined;
  readonly html?: string | undefined;
}

/**
 * Lists the lessons, or puts one: the design and the question, and the answer when it is asked for. With `html`
 * the lesson (or all of them) becomes a handout, with `answer` its answer sheet. Returns the exit status.
 */
export async function lesson(number: string | undefined, settings: LessonSettings): Promise<number> {
  const ids = lessonIds();
  const chosen = number === undefined ? undefined : idOf(number, ids);
  if (settings.html !== undefined) {
    const lessons: Lesson[] = [];
    for (const id of chosen === undefined ? ids : [chosen]) lessons.push(await lessonOf(id, ids));
    writeReport(
      settings.html,
      settings.answer === true ? answersHtml(lessons, pageOf) : handoutHtml(lessons),
    );
    say(`${settings.answer === true ? 'Answers' : 'Handout'} written to ${settings.html}`);
    return EXIT.good;
  }
  const view = screen();
  if (chosen === undefined) {
    print(listLines(ids, settings.answer === true, view));
    return EXIT.good;
  }
  const put = await lessonOf(chosen, ids);
  print(questionText(put, view));
  if (settings.answer === true || (await asksForAnswer(put.number)))
    print(['', ...answerLines(put, pageOf(put.id), view.width, view.ink)]);
  return EXIT.good;
}

/** Checks that have a design of their own, in the order in which a maker meets them. */
export function lessonIds(): readonly string[] {
  return RULES.map((rule) => rule.id).filter((id) => samplePath(id) !== undefined);
}

/** Runs the design of one lesson through every check. */
export async function lessonOf(id: string, ids: readonly string[]): Promise<Lesson> {
  const path = join(packageFolder(), samplePath(id) as string);
  const { checked, facts } = await runJobFile(path);
  const story = storyOf(readText(path, 'a job file'));
  return { number: ids.indexOf(id) + 1, of: ids.length, id, story, checked, facts };
}

/** The comment at the head of a sample tells what happened. */
function storyOf(text: string): string {
  const head: string[] = [];
  for (const line of text.split(/\r?\n/)) {
    if (!line.startsWith('#')) break;
    head.push(line.replace(/^#\s*/, ''));
  }
  return head.join(' ');
}

function idOf(number: string, ids: readonly string[]): string {
  const id = /^\d{1,4}$/.test(number) ? ids[Number(number) - 1] : undefined;
  if (id !== undefined) return id;
  throw new InputFault(`There is no lesson ${quoted(number)}; a number from 1 to ${ids.length} was wanted.`);
}

/** The lessons by number with the design's title; what is wrong with each only when the answers are asked for. */
export function listLines(ids: readonly string[], answers: boolean, { ink, width }: Screen): string[] {
  const titles = ids.map(titleOf);
  const longest = Math.max(...titles.map((title) => title.length)) + 2;
  const lines = ['The common mistakes, from first to last: one design each.', ''];
  ids.forEach((id, i) => {
    const about = answers ? askedBy(id) : `look at ${SUBJECTS[id.split('.')[0] as string] ?? 'the whole'}`;
    const [first, ...rest] = wrap(about, width - longest - 4);
    lines.push(`${ink.strong(String(i + 1).padStart(2))}  ${padEnd(titles[i] as string, longest)}${first}`);
    lines.push(...rest.map((line) => ' '.repeat(longest + 4) + line));
  });
  return [...lines, '', 'One of them: dryfit lesson NUMBER     its answer: dryfit lesson NUMBER --answer'];
}

function titleOf(id: string): string {
  const path = join(packageFolder(), samplePath(id) as string);
  return readJob(readText(path, 'a job file'), path).title;
}

const askedBy = (id: string): string => RULES.find((rule) => rule.id === id)?.asks ?? id;

/** Where to look first, by the subject of the check. */
const SUBJECTS: Readonly<Record<string, string>> = {
  artwork: 'the drawings',
  pair: 'plug against pocket',
  depth: 'the depths',
  bit: 'the bit',
  plug: 'the wood',
  board: 'the wood',
  fit: 'the fit',
  stock: 'the stock',
  wear: 'the years to come',
  wood: 'the wood',
  glue: 'the glue',
};

/** The design and the question as lines. */
export function questionText(put: Lesson, { ink, width }: Screen, braille = showsBraille()): string[] {
  const drawing = drawingLines(put.facts.artwork('pocket'), put.facts.artwork('plug'), width, braille);
  return questionLines(put, drawing, width, ink);
}

/** Somebody at a terminal is asked; anybody else is told how to get the answer. */
async function asksForAnswer(number: number): Promise<boolean> {
  if (process.stdin.isTTY !== true || process.stdout.isTTY !== true) {
    print([`The answer: dryfit lesson ${number} --answer`]);
    return false;
  }
  const asking = createInterface({ input: process.stdin, output: process.stdout });
  const entered = await new Promise<boolean>((resolve) => {
    asking.question('Press Enter for the answer. ', () => resolve(true));
    asking.once('close', () => resolve(false));
  });
  asking.close();
  if (!entered) print(['']);
  return entered;
}

function print(lines: readonly string[]): void {
  process.stdout.write(`${lines.join('\n')}\n`);
}
