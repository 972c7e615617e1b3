/** Which rings enclose a point, found through the edges that cross the point's level to its right. */
import { rightOf } from './ring.ts';
import { type Edges, FAN } from './tidy-edges.ts';

/** Calls `visit` with every ring that winds round (x, y) and how often (negative: the other way), in no set order. */
export type Around = (x: number, y: number, visit: (ring: number, winding: number) => void) => void;

/** Points on an edge are taken as in `windingNumber`. About log n plus the edges crossed per question. */
export function aroundIn({ rings, coords, owner, levels }: Edges): Around {
  const top = levels.length - 1;
  const windings = new Int32Array(rings.length); // zero between questions
  const met: number[] = [];
  const walk = (level: number, from: number, to: number, x: number, y: number): void => {
    const boxes = levels[level]!;
    for (let node = from; node < to; node++) {
      const k = node * 4;
      if (y < boxes[k + 1]! || y > boxes[k + 3]! || x > boxes[k + 2]!) continue;
      if (level > 0) {
        walk(level - 1, node * FAN, Math.min(node * FAN + FAN, levels[level - 1]!.length / 4), x, y);
        continue;
      }
      const ay = coords[k + 1]!;
      const by = coords[k + 3]!;
      if (ay <= y === by <= y || !rightOf(coords[k]!, ay, coords[k + 2]!, by, x, y)) continue;
      met.push(owner[node]!);
      windings[owner[node]!]! += by > ay ? 1 : -1;
    }
  };
  return (x, y, visit) => {
    walk(top, 0, levels[top]!.length / 4, x, y);
    for (const ring of met) {
      const winding = windings[ring]!;
      windings[ring] = 0;
      if (winding !== 0) visit(ring, winding);
    }
    met.length = 0;
  };
}
