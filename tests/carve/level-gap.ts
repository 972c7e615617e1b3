import type { GapAt, Pair } from '../../src/carve/fit.ts';
import { touchingOf, widest } from '../../src/carve/seat.ts';
import { gapsAlong } from '../../src/carve/seat-rim.ts';
import { levelSeat } from '../../src/carve/seat-settle.ts';

/** The widest opening of the rim round a plug that is held level and goes straight down. */
export function levelGap(pair: Pair): GapAt | undefined {
  const { places, mouth } = touchingOf(pair);
  return widest(gapsAlong(pair, levelSeat(pair, places), mouth));
}
