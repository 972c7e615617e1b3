import type { Point } from './shapes.ts';

export type FaultKind =
  | 'open'
  | 'crossing'
  | 'repeat'
  | 'sliver'
  | 'speck'
  | 'spike'
  | 'overlap'
  | 'near-touch'
  | 'hidden-hole'
  | 'no-area';

/**
 * What `measured` is, by kind:
 * open: distance between the two ends, mm. crossing: area of the smaller loop cut off where an outline crosses
 * itself, or shared by the two outlines of one shape that cross, mm2. repeat: area drawn twice, mm2.
 * sliver: mean width of a thin piece or gap, mm. speck: area of a tiny piece or hole, mm2. spike: its length, mm.
 * overlap: area two shapes share, mm2. near-touch: distance between the edges, mm (0: they touch).
 * hidden-hole: area inside the unseen outline, mm2. no-area: length of the line, mm.
 */
export interface TidyFault {
  readonly kind: FaultKind;
  /** The shapes concerned, by `RawShape.source`. */
  readonly sources: readonly number[];
  readonly at: Point;
  readonly measured: number;
  readonly unit: 'mm' | 'mm2';
}

/** Faults of one kind beyond this many are left out: a drawing that bad is told by the first few hundred. */
export const MOST_OF_A_KIND = 500;
