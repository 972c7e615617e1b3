import type { CheckedJob } from '../engine/checked.ts';
import type { JudgedCheck, JudgedReading } from '../engine/judge.ts';
import type { Place } from '../engine/reading.ts';
import type { InputFault } from '../fault.ts';
import { notPassing } from './sheet.ts';
import { VERSION } from './version.ts';

/** A job that was asked, or one that could not be read. */
export type ListedJob =
  | { readonly checked: CheckedJob }
  | { readonly job: string; readonly faults: readonly Pick<InputFault, 'message' | 'place'>[] };

export interface SarifSettings {
  /** The exit status the run ends with. */
  readonly status: number;
  /** A path as seen from the folder of the run, with `/` between its parts. */
  readonly pathOf: (path: string) => string;
  /** How to mend what a check finds, and why it matters, in plain text. */
  readonly helpOf: (id: string) => { readonly why: string; readonly mend: string };
}

const SCHEMA = 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';
const BASE = 'SRCROOT';
const DECIMALS = 6;

/**
 * The readings that do not pass, and what could not be seen, of all jobs in the interchange format of code-scanning
 * tools (SARIF 2.1.0, OASIS). Places are the SVG's element with its line, or the job file. Equal input, equal bytes.
 */
export function sarif(jobs: readonly ListedJob[], settings: SarifSettings): string {
  const asked = jobs.flatMap((job) => ('checked' in job ? [job.checked] : []));
  const rules = rulesOf(asked, settings);
  const index = new Map(rules.map((rule, i) => [rule.id, i]));
  const seen = new Map<string, number>();
  const results = asked.flatMap((checked) => resultsOf(checked, index, seen, settings));
  const unread = jobs.flatMap((job) => ('faults' in job ? [job] : []));
  const run = {
    tool: { driver: { name: 'Dryfit', semanticVersion: VERSION, rules } },
    invocations: [
      {
        // It says that the program ran to its end, not that the job is good.
        executionSuccessful: unread.length === 0,
        exitCode: settings.status,
        ...(unread.length === 0
          ? {}
          : { toolConfigurationNotifications: unread.flatMap((job) => faultNotes(job, settings)) }),
      },
    ],
    originalUriBaseIds: { [BASE]: { description: { text: 'The folder the check was started in.' } } },
    columnKind: 'utf16CodeUnits',
    results,
  };
  return `${JSON.stringify({ version: '2.1.0', $schema: SCHEMA, runs: [run] }, null, 2)}\n`;
}

function rulesOf(asked: readonly CheckedJob[], { helpOf }: SarifSettings) {
  const checks = new Map<string, JudgedCheck>();
  for (const { checks: all } of asked)
    for (const check of all) if (!checks.has(check.id)) checks.set(check.id, check);
  return [...checks.values()].map(({ id, asks }) => {
    const { why, mend } = helpOf(id);
    return {
      id,
      name: id.replace(/(?:^|[.-])(\w)/g, (_, first: string) => first.toUpperCase()),
      shortDescription: { text: asks },
      fullDescription: { text: why },
      help: { text: mend },
      defaultConfiguration: { level: 'error' },
    };
  });
}

function resultsOf(
  checked: CheckedJob,
  index: ReadonlyMap<string, number>,
  seen: Map<string, number>,
  settings: SarifSettings,
): unknown[] {
  return checked.checks.flatMap((check) => {
    const rule = { ruleId: check.id, ruleIndex: index.get(check.id) as number };
    const marked = (place: Place) => ({
      locations: [locationOf(place, checked.job, settings)],
      ...relatedJob(place, checked.job, settings),
      partialFingerprints: {
        'checkElementPlace/v1': fingerprint(check.id, place, checked.job, seen, settings),
      },
    });
    const read = notPassing(check).map((reading) => ({
      ...rule,
      kind: 'fail',
      level: reading.outcome === 'fail' ? 'error' : 'warning',
      message: { text: messageOf(reading, check) },
      ...marked(reading.place),
      properties: propertiesOf(reading),
    }));
    // Viewers hide results of the kind "open"; what could not be seen must not look like a pass.
    const unseen = check.untold.map((missing) => ({
      ...rule,
      kind: 'fail',
      level: check.essential ? 'error' : 'warning',
      message: { text: `${check.row}: not seen. ${missing}` },
      ...marked({ part: 'job' }),
      properties: { outcome: 'untold' },
    }));
    return [...read, ...unseen];
  });
}

function messageOf({ label, says, cure }: JudgedReading, check: JudgedCheck): string {
  return `${label ?? check.row}: ${says}${cure === undefined ? '' : ` Mend: ${cure}`}`;
}

/** The drawing or job file with its line; a place without a file is the job's. Viewers refuse results without one. */
function locationOf(place: Place, job: string, settings: SarifSettings) {
  const startLine = Math.max(1, place.line ?? 1);
  const region =
    place.column === undefined || place.line === undefined
      ? { startLine }
      : { startLine, startColumn: Math.max(1, place.column) };
  return {
    physicalLocation: { artifactLocation: artifact(place.file ?? job, settings), region },
    ...(place.element === undefined
      ? {}
      : {
          logicalLocations: [{ name: place.element, fullyQualifiedName: place.element, kind: 'element' }],
        }),
  };
}

/** A reading in a drawing names the job too, as the same drawing may serve several. */
function relatedJob(place: Place, job: string, settings: SarifSettings) {
  if (place.file === undefined || place.file === job) return {};
  const physicalLocation = { artifactLocation: artifact(job, settings), region: { startLine: 1 } };
  return { relatedLocations: [{ id: 0, message: { text: 'the job' }, physicalLocation }] };
}

function artifact(path: string, { pathOf }: SarifSettings) {
  const parts = pathOf(path).split('/');
  return { uri: parts.map(encodeURIComponent).join('/'), uriBaseId: BASE };
}

/**
 * The same finding after a small edit: check, job, element and the place to a millimetre, but no line and no figure.
 * Further ones at the same place are numbered.
 */
function fingerprint(
  id: string,
  place: Place,
  job: string,
  seen: Map<string, number>,
  { pathOf }: SarifSettings,
): string {
  const at = place.at === undefined ? '' : `${Math.round(place.at[0])},${Math.round(place.at[1])}`;
  const mark = [pathOf(job), id, place.part, place.element ?? '', at].join('|');
  const count = (seen.get(mark) ?? 0) + 1;
  seen.set(mark, count);
  return count === 1 ? mark : `${mark}|${count}`;
}

function propertiesOf({ measured, want, room, outcome, place }: JudgedReading) {
  return {
    outcome,
    part: place.part,
    measured: rounded(measured.value),
    unit: measured.unit,
    ...given('atLeast', want.atLeast),
    ...given('atMost', want.atMost),
    ...given('room', room),
    ...given('xMm', place.at?.[0]),
    ...given('yMm', place.at?.[1]),
  };
}

const given = (name: string, value: number | undefined) =>
  value === undefined ? {} : { [name]: rounded(value) };

function rounded(value: number): number | null {
  if (!Number.isFinite(value)) return null;
  return Math.round(value * 10 ** DECIMALS) / 10 ** DECIMALS + 0;
}

function faultNotes({ job, faults }: Extract<ListedJob, { faults: unknown }>, settings: SarifSettings) {
  return faults.map(({ message, place }) => {
    const { file, line, column, element } = place;
    const where: Place = { part: 'job', file: file ?? job, line, column, element };
    return { level: 'error', message: { text: message }, locations: [locationOf(where, job, settings)] };
  });
}
