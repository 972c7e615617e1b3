/** What Dryfit does besides checking, in the order a maker comes to it; each has its page beside this file. */
export const ADVICE_NAMES = ['choose', 'sheet', 'why', 'recut'] as const;
export type AdviceName = (typeof ADVICE_NAMES)[number];
