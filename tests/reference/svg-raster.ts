import type { Region } from '../../src/geometry/shapes.ts';

/** Sub-scanlines a pixel row is sampled with; along the row the coverage is exact. */
const ROWS = 8;

/**
 * Paints a region (millimetres) on square pixels and counts as a browser's picture was counted: pieces are pixels
 * covered by half or more that touch at sides or corners; holes are uncovered fields, joined at sides, that do not
 * reach the edge. Thin links and points of contact come out as they do there.
 */
export function countOnPixels(region: Region, pixelMm: number): { components: number; holes: number } {
  const points = region.rings.flatMap((ring) => [...ring]);
  if (points.length === 0) return { components: 0, holes: 0 };
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 2) {
    minX = Math.min(minX, points[i]!);
    maxX = Math.max(maxX, points[i]!);
    minY = Math.min(minY, points[i + 1]!);
    maxY = Math.max(maxY, points[i + 1]!);
  }
  // Pixels lie where the browser's do: their corners are whole multiples from the page's corner.
  const left = Math.floor(minX / pixelMm) - 2;
  const top = Math.floor(minY / pixelMm) - 2;
  const width = Math.ceil(maxX / pixelMm) + 2 - left;
  const height = Math.ceil(maxY / pixelMm) + 2 - top;
  const cover = new Float32Array(width * height);
  const edges = edgesOf(region);
  for (let row = 0; row < height; row++) {
    const [from, to] = [(top + row) * pixelMm, (top + row + 1) * pixelMm];
    const near = edges.filter(([, y0, , y1]) => Math.min(y0, y1) <= to && Math.max(y0, y1) >= from);
    for (let k = 0; k < ROWS; k++)
      for (const [x0, x1] of spansAt(near, from + ((k + 0.5) / ROWS) * pixelMm))
        addSpan(cover, row * width, width, x0 / pixelMm - left, x1 / pixelMm - left);
  }
  const dark = Uint8Array.from(cover, (share) => (share >= ROWS * (128 / 255) ? 1 : 0));
  return { components: countFields(dark, width, 1), holes: countFields(dark, width, 0) - 1 };
}

type Edge = readonly [x0: number, y0: number, x1: number, y1: number];

function edgesOf(region: Region): Edge[] {
  const edges: Edge[] = [];
  for (const ring of region.rings)
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2)
      edges.push([ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!]);
  return edges;
}

/** Clean rings: inside lies between the 1st and 2nd crossing, the 3rd and 4th, and so on. */
function spansAt(edges: readonly Edge[], y: number): [number, number][] {
  const crossings: number[] = [];
  for (const [x0, y0, x1, y1] of edges)
    if (y0 <= y !== y1 <= y) crossings.push(x0 + ((y - y0) / (y1 - y0)) * (x1 - x0));
  crossings.sort((a, b) => a - b);
  const spans: [number, number][] = [];
  for (let i = 0; i + 1 < crossings.length; i += 2) spans.push([crossings[i]!, crossings[i + 1]!]);
  return spans;
}

function addSpan(cover: Float32Array, row: number, width: number, from: number, to: number): void {
  for (let x = Math.max(0, Math.floor(from)); x < Math.min(width, to); x++)
    cover[row + x]! += Math.min(x + 1, to) - Math.max(x, from);
}

function countFields(dark: Uint8Array, width: number, wanted: 0 | 1): number {
  const steps =
    wanted === 1
      ? [1, -1, width, -width, width + 1, width - 1, -width + 1, -width - 1]
      : [1, -1, width, -width];
  const seen = new Uint8Array(dark.length);
  let count = 0;
  for (let start = 0; start < dark.length; start++) {
    if (dark[start] !== wanted || seen[start] === 1) continue;
    count++;
    const waiting = [start];
    seen[start] = 1;
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop())
      for (const step of steps) {
        const next = at + step;
        const wraps = Math.abs((next % width) - (at % width)) > 1;
        if (wraps || next < 0 || next >= dark.length || seen[next] === 1 || dark[next] !== wanted) continue;
        seen[next] = 1;
        waiting.push(next);
      }
  }
  return count;
}
