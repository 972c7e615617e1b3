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
const ESTIMATE =
  'an estimate: 35 N/mm2 of cutting force (particleboard, Materials 2021, 14, 2208) x 0.05 mm chip x about 6 mm of cutting height';

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
  'breakage-safety-least': limit(2, 'times', PRACTICE, 'how many times the side load a thin part must bear'),
  'breakage-safety-least-hard': limit(1, 'times', GEOMETRY, 'below this the part is weaker than the load'),
  'side-load': limit(10, 'N', ESTIMATE, 'how hard the cutter pushes sideways'),
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
