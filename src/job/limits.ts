import type { UnitName } from '../units.ts';

/** One limit: its value counted in `unit`, where it comes from, and what it means in one line. */
export interface Limit {
  readonly value: number;
  readonly unit: UnitName;
  readonly ground: string;
  readonly means: string;
}

const GEOMETRY = 'follows from the geometry';
const PRACTICE = 'common practice, no source';
const CUTTING =
  'an estimate: 35 N/mm2 of cutting force (particleboard, Materials 2021, 14, 2208) x 0.02 mm chip of a finishing pass (common practice, no source)';
const DOUBT = 'an estimate: push and strength may each be off by a third or more';
const INDOORS =
  'wood indoors in most of the United States, Wood Handbook Table 13-1 (from memory): 8 %, 6 to 10 % over the year';

/**
 * Every limit that a check uses. A job overrides one by its name under `limits:`. Names end in `-least` or
 * `-most`; a name with `-hard` after it says how far its limit may be missed and still only be close.
 */
export const LIMITS = {
  'closed-gap-most': limit(0.01, 'mm', GEOMETRY, 'the widest opening between the two ends of an outline'),
  'near-touch-least': limit(
    0.05,
    'mm',
    PRACTICE,
    'the narrowest distance between two edges that do not touch',
  ),
  'speck-area-least': limit(
    0.05,
    'mm2',
    PRACTICE,
    'the smallest area that is a piece and not a slip of the pen',
  ),
  'sliver-width-least': limit(
    0.02,
    'mm',
    PRACTICE,
    'the least mean width of a piece that is meant to be cut',
  ),
  'overlap-area-most': limit(0.01, 'mm2', PRACTICE, 'the area two shapes may share and still only touch'),
  'size-equal-most': limit(0.1, '%', PRACTICE, 'how far the scales of the two drawings may differ'),
  'mirror-deviation-most': limit(
    0.05,
    'mm',
    PRACTICE,
    'the largest distance between the plug and the mirrored pocket',
  ),
  'rim-gap-most': limit(0.05, 'mm', PRACTICE, 'the widest line that may show between plug and board'),
  'rim-gap-most-hard': limit(0.1, 'mm', PRACTICE, 'a line this wide shows on any wood'),
  'proud-most': limit(0.3, 'mm', PRACTICE, 'how far the plug may stand above where it was meant to sit'),
  'proud-most-hard': limit(0.6, 'mm', PRACTICE, 'a plug this proud holds by little more than its edges'),
  'spread-chance-most': limit(5, '%', PRACTICE, 'the chance that a line wider than rim-gap-most-hard shows'),
  'spread-chance-most-hard': limit(50, '%', PRACTICE, 'more often than not, a line shows'),
  'mating-depth-least': limit(2.5, 'mm', PRACTICE, 'how deep the sloping walls touch'),
  'mating-depth-least-hard': limit(1, 'mm', PRACTICE, 'with less than this, sanding flush reaches the glue'),
  'glue-gap-least': limit(0.5, 'mm', PRACTICE, 'the room for glue between plug face and pocket floor'),
  'glue-gap-least-hard': limit(
    0.2,
    'mm',
    PRACTICE,
    'with less than this, the floor or the glue holds the plug up',
  ),
  'glue-gap-most': limit(4, 'mm', PRACTICE, 'more room than this is a depth written wrong, or a weak joint'),
  'saw-spare-least': limit(0.5, 'mm', PRACTICE, 'the saw gap beyond the kerf of the saw'),
  'saw-kerf-assumed': limit(
    1.2,
    'mm',
    PRACTICE,
    'the kerf when the job names no saw: a band saw blade with its set',
  ),
  'tip-spare-least': limit(0.05, 'mm', PRACTICE, 'how much wider than the tip a stroke or land should be'),
  'board-floor-least': limit(3, 'mm', PRACTICE, 'the wood left under the pocket'),
  'board-floor-least-hard': limit(
    1.5,
    'mm',
    PRACTICE,
    'a floor thinner than this bows or lets the bit through',
  ),
  'plug-stock-floor-least': limit(3, 'mm', PRACTICE, 'the wood left behind the plug for holding it'),
  'plug-stock-floor-least-hard': limit(
    1.5,
    'mm',
    PRACTICE,
    'plug stock thinner than this bends in the clamps',
  ),
  'breakage-safety-least': limit(
    1.5,
    'times',
    PRACTICE,
    'how many times the side load a thin part must bear',
  ),
  'breakage-safety-least-hard': limit(0.7, 'times', DOUBT, 'a part that bears less is clearly too weak'),
  'side-load': limit(0.7, 'N', CUTTING, 'how hard the cutter pushes sideways on each mm of height'),
  'short-part-most': limit(
    1,
    'mm',
    PRACTICE,
    'a clearly weak stretch no longer than this is held by the wood it grows out of',
  ),
  'tip-crumble-most': limit(2, 'mm', PRACTICE, 'how much of the end of a sharp tip may be lost'),
  'tip-crumble-most-hard': limit(5, 'mm', PRACTICE, 'a tip that loses this much is another tip'),
  'open-pores-width-least': limit(
    1,
    'mm',
    PRACTICE,
    'the width below which rows of large pores decide, not strength',
  ),
  'sanding-least': limit(1, 'mm', PRACTICE, 'how much of the face may be sanded before a stroke is gone'),
  'sanding-least-hard': limit(0.25, 'mm', PRACTICE, 'with less than this, the first sanding takes it'),
  'sanding-each': limit(0.25, 'mm', PRACTICE, 'what one resurfacing takes off the face'),
  'joint-opening-most': limit(
    0.5,
    'mm',
    PRACTICE,
    'how far plug and pocket may differ in size over the year, held by the glue',
  ),
  'joint-opening-most-hard': limit(0.8, 'mm', PRACTICE, 'more than this tears the glue line or the wood'),
  'grain-crossing-most': limit(10, 'deg', PRACTICE, 'the angle up to which two grains lie alike'),
  'grain-crossing-most-hard': limit(
    90,
    'deg',
    PRACTICE,
    'crossed grain is always worth a look, never a fault alone',
  ),
  'moisture-apart-most': limit(
    2,
    '%',
    PRACTICE,
    'how far the moistures of the two woods may be apart when cut',
  ),
  'moisture-apart-most-hard': limit(5, '%', PRACTICE, 'one of the two is not dry'),
  'moisture-made-assumed': limit(8, '%', INDOORS, 'the moisture when cut, when the job does not say'),
  'moisture-driest-assumed': limit(6, '%', INDOORS, 'the driest of the year, when the job does not say'),
  'moisture-dampest-assumed': limit(10, '%', INDOORS, 'the dampest of the year, when the job does not say'),
  'glue-coat': limit(0.1, 'mm', PRACTICE, 'how thick the glue is spread on each of the two walls'),
  'stock-spare-least': limit(5, 'mm', PRACTICE, 'the wood left round all that the bits cut'),
  'stock-spare-least-hard': limit(0, 'mm', GEOMETRY, 'with less than none the bits run off the stock'),
  'board-edge-least': limit(3, 'mm', PRACTICE, 'the wood left between the pocket and the edge of the board'),
  'board-edge-least-hard': limit(0.5, 'mm', PRACTICE, 'with less than this the rim breaks out'),
  'cleared-share-least': limit(5, '%', PRACTICE, 'with less than this a clearing bit is not worth its setup'),
  'cleared-share-least-hard': limit(0, '%', PRACTICE, 'what it leaves, the V-bit cuts'),
} as const satisfies Record<string, Limit>;

export type LimitName = keyof typeof LIMITS;

/** Every limit with the value that counts for one job, in the unit of the table. */
export type Limits = Readonly<Record<LimitName, number>>;

export const LIMIT_NAMES = Object.keys(LIMITS) as readonly LimitName[];

function limit(value: number, unit: UnitName, ground: string, means: string): Limit {
  return { value, unit, ground, means };
}

/**
 * The table with a job's own values laid over it. A job that loosens a limit beyond its hard one without naming
 * the hard one takes the hard one along: it asked for nothing to fail before its own number.
 */
export function limitsOf(own: Partial<Limits>): Limits {
  const all: Record<LimitName, number> = { ...defaults(), ...own };
  for (const name of LIMIT_NAMES) {
    const hard = hardOf(name);
    if (hard === undefined || own[hard] !== undefined) continue;
    if (stricter(name, all[hard], all[name])) all[hard] = all[name];
  }
  return all;
}

/** The hard limit that belongs to a limit, when it has one. */
export function hardOf(name: LimitName): LimitName | undefined {
  return LIMIT_NAMES.find((other) => other === `${name}-hard`);
}

/** Whether `a` leaves less room than `b`, for the limit of this name. */
export function stricter(name: LimitName, a: number, b: number): boolean {
  return name.includes('-most') ? a < b : a > b;
}

function defaults(): Record<LimitName, number> {
  return Object.fromEntries(LIMIT_NAMES.map((name) => [name, LIMITS[name].value])) as Record<
    LimitName,
    number
  >;
}
