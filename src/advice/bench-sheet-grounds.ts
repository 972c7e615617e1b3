import type { Facts, Side } from '../carve/facts.ts';
import { LIMITS, type LimitName } from '../job/limits.ts';
import { type SourceName, SPREAD } from '../job/spread.ts';
import { show, toDegrees } from '../units.ts';
import type { Cell, Figure, Note } from './bench-sheet-told.ts';

/** The grounds that a figure of the sheet may rest on; a printed source stands in its own words. */
export const JOB = 'the job file says so';
export const MODEL = 'worked out by the dry fit from the drawings and the job';
export const PRACTICE = 'common practice, no source';
export const LIMIT_OF_JOB = 'a limit that the job sets';

/** A length in mm with its ground, and the bounds it may be found between. */
export function length(
  name: string,
  mm: number,
  ground: string,
  range?: { readonly from: number; readonly to: number },
): Figure {
  return { name, value: { value: mm, unit: 'mm' }, ...range, ground };
}

export function cell(mm: number, ground: string): Cell {
  return { value: { value: mm, unit: 'mm' }, ground };
}

export const words = (text: string, ground: string): Cell => ({ words: text, ground });
export const missing = (key: string): Cell => ({ missing: key });

/** Where a limit's value comes from: the job, or the ground in the table of limits. */
export function limitGround(facts: Facts, name: LimitName): string {
  return facts.job.says(`limits.${name}`) ? LIMIT_OF_JOB : LIMITS[name].ground;
}

/** How far a depth below the face of one side may be off, mm: its depth zero and how flat its piece is. */
export function depthOff({ job }: Facts, side: Side): number {
  const { pocketZero, pocketFlatness, plugZero, plugFlatness } = job.spread;
  return side === 'pocket' ? pocketZero + pocketFlatness : plugZero + plugFlatness;
}

/** How far tan(half the true angle) may be off. */
export function slopeOff(facts: Facts, side: Side): number {
  const half = facts.bit(side).angle / 2;
  return Math.tan(half + facts.job.spread.angle / 2) - Math.tan(half);
}

/**
 * How far the seat may be higher or lower by the true angle alone, mm: the walls of both sides move by their flat
 * depth times the change of slope, and the plug sinks or rises by that over the slope.
 */
export function seatOff(facts: Facts): number {
  const { pocket, plug } = facts.job;
  const moved = pocket.flatDepth * slopeOff(facts, 'pocket') + plug.flatDepth * slopeOff(facts, 'plug');
  return moved / Math.tan(facts.bit('plug').angle / 2);
}

export const around = (value: number, off: number): { readonly from: number; readonly to: number } => ({
  from: value - off,
  to: value + off,
});

/** What the bounds on this sheet allow for, each with whether the job or the table says it. */
export function rangesNote({ job }: Facts): Note {
  const { spread, units } = job;
  const mm = (value: number): string => show(value, 'mm', units);
  const own: SourceName[] = [];
  const stated = (name: SourceName, text: string): string => {
    if (job.says(`spread.${name}`)) own.push(name);
    return text;
  };
  const both = (name: 'zero' | 'flatness', what: string, pocket: number, plug: number): string => {
    stated(`pocket-${name}`, '');
    stated(`plug-${name}`, '');
    return pocket === plug
      ? `${what} ${mm(pocket)}`
      : `${what} ${mm(pocket)} (pocket) and ${mm(plug)} (plug)`;
  };
  const parts = [
    both('zero', 'depth zero', spread.pocketZero, spread.plugZero),
    both('flatness', 'flatness', spread.pocketFlatness, spread.plugFlatness),
    stated('angle', `true angle ${show(toDegrees(spread.angle), 'deg', units)}`),
    stated('scale', `scale ${show(spread.scale, '%', units)}`),
  ];
  const wear = stated('tip-wear', `the tip worn wider by ${mm(spread.tipWear)}`);
  return {
    says: `The ranges allow for ${parts.join(', ')} either way, and ${wear}, all at once. A figure outside its range means that something else is off: find it before the next cut.`,
    ground:
      own.length > 0
        ? `spread: the job for ${own.join(', ')}; else ${SPREAD.angle.ground}`
        : SPREAD.angle.ground,
  };
}
