import type { Facts, Side } from '../../src/carve/facts.ts';
import type { Held } from '../../src/carve/facts-wood-stock.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading, Silence } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { placeAt, placeInJob, SIDES } from '../place.ts';

/** The border that the bits cut round each design against the size of its piece, and what stands in their way. */
export const stockMargin: Rule = {
  id: 'stock.margin',
  asks: 'Is the plug stock large enough, and are the clamps out of the way?',
  row: 'Wood round the plug',
  essential: false,
  limits: ['stock-spare-least', 'stock-spare-least-hard', 'board-edge-least', 'board-edge-least-hard'],
  measure: (facts) =>
    SIDES.toReversed().flatMap((side) => {
      if (facts.region(side).rings.length === 0) return [{ untold: `The ${side} drawing holds no outline.` }];
      const held = facts.wood.held(side);
      return [...marginOf(facts, side, held), ...hitsOf(facts, side, held)];
    }),
};

function marginOf(facts: Facts, side: Side, { margin, border, by }: Held): (Reading | Silence)[] {
  const { margin: wood, side: edge, turned, size } = margin;
  const plug = side === 'plug';
  if (wood === undefined)
    // A board may be far larger than its inlay; the plug stock is cut to it, so its size is asked for.
    return plug
      ? [{ untold: 'The job does not say how large the plug stock is (plug: stock: width, length).' }]
      : [];
  const spare = plug ? 'stock-spare-least' : 'board-edge-least';
  const atLeast = border + facts.limit(spare);
  const short = wood < atLeast;
  const where = edge === undefined ? 'on each side, as if it lay in the middle' : `on its ${edge} side`;
  const turn = turned !== undefined && turned >= atLeast ? ', or turn the stock a quarter turn' : '';
  const need = (along: number): string => facts.length(along + 2 * atLeast);
  return [
    {
      measured: quantity(wood, 'mm'),
      give: 0,
      want: {
        atLeast,
        hardAtLeast: Math.min(atLeast, border + facts.limit(`${spare}-hard`)),
      },
      place: placeInJob(facts, `${side}.stock.width`),
      label: plug ? 'Wood round the plug' : 'Board round the pocket',
      says: `The design has ${facts.length(wood)} of ${plug ? 'plug stock' : 'board'} ${where}; the ${by} cuts ${facts.length(border)} outside its outline.`,
      ...(short
        ? {
            cure: `Take a piece of ${need(size.width)} by ${need(size.length)} or more with the design in its middle${turn}.`,
          }
        : {}),
    },
  ];
}

function hitsOf(facts: Facts, side: Side, held: Held): (Reading | Silence)[] {
  const met = held.hits.map(
    (hit): Reading => ({
      measured: quantity(hit.area, 'mm2'),
      give: hit.give,
      want: { atMost: 0 },
      place: placeAt(facts, side, hit.at),
      label: `Free of ${hit.name}`,
      says:
        hit.by === 'bit'
          ? `The bits cut into ${hit.name}.`
          : `The collet nut meets ${hit.name} as it goes round.`,
      cure: `Move ${hit.name}, or hold the stock another way${hit.by === 'nut' ? '; a bit that sticks out more lifts the nut' : ''}.`,
    }),
  );
  const free = held.keepOuts > 0 && held.hits.length === 0 && held.unseen.length === 0;
  return [
    ...met,
    ...(free
      ? [
          {
            measured: quantity(0, 'mm2'),
            give: 0,
            want: { atMost: 0 },
            place: placeInJob(facts, 'keep-out'),
            label: `Clamps on the ${side} met`,
            says: 'Neither the bits nor the nut meet anything that is marked as keep-out.',
          },
        ]
      : []),
    ...held.unseen.map((untold) => ({ untold })),
  ];
}
