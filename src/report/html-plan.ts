import type { Box, Point } from '../geometry/shapes.ts';
import { show, toInches } from '../units.ts';
import { placeBalloons } from './html-balloons.ts';
import { laidRings, type PlanData, type SheetData } from './html-data.ts';
import { at2, escaped } from './html-text.ts';

export type Side = 'pocket' | 'plug';

/** How a drawing lies in its frame: screen = mm x perMm + (x, y). */
export interface View {
  readonly width: number;
  readonly height: number;
  readonly perMm: number;
  readonly x: number;
  readonly y: number;
}

/** What the reader has set: where the section is taken and how much of the face is sanded off, mm. */
export interface Settings {
  readonly cut: readonly [Point, Point];
  readonly sanded: number;
}

/** Bands beside the drawing, for its dimensions and for balloons. */
const BANDS = { left: 40, right: 30, top: 30, bottom: 46 } as const;
const BALLOON = 10.5;

export function ringsBox(rings: readonly ArrayLike<number>[]): Box {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings)
    for (let k = 0; k < ring.length; k += 2) {
      const [x, y] = [ring[k] as number, ring[k + 1] as number];
      [minX, minY, maxX, maxY] = [Math.min(minX, x), Math.min(minY, y), Math.max(maxX, x), Math.max(maxY, y)];
    }
  return minX <= maxX ? { minX, minY, maxX, maxY } : { minX: 0, minY: 0, maxX: 10, maxY: 10 };
}

/** What one drawing shows: the outlines in its frame, and for the pocket the plug laid over it. */
export function boxFor(data: SheetData, side: Side): Box {
  return side === 'plug' ? ringsBox(data.plug) : ringsBox([...data.pocket, ...laidRings(data)]);
}

/** The whole drawing in a frame of this width; its height follows, within bounds. */
export function wholeView(box: Box, width: number, most: number): View {
  const wide = Math.max(box.maxX - box.minX, 1e-3);
  const high = Math.max(box.maxY - box.minY, 1e-3);
  const room = width - BANDS.left - BANDS.right;
  const height = Math.min(most, Math.max(180, (room * high) / wide + BANDS.top + BANDS.bottom));
  const roomHigh = height - BANDS.top - BANDS.bottom;
  const perMm = Math.min(room / wide, roomHigh / high);
  return {
    width,
    height,
    perMm,
    x: BANDS.left + (room - wide * perMm) / 2 - box.minX * perMm,
    y: BANDS.top + (roomHigh - high * perMm) / 2 - box.minY * perMm,
  };
}

export const toScreen = ({ perMm, x, y }: View, at: Point): Point => [at[0] * perMm + x, at[1] * perMm + y];
export const toDrawing = ({ perMm, x, y }: View, at: Point): Point => [
  (at[0] - x) / perMm,
  (at[1] - y) / perMm,
];

/** What moves and grows with the drawing: outlines, widths, rim. In mm. `id` keeps names apart on a page. */
export function planShapes(data: PlanData, side: Side, id: string): string {
  const shape = (name: string, rings: readonly (readonly number[])[]): string =>
    `<path class="shape" id="${id}-${name}" d="${ringsPath(rings)}"/>`;
  const use = (look: string, name: string): string => `<use class="${look}" href="#${id}-${name}"/>`;
  if (side === 'plug')
    return `<defs>${shape('own', data.plug)}</defs>${use('inlay', 'own')}${use('edge', 'own')}`;
  const laid = laidRings(data);
  return `<defs>${shape('own', data.pocket)}${shape('laid', laid)}<path class="worn-shape" id="${id}-worn" d="${ringsPath(laid)}"/><clipPath id="${id}-in"><path clip-rule="evenodd" d="${ringsPath(laid)}"/></clipPath></defs>
${use('inlay', 'laid')}<g class="widths">${widthPaths(data)}</g>
<g class="sanding" clip-path="url(#${id}-in)"><use class="worn-edge" href="#${id}-worn" stroke-width="0"/><use class="worn" href="#${id}-worn" stroke-width="0"/></g>
${use('edge', 'own')}${use('laid', 'laid')}
<g class="rim">${rimPaths(data)}</g>`;
}

function widthPaths({ widths }: PlanData): string {
  return widths.map(({ rings, tone }) => `<path class="width w${tone}" d="${ringsPath(rings)}"/>`).join('');
}

export function ringsPath(rings: readonly (readonly number[])[]): string {
  return rings
    .map((ring) => {
      const points: string[] = [];
      for (let k = 0; k < ring.length; k += 2)
        points.push(`${at2(ring[k] as number)} ${at2(ring[k + 1] as number)}`);
      return `M${points.join('L')}Z`;
    })
    .join('');
}

/** Where the classes of rim gap begin, mm: closed, near the limit, over it, over the hard limit. */
export const rimClasses = ([most, hard]: PlanData['rimLimits']): readonly number[] => [
  0,
  most / 2,
  most,
  hard,
];

/** Neighbours along the rim lie no farther apart than this many times their usual distance. */
const NEIGHBOURS = 3;

function rimPaths({ rim, rimLimits }: PlanData): string {
  const from = rimClasses(rimLimits);
  const paths = from.map(() => '');
  const apart: number[] = [];
  for (let k = 3; k < rim.length; k += 3)
    apart.push(Math.hypot(rim[k]! - rim[k - 3]!, rim[k + 1]! - rim[k - 2]!));
  const usual = [...apart].sort((a, b) => a - b)[Math.floor(apart.length / 2)] ?? 0;
  let [lastClass, joined] = [-1, false];
  apart.forEach((distance, n) => {
    const [a, b] = [3 * n, 3 * n + 3];
    const gap = Math.max(rim[a + 2]!, rim[b + 2]!);
    const found = from.findLastIndex((least) => gap >= least);
    if (distance > NEIGHBOURS * usual) {
      joined = false;
      return;
    }
    if (!joined || found !== lastClass) paths[found] += `M${rim[a]} ${rim[a + 1]}`;
    paths[found] += `L${rim[b]} ${rim[b + 1]}`;
    [lastClass, joined] = [found, true];
  });
  return paths.map((d, k) => (d === '' ? '' : `<path class="gap g${k}" d="${d}"/>`)).join('');
}

/** What keeps its size on the screen: dimensions, rule, balloons with their leaders. */
export function planMarks(
  data: SheetData,
  side: Side,
  view: View,
  id: string,
  { whole, cut }: { readonly whole: boolean; readonly cut: SheetData['cut'] },
): string {
  const box = ringsBox(side === 'plug' ? data.plug : data.pocket);
  const ends = side === 'pocket' && data.fit !== undefined ? cutSpots(cut, view) : [];
  const lines = dimensionLines(box, view, ends);
  const kept = whole ? [...ends, ...figureSpots(lines)] : ends;
  return `${whole ? dimensions(data, box, lines) : ''}${rule(data, view)}${balloons(data, side, view, id, kept)}`;
}

interface DimensionLines {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Where the two lines run, below and beside the drawing. */
  readonly below: number;
  readonly beside: number;
  /** How far along the lines their figures stand. */
  readonly across: number;
  readonly down: number;
}

/** Half the room of a figure, along its line and across it. */
const FIGURE = [38, 20] as const;

function dimensionLines(box: Box, view: View, ends: readonly Point[]): DimensionLines {
  const [left, top] = toScreen(view, [box.minX, box.minY]);
  const [right, bottom] = toScreen(view, [box.maxX, box.maxY]);
  const below = Math.min(bottom + 16, view.height - 30);
  const beside = Math.max(left - 16, 16);
  // In the middle, or where the section's ends and letters leave it room.
  const free = (low: number, high: number, offs: (along: number) => readonly (readonly [number, number])[]) =>
    [0.5, 0.25, 0.75]
      .map((share) => low + share * (high - low))
      .find((along) => offs(along).every(([a, b]) => Math.abs(a) > FIGURE[0] || Math.abs(b) > FIGURE[1])) ??
    (low + high) / 2;
  const across = free(left, right, (along) => ends.map(([x, y]) => [x - along, y - (below - 8)]));
  const down = free(top, bottom, (along) => ends.map(([x, y]) => [y - along, x - (beside - 8)]));
  return { left, right, top, bottom, below, beside, across, down };
}

/** The room of the two figures, for balloons to keep off. */
function figureSpots({ below, beside, across, down }: DimensionLines): Point[] {
  return [-24, -8, 8, 24].flatMap((along): Point[] => [
    [across + along, below - 8],
    [beside - 8, down + along],
  ]);
}

function dimensions({ units }: SheetData, box: Box, lines: DimensionLines): string {
  const { left, right, top, bottom, below, beside, across, down } = lines;
  const wide = show(box.maxX - box.minX, 'mm', units);
  const high = show(box.maxY - box.minY, 'mm', units);
  return `<g class="dimension"><path d="M${at2(left)} ${at2(bottom + 3)}V${at2(below + 4)}M${at2(right)} ${at2(bottom + 3)}V${at2(below + 4)}"/>
<path class="arrows" d="M${at2(left)} ${at2(below)}H${at2(right)}"/>
<text x="${at2(across)}" y="${at2(below - 4)}" text-anchor="middle">${wide}</text>
<path d="M${at2(left - 3)} ${at2(top)}H${at2(beside - 4)}M${at2(left - 3)} ${at2(bottom)}H${at2(beside - 4)}"/>
<path class="arrows" d="M${at2(beside)} ${at2(bottom)}V${at2(top)}"/>
<text transform="translate(${at2(beside - 4)} ${at2(down)}) rotate(-90)" text-anchor="middle">${high}</text></g>`;
}

/** A rule of a round length, about a fifth of the frame. */
function rule({ units }: SheetData, { width, height, perMm }: View): string {
  const unit = units === 'in' ? 1 / toInches(1) : 1;
  const rough = width / 5 / perMm / unit;
  const ten = 10 ** Math.floor(Math.log10(rough));
  const length = [5, 2, 1].map((n) => n * ten).find((n) => n <= rough) ?? ten;
  const long = length * unit * perMm;
  const [x, y] = [width - 10 - long, height - 8];
  return `<g class="rule"><path d="M${at2(x)} ${y - 4}v4h${at2(long)}v-4"/><text x="${at2(x + long / 2)}" y="${y - 7}" text-anchor="middle">${Number(length.toPrecision(2))} ${units}</text></g>`;
}

function balloons(data: SheetData, side: Side, view: View, id: string, kept: readonly Point[]): string {
  const frame = { left: 2, top: 2, right: view.width - 2, bottom: view.height - 28 };
  const seen = data.marks
    .filter((mark) => mark.side === side)
    .map((mark) => ({ mark, at: toScreen(view, mark.at) }))
    .filter(({ at }) => at[0] >= 0 && at[1] >= 0 && at[0] <= view.width && at[1] <= frame.bottom);
  const radius = seen.length > 24 && view.width < 500 ? BALLOON * 0.8 : BALLOON;
  const spots = placeBalloons(
    seen.map(({ at }) => at),
    frame,
    radius,
    kept,
  );
  return seen
    .map(({ mark, at }, k) => {
      const spot = spots[k];
      if (spot === undefined) return '';
      const long = Math.hypot(spot[0] - at[0], spot[1] - at[1]);
      const end: Point = [
        spot[0] + ((at[0] - spot[0]) * radius) / long,
        spot[1] + ((at[1] - spot[1]) * radius) / long,
      ];
      const word = mark.outcome === 'fail' ? 'FAIL' : 'CLOSE';
      return `<a class="balloon ${mark.outcome}" id="${id}-b${mark.number}" href="#${id}-r${mark.number}" data-row="${mark.number}" aria-label="${mark.number}: ${escaped(mark.label)}, ${word}">
<path d="M${at2(end[0])} ${at2(end[1])}L${at2(at[0])} ${at2(at[1])}"/><circle class="dot" cx="${at2(at[0])}" cy="${at2(at[1])}" r="2.2"/>
<circle cx="${at2(spot[0])}" cy="${at2(spot[1])}" r="${radius}"/><text x="${at2(spot[0])}" y="${at2(spot[1] + radius * 0.36)}" style="font-size:${at2(radius * 1.1)}px" text-anchor="middle">${mark.number}</text></a>`;
    })
    .join('');
}

/** A letter stands so far inside the frame at least, px. */
const LETTER = 9;

/** Where the ends of the section and their letters stand on the screen: from, its letter, to, its letter. */
function cutSpots([from, to]: SheetData['cut'], view: View): readonly [Point, Point, Point, Point] {
  const [a, b] = [toScreen(view, from), toScreen(view, to)];
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  // An end that is seen has its letter seen; one that is not takes it along.
  const inside = (value: number, end: number, size: number): number =>
    end < 0 || end > size ? value : Math.min(size - LETTER, Math.max(LETTER, value));
  const letter = (at: Point, sign: 1 | -1): Point => [
    inside(at[0] - sign * 11 * ux + 14 * uy, at[0], view.width),
    inside(at[1] - sign * 11 * uy - 14 * ux, at[1], view.height),
  ];
  return [a, letter(a, 1), b, letter(b, -1)];
}

/** The line of the section: a chain line with heavy ends, arrows that look north, and the letter A. */
export function cutMarks(
  { units }: SheetData,
  [from, to]: readonly [Point, Point],
  view: View,
  id: string,
): string {
  const [a, letterA, b, letterB] = cutSpots([from, to], view);
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const end = (at: Point, sign: 1 | -1, name: 'from' | 'to', mm: Point): string => {
    const inner: Point = [at[0] + sign * 12 * ux, at[1] + sign * 12 * uy];
    const letter = sign === 1 ? letterA : letterB;
    const label = `End of the section at ${show(mm[0], 'mm', units)}, ${show(mm[1], 'mm', units)}. Arrow keys move it.`;
    return `<path class="heavy" d="M${at2(at[0])} ${at2(at[1])}L${at2(inner[0])} ${at2(inner[1])}"/>
<path class="arrow" d="M${at2(at[0] + 12 * uy)} ${at2(at[1] - 12 * ux)}L${at2(at[0])} ${at2(at[1])}"/>
<text x="${at2(letter[0])}" y="${at2(letter[1] + 4)}" text-anchor="middle">A</text>
<circle class="handle" id="${id}-${name}" data-end="${name}" tabindex="0" role="button" aria-label="${label}" cx="${at2(at[0])}" cy="${at2(at[1])}" r="9"/>`;
  };
  return `<path class="chain" d="M${at2(a[0])} ${at2(a[1])}L${at2(b[0])} ${at2(b[1])}"/>${end(a, 1, 'from', from)}${end(b, -1, 'to', to)}`;
}

/** The spot where the inlay is narrowest, with its width after sanding. */
export function narrowestMark(data: SheetData, view: View, sanded: number): string {
  if (data.narrowest === undefined || sanded <= 0) return '';
  const [x, y] = toScreen(view, data.narrowest.at);
  return `<circle class="narrowest" cx="${at2(x)}" cy="${at2(y)}" r="13"/>`;
}

/** How far the inlay's edge has drawn in after sanding, mm. */
export function drawnIn({ sanding }: SheetData, sanded: number): number {
  return sanding === undefined || sanded <= 0 ? 0 : (sanded + sanding.proud) * sanding.taper;
}

/** What sanding leaves, in a sentence. */
export function sandedText(data: SheetData, sanded: number): string {
  const { sanding, narrowest, units } = data;
  if (sanding === undefined) return '';
  if (sanded <= 0) return 'Nothing sanded yet.';
  const step = (sanded / sanding.most) * (sanding.shares.length - 1);
  const low = Math.min(Math.floor(step), sanding.shares.length - 2);
  const [a, b] = [sanding.shares[low] as number, sanding.shares[low + 1] as number];
  const share = a + (b - a) * (step - low);
  const parts = [
    `After ${show(sanded, 'mm', units)} off the face, ${Math.round(share * 100)} % of the inlay shows`,
  ];
  if (narrowest !== undefined) {
    const left = narrowest.width - 2 * drawnIn(data, sanded);
    parts.push(
      left > 0
        ? `its narrowest stroke is ${show(left, 'mm', units)} wide (was ${show(narrowest.width, 'mm', units)})`
        : `its narrowest stroke (was ${show(narrowest.width, 'mm', units)}) is gone`,
    );
  }
  return `${parts.join('; ')}.`;
}
