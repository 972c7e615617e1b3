import type { Pair } from '../../src/carve/fit.ts';
import type { Place } from '../../src/carve/seat-place.ts';

export type Depth = (x: number, y: number) => number;

/** A pair whose cuts are told by formulas, so that hundreds of questions cost nothing; lengths mm. */
export function formulaPair({
  pocket,
  plug,
  tp = 0.3,
  tq = 0.2,
  r = 0.05,
  mating = 1,
  middle = [100, -70],
}: {
  readonly pocket: Depth;
  readonly plug: Depth;
  readonly tp?: number;
  readonly tq?: number;
  readonly r?: number;
  readonly mating?: number;
  readonly middle?: readonly [number, number];
}): Pair {
  const cut = (depth: Depth, t: number) => {
    const real = { t, r, ball: 0 };
    return { depth, real, nominal: real };
  };
  const [x, y] = middle;
  return {
    mating,
    middle,
    box: { minX: x - 4, minY: y - 3, maxX: x + 4, maxY: y + 3 },
    pocket: cut(pocket, tp),
    plug: cut(plug, tq),
  } as unknown as Pair;
}

/** A place of such a pair. */
export function placeIn(pair: Pair, rides: Place['rides'], x: number, y: number): Place {
  const [part, other] = rides === 'plug' ? [pair.plug, pair.pocket] : [pair.pocket, pair.plug];
  const own = part.depth(x, y);
  const lift = pair.mating - own - other.depth(x, y);
  const feature = rides === 'plug' ? 'ridge' : 'land';
  return { x, y, rides, feature, own, lift, nx: 1, ny: 0, half: 0, angle: undefined };
}
