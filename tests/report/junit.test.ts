import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { checkJob } from '../../src/engine/checked.ts';
import { junit } from '../../src/report/junit.ts';
import type { ListedJob } from '../../src/report/sarif.ts';
import { factsFor, LEAF } from '../pairs.ts';
import { withMany } from './many.ts';

interface Tag {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly within: string;
}

/** Every tag, read by an XML parser that refuses what is not well formed. */
function tagsOf(xml: string): Tag[] {
  const tags: Tag[] = [];
  const open: string[] = [];
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', ({ name, attributes }) => {
    tags.push({ name, attributes: attributes as Record<string, string>, within: open.at(-1) ?? '' });
    open.push(name);
  });
  parser.on('closetag', () => open.pop());
  parser.write(xml).close();
  return tags;
}

/** Attributes that the schema of a large build server takes (junit-10.xsd), the required ones first. */
const TAKEN: Readonly<Record<string, readonly string[]>> = {
  testsuites: ['name', 'tests', 'failures', 'errors'],
  testsuite: ['name', 'tests', 'failures', 'errors', 'skipped'],
  testcase: ['name', 'classname'],
  failure: ['type', 'message'],
  error: ['type', 'message'],
  skipped: ['message'],
  'system-out': [],
};

const jobOf = (job: Record<string, unknown> = {}, many = 0): ListedJob => {
  const facts = factsFor({ pocket: LEAF, job });
  const checked = checkJob(facts, RULES);
  return { checked: many > 0 ? withMany(checked, facts, many) : checked };
};
const nasty: ListedJob = {
  job: 'a & b <c>.yaml',
  faults: [{ message: 'bell \u0007, escape \u001b[31m, half \ud800, end ]]> "quoted"', place: {} }],
};

describe('JUnit XML', () => {
  const cases: readonly (readonly ListedJob[])[] = [
    [jobOf()],
    [jobOf({}, 60), nasty],
    [jobOf({ 'bit.tip-flat': undefined })],
  ];

  it('is well formed, with the tags and attributes that readers take, and counts that are right', () => {
    for (const jobs of cases) {
      const tags = tagsOf(junit(jobs, false));
      expect(tags[0]?.name).toBe('testsuites');
      for (const { name, attributes } of tags) {
        expect(Object.keys(TAKEN)).toContain(name);
        expect(TAKEN[name]).toEqual(expect.arrayContaining(Object.keys(attributes)));
        if (name === 'failure' || name === 'error')
          expect(Object.keys(attributes).sort()).toEqual(['message', 'type']);
      }
      const count = (name: string) => String(tags.filter((tag) => tag.name === name).length);
      expect(tags[0]?.attributes).toMatchObject({
        tests: count('testcase'),
        failures: count('failure'),
        errors: count('error'),
      });
      expect(tags.filter((tag) => tag.name === 'testsuite').length).toBe(jobs.length);
    }
  });

  it('drops what XML cannot hold and keeps the rest', () => {
    const xml = junit([nasty], false);
    expect(xml).toContain('bell , escape [31m, half , end ]]&gt; &quot;quoted&quot;');
  });

  it('counts what could not be seen as an error, and what is close only when told to', () => {
    const blind = tagsOf(junit([jobOf({ 'bit.tip-flat': undefined })], false));
    expect(blind.some((tag) => tag.name === 'error' && tag.within === 'testcase')).toBe(true);
    const close = [jobOf({ 'plug.start-depth': 2.4 })];
    const counted = (careFails: boolean) =>
      tagsOf(junit(close, careFails)).filter((tag) => tag.name === 'failure').length;
    expect(counted(true)).toBeGreaterThan(counted(false));
  });
});
