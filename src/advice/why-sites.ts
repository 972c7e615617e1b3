import { spotsAlong, touchingDisc } from '../carve/cut-disc.ts';
import type { Pair } from '../carve/fit.ts';
import type { Point } from '../geometry/shapes.ts';
import type { PlaceWord } from '../job/seen-schema.ts';

/** A place of the rim where a line is looked for. */
export interface Site {
  readonly at: Point;
  /** Direction of the board from here. */
  readonly normal: Point;
  /** Half the local width of the stroke, mm; never more than twice what counts as thin. */
  readonly half: number;
  /** Whether the stroke is so narrow that its walls meet before the plug's face. */
  readonly thin: boolean;
}

/** Places of the rim in all; corners are left out, for a feeler does not tell them. */
const SITES = 72;
/** How finely the rim is looked over for a place that is told, mm. */
const FINE = 0.5;
/** Edges that turn by more than this are corners, radians. */
const CORNER = 0.3;

/** Evenly spread places of the rim, in the order of the outline. */
export function sitesOf(all: readonly Site[], count = SITES): readonly Site[] {
  const step = Math.max(1, all.length / count);
  return Array.from({ length: Math.min(all.length, count) }, (_, k) => all[Math.floor(k * step)] as Site);
}

/** The place of the rim nearest to a point, and how far off it is, mm. */
export function siteNear(
  all: readonly Site[],
  [x, y]: Point,
): { readonly site: Site; readonly away: number } | undefined {
  let best: { site: Site; away: number } | undefined;
  for (const site of all) {
    const away = Math.hypot(site.at[0] - x, site.at[1] - y);
    if (best === undefined || away < best.away) best = { site, away };
  }
  return best;
}

/** Every place of the rim that is no corner. */
export function everySite(pair: Pair): readonly Site[] {
  const { t, r } = pair.pocket.real;
  const limit = pair.input.plugStart * t + r;
  const coords = pair.pocketTree.coords;
  let length = 0;
  for (let q = 0; q < coords.length; q += 4)
    length += Math.hypot(
      (coords[q + 2] as number) - (coords[q] as number),
      (coords[q + 3] as number) - (coords[q + 1] as number),
    );
  return spotsAlong(pair.pocketTree, -1, Math.max(FINE, length / 2000), CORNER)
    .filter(({ turn, x, y }) => turn === 0 && Number.isFinite(pair.pocket.wall(x, y)))
    .map(({ segment, x, y, nx, ny }) => {
      const half = touchingDisc(pair.pocketTree, segment, x, y, -nx, -ny, 2 * limit).r;
      return { at: [x, y], normal: [nx, ny], half, thin: half <= limit };
    });
}

/** A place in a word as a point: the middle of the plug, of a side or a corner of its box. */
export function pointOf(pair: Pair, word: PlaceWord): Point {
  const { minX, maxX, minY, maxY } = pair.box;
  if (word === 'middle') return pair.middle;
  const x = word.includes('left') ? minX : word.includes('right') ? maxX : (minX + maxX) / 2;
  const y = word.includes('top') ? minY : word.includes('bottom') ? maxY : (minY + maxY) / 2;
  return [x, y];
}
