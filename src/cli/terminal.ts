import { type Ink, PLAIN_INK, terminalInk } from '../report/colour.ts';

/** Columns of a file or a pipe, and the fewest a page is laid out for. */
const USUAL_COLUMNS = 80;
const FEWEST_COLUMNS = 60;

export interface Screen {
  readonly ink: Ink;
  readonly width: number;
}

/** Where a text goes, and whether it may be in colour there. */
export interface Goal extends Screen {
  readonly terminal: boolean;
  readonly colour: boolean;
}

/**
 * How a text may be written: in colour and to its own width on a terminal, plainly elsewhere. `shown`: it goes to
 * standard output and not to a file.
 */
export function screen(widest = USUAL_COLUMNS, shown = true): Goal {
  const terminal = shown && process.stdout.isTTY === true;
  const colour = terminal && !process.env['NO_COLOR'] && process.env['TERM'] !== 'dumb';
  const columns = terminal ? (process.stdout.columns ?? USUAL_COLUMNS) : USUAL_COLUMNS;
  return {
    terminal,
    colour,
    ink: colour ? terminalInk() : PLAIN_INK,
    width: Math.max(FEWEST_COLUMNS, Math.min(columns, widest)),
  };
}

/** Whether the terminal is likely to show braille dots: its text is UTF-8. Files and pipes are taken to be. */
export function showsBraille(): boolean {
  const locale = process.env['LC_ALL'] || process.env['LC_CTYPE'] || process.env['LANG'];
  return locale === undefined || /utf-?8/i.test(locale);
}
