import type { Facts, Fitted } from '../carve/facts.ts';
import type { Pair } from '../carve/fit.ts';
import { type FaultPlace, InputFault, InputFaults } from '../fault.ts';
import { grow } from '../geometry/offset.ts';
import type { Point } from '../geometry/shapes.ts';
import type { Job } from '../job/job.ts';
import type { Seen, SeenReading, Where } from '../job/seen.ts';
import { PLACE_WORDS, type PlaceWord } from '../job/seen-schema.ts';
import { spoken } from '../job/walk.ts';
import { notOfThisPair } from './why-impossible.ts';
import { everySite, pointOf, type Site, siteNear, sitesOf } from './why-sites.ts';
import { lengthAlong, spansOf } from './why-spans.ts';
import type { TrialSettings } from './why-trial.ts';

/** One pair and where it is looked at: made once, asked by every cause. Lengths mm. */
export interface Scene {
  readonly job: Job;
  readonly pair: Pair;
  /** One standard uncertainty of a length that was measured. */
  readonly accuracy: number;
  readonly settings: TrialSettings;
  /** How many of the sites are spread evenly over the rim; the others belong to readings. */
  readonly rim: number;
  /**
   * Which of the sites each place of the rim stands for: those in a word, and those that readings give as a point. A
   * corner that two walls share stands for either.
   */
  readonly sitesOf: ReadonlyMap<string, readonly number[]>;
  /** The lengths that the job asks for, of the pocket's mouth and the plug's face along each span. */
  readonly pocketSize: readonly number[];
  readonly plugSize: readonly number[];
}

/** Throws InputFaults when a reading cannot be of this pair. */
export function sceneOf(facts: Facts, made: Extract<Fitted, { fit: unknown }>, seen: Seen): Scene {
  const { pair } = made;
  const every = everySite(pair);
  const rim = sitesOf(every);
  const told: Site[] = [];
  const places = new Map<string, readonly number[]>(
    PLACE_WORDS.map((word) => [word, sitesTowards(rim, word)]),
  );
  const faults: InputFault[] = [];
  for (const reading of seen.readings) {
    const near =
      'where' in reading && typeof reading.where !== 'string' ? siteNear(every, reading.where) : undefined;
    const wrong = notOfThisPair(facts, pair, reading, near?.away);
    if (wrong !== undefined)
      faults.push(new InputFault(`${spoken(reading.path)}: ${wrong}`, placeOf(seen, reading)));
    if (reading.kind !== 'gap' || near === undefined) continue;
    places.set(String(reading.where), [rim.length + told.length]);
    told.push(near.site);
  }
  if (faults.length > 0) throw new InputFaults(faults);
  const { pocketStart, plugStart } = pair.input;
  const { r } = pair.pocket.nominal;
  // The bit rounds the corners of the mouth; those of the face stay sharp.
  const mouth = grow(grow(pair.input.pocket, pocketStart * pair.pocket.nominal.t - r), r);
  const face = grow(pair.input.plug, -plugStart * pair.plug.nominal.t);
  const spans = spansOf(face, pair.box);
  return {
    job: facts.job,
    pair,
    accuracy: seen.accuracy,
    settings: {
      pressed: seen.pressed,
      sites: [...rim, ...told],
      rocking: seen.rocks !== undefined,
      spans,
    },
    rim: rim.length,
    sitesOf: places,
    pocketSize: spans.map(({ way }) => lengthAlong(mouth, way)),
    plugSize: spans.map(({ way }) => lengthAlong(face, way)),
  };
}

const placeOf = (seen: Seen, { path }: SeenReading): FaultPlace => seen.place(path);

/** The point of a place, in the pocket's drawing. */
export function pointAt({ pair }: Scene, where: Where): Point {
  return typeof where === 'string' ? pointOf(pair, where) : where;
}

/** At which of the sites a line at this place may have been measured. */
export function sitesAt({ sitesOf }: Scene, where: Where): readonly number[] {
  return sitesOf.get(String(where)) ?? [];
}

/**
 * Of the sites that lie far out to a side and face that way the middle one; all of them where its wall faces elsewhere,
 * for then two walls meet there and a feeler may be in either.
 */
function sitesTowards(rim: readonly Site[], word: PlaceWord): readonly number[] {
  const [ux, uy] = unit(towards(word));
  const all = rim.map(({ at, normal }, k) => ({
    k,
    out: at[0] * ux + at[1] * uy,
    along: at[0] * -uy + at[1] * ux,
    facing: normal[0] * ux + normal[1] * uy,
  }));
  const turned = all.filter(({ facing }) => facing > FACING);
  const facing = turned.length > 0 ? turned : all;
  const outs = facing.map(({ out }) => out);
  const [most, least] = [Math.max(...outs), Math.min(...outs)];
  const far = facing
    .filter(({ out }) => out >= most - FAR_OUT * (most - least))
    .sort((a, b) => a.along - b.along);
  const middle = far[Math.floor(far.length / 2)];
  return (middle && middle.facing > SQUARELY ? [middle] : far).map(({ k }) => k);
}

/**
 * A wall faces a side when it is turned from it by less than about 45 degrees, and squarely below 22 (cosines); far out
 * is this share of the reach.
 */
const FACING = 0.7;
const SQUARELY = 0.92;
const FAR_OUT = 0.15;

function unit([x, y]: Point): Point {
  const size = Math.hypot(x, y);
  return size === 0 ? [0, 0] : [x / size, y / size];
}

/** The direction of a side or corner from the middle, x right, y down. */
export function towards(word: PlaceWord): Point {
  const x = word.includes('left') ? -1 : word.includes('right') ? 1 : 0;
  const y = word.includes('top') ? -1 : word.includes('bottom') ? 1 : 0;
  return [x, y];
}
