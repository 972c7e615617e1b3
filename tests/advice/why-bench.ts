import { type Why, why } from '../../src/advice/why.ts';
import type { Cause } from '../../src/advice/why-causes.ts';
import {
  armOf,
  deeperAt,
  type ErrorKey,
  type Errors,
  NO_ERRORS,
  pairWith,
} from '../../src/advice/why-errors.ts';
import type { Measure } from '../../src/advice/why-measures.ts';
import type { Trial } from '../../src/advice/why-trial.ts';
import { type Spot, spotsAlong } from '../../src/carve/cut-disc.ts';
import type { Facts } from '../../src/carve/facts.ts';
import type { Pair, Seat } from '../../src/carve/fit.ts';
import { placesOf } from '../../src/carve/seat.ts';
import type { Place } from '../../src/carve/seat-place.ts';
import { heightAt, highestHold } from '../../src/carve/seat-pose.ts';
import { gapsAlong, rimOf } from '../../src/carve/seat-rim.ts';
import { levelSeat, settle } from '../../src/carve/seat-settle.ts';
import { boxOf } from '../../src/geometry/ring.ts';
import type { Point } from '../../src/geometry/shapes.ts';
import { type Along, readSeen, type Seen } from '../../src/job/seen.ts';
import type { PlaceWord } from '../../src/job/seen-schema.ts';
import { degrees, toDegrees } from '../../src/units.ts';

/**
 * A bench where a pair is cut with errors, fitted and measured. The seat is the one that the checks reckon with, at
 * every place that the checks ask, and the line is measured along the whole rim as the checks do; nothing is taken to
 * grow straight with any error.
 */
export interface Bench {
  readonly facts: Facts;
  readonly pair: Pair;
  readonly cut: Pair;
  readonly errors: Errors;
  readonly seat: Seat;
  /** Its own seat, before anything held it up. */
  readonly own: Seat;
  readonly places: readonly Place[];
  readonly rim: readonly Point[];
}

/** A number spread about 0 with a standard deviation of 1 (Box and Muller 1958, from memory). */
export function normalFrom(next: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
}

export function sum(a: Errors, b: Errors): Errors {
  return Object.fromEntries(
    (Object.keys(NO_ERRORS) as ErrorKey[]).map((key) => [key, a[key] + b[key]]),
  ) as unknown as Errors;
}

export function setUp(facts: Facts, errors: Errors): Bench {
  const made = facts.fitted();
  if (!('fit' in made)) throw new Error('a pair that can be fitted was wanted');
  const { pair } = made;
  const cut = pairWith(pair, errors);
  const places = placesOf(cut);
  const { shiftX, shiftY, turn, notHome, crookedX, crookedY } = errors;
  let own = settle(cut, places);
  if (shiftX !== 0 || shiftY !== 0 || turn !== 0) {
    const aside = { ...levelSeat(cut, places), dx: shiftX, dy: shiftY, turn };
    own = { ...aside, height: highestHold(cut, places, aside).hold };
  }
  // Crooked by so much at its highest end, and home at the opposite one.
  const rise = Math.hypot(crookedX, crookedY) * armOf(pair);
  const seat = {
    ...own,
    height: own.height + notHome + rise,
    tiltX: own.tiltX + crookedX,
    tiltY: own.tiltY + crookedY,
  };
  return { facts, pair, cut, errors, seat, own, places, rim: rimOf(cut, 1) };
}

const placeOf = ({ pair }: Bench, word: PlaceWord): Point => {
  const { minX, maxX, minY, maxY } = pair.box;
  const along = (low: string, high: string, least: number, most: number): number =>
    word.includes(low) ? least : word.includes(high) ? most : (least + most) / 2;
  return word === 'middle'
    ? pair.middle
    : [along('left', 'right', minX, maxX), along('top', 'bottom', minY, maxY)];
};

/** What a maker with perfect gauges would read: mm, radians. */
export function readAt(bench: Bench, measure: Measure): number {
  const { pair, cut, errors, seat, facts } = bench;
  const { input } = pair;
  if (measure.kind === 'gap') return gapAt(bench, measure.where as PlaceWord);
  const at: Point = 'where' in measure ? placeOf(bench, measure.where as PlaceWord) : pair.middle;
  const [pocketDeeper, plugDeeper] = (['pocket', 'plug'] as const).map((side) =>
    deeperAt(pair, errors, side, ...at),
  ) as [number, number];
  const height = heightAt(cut, seat, ...at);
  switch (measure.kind) {
    case 'proud':
      return height;
    case 'saw-gap':
      return Math.max(0, input.plugStart + input.plugFlat + plugDeeper - (pair.mating - height));
    case 'glue-gap':
      return Math.max(
        0,
        input.pocketStart + input.pocketFlat + pocketDeeper - errors.filling - (pair.mating - height),
      );
    case 'pocket-depth':
      return input.pocketStart + input.pocketFlat + pocketDeeper;
    case 'plug-height':
      return input.plugStart + input.plugFlat + plugDeeper;
    case 'pocket-size':
    case 'plug-size':
      return extent(bench, measure.kind === 'pocket-size' ? 'pocket' : 'plug', measure.along);
    case 'diagonals':
      return extent(bench, measure.of, 'falling') - extent(bench, measure.of, 'rising');
    case 'board-hollow':
      return errors.pocketHollow;
    case 'stock-hollow':
      return errors.plugHollow;
    case 'tip-flat':
      return Math.max(0, (facts.job.bit.tipFlat as number) + errors.tip);
    case 'angle':
      return facts.job.bit.angle + errors.angle;
    case 'runout':
      return 2 * errors.runout;
    case 'after-cleaning':
      return errors.filling === 0 ? height0(bench) : height0(setUp(facts, { ...errors, filling: 0 }));
    case 'after-clamping': {
      const free = { ...errors, shiftX: 0, shiftY: 0, turn: 0, notHome: 0, crookedX: 0, crookedY: 0 };
      const again = setUp(facts, free);
      return heightAt(again.cut, again.seat, ...at);
    }
    case 'rocks':
      return rocking(bench);
  }
}

const height0 = ({ seat }: Bench): number => seat.height;

/** The line at the middle of the walls that lie far out to a side and face it; looked for every half millimetre. */
function gapAt({ pair, cut, seat, rim }: Bench, word: PlaceWord): number {
  const x = word.includes('left') ? -1 : word.includes('right') ? 1 : 0;
  const y = word.includes('top') ? -1 : word.includes('bottom') ? 1 : 0;
  const size = Math.hypot(x, y);
  const walls = spotsAlong(pair.pocketTree, -1, 0.5, 0.3).filter(({ turn }) => turn === 0);
  const facing = walls.filter(({ nx, ny }) => (nx * x + ny * y) / size > 0.7);
  const spots = facing.length > 0 ? facing : walls;
  const outs = spots.map((spot) => spot.x * x + spot.y * y);
  const [most, least] = [Math.max(...outs), Math.min(...outs)];
  const far = spots
    .filter((_, k) => (outs[k] as number) >= most - 0.15 * (most - least))
    .sort((a, b) => a.y * x - a.x * y - (b.y * x - b.x * y));
  const middle = far[Math.floor(far.length / 2)] as Spot;
  const away = ([px, py]: Point): number => Math.hypot(px - middle.x, py - middle.y);
  const nearest = rim.reduce((best, at) => (away(at) < away(best) ? at : best));
  return gapsAlong(cut, seat, [nearest])[0]?.gap ?? 0;
}

/** How wide the pocket's mouth or the plug's face is, from the cuts themselves, by going in from outside. */
function extent({ cut, pair }: Bench, side: 'pocket' | 'plug', along: Along): number {
  const [wide, tall] = [pair.box.maxX - pair.box.minX, pair.box.maxY - pair.box.minY];
  const turn = { x: 0, y: Math.PI / 2, falling: Math.atan2(tall, wide), rising: -Math.atan2(tall, wide) };
  const [c, s] = [Math.cos(turn[along]), Math.sin(turn[along])];
  const turned = cut.input[side].rings.map((ring) =>
    ring.map((value, k) =>
      k % 2 === 0 ? c * value + s * (ring[k + 1] as number) : c * value - s * (ring[k - 1] as number),
    ),
  );
  const { minX: low, maxX: high, minY: a0, maxY: a1 } = boxOf(turned);
  const isWood = (u: number, v: number): boolean => {
    const [x, y] = [c * u - s * v, s * u + c * v];
    return side === 'pocket' ? cut.pocket.depth(x, y) > 0 : !(cut.plug.depth(x, y) > 0);
  };
  const reach = 2 + 2 * pair.input.plugStart;
  /** Where the wood of this row begins, coming from outside; undefined when it does not within reach. */
  const edge = (v: number, from: number, way: 1 | -1): number | undefined => {
    for (let u = from; Math.abs(u - from) < reach; u += way * COARSE) {
      if (!isWood(u, v)) continue;
      let [out, into] = [u - way * COARSE, u];
      while (Math.abs(into - out) > 1e-4) {
        const half = (out + into) / 2;
        if (isWood(half, v)) into = half;
        else out = half;
      }
      return into;
    }
    return undefined;
  };
  const farthest = (from: number, way: 1 | -1): number => {
    let [v, best, step] = [(a0 + a1) / 2, Number.POSITIVE_INFINITY, (a1 - a0) / ROWS];
    const look = (row: number): void => {
      const u = edge(row, from, way);
      if (u !== undefined && u * way < best) [v, best] = [row, u * way];
    };
    for (let k = 0; k <= ROWS; k++) look(a0 + k * step);
    for (; step > 1e-3; step /= 2) for (const row of [v - step, v + step]) look(row);
    return best * way;
  };
  return farthest(high + 1, -1) - farthest(low - 1, 1);
}

/** Rows that an extent is looked for in, and how coarsely a row is gone along at first, mm. */
const ROWS = 60;
const COARSE = 0.2;

/**
 * Pressed down at one of its four ends it tips to where that end is lowest: tilts are tried closer and closer, each
 * with every place of the fit.
 */
function rocking(bench: Bench): number {
  const { cut, own, places } = bench;
  return (['left', 'right', 'top', 'bottom'] as const).reduce((most, word) => {
    const end = farPlace(bench, word);
    const heightOf = (tiltX: number, tiltY: number): number => {
      const pose = { ...own, tiltX, tiltY };
      return heightAt(cut, { ...pose, height: highestHold(cut, places, pose).hold }, ...end);
    };
    let [x, y, best] = [own.tiltX, own.tiltY, heightAt(cut, own, ...end)];
    const before = best;
    for (let step = 0.004; step > 2e-5; ) {
      const tries = [
        [x + step, y],
        [x - step, y],
        [x, y + step],
        [x, y - step],
        [x + step, y + step],
        [x + step, y - step],
        [x - step, y + step],
        [x - step, y - step],
      ].map(([a, b]) => [a as number, b as number, heightOf(a as number, b as number)] as const);
      const lowest = tries.reduce((least, t) => (t[2] < least[2] ? t : least));
      if (lowest[2] < best - 1e-6) [x, y, best] = lowest;
      else step /= 2;
    }
    return Math.max(most, before - best);
  }, 0);
}

/** The middle of the rim at one of the plug's four ends. */
function farPlace({ cut, rim }: Bench, word: 'left' | 'right' | 'top' | 'bottom'): Point {
  const { minX, maxX, minY, maxY } = cut.box;
  const isThere = ([x, y]: Point): boolean =>
    word === 'left'
      ? x < minX + 0.08 * (maxX - minX)
      : word === 'right'
        ? x > maxX - 0.08 * (maxX - minX)
        : word === 'top'
          ? y < minY + 0.08 * (maxY - minY)
          : y > maxY - 0.08 * (maxY - minY);
  const there = rim.filter(isThere);
  const mean = (k: 0 | 1): number => there.reduce((sum, at) => sum + at[k], 0) / there.length;
  return there.length === 0 ? cut.middle : [mean(0), mean(1)];
}

/** How exactly things are read: one standard deviation, mm or radians. */
export const NOISE = { length: 0.05, tip: 0.015, angle: degrees(0.2), runout: 0.01 } as const;

export function noiseOf({ kind }: Measure): number {
  return kind === 'tip-flat'
    ? NOISE.tip
    : kind === 'angle'
      ? NOISE.angle
      : kind === 'runout'
        ? NOISE.runout
        : NOISE.length;
}

/** A reading that somebody wrote down, as a line of the file; hundredths of a millimetre or of a degree. */
export type Written = readonly [measure: Measure, value: number];

export function read(bench: Bench, measure: Measure, next: () => number): Written {
  const exact = readAt(bench, measure);
  if (measure.kind === 'rocks') return [measure, exact > 0.08 ? 1 : 0];
  const noisy = exact + noiseOf(measure) * normalFrom(next);
  const above =
    measure.kind === 'proud' ||
    measure.kind === 'diagonals' ||
    measure.kind.startsWith('after') ||
    measure.kind.endsWith('hollow');
  const shown = measure.kind === 'angle' ? toDegrees(noisy) : above ? noisy : Math.max(0, noisy);
  return [measure, Math.round(shown * 100) / 100];
}

/** The file of these readings, read as the command reads it. */
export function seenOf(readings: readonly Written[]): Seen {
  const lists = new Map<string, string[]>();
  const lone: string[] = [];
  const put = (kind: string, entry: string): void => {
    lists.set(kind, [...(lists.get(kind) ?? []), entry]);
  };
  for (const [measure, value] of readings) {
    if ('where' in measure) put(measure.kind, `{ at: ${String(measure.where)}, by: ${value} }`);
    else if ('of' in measure) put(measure.kind, `${measure.of}: ${value}`);
    else if ('along' in measure) put(measure.kind, `${measure.along}: ${value}`);
    else
      lone.push(
        measure.kind === 'rocks' ? `rocks: ${value === 1 ? 'yes' : 'no'}` : `${measure.kind}: ${value}`,
      );
  }
  const many = [...lists].map(([kind, entries]) =>
    kind.endsWith('-size') || kind === 'diagonals'
      ? `${kind}: { ${entries.join(', ')} }`
      : `${kind}: [${entries.join(', ')}]`,
  );
  return readSeen(['units: mm', ...many, ...lone, ''].join('\n'), 'bench.seen.yaml');
}

/** What is looked at first, by anybody: how proud at five places, the line at eight, and whether it rocks. */
export const FIRST_LOOK: readonly Measure[] = [
  ...(['middle', 'left', 'right', 'top', 'bottom'] as const).map(
    (where) => ({ kind: 'proud', where }) as const,
  ),
  ...(
    ['left', 'right', 'top', 'bottom', 'top-left', 'top-right', 'bottom-left', 'bottom-right'] as const
  ).map((where) => ({ kind: 'gap', where }) as const),
  { kind: 'rocks' },
];

/** Some of what varies in any shop: each source anywhere within a share of its range. */
export function restless(causes: readonly Cause[], share: number, next: () => number): Errors {
  const SHOP = new Set([
    'pocket-zero',
    'plug-zero',
    'tip',
    'runout',
    'pocket-hollow',
    'plug-hollow',
    'pocket-scale',
    'squareness',
  ]);
  return causes
    .filter(({ key }) => SHOP.has(key))
    .reduce((all, cause) => {
      const size = (cause.least < 0 ? 2 * next() - 1 : next()) * share * cause.usual;
      return sum(all, cause.errors(size, 0));
    }, NO_ERRORS);
}

/** How a test fit with one known cause was explained. */
export interface Explained {
  readonly size: number;
  readonly direction: number;
  /** For 0, 1, 2 ... further measurements made as asked: the answer, and whether the true cause is among the first two. */
  readonly after: readonly { readonly answer: Why; readonly among: boolean }[];
}

/** Further measurements that the bench makes when it is asked to: as many as a cause much larger than usual may need. */
export const MOST_ASKED = 12;
/** Sizes come from this many times what is usual up to that many. */
const SIZES = [1.5, 8] as const;
/** Share of their usual ranges within which all other things of the shop lie. */
const RESTLESS = 0.25;

/** Cuts, fits and measures one pair with one cause, and lets it be explained; the further measurements are made. */
export function explainOne(
  facts: Facts,
  causes: readonly Cause[],
  cause: Cause,
  next: () => number,
  tryOut: Trial,
): Explained | undefined {
  const cut = cutWith(facts, causes, cause, next);
  if (cut === undefined) return undefined;
  const { size, direction, bench } = cut;
  let readings = FIRST_LOOK.map((measure) => read(bench, measure, next));
  const after: { answer: Why; among: boolean }[] = [];
  for (let asked = 0; asked <= MOST_ASKED; asked++) {
    const answer = why(facts, seenOf(readings), tryOut);
    after.push({ answer, among: isAmong(answer, cause) });
    if (answer.next === undefined) break;
    readings = [...readings, ...answer.next.readings.map(({ measure }) => read(bench, measure, next))];
  }
  return { size, direction, after };
}

/** Sizes drawn until one shows, each time from somewhat larger ones: a scale's usual size moves less than a gauge reads. */
const MOST_TRIED = 40;
const LARGER = 1.15;

/** A plug that stands as proud as it should be deep is not in the pocket, and nobody measures how it fits. */
const STILL_IN = 0.9;

/** A size that shows: it must move some reading of the first look by three times its noise, and the plug stay in. */
function cutWith(
  facts: Facts,
  causes: readonly Cause[],
  cause: Cause,
  next: () => number,
): { readonly size: number; readonly direction: number; readonly bench: Bench } | undefined {
  const [few, many] = SIZES;
  for (let tried = 0; tried < MOST_TRIED; tried++) {
    const wanted = cause.usual * few * (many / few) ** next() * LARGER ** tried;
    const size =
      cause.least < 0 && next() < 0.5 ? Math.max(cause.least, -wanted) : Math.min(cause.most, wanted);
    const direction = cause.points ? 2 * Math.PI * next() : 0;
    const bench = setUp(facts, sum(cause.errors(size, direction), restless(causes, RESTLESS, next)));
    const sound = setUp(facts, NO_ERRORS);
    const moved = FIRST_LOOK.some(
      (measure) =>
        measure.kind !== 'rocks' &&
        Math.abs(readAt(bench, measure) - readAt(sound, measure)) > 3 * noiseOf(measure),
    );
    const isIn = FIRST_LOOK.every(
      (measure) => measure.kind !== 'proud' || readAt(bench, measure) < STILL_IN * facts.depths.mating,
    );
    if (moved && isIn) return { size, direction, bench };
  }
  return undefined;
}

/** The true cause is one of the first two, or no measurement tells it from one of them. */
function isAmong({ causes, alike }: Why, { key }: Cause): boolean {
  const first = causes.slice(0, 2).filter(({ explains }) => explains);
  return first.some(
    (one) =>
      one.cause.key === key ||
      alike.some((pair) => pair.includes(one) && pair.some((other) => other.cause.key === key)),
  );
}
