import { createInterface } from 'node:readline';
import type { Reads } from '../job/schema.ts';
import { hear } from '../job/values.ts';
import { wrap } from '../report/layout.ts';
import type { LengthStyle } from '../units.ts';

/** Columns of a question; the answer follows its last line. */
const WIDTH = 78;

/** One thing to be asked. What is suggested, and the unit of bare numbers, may hang on the answers before. */
export interface Question {
  /** The job's key that the answer belongs to. */
  readonly key: string;
  readonly asks: string;
  readonly reads: Reads;
  readonly suggest: (answers: Answers) => string | undefined;
  /** Whether the job can do without. */
  readonly open: boolean;
}

export type Answers = ReadonlyMap<string, string>;

/**
 * Asks a person one question after another. Enter takes the choice in brackets, a dash leaves open what may be left
 * open, and an answer that will not do is asked again with what is wrong. `before` holds what is known already: it
 * is offered as the choice. Undefined when the person went away.
 */
export async function askAll(
  questions: readonly Question[],
  before: Answers,
  input: NodeJS.ReadableStream,
  output: NodeJS.WritableStream,
): Promise<Answers | undefined> {
  const asking = createInterface({ input, output });
  // Lines that come faster than the questions wait here; a question that comes first waits for its line.
  const lines: string[] = [];
  let waiting: ((line: string | undefined) => void) | undefined;
  let gone = false;
  asking.on('line', (line) => {
    if (waiting === undefined) lines.push(line);
    else waiting(line);
  });
  asking.on('close', () => {
    gone = true;
    waiting?.(undefined);
  });
  const next = (prompt: string): Promise<string | undefined> => {
    asking.setPrompt(prompt);
    asking.prompt();
    const ready = lines.shift();
    if (ready !== undefined || gone) return Promise.resolve(ready);
    return new Promise((resolve) => {
      waiting = (line) => {
        waiting = undefined;
        resolve(line);
      };
    });
  };
  const answers = new Map(before);
  try {
    for (const question of questions) {
      const answer = await askOne(question, answers, next, output);
      if (answer === undefined) return undefined;
      if (answer === '') answers.delete(question.key);
      else answers.set(question.key, answer);
    }
    return answers;
  } finally {
    asking.close();
  }
}

/** The answer; empty when it is left open, undefined when nobody is there any more. */
async function askOne(
  question: Question,
  answers: Answers,
  next: (prompt: string) => Promise<string | undefined>,
  output: NodeJS.WritableStream,
): Promise<string | undefined> {
  const suggested = answers.get(question.key) ?? question.suggest(answers);
  const choice = suggested ?? (question.open ? 'leave open' : undefined);
  const asks = `${question.asks}${choice === undefined ? '' : ` [${choice}]`}`;
  const prompt = `${wrap(asks, WIDTH).join('\n')} `;
  for (;;) {
    const line = (await next(prompt))?.trim();
    if (line === undefined) return undefined;
    if (line === '' && choice !== undefined) return suggested ?? '';
    if (line === '-' && question.open) return '';
    const wrong = whatIsWrong(line, question.reads, styleOf(answers));
    if (wrong === undefined) return line;
    output.write(`  ${wrong}\n`);
  }
}

function whatIsWrong(text: string, reads: Reads, style: LengthStyle): string | undefined {
  const heard = hear({ kind: 'value', place: {}, value: text, text }, reads, style);
  return 'wrong' in heard ? heard.wrong : undefined;
}

export const styleOf = (answers: Answers): LengthStyle => (answers.get('units') === 'in' ? 'in' : 'mm');
