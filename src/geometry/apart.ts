import { ringBox } from './ring.ts';
import type { Ring } from './shapes.ts';

/**
 * The rings in groups that have nothing to do with one another even when every outline moves outward by `reach` mm:
 * the boxes round rings of two groups, widened by it, do not meet. In the order of their first rings.
 */
export function apart(rings: readonly Ring[], reach: number): readonly (readonly Ring[])[] {
  const boxes = rings.map(ringBox);
  const leader = boxes.map((_, ring) => ring);
  const leaderOf = (ring: number): number => {
    let at = ring;
    while (leader[at] !== at) {
      leader[at] = leader[leader[at]!]!;
      at = leader[at]!;
    }
    return at;
  };
  let open: number[] = [];
  for (const ring of boxes.map((_, k) => k).sort((a, b) => boxes[a]!.minX - boxes[b]!.minX)) {
    const { minX, minY, maxY } = boxes[ring]!;
    open = open.filter((other) => boxes[other]!.maxX + reach >= minX - reach);
    for (const other of open) {
      const { minY: low, maxY: high } = boxes[other]!;
      if (high + reach < minY - reach || maxY + reach < low - reach) continue;
      const [a, b] = [leaderOf(ring), leaderOf(other)];
      leader[Math.max(a, b)] = Math.min(a, b);
    }
    open.push(ring);
  }
  const groups = new Map<number, Ring[]>();
  rings.forEach((ring, k) => {
    const group = groups.get(leaderOf(k));
    if (group) group.push(ring);
    else groups.set(leaderOf(k), [ring]);
  });
  return [...groups.values()];
}
