import { type FaultPlace, InputFault, InputFaults } from '../fault.ts';
import { readDocument, type WrittenMap } from '../job/document.ts';
import {
  angle,
  type Bit,
  type Camel,
  choice,
  jobShape,
  keys,
  length,
  Optional,
  type Shape,
  type Static,
} from '../job/schema.ts';
import { contradictions } from '../job/sense.ts';
import { walk } from '../job/walk.ts';
import { degrees, type LengthStyle, toDegrees } from '../units.ts';

/** What went wrong with the first cut, and how well the board can be set up again. Lengths mm, angles radians. */
export interface Seen {
  /** The widest line seen at the rim; it may lie wholly outside the drawn outline. */
  readonly gap: number;
  /** How far chips, filler or stain reach beyond the old rim. */
  readonly damage: number;
  /** How far glue has gone into the board's wood, square to walls and floor. */
  readonly glue: number;
  /** How far below the old floor the wood is hurt. */
  readonly floorDamage: number;
  /** How much deeper than the job says the pocket was cut; negative when it came out shallower. */
  readonly tooDeep: number;
  readonly shift: number;
  readonly turn: number;
  /** How far the new cut may come out shallower than meant, measured from the old one. */
  readonly zero: number;
  /** The bit of the new cut, when it is another. */
  readonly bit: Bit | undefined;
  /** Growth and extra depth that the maker wants to try in place of the least. */
  readonly growth: number | undefined;
  readonly deeper: number | undefined;
}

const hurt = (means: string) => length(means, 'zero-or-more');

/** Every key of the file but `units` and `bit`; each is a flag too. */
const SEEN_KEYS = {
  gap: Optional(hurt('the widest line seen at the rim, counted as if the pocket were that much too wide')),
  damage: Optional(hurt('how far chips, filler or stain reach beyond the old rim')),
  glue: hurt("how far glue has gone into the board's wood; 0 when nothing was glued"),
  'floor-damage': Optional(hurt('how far below the old floor the wood is hurt')),
  'pocket-too-deep': Optional(hurt('how much deeper than the job says the pocket was cut')),
  'pocket-too-shallow': Optional(hurt('how much shallower than the job says the pocket was cut')),
  'setup-shift': hurt(
    'how far off its old place the middle of the inlay may lie when the board is set up again',
  ),
  'setup-turn': Optional(
    angle('how far the board may be turned about the middle of the inlay; 0 unless stated'),
  ),
  'setup-zero': Optional(
    hurt("how far the new depth zero may be off the old one; twice the job's pocket-zero unless stated"),
  ),
  growth: Optional(hurt('a growth to try in place of the least')),
  deeper: Optional(hurt('an extra depth to try in place of the least')),
};

export const seenShape = keys('What went wrong with a first cut', {
  units: Optional(choice(['mm', 'in'], "what a bare number means; the job's own unless stated")),
  ...SEEN_KEYS,
  bit: Optional(jobShape.properties.bit),
});

export type SeenKey = keyof typeof SEEN_KEYS;
export const SEEN_NAMES = Object.keys(SEEN_KEYS) as readonly SeenKey[];
/** The same as typed after a command; what is not there was not said. */
export type SeenFlags = { readonly [K in SeenKey]?: string | undefined };

const COMMAND = 'command line';
/** A board that may be turned by more than this is not set up again but put down anew. */
const MOST_TURN = degrees(5);

type Read = Partial<Camel<Static<typeof seenShape>>>;

/** What a repair hangs on in the job. */
export interface SeenJob {
  readonly units: LengthStyle;
  readonly spread: { readonly pocketZero: number };
}

/**
 * Reads what went wrong from the text of a file `NAME.recut.yaml`, from flags, or from both, the flags counting more.
 * Throws InputFaults with everything that is wrong.
 */
export function readSeen(
  file: { readonly text: string; readonly path: string } | undefined,
  flags: SeenFlags,
  job: SeenJob,
): Seen {
  const root = joined(file === undefined ? undefined : readDocument(file.text, file.path), flags);
  const units = root.entries.get('units')?.value;
  const style =
    units?.kind === 'value' && (units.value === 'in' || units.value === 'mm') ? units.value : job.units;
  const { values, places, faults } = walk(root, seenShape as unknown as Shape, style);
  const place = (path: string): FaultPlace => places.get(path) ?? root.place;
  const read = values as Read;
  const all = [
    ...faults,
    ...contradictions(read.bit === undefined ? {} : { bit: read.bit }, style, place, (path) =>
      places.has(path),
    ),
    ...contradictionsOf(read, place),
  ];
  if (all.length > 0) throw new InputFaults(all);
  return seenOf(read, job);
}

/** Flags written over what the file says. */
function joined(file: WrittenMap | undefined, flags: SeenFlags): WrittenMap {
  const entries = new Map(file?.entries);
  for (const name of SEEN_NAMES) {
    const text = flags[name];
    if (text === undefined) continue;
    const place = { file: COMMAND, element: `--${name}` };
    entries.set(name, { place, value: { kind: 'value', place, value: text, text } });
  }
  return { kind: 'map', place: file?.place ?? { file: COMMAND }, entries };
}

function contradictionsOf(read: Read, place: (path: string) => FaultPlace): readonly InputFault[] {
  const faults: InputFault[] = [];
  if ((read.pocketTooDeep ?? 0) > 0 && (read.pocketTooShallow ?? 0) > 0)
    faults.push(
      new InputFault(
        'The pocket cannot have been cut both too deep and too shallow; keep one of the two.',
        place('pocket-too-shallow'),
      ),
    );
  const turn = Math.abs(read.setupTurn ?? 0);
  if (turn > MOST_TURN)
    faults.push(
      new InputFault(
        `setup-turn: A turn of ${toDegrees(turn).toFixed(1)} degrees is more than ${toDegrees(MOST_TURN).toFixed(0)}; so far off, line the board up first.`,
        place('setup-turn'),
      ),
    );
  return faults;
}

function seenOf(read: Read, job: SeenJob): Seen {
  return {
    gap: read.gap ?? 0,
    damage: read.damage ?? 0,
    glue: read.glue ?? 0,
    floorDamage: read.floorDamage ?? 0,
    tooDeep: (read.pocketTooDeep ?? 0) - (read.pocketTooShallow ?? 0),
    shift: read.setupShift ?? 0,
    turn: Math.abs(read.setupTurn ?? 0),
    // Either cut may have been off by it, and in opposite ways.
    zero: read.setupZero ?? 2 * job.spread.pocketZero,
    bit: read.bit,
    growth: read.growth,
    deeper: read.deeper,
  };
}
