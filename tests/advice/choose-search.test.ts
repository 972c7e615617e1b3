/** The search for depths on limits given by formulas, so that the widest margin is known. */
import { expect, it } from 'vitest';
import type { Held, Kind } from '../../src/advice/choose-held.ts';
import { widest } from '../../src/advice/choose-search.ts';
import type { Depth, Space } from '../../src/advice/choose-space.ts';

/** Least depths 2, 0.5 and 1.7 mm; a seat whose line is kept as `seat` says, and wood that is kept less with depth. */
function spaceWith(seat: (mating: number) => number, wood: (mating: number) => number, least = 0): Space {
  const one = (id: string, times: number): Held =>
    ({ id, end: 'most', label: id, times, reading: { label: id } }) as unknown as Held;
  const depthFor = (times: number): Depth => ({
    mating: Math.max(least, 2 * times),
    glue: 0.5 * times,
    saw: 1.7 * times,
  });
  const byKind = (kind: Kind, { mating }: Depth): readonly Held[] =>
    kind === 'seat' ? [one('fit.rim', seat(mating))] : kind === 'wood' ? [one('wood', wood(mating))] : [];
  return {
    cuts: { base: { job: { units: 'mm' } } } as unknown as Space['cuts'],
    fixed: [],
    matingBy: 'depth.mating',
    depthFor,
    gluedFor: depthFor,
    missedPast: () => Number.POSITIVE_INFINITY,
    from: (mating) => spaceWith(seat, wood, mating),
    held: (depth, kinds = ['depths', 'wood', 'spread', 'seat', 'glue']) =>
      kinds.flatMap((kind) => byKind(kind, depth)),
  };
}

const tightestOf = (found: ReturnType<typeof widest>): number =>
  Math.min(found?.times ?? 0, ...(found?.held.map(({ times }) => times) ?? []));

it('goes deeper where the limit that was set aside is kept better there', () => {
  // A line kept 0.87 times up to 4 mm of mating depth and 0.95 beyond; the wood 1.2 times at 2.4 mm and 0.99 at 4.5.
  const found = widest(
    spaceWith(
      (mating) => (mating < 4 ? 0.87 : 0.95),
      (mating) => 1.44 - 0.1 * mating,
    ),
  );
  expect(found?.depth.mating).toBeGreaterThan(4);
  expect(tightestOf(found)).toBeGreaterThan(0.93);
});

it('stays where it is shallow when depth brings no more than a hundredth', () => {
  const found = widest(
    spaceWith(
      (mating) => (mating < 4 ? 0.9 : 0.904),
      (mating) => 4 / mating,
    ),
  );
  expect(found?.depth.mating).toBeLessThan(4);
  expect(tightestOf(found)).toBeCloseTo(0.9, 2);
});
