import type { NamedBit } from '../job/bits.ts';
import type { Job } from '../job/job.ts';
import type { Bit } from '../job/schema.ts';
import { degrees, mm } from '../units.ts';

/** A bit that may cut both sides, and where it comes from. */
export interface Candidate extends NamedBit {
  readonly from: 'job' | 'list' | 'usual';
}

/**
 * Included angle (degrees), tip flat and cutting diameter (mm) of bits that are commonly sold: common practice, no
 * source. Their edges reach as far as their cone does.
 */
const USUAL: readonly (readonly [angle: number, tipFlat: number, diameter: number])[] = [
  [15, 0.1, 6.35],
  [15, 0.25, 6.35],
  [30, 0.1, 6.35],
  [30, 0.25, 6.35],
  [45, 0.1, 12.7],
  [60, 0.1, 12.7],
  [90, 0.1, 19.05],
];

/** The bits to choose from: the owner's list when there is one, else the job's own and those commonly sold. */
export function candidatesOf(job: Job, list: readonly NamedBit[] | undefined): readonly Candidate[] {
  if (list !== undefined) return list.map((one) => ({ ...one, from: 'list' }));
  const own = job.plugBit === job.bit ? [job.bit] : [job.bit, job.plugBit];
  const usual = USUAL.map(usualBit).filter((bit) => !own.some((other) => alike(bit, other)));
  return [
    ...own.map((bit): Candidate => ({ name: undefined, bit, from: 'job' })),
    ...usual.map((bit): Candidate => ({ name: undefined, bit, from: 'usual' })),
  ];
}

function usualBit([angle, tipFlat, diameter]: (typeof USUAL)[number]): Bit {
  const length = (diameter - tipFlat) / 2 / Math.tan(degrees(angle) / 2);
  return {
    angle: degrees(angle),
    tipFlat: mm(tipFlat),
    cuttingLength: mm(length),
    cuttingDiameter: mm(diameter),
  };
}

/** Angles nearer than this are one on a shelf, radians; tips, mm. */
const SAME_ANGLE = degrees(0.5);
const SAME_TIP = 0.02;

function alike(a: Bit, b: Bit): boolean {
  if (b.tipFlat === undefined) return false;
  return Math.abs(a.angle - b.angle) < SAME_ANGLE && Math.abs((a.tipFlat ?? 0) - b.tipFlat) < SAME_TIP;
}
