import type { Ring } from '../../src/geometry/shapes.ts';

/** An outline as segment-voronoi.cpp reads it: count of rings, then of each its count of points and their x, y in mm. */
export function packed(rings: readonly Ring[]): Buffer {
  return Buffer.concat([
    Buffer.from(Int32Array.of(rings.length).buffer),
    ...rings.flatMap((ring) => [
      Buffer.from(Int32Array.of(ring.length / 2).buffer),
      Buffer.from(Float64Array.from(ring).buffer),
    ]),
  ]);
}
