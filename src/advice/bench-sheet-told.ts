import type { Quantity } from '../engine/reading.ts';

/** What stands behind a name: a quantity, where it may be found between two bounds; words; or what the job leaves out. */
export type Told =
  | { readonly value: Quantity; readonly from?: number | undefined; readonly to?: number | undefined }
  | { readonly words: string }
  /** What would have to be said, such as `saw: kerf`. */
  | { readonly missing: string };

/** One figure with where it comes from; what is missing has no ground. */
export type Cell = Told & { readonly ground?: string | undefined };
export type Figure = Cell & { readonly name: string };

export interface SetupRow {
  readonly name: string;
  readonly pocket: Cell;
  readonly plug: Cell;
}

/** A sentence with its ground, when it says more than what the figures beside it say. */
export interface Note {
  readonly says: string;
  readonly ground?: string | undefined;
}

/** One step of the work: what is done, what is measured then and what it should be, what to mind. */
export interface Step {
  readonly part: 'both' | 'pocket' | 'plug' | 'joint';
  readonly does: string;
  readonly figures: readonly Figure[];
  readonly notes: readonly Note[];
}
