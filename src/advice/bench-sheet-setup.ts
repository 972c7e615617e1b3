import type { Facts, Side } from '../carve/facts.ts';
import type { CheckedJob } from '../engine/checked.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Bit, Feeds } from '../job/schema.ts';
import { show, toDegrees } from '../units.ts';
import { speciesOf } from '../wood/species.ts';
import { cell, JOB, limitGround, MODEL, missing, words } from './bench-sheet-grounds.ts';
import type { Cell, SetupRow } from './bench-sheet-told.ts';

/** The numbers to set, a row each with what they are for the pocket and for the plug. */
export function setupRows(checked: CheckedJob, facts: Facts): readonly SetupRow[] {
  const row = (name: string, of: (side: Side) => Cell): SetupRow => ({
    name,
    pocket: of('pocket'),
    plug: of('plug'),
  });
  const { job, depths } = facts;
  return [
    row('Drawing', (side) => words(baseName(job[side].outline.written), JOB)),
    row('Toolpath', (side) => toolpath(facts, side)),
    row('Wood', (side) => wood(facts, side)),
    row('Grain runs', (side) => grain(facts, side)),
    row('Size of piece', (side) => size(facts, side)),
    row('Depth zero', (side) => zero(side)),
    row('Outline lies at', (side) => lies(facts, side)),
    row('V-bit', (side) => words(bitWords(facts, side), JOB)),
    row('Start depth', (side) => cell(job[side].startDepth, job.says(`${side}.start-depth`) ? JOB : START)),
    row('Flat depth', (side) => cell(job[side].flatDepth, JOB)),
    row('Deepest cut', (side) => cell(side === 'pocket' ? depths.pocketTotal : depths.plugTotal, MODEL)),
    row('Bit needs', (side) => bitMust(checked, facts, side)),
    row('Clearing bit', (side) => clearingBit(facts, side)),
    row('Feeds', (side) => feeds(facts, side)),
    row('Cuts outside', (side) => border(facts, side)),
    row('Clamps, stops', (side) => keepOuts(facts, side)),
  ];
}

const START = 'the job says none, so 0: the outline lies in the face';

function toolpath({ job }: Facts, side: Side): Cell {
  if (side === 'pocket') return words('carve inside the outline', MODEL);
  const by =
    job.plug.mirror === 'toolpath'
      ? 'carve outside; SWITCH MIRRORING ON'
      : 'carve outside; drawn mirrored, mirror nothing';
  return words(by, JOB);
}

function wood({ job }: Facts, side: Side): Cell {
  const { wood: id, grain: up } = job[side].stock;
  if (id === undefined) return missing(`${side}: stock: wood`);
  const name = speciesOf(id)?.name.toLowerCase() ?? 'a wood that is not in the tables';
  return words(`${name}, ${up === undefined ? 'grain up not given' : `${up} grain`}`, JOB);
}

function grain({ job }: Facts, side: Side): Cell {
  const { grain: up, grainAngle } = job[side].stock;
  if (up === 'end') return words('standing upright', JOB);
  if (grainAngle === undefined) return missing(`${side}: stock: grain-angle`);
  const angle = show(toDegrees(grainAngle), 'deg', job.units);
  return words(`${angle} from x towards y`, JOB);
}

/** Thickness, width and length of the piece, and how large the plug stock has to be for its cuts. */
function size(facts: Facts, side: Side): Cell {
  const { thickness, width, length } = facts.job[side].stock;
  const given: string[] = [];
  given.push(
    thickness === undefined ? `not given: ${side}: stock: thickness` : `${facts.length(thickness)} thick`,
    width === undefined || length === undefined
      ? `not given: ${side}: stock: width, length`
      : `${facts.length(width)} by ${facts.length(length)}`,
  );
  if (side === 'pocket' || facts.region('plug').rings.length === 0) return words(given.join('; '), JOB);
  const { margin, border: cut } = facts.wood.held('plug');
  const spare = 2 * (cut + facts.limit('stock-spare-least'));
  const least = `${facts.length(margin.size.width + spare)} by ${facts.length(margin.size.length + spare)}`;
  return words(
    `${given.join('; ')} (at least ${least})`,
    `${MODEL}; spare wood: ${limitGround(facts, 'stock-spare-least')}`,
  );
}

function zero(side: Side): Cell {
  return side === 'pocket'
    ? words('the face of the board that will show', MODEL)
    : words('the face that goes down into the pocket', MODEL);
}

function lies(facts: Facts, side: Side): Cell {
  const { rings } = facts.region(side);
  if (rings.length === 0) return missing('an outline in the drawing');
  const { minX, minY, maxX, maxY } = boxOf(rings);
  const { left, top } = facts.job[side].stock;
  const stock =
    left === undefined || top === undefined
      ? 'place of the piece not given'
      : `left edge of the piece at x ${facts.length(left)}, upper edge at y ${facts.length(top)}`;
  const bare = (from: number, to: number): string => `${facts.length(from)} to ${facts.length(to)}`;
  return words(`x ${bare(minX, maxX)}, y ${bare(minY, maxY)}; ${stock}`, MODEL);
}

/** A bit in words: angle, tip, and what the toolpath was worked out with where that differs. */
export function bitWords(facts: Facts, side: Side): string {
  const { job } = facts;
  const bit = facts.bit(side);
  const angle = (value: number): string => show(toDegrees(value), 'deg', job.units);
  const parts = [`${angle(bit.angle)}, ${tipWords(facts, bit)}`];
  if (bit.toolpathAngle !== undefined) parts.push(`toolpath for ${angle(bit.toolpathAngle)}`);
  if (bit.toolpathTipFlat !== undefined)
    parts.push(`toolpath for a tip of ${facts.length(bit.toolpathTipFlat)}`);
  if (side === 'plug' && job.plugBit !== job.bit) parts.push('ANOTHER BIT than the pocket');
  return parts.join('; ');
}

function tipWords(facts: Facts, { tipFlat, tipRadius }: Bit): string {
  if (tipFlat !== undefined) return tipFlat === 0 ? 'sharp point' : `tip flat ${facts.length(tipFlat)}`;
  return tipRadius === undefined ? 'tip not given' : `tip radius ${facts.length(tipRadius)}`;
}

/** What the check of the bit wants, told in its own figures. */
function bitMust(checked: CheckedJob, facts: Facts, side: Side): Cell {
  const reach = checked.checks.find(({ id }) => id === 'bit.reach')?.readings ?? [];
  const wanted = (label: string): number | undefined =>
    reach.find((reading) => reading.label === `${label} for the ${side}`)?.want.atLeast;
  const deep = side === 'pocket' ? facts.depths.pocketTotal : facts.depths.plugTotal;
  const wide = wanted('Cutting diameter');
  const parts = [`edges ${facts.length(deep)} high or more`];
  if (wide !== undefined) parts.push(`cutting ${facts.length(wide)} wide or more`);
  const { cuttingLength, cuttingDiameter } = facts.bit(side);
  const key = side === 'plug' && facts.job.plugBit !== facts.job.bit ? 'plug-bit' : 'bit';
  if (cuttingLength === undefined) parts.push(`its own not given: ${key}: cutting-length`);
  if (cuttingDiameter === undefined) parts.push(`not given: ${key}: cutting-diameter`);
  return words(parts.join('; '), MODEL);
}

function clearingBit(facts: Facts, side: Side): Cell {
  const bit = facts.job.clearingBit;
  if (bit === undefined) return words('none in the job: the V-bit clears everything', JOB);
  const cleared = facts.wood.cleared(side);
  if (!('share' in cleared)) return words('moot' in cleared ? cleared.moot : cleared.untold, MODEL);
  const { clearing, share, clearingMinutes } = cleared;
  if (clearing.area === 0)
    return words(`${facts.length(bit.diameter)}: fits nowhere here; the V-bit clears everything`, MODEL);
  const off = facts.job[side].flatDepth * Math.tan(facts.bit(side).angle / 2) + bit.diameter / 2;
  const time =
    clearingMinutes === undefined ? '' : `; about ${show(clearingMinutes, 'min', facts.job.units)} or more`;
  return words(
    `${facts.length(bit.diameter)}; down to ${facts.length(clearing.depth)}, its centre ${facts.length(off)} or more off the outline (takes ${(100 * share).toFixed(0)} % of the wood)${time}`,
    MODEL,
  );
}

function feeds(facts: Facts, side: Side): Cell {
  const { feeds: all, clearingBit: clearing } = facts.job;
  const told = (name: string, key: string, of: Feeds | undefined): string => {
    if (of === undefined) return `${name} not given: feeds: ${key}`;
    const parts = [`${name} ${facts.length(of.feed)}/min`];
    if (of.stepDown !== undefined) parts.push(`${facts.length(of.stepDown)} a pass`);
    if (of.stepOver !== undefined) parts.push(`${facts.length(of.stepOver)} between passes`);
    return parts.join(', ');
  };
  if (all?.vBit === undefined && all?.clearing === undefined)
    return missing("feeds; take them from the bit's maker");
  const cleared = facts.wood.cleared(side);
  const minutes = 'share' in cleared ? cleared.carvingMinutes : undefined;
  const time =
    minutes === undefined ? '' : `; carving about ${show(minutes, 'min', facts.job.units)} or more`;
  const parts = [told('V-bit', 'v-bit', all.vBit)];
  if (clearing !== undefined) parts.push(told('clearing', 'clearing', all.clearing));
  return words(parts.join('; ') + time, JOB);
}

function border(facts: Facts, side: Side): Cell {
  if (facts.region(side).rings.length === 0) return missing('an outline in the drawing');
  const { border: cut, by } = facts.wood.held(side);
  if (cut === 0) return words('nothing at the face', MODEL);
  return words(`${facts.length(cut)} at the face, by the ${by}`, MODEL);
}

/** Keep-outs told by name; the rest are counted. */
const NAMED = 5;

function keepOuts(facts: Facts, side: Side): Cell {
  if (facts.region(side).rings.length === 0) return missing('an outline in the drawing');
  const held = facts.wood.held(side);
  if (held.keepOuts === 0) return missing('keep-out (then they are checked)');
  const hit = new Set(held.hits.map(({ name }) => name));
  const free = held.standing.map(({ name }) => name).filter((name) => !hit.has(name));
  const met = held.hits.map(
    ({ name, by }) => `${short(name)}: ${by === 'bit' ? 'THE BITS CUT IT' : 'THE NUT HITS IT'}`,
  );
  const named = [...met, ...free.map((name) => `${short(name)} free`)];
  const more = named.length > NAMED ? [`and ${named.length - NAMED} more`] : [];
  const unseen = held.unseen.length > 0 ? ['not all was looked at, see the check'] : [];
  return words([...named.slice(0, NAMED), ...more, ...unseen].join('; '), MODEL);
}

const short = (name: string): string => (name.length > 24 ? `${name.slice(0, 22)}...` : name);

const baseName = (path: string): string =>
  path.slice(Math.max(path.lastIndexOf('/'), path.lastIndexOf('\\')) + 1);
