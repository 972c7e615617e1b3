import type { Profile, Section } from '../carve/section.ts';
import { show } from '../units.ts';
import type { SheetData } from './html-data.ts';
import { at2 } from './html-text.ts';

/** What the drawing needs to know of the pair; lengths mm. */
export type SectionPair = Pick<SheetData, 'units' | 'boardThickness' | 'stockThickness'> & {
  /** Board's face to plug's face when both outlines meet, less what the plug stands proud. */
  readonly faceDepth: number;
};

/** Wood shown above the root and below the floor before the drawing breaks off, mm. */
const SHOWN = 3;
const EDGE = 10;
const LABELS = 150;
const LABEL_HIGH = 16;
/** Heights this near count as one level, mm. */
const SAME_LEVEL = 1e-3;
/** Less than this is no distance to write a figure on, mm. */
const NOTHING = 0.0005;

interface Scale {
  readonly x: (along: number) => number;
  readonly y: (height: number) => number;
  readonly right: number;
}

/**
 * The cut through the seated pair, to one scale both ways, in a frame of `width` pixels: board and plug hatched by
 * material, room for glue stippled, the levels dimensioned, and the face at `sanded` mm below the board's.
 */
export function sectionSvg(
  cut: Section,
  pair: SectionPair,
  width: number,
  sanded: number,
  id: string,
): string {
  const levels = levelsOf(cut, pair);
  const perMm = Math.max(0.1, (width - LABELS - EDGE) / Math.max(cut.length, 1e-3));
  const rows = dimensionsOf(levels, pair);
  const high = (levels.top - levels.bottom) * perMm;
  const height = Math.ceil(Math.max(high, rows.length * LABEL_HIGH) + 2 * EDGE + 6);
  const middle = (height - high) / 2;
  const scale: Scale = {
    x: (along) => EDGE + along * perMm,
    y: (level) => middle + (levels.top - level) * perMm,
    right: EDGE + cut.length * perMm,
  };
  const words = rows.map(({ text }) => text).join(', ');
  return `<svg class="section" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="Section A-A: ${words}.">
${hatches(id)}
<path class="board" fill="url(#${id}-board)" d="${boardPath(cut, levels, scale)}"/>
<path class="plug" fill="url(#${id}-plug)" d="${plugPath(cut, levels, scale)}"/>
${cut.glue.map((room) => `<path class="glue" fill="url(#${id}-glue)" d="${roomPath(room, scale)}"/>`).join('')}
${brokenEdges(levels, scale)}
<path class="saw" d="${line(cut.saw, scale)}"/>
${face(cut, sanded, scale, levels)}
${chain(rows, levels, scale, height)}
</svg>`;
}

interface Levels {
  readonly top: number;
  readonly bottom: number;
  readonly topBroken: boolean;
  readonly bottomBroken: boolean;
  /** Where along the cut the plug goes deepest, and the levels there. */
  readonly at: number;
  readonly root: number;
  readonly plug: number;
  readonly floor: number;
}

function levelsOf(cut: Section, { boardThickness, stockThickness, faceDepth }: SectionPair): Levels {
  const k = showingColumn(cut);
  const floors = cut.board.map((point) => point[1]);
  const root = Math.max(...cut.root.map((point) => point[1]));
  const back = stockThickness === undefined ? Infinity : stockThickness - faceDepth;
  const under = boardThickness === undefined ? -Infinity : -boardThickness;
  const highest = Math.max(root, ...cut.plug.map((point) => point[1])) + SHOWN;
  const lowest = Math.min(...floors) - SHOWN;
  return {
    top: Math.min(highest, Math.max(back, root + 0.5)),
    bottom: Math.max(lowest, Math.min(under, Math.min(...floors) - 0.2)),
    topBroken: highest < back,
    bottomBroken: lowest > under,
    at: (cut.plug[k] as readonly [number, number])[0],
    root,
    plug: Math.min(0, (cut.plug[k] as readonly [number, number])[1]),
    floor: (cut.board[k] as readonly [number, number])[1],
  };
}

/**
 * The place of the cut that shows the depths best: where the plug goes deepest and, of those, the pocket's floor too;
 * in the middle of the first such stretch. Both profiles have the same places.
 */
function showingColumn({ plug, board }: Section): number {
  const lowest = (profile: Profile, among: readonly number[]): number[] => {
    const level = Math.min(...among.map((k) => (profile[k] as readonly [number, number])[1]));
    return among.filter((k) => (profile[k] as readonly [number, number])[1] < level + SAME_LEVEL);
  };
  const shown = lowest(board, lowest(plug, [...plug.keys()]));
  const end = shown.findIndex((k, n) => shown[n + 1] !== k + 1);
  return shown[Math.floor(end / 2)] as number;
}

interface Dimension {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** The chain of dimensions from the root down to the underside, as far as they are there. */
function dimensionsOf(levels: Levels, { units, boardThickness }: SectionPair): Dimension[] {
  const length = (mm: number): string => show(mm, 'mm', units);
  const rows: Dimension[] = [
    { from: levels.root, to: 0, text: `saw gap ${length(levels.root)}` },
    { from: 0, to: levels.plug, text: `plug goes in ${length(-levels.plug)}` },
    { from: levels.plug, to: levels.floor, text: `glue gap ${length(levels.plug - levels.floor)}` },
  ];
  if (boardThickness !== undefined)
    rows.push({
      from: levels.floor,
      to: levels.bottom,
      text: `board left ${length(boardThickness + levels.floor)}`,
    });
  return rows.filter(({ from, to }) => from - to > NOTHING);
}

function boardPath(cut: Section, levels: Levels, { x, y }: Scale): string {
  return `${line(cut.board, { x, y })}L${at2(x(cut.length))} ${at2(y(levels.bottom))}L${at2(x(0))} ${at2(y(levels.bottom))}Z`;
}

function plugPath(cut: Section, levels: Levels, { x, y }: Scale): string {
  return `${line(cut.plug, { x, y })}L${at2(x(cut.length))} ${at2(y(levels.top))}L${at2(x(0))} ${at2(y(levels.top))}Z`;
}

function roomPath({ board, plug }: Section['glue'][number], scale: Pick<Scale, 'x' | 'y'>): string {
  return `${line(board, scale)}${line([...plug].reverse(), scale).replace('M', 'L')}Z`;
}

function line(profile: Profile, { x, y }: Pick<Scale, 'x' | 'y'>): string {
  return `M${profile.map(([along, height]) => `${at2(x(along))} ${at2(y(height))}`).join('L')}`;
}

/** Wood that goes on beyond the drawing ends in a break line: thin, with a zigzag (ISO 128 line 01.1.19). */
function brokenEdges(levels: Levels, { x, y, right }: Scale): string {
  const edge = (height: number, broken: boolean): string => {
    if (!broken) return `<path class="outline" d="M${at2(x(0))} ${at2(y(height))}H${at2(right)}"/>`;
    const [middle, level] = [(x(0) + right) / 2, y(height)];
    return `<path class="break" d="M${at2(x(0) - 5)} ${at2(level)}H${at2(middle - 7)}l4 -6l6 12l4 -6H${at2(right + 5)}"/>`;
  };
  return edge(levels.top, levels.topBroken) + edge(levels.bottom, levels.bottomBroken);
}

/** The face as sanded: what lies above it is gone, and the inlay shows where the plug's wood is cut by it. */
function face(cut: Section, sanded: number, { x, y, right }: Scale, levels: Levels): string {
  const level = y(-sanded);
  const gone =
    sanded <= 0
      ? ''
      : `<path class="gone" d="M${at2(x(0))} ${at2(y(levels.top) - 6)}H${at2(right)}V${at2(level)}H${at2(x(0))}Z"/>`;
  const shown = inlayAt(cut.plug, -sanded)
    .map(([from, to]) => `<path class="shown" d="M${at2(x(from))} ${at2(level)}H${at2(x(to))}"/>`)
    .join('');
  return `${gone}<path class="face" d="M${at2(x(0))} ${at2(level)}H${at2(right)}"/>${shown}`;
}

/** Stretches where the plug's wood reaches down to this level. */
export function inlayAt(plug: Profile, level: number): (readonly [number, number])[] {
  const found: [number, number][] = [];
  for (let k = 1; k < plug.length; k++) {
    const [a, b] = [plug[k - 1] as readonly [number, number], plug[k] as readonly [number, number]];
    const [da, db] = [a[1] - level, b[1] - level];
    if (da > 0 && db > 0) continue;
    const cross = a[0] + ((b[0] - a[0]) * da) / (da - db || 1);
    const from = da > 0 ? cross : a[0];
    const to = db > 0 ? cross : b[0];
    const last = found.at(-1);
    if (last !== undefined && from - last[1] < 1e-9) last[1] = to;
    else found.push([from, to]);
  }
  return found.filter(([from, to]) => to > from);
}

function chain(rows: readonly Dimension[], levels: Levels, { x, y, right }: Scale, height: number): string {
  const column = right + 14;
  const reach = (level: number, from: number): string => `M${at2(from)} ${at2(y(level))}H${at2(column + 4)}`;
  const inside = x(levels.at);
  const extensions = rows.length === 0 ? '' : reach(0, right + 2) + reach(levels.root, right + 2);
  const deep = rows.some(({ to }) => to < 0) ? reach(levels.plug, inside) + reach(levels.floor, inside) : '';
  const spots = spread(
    rows.map(({ from, to }) => (y(from) + y(to)) / 2),
    height,
  );
  const labels = rows.map(({ from, to, text }, k) => {
    const [centre, spot] = [(y(from) + y(to)) / 2, spots[k] as number];
    return `<path class="arrows" d="M${at2(column)} ${at2(y(from))}V${at2(y(to))}"/><path d="M${at2(column)} ${at2(centre)}L${at2(column + 8)} ${at2(spot)}h3"/><text x="${at2(column + 14)}" y="${at2(spot + 4)}">${text}</text>`;
  });
  return `<g class="dimension"><path d="${extensions}${deep}"/>${labels.join('')}</g>`;
}

/** Moves labels apart so that none covers another, keeping their order and the frame. */
function spread(centres: readonly number[], height: number): number[] {
  const spots = [...centres];
  for (let k = 0; k < spots.length; k++) {
    const least = k === 0 ? LABEL_HIGH / 2 : spots[k - 1]! + LABEL_HIGH;
    spots[k] = Math.max(spots[k]!, least);
  }
  for (let k = spots.length - 1; k >= 0; k--) {
    const most = k === spots.length - 1 ? height - LABEL_HIGH / 2 : spots[k + 1]! - LABEL_HIGH;
    spots[k] = Math.min(spots[k]!, most);
  }
  return spots;
}

/** Hatching by material: the board rises to the right, the plug to the left and closer, glue is stippled. */
export function hatches(id: string): string {
  return `<defs><pattern id="${id}-board" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect class="board-fill" width="8" height="8"/><path class="hatch" d="M0 0V8"/></pattern>
<pattern id="${id}-plug" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect class="plug-fill" width="5" height="5"/><path class="hatch" d="M0 0V5"/></pattern>
<pattern id="${id}-glue" width="6" height="6" patternUnits="userSpaceOnUse"><rect class="glue-fill" width="6" height="6"/><circle class="speck" cx="1.5" cy="1.5" r=".8"/><circle class="speck" cx="4.5" cy="4.5" r=".8"/></pattern></defs>`;
}

/** The levels of a pair that its drawing needs. */
export function facePosition(data: SheetData): SectionPair {
  const { units, boardThickness, stockThickness, fit } = data;
  const mating = fit === undefined ? 0 : fit.pocketStart + fit.plugStart;
  return { units, boardThickness, stockThickness, faceDepth: mating - (fit?.seat.height ?? 0) };
}
