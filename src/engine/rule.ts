import type { Facts } from '../carve/facts.ts';
import type { LimitName } from '../job/limits.ts';
import type { Asked } from './judge.ts';
import type { Reading, Silence } from './reading.ts';

/**
 * A rule measures and never judges: it takes facts that the rooms before it worked out and maps them to
 * readings. One rule is one file, with its page beside it.
 */
export interface Rule extends Asked {
  /** `subject.aspect` */
  readonly id: string;
  /** The limits it reads, so that its page can print them with their ground. */
  readonly limits: readonly LimitName[];
  readonly measure: (facts: Facts) => readonly (Reading | Silence)[];
}
