import { type FaultPlace, InputFault, quoted } from '../fault.ts';
import type { LengthStyle } from '../units.ts';
import type { Written, WrittenMap } from './document.ts';
import { nearest } from './near.ts';
import type { Shape } from './schema.ts';
import { hear } from './values.ts';

/** What a walk over a job brought together: values, the place of every key by its path, everything wrong. */
export interface Walked {
  readonly values: Readonly<Record<string, unknown>>;
  readonly places: ReadonlyMap<string, FaultPlace>;
  readonly faults: readonly InputFault[];
}

interface Trail {
  readonly path: string;
  readonly style: LengthStyle;
  readonly places: Map<string, FaultPlace>;
  readonly faults: InputFault[];
}

/** Keys under these keep their names, which are not ours but entries of a table. */
const NAMED_AS_WRITTEN = new Set(['limits', 'spread']);

/** Reads a written job by its description. Goes on after a fault, so that all of them are told at once. */
export function walk(root: WrittenMap, shape: Shape, style: LengthStyle): Walked {
  const trail: Trail = { path: '', style, places: new Map(), faults: [] };
  const values = readMap(root, shape, trail) as Record<string, unknown>;
  return { values, places: trail.places, faults: trail.faults };
}

function read(written: Written, shape: Shape, trail: Trail): unknown {
  trail.places.set(trail.path, written.place);
  if (shape.reads !== undefined) return readLeaf(written, shape, trail);
  if (shape.items !== undefined) return readList(written, shape.items, trail);
  return readMap(written, shape, trail);
}

function readLeaf(written: Written, shape: Shape, trail: Trail): unknown {
  if (written.kind !== 'value' || shape.reads === undefined) {
    tell(
      trail,
      written.place,
      `One value was wanted here, not a ${written.kind === 'map' ? 'map of keys' : 'list'}.`,
    );
    return undefined;
  }
  const heard = hear(written, shape.reads, trail.style);
  if ('value' in heard) return heard.value;
  tell(trail, written.place, heard.wrong);
  return undefined;
}

function readList(written: Written, item: Shape, trail: Trail): unknown {
  if (isNothing(written)) return [];
  if (written.kind !== 'list') {
    tell(trail, written.place, 'A list was wanted here, each entry after a dash.');
    return undefined;
  }
  return written.items.map((entry, index) => read(entry, item, { ...trail, path: `${trail.path}.${index}` }));
}

function readMap(written: Written, shape: Shape, trail: Trail): unknown {
  const fields = shape.properties ?? {};
  const known = Object.keys(fields);
  if (written.kind !== 'map' && !isNothing(written)) {
    tell(trail, written.place, `Keys were wanted here: ${known.slice(0, 12).join(', ')}.`);
    return undefined;
  }
  const entries: WrittenMap['entries'] = written.kind === 'map' ? written.entries : new Map();
  const values: Record<string, unknown> = {};
  const misspelt = new Set<string>();
  for (const [key, entry] of entries) {
    const field = Object.hasOwn(fields, key) ? fields[key] : undefined;
    if (field === undefined) {
      const meant = nearest(key, known);
      if (meant !== undefined) misspelt.add(meant);
      tell(trail, entry.place, unknownKey(key, meant, known));
    } else {
      const value = read(entry.value, field, { ...trail, path: join(trail.path, key) });
      if (value !== undefined) values[NAMED_AS_WRITTEN.has(trail.path) ? key : camel(key)] = value;
    }
  }
  for (const key of shape.required ?? [])
    if (!entries.has(key) && !misspelt.has(key))
      tell(trail, written.place, `"${key}" is missing: ${fields[key]?.description}.`);
  return values;
}

function unknownKey(key: string, meant: string | undefined, known: readonly string[]): string {
  if (meant !== undefined) return `${quoted(key)} is no key here; did you mean ${meant}?`;
  const some = known.slice(0, 16).join(', ');
  return `${quoted(key)} is no key here; the keys are ${some}${known.length > 16 ? ' and more' : ''}.`;
}

function tell(trail: Trail, place: FaultPlace, sentence: string): void {
  trail.faults.push(
    new InputFault(trail.path === '' ? sentence : `${spoken(trail.path)}: ${sentence}`, place),
  );
}

/** A path as people say it: `proud.0.by` is "proud, entry 1, by". */
export function spoken(path: string): string {
  return path.replace(
    /\.(\d+)(\.|$)/g,
    (_, index: string, end: string) => `, entry ${Number(index) + 1}${end === '' ? '' : ', '}`,
  );
}

/** A key with nothing after it, as when every line below it is a remark. */
function isNothing(written: Written): boolean {
  return written.kind === 'value' && written.value === null;
}

const join = (path: string, key: string): string => (path === '' ? key : `${path}.${key}`);
const camel = (key: string): string => key.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
