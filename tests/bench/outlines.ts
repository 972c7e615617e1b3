import { createRequire } from 'node:module';
import type { Ring } from '../../src/geometry/shapes.ts';
import { outlines } from '../reference/width-outlines.ts';

/** Outlines of one size. */
export interface Size {
  readonly name: string;
  readonly rings: readonly Ring[];
  readonly vertices: number;
}

const PITCH = 150; // mm from design to design
const ACROSS = 400; // mm for 360 degrees of longitude

const load = createRequire(import.meta.url);

/** Coast lines (world-atlas, public domain data), laid flat and scaled to 400 mm: jagged, narrow nearly everywhere. */
export function coastSizes(): readonly Size[] {
  const small = coasts('land-110m');
  return [
    sized('coasts', fewest(small, 1000)),
    sized('coasts', small),
    sized('coasts', coasts('land-50m')),
    sized('coasts', coasts('land-10m')),
  ];
}

/** Icons and ornate letters 100 mm across, set out in rows until there are so many segments: what is carved. */
export function designSizes(): readonly Size[] {
  const designs = outlines();
  return [1000, 10_000, 100_000].map((least) => {
    const rings: Ring[] = [];
    for (let n = 0, vertices = 0; vertices < least; n++) {
      const [dx, dy] = [PITCH * (n % 8), PITCH * Math.floor(n / 8)];
      for (const ring of designs[n % designs.length]?.rings ?? []) {
        rings.push(ring.map((v, i) => v + (i % 2 === 0 ? dx : dy)));
        vertices += ring.length / 2;
      }
    }
    return sized('designs', rings);
  });
}

/** The longest outlines of a set, as many as hold at most `most` vertices. */
function fewest(rings: readonly Ring[], most: number): readonly Ring[] {
  let left = most;
  return [...rings]
    .sort((a, b) => b.length - a.length)
    .filter((ring) => {
      const fits = ring.length / 2 <= left;
      if (fits) left -= ring.length / 2;
      return fits;
    });
}

function sized(name: string, rings: readonly Ring[]): Size {
  return { name, rings, vertices: rings.reduce((sum, ring) => sum + ring.length / 2, 0) };
}

type Position = readonly [longitude: number, latitude: number];

interface Land {
  readonly features: readonly {
    readonly geometry: { readonly coordinates: readonly (readonly (readonly Position[])[])[] };
  }[];
}

/** Every coast line of a set, 400 mm for the whole round of the earth. */
export function coasts(name: string): readonly Ring[] {
  const { feature } = load('topojson-client') as { feature: (topology: unknown, object: unknown) => Land };
  const topology = load(`world-atlas/${name}.json`) as { objects: { land: unknown } };
  const scale = ACROSS / 360;
  return feature(topology, topology.objects.land).features.flatMap(({ geometry }) =>
    geometry.coordinates.flatMap((polygon) =>
      polygon.map(
        (ring) =>
          new Float64Array(ring.slice(0, -1).flatMap(([x, y]) => [(x + 180) * scale, (90 - y) * scale])),
      ),
    ),
  );
}
