import type { Facts, Side } from '../../src/carve/facts.ts';
import { type Demand, plugDemand, pocketDemand } from '../../src/carve/reach.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading, Silence } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { placeInJob, SIDES } from '../place.ts';

/** Cutting length, cutting diameter and shank against the deepest cut: what is too short or too slim rubs. */
export const bitReach: Rule = {
  id: 'bit.reach',
  asks: 'Is the bit long and wide enough for the deepest cut?',
  row: 'Bit reaches',
  essential: true,
  limits: [],
  measure: (facts) => SIDES.flatMap((side) => readingsOf(facts, side)),
};

function readingsOf(facts: Facts, side: Side): (Reading | Silence)[] {
  const region = facts.region(side);
  const { startDepth, flatDepth } = facts.job[side];
  const bit = facts.bit(side);
  const demand = (side === 'pocket' ? pocketDemand : plugDemand)(region, bit, startDepth, flatDepth);
  return [length(facts, side, demand), diameter(facts, side, demand), ...shank(facts, side, demand)];
}

const keyOf = (facts: Facts, side: Side): string =>
  side === 'plug' && facts.job.plugBit !== facts.job.bit ? 'plug-bit' : 'bit';

function length(facts: Facts, side: Side, demand: Demand): Reading | Silence {
  const { cuttingLength } = facts.bit(side);
  if (cuttingLength === undefined)
    return {
      untold: `The job does not say how long the bit's cutting edges are (${keyOf(facts, side)}: cutting-length).`,
    };
  const short = cuttingLength < demand.depth;
  return {
    measured: quantity(cuttingLength, 'mm'),
    give: 0,
    want: { atLeast: demand.depth },
    place: placeInJob(facts, `${keyOf(facts, side)}.cutting-length`),
    label: `Cutting length for the ${side}`,
    says: short
      ? `The ${side} is cut ${facts.length(demand.depth)} deep from the face of its piece, deeper than the edges are long: above them the bit rubs and burns.`
      : `The edges are longer than the ${side} is deep.`,
    ...(short
      ? { cure: `Take a bit with cutting edges of ${facts.length(demand.depth)} or more, or cut less deep.` }
      : {}),
  };
}

function diameter(facts: Facts, side: Side, demand: Demand): Reading | Silence {
  const { cuttingDiameter } = facts.bit(side);
  if (cuttingDiameter === undefined)
    return {
      untold: `The job does not say how wide the bit cuts (${keyOf(facts, side)}: cutting-diameter).`,
    };
  const slim = cuttingDiameter < demand.diameter;
  return {
    measured: quantity(cuttingDiameter, 'mm'),
    // The radius of a narrow design is found to within 2 micrometres.
    give: 0.004,
    want: { atLeast: demand.diameter },
    place: placeInJob(facts, `${keyOf(facts, side)}.cutting-diameter`),
    label: `Cutting diameter for the ${side}`,
    says: slim
      ? side === 'pocket'
        ? "At its full depth the bit is not wide enough at the board's face: the mouth of the pocket comes out too narrow."
        : 'At its full depth the bit is not wide enough at the face of the plug stock: wood is left on the plug and holds it up.'
      : `At its full depth the bit is wide enough at the face of the ${side}'s piece.`,
    ...(slim
      ? {
          cure: `Take a bit that cuts ${facts.length(demand.diameter)} wide or more, a smaller angle, or cut less deep.`,
        }
      : {}),
  };
}

/** A shank thicker than the edges touches the wall once the cut is deeper than the edges are long. */
function shank(facts: Facts, side: Side, demand: Demand): (Reading | Silence)[] {
  const { shank: thick, cuttingDiameter, cuttingLength } = facts.bit(side);
  if (thick === undefined || cuttingDiameter === undefined || cuttingLength === undefined) return [];
  if (thick <= cuttingDiameter) return [];
  const clear = cuttingLength - demand.depth;
  return [
    {
      measured: quantity(clear, 'mm'),
      give: 0,
      want: { atLeast: 0 },
      place: placeInJob(facts, `${keyOf(facts, side)}.shank`),
      label: `Shank above the ${side}'s piece`,
      says:
        clear < 0
          ? 'The shank is thicker than the edges and goes below the face of the piece, where it rubs the wall.'
          : 'The shank is thicker than the edges but stays above the face of the piece.',
      ...(clear < 0 ? { cure: 'Take a bit with longer edges or a thinner shank, or cut less deep.' } : {}),
    },
  ];
}
