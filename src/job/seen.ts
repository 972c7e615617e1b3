import { type FaultPlace, InputFault, InputFaults } from '../fault.ts';
import { type LengthStyle, mm, show } from '../units.ts';
import { readDocument, type WrittenMap } from './document.ts';
import type { Shape } from './schema.ts';
import { type GapWord, type PlaceWord, type SeenKeys, seenShape } from './seen-schema.ts';
import { spoken, walk } from './walk.ts';

/** Feeler gauges and callipers as they are used at a bench, mm (common practice, no source). */
export const ACCURACY = mm(0.05);

/** What is measured at places, by the keys of the file. */
export const SPOT_KINDS = [
  'proud',
  'gap',
  'saw-gap',
  'glue-gap',
  'pocket-depth',
  'plug-height',
  'after-clamping',
] as const;
export type SpotKind = (typeof SPOT_KINDS)[number];

/** The ways in which callipers are laid over a part: along x and y, and aslant from corner to corner. */
export const ALONG = ['x', 'y', 'falling', 'rising'] as const;
export type Along = (typeof ALONG)[number];

/** The parts whose two diagonals are set against one another. */
export const PARTS = ['pocket', 'plug'] as const;
export type Part = (typeof PARTS)[number];

/** What is measured once. */
export const LONE_KINDS = [
  'board-hollow',
  'stock-hollow',
  'tip-flat',
  'angle',
  'runout',
  'after-cleaning',
] as const;
export type LoneKind = (typeof LONE_KINDS)[number];

/** A place in a word, or a point of the pocket's drawing in mm. */
export type Where = PlaceWord | readonly [x: number, y: number];

/** One reading. Lengths mm, angles radians; `path` is its key in the file. */
export type SeenReading =
  | { readonly kind: SpotKind; readonly where: Where; readonly value: number; readonly path: string }
  | {
      readonly kind: 'pocket-size' | 'plug-size';
      readonly along: Along;
      readonly value: number;
      readonly path: string;
    }
  | { readonly kind: 'diagonals'; readonly of: Part; readonly value: number; readonly path: string }
  | { readonly kind: LoneKind; readonly value: number; readonly path: string };

/** What was seen at a test fit. */
export interface Seen {
  readonly file: string;
  readonly units: LengthStyle;
  /** One standard uncertainty of a length, mm. */
  readonly accuracy: number;
  readonly pressed: 'hand' | 'caul';
  readonly readings: readonly SeenReading[];
  readonly rocks: boolean | undefined;
  readonly sinks: boolean | undefined;
  readonly gapOnly: GapWord | undefined;
  readonly place: (path: string) => FaultPlace;
}

/** Measuring that is no nearer than this tells nothing about an inlay, mm (common practice, no source). */
const COARSEST = mm(1);
/** Readings of one place may differ by this many times their uncertainty and still be of one thing. */
const APART = 4;

/** Reads what was seen. Throws InputFaults with everything that is wrong, each with line and column. */
export function readSeen(text: string, file: string): Seen {
  const root = readDocument(text, file);
  const { values, places, faults } = walk(root, seenShape as unknown as Shape, styleOf(root));
  const read = values as unknown as SeenKeys;
  const place = (path: string): FaultPlace => placeIn(places, path, file);
  const wrong: InputFault[] = [...faults];
  const tell = (path: string, sentence: string): void => {
    wrong.push(new InputFault(`${spoken(path)}: ${sentence}`, place(path)));
  };
  const readings = [
    ...spotReadings(read, (path) => places.has(path), tell),
    ...acrossReadings(read),
    ...diagonalReadings(read),
    ...loneReadings(read),
  ];
  if (wrong.length === 0) nonsense(read, readings, tell);
  if (wrong.length === 0 && readings.length === 0 && !saysInWords(read))
    wrong.push(
      new InputFault(
        'Nothing was seen, so nothing can be explained. Write at least one of proud, gap, rocks, sinks or gap-only, such as "proud: [{ at: middle, by: 0.3 }]".',
        { file },
      ),
    );
  if (wrong.length > 0) throw new InputFaults(wrong);
  return {
    file,
    units: read.units,
    accuracy: read.accuracy ?? ACCURACY,
    pressed: read.pressed ?? 'hand',
    readings,
    rocks: yes(read.rocks),
    sinks: yes(read.sinks),
    gapOnly: read.gapOnly,
    place,
  };
}

const saysInWords = ({ rocks, sinks, gapOnly }: SeenKeys): boolean =>
  rocks !== undefined || sinks !== undefined || gapOnly !== undefined;

const yes = (word: 'yes' | 'no' | undefined): boolean | undefined =>
  word === undefined ? undefined : word === 'yes';

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

type Tell = (path: string, sentence: string) => void;

/** `isWritten`: whether a key stands in the file; one that could not be read has its message already. */
function spotReadings(read: SeenKeys, isWritten: (path: string) => boolean, tell: Tell): SeenReading[] {
  const lists: Readonly<Record<SpotKind, SeenKeys['proud']>> = {
    proud: read.proud,
    gap: read.gap,
    'saw-gap': read.sawGap,
    'glue-gap': read.glueGap,
    'pocket-depth': read.pocketDepth,
    'plug-height': read.plugHeight,
    'after-clamping': read.afterClamping,
  };
  return SPOT_KINDS.flatMap((kind) =>
    (lists[kind] ?? []).flatMap((entry, index): SeenReading[] => {
      const path = `${kind}.${index}`;
      if (entry === undefined || entry.by === undefined) return [];
      const { at, x, y, by } = entry;
      const both = x !== undefined && y !== undefined;
      const unread = [
        ['at', at],
        ['x', x],
        ['y', y],
      ].some(([key, value]) => value === undefined && isWritten(`${path}.${key}`));
      if (unread) return [];
      if (at !== undefined && (x !== undefined || y !== undefined))
        tell(path, 'The place is told twice; write either at: or x: and y:.');
      else if (at !== undefined) return [{ kind, where: at, value: by, path }];
      else if (both) return [{ kind, where: [x, y], value: by, path }];
      else if (x !== undefined || y !== undefined) tell(path, 'A place needs both x: and y:.');
      else tell(path, 'Where? Write at: left (or another side, or middle), or x: and y: in the drawing.');
      return [];
    }),
  );
}

function acrossReadings(read: SeenKeys): SeenReading[] {
  const kinds = [
    ['pocket-size', read.pocketSize],
    ['plug-size', read.plugSize],
  ] as const;
  return kinds.flatMap(([kind, size]) =>
    ALONG.flatMap((along) => {
      const value = size?.[along];
      return value === undefined ? [] : [{ kind, along, value, path: `${kind}.${along}` }];
    }),
  );
}

function diagonalReadings({ diagonals }: SeenKeys): SeenReading[] {
  return PARTS.flatMap((of) => {
    const value = diagonals?.[of];
    return value === undefined ? [] : [{ kind: 'diagonals', of, value, path: `diagonals.${of}` }];
  });
}

function loneReadings(read: SeenKeys): SeenReading[] {
  const values: Readonly<Record<LoneKind, number | undefined>> = {
    'board-hollow': read.boardHollow,
    'stock-hollow': read.stockHollow,
    'tip-flat': read.tipFlat,
    angle: read.angle,
    runout: read.runout,
    'after-cleaning': read.afterCleaning,
  };
  return LONE_KINDS.flatMap((kind) => {
    const value = values[kind];
    return value === undefined ? [] : [{ kind, value, path: kind }];
  });
}

/** What cannot be true together, whatever the design is. */
function nonsense(read: SeenKeys, readings: readonly SeenReading[], tell: Tell): void {
  const accuracy = read.accuracy ?? ACCURACY;
  if (accuracy > COARSEST)
    tell(
      'accuracy',
      `Measuring only good to ${show(accuracy, 'mm', read.units)} tells nothing about an inlay; at most ${show(COARSEST, 'mm', read.units)} was wanted.`,
    );
  const of = (kind: SpotKind) => readings.filter((r) => r.kind === kind);
  const prouds = of('proud');
  const standing = prouds.length > 0 && prouds.every(({ value }) => value > accuracy);
  if (read.sinks === 'yes' && standing)
    tell(
      'sinks',
      'It cannot go in too far and stand proud at every place measured; leave one of the two out.',
    );
  const low = prouds.length > 0 && prouds.every(({ value }) => value < -2 * accuracy);
  if (read.sinks === 'no' && low)
    tell(
      'sinks',
      'It is measured low at every place, and that is going in too far; leave one of the two out.',
    );
  const gaps = of('gap');
  if (read.gapOnly === 'nowhere' && gaps.some(({ value }) => value > 2 * accuracy))
    tell('gap-only', 'No line anywhere, and yet a gap is measured; leave one of the two out.');
  if (read.gapOnly === 'all-round' && gaps.some(({ value }) => value === 0))
    tell('gap-only', 'A line all round, and yet a gap of 0 is measured; leave one of the two out.');
  for (const kind of SPOT_KINDS) sameSpotTwice(of(kind), accuracy, read.units, tell);
}

function sameSpotTwice(
  readings: readonly SeenReading[],
  accuracy: number,
  style: LengthStyle,
  tell: Tell,
): void {
  readings.forEach((one, i) => {
    const other = readings.slice(0, i).find((r) => sameSpot(r, one));
    if (other === undefined || Math.abs(other.value - one.value) <= APART * accuracy) return;
    tell(
      one.path,
      `This place is measured twice, ${show(other.value, 'mm', style)} and ${show(one.value, 'mm', style)}: they differ by more than measuring good to ${show(accuracy, 'mm', style)} can be off.`,
    );
  });
}

function sameSpot(a: SeenReading, b: SeenReading): boolean {
  return 'where' in a && 'where' in b && String(a.where) === String(b.where);
}
