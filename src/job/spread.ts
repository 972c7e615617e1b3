/** One thing that varies in a shop: half the width of its range, where the figure comes from, what it is. */
export interface Source {
  readonly value: number;
  readonly unit: 'mm' | 'deg' | '%';
  readonly ground: string;
  readonly means: string;
}

const PRACTICE = 'common practice, no source';

/** What varies between two setups of one job. Each value is a plus-and-minus, but wear, which only grows. */
export const SPREAD = {
  'tip-wear': source(0.03, 'mm', 'how much wider than stated the tip flat may have worn'),
  angle: source(0.25, 'deg', 'how far the true included angle may be from the stated one'),
  'pocket-zero': source(0.05, 'mm', "the depth zero of the pocket's setup"),
  'plug-zero': source(0.05, 'mm', "the depth zero of the plug's setup"),
  'pocket-flatness': source(0.1, 'mm', 'how far the board is from flat over the inlay'),
  'plug-flatness': source(0.1, 'mm', 'how far the plug stock is from flat over the inlay'),
  scale: source(0.02, '%', 'how far the machine scale may differ between the two setups'),
  squareness: source(0.02, 'deg', 'how far the machine axes may be from square between the two setups'),
  runout: source(0.02, 'mm', 'how far the bit may swing off its axis'),
} as const satisfies Record<string, Source>;

export type SourceName = keyof typeof SPREAD;
export const SOURCE_NAMES = Object.keys(SPREAD) as readonly SourceName[];

/** Draws of the seeded lot, and its seed, when the job states none. */
export const DRAWS = 4000;
export const SEED = 1;

function source(value: number, unit: Source['unit'], means: string): Source {
  return { value, unit, ground: PRACTICE, means };
}
