import { existsSync } from 'node:fs';
import { type Choice, choose } from '../advice/choose.ts';
import { type ChosenFile, chosenFile, chosenPath } from '../advice/choose-file.ts';
import { InputFault } from '../fault.ts';
import { readBits } from '../job/bits.ts';
import { chooseText } from '../report/choose.ts';
import { chooseJson } from '../report/choose-json.ts';
import { EXIT } from './exit.ts';
import { readText } from './files.ts';
import { writeAll } from './new-files.ts';
import { runJobFile } from './run.ts';
import { say } from './say.ts';
import { screen } from './terminal.ts';

export interface ChooseSettings {
  readonly format: 'text' | 'json';
  /** A file with the bits there are. */
  readonly bits?: string | undefined;
  /** Write the choice as a job file beside the old one. */
  readonly write?: boolean | undefined;
}

/**
 * Chooses bit and depths for one job. With `write` the choice becomes a job file of its own, if it passes; nothing is
 * ever overwritten. Returns the exit status.
 */
export async function chooseFor(path: string, { format, bits, write }: ChooseSettings): Promise<number> {
  const list = bits === undefined ? undefined : readBits(readText(bits, 'a list of bits'), bits);
  if (write === true && existsSync(chosenPath(path))) throw isThere(chosenPath(path));
  // The facts are what is wanted; all checks are asked later, of the job and of every proposal.
  const { facts } = await runJobFile(path, { only: ['depth.mating'] });
  const choice = choose(facts, list, toldOnTerminal());
  const file = write === true ? fileOf(choice, path) : undefined;
  if (file !== undefined) {
    if (existsSync(file.path)) throw isThere(file.path);
    writeAll([file], false);
  }
  process.stdout.write(format === 'json' ? chooseJson(choice, file?.path) : chooseText(choice, screen()));
  if (file !== undefined) say(`Written, read again and checked: ${file.path}`);
  else if (write === true) say('No new job was written.');
  return exitOf(choice);
}

function fileOf(choice: Choice, path: string): ChosenFile | undefined {
  const proposal = choice.best === undefined ? undefined : choice.bits[choice.best]?.proposal;
  const answer = proposal?.checked.answer;
  if (proposal === undefined || (answer !== 'pass' && answer !== 'care')) return undefined;
  const file = chosenFile(choice.facts, readText(path, 'a job file (NAME.dryfit.yaml)'), proposal.job);
  if (file.checked.answer !== answer) throw new Error('The new job file has another answer than the choice.');
  return file;
}

function exitOf({ best, bits }: Choice): number {
  if (best === undefined) return EXIT.fail;
  return bits[best]?.proposal?.checked.answer === 'unknown' ? EXIT.unknown : EXIT.good;
}

/** How far it has come, on one line that is wiped at the end: only to a terminal. */
function toldOnTerminal(): (done: number, of: number) => void {
  const to = process.stderr;
  if (to.isTTY !== true) return () => {};
  return (done, of) => {
    const text = `${done} of ${of} bits looked at`;
    to.write(done < of ? `\r${text}` : `\r${' '.repeat(text.length)}\r`);
  };
}

const isThere = (file: string): InputFault =>
  new InputFault('This is there already and is not overwritten; give it another name first.', { file });
