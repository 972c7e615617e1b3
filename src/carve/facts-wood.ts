import { bySide, once, type Side, type Unseen, type WoodCore } from './facts-core.ts';
import {
  type Glued,
  gluedOf,
  type Moves,
  movesOf,
  openingPerMm,
  type Worn,
  wornOf,
} from './facts-wood-joint.ts';
import { type Thin, thinOf } from './facts-wood-parts.ts';
import { type Cleared, clearedOf, type Held, heldOf } from './facts-wood-stock.ts';

/** Everything about the wood that a rule may ask of one pair, each worked out once and only when asked for. */
export interface WoodFacts {
  /** What stands thin while a side is cut: the plug's strokes, the board's lands. */
  readonly thin: (side: Side) => Thin | Unseen;
  readonly worn: () => Worn | Unseen;
  readonly openingPerMm: () => number;
  readonly moves: () => Moves | Unseen;
  readonly glued: () => Glued | Unseen;
  /** Each side on its piece of wood, and what the bits and the nut meet there. */
  readonly held: (side: Side) => Held;
  readonly cleared: (side: Side) => Cleared | Unseen;
}

export function woodFacts(core: WoodCore): WoodFacts {
  return {
    thin: bySide((side) => thinOf(side, core)),
    worn: once(() => wornOf(core)),
    openingPerMm: () => openingPerMm(core),
    moves: once(() => movesOf(core)),
    glued: once(() => gluedOf(core)),
    held: bySide((side) => heldOf(side, core)),
    cleared: bySide((side) => clearedOf(side, core)),
  };
}
