import { basename, dirname, isAbsolute, join } from 'node:path';
import { type FaultPlace, InputFault, InputFaults } from '../fault.ts';
import { degrees, type LengthStyle, type Mm, mm, type Radians } from '../units.ts';
import { readDocument, type WrittenMap } from './document.ts';
import { type Limits, limitsOf } from './limits.ts';
import {
  type Bit,
  jobShape,
  type KeepOut,
  type Mirror,
  type Outline,
  type ReadKeys,
  type Shape,
  type Stock,
} from './schema.ts';
import { contradictions } from './sense.ts';
import { DRAWS, SEED, SOURCE_NAMES, type SourceName, SPREAD } from './spread.ts';
import { walk } from './walk.ts';

/** One side of the joint: what is cut, how deep, into what. */
export interface Cut {
  readonly outline: Outline;
  readonly startDepth: Mm;
  readonly flatDepth: Mm;
  readonly stock: Stock;
}

/** What varies, filled up with the defaults. Each value is a plus-and-minus, but wear, which only grows. */
export interface Spread {
  readonly tipWear: Mm;
  readonly angle: Radians;
  readonly pocketZero: Mm;
  readonly plugZero: Mm;
  readonly pocketFlatness: Mm;
  readonly plugFlatness: Mm;
  /** Percent. */
  readonly scale: number;
  readonly squareness: Radians;
  readonly runout: Mm;
  readonly draws: number;
  readonly seed: number;
}

/** A job, read and found to make sense. Lengths in millimetres, angles in radians, shares in percent. */
export interface Job {
  /** The job file as the caller named it. */
  readonly file: string;
  readonly title: string;
  readonly units: LengthStyle;
  readonly pocket: Cut;
  readonly plug: Cut & { readonly mirror: Mirror };
  readonly bit: Bit;
  /** The plug's bit; the very same record as `bit` unless the job names another. */
  readonly plugBit: Bit;
  readonly clearingBit: ReadKeys['clearingBit'];
  readonly nut: ReadKeys['nut'];
  readonly saw: ReadKeys['saw'];
  readonly keepOut: readonly KeepOut[];
  readonly feeds: ReadKeys['feeds'];
  readonly climate: ReadKeys['climate'];
  readonly spread: Spread;
  readonly limits: Limits;
  /** Where a key stands (`plug.flat-depth`, `keep-out.0.box`); when it is not written, where its parent stands. */
  readonly place: (path: string) => FaultPlace;
  /** Whether the job itself has this key, rather than a default. */
  readonly says: (path: string) => boolean;
}

/**
 * Reads the text of a job file. `file` is its name: messages carry it, and outlines are found from its folder.
 * Throws InputFaults with everything that is wrong, each with line and column.
 */
export function readJob(text: string, file: string): Job {
  return jobOf(readDocument(text, file), file, dirname(file));
}

/** Reads an already parted job, whatever it was written in. `folder`: where relative outlines are found from. */
export function jobOf(root: WrittenMap, file: string, folder: string): Job {
  const style = styleOf(root);
  const { values, places, faults } = walk(root, jobShape as unknown as Shape, style);
  const place = (path: string): FaultPlace => placeIn(places, path, file);
  const says = (path: string): boolean => places.has(path);
  const read = values as unknown as ReadKeys;
  const all = [...faults, ...contradictions(read, style, place, says)];
  if (
    read.plug !== undefined &&
    read.plug.outline === undefined &&
    !says('plug.outline') &&
    read.plug.mirror !== 'toolpath'
  )
    all.push(
      new InputFault(
        'plug: "outline" is missing: the drawing of the plug as it will be cut, NAME.svg or NAME.svg#id.',
        place('plug'),
      ),
    );
  if (all.length > 0) throw new InputFaults([...all].sort(byPlace));
  return assemble(read, file, folder, place, says);
}

function styleOf(root: WrittenMap): LengthStyle {
  const units = root.entries.get('units')?.value;
  return units?.kind === 'value' && units.value === 'in' ? 'in' : 'mm';
}

function placeIn(places: ReadonlyMap<string, FaultPlace>, path: string, file: string): FaultPlace {
  for (let at = path; at !== ''; at = at.slice(0, Math.max(0, at.lastIndexOf('.')))) {
    const place = places.get(at);
    if (place !== undefined) return place;
  }
  return { file };
}

function byPlace(a: InputFault, b: InputFault): number {
  return (a.place.line ?? 0) - (b.place.line ?? 0) || (a.place.column ?? 0) - (b.place.column ?? 0);
}

function assemble(read: ReadKeys, file: string, folder: string, place: Job['place'], says: Job['says']): Job {
  const { title, units, pocket, plug, bit, plugBit, clearingBit, nut, saw, keepOut, feeds, climate } = read;
  const plugOutline = plug.outline ?? pocket.outline;
  return {
    file,
    title: title ?? basename(file).replace(/(\.dryfit)?\.ya?ml$/i, ''),
    units,
    pocket: {
      outline: found(pocket.outline, folder),
      startDepth: pocket.startDepth ?? mm(0),
      flatDepth: pocket.flatDepth,
      stock: pocket.stock ?? {},
    },
    plug: {
      outline: found(plugOutline, folder),
      mirror: plug.mirror ?? 'drawn',
      startDepth: plug.startDepth,
      flatDepth: plug.flatDepth,
      stock: plug.stock ?? {},
    },
    bit,
    plugBit: plugBit ?? bit,
    clearingBit,
    nut,
    saw,
    keepOut: (keepOut ?? []).map((item) =>
      item.outline ? { ...item, outline: found(item.outline, folder) } : item,
    ),
    feeds,
    climate,
    spread: spreadOf(read.spread ?? {}),
    limits: limitsOf(read.limits ?? {}),
    place,
    says,
  };
}

function found(outline: Outline, folder: string): Outline {
  const { path } = outline;
  return isAbsolute(path) || /^[a-z]:\//i.test(path) ? outline : { ...outline, path: join(folder, path) };
}

function spreadOf(own: NonNullable<ReadKeys['spread']>): Spread {
  const values = Object.fromEntries(SOURCE_NAMES.map((name) => [name, own[name] ?? SPREAD[name].value]));
  const all = values as Record<SourceName, number>;
  return {
    tipWear: mm(all['tip-wear']),
    angle: degrees(all.angle),
    pocketZero: mm(all['pocket-zero']),
    plugZero: mm(all['plug-zero']),
    pocketFlatness: mm(all['pocket-flatness']),
    plugFlatness: mm(all['plug-flatness']),
    scale: all.scale,
    squareness: degrees(all.squareness),
    runout: mm(all.runout),
    draws: own.draws ?? DRAWS,
    seed: own.seed ?? SEED,
  };
}
