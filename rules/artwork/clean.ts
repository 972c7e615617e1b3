import type { Facts, Side } from '../../src/carve/facts.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading, Want } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import type { FaultKind, TidyFault } from '../../src/geometry/tidy.ts';
import { placeAt, SIDES } from '../place.ts';

/** Faults that make one drawing two different cuts: crossings, repeats, slivers, specks, overlaps, near touches. */
export const artworkClean: Rule = {
  id: 'artwork.clean',
  asks: 'Are the outlines free of crossings, repeats, specks and other faults?',
  row: 'Outlines are clean',
  essential: true,
  limits: ['near-touch-least', 'overlap-area-most', 'speck-area-least', 'sliver-width-least'],
  measure: (facts) =>
    SIDES.flatMap((side) => {
      const faults = facts.tidy(side).faults.filter((fault) => fault.kind in KINDS);
      if (faults.length > 0) return faults.map((fault) => readingOf(facts, side, fault));
      return [
        {
          measured: quantity(0, 'count'),
          give: 0,
          want: { atMost: 0 },
          place: { part: side },
          says: `No crossing, repeat, speck or other fault was found in the ${side} drawing.`,
        },
      ];
    }),
};

interface Kind {
  readonly label: string;
  readonly says: string;
  readonly cure: string;
  /** What the measured value of this fault should have been. */
  readonly want: (facts: Facts) => Want;
}

const never = (): Want => ({ atMost: 0 });

const KINDS: Partial<Record<FaultKind, Kind>> = {
  crossing: {
    label: 'Outline crosses itself',
    says: 'The outline crosses itself here; which side is wood depends on the program that reads it.',
    cure: 'Join the shapes into one outline without a crossing.',
    want: never,
  },
  repeat: {
    label: 'Outline drawn twice',
    says: 'The same outline lies here twice; a toolpath may cut it twice or turn it inside out.',
    cure: 'Delete one of the two.',
    want: never,
  },
  overlap: {
    label: 'Shapes overlap',
    says: 'Two shapes overlap in part; the dry fit joins them, a toolpath may not.',
    cure: 'Join the shapes in the drawing program.',
    want: (facts) => ({ atMost: facts.limit('overlap-area-most') }),
  },
  'hidden-hole': {
    label: 'Hole that cannot be seen',
    says: 'A shape lies wholly inside another of the same colour: on screen it is hidden, a toolpath cuts it as a hole.',
    cure: 'Delete the inner shape, or cut it out of the outer one so that the hole is seen.',
    want: (facts) => ({ atMost: facts.limit('overlap-area-most') }),
  },
  sliver: {
    label: 'Sliver',
    says: 'A piece this thin is a leftover of drawing and not a part of the inlay.',
    cure: 'Delete it, or widen it into something that can be cut.',
    want: (facts) => ({ atLeast: facts.limit('sliver-width-least') }),
  },
  speck: {
    label: 'Speck',
    says: 'A piece this small cannot be cut; it is most likely a leftover of drawing.',
    cure: 'Delete it, or make it large enough to cut.',
    want: (facts) => ({ atLeast: facts.limit('speck-area-least') }),
  },
  spike: {
    label: 'Spike',
    says: 'The outline runs out and back on itself: a line without area that a toolpath may follow.',
    cure: 'Delete the point at the tip of the spike.',
    want: never,
  },
  'near-touch': {
    label: 'Edges nearly touch',
    says: 'Two edges nearly touch; what stands between them is thinner than a shaving.',
    cure: 'Join the two edges, or move them apart.',
    want: (facts) => ({ atLeast: facts.limit('near-touch-least') }),
  },
};

function readingOf(facts: Facts, side: Side, fault: TidyFault): Reading {
  const kind = KINDS[fault.kind] as Kind;
  return {
    measured: quantity(fault.measured, fault.unit),
    give: 0,
    want: kind.want(facts),
    place: placeAt(facts, side, fault.at),
    label: `${kind.label}, ${side}`,
    says: kind.says,
    cure: kind.cure,
  };
}
