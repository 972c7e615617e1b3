import type { Held } from './choose-held.ts';
import { type Depth, isLeastDepth, type Space } from './choose-space.ts';

/** How far one depth may go while the other two are at their least, mm, and what ends it. */
export interface Range {
  readonly least: number;
  /** The check that asks for so much, by its id; `pocket.start-depth` where the pocket's own start does. */
  readonly leastBy: string;
  readonly most: number;
  /** Undefined when nothing that the job tells ends it. */
  readonly mostBy: Held | undefined;
}

export type Ranges = Readonly<Record<keyof Depth, Range>>;

/** A depth beyond this is no inlay's, mm. */
const DEEPEST = 60;
/** Halvings at most; the span is told by then. */
const STEPS = 40;
/** Depths are set no finer, mm; the quick limits take no time and are found nearer. */
const FINE = 0.01;
const FINER = 1e-4;

/**
 * The range of each depth that keeps every limit, with the other two at their least; undefined when not even the least
 * depths do. What depths and sizes allow is found by halving; the fit and the wood are asked there, and only when they
 * say no, between there and the least.
 */
export function rangesOf(space: Space): Ranges | undefined {
  const { depth: least, held } = space.at(1);
  if (missed(held) !== undefined) return undefined;
  const range = (name: keyof Depth, leastBy: string): Range => ({
    least: least[name],
    leastBy,
    ...mostOf(space, (value) => ({ ...least, [name]: value }), least[name]),
  });
  return {
    mating: range('mating', space.matingBy),
    glue: range('glue', least.glue > space.depthFor(1).glue ? 'glue.wall' : 'depth.glue'),
    saw: range('saw', 'depth.saw'),
  };
}

function mostOf(
  space: Space,
  depthAt: (value: number) => Depth,
  least: number,
): Pick<Range, 'most' | 'mostBy'> {
  const quick = halved(least, DEEPEST, FINER, (value) => missed(space.quick(depthAt(value))));
  const dear = missed(space.held(depthAt(quick.most)));
  if (dear === undefined) return { most: quick.most, mostBy: quick.by };
  const found = halved(least, quick.most, FINE, (value) => missed(space.held(depthAt(value))));
  return { most: found.most, mostBy: found.by ?? dear };
}

function halved(
  from: number,
  to: number,
  fine: number,
  missedAt: (value: number) => Held | undefined,
): { readonly most: number; readonly by: Held | undefined } {
  let [low, high] = [from, to];
  let by: Held | undefined;
  for (let n = 0; n < STEPS && high - low > fine; n++) {
    const middle = (low + high) / 2;
    const found = missedAt(middle);
    if (found === undefined) low = middle;
    else [high, by] = [middle, found];
  }
  return { most: low, by };
}

/** The limit that is missed by most; undefined when all are kept. */
export function missed(held: readonly Held[]): Held | undefined {
  let worst: Held | undefined;
  for (const one of held) {
    if (one.times >= 1 || (isLeastDepth(one) && one.times > 0.999)) continue;
    if (worst === undefined || one.times < worst.times) worst = one;
  }
  return worst;
}
