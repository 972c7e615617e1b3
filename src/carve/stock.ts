import { grow } from '../geometry/offset.ts';
import { overlapArea } from '../geometry/overlap.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Box, Point, Region } from '../geometry/shapes.ts';

/** The cut as the stock sees it: tan of half the bit's angle, half its tip flat, mm; depths from the stock's face. */
export interface SweptBy {
  readonly taper: number;
  readonly tip: number;
  /** Depth below the face at which the drawn outline lies (the start depth), mm. */
  readonly start: number;
  /** Depth of the flat below that, mm. */
  readonly flat: number;
  /** Diameter of the clearing bit, mm; undefined when none is used. */
  readonly clearing?: number | undefined;
}

/**
 * How far outside the plug's outline the bits cut at the stock's face, mm. The V-bit's centre runs tip + flat x taper
 * outside the outline, and at full depth it is that wide again at the face: tip + (start + flat) x taper. A clearing
 * bit keeps flat x taper off and clears its own diameter. More than one lap round clears more and needs more.
 */
export function plugBorder({ taper, tip, start, flat, clearing }: SweptBy): number {
  const byV = tip + flat * taper + tip + (start + flat) * taper;
  return Math.max(byV, clearing === undefined ? 0 : flat * taper + clearing);
}

/**
 * How far outside the pocket's outline the bit cuts at the board's face, mm: nothing when the outline lies in the
 * surface, start x taper when it lies below. `start` is the pocket's.
 */
export function pocketBorder({ taper, start }: Pick<SweptBy, 'taper' | 'start'>): number {
  return taper * start;
}

/** A piece of stock in the drawing's frame, mm: `width` along x, `length` along y; `left`, `top` where known. */
export interface StockSize {
  readonly width?: number | undefined;
  readonly length?: number | undefined;
  readonly left?: number | undefined;
  readonly top?: number | undefined;
}

export interface StockMargin {
  /**
   * Wood left round the outline, mm: the narrowest side where the stock's place is known; otherwise half of what is
   * over, as if centred. Negative: the stock is smaller than the design. Undefined: size not stated.
   */
  readonly margin: number | undefined;
  /** The narrowest side's name; undefined when the place is not known. */
  readonly side: 'left' | 'right' | 'top' | 'bottom' | undefined;
  /** Whether the margin was reckoned as if the design lay centred. */
  readonly centred: boolean;
  /** The margin were the stock turned a quarter under the drawing (it changes the grain too); for a mend. */
  readonly turned: number | undefined;
  /** The design's own size, mm. */
  readonly size: { readonly width: number; readonly length: number };
}

/** The design against its stock. */
export function stockMargin(outline: Region, stock: StockSize): StockMargin {
  const box = boxOf(outline.rings);
  const size = { width: box.maxX - box.minX, length: box.maxY - box.minY };
  const { width, length } = stock;
  const sides = sidesLeft(box, stock);
  const nearest = sides.reduce<(typeof sides)[number] | undefined>(
    (a, b) => (a && a.left <= b.left ? a : b),
    undefined,
  );
  const centred = least(over(width, size.width), over(length, size.length));
  const turned = least(over(length, size.width), over(width, size.length));
  return {
    margin: nearest ? nearest.left : centred,
    side: nearest?.side,
    centred: nearest === undefined,
    turned,
    size,
  };
}

function sidesLeft(
  box: Box,
  { left, top, width, length }: StockSize,
): readonly { readonly side: NonNullable<StockMargin['side']>; readonly left: number }[] {
  if (left === undefined || top === undefined) return [];
  return [
    { side: 'left' as const, left: box.minX - left },
    { side: 'top' as const, left: box.minY - top },
    ...(width === undefined ? [] : [{ side: 'right' as const, left: left + width - box.maxX }]),
    ...(length === undefined ? [] : [{ side: 'bottom' as const, left: top + length - box.maxY }]),
  ];
}

function over(have: number | undefined, need: number): number | undefined {
  return have === undefined ? undefined : (have - need) / 2;
}

function least(a: number | undefined, b: number | undefined): number | undefined {
  if (a === undefined) return b;
  return b === undefined ? a : Math.min(a, b);
}

/** Everything the bits sweep at the face: the outline grown by the border. */
export function sweptAt(outline: Region, border: number): Region {
  return grow(outline, border);
}

/**
 * The nut that holds the bit, going round with it: `diameter` and `stickOut` mm (tip of the bit to the nut). At cut
 * depth `depth` it hangs stickOut - depth above the face; anything higher than that within `reach` mm of the outline
 * (where the bit's centre goes, and half the nut) is hit.
 */
export function nutSweep(
  centreOutside: number,
  depth: number,
  nut: { readonly diameter: number; readonly stickOut: number },
): { readonly reach: number; readonly height: number } {
  return { reach: centreOutside + nut.diameter / 2, height: nut.stickOut - depth };
}

/** Something on the stock that no bit may reach: its shape in the drawing's frame, mm. */
export interface KeepOutShape {
  readonly name: string;
  readonly shape: Region;
  /** How far it stands above the stock's face; undefined: not stated, so taken as too high for the nut. */
  readonly height?: number | undefined;
}

export interface KeepOutHit {
  readonly name: string;
  /** What meets it: the bit's cut, or the nut that hangs above. */
  readonly by: 'bit' | 'nut';
  /** mm2 of it that is swept, and a place inside that. */
  readonly area: number;
  /** How far that area may be off, mm2. */
  readonly give: number;
  readonly at: Point;
}

/** Keep-outs that the bits sweep, and those higher than the nut hangs within its round. The bit's come first. */
export function keepOutHits(
  outline: Region,
  border: number,
  keepOuts: readonly KeepOutShape[],
  nut?: { readonly reach: number; readonly height: number },
): readonly KeepOutHit[] {
  if (keepOuts.length === 0) return [];
  const hits = (by: KeepOutHit['by'], swept: Region, of: readonly KeepOutShape[]): readonly KeepOutHit[] =>
    of.flatMap(({ name, shape }) => {
      const overlap = overlapArea(swept, shape);
      return overlap ? [{ name, by, ...overlap }] : [];
    });
  const byBit = hits('bit', sweptAt(outline, border), keepOuts);
  if (!nut) return byBit;
  const high = keepOuts.filter((k) => k.height === undefined || k.height > nut.height);
  return [...byBit, ...hits('nut', sweptAt(outline, nut.reach), high)];
}
