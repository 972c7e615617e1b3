import type { Facts } from '../carve/facts.ts';
import type { CheckedJob } from '../engine/checked.ts';
import type { JudgedCheck, JudgedReading } from '../engine/judge.ts';
import type { Ink } from './colour.ts';
import { jobLines } from './head.ts';
import { columns, fitTo, padEnd, padStart, printable, wrap } from './layout.ts';
import { type Page, sectionLines, sectionOf } from './page.ts';
import { closestOf, figureWords, notPassing } from './sheet.ts';

/** One lesson: a design that fails one check, asked by the real check, so that the answer cannot drift from it. */
export interface Lesson {
  /** Counts from 1, and how many there are. */
  readonly number: number;
  readonly of: number;
  /** The check that this design is meant to fail. */
  readonly id: string;
  /** What happened in the shop, from the head of the job file. */
  readonly story: string;
  readonly checked: CheckedJob;
  readonly facts: Facts;
}

export const QUESTION =
  'One thing is wrong with this design. Which figure tells it, what would you see in the wood, and how would you mend it?';

const HAVE = 13;
const INDENT = '  ';

/** The design and the question: the drawings, the job and every figure as measured, but not what it should be. */
export function questionLines(lesson: Lesson, drawing: readonly string[], width: number, ink: Ink): string[] {
  const { checks } = lesson.checked;
  const name = Math.min(width - HAVE, Math.max(...checks.map((check) => columns(check.row))) + 2);
  const rows = checks.map(
    (check) => padEnd(fitTo(check.row, name), name) + padStart(haveOf(lesson, check), HAVE),
  );
  return [
    ink.strong(fitTo(`Lesson ${lesson.number} of ${lesson.of}   ${printable(lesson.checked.title)}`, width)),
    '',
    ...jobLines(lesson.facts).map((line) => fitTo(printable(line), width)),
    '',
    ...drawing,
    '',
    ink.faint(padEnd('as measured', name) + padStart('have', HAVE)),
    ...rows,
    '',
    ...wrap(QUESTION, width),
  ];
}

/** What one check measured, without what it should be; a dash where there is no figure. */
export function haveOf(lesson: Lesson, check: JudgedCheck): string {
  const reading = notPassing(check)[0] ?? closestOf(check);
  return reading === undefined ? '-' : figureWords(reading, lesson.facts.job.units).have;
}

/** One thing that is wrong, in words. */
export interface Finding {
  readonly check: JudgedCheck;
  readonly label: string;
  readonly have: string;
  readonly need: string;
  readonly room: string;
  readonly word: 'FAIL' | 'CLOSE';
  readonly says: string;
  readonly cure: string | undefined;
}

/** What the checks find in the design: the lesson's own check first, the worst reading of each. */
export function findings(lesson: Lesson): readonly Finding[] {
  return lesson.checked.checks
    .filter((check) => notPassing(check).length > 0)
    .sort((a, b) => Number(b.id === lesson.id) - Number(a.id === lesson.id))
    .map((check) => findingOf(lesson, check, notPassing(check)[0] as JudgedReading));
}

function findingOf(lesson: Lesson, check: JudgedCheck, reading: JudgedReading): Finding {
  return {
    check,
    label: reading.label ?? check.row,
    ...figureWords(reading, lesson.facts.job.units),
    word: reading.outcome === 'fail' ? 'FAIL' : 'CLOSE',
    says: reading.says,
    cure: reading.cure,
  };
}

/** The answer: how it happened, what is measured against what is wanted, and why it matters (from the check's page). */
export function answerLines(lesson: Lesson, page: Page, width: number, ink: Ink): string[] {
  const lines = [ink.strong('What is wrong'), ...indented(lesson.story, width)];
  for (const finding of findings(lesson)) {
    const { label, word, have, need, room, says, cure } = finding;
    const mark = word === 'FAIL' ? ink.bad(word) : ink.care(word);
    lines.push('', `${INDENT}${fitTo(printable(label), width - 10)}  ${mark}`);
    lines.push(`${INDENT}have ${have}   need ${need}   room ${room}`, ...indented(says, width));
    if (cure !== undefined) lines.push(...indented(`Mend: ${cure}`, width));
  }
  return [
    ...lines,
    '',
    ink.strong('Why wood cares'),
    ...sectionLines(sectionOf(page, 'Why wood cares'), width),
    '',
    ...wrap(`More, with a drawing: dryfit explain ${lesson.id}`, width),
  ];
}

function indented(text: string, width: number): string[] {
  return wrap(printable(text), width - INDENT.length).map((line) => INDENT + line);
}
