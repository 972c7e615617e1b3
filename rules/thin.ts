import { poreCare } from '../src/carve/breakage-pores.ts';
import type { Facts, Side } from '../src/carve/facts.ts';
import type { CrumblingTip, Thin, ThinPart } from '../src/carve/facts-wood-parts.ts';
import { quantity } from '../src/engine/judge.ts';
import type { Reading, Silence } from '../src/engine/reading.ts';
import type { LimitName } from '../src/job/limits.ts';
import { show } from '../src/units.ts';
import { placeAt } from './place.ts';

/** The limits of plug.breakage and board.breakage. */
export const THIN_LIMITS: readonly LimitName[] = [
  'side-load',
  'breakage-safety-least',
  'breakage-safety-least-hard',
  'short-part-most',
  'tip-crumble-most',
  'tip-crumble-most-hard',
  'open-pores-width-least',
];

/** Mends are worked out for so many of the worst parts; more are not shown on a sheet. */
const MENDED = 5;

/** What stands thin while one side is cut: its parts, its sharp tips, and the pores of its wood. Worst first. */
export function thinReadings(facts: Facts, side: Side): (Reading | Silence)[] {
  if (facts.region(side).rings.length === 0) return [{ untold: `The ${side} drawing holds no outline.` }];
  const thin = facts.wood.thin(side);
  if (!('parts' in thin)) return [thin];
  if (thin.parts.length === 0)
    return [{ moot: 'No land is left between the strokes, so nothing of the board stands alone.' }];
  const most = facts.limit('tip-crumble-most');
  return [
    ...thin.parts.map((part, rank) => ofPart(facts, side, thin, part, rank)),
    ...thin.tips.filter((tip) => tip.length > most).map((tip) => ofTip(facts, side, tip)),
    ...ofPores(facts, side, thin),
  ];
}

function ofPart(facts: Facts, side: Side, thin: Thin, part: ThinPart, rank: number): Reading {
  const atLeast = part.load * facts.limit('breakage-safety-least');
  const hard = part.load * facts.limit('breakage-safety-least-hard');
  const weak = part.bears < atLeast;
  // What its ends hold up, or a fine end that loses its last bit, is worth a look and no reason not to cut. Nor does
  // a strength that is printed nowhere condemn a part.
  const short = JOINED.has(part.kind) && part.weakLength <= facts.limit('short-part-most');
  const doubtful = short || !part.strength.printed;
  const taken = rank === 0 && thin.taken.length > 0 ? ` ${thin.taken.join(' ')}` : '';
  return {
    measured: quantity(part.bears, 'N'),
    give: 0,
    want: { atLeast, hardAtLeast: doubtful ? 0 : hard },
    place: placeAt(facts, side, part.at),
    label: `${KINDS[part.kind]} of the ${side === 'plug' ? 'plug' : 'board'}`,
    says: `${sentence(facts, part, weak)}${taken}`,
    ...(weak && rank < MENDED ? { cure: mendOf(facts, side, part) } : {}),
  };
}

const JOINED: ReadonlySet<ThinPart['kind']> = new Set(['neck', 'dead-end']);

const KINDS: Readonly<Record<ThinPart['kind'], string>> = {
  neck: 'Neck',
  'dead-end': 'Fine end',
  'sharp-tip': 'Sharp tip',
  'thin-island': 'Thin piece',
  'small-island': 'Small piece',
  widest: 'Narrowest part',
};

function sentence(facts: Facts, part: ThinPart, weak: boolean): string {
  const grain = part.short === undefined ? '' : part.short ? ', short grain' : ', along the grain';
  const size = `${facts.length(part.width)} wide, ${facts.length(part.height)} high above its weakest level${grain}`;
  const force = (value: number): string => show(value, 'N', facts.job.units);
  const how = part.by === 'bending' ? 'splits off' : 'shears off';
  return weak
    ? `It is ${size}: pushed from the side it ${how} at ${force(part.bears)}, and the cutter pushes with about ${force(part.load)}.`
    : `It is ${size}, and bears the push of the cutter (about ${force(part.load)}).`;
}

/** One sentence with what would make the part hold, each way tried on the same model. */
function mendOf(facts: Facts, side: Side, part: ThinPart): string {
  const mends = part.mends();
  const ways: string[] = [];
  const turn = mends.quarterTurn;
  if (part.short === true && turn?.bears !== undefined && turn.bears >= turn.need)
    ways.push(
      `turn the ${side === 'plug' ? 'plug stock' : 'board'} a quarter turn (then ${show(turn.bears * turn.height, 'N', facts.job.units)})`,
    );
  if (mends.width !== undefined) ways.push(`widen it to ${facts.length(mends.width)}`);
  const woods = mends.woods.slice(0, 2).map((species) => species.name.toLowerCase());
  if (woods.length > 0) ways.push(`take a wood such as ${woods.join(' or ')}`);
  if (mends.lighter !== undefined)
    ways.push(`cut with last passes ${Math.max(1, Math.floor(100 * mends.lighter))} % as heavy`);
  const last = ways.pop() ?? 'leave it out of the design';
  const text = ways.length > 0 ? `${ways.join(', ')}, or ${last}` : last;
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

function ofTip(facts: Facts, side: Side, tip: CrumblingTip): Reading {
  return {
    measured: quantity(tip.length, 'mm'),
    // Along a taper the length is found between places a few tenths of a millimetre apart.
    give: 0,
    want: { atMost: facts.limit('tip-crumble-most'), hardAtMost: facts.limit('tip-crumble-most-hard') },
    place: placeAt(facts, side, tip.at),
    label: `Sharp tip of the ${side === 'plug' ? 'plug' : 'board'}`,
    says: `The last ${facts.length(tip.length)} of this tip is too thin to bear the cutter and may crumble.`,
    cure: 'Make the tip blunter or shorter, or take lighter last passes.',
  };
}

function ofPores(facts: Facts, side: Side, { piece, parts }: Thin): (Reading | Silence)[] {
  const least = facts.limit('open-pores-width-least');
  const narrowest = parts.reduce((a, b) => (b.width < a.width ? b : a));
  if (narrowest.width >= least) return [];
  const care = poreCare(piece.species, narrowest.width, least);
  if (care.tooThin === undefined) return [{ untold: care.says }];
  if (!care.tooThin) return [];
  return [
    {
      measured: quantity(narrowest.width, 'mm'),
      give: facts.outlineGive(),
      // What a few rows of pores do to a part is not published, so this never fails by itself.
      want: { atLeast: least, hardAtLeast: 0 },
      place: placeAt(facts, side, narrowest.at),
      label: `Open grain in the ${side === 'plug' ? 'plug' : 'board'}`,
      says: care.says,
      cure: `Take a closed-grained wood, or widen the part to ${facts.length(least)}.`,
    },
  ];
}
