import type { Facts } from '../carve/facts.ts';
import type { Bit } from '../job/schema.ts';
import { type LengthStyle, show, toDegrees } from '../units.ts';
import { speciesOf } from '../wood/species.ts';

/** The job in a few lines: both pieces, the bits, and the depths that come of them. */
export function jobLines({ job, depths }: Facts): string[] {
  const { units: style } = job;
  const length = (mm: number | undefined) => (mm === undefined ? '?' : show(mm, 'mm', style));
  const piece = (side: 'pocket' | 'plug'): string => {
    const { stock, startDepth, flatDepth } = job[side];
    const wood = [woodName(stock.wood), stock.grain === undefined ? undefined : `${stock.grain} grain`];
    if (stock.thickness !== undefined) wood.push(length(stock.thickness));
    const text = wood.filter((word) => word !== undefined).join(', ');
    return `${side.padEnd(8)}${text.padEnd(38)} start ${length(startDepth).padEnd(10)} flat ${length(flatDepth)}`;
  };
  const lines = [piece('pocket'), piece('plug')];
  for (const [name, bit] of [
    ['bit', job.bit],
    ['plug bit', job.plugBit],
  ] as const)
    if (name === 'bit' || job.plugBit !== job.bit) lines.push(`${name.padEnd(8)}${bitText(bit, style)}`);
  const budget = `mating ${length(depths.mating)}   glue gap ${length(depths.glue)}   saw gap ${length(depths.saw)}`;
  return [...lines, `${'depths'.padEnd(8)}${budget}`];
}

function woodName(wood: string | undefined): string {
  if (wood === undefined) return 'wood not named';
  // The head of a sheet has room for a name, not for its other names in brackets.
  return speciesOf(wood)?.name.toLowerCase().replace(/ \(.*/, '') ?? 'unlisted wood';
}

export function bitText(bit: Bit, style: LengthStyle): string {
  const words = [`${show(toDegrees(bit.angle), 'deg', style)} V-bit`];
  if (bit.tipFlat !== undefined)
    words.push(bit.tipFlat === 0 ? 'sharp point' : `tip flat ${show(bit.tipFlat, 'mm', style)}`);
  else if (bit.tipRadius !== undefined) words.push(`tip radius ${show(bit.tipRadius, 'mm', style)}`);
  else words.push('tip not known');
  return words.join(', ');
}
