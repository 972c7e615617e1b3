/** Bench sheets and second cuts of small pairs, with what went wrong told in a file and by flags. */
import { benchSheet } from '../../src/advice/bench-sheet.ts';
import { recut } from '../../src/advice/recut.ts';
import { readSeen } from '../../src/advice/recut-seen.ts';
import { runJobFile } from '../../src/cli/run.ts';
import { readDocument } from '../../src/job/document.ts';
import { benchSheetHtml } from '../../src/report/bench-sheet-html.ts';
import { benchSheetJson } from '../../src/report/bench-sheet-json.ts';
import { benchSheetText } from '../../src/report/bench-sheet-text.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { recutText } from '../../src/report/recut.ts';
import { recutJson } from '../../src/report/recut-json.ts';
import { recutPlan } from '../../src/report/recut-plan.ts';
import { faultWord, linesRead, pageReads } from './answers.ts';
import { bytesOf, type FuzzKind, textOf } from './kind.ts';
import { type Files, JOB, pairFiles, sourceOf } from './pairs.ts';
import { hurtEntries } from './told.ts';

interface Asked {
  readonly files: Files;
  /** Text of the file that says what went wrong. */
  readonly seen: string | undefined;
  readonly flags: Readonly<Record<string, string>>;
}

const SEEN = 'first.recut.yaml';

export const seconds: FuzzKind = {
  name: 'second',
  make: (chance) => {
    const seen = chance.oneIn(2)
      ? undefined
      : hurtEntries(chance).map(([key, value]) => `${key}: ${value}\n`);
    const asked: Asked = {
      files: pairFiles(chance),
      seen: seen?.join(''),
      flags: Object.fromEntries(seen === undefined || chance.oneIn(3) ? hurtEntries(chance) : []),
    };
    return bytesOf(JSON.stringify(asked));
  },
  attempt: async (input) => planned(JSON.parse(textOf(input)) as Asked),
};

async function planned({ files, seen, flags }: Asked): Promise<string> {
  const all = [...Object.values(files), seen, ...Object.values(flags)].join('\n');
  try {
    const source = sourceOf(files);
    const { checked, facts } = await runJobFile(JOB, {}, source);
    const bench = benchSheet(checked, facts);
    linesRead(benchSheetText(bench, 80, PLAIN_INK), all);
    JSON.parse(benchSheetJson(bench));
    pageReads(benchSheetHtml(bench));
    const file = seen === undefined ? undefined : { path: SEEN, text: seen };
    const read = readSeen(file, flags, facts.job);
    const root = readDocument(source.text(JOB, 'a job'), JOB);
    const keepOuts = facts.job.keepOut.map(() => undefined);
    const plan = recut({ facts, root, keepOuts, seen: read, folder: 'new' });
    linesRead(recutText(plan, { ink: PLAIN_INK, width: 80 }), all);
    JSON.parse(recutJson(plan, []));
    pageReads(recutPlan(plan));
    return plan.answer;
  } catch (thrown) {
    return faultWord(thrown, all, undefined);
  }
}
