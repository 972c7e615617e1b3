import type { Rule } from '../src/engine/rule.ts';
import { artworkClean } from './artwork/clean.ts';
import { artworkClosed } from './artwork/closed.ts';
import { artworkRead } from './artwork/read.ts';
import { artworkSize } from './artwork/size.ts';
import { bitBetween } from './bit/between.ts';
import { bitClearing } from './bit/clearing.ts';
import { bitReach } from './bit/reach.ts';
import { bitTip } from './bit/tip.ts';
import { boardBreakage } from './board/breakage.ts';
import { depthBoard } from './depth/board.ts';
import { depthGlue } from './depth/glue.ts';
import { depthMating } from './depth/mating.ts';
import { depthPlugStock } from './depth/plug-stock.ts';
import { depthSaw } from './depth/saw.ts';
import { fitProud } from './fit/proud.ts';
import { fitRim } from './fit/rim.ts';
import { fitSpread } from './fit/spread.ts';
import { glueWall } from './glue/wall.ts';
import { pairMatch } from './pair/match.ts';
import { pairMirror } from './pair/mirror.ts';
import { plugBreakage } from './plug/breakage.ts';
import { stockMargin } from './stock/margin.ts';
import { wearSanding } from './wear/sanding.ts';
import { woodMovement } from './wood/movement.ts';

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
  bitClearing,
  plugBreakage,
  boardBreakage,
  fitProud,
  fitRim,
  fitSpread,
  stockMargin,
  wearSanding,
  woodMovement,
  glueWall,
];
