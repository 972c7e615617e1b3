import { benchSheet } from '../advice/bench-sheet.ts';
import { benchSheetHtml } from '../report/bench-sheet-html.ts';
import { benchSheetJson } from '../report/bench-sheet-json.ts';
import { benchSheetText } from '../report/bench-sheet-text.ts';
import { worstOf } from './check.ts';
import { BENCH_FORMATS, formatFor } from './exit.ts';
import { writeReport } from './files.ts';
import { runJobFile } from './run.ts';
import { say } from './say.ts';
import { screen } from './terminal.ts';

export interface BenchSettings {
  /** Unless given, what the output's ending says. */
  readonly format?: (typeof BENCH_FORMATS)[number] | undefined;
  readonly output?: string | undefined;
}

/** Widest text that is still easy to follow. */
const WIDEST = 100;

/**
 * Writes the bench sheet of one job. The exit status is that of its check: a sheet for a job that fails is printed,
 * and still nobody takes it for a pass.
 */
export async function benchSheetOf(path: string, { format: given, output }: BenchSettings): Promise<number> {
  const format = formatFor(BENCH_FORMATS, given, output);
  const { checked, facts } = await runJobFile(path);
  const sheet = benchSheet(checked, facts);
  const { ink, width } = screen(WIDEST, output === undefined);
  const text =
    format === 'json'
      ? benchSheetJson(sheet)
      : format === 'html'
        ? benchSheetHtml(sheet)
        : benchSheetText(sheet, width, ink);
  if (output === undefined) process.stdout.write(text);
  else {
    writeReport(output, text);
    say(`Bench sheet written to ${output}`);
  }
  return worstOf([{ job: path, checked, text }], false);
}
