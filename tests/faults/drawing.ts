import { readArtwork } from '../../src/artwork/read.ts';
import { type Facts, factsOf } from '../../src/carve/facts.ts';
import type { Region, Ring } from '../../src/geometry/shapes.ts';
import { readJob } from '../../src/job/job.ts';
import { goodJob, withValues } from '../pairs.ts';
import { PAGE } from './designs.ts';

/** A pair as files: two drawings and what the job says otherwise than the good one. */
export interface Pair {
  readonly pocket: string;
  readonly plug: string;
  readonly job?: Readonly<Record<string, unknown>>;
}

export const MM_FRAME = `width="${PAGE}mm" height="${PAGE}mm" viewBox="0 0 ${PAGE} ${PAGE}"`;

/**
 * What is said otherwise than in tests/pairs.ts: light last passes and coarse wear, so that the thin parts of these
 * icons are no fault of their own and each planted fault stands alone.
 */
const JOB = {
  'plug.stock.width': 200,
  'plug.stock.length': 200,
  'limits.side-load': 0.02,
  'limits.tip-crumble-most': 50,
  'limits.tip-crumble-most-hard': 100,
  'limits.sanding-least': 0.1,
  'limits.sanding-least-hard': 0.05,
};

export function factsOfPair(pair: Pair): Facts {
  const text = JSON.stringify(withValues(withValues(goodJob(), JOB), pair.job ?? {}));
  const bytes = (svg: string) => new TextEncoder().encode(svg);
  return factsOf(
    readJob(text, 'planted.dryfit.yaml'),
    readArtwork(bytes(pair.pocket), 'pocket.svg'),
    readArtwork(bytes(pair.plug), 'plug.svg'),
  );
}

export function svg(inner: string, frame = MM_FRAME): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" ${frame}>\n${inner}\n</svg>\n`;
}

export function pathOf(region: Region, digits = 5): string {
  return `<path id="design" fill-rule="evenodd" d="${region.rings.map((ring) => dataOf(ring, digits)).join(' ')}"/>`;
}

export function dataOf(ring: Ring, digits = 5): string {
  const points: string[] = [];
  for (let k = 0; k < ring.length; k += 2)
    points.push(`${(ring[k] as number).toFixed(digits)} ${(ring[k + 1] as number).toFixed(digits)}`);
  return `M${points.join('L')}Z`;
}

/** Every point through a map; listed backwards when `turnsOver`, so that outer rings stay outer rings. */
export function moved(
  region: Region,
  map: (x: number, y: number) => readonly [number, number],
  turnsOver = false,
): Region {
  return {
    rings: region.rings.map((ring) => {
      const points: (readonly [number, number])[] = [];
      for (let k = 0; k < ring.length; k += 2) points.push(map(ring[k] as number, ring[k + 1] as number));
      return Float64Array.from((turnsOver ? points.reverse() : points).flat());
    }),
  };
}

/** Left to right about the middle of the page. */
export function mirrored(region: Region): Region {
  return moved(region, (x, y) => [PAGE - x, y], true);
}

export function drawn(region: Region): string {
  return svg(pathOf(region));
}
