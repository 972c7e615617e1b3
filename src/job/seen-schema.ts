import type { Camel } from './schema.ts';
import { bitAngle, choice, keys, ListOf, length, Optional, type Static } from './schema.ts';

/** Where on the inlay, seen from above onto the board: the drawing of the pocket, x right, y down. */
export const PLACE_WORDS = [
  'middle',
  'left',
  'right',
  'top',
  'bottom',
  'top-left',
  'top-right',
  'bottom-left',
  'bottom-right',
] as const;
export type PlaceWord = (typeof PLACE_WORDS)[number];

/** Where alone a line is seen. */
export const GAP_WORDS = [
  'nowhere',
  'all-round',
  'one-side',
  'left',
  'right',
  'top',
  'bottom',
  'one-region',
  'thin-strokes',
  'wide-parts',
] as const;
export type GapWord = (typeof GAP_WORDS)[number];

const YES_NO = ['yes', 'no'] as const;

const spots = (means: string, sign: 'any' | 'zero-or-more' | 'positive') =>
  Optional(
    ListOf(
      keys('one reading: how much, and where', {
        at: Optional(choice(PLACE_WORDS, 'the place in a word, as seen from above onto the board')),
        x: Optional(length("the place in the pocket's drawing", 'any')),
        y: Optional(length("the place in the pocket's drawing", 'any')),
        by: length('how much was measured', sign),
      }),
      { description: means },
    ),
  );
const across = (means: string) =>
  Optional(
    keys(means, {
      x: Optional(length('along x of the drawing')),
      y: Optional(length('along y of the drawing')),
      falling: Optional(length('aslant, from top left to bottom right')),
      rising: Optional(length('aslant, from bottom left to top right')),
    }),
  );

/** What a maker saw and measured at a test fit; every key but `units` may be left out. */
export const seenShape = keys('what was seen at a test fit', {
  units: choice(['mm', 'in'], 'what a bare number means'),
  accuracy: Optional(
    length('how exact the measuring is: two readings in three are this near; 0.05 mm unless stated'),
  ),
  pressed: Optional(choice(['hand', 'caul'], 'pressed by hand in the middle, or held level under a caul')),
  proud: spots('how far the plug stands above where it should sit; below zero where it is low', 'any'),
  gap: spots('the line between plug and board at the rim', 'zero-or-more'),
  'saw-gap': spots("the room between the board's face and the plug stock", 'zero-or-more'),
  rocks: Optional(choice(YES_NO, 'whether it rocks when its edges are pressed in turn')),
  sinks: Optional(choice(YES_NO, 'whether it goes in further than it should')),
  'gap-only': Optional(choice(GAP_WORDS, 'where alone a line is seen')),
  'glue-gap': spots(
    "the room between the plug's face and the pocket's floor, by a bit of putty",
    'zero-or-more',
  ),
  'pocket-depth': spots("from the board's face to the pocket's floor, by a depth gauge", 'positive'),
  'plug-height': spots("from the ground round the plug up to the plug's face", 'positive'),
  'pocket-size': across("the pocket's mouth, from its one end to the other"),
  'plug-size': across("the plug's face, from its one end to the other"),
  diagonals: Optional(
    keys('how much longer a part is from top left to bottom right than from bottom left to top right', {
      pocket: Optional(length("of the pocket's mouth; below zero where it is shorter", 'any')),
      plug: Optional(length("of the plug's face, as it lies in its pocket", 'any')),
    }),
  ),
  'board-hollow': Optional(
    length('how far the middle of the board lies below a straightedge over the inlay', 'any'),
  ),
  'stock-hollow': Optional(length('the same for the plug stock', 'any')),
  'tip-flat': Optional(length("the width of the bit's tip under a lens", 'zero-or-more')),
  angle: Optional(bitAngle('the included angle that a test groove shows')),
  runout: Optional(
    length(
      'how far a dial gauge on the bit goes to and fro in one turn: twice the swing to one side',
      'zero-or-more',
    ),
  ),
  'after-cleaning': Optional(length('how far it stands proud once pocket and plug are brushed out', 'any')),
  'after-clamping': spots(
    'how far it stands proud once taken out, put in again and pressed hard under a caul',
    'any',
  ),
});

export type SeenKeys = Camel<Static<typeof seenShape>>;
