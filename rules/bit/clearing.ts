import type { Facts, Side } from '../../src/carve/facts.ts';
import type { Cleared } from '../../src/carve/facts-wood-stock.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading, Silence } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { show } from '../../src/units.ts';
import { placeInJob, SIDES } from '../place.ts';

/** Where the clearing bit fits without touching a wall, whether it gets that deep, and what it leaves. */
export const bitClearing: Rule = {
  id: 'bit.clearing',
  asks: 'Where can the clearing bit go, and what is left to the V-bit?',
  row: 'Clearing bit',
  essential: false,
  limits: ['cleared-share-least', 'cleared-share-least-hard'],
  measure: (facts) => {
    const bit = facts.job.clearingBit;
    if (bit === undefined) return [{ moot: 'The job names no clearing bit: the V-bit clears everything.' }];
    return [
      ...(bit.cuttingLength === undefined
        ? [
            {
              untold:
                "The job does not say how long the clearing bit's edges are (clearing-bit: cutting-length).",
            },
          ]
        : [reach(facts, bit.cuttingLength)]),
      ...SIDES.map((side): Reading | Silence => {
        const cleared = facts.wood.cleared(side);
        return 'clearing' in cleared ? shareOf(facts, side, cleared) : cleared;
      }),
    ];
  },
};

function reach(facts: Facts, length: number): Reading {
  const { pocketTotal, plugTotal } = facts.depths;
  const deepest = Math.max(pocketTotal, plugTotal);
  const side = pocketTotal >= plugTotal ? 'pocket' : 'plug';
  const short = length < deepest;
  return {
    measured: quantity(length, 'mm'),
    give: 0,
    want: { atLeast: deepest },
    place: placeInJob(facts, 'clearing-bit.cutting-length'),
    label: 'Clearing bit, cutting length',
    says: short
      ? `The ${side} is cut ${facts.length(deepest)} deep, deeper than the clearing bit's edges are long: above them it rubs.`
      : `The clearing bit's edges are longer than the ${side} is deep.`,
    ...(short
      ? {
          cure: `Take one with edges of ${facts.length(deepest)}, or clear no deeper than ${facts.length(length)} with it.`,
        }
      : {}),
  };
}

function shareOf(facts: Facts, side: Side, cleared: Cleared): Reading {
  const { clearing, round, share, clearingMinutes, carvingMinutes } = cleared;
  const atLeast = facts.limit('cleared-share-least');
  const style = facts.job.units;
  const where = round === undefined ? 'the pocket' : `the wood up to ${facts.length(round)} round the plug`;
  const minutes = (value: number): string => show(value, 'min', style);
  const times = [
    ...(clearingMinutes === undefined ? [] : [`clearing takes about ${minutes(clearingMinutes)}`]),
    ...(carvingMinutes === undefined ? [] : [`the V-bit about ${minutes(carvingMinutes)}`]),
  ];
  const first =
    times.length > 0 ? ` A first estimate: ${times.join(', ')}, with lifts and plunges on top.` : '';
  const little = 100 * share < atLeast;
  return {
    measured: quantity(100 * share, '%'),
    // The volumes are sums over six levels, up to a part in a hundred off where narrow strokes end.
    give: 1,
    want: { atLeast, hardAtLeast: facts.limit('cleared-share-least-hard') },
    place: placeInJob(facts, 'clearing-bit.diameter'),
    label: `Cleared of the ${side}`,
    says: `Without touching a wall it clears ${show(clearing.area, 'mm2', style)} of ${where} down to ${facts.length(clearing.depth)}: ${(100 * share).toFixed(0)} % of what goes. The V-bit cuts the rest.${first}`,
    ...(little ? { cure: 'Take a smaller clearing bit, or leave it out and let the V-bit clear all.' } : {}),
  };
}
