import type { Bit } from '../job/schema.ts';
import { type Held, KINDS, type Kind } from './choose-held.ts';
import { type Depth, isLeastDepth, missed, type Space } from './choose-space.ts';

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
/** Steps at most; the span is told by then. */
const STEPS = 40;
/** Depths are set no finer, mm; what depths and sizes allow takes no time and is found nearer. */
const FINE = 0.01;
const FINER = 1e-4;

/**
 * The range of each depth that keeps every limit, with the other two at their least; undefined when not even the least
 * depths do. Each kind of limits is asked by itself, and only as far as those before it left. `mating`: a mating depth
 * that keeps them with others a little deeper.
 */
export function rangesOf(space: Space, mating = 0): Ranges | undefined {
  const least = space.gluedFor(1);
  if (missed(space.held(least)) !== undefined) return undefined;
  const range = (name: keyof Depth, leastBy: string, kinds: readonly Kind[], likely = 0): Range => ({
    least: least[name],
    leastBy,
    ...mostOf(space, (value) => ({ ...least, [name]: value }), kinds, least[name], likely),
  });
  const floors = isPlain(space.cuts.bit) ? BY_FLOORS : KINDS;
  return {
    mating: range('mating', space.matingBy, KINDS, mating),
    glue: range('glue', least.glue > space.depthFor(1).glue ? 'glue.wall' : 'depth.glue', floors),
    saw: range('saw', 'depth.saw', floors),
  };
}

/**
 * What can get worse when only a floor goes deeper. The walls stay where they are, a plug clears both floors already at
 * the least gaps, and the room for glue grows: so neither seat nor rim nor glue are the worse for it. A bit that is no
 * plain cone, or follows the toolpath of another, moves its walls with the floor.
 */
const BY_FLOORS: readonly Kind[] = ['depths', 'wood'];

const isPlain = ({ tipRadius, toolpathAngle, toolpathTipFlat }: Bit): boolean =>
  (tipRadius ?? 0) === 0 && toolpathAngle === undefined && toolpathTipFlat === undefined;

function mostOf(
  space: Space,
  depthAt: (value: number) => Depth,
  kinds: readonly Kind[],
  least: number,
  likely: number,
): Pick<Range, 'most' | 'mostBy'> {
  let [most, mostBy]: [number, Held | undefined] = [DEEPEST, undefined];
  for (const kind of kinds) {
    const at = (value: number): At => asked(space, depthAt(value), kind, value);
    // What was missed on the way to the choice is most likely missed here, and is nearer than the deepest.
    const near = likely > least ? space.missedPast(likely, kind) : most;
    let low = at(least);
    let high = at(Math.min(near, most));
    if (high.by === undefined && high.value < most) [low, high] = [high, at(most)];
    if (high.by === undefined) continue;
    if (likely > low.value && likely < high.value) {
      const there = at(likely);
      [low, high] = there.by === undefined ? [there, high] : [low, there];
    }
    const end = narrowed(at, low, high, kind);
    [most, mostBy] = [end.low.value, end.high.by];
  }
  return { most, mostBy };
}

interface At {
  readonly value: number;
  /** What is missed by most there; undefined when all is kept. */
  readonly by: Held | undefined;
  /** How far the tightest limit is kept (above 0) or missed, as the logarithm of its times. */
  readonly room: number;
}

function asked({ held }: Space, depth: Depth, kind: Kind, value: number): At {
  const all = held(depth, [kind]);
  const times = all.reduce((least, one) => (isLeastDepth(one) ? least : Math.min(least, one.times)), 1e3);
  return { value, by: missed(all), room: Math.log(Math.max(1e-3, times)) };
}

/** A line at the rim opens like a cliff, and halving finds it soonest. */
const CLIFFS: ReadonlySet<Kind> = new Set(['spread', 'seat']);

/**
 * Narrows the place where a limit ends, from a depth that keeps it and one that misses it: by where its room would end
 * were it straight, a hair to the side that was not asked last, and by halves.
 */
function narrowed(at: (value: number) => At, kept: At, missing: At, kind: Kind): { low: At; high: At } {
  let [low, high, last] = [kept, missing, missing];
  const fine = kind === 'depths' ? FINER : FINE;
  for (let n = 0; n < STEPS && high.value - low.value > fine; n++) {
    const span = high.value - low.value;
    const halve = CLIFFS.has(kind) || n % 3 === 2 || low.room < 1e-9 || high.room > -1e-9;
    const straight = (span * low.room) / (low.room - high.room) + (last === high ? -fine : fine) / 3;
    const step = halve ? span / 2 : Math.min(span - fine / 4, Math.max(fine / 4, straight));
    last = at(low.value + step);
    if (last.by === undefined) low = last;
    else high = last;
  }
  return { low, high };
}
