import { profileOf } from '../carve/cut.ts';
import type { Facts } from '../carve/facts.ts';
import type { Pair } from '../carve/fit.ts';
import type { SeenReading } from '../job/seen.ts';
import { lengthAlong, wayOf } from './why-spans.ts';

/** A place told in the drawing may lie this far from the rim or beside the inlay, mm: eyes and rulers. */
const NEAR = 6;
/**
 * A depth or a length this many times the job's is of something else, or in another unit. Between a slip at the
 * machine and inches taken for millimetres, which are 25 times apart; common practice, no source.
 */
const OTHER_DEPTH = 5;
const OTHER_LENGTH = 2;
/** Diagonals whose difference is off by more than this share of them are of something else: some 6 degrees of skew. */
const OTHER_SLANT = 0.1;

/**
 * What is wrong with a reading of this pair, in a sentence; undefined when it can be. `away` is how far off the nearest
 * rim is, mm, of a reading with a point.
 */
export function notOfThisPair(
  facts: Facts,
  pair: Pair,
  reading: SeenReading,
  away: number | undefined,
): string | undefined {
  return wrongPlace(facts, pair, reading, away) ?? wrongValue(facts, pair, reading);
}

function wrongPlace(
  { length }: Facts,
  pair: Pair,
  reading: SeenReading,
  away: number | undefined,
): string | undefined {
  if (!('where' in reading)) return undefined;
  const { kind, where } = reading;
  if (kind === 'gap') {
    if (where === 'middle')
      return 'The middle is no place at the rim; name a side, or x: and y: in the drawing.';
    if (typeof where === 'string') return undefined;
    if (away === undefined || away > NEAR)
      return `There is no rim here; the nearest is ${away === undefined ? 'none' : `${length(away)} away`}. A place in the pocket's drawing was wanted, x to the right and y down.`;
  } else if (typeof where !== 'string') {
    const { minX, maxX, minY, maxY } = pair.box;
    const [x, y] = where;
    const off = Math.max(minX - x, x - maxX, minY - y, y - maxY);
    if (off > NEAR) return `This place lies ${length(off)} beside the inlay; a place on it was wanted.`;
  }
  return undefined;
}

function wrongValue(facts: Facts, pair: Pair, reading: SeenReading): string | undefined {
  const { length, job } = facts;
  const { mating, input, box } = pair;
  const { value } = reading;
  const pocketDepth = input.pocketStart + input.pocketFlat;
  const plugHeight = input.plugStart + input.plugFlat;
  const [wide, high] = [box.maxX - box.minX, box.maxY - box.minY];
  const { r, t } = profileOf(input.pocketTool);
  const groove = 2 * (r + pocketDepth * t);
  switch (reading.kind) {
    case 'proud':
    case 'after-cleaning':
    case 'after-clamping':
      if (value >= mating)
        return `It cannot stand proud by ${length(value)}: the mating depth is ${length(mating)}, so it would not be in the pocket at all.`;
      return value <= -pocketDepth
        ? `It cannot lie ${length(-value)} too low: the pocket is ${length(pocketDepth)} deep.`
        : undefined;
    case 'gap':
      return value >= Math.min(wide, high)
        ? `A line ${length(value)} wide cannot be: the whole inlay is ${length(wide)} by ${length(high)}.`
        : undefined;
    case 'saw-gap':
      return value >= input.plugFlat - input.pocketStart + mating
        ? `With ${length(value)} between board and plug stock the plug would not be in the pocket at all; the job leaves ${length(input.plugFlat - input.pocketStart)}.`
        : undefined;
    case 'glue-gap':
      return value >= pocketDepth
        ? `There cannot be ${length(value)} under the plug: the pocket is ${length(pocketDepth)} deep.`
        : undefined;
    case 'pocket-depth':
      return unlike(facts, value, pocketDepth, OTHER_DEPTH, 'the pocket is to be', 'deep');
    case 'plug-height':
      return unlike(facts, value, plugHeight, OTHER_DEPTH, 'the plug is to be', 'high');
    case 'pocket-size':
    case 'plug-size':
      return unlike(
        facts,
        value,
        lengthAlong(input.plug, wayOf(box, reading.along)),
        OTHER_LENGTH,
        'the inlay is',
        'long',
      );
    case 'diagonals': {
      const [falling, rising] = (['falling', 'rising'] as const).map((along) =>
        lengthAlong(input.plug, wayOf(box, along)),
      ) as [number, number];
      const drawn = falling - rising;
      return Math.abs(value - drawn) > OTHER_SLANT * Math.max(falling, rising)
        ? `${length(value)} cannot be of this pair: as drawn, its diagonals differ by ${length(Math.abs(drawn))}. How much longer the falling one is than the rising one was wanted.`
        : undefined;
    }
    case 'board-hollow':
    case 'stock-hollow':
      return Math.abs(value) >= mating
        ? `A face ${length(Math.abs(value))} out of flat cannot be of this inlay, whose mating depth is ${length(mating)}.`
        : undefined;
    case 'tip-flat':
      if (job.bit.tipFlat === undefined)
        return 'The job does not state a tip flat, so there is nothing to set this against.';
      return tooWide(facts, value, groove);
    case 'runout':
      return tooWide(facts, value, groove);
    case 'angle':
      return undefined;
  }
}

function unlike(
  { length }: Facts,
  value: number,
  meant: number,
  times: number,
  what: string,
  how: string,
): string | undefined {
  return value > times * meant || value * times < meant
    ? `${length(value)} cannot be of this pair: ${what} ${length(meant)} ${how}. Is the unit right?`
    : undefined;
}

function tooWide({ length }: Facts, value: number, groove: number): string | undefined {
  return value >= groove
    ? `${length(value)} cannot be: the whole groove that the bit cuts is ${length(groove)} wide.`
    : undefined;
}
