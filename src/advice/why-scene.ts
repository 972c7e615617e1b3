import type { Facts, Fitted } from '../carve/facts.ts';
import type { Pair } from '../carve/fit.ts';
import { type FaultPlace, InputFault, InputFaults } from '../fault.ts';
import { grow } from '../geometry/offset.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Box, Point } from '../geometry/shapes.ts';
import type { Job } from '../job/job.ts';
import type { Seen, SeenReading, Where } from '../job/seen.ts';
import { PLACE_WORDS, type PlaceWord } from '../job/seen-schema.ts';
import { spoken } from '../job/walk.ts';
import { notOfThisPair } from './why-impossible.ts';
import { everySite, pointOf, type Site, siteNear, sitesOf } from './why-sites.ts';
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
  /** Which of the sites each place of the rim stands for: those in a word, and those that readings give as a point. */
  readonly siteOf: ReadonlyMap<string, number>;
  /** The extents that the job asks for: the pocket's mouth and the plug's face, along x and y. */
  readonly pocketSize: Point;
  readonly plugSize: Point;
}

/** How far a face is drawn in to see how pointed its ends are, mm, and the most that is believed. */
const DRAWN_IN = 0.05;
const MOST_POINTED = 20;

/** Throws InputFaults when a reading cannot be of this pair. */
export function sceneOf(facts: Facts, made: Extract<Fitted, { fit: unknown }>, seen: Seen): Scene {
  const { pair } = made;
  const every = everySite(pair);
  const rim = sitesOf(every);
  const told: Site[] = [];
  const siteOf = new Map<string, number>(PLACE_WORDS.map((word) => [word, siteTowards(rim, word)]));
  const faults: InputFault[] = [];
  for (const reading of seen.readings) {
    const near =
      'where' in reading && typeof reading.where !== 'string' ? siteNear(every, reading.where) : undefined;
    const wrong = notOfThisPair(facts, pair, reading, near?.away);
    if (wrong !== undefined)
      faults.push(new InputFault(`${spoken(reading.path)}: ${wrong}`, placeOf(seen, reading)));
    if (reading.kind !== 'gap' || near === undefined) continue;
    siteOf.set(String(reading.where), rim.length + told.length);
    told.push(near.site);
  }
  if (faults.length > 0) throw new InputFaults(faults);
  const { pocketStart, plugStart } = pair.input;
  const [mouth, face] = [
    boxOf(grow(pair.input.pocket, pocketStart * pair.pocket.nominal.t).rings),
    boxOf(grow(pair.input.plug, -plugStart * pair.plug.nominal.t).rings),
  ];
  return {
    job: facts.job,
    pair,
    accuracy: seen.accuracy,
    settings: {
      pressed: seen.pressed,
      sites: [...rim, ...told],
      rocking: seen.rocks !== undefined,
      pointed: pointedOf(pair, face),
    },
    rim: rim.length,
    siteOf,
    pocketSize: sizeOf(mouth),
    plugSize: sizeOf(face),
  };
}

const placeOf = (seen: Seen, { path }: SeenReading): FaultPlace => seen.place(path);

const sizeOf = ({ minX, maxX, minY, maxY }: Box): Point => [maxX - minX, maxY - minY];

function pointedOf(pair: Pair, face: Box): TrialSettings['pointed'] {
  const further = grow(pair.input.plug, -pair.input.plugStart * pair.plug.nominal.t - DRAWN_IN);
  if (further.rings.length === 0) return [1, 1, 1, 1];
  const less = boxOf(further.rings);
  const by = [less.minX - face.minX, face.maxX - less.maxX, less.minY - face.minY, face.maxY - less.maxY];
  const [l, r, a, b] = by.map((d) => Math.min(MOST_POINTED, Math.max(1, d / DRAWN_IN)));
  return [l as number, r as number, a as number, b as number];
}

/** The point of a place, in the pocket's drawing. */
export function pointAt({ pair }: Scene, where: Where): Point {
  return typeof where === 'string' ? pointOf(pair, where) : where;
}

/** Which of the sites a line at this place is looked for. */
export function siteAt({ siteOf }: Scene, where: Where): number {
  return siteOf.get(String(where)) ?? 0;
}

/** Of the sites that lie far out to a side and face that way the middle one. */
function siteTowards(rim: readonly Site[], word: PlaceWord): number {
  const [ux, uy] = unit(towards(word));
  const all = rim.map(({ at, normal }, k) => ({
    k,
    out: at[0] * ux + at[1] * uy,
    along: at[0] * -uy + at[1] * ux,
    faces: normal[0] * ux + normal[1] * uy > FACING,
  }));
  const facing = all.some(({ faces }) => faces) ? all.filter(({ faces }) => faces) : all;
  const outs = facing.map(({ out }) => out);
  const [most, least] = [Math.max(...outs), Math.min(...outs)];
  const far = facing
    .filter(({ out }) => out >= most - FAR_OUT * (most - least))
    .sort((a, b) => a.along - b.along);
  return far[Math.floor(far.length / 2)]?.k ?? 0;
}

/** A wall faces a side when it is turned from it by less than about 45 degrees; far out is this share of the reach. */
const FACING = 0.7;
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
