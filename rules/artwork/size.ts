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
    // Pixels have a usual size; no size at all leaves every figure of this sheet in the air.
    want: bare ? { atLeast: 1, hardAtLeast: 0 } : { atLeast: 1 },
    place,
    label,
    says: bare
      ? `The ${side} drawing states its size in bare pixels; 96 to the inch was taken, other programs may take another number.`
      : `The ${side} drawing states no size, so every program may cut it at another; 96 units to the inch was taken here.`,
    cure: 'Save it with its width and height in mm or in.',
  };
}

function scale(facts: Facts): (Reading | Silence)[] {
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
  const ratios = facts.sizeRatios();
  if (ratios === undefined) return readings;
  const off = Math.max(...ratios.map((ratio) => Math.abs(ratio - 1)));
  const [x, y] = ratios.map((ratio) => ratio.toFixed(4));
  readings.push({
    measured: quantity(100 * off, '%'),
    give: 0,
    want: { atMost: facts.limit('size-equal-most') },
    place: { part: 'pair' },
    label: 'Plug drawn as large as pocket',
    says:
      off < 1e-5
        ? 'Both outlines have the same size.'
        : `The plug's outline is ${x === y ? `${x} times` : `${x} times one way and ${y} times the other way`} as large as the pocket's.`,
    ...(off < 1e-5 ? {} : { cure: 'Save both drawings from one design at one scale.' }),
  });
  return readings;
}
