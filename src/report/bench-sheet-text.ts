import type { BenchSheet, Cell, Figure, Note, SetupRow, Step } from '../advice/bench-sheet.ts';
import type { LengthStyle } from '../units.ts';
import {
  AMISS_WORDS,
  alike,
  amissTold,
  BENCH_SENTENCES,
  groundLetters,
  rangeText,
  toldText,
} from './bench-sheet-words.ts';
import type { Ink } from './colour.ts';
import { columns, padEnd, padStart, printable, wrap } from './layout.ts';
import { ANSWER_WORDS, answerInk } from './sheet.ts';

const NAME = 'BENCH SHEET  ';
/** The name of a row of the table, and what stands right of it. */
const ROW = 15;
/** Where a step's text begins, right of its box and number. */
const INDENT = 7;

interface Look {
  readonly width: number;
  readonly ink: Ink;
  readonly style: LengthStyle;
  readonly letters: ReadonlyMap<string, string>;
}

/** The bench sheet as text of `width` columns, to be printed or read at the machine. Ends with a newline. */
export function benchSheetText(sheet: BenchSheet, width: number, ink: Ink): string {
  const look: Look = { width: Math.max(60, width), ink, style: sheet.units, letters: groundLetters(sheet) };
  const lines = [
    ...heading(sheet, look),
    '',
    ...table(sheet.setup, look),
    '',
    ink.strong('ORDER OF WORK, and what to measure: should be (range), then a line for what is'),
    ...sheet.steps.flatMap((step, n) => stepLines(step, n + 1, look)),
    '',
    ink.strong('CAUTIONS'),
    ...sheet.cautions.flatMap((note) => noteLines(note, '- ', look)),
    '',
    ...noteLines(sheet.ranges, '', look),
    ...grounds(look),
  ];
  return `${lines.map((line) => line.trimEnd()).join('\n')}\n`;
}

function heading(sheet: BenchSheet, { width, ink }: Look): string[] {
  const words = ANSWER_WORDS[sheet.answer];
  const room = width - columns(words);
  const [title = '', ...more] = wrap(printable(sheet.title), room - NAME.length - 2);
  const { rows, more: rest } = amissTold(sheet);
  return [
    ink.strong(padEnd(NAME + title, room)) + answerInk(sheet.answer, ink)(words),
    ...more.map((line) => ink.strong(' '.repeat(NAME.length) + line)),
    ...wrap(printable(sheet.job), width).map((line) => ink.faint(line)),
    ...wrap(BENCH_SENTENCES[sheet.answer], width),
    ...rows.flatMap(({ row, outcome, says }) =>
      hung('  ', printable(`${AMISS_WORDS[outcome]}  ${row}: ${says}`), width),
    ),
    ...(rest === undefined ? [] : [`  ${rest}`]),
  ];
}

/** Two columns of cells; one that holds for both pieces goes across. */
function table(rows: readonly SetupRow[], look: Look): string[] {
  const { width, ink, style } = look;
  const half = Math.floor((width - ROW - 4) / 2);
  const side = (text: string): string => padEnd(text, half + 2);
  const lines = [
    ink.strong(`${padEnd('NUMBERS TO SET', ROW + 2)}${side('POCKET, in the board')}PLUG, on the plug stock`),
  ];
  for (const { name, pocket, plug } of rows) {
    const names = wrap(name, ROW);
    const both = alike(pocket, plug, style);
    const left = wrap(cellText(pocket, look), both ? width - ROW - 2 : half);
    const right = both ? [] : wrap(cellText(plug, look), half);
    for (let k = 0; k < Math.max(names.length, left.length, right.length); k++)
      lines.push(`${padEnd(names[k] ?? '', ROW + 2)}${side(left[k] ?? '')}${right[k] ?? ''}`);
  }
  return lines;
}

function cellText(cell: Cell, { style, letters }: Look): string {
  return printable(toldText(cell, style)) + mark(cell.ground, letters);
}

const mark = (ground: string | undefined, letters: Look['letters']): string =>
  ground === undefined ? '' : ` [${letters.get(ground)}]`;

function stepLines({ part, does, figures, notes }: Step, number: number, look: Look): string[] {
  const lead = `[ ] ${padStart(String(number), 2)} `;
  const named = part === 'pocket' || part === 'plug' ? `${part.toUpperCase()}. ` : '';
  return [
    ...hung(lead, `${named}${does}`, look.width),
    ...figures.flatMap((figure) => figureLines(figure, look)),
    ...notes.flatMap((note) => noteLines(note, ' '.repeat(INDENT), look)),
  ];
}

/** Name, what it should be, its range, and a line to write on. */
function figureLines(figure: Figure, look: Look): string[] {
  const { width, style, letters } = look;
  const range = rangeText(figure, style);
  const should = `${printable(toldText(figure, style))}${range === '' ? '' : ` (${range})`}${mark(figure.ground, letters)}`;
  const name = ' '.repeat(INDENT) + figure.name;
  const blank = range === '' || part(figure) ? '' : ' ______';
  const room = width - columns(name) - columns(should) - columns(blank) - 1;
  if (room >= 0)
    return [`${name} ${'.'.repeat(Math.max(0, room - 1))}${room > 0 ? ' ' : ''}${should}${blank}`];
  return hung(' '.repeat(INDENT), `${figure.name}: ${should}${blank}`, width);
}

/** A force is read off no gauge that a shop has. */
const part = (figure: Figure): boolean => 'value' in figure && figure.value.unit === 'N';

function noteLines({ says, ground }: Note, lead: string, { width, letters }: Look): string[] {
  return hung(lead, printable(says) + mark(ground, letters), width);
}

function grounds({ width, letters }: Look): string[] {
  return [
    'Grounds:',
    ...[...letters].flatMap(([ground, letter]) => hung(`${padEnd(letter, 2)} `, printable(ground), width)),
  ];
}

/** Text after a lead; what goes on below stands under where it began. */
function hung(lead: string, text: string, width: number): string[] {
  return wrap(text, width - lead.length).map((line, k) => (k === 0 ? lead : ' '.repeat(lead.length)) + line);
}
