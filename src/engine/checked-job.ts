import type { JudgedCheck } from './judge.ts';
import type { Answer, Quantity } from './reading.ts';

/** A job with its answer: what every report is written from. */
export interface CheckedJob {
  /** The job file as the caller named it. */
  readonly job: string;
  readonly title: string;
  readonly answer: Answer;
  /** The main figures of the pair, in the order a maker reads them; undefined where they could not be had. */
  readonly figures: Readonly<Record<string, Quantity | undefined>>;
  readonly checks: readonly JudgedCheck[];
  /** Ids of checks that the caller left out. */
  readonly notAsked: readonly string[];
}
