import { createRequire } from 'node:module';
import type { Ring } from '../../src/geometry/shapes.ts';

/** Real coast lines (world-atlas, public domain data from the package registry), laid flat and scaled to 400 mm. */
export interface Size {
  readonly name: string;
  readonly rings: readonly Ring[];
  readonly vertices: number;
}

const ACROSS = 400; // mm for 360 degrees of longitude

const load = createRequire(import.meta.url);

export function sizes(): readonly Size[] {
  const small = coasts('land-110m');
  return [
    sized('1 k', fewest(small, 1000)),
    sized('5 k', small),
    sized('59 k', coasts('land-50m')),
    sized('405 k', coasts('land-10m')),
  ];
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

function coasts(name: string): readonly Ring[] {
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
