import type { Answer } from '../engine/reading.ts';
import type { Ink } from './colour.ts';
import { columns, fitTo, padEnd, printable } from './layout.ts';
import { ANSWER_WORDS, answerInk } from './sheet.ts';

/** One job of several; `unread` is a job that could not be read, so that nothing is known of it. */
export interface JobRow {
  readonly answer: Answer | 'unread';
  readonly title: string | undefined;
  readonly path: string;
}

const UNREAD = 'NOT READ';
const ANSWER_COLUMNS = Math.max(...Object.values(ANSWER_WORDS).map((words) => words.length)) + 2;
/** Longer titles are shortened; a path never is, for it is what is opened next. */
const MOST_TITLE_COLUMNS = 36;

/** A line a job: answer, title, path, in the order given. */
export function jobRows(rows: readonly JobRow[], ink: Ink): readonly string[] {
  const titles = rows.map(({ title }) => fitTo(printable(title ?? '-'), MOST_TITLE_COLUMNS));
  const longest = Math.max(0, ...titles.map(columns)) + 2;
  return rows.map(({ answer, path }, i) => {
    const words = answer === 'unread' ? UNREAD : ANSWER_WORDS[answer];
    const inked = answer === 'unread' ? ink.bad(words) : answerInk(answer, ink)(words);
    const gap = ' '.repeat(ANSWER_COLUMNS - words.length);
    return `${inked}${gap}${padEnd(titles[i] as string, longest)}${printable(path)}`;
  });
}
