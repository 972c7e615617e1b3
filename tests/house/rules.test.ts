import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.ts';
import { LIMIT_NAMES } from '../../src/job/limits.ts';

const root = resolve(import.meta.dirname, '../..');

function textBelow(folder: string): string {
  return readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => readFileSync(join(root, folder, name), 'utf8'))
    .join('\n');
}

const tests = textBelow('tests/rules');
const sources = `${textBelow('rules')}\n${textBelow('src/carve')}`;
/** `depth.plug-stock` is exported as `depthPlugStock`. */
const exported = (id: string) => id.replace(/[.-](\w)/g, (_, letter: string) => letter.toUpperCase());

describe('every check', () => {
  it.each(RULES.map((rule) => [rule.id, rule] as const))(
    '%s has a file, a page, a sample and a test',
    (id, rule) => {
      const [subject, aspect] = id.split('.');
      for (const kind of ['ts', 'md'])
        expect(existsSync(join(root, 'rules', subject!, `${aspect}.${kind}`)), kind).toBe(true);
      expect(existsSync(join(root, 'samples', id, `${id}.dryfit.yaml`))).toBe(true);
      expect(tests).toMatch(new RegExp(`\\b${exported(id)}\\b`));
      expect(rule.asks.endsWith('?')).toBe(true);
    },
  );

  it('has an id of its own', () => {
    expect(new Set(RULES.map((rule) => rule.id)).size).toBe(RULES.length);
  });
});

describe('every limit', () => {
  it.each(LIMIT_NAMES)('%s is read by something that measures', (name) => {
    expect(sources).toContain(`'${name}'`);
  });

  it('is listed by at least one check, so that its page prints it with its ground', () => {
    const listed = new Set(RULES.flatMap((rule) => rule.limits));
    expect(LIMIT_NAMES.filter((name) => !listed.has(name))).toEqual([]);
  });
});
