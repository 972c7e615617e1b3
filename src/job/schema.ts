import {
  Object as Keys,
  Array as ListOf,
  Optional,
  type Static,
  type TSchema,
  Unsafe,
} from '@sinclair/typebox';
import type { LengthStyle, Mm, MmPerMinute, Radians, Sign, UnitName } from '../units.ts';
import { LIMIT_NAMES, LIMITS, type LimitName } from './limits.ts';
import { DRAWS, SEED, SOURCE_NAMES, type SourceName, SPREAD } from './spread.ts';

/**
 * The one description of a job file. The types of a read job, the reading of each value, the sentences about
 * what is wrong and the published JSON Schema all come from it.
 */

export { ListOf, Optional, type Static };

/** How a written value becomes a number or a word of ours. Kept beside each leaf, dropped from the JSON Schema. */
export type Reads =
  | { readonly as: 'length'; readonly sign: Sign }
  | { readonly as: 'bit-angle' }
  | { readonly as: 'angle' }
  | { readonly as: 'feed' }
  | { readonly as: 'percent' }
  | { readonly as: 'temperature' }
  | { readonly as: 'measure'; readonly unit: UnitName }
  | { readonly as: 'count'; readonly least: number; readonly most: number }
  | { readonly as: 'text' }
  | { readonly as: 'outline' }
  | { readonly as: 'wood' }
  | { readonly as: 'choice'; readonly of: readonly string[] };

/** A drawing, or one element of it with everything inside. */
export interface Outline {
  /** The file, with `/` between folders, from where the program runs. */
  readonly path: string;
  /** The element's id without the `#`; the whole drawing when there is none. */
  readonly select?: string;
  /** As the job has it. */
  readonly written: string;
}

export type Grain = 'face' | 'edge' | 'end';
export type Mirror = 'drawn' | 'toolpath';

const DECIMAL = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)`;
const AMOUNT = String.raw`(?:${DECIMAL}|[+-]?(?:\d+(?:\s+|\s*-\s*))?\d+\s*/\s*\d+)`;
const written = (units: string, amount = DECIMAL) => [
  { type: 'number' },
  { type: 'string', pattern: String.raw`^\s*${amount}\s*(?:${units})?\s*$` },
];
const LENGTH = written(
  '[mM][mM]|[cC][mM]|[mM]|[iI][nN]|[iI][nN][cC][hH]|[iI][nN][cC][hH][eE][sS]|["”″]',
  AMOUNT,
);
const ANGLE = written('[dD][eE][gG]|[dD][eE][gG][rR][eE][eE][sS]?|°|[rR][aA][dD]');
const MEASURE = [{ type: 'number' }, { type: 'string' }];

export const length = (means: string, sign: Sign = 'positive') =>
  leaf<Mm>(
    { as: 'length', sign },
    { anyOf: LENGTH },
    `${means} (a length: a number in units, or text like 7.6 mm, 5/16 in)`,
  );
export const bitAngle = (means: string) =>
  leaf<Radians>({ as: 'bit-angle' }, { anyOf: ANGLE }, `${means} (degrees, or text like 30 deg)`);
export const angle = (means: string) =>
  leaf<Radians>({ as: 'angle' }, { anyOf: ANGLE }, `${means} (degrees, or text like 30 deg)`);
const feed = (means: string) =>
  leaf<MmPerMinute>(
    { as: 'feed' },
    { anyOf: MEASURE },
    `${means} (units a minute, or text like 1200 mm/min, 50 in/min)`,
  );
const percent = (means: string) =>
  leaf<number>({ as: 'percent' }, { anyOf: written('%') }, `${means} (percent)`);
const measure = (unit: UnitName, means: string) =>
  leaf<number>({ as: 'measure', unit }, { anyOf: MEASURE }, means);
const count = (means: string, least: number, most: number) =>
  leaf<number>({ as: 'count', least, most }, { type: 'integer', minimum: least, maximum: most }, means);
export const text = (means: string) => leaf<string>({ as: 'text' }, { type: ['string', 'number'] }, means);
const outline = (means: string) => leaf<Outline>({ as: 'outline' }, { type: 'string' }, means);
export const choice = <const T extends string>(of: readonly T[], means: string) =>
  leaf<T>({ as: 'choice', of }, { enum: of }, means);
export const keys = <const T extends Record<string, TSchema>>(means: string, fields: T) =>
  Keys(fields, { additionalProperties: false, description: means });

const stock = keys('the piece of wood', {
  wood: Optional(
    leaf<string>({ as: 'wood' }, { type: 'string' }, 'the species (see dryfit woods), or unlisted'),
  ),
  grain: Optional(choice(['face', 'edge', 'end'], 'which grain is up')),
  'grain-angle': Optional(
    angle('the direction of the grain in the drawing, 0 along x, turning from x to y (y points down)'),
  ),
  thickness: Optional(length('the thickness of the piece')),
  width: Optional(length('its size along x')),
  length: Optional(length('its size along y')),
  left: Optional(length("where its left edge lies in the drawing's frame", 'any')),
  top: Optional(length("where its top edge lies in the drawing's frame", 'any')),
  moisture: Optional(percent('the moisture content of the wood when cut')),
});

export const bit = keys('the V-bit; tip-flat or tip-radius, or neither when it is not known', {
  angle: bitAngle('the included angle'),
  'tip-flat': Optional(length('the width of the flat at the tip; 0 is a sharp point', 'zero-or-more')),
  'tip-radius': Optional(length('the radius of a ball tip')),
  'cutting-length': Optional(length('the height of the cutting edges')),
  'cutting-diameter': Optional(length('the widest diameter the edges cut')),
  shank: Optional(length('the diameter of the shank')),
  'stick-out': Optional(length('from the nut down to the tip')),
  'toolpath-angle': Optional(bitAngle('the angle the toolpaths were computed with, when it differs')),
  'toolpath-tip-flat': Optional(
    length('the tip flat the toolpaths were computed with, when it differs', 'zero-or-more'),
  ),
});

const feeds = keys('how fast one bit is driven', {
  feed: feed('the speed along a cut'),
  'step-down': Optional(length('the depth of one pass')),
  'step-over': Optional(length('the distance between neighbouring passes')),
});

const air = keys('the air, or the moisture it brings the wood to', {
  temperature: Optional(
    leaf<number>(
      { as: 'temperature' },
      { anyOf: written('°?\\s*[cCfF]') },
      'the temperature (Celsius, or text like 70 F)',
    ),
  ),
  humidity: Optional(percent('the relative humidity')),
  moisture: Optional(percent('the moisture content of the wood')),
});

const keepOut = keys('a clamp or anything else that no bit may reach; one of outline, box, disc', {
  part: choice(['pocket', 'plug'], 'on which setup it stands'),
  name: Optional(text('what it is')),
  outline: Optional(outline("a shape in a drawing of the setup's frame")),
  box: Optional(
    keys('a rectangle', {
      left: length('its left edge', 'any'),
      top: length('its top edge', 'any'),
      width: length('its size along x'),
      length: length('its size along y'),
    }),
  ),
  disc: Optional(
    keys('a round thing', {
      x: length('its centre', 'any'),
      y: length('its centre', 'any'),
      diameter: length('its diameter'),
    }),
  ),
  height: Optional(length('how far it stands above the face of the piece')),
});

const sourceKeys = Object.fromEntries(
  SOURCE_NAMES.map((name) => {
    const { unit, value, means, ground } = SPREAD[name];
    return [name, Optional(measure(unit, `${means}; ${value} ${unit} unless stated (${ground})`))];
  }),
);
const limitKeys = Object.fromEntries(
  LIMIT_NAMES.map((name) => {
    const { unit, value, means, ground } = LIMITS[name];
    return [name, Optional(measure(unit, `${means}; ${value} ${unit} unless stated (${ground})`))];
  }),
);

export const jobShape = keys('A job for dryfit: one pocket, one plug, and how they are cut', {
  title: Optional(text('what the piece is called')),
  units: choice(['mm', 'in'], 'what a bare number means'),
  pocket: keys('the recess in the board', {
    outline: outline('the drawing, NAME.svg or NAME.svg#id'),
    'start-depth': Optional(
      length('how far below its face a cut takes the surface to be; 0 unless stated', 'zero-or-more'),
    ),
    'flat-depth': length('how far below the start depth the cut goes before it is flat'),
    stock: Optional(stock),
  }),
  plug: keys('the part that goes into it', {
    outline: Optional(outline('the drawing; only with mirror: toolpath may it be left out')),
    mirror: Optional(
      choice(
        ['drawn', 'toolpath'],
        'drawn: the outline is the mirror image already; toolpath: the toolpath will mirror it',
      ),
    ),
    'start-depth': length('how far below its face the cut takes the surface to be', 'zero-or-more'),
    'flat-depth': length('how far below the start depth the cut goes before it is flat'),
    stock: Optional(stock),
  }),
  bit,
  'plug-bit': Optional(bit),
  'clearing-bit': Optional(
    keys('the end mill that removes the bulk', {
      diameter: length('its diameter'),
      'cutting-length': Optional(length('the height of its cutting edges')),
      'stick-out': Optional(length('from the nut down to its end')),
    }),
  ),
  nut: Optional(keys('the collet nut', { diameter: length('its widest diameter') })),
  saw: Optional(keys('the saw that frees the plug', { kerf: length('the width of its cut: blade and set') })),
  'keep-out': Optional(ListOf(keepOut, { description: 'places no bit may reach' })),
  feeds: Optional(
    keys('feeds, for a first estimate of the cutting time', {
      'v-bit': Optional(feeds),
      clearing: Optional(feeds),
    }),
  ),
  climate: Optional(
    keys('the air the piece meets', {
      workshop: Optional(air),
      driest: Optional(air),
      dampest: Optional(air),
    }),
  ),
  spread: Optional(
    keys('what varies in the shop', {
      ...(sourceKeys as Record<string, never>),
      draws: Optional(count(`how many jobs are drawn; ${DRAWS} unless stated`, 100, 200_000)),
      seed: Optional(count(`the seed of the draws; ${SEED} unless stated`, 0, 4_294_967_295)),
    }),
  ),
  limits: Optional(keys('limits of checks, by name', limitKeys as Record<string, never>)),
});

/** A job as read: keys in camel case, every value in our units. */
export type ReadKeys = Camel<Omit<Static<typeof jobShape>, 'limits' | 'spread'>> & {
  readonly spread?: Partial<Readonly<Record<SourceName | 'draws' | 'seed', number>>>;
  readonly limits?: Partial<Readonly<Record<LimitName, number>>>;
};
export type Stock = Camel<Static<typeof stock>>;
export type Bit = Camel<Static<typeof bit>>;
export type Feeds = Camel<Static<typeof feeds>>;
export type Air = Camel<Static<typeof air>>;
export type KeepOut = Camel<Static<typeof keepOut>>;
export type Units = LengthStyle;

type CamelKey<K> = K extends `${infer Head}-${infer Tail}` ? `${Head}${Capitalize<CamelKey<Tail>>}` : K;
export type Camel<T> = T extends number | string
  ? T
  : T extends readonly (infer Item)[]
    ? readonly Camel<Item>[]
    : { readonly [K in keyof T as CamelKey<K> & string]: Camel<T[K]> };

/** A node of the description as the reader walks it. */
export interface Shape {
  readonly description?: string;
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Shape>>;
  readonly required?: readonly string[];
  readonly items?: Shape;
  readonly reads?: Reads;
}

function leaf<T>(reads: Reads, shape: object, description: string) {
  return Unsafe<T>({ ...shape, description, reads });
}
