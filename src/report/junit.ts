import type { JudgedCheck } from '../engine/judge.ts';
import { escaped } from './html-text.ts';
import type { ListedJob } from './sarif.ts';
import { figureWords, notPassing, placeText } from './sheet.ts';

/** One case of a suite, counted by what it came to. */
interface Case {
  readonly came: 'passed' | 'failure' | 'error' | 'skipped';
  readonly xml: string;
}

/**
 * The checks as test cases, for servers that show JUnit XML: a suite a job, a case a check. A check that could not
 * see is an error, one without business here is skipped; what is close passes, with its text, unless `careFails`.
 */
export function junit(jobs: readonly ListedJob[], careFails: boolean): string {
  const suites = jobs.map((job) =>
    'checked' in job
      ? suite(
          job.checked.job,
          job.checked.checks.map((check) => caseOf(check, careFails)),
        )
      : suite(job.job, [unreadCase(job)]),
  );
  const cases = suites.flatMap((one) => one.cases);
  return `<?xml version="1.0" encoding="UTF-8"?>
<testsuites name="dryfit" ${counts(cases, false)}>
${suites.map(({ xml }) => xml).join('\n')}
</testsuites>
`;
}

function suite(
  name: string,
  cases: readonly Case[],
): { readonly cases: readonly Case[]; readonly xml: string } {
  // A suite without cases is called invalid by some readers.
  const filled = cases.length > 0 ? cases : [skippedCase('dryfit', 'checks', 'No check was asked.')];
  const lines = filled.map(({ xml }) => `    ${xml}`).join('\n');
  return {
    cases: filled,
    xml: `  <testsuite name="${text(name)}" ${counts(filled, true)}>\n${lines}\n  </testsuite>`,
  };
}

function counts(cases: readonly Case[], skipped: boolean): string {
  const of = (came: Case['came']): number => cases.filter((one) => one.came === came).length;
  const numbers = `tests="${cases.length}" failures="${of('failure')}" errors="${of('error')}"`;
  return skipped ? `${numbers} skipped="${of('skipped')}"` : numbers;
}

function caseOf(check: JudgedCheck, careFails: boolean): Case {
  const bad = notPassing(check).filter(({ outcome }) => outcome === 'fail' || careFails);
  const open = `<testcase classname="dryfit.${text(check.id)}" name="${text(check.asks)}"`;
  if (bad.length > 0) return ended('failure', open, check.id, bad[0]!.says, rowsOf(check));
  if (check.untold.length > 0)
    return ended('error', open, 'not seen', check.untold[0]!, check.untold.join('\n'));
  if (check.outcome === 'moot') return skippedCase(`dryfit.${check.id}`, check.asks, check.moot[0] ?? '');
  const close = notPassing(check).length > 0 ? `<system-out>${text(rowsOf(check))}</system-out>` : '';
  const xml = close === '' ? `${open}/>` : `${open}>${close}</testcase>`;
  return { came: 'passed', xml };
}

/** Many readers show only the first of several failures, so all readings of a check stand in one. */
function rowsOf(check: JudgedCheck): string {
  return notPassing(check)
    .map((reading) => {
      const { have, need } = figureWords(reading, 'mm');
      const where = placeText(reading.place, 'mm');
      const word = reading.outcome === 'fail' ? 'FAIL' : 'CLOSE';
      const cure = reading.cure === undefined ? '' : `\nMend: ${reading.cure}`;
      return `${word} ${reading.label ?? check.row}: have ${have}, need ${need}${where === '' ? '' : `, ${where}`}\n${reading.says}${cure}`;
    })
    .join('\n\n');
}

function unreadCase({ job, faults }: Extract<ListedJob, { faults: unknown }>): Case {
  const open = `<testcase classname="dryfit.read" name="${text(`${job} can be read`)}"`;
  const rows = faults.map(({ message, place }) =>
    [place.file, place.line, message].filter((w) => w !== undefined).join(': '),
  );
  return ended('error', open, 'not read', faults[0]?.message ?? '', rows.join('\n'));
}

function ended(came: 'failure' | 'error', open: string, type: string, message: string, body: string): Case {
  const xml = `${open}><${came} type="${text(type)}" message="${text(message)}">${text(body)}</${came}></testcase>`;
  return { came, xml };
}

function skippedCase(classname: string, name: string, why: string): Case {
  const xml = `<testcase classname="${text(classname)}" name="${text(name)}"><skipped message="${text(why)}"/></testcase>`;
  return { came: 'skipped', xml };
}

/** Characters that XML 1.0 cannot hold are dropped: one of them would lose the whole report. */
function text(written: string): string {
  const kept = [...written].filter((character) => {
    const code = character.codePointAt(0) as number;
    if (code < 0x20) return code === 0x9 || code === 0xa || code === 0xd;
    return !(code >= 0xd800 && code <= 0xdfff) && code !== 0xfffe && code !== 0xffff;
  });
  return escaped(kept.join('')).replaceAll('\n', '&#10;').replaceAll('\r', '&#13;');
}
