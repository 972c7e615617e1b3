import { degrees, type Mpa, mpa, toDegrees } from '../units.ts';
import {
  crossGrainMovement,
  LINEAR_MOISTURE,
  type MovementRule,
  sizeChange,
  sizeChangeFromShrinkage,
} from './movement.ts';
import type { Species } from './species.ts';
import { type Grain, type Piece, stiffnessRatios } from './strength.ts';

/** Moisture contents, %: when the joint was made, and the driest and dampest of the year. */
export interface Year {
  readonly made: number;
  readonly least: number;
  readonly most: number;
}

/** Change across the grain for each mm of size when the moisture changes, as a fraction; ends where rings are unknown. */
export interface CrossChange {
  readonly likely: number;
  readonly least: number;
  readonly most: number;
  readonly rule: MovementRule;
  readonly source: string;
}

/** One direction of the joint. Sizes in mm over the whole width of the inlay in that direction. */
export interface JointLine {
  /** Direction in the drawing, radians from x, 0 to pi. */
  readonly angle: number;
  /** Width of the inlay that way. */
  readonly size: number;
  /** How much the plug comes short of its pocket at the worst time of the year: shared by both rims, or at one. */
  readonly opening: Spread;
  /** How much it is too wide at the worst time: the joint is squeezed by that. */
  readonly squeeze: Spread;
}

/** The likely value, and the most it can be when the lie of the year's rings is not known. */
export interface Spread {
  readonly likely: number;
  readonly most: number;
}

export interface JointMovement {
  readonly along: JointLine;
  readonly across: JointLine;
  /** The direction that opens most (by the likely value; when none opens, the one that may). */
  readonly worst: JointLine;
  /** Stress across the grain of the plug, MPa, if glue holds it to the board: likely; undefined without stiffness. */
  readonly held: Mpa | undefined;
  readonly mismatch: string | undefined;
  readonly rules: readonly {
    readonly species: Species;
    readonly rule: MovementRule;
    readonly source: string;
  }[];
}

/**
 * Opening and squeezing of an inlay over the year. `size` gives the inlay's width, mm, in a direction (radians).
 * Wood changes across the grain only (along it less than the figures' rounding), so in a direction at an angle a to
 * the fibres by sin^2 a of that; an end-grain piece changes every way. Undefined (no data) when either wood has no
 * printed movement for these moistures.
 */
export function jointMovement(
  board: Piece,
  plug: Piece,
  year: Year,
  size: (angle: number) => number,
): JointMovement | undefined {
  const seasons = [year.least, year.most].map((moisture) => ({
    board: crossChange(board.species, board.grain, year.made, moisture),
    plug: crossChange(plug.species, plug.grain, year.made, moisture),
  }));
  if (seasons.some((s) => !s.board || !s.plug)) return undefined;
  const known = seasons as readonly Season[];
  const line = (angle: number): JointLine => jointLine(board, plug, known, wrapped(angle), size(angle));
  const all = Array.from({ length: 180 }, (_, i) => line(degrees(i)));
  return {
    along: line(board.grainAngle),
    across: line(board.grainAngle + Math.PI / 2),
    worst: all.reduce(opensMore),
    held: heldStress(plug, all),
    mismatch: grainMismatch(board, plug),
    rules: [board, plug].map(({ species }, i) => {
      const { rule, source } = i === 0 ? known[0]!.board : known[0]!.plug;
      return { species, rule, source };
    }),
  };
}

/**
 * Free change across the grain from one moisture to another, per mm. Eq. 13-2 between 6 and 14 %, else Eq. 13-3 from
 * the printed shrinkage; undefined when that is not printed.
 */
function crossChange(species: Species, grain: Grain, from: number, to: number): CrossChange | undefined {
  const inside = [from, to].every((m) => m >= LINEAR_MOISTURE.least && m <= LINEAR_MOISTURE.most);
  const linear = crossGrainMovement(species, grain);
  if (inside && linear) {
    const { likely, least, most, source } = linear;
    const change = (perPercent: number): number => sizeChange(1, perPercent, from, to);
    return { likely: change(likely), least: change(least), most: change(most), rule: 'Eq. 13-2', source };
  }
  const { radial, tangential } = species.shrinkage?.value ?? {};
  if (radial === undefined || tangential === undefined) return undefined;
  const [r, t] = [radial, tangential].map((s) => sizeChangeFromShrinkage(1, s, from, to));
  if (r === undefined || t === undefined) return undefined;
  const [least, most] = Math.abs(r) < Math.abs(t) ? [r, t] : [t, r];
  return {
    likely: grain === 'edge' ? r : t,
    least,
    most,
    rule: 'Eq. 13-3',
    source: species.shrinkage!.source,
  };
}

/** What about the two grains will pull the joint apart, in words; undefined when they lie alike. */
function grainMismatch(board: Piece, plug: Piece): string | undefined {
  if ((board.grain === 'end') !== (plug.grain === 'end')) {
    return board.grain === 'end'
      ? `A ${plug.grain}-grain plug lies in an end-grain board: the board moves every way, the plug only across its grain.`
      : `An end-grain plug lies in a ${board.grain}-grain board: the plug moves every way, the board only across its grain.`;
  }
  if (board.grain === 'end') return undefined;
  const crossed = Math.abs(toDegrees(wrapped(plug.grainAngle - board.grainAngle)));
  const between = Math.min(crossed, 180 - crossed);
  return between > 10
    ? `The grains cross at ${between.toFixed(0)} degrees: each holds still where the other moves.`
    : undefined;
}

interface Season {
  readonly board: CrossChange;
  readonly plug: CrossChange;
}

function jointLine(
  board: Piece,
  plug: Piece,
  seasons: readonly Season[],
  angle: number,
  size: number,
): JointLine {
  const [b, p] = [crossShare(board, angle), crossShare(plug, angle)];
  const likely = seasons.map((s) => size * (p * s.plug.likely - b * s.board.likely));
  const ends = seasons.flatMap((s) =>
    [s.plug.least, s.plug.most].flatMap((cp) =>
      [s.board.least, s.board.most].map((cb) => size * (p * cp - b * cb)),
    ),
  );
  const opening = {
    likely: Math.max(0, ...likely.map((d) => -d)),
    most: Math.max(0, ...ends.map((d) => -d)),
  };
  const squeeze = { likely: Math.max(0, ...likely), most: Math.max(0, ...ends) };
  return { angle, size, opening, squeeze };
}

/** How much of the change across the grain shows in a direction: sin^2 of the angle to the fibres. */
function crossShare(piece: Piece, angle: number): number {
  return piece.grain === 'end' ? 1 : Math.sin(angle - piece.grainAngle) ** 2;
}

function opensMore(a: JointLine, b: JointLine): JointLine {
  if (b.opening.likely !== a.opening.likely) return b.opening.likely > a.opening.likely ? b : a;
  return b.opening.most > a.opening.most ? b : a;
}

/** The largest likely strain between the two, times the plug's stiffness across the grain. */
function heldStress(plug: Piece, lines: readonly JointLine[]): Mpa | undefined {
  const { stiffness } = plug.species;
  if (!stiffness) return undefined;
  const strain = Math.max(
    ...lines.map((l) => (l.size > 0 ? Math.max(l.opening.likely, l.squeeze.likely) / l.size : 0)),
  );
  return mpa(strain * stiffness.value * stiffnessRatios(plug.species).tangential);
}

function wrapped(angle: number): number {
  return ((angle % Math.PI) + Math.PI) % Math.PI;
}
