import type { Artwork } from '../artwork/artwork.ts';
import { InputFault } from '../fault.ts';
import { comparePair, type PairMatch, type PairVerdict } from '../geometry/compare.ts';
import { reverseRegion } from '../geometry/region.ts';
import type { Point, Region, Ring } from '../geometry/shapes.ts';
import { tidy } from '../geometry/tidy.ts';
import { leastWidth } from '../geometry/width.ts';
import { LIMITS } from '../job/limits.ts';
import type { Outline } from '../job/schema.ts';
import { hear } from '../job/values.ts';
import type { Seen } from '../report/begin.ts';
import { type LengthStyle, MM_PER_INCH, show } from '../units.ts';
import { readDrawing } from './drawings.ts';

/** Outlines this near are one, mm. */
const ALIKE = LIMITS['mirror-deviation-most'].value;

/** Two drawings, measured. */
export interface Drawings {
  readonly seen: Seen;
  /** The unit the pocket is drawn in. */
  readonly units: LengthStyle;
  /** Whether the plug's drawing is the pocket's own and still has to be mirrored. */
  readonly isCopy: boolean;
}

/** `NAME.svg` or `NAME.svg#id` as it was typed. */
export function outlineOf(text: string): Outline {
  const heard = hear({ kind: 'value', place: {}, value: text, text }, { as: 'outline' }, 'mm');
  if ('wrong' in heard) throw new InputFault(heard.wrong);
  return heard.value as Outline;
}

/** Reads both drawings and measures what a job file can be begun with. */
export async function measureDrawings(pocket: Outline, plug: Outline): Promise<Drawings> {
  const pocketArt = await readDrawing(pocket);
  const plugArt = await readDrawing(plug);
  const pocketRegion = tidy(pocketArt.shapes).region;
  const plugRegion = tidy(plugArt.shapes).region;
  const match = comparePair(pocketRegion, plugRegion, ALIKE);
  const units = isInInches(pocketArt) ? 'in' : 'mm';
  const isCopy = match.verdict === 'copy' || match.verdict === 'turned-copy';
  const isMirror = match.verdict === 'mirror';
  const isWhole = isMirror && match.mirrored.deviation <= ALIKE;
  const pair = isMirror ? mirrorText(match, units) : PAIR_TEXT[match.verdict];
  const seen = {
    pocket: { ...extent(pocketRegion), narrow: leastWidth(pocketRegion.rings) },
    plug: { ...extent(plugRegion), land: leastWidth(reverseRegion(plugRegion)) },
    pair,
    cares: [
      ...(isWhole ? [] : [pair]),
      ...sizeCares(pocketArt, plugArt),
      ...leftOutCares(pocketArt, plugArt),
    ],
  };
  return { seen, units, isCopy };
}

function mirrorText(match: PairMatch, units: LengthStyle): string {
  const length = (value: number): string => show(value, 'mm', units);
  const { mirrored, missing, extra } = match;
  if (mirrored.deviation <= ALIKE)
    return `The plug is the pocket's mirror image, within ${length(mirrored.deviation)}.`;
  const where = ([x, y]: Point): string => `at ${length(x)}, ${length(y)}`;
  const [lost, more] = [missing[0], extra[0]];
  if (lost !== undefined)
    return `The plug lacks a piece of the pocket, ${where(lost.at)} in the pocket's drawing.`;
  if (more !== undefined)
    return `The plug has a piece that the pocket lacks, ${where(more.plugAt)} in the plug's drawing.`;
  return `The plug is the pocket's mirror image, but not everywhere: the outlines lie up to ${length(mirrored.deviation)} apart.`;
}

const PAIR_TEXT: Readonly<Record<Exclude<PairVerdict, 'mirror'>, string>> = {
  copy: 'The plug is drawn as a copy of the pocket, not as its mirror image.',
  'turned-copy': 'The plug is drawn as a turned copy of the pocket, not as its mirror image.',
  'scaled-mirror': "The plug is the pocket's mirror image at another size.",
  'scaled-copy': 'The plug is a copy of the pocket at another size, not its mirror image.',
  'grown-mirror': "The plug is the pocket's mirror image, but grown or shrunk all round.",
  'grown-copy': 'The plug is a copy of the pocket, grown or shrunk all round, not its mirror image.',
  'inside-out': 'The plug is drawn inside out: what should stand is drawn as cut away.',
  different: 'The plug is not the mirror image of the pocket: the drawings differ.',
};

function sizeCares(...drawings: readonly Artwork[]): string[] {
  return drawings
    .filter(({ size }) => size.stated !== 'physical')
    .map(({ file }) => `${file} does not state its size in mm or in; it was taken at 96 pixels to the inch.`);
}

function leftOutCares(...drawings: readonly Artwork[]): string[] {
  return drawings.flatMap(({ file, leftOut }) => {
    const count = leftOut.filter(({ matters }) => matters).length;
    return count === 0
      ? []
      : [`${file} holds ${count} things that are not read as outlines; dryfit check names them.`];
  });
}

/** One unit of the drawing an inch: nobody draws in inches by chance. */
function isInInches({ size }: Artwork): boolean {
  return size.stated === 'physical' && Math.abs(size.perUserUnit[0] / MM_PER_INCH - 1) < 1e-6;
}

function extent({ rings }: Region): { readonly width: number; readonly height: number } {
  const side = (first: 0 | 1): number => {
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    for (const ring of rings as readonly Ring[])
      for (let i = first; i < ring.length; i += 2) {
        least = Math.min(least, ring[i] as number);
        most = Math.max(most, ring[i] as number);
      }
    return most - least;
  };
  return { width: side(0), height: side(1) };
}
