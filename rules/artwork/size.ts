import type { Facts, Side } from '../../src/carve/facts.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading, Silence } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { placeOf, SIDES } from '../place.ts';

/** The drawings say how large they are, and both say it alike: a wrong scale cuts a perfect plug for another pocket. */
export const artworkSize: Rule = {
  id: 'artwork.size',
  asks: 'Do both drawings state their size, and at one scale?',
  row: 'Drawn at one stated size',
  essential: true,
  limits: ['size-equal-most'],
  measure: (facts) => [...SIDES.map((side) => stated(facts, side)), ...scale(facts)],
};

function stated(facts: Facts, side: Side): Reading {
  const { size } = facts.artwork(side);
  const place = placeOf(facts, side, size.mark);
  const label = `Size stated, ${side}`;
  if (size.stated === 'physical')
    return {
      measured: quantity(1, 'yes'),
      give: 0,
      want: { atLeast: 1 },
      place,
      label,
      says: `The ${side} drawing states its size in real units.`,
    };
  const bare = size.stated === 'pixels';
  return {
    measured: quantity(0, 'yes'),
    give: 0,
    want: { atLeast: 1, hardAtLeast: 0 },
    place,
    label,
    says: bare
      ? `The ${side} drawing states its size in bare pixels; 96 to the inch was taken, other programs may take another number.`
      : `The ${side} drawing states no size; 96 of its units to the inch was taken, other programs may take another number.`,
    cure: 'Save it with its width and height in mm or in.',
  };
}

function scale(facts: Facts): (Reading | Silence)[] {
  const pocket = facts.artwork('pocket').size.perUserUnit;
  const plug = facts.artwork('plug').size.perUserUnit;
  const readings: Reading[] = [];
  const uneven = SIDES.filter((side) => {
    const [x, y] = facts.artwork(side).size.perUserUnit;
    return Math.abs(x / y - 1) > 1e-6;
  });
  for (const side of uneven) {
    const [x, y] = facts.artwork(side).size.perUserUnit;
    readings.push({
      measured: quantity(100 * Math.abs(x / y - 1), '%'),
      give: 0,
      want: { atMost: facts.limit('size-equal-most') },
      place: placeOf(facts, side, facts.artwork(side).size.mark),
      label: `Stretched one way, ${side}`,
      says: `The ${side} drawing is stretched more one way than the other by its own frame.`,
      cure: 'Give width, height and viewBox the same proportions.',
    });
  }
  const ratio = facts.sizeRatio();
  if (ratio === undefined) return readings;
  readings.push({
    measured: quantity(100 * Math.abs(ratio - 1), '%'),
    give: 0,
    want: { atMost: facts.limit('size-equal-most') },
    place: { part: 'pair' },
    label: 'Plug drawn as large as the pocket',
    says:
      Math.abs(ratio - 1) < 1e-4
        ? 'Both outlines have the same size.'
        : `The plug's outline is ${ratio.toFixed(4)} times as large as the pocket's${
            Math.abs(pocket[0] / plug[0] - 1) > 1e-6 ? '; the two drawings have different scales' : ''
          }.`,
    cure: `Scale the plug's drawing by ${(1 / ratio).toFixed(4)}, or save both from one drawing.`,
  });
  return readings;
}
