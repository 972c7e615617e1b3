import type { Facts } from '../../src/carve/facts.ts';
import { asPressed, RIM_GIVE } from '../../src/carve/fit.ts';
import type { Share, Spread } from '../../src/carve/spread.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { placeAt } from '../place.ts';

/** The fit once more, under what varies in a real shop: how likely is a line that anybody sees? */
export const fitSpread: Rule = {
  id: 'fit.spread',
  asks: 'Does the fit survive what varies in a shop?',
  row: 'Chance of a line',
  essential: false,
  limits: ['spread-chance-most', 'spread-chance-most-hard', 'rim-gap-most-hard', 'proud-most-hard'],
  measure: (facts) => {
    const fitted = facts.fitted();
    if (!('fit' in fitted)) return [fitted];
    const { fit } = fitted;
    const { proud, widest } = asPressed(fit);
    // A line or a height that is only close is asked too: once something varies it may well fail.
    const shows =
      (widest?.gap ?? 0) > facts.limit('rim-gap-most-hard') + RIM_GIVE ||
      proud > facts.limit('proud-most-hard') + fit.give;
    if (shows) return [{ moot: 'The fit fails even with nothing varying (see fit.proud and fit.rim).' }];
    const spread = facts.fitSpread();
    if (spread === undefined) return [{ untold: 'There is no fit to vary.' }];
    return [chanceOf(facts, spread)];
  },
};

/** The chance of a line, whether or not one shows with nothing varying. */
export function chanceOf(facts: Facts, spread: Spread): Reading {
  const atMost = facts.limit('spread-chance-most');
  // Undefined where nothing that varies moves the line.
  const most = spread.shares().find(({ share }) => share > 0);
  return {
    measured: quantity(100 * spread.chance, '%'),
    give: 50 * (spread.chanceTo - spread.chanceFrom),
    want: { atMost, hardAtMost: facts.limit('spread-chance-most-hard') },
    place: spread.worst === undefined ? { part: 'pair' } : placeAt(facts, 'pocket', spread.worst.at),
    says: sentence(facts, spread, most),
    ...(100 * spread.chance > atMost && most !== undefined ? { cure: MENDS[most.source] } : {}),
  };
}

function sentence(facts: Facts, spread: Spread, most: Share | undefined): string {
  const wide = facts.length(facts.limit('rim-gap-most-hard'));
  const worst =
    spread.worst === undefined
      ? ''
      : ` and ${facts.length(spread.worst.gap)} when everything goes wrong at once`;
  const matters =
    most === undefined
      ? ''
      : ` What matters most is ${SOURCES[most.source]} (${(100 * most.share).toFixed(0)} % of it).`;
  return (
    `Of ${spread.draws} imagined cuts ${(100 * spread.chance).toFixed(1)} % show a line wider than ${wide}; ` +
    `95 of 100 stay below ${facts.length(spread.p95)}${worst}.${matters}`
  );
}

type SourceKey = Share['source'];

const SOURCES: Readonly<Record<SourceKey, string>> = {
  tipWear: 'wear of the tip',
  angle: 'the true angle of the bit',
  pocketZero: "the depth zero of the pocket's setup",
  plugZero: "the depth zero of the plug's setup",
  pocketFlatness: 'how flat the board is',
  plugFlatness: 'how flat the plug stock is',
  scale: 'the scale of the machine between the two setups',
  squareness: 'how square the machine is between the two setups',
  runout: 'runout of the bit',
};

const MENDS: Readonly<Record<SourceKey, string>> = {
  tipWear: 'Use a fresh bit, and measure its tip.',
  angle:
    'Cut both sides with one bit, measure its true angle on a test groove, and compute the toolpaths with it.',
  pocketZero: 'Set the depth zero of the pocket with more care, or leave more glue and saw gap.',
  plugZero: 'Set the depth zero of the plug with more care, or leave more glue and saw gap.',
  pocketFlatness: 'Face the board flat on the machine before cutting the pocket.',
  plugFlatness: 'Face the plug stock flat on the machine before cutting the plug.',
  scale: 'Cut both sides on one machine, along the same axes, on the same day.',
  squareness: 'Square the machine, or cut both sides along the same axes.',
  runout: 'Clean the collet, or take a better one.',
};
