import { type FaultPlace, InputFault } from '../fault.ts';
import { type LengthStyle, show } from '../units.ts';
import { hardOf, LIMIT_NAMES, type Limits, limitsOf, stricter } from './limits.ts';
import type { Bit, ReadKeys, Stock } from './schema.ts';
import { spoken } from './walk.ts';

/** The parts of a job as far as they could be read: any value may be absent when another fault took it. */
type Partly<T> = T extends number | string ? T : { readonly [K in keyof T]?: Partly<T[K]> | undefined };

type Tell = (path: string, sentence: string) => void;
/** Whether a key is written, even where its value could not be read. */
type Says = (path: string) => boolean;

/** What no single value shows: keys that contradict one another. Every contradiction is told. */
export function contradictions(
  read: Partly<ReadKeys>,
  style: LengthStyle,
  placeOf: (path: string) => FaultPlace,
  says: Says,
): readonly InputFault[] {
  const faults: InputFault[] = [];
  const tell: Tell = (path, sentence) =>
    faults.push(new InputFault(`${spoken(path)}: ${sentence}`, placeOf(path)));
  senseOfBit('bit', read.bit, style, tell);
  senseOfBit('plug-bit', read.plugBit, style, tell);
  senseOfStock('pocket.stock', read.pocket?.stock, tell);
  senseOfStock('plug.stock', read.plug?.stock, tell);
  read.keepOut?.forEach((item, index) => {
    if (item !== undefined) senseOfKeepOut(`keep-out.${index}`, tell, says);
  });
  senseOfClimate(read.climate, tell, says);
  senseOfLimits((read.limits ?? {}) as Partial<Limits>, tell);
  return faults;
}

/** What in one bit contradicts itself; `path` is where the bit stands. */
export function senseOfBit(path: string, bit: Partly<Bit> | undefined, style: LengthStyle, tell: Tell): void {
  if (bit === undefined) return;
  const { tipFlat, tipRadius, cuttingDiameter, cuttingLength, stickOut, toolpathTipFlat } = bit;
  if (tipFlat !== undefined && tipRadius !== undefined)
    tell(`${path}.tip-radius`, 'The tip is flat or round, not both; keep tip-flat or tip-radius.');
  if (cuttingDiameter !== undefined) {
    const widest = `the cutting diameter, ${show(cuttingDiameter, 'mm', style)}`;
    if (tipFlat !== undefined && tipFlat >= cuttingDiameter)
      tell(`${path}.tip-flat`, `The tip flat of ${show(tipFlat, 'mm', style)} must be less than ${widest}.`);
    if (tipRadius !== undefined && 2 * tipRadius >= cuttingDiameter)
      tell(
        `${path}.tip-radius`,
        `Twice the tip radius of ${show(tipRadius, 'mm', style)} must be less than ${widest}.`,
      );
    if (toolpathTipFlat !== undefined && toolpathTipFlat >= cuttingDiameter)
      tell(
        `${path}.toolpath-tip-flat`,
        `The tip flat of ${show(toolpathTipFlat, 'mm', style)} must be less than ${widest}.`,
      );
  }
  if (stickOut !== undefined && cuttingLength !== undefined && stickOut < cuttingLength)
    tell(`${path}.stick-out`, 'The bit sticks out less than its cutting edges are high.');
}

function senseOfStock(path: string, stock: Partly<Stock> | undefined, tell: Tell): void {
  if (stock?.grain === 'end' && stock.grainAngle !== undefined)
    tell(
      `${path}.grain-angle`,
      'On end grain the grain runs straight down and has no direction in the drawing; leave grain-angle out.',
    );
}

function senseOfKeepOut(path: string, tell: Tell, says: Says): void {
  const shapes = ['outline', 'box', 'disc'].filter((key) => says(`${path}.${key}`));
  if (shapes.length !== 1) tell(path, 'One of outline, box and disc was wanted, to say where it stands.');
}

function senseOfClimate(climate: Partly<ReadKeys['climate']> | undefined, tell: Tell, says: Says): void {
  if (climate === undefined) return;
  for (const path of ['climate.workshop', 'climate.driest', 'climate.dampest']) {
    if (!says(path)) continue;
    const ofWood = says(`${path}.moisture`);
    const ofAir = says(`${path}.humidity`);
    if (ofWood && ofAir) tell(path, 'Give the moisture of the wood or the humidity of the air, not both.');
    if (!ofWood && !ofAir) tell(path, 'Give the humidity of the air or the moisture of the wood.');
  }
  for (const key of ['humidity', 'moisture'] as const) {
    const dry = climate.driest?.[key];
    const damp = climate.dampest?.[key];
    if (dry !== undefined && damp !== undefined && dry > damp)
      tell(`climate.driest.${key}`, `The driest time is damper (${dry} %) than the dampest (${damp} %).`);
  }
}

function senseOfLimits(own: Partial<Limits>, tell: Tell): void {
  const all = limitsOf(own);
  for (const name of LIMIT_NAMES) {
    const hard = hardOf(name);
    if (hard !== undefined && own[hard] !== undefined && stricter(name, all[hard], all[name]))
      tell(`limits.${hard}`, `The hard limit (${all[hard]}) leaves less room than ${name} (${all[name]}).`);
  }
}
