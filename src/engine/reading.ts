import type { Point } from '../geometry/shapes.ts';
import type { UnitName } from '../units.ts';

/** A measured value with its unit. Lengths are millimetres, angles degrees here (this is the face, not a formula). */
export interface Quantity {
  readonly value: number;
  readonly unit: UnitName;
}

export type PartName = 'pocket' | 'plug' | 'pair' | 'job';

/** Where a reading was taken: which part, which point of its drawing (mm, y down), which element, which line. */
export interface Place {
  readonly part: PartName;
  readonly at?: Point | undefined;
  readonly element?: string | undefined;
  readonly file?: string | undefined;
  readonly line?: number | undefined;
  readonly column?: number | undefined;
}

/**
 * What is wanted of a reading. `atLeast`/`atMost` is what a maker should have; `hardAtLeast`/`hardAtMost`, when
 * given, is how far a value may miss that and still only be close (between the two: close; beyond: fail).
 */
export interface Want {
  readonly atLeast?: number | undefined;
  readonly atMost?: number | undefined;
  readonly hardAtLeast?: number | undefined;
  readonly hardAtMost?: number | undefined;
}

/** One measurement. `give` is how far `measured.value` may be off, in the same unit. */
export interface Reading {
  readonly measured: Quantity;
  readonly give: number;
  readonly want: Want;
  readonly place: Place;
  /** Row label when it differs from the rule's own. */
  readonly label?: string | undefined;
  /** One sentence: what is here and why it matters. */
  readonly says: string;
  /** One sentence: what would mend it. */
  readonly cure?: string | undefined;
}

/** A rule that has no business with this job, or that could not see. */
export type Silence = { readonly moot: string } | { readonly untold: string };

export type Outcome = 'pass' | 'close' | 'fail' | 'moot' | 'untold';
export type Answer = 'pass' | 'care' | 'fail' | 'unknown';
