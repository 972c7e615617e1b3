import type { Rule } from '../src/engine/rule.ts';
import { artworkClean } from './artwork/clean.ts';
import { artworkClosed } from './artwork/closed.ts';
import { artworkRead } from './artwork/read.ts';
import { artworkSize } from './artwork/size.ts';
import { bitBetween } from './bit/between.ts';
import { bitReach } from './bit/reach.ts';
import { bitTip } from './bit/tip.ts';
import { depthBoard } from './depth/board.ts';
import { depthGlue } from './depth/glue.ts';
import { depthMating } from './depth/mating.ts';
import { depthPlugStock } from './depth/plug-stock.ts';
import { depthSaw } from './depth/saw.ts';
import { fitProud } from './fit/proud.ts';
import { fitRim } from './fit/rim.ts';
import { pairMatch } from './pair/match.ts';
import { pairMirror } from './pair/mirror.ts';

/** Every check, in the order a maker would ask them: the drawings, the pair, the depths, the bit, the wood, the fit. */
export const RULES: readonly Rule[] = [
  artworkRead,
  artworkClosed,
  artworkClean,
  artworkSize,
  pairMirror,
  pairMatch,
  depthMating,
  depthGlue,
  depthSaw,
  depthBoard,
  depthPlugStock,
  bitTip,
  bitBetween,
  bitReach,
  fitProud,
  fitRim,
];
