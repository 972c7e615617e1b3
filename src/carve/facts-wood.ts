import type { Region } from '../geometry/shapes.ts';
import type { Facts, Side } from './facts.ts';
import { type Glued, gluedOf, type Moves, movesOf, type Worn, wornOf } from './facts-wood-joint.ts';
import { type Thin, thinOf } from './facts-wood-parts.ts';
import { type Cleared, clearedOf, type Held, heldOf } from './facts-wood-stock.ts';

/** Why a fact cannot be had: the job does not say it (untold), or something else makes it pointless (moot). */
export type Unseen = { readonly untold: string } | { readonly moot: string };

/** What the facts about the wood are made from. */
export type WoodCore = Pick<
  Facts,
  | 'job'
  | 'limit'
  | 'region'
  | 'depths'
  | 'match'
  | 'fitted'
  | 'leastStroke'
  | 'leastLand'
  | 'narrowStrokes'
  | 'narrowLands'
> & {
  /** The shapes of keep-outs that are drawings, in the order of the job's list; undefined: none, or not read. */
  readonly keepOutDrawn: (index: number) => Region | undefined;
};

/** Everything about the wood that a rule may ask of one pair, each worked out once and only when asked for. */
export interface WoodFacts {
  /** What stands thin while a side is cut: the plug's strokes, the board's lands. */
  readonly thin: (side: Side) => Thin | Unseen;
  readonly worn: () => Worn | Unseen;
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
    moves: once(() => movesOf(core)),
    glued: once(() => gluedOf(core)),
    held: bySide((side) => heldOf(side, core)),
    cleared: bySide((side) => clearedOf(side, core)),
  };
}

export function once<T>(work: () => T): () => T {
  let done: { readonly value: T } | undefined;
  return () => {
    done ??= { value: work() };
    return done.value;
  };
}

function bySide<T>(work: (side: Side) => T): (side: Side) => T {
  const pocket = once(() => work('pocket'));
  const plug = once(() => work('plug'));
  return (side) => (side === 'pocket' ? pocket() : plug());
}
