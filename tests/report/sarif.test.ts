import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import Ajv from 'ajv-draft-04';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { type ListedJob, type SarifSettings, sarif } from '../../src/report/sarif.ts';
import { factsFor, LEAF } from '../pairs.ts';
import { withMany } from './many.ts';

/** The published schema (OASIS, errata 01), kept beside the project as it is not ours to hand on. */
const SCHEMA = resolve(import.meta.dirname, '../../../shared/reference/sarif/sarif-schema-2.1.0.json');
const here = existsSync(SCHEMA);
if (!here) console.log('SARIF was not checked against its published schema: the schema is not here.');

const settings: SarifSettings = {
  status: 1,
  pathOf: (path) => `tea trays/${path}`,
  helpOf: (id) => ({ why: `Why ${id} matters.`, mend: `How ${id} is mended.` }),
};
const unread: ListedJob = { job: 'gone.yaml', faults: [{ message: 'There is no such file', place: {} }] };

function bench(job: Record<string, unknown> = {}) {
  const facts = factsFor({ pocket: LEAF, job });
  return { facts, checked: checkJob(facts, RULES) };
}

const good = bench();
const blind: ListedJob = { checked: bench({ 'bit.tip-flat': undefined }).checked };
const crowded: ListedJob = { checked: withMany(good.checked, good.facts, 60) };

interface Location {
  readonly physicalLocation: {
    readonly artifactLocation: { readonly uri: string };
    readonly region: { readonly startLine: number };
  };
  readonly logicalLocations?: readonly { readonly fullyQualifiedName: string }[];
}

interface Result {
  readonly ruleId: string;
  readonly ruleIndex: number;
  readonly kind: string;
  readonly level: string;
  readonly message: { readonly text: string };
  readonly locations: readonly Location[];
  readonly partialFingerprints: Readonly<Record<string, string>>;
}

interface Run {
  readonly tool: {
    readonly driver: { readonly rules: readonly { readonly id: string; readonly name: string }[] };
  };
  readonly results: readonly Result[];
  readonly invocations: readonly {
    readonly executionSuccessful: boolean;
    readonly toolConfigurationNotifications?: readonly unknown[];
  }[];
}

const runOf = (jobs: readonly ListedJob[]): Run =>
  (JSON.parse(sarif(jobs, settings)) as { runs: Run[] }).runs[0] as Run;
const prints = (run: Run): string[] =>
  run.results.map((one) => one.partialFingerprints['checkElementPlace/v1'] as string);

describe('SARIF', () => {
  it.skipIf(!here)('is valid by the published schema: clean, failing, blind, crowded, unread', () => {
    const ajv = new Ajv({ strict: false, allErrors: true });
    addFormats(ajv);
    const valid = ajv.compile(JSON.parse(readFileSync(SCHEMA, 'utf8')) as object);
    const cases: ListedJob[][] = [
      [good],
      [bench({ 'plug.start-depth': 0.5 })],
      [blind],
      [crowded, unread],
      [unread],
      [],
    ];
    for (const jobs of cases)
      expect(valid(JSON.parse(sarif(jobs, settings))), JSON.stringify(valid.errors)).toBe(true);
    expect(valid({ version: '2.1.0', runs: [{ results: null }] })).toBe(false);
  });

  // What the schema lets through and readers refuse: public issue threads, gathered with the reference notes.
  it('gives each result a file, a line, and a rule that is listed', () => {
    const run = runOf([crowded, blind]);
    expect(run.results.length).toBeGreaterThan(60);
    for (const { ruleId, ruleIndex, kind, level, locations, message } of run.results) {
      expect(run.tool.driver.rules[ruleIndex]?.id).toBe(ruleId);
      expect(kind).toBe('fail');
      expect(['error', 'warning']).toContain(level);
      expect(message.text.length).toBeGreaterThan(10);
      const place = locations[0]?.physicalLocation;
      expect(place?.region.startLine).toBeGreaterThanOrEqual(1);
      expect(place?.artifactLocation.uri).toMatch(/^tea%20trays\/[\w%.-]+$/);
    }
  });

  it('names the element and its line, as they stand in the drawing', () => {
    const facts = factsFor({ pocket: `<path d="M0 0"/>\n${LEAF}\n<path id="sliver" d="M5 5H40V5.02H5Z"/>` });
    const run = runOf([{ checked: checkJob(facts, RULES) }]);
    const found = run.results.find(
      (one) => one.locations[0]?.logicalLocations?.[0]?.fullyQualifiedName === '#sliver',
    );
    // Line 1 is the svg element, then the empty path, the leaf and the sliver.
    expect(found?.locations[0]?.physicalLocation.region.startLine).toBe(4);
    expect(found?.locations[0]?.physicalLocation.artifactLocation.uri).toBe('tea%20trays/pocket.svg');
  });

  it('keeps a finding the same when the drawing moves down some lines, and tells two apart', () => {
    const jobFor = (before: string) =>
      checkJob(factsFor({ pocket: `${before}${LEAF}<path id="s" d="M5 5H40V5.02H5Z"/>` }), RULES);
    const [first, second] = ['', '\n\n\n'].map((before) => prints(runOf([{ checked: jobFor(before) }])));
    expect(first?.length).toBeGreaterThan(0);
    expect(second).toEqual(first);
    const crowd = prints(runOf([crowded, crowded]));
    expect(new Set(crowd).size).toBe(crowd.length);
  });

  it('is silent about nothing: what could not be seen or read is in it', () => {
    expect(runOf([blind]).results.some((one) => one.message.text.includes('not seen'))).toBe(true);
    const run = runOf([unread]);
    expect(run.invocations[0]?.executionSuccessful).toBe(false);
    expect(run.invocations[0]?.toolConfigurationNotifications?.length).toBe(1);
    expect(runOf([good]).invocations[0]?.executionSuccessful).toBe(true);
  });

  it('gives equal bytes for equal input', () => {
    expect(sarif([crowded], settings)).toBe(sarif([crowded], settings));
  });
});
