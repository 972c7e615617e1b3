import { grow } from '../geometry/offset.ts';
import { allSpecies, type Species } from '../wood/species.ts';
import { standingStrength } from '../wood/strength.ts';
import { type Breakage, breakage, type Standing, type StandingPart } from './breakage.ts';

/** Ways to make a part hold, each tried on the same model; one that does not work is left out. */
export interface BreakageMends {
  /** The same with the stock turned a quarter (when that helps at all, even if not enough). */
  readonly quarterTurn?: Breakage | undefined;
  /** Width at the surface line, mm, that bears it. */
  readonly width?: number | undefined;
  /** The height above the surface line, mm (the plug's start depth) that bears it. */
  readonly above?: number | undefined;
  /** The share of the stated push it bears with the safety asked: how light the last passes must be. */
  readonly lighter: number | undefined;
  /** Closed-grained woods that hold as they lie, strongest first. Only woods with a printed strength. */
  readonly woods: readonly Species[];
}

export function breakageMends(part: StandingPart, standing: Standing): BreakageMends {
  const now = breakage(part, standing);
  const turned = breakage(part, quarterTurned(standing));
  return {
    quarterTurn: (turned.bears ?? 0) > (now.bears ?? 0) * 1.001 ? turned : undefined,
    width: widthThatHolds(part, standing),
    above: heightThatHolds(part, standing),
    lighter: now.bears === undefined ? undefined : Math.min(1, now.bears / now.need),
    woods: closedGrainedThatHold(part, standing),
  };
}

/** Whether it bears what it must; false where no strength is known. */
export function holds({ bears, need }: Breakage): boolean {
  return bears !== undefined && bears >= need;
}

/** The same with the piece of wood turned by a right angle under the drawing. */
export function quarterTurned(standing: Standing): Standing {
  const { piece } = standing;
  return { ...standing, piece: { ...piece, grainAngle: piece.grainAngle + Math.PI / 2 } };
}

/**
 * The least width at the surface line, mm, at which the part holds: its own when it does already, undefined when no
 * width up to 20 mm more is enough (or no strength is known). Found by halving, to 0.01 mm on the safe side.
 */
export function widthThatHolds(part: StandingPart, standing: Standing): number | undefined {
  const width = part.kind === 'wall' ? part.width : 2 * part.radius;
  const ok = (more: number): boolean => holds(breakage(widened(part, more), standing));
  if (ok(0)) return width;
  const more = leastThat(ok, 20, 0.01);
  return more === undefined ? undefined : width + more;
}

/** The greatest height above the surface line, mm, at which the part holds; undefined when none does. */
function heightThatHolds(part: StandingPart, standing: Standing): number | undefined {
  const ok = (less: number): boolean => holds(breakage(part, { ...standing, above: standing.above - less }));
  if (ok(0)) return standing.above;
  const less = leastThat(ok, standing.above, 0.01);
  return less === undefined ? undefined : standing.above - less;
}

/** Closed-grained woods with a printed strength in which the part would hold, strongest first. */
function closedGrainedThatHold(part: StandingPart, standing: Standing): readonly Species[] {
  const { piece } = standing;
  const strength = (species: Species) => standingStrength({ ...piece, species });
  return allSpecies()
    .filter((s) => s.poreSize?.value === 'small' && strength(s).printed)
    .filter((species) => holds(breakage(part, { ...standing, piece: { ...piece, species } })))
    .sort((a, b) => strength(b).value! - strength(a).value! || (a.id < b.id ? -1 : 1));
}

function widened(part: StandingPart, by: number): StandingPart {
  if (part.kind === 'wall') return { ...part, width: part.width + by };
  return { ...part, outline: grow(part.outline, by / 2), radius: part.radius + by / 2 };
}

function leastThat(ok: (value: number) => boolean, most: number, within: number): number | undefined {
  if (!ok(most)) return undefined;
  let [low, high] = [0, most];
  while (high - low > within) {
    const middle = (low + high) / 2;
    if (ok(middle)) high = middle;
    else low = middle;
  }
  return high;
}
