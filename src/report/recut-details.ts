import type { Recut } from '../advice/recut.ts';
import type { Point, Region } from '../geometry/shapes.ts';
import { at2 } from './html-text.ts';

/** One detail: a round window on a place, many times enlarged. */
interface Detail {
  readonly letter: string;
  readonly at: Point;
  readonly perMm: number;
  readonly says: string;
}

export interface Details {
  readonly high: number;
  readonly drawn: string;
  /** Rings on the plan that say where each window looks. */
  readonly marks: (toScreen: (at: Point) => Point) => string;
}

const RADIUS = 96;
const STEP = 236;
/** Screen length that the growth gets in a window. */
const GROWTH_SHOWN = 24;
/** Screen length that a land or stroke beside it should get at most. */
const LAND_SHOWN = 110;
const LEAST_TIMES = 2;

/** Windows on the places where old and new are worth a close look; none where nothing grows. */
export function recutDetails(plan: Recut, perMm: number): Details {
  const details = detailsOf(plan, perMm);
  return {
    high: details.length * STEP,
    drawn: details.map((detail, k) => windowOf(detail, k * STEP)).join(''),
    marks: (toScreen) => details.map((detail) => markOf(detail, toScreen(detail.at), perMm)).join(''),
  };
}

function detailsOf(plan: Recut, perMm: number): readonly Detail[] {
  const { growth, facts, left, leftAtLess, lands } = plan;
  if (growth.taken <= 0) return [];
  const scale = Math.max(LEAST_TIMES * perMm, GROWTH_SHOWN / growth.taken);
  const found: Omit<Detail, 'letter'>[] = [];
  const put = (at: Point | undefined, says: string, most = scale): void => {
    if (at !== undefined)
      found.push({ at, says, perMm: Math.min(scale, Math.max(most, LEAST_TIMES * perMm)) });
  };
  put(left[0]?.at ?? leftAtLess[0]?.at, left.length > 0 ? 'old wood is left' : 'where growth decides');
  const land = lands[0] ?? landOf(plan);
  if (land !== undefined) put(land.at, 'narrowest land', LAND_SHOWN / Math.max(land.before, growth.taken));
  put(sharpestCorner(facts.region('pocket')), 'sharpest outward corner');
  return found.map((detail, k) => ({ ...detail, letter: 'ABC'[k] as string }));
}

function landOf({ facts }: Recut): { readonly at: Point; readonly before: number } | undefined {
  const land = facts.leastLand('pocket');
  return land === undefined ? undefined : { at: land.at, before: land.width };
}

/** The corner where the edge turns most towards the wood; undefined where there is none sharper than 150 degrees. */
function sharpestCorner({ rings }: Region): Point | undefined {
  let most = Math.PI / 6;
  let found: Point | undefined;
  for (const ring of rings)
    for (let k = 0; k < ring.length; k += 2) {
      const at = (step: number): Point => {
        const i = (k + step + ring.length) % ring.length;
        return [ring[i] as number, ring[i + 1] as number];
      };
      const [[ax, ay], [bx, by], [cx, cy]] = [at(-2), at(0), at(2)];
      const cross = (bx - ax) * (cy - by) - (by - ay) * (cx - bx);
      const turn = Math.atan2(cross, (bx - ax) * (cx - bx) + (by - ay) * (cy - by));
      if (turn > most) [most, found] = [turn, [bx, by]];
    }
  return found;
}

function windowOf({ letter, at, perMm, says }: Detail, top: number): string {
  const [cx, cy] = [RADIUS + 4, top + RADIUS + 4];
  const shift = `translate(${at2(cx - at[0] * perMm)} ${at2(cy - at[1] * perMm)}) scale(${perMm.toFixed(3)})`;
  return `<clipPath id="in-${letter}"><circle cx="${cx}" cy="${cy}" r="${RADIUS}"/></clipPath>
<g clip-path="url(#in-${letter})"><g transform="${shift}"><use class="filled" href="#new"/><use class="hurt" href="#hurt"/><use class="was" href="#was"/><use class="new" href="#new"/></g></g>
<circle class="around" cx="${cx}" cy="${cy}" r="${RADIUS}"/><text class="title" x="${cx + RADIUS + 8}" y="${top + 24}">${letter}</text>
<text class="faint" x="${cx + RADIUS + 8}" y="${top + 44}">${perMm >= 10 ? Math.round(perMm / 3.78) : (perMm / 3.78).toFixed(1)} : 1</text><text class="middle" x="${cx}" y="${top + 2 * RADIUS + 24}">${says}</text>`;
}

function markOf({ letter, perMm }: Detail, [x, y]: Point, planPerMm: number): string {
  const radius = Math.max(5, (RADIUS / perMm) * planPerMm);
  return `<circle class="around" cx="${at2(x)}" cy="${at2(y)}" r="${at2(radius)}"/><text class="number" x="${at2(x + radius + 8)}" y="${at2(y - radius + 2)}">${letter}</text>`;
}
