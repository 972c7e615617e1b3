/** What a second cut's plan says, where a maker asks for more than is needed. */
import { beforeAll, describe, expect, it } from 'vitest';
import { loadClipper } from '../../src/geometry/combine.ts';
import { PLAIN_INK } from '../../src/report/colour.ts';
import { recutText } from '../../src/report/recut.ts';
import { recutOf } from '../advice/recut-jobs.ts';

beforeAll(() => loadClipper(), 60_000);

/** A horseshoe with 12 mm of land between its legs. */
const HORSESHOE = [
  [
    [0, 0],
    [10, 0],
    [10, 40],
    [22, 40],
    [22, 0],
    [32, 0],
    [32, 50],
    [0, 50],
  ],
] as const;
const SEEN = { glue: '0.1', 'setup-shift': '0.1', 'setup-turn': '0', 'setup-zero': '0.05' };
const said = (more: object): string =>
  recutText(recutOf({ outline: HORSESHOE, seen: { ...SEEN, ...more } }), {
    ink: PLAIN_INK,
    width: 80,
  }).replace(/\s+/g, ' ');

describe('a second cut that closes the land', () => {
  it('is told as what was asked for, with the least beside it, when it was asked for', () => {
    const text = said({ growth: '7' });
    expect(text).toMatch(
      /with the growth of 7\.00 mm that you asked for \(the least is 0\.\d+ mm\) land between/,
    );
    expect(text).not.toContain('must grow');
  });

  it('is told as needed when it is', () => {
    expect(said({ damage: '7' })).toMatch(/the outline must grow by \d\.\d+ mm, and then land between/);
  });
});
