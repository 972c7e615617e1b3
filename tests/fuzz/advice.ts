/** Whole runs of the choice of bit and depths and of the test fit explained, on small pairs that mostly fit. */
import { type Choice, choose, marginOf } from '../../src/advice/choose.ts';
import { chosenFile } from '../../src/advice/choose-file.ts';
import { why } from '../../src/advice/why.ts';
import { runJobFile } from '../../src/cli/run.ts';
import { readBits } from '../../src/job/bits.ts';
import { readSeen } from '../../src/job/seen.ts';
import { chooseText } from '../../src/report/choose.ts';
import { chooseJson } from '../../src/report/choose-json.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { whyText } from '../../src/report/why.ts';
import { whyJson } from '../../src/report/why-json.ts';
import { Bad, faultWord, finite, linesRead, pageReads } from './answers.ts';
import type { Chance } from './chance.ts';
import { bytesOf, type FuzzKind, textOf } from './kind.ts';
import { type Files, fairPairFiles, JOB, pairFiles, sourceOf } from './pairs.ts';
import { likelyBits, likelySeen } from './told.ts';

const BITS = 'mine.bits.yaml';
const SEEN = 'pair.seen.yaml';
/** The facts are wanted alone, as by the commands. */
const FACTS = { only: ['depth.mating'] };
const VIEW = { ink: PLAIN_INK, width: 80 };

export const choices: FuzzKind = {
  name: 'choice',
  seconds: 60,
  make: (chance) =>
    bytesOf(
      JSON.stringify({ ...pairOf(chance), ...(chance.oneIn(12) ? {} : { [BITS]: likelyBits(chance, 2) }) }),
    ),
  attempt: async (input) => answered(JSON.parse(textOf(input)) as Files, chosen),
};

export const whys: FuzzKind = {
  name: 'why',
  seconds: 30,
  make: (chance) => bytesOf(JSON.stringify({ ...pairOf(chance), [SEEN]: likelySeen(chance, 100) })),
  attempt: async (input) => answered(JSON.parse(textOf(input)) as Files, explained),
};

/** A pair that does not fit is told so at once and tries little. */
const pairOf = (chance: Chance): Files => (chance.oneIn(6) ? pairFiles(chance) : fairPairFiles(chance));

async function answered(files: Files, read: (files: Files, all: string) => Promise<string>): Promise<string> {
  const all = Object.values(files).join('\n');
  try {
    return await read(files, all);
  } catch (thrown) {
    return faultWord(thrown, all, undefined);
  }
}

async function chosen(files: Files, all: string): Promise<string> {
  const source = sourceOf(files);
  const list = files[BITS] === undefined ? undefined : readBits(files[BITS], BITS);
  const { facts } = await runJobFile(JOB, FACTS, source);
  const choice = choose(facts, list);
  linesRead(chooseText(choice, VIEW), all);
  const data = chooseJson(choice, undefined);
  JSON.parse(data);
  pageReads(data);
  return sound(choice, files[JOB] ?? '');
}

/** Nothing is proposed that does not hold, and what would be written says it. */
function sound(choice: Choice, jobText: string): string {
  const { facts, best, bits } = choice;
  for (const { ranges, proposal, missed } of bits) {
    if (ranges !== undefined)
      for (const [name, { least, most }] of Object.entries(ranges)) {
        finite([least, most], name);
        if (!(least >= 0 && most >= least)) throw new Bad(`${name} from ${least} to ${most}`);
      }
    if (proposal === undefined) {
      if (missed.length === 0) throw new Bad('nothing proposed, and nothing stands in the way');
      continue;
    }
    finite(proposal.depth, 'depth');
    const { held, checked } = proposal;
    if (Number.isNaN(marginOf(held))) throw new Bad('a margin that is none');
    if (checked.answer === 'fail') throw new Bad('what is proposed fails');
    if (checked.answer === 'pass' || checked.answer === 'care') {
      const file = chosenFile(facts, jobText, proposal.job);
      if (file.checked.answer !== checked.answer)
        throw new Bad(`written, it is ${file.checked.answer} in place of ${checked.answer}`);
    }
  }
  return best === undefined ? 'none' : `chosen, ${bits[best]?.proposal?.checked.answer}`;
}

async function explained(files: Files, all: string): Promise<string> {
  const seen = readSeen(files[SEEN] ?? '', SEEN);
  const { facts } = await runJobFile(JOB, FACTS, sourceOf(files));
  const answer = why(facts, seen);
  linesRead(whyText(answer, VIEW), all);
  const data = whyJson(answer);
  JSON.parse(data);
  pageReads(data);
  for (const { size, cost, misfit, worst, cause } of answer.causes)
    finite([size, cost, misfit, worst.off], cause.key);
  const explains = answer.causes.filter((one) => one.explains).length;
  if (answer.answer === 'one' && explains !== 1) throw new Bad(`one cause, and ${explains} explain it`);
  return answer.answer;
}
