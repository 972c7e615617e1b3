import type { CauseKey } from '../advice/why-causes.ts';
import type { Measure } from '../advice/why-measures.ts';
import type { Sized } from '../advice/why-size.ts';
import type { Along, Part, Where } from '../job/seen.ts';
import { type LengthStyle, show, showBare, toDegrees } from '../units.ts';

/** What each cause is called when its size is above zero, and when it is below. */
const NAMES: Readonly<Record<CauseKey, readonly [above: string, below: string]>> = {
  'pocket-zero': [
    'Pocket cut too deep: its depth zero was off',
    'Pocket cut too shallow: its depth zero was off',
  ],
  'plug-zero': ['Plug cut too deep: its depth zero was off', 'Plug cut too shallow: its depth zero was off'],
  angle: ['Bit blunter than the job says', 'Bit more pointed than the job says'],
  tip: ['Tip flat wider than the job says (worn?)', 'Tip flat finer than the job says'],
  runout: ['Bit swings off its axis, to each side', ''],
  'pocket-hollow': ['Board was hollow when it was cut', 'Board was crowned when it was cut'],
  'plug-hollow': ['Plug stock was hollow when it was cut', 'Plug stock was crowned when it was cut'],
  'pocket-tilted': ['Board lay tilted: cut deeper towards the {way}', ''],
  'plug-tilted': ['Plug stock lay tilted: cut deeper at what is now the {way}', ''],
  'pocket-scale': ['Machine cut the pocket larger than drawn', 'Machine cut the pocket smaller than drawn'],
  'plug-scale': ['Machine cut the plug larger than drawn', 'Machine cut the plug smaller than drawn'],
  squareness: [
    'Axes of the machine out of square between the cuts',
    'Axes of the machine out of square between the cuts',
  ],
  'pocket-outline': ["Pocket's outline too wide all round", "Pocket's outline too narrow all round"],
  'plug-outline': ["Plug's outline too wide all round", "Plug's outline too narrow all round"],
  'held-aside': ['Plug held aside, towards the {way}, when it was pressed in', ''],
  turned: [
    'Plug held turned clockwise when it was pressed in',
    'Plug held turned anticlockwise when it was pressed in',
  ],
  'not-home': ['Not pressed home', ''],
  crooked: ['Pressed in crooked: higher towards the {way}', ''],
  'floor-filled': ["Dust or glue on the pocket's floor", ''],
};

const WAYS = [
  'right',
  'bottom right',
  'bottom',
  'bottom left',
  'left',
  'top left',
  'top',
  'top right',
] as const;

/** A cause in words, with its direction as seen from above onto the board. */
export function causeName({ cause, size, direction }: Pick<Sized, 'cause' | 'size' | 'direction'>): string {
  const [above, below] = NAMES[cause.key];
  const way = WAYS[Math.round((direction * 4) / Math.PI + 8) % 8] as string;
  return (size < 0 ? below : above).replace('{way}', way);
}

/** How large a cause would have to be, without its sign. */
export function sizeText({ cause, size }: Pick<Sized, 'cause' | 'size'>, style: LengthStyle): string {
  return amountText(cause.counts, Math.abs(size), style);
}

export function usualText({ cause }: Pick<Sized, 'cause'>, style: LengthStyle): string {
  return amountText(cause.counts, cause.usual, style);
}

function amountText(counts: Sized['cause']['counts'], size: number, style: LengthStyle): string {
  if (counts === 'angle') return show(toDegrees(size), 'deg', style);
  return counts === 'share' ? show(100 * size, '%', style) : show(size, 'mm', style);
}

/** Sizes up to so many times the usual one, in words. */
const PLAUSIBLE = [
  [1.5, 'usual in a shop'],
  [4, 'more than usual'],
  [12, 'a slip'],
] as const;

export function plausibleWord({ cause, size }: Pick<Sized, 'cause' | 'size'>): string {
  const times = Math.abs(size) / cause.usual;
  return PLAUSIBLE.find(([most]) => times <= most)?.[1] ?? 'hard to believe';
}

const KINDS: Readonly<Record<Measure['kind'], string>> = {
  proud: 'how far it stands proud',
  gap: 'the line at the rim',
  'saw-gap': "the room between the board's face and the plug stock",
  'glue-gap': 'the room under the plug, by a bit of putty on the floor',
  'pocket-depth': "the pocket's depth",
  'plug-height': "the plug's height above the ground round it",
  'pocket-size': "the length of the pocket's mouth",
  'plug-size': "the length of the plug's face, as it lies in its pocket",
  diagonals:
    'how much longer a part is from top left to bottom right than from bottom left to top right, the same callipers on both',
  'board-hollow': 'how hollow the board is under a straightedge',
  'stock-hollow': 'how hollow the plug stock is under a straightedge',
  'tip-flat': "the width of the bit's tip, under a lens",
  angle: "the bit's included angle, by a test groove",
  runout: 'how far a dial gauge on the bit goes to and fro in one turn',
  'after-cleaning': 'how far it stands proud once both are brushed out',
  'after-clamping': 'how far it stands proud once taken out, put in again and pressed hard',
  rocks: 'whether it rocks when its ends are pressed in turn',
};

/** What is measured, in words. */
export const measureName = (kind: Measure['kind']): string => KINDS[kind];

const SPANS: Readonly<Record<Along, string>> = {
  x: 'across',
  y: 'up and down',
  falling: 'top left to bottom right',
  rising: 'bottom left to top right',
};

const OF: Readonly<Record<Part, string>> = { pocket: "pocket's mouth", plug: "plug's face" };

/** Where, in words; empty where there is only one place. */
export function measurePlace(measure: Measure, style: LengthStyle): string {
  if ('of' in measure) return OF[measure.of];
  if ('along' in measure) return SPANS[measure.along];
  return 'where' in measure ? placeText(measure.where, style) : '';
}

function placeText(where: Where, style: LengthStyle): string {
  if (typeof where === 'string') return `${where.replace('-', ' ')}`;
  return `${showBare(where[0], 'mm', style)}, ${show(where[1], 'mm', style)}`;
}

/** A reading's value in its own unit. */
export function readingText(kind: Measure['kind'], value: number, style: LengthStyle): string {
  return kind === 'angle' ? show(toDegrees(value), 'deg', style) : show(value, 'mm', style);
}
