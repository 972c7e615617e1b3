import type { Facts } from '../../src/carve/facts.ts';
import type { Moves } from '../../src/carve/facts-wood-joint.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { degrees, show, toDegrees } from '../../src/units.ts';
import { placeInJob } from '../place.ts';

/** How far the two woods move apart over the year, what that stresses, and whether their grains lie alike. */
export const woodMovement: Rule = {
  id: 'wood.movement',
  asks: 'How much does the joint open and close over the year?',
  row: 'Joint over the year',
  essential: false,
  limits: [
    'joint-opening-most',
    'joint-opening-most-hard',
    'grain-crossing-most',
    'grain-crossing-most-hard',
    'moisture-apart-most',
    'moisture-apart-most-hard',
    'moisture-made-assumed',
    'moisture-driest-assumed',
    'moisture-dampest-assumed',
  ],
  measure: (facts) => {
    const moves = facts.wood.moves();
    if (!('movement' in moves)) return [moves];
    return [
      opening(facts, moves),
      ...stress(facts, moves),
      ...crossing(facts, moves),
      ...apart(facts, moves),
    ];
  },
};

function opening(facts: Facts, moves: Moves): Reading {
  const { worst, across } = moves.movement;
  const { likely, most } = worst.opening;
  const squeezed = Math.max(worst.squeeze.likely, across.squeeze.likely);
  const way = toDegrees(worst.angle).toFixed(0);
  const { made, least, most: damp } = moves.year;
  const share = (value: number): string => `${Number(value.toFixed(1))} %`;
  const taken = moves.taken.length > 0 ? ` ${moves.taken.join(' ')}` : '';
  const wide = likely + 1e-9 > facts.limit('joint-opening-most');
  return {
    measured: quantity(likely, 'mm'),
    // How the year's rings lie in the two pieces is not known; this is what that can add.
    give: most - likely,
    want: { atMost: facts.limit('joint-opening-most'), hardAtMost: facts.limit('joint-opening-most-hard') },
    place: placeInJob(facts, 'plug.stock'),
    label: 'Plug short of pocket, in a year',
    says: `Cut at ${share(made)} moisture, the plug comes ${facts.length(likely)} short of its pocket at the worst time between ${share(least)} and ${share(damp)}, over ${facts.length(worst.size)} at ${way} degrees in the drawing (as much as ${facts.length(most)} by the lie of the rings), and is squeezed by up to ${facts.length(squeezed)}. The glue has to hold that.${taken}`,
    ...(wide
      ? {
          cure:
            moves.movement.mismatch === undefined
              ? "Choose woods that move alike or quarter-sawn stock, cut at the middle of the year's moisture, or divide the inlay."
              : 'Lay the grain of plug and board the same way.',
        }
      : {}),
  };
}

/** Held still by the glue, the plug is strained by what it would have moved. */
function stress(facts: Facts, { movement, strength }: Moves): Reading[] {
  const { held } = movement;
  if (held === undefined || strength.value === undefined) return [];
  const high = held > strength.value;
  return [
    {
      measured: quantity(held, 'MPa'),
      give: 0,
      // Reckoned as if the board gave way nowhere and the wood did not creep: the true stress is lower.
      want: {
        atMost: strength.value,
        hardAtMost: strength.printed ? 2 * strength.value : Number.POSITIVE_INFINITY,
      },
      place: placeInJob(facts, 'plug.stock.wood'),
      label: "Stress across the plug's grain",
      says: `If the glue holds and the board does not give, the plug is strained across its grain by ${show(held, 'MPa', facts.job.units)}; it bears about ${show(strength.value, 'MPa', facts.job.units)}.${strength.says === undefined ? '' : ` ${strength.says}`}`,
      ...(high
        ? { cure: 'Lay the grains alike, or keep the year of the piece drier or damper, but even.' }
        : {}),
    },
  ];
}

function crossing(facts: Facts, { movement, crossed }: Moves): Reading[] {
  const most = facts.limit('grain-crossing-most');
  const hardAtMost = facts.limit('grain-crossing-most-hard');
  const place = placeInJob(facts, 'plug.stock.grain');
  const cure = 'Lay the grain of plug and board the same way; end grain goes with end grain.';
  if (crossed !== undefined)
    return [
      {
        measured: quantity(toDegrees(crossed), 'deg'),
        give: 0,
        want: { atMost: most, hardAtMost },
        place,
        label: 'Grain of plug against board',
        says: movement.mismatch ?? 'The grains of plug and board lie alike.',
        ...(crossed > degrees(most) ? { cure } : {}),
      },
    ];
  if (movement.mismatch === undefined) return [];
  return [
    {
      measured: quantity(90, 'deg'),
      give: 0,
      want: { atMost: most, hardAtMost },
      place,
      label: 'Grain of plug against board',
      says: movement.mismatch,
      cure,
    },
  ];
}

function apart(facts: Facts, { apart }: Moves): Reading[] {
  if (apart === undefined) return [];
  const atMost = facts.limit('moisture-apart-most');
  return [
    {
      measured: quantity(apart, '%'),
      give: 0,
      want: { atMost, hardAtMost: facts.limit('moisture-apart-most-hard') },
      place: placeInJob(facts, 'plug.stock.moisture'),
      label: 'Moistures of the woods apart',
      says: 'The damper of the two will shrink against the other once both have settled.',
      ...(apart > atMost
        ? { cure: 'Let both woods rest in one room until neither changes its weight.' }
        : {}),
    },
  ];
}
