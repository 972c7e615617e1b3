import { grow } from '../../src/geometry/offset.ts';
import { partsOf } from '../../src/geometry/region.ts';
import { boxOf, signedArea } from '../../src/geometry/ring.ts';
import type { Point, Region, Ring } from '../../src/geometry/shapes.ts';
import { outlines } from '../reference/width-outlines.ts';

/** Side of the square page every pair is drawn on, mm; the design stands in its middle. */
export const PAGE = 160;

/** A design to plant faults in, in mm on the page. */
export interface Design {
  readonly name: string;
  readonly region: Region;
  /** Where the largest disc fits inside it, with its radius: room for a fault of our own. */
  readonly roomy: { readonly at: Point; readonly radius: number };
}

/** Icons and letters with broad parts; those that are hair lines throughout leave no room to plant anything. */
const NAMES = [
  'acorn',
  'barn-owl',
  'butterfly',
  'fern',
  'flatfish',
  'fox',
  'ginkgo-leaf',
  'heron',
  'hummingbird',
  'oak-leaf',
  'teapot',
  'uncial-antiqua a',
];

/** Larger than the drawings they come from, so that most of their strokes take a bit. */
export const ACROSS = 120;
/** Leftovers of joining the strokes of an icon, mm2: no part of anybody's design. */
export const DUST = 0.1;

export function designs(names: readonly string[] = NAMES): readonly Design[] {
  return outlines()
    .filter(({ name }) => names.includes(name))
    .map(({ name, rings }) => designOf(name, { rings: onPage(rings) }));
}

export function designOf(name: string, region: Region): Design {
  return { name, region, roomy: roomiest(region) };
}

export function onPage(rings: readonly Ring[]): Ring[] {
  const box = boxOf(rings);
  const scale = ACROSS / Math.max(box.maxX - box.minX, box.maxY - box.minY);
  const middle = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2] as const;
  return rings
    .map((ring) => ring.map((v, k) => PAGE / 2 + scale * (v - (middle[k % 2] as number))))
    .filter((ring) => Math.abs(signedArea(ring)) > DUST);
}

/** By shrinking until nothing is left, halving the step each time that it is. */
function roomiest(region: Region): Design['roomy'] {
  let radius = 0;
  let left = region;
  for (let step = 16; step > 0.05; step /= 2) {
    const less = grow(region, -(radius + step));
    if (less.rings.length === 0) continue;
    radius += step;
    left = less;
  }
  const ring = left.rings.reduce((a, b) => (signedArea(b) > signedArea(a) ? b : a));
  return { at: [ring[0] as number, ring[1] as number], radius };
}

/** One region for each connected piece, the largest first. */
export function piecesOf(region: Region): readonly Region[] {
  return partsOf(region)
    .map(({ outer, holes }) => ({ rings: [outer, ...holes].map((r) => region.rings[r] as Ring) }))
    .sort((a, b) => signedArea(b.rings[0] as Ring) - signedArea(a.rings[0] as Ring));
}

/** Numbers from 0 to 1, the same for the same seed (mulberry32, public domain, from memory). */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
