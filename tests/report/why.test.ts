/** What a test fit's answer says, read as a maker reads it. */
import { beforeAll, describe, expect, it } from 'vitest';
import { type Weighed, type Why, why } from '../../src/advice/why.ts';
import type { Facts } from '../../src/carve/facts.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { readSeen } from '../../src/job/seen.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { whyText } from '../../src/report/why.ts';
import { factsOfDesign } from '../advice/recut-jobs.ts';

const BAR = [
  [
    [0, 0],
    [60, 0],
    [60, 12],
    [0, 12],
  ],
] as const;

let facts: Facts;
beforeAll(async () => {
  await loadClipper();
  facts = factsOfDesign({ outline: BAR, mating: 4, flat: 6.5, seen: {} });
}, 60_000);

const weighed = (text: string): Why => why(facts, readSeen(`units: mm\n${text}\n`, 'bar.seen.yaml'));

function shown(answer: Why): string {
  const text = whyText(answer, { ink: PLAIN_INK, width: 80 });
  for (const line of text.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
  return text;
}

describe('what is told of a test fit', () => {
  it('names no cause of no size as one that comes near', () => {
    const text = shown(weighed('angle: 60'));
    expect(text).toContain('NONE OF THESE');
    expect(text).toContain('(1)  Bit blunter than the job says');
    expect(text).not.toContain('(2)');
    expect(text).not.toContain('0.000 mm');
  }, 120_000);

  it('gathers the causes that nothing tells apart, so that every such pair is named and no other', () => {
    const found = weighed('proud: [{ at: middle, by: 0.3 }]');
    expect(found.causes.length).toBeGreaterThan(4);
    const wantedPairs = [
      [0, 1],
      [0, 2],
      [1, 2],
      [1, 3],
      [3, 4],
    ] as const;
    const alike = wantedPairs.map(
      ([a, b]) => [found.causes[a] as Weighed, found.causes[b] as Weighed] as const,
    );
    const answer = { ...found, alike };
    expect(shown(answer).replace(/\s+/g, ' ')).toContain(
      'tells apart (1), (2) and (3); (2) and (4); (4) and (5).',
    );
    const [, told = ''] = /tells apart ([^.]+)\./.exec(shown(answer).replace(/\s+/g, ' ')) ?? [];
    const pairs = told.split('; ').flatMap((group) => {
      const numbers = [...group.matchAll(/\((\d+)\)/g)].map(([, number]) => Number(number));
      expect(numbers.length).toBeGreaterThan(1);
      return numbers.flatMap((a, k) => numbers.slice(k + 1).map((b) => `${a} ${b}`));
    });
    const wanted = answer.alike.map(([a, b]) =>
      [a, b].map((one) => answer.causes.indexOf(one) + 1).join(' '),
    );
    expect([...new Set(pairs)].sort()).toEqual([...new Set(wanted)].sort());
  }, 120_000);
});
