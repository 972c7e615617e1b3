/**
 * An outline as segment-voronoi.cpp reads it: count of rings, then of each its count of points and their x, y.
 * @param {readonly Float64Array[]} rings millimetres
 */
export function packed(rings) {
  const parts = [Buffer.from(Int32Array.of(rings.length).buffer)];
  for (const ring of rings) {
    parts.push(
      Buffer.from(Int32Array.of(ring.length / 2).buffer),
      Buffer.from(Float64Array.from(ring).buffer),
    );
  }
  return Buffer.concat(parts);
}
