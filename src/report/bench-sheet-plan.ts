import type { BenchDrawing, BenchPlan } from '../advice/bench-sheet-drawing.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Box, Point, Region } from '../geometry/shapes.ts';
import { placeBalloons } from './html-balloons.ts';
import { at2, escaped } from './html-text.ts';

/** Paper for one plan, mm, with the band round it for balloons and below it for the grain. */
const WIDE = 91;
const HIGH = 58;
const BAND = 5.5;
const BELOW = 5;
const BALLOON = 2.1;
/** A piece of wood larger than this many times what is drawn on it would leave no room for the drawing. */
const FAR = 2;

/** Scales of the drawings, paper over wood, the largest first (those of ISO 5455 and a few between). */
export const SCALES: readonly (readonly [paper: number, wood: number])[] = [
  [10, 1],
  [5, 1],
  [4, 1],
  [3, 1],
  [2, 1],
  [1.5, 1],
  [1, 1],
  [1, 1.5],
  [1, 2],
  [1, 2.5],
  [1, 3],
  [1, 4],
  [1, 5],
  [1, 6],
  [1, 8],
  [1, 10],
  [1, 15],
  [1, 20],
  [1, 30],
  [1, 50],
  [1, 100],
  [1, 200],
];

export type Scale = (typeof SCALES)[number];
export const perMm = ([paper, wood]: Scale): number => paper / wood;
export const scaleText = ([paper, wood]: Scale): string => `${paper}:${wood}`;

/** The first scale at which all this wood finds room on the paper. */
export function scaleFor(wide: number, high: number, paperWide: number, paperHigh: number): Scale {
  const fits = (scale: Scale): boolean =>
    wide * perMm(scale) <= paperWide && high * perMm(scale) <= paperHigh;
  return SCALES.find(fits) ?? (SCALES[SCALES.length - 1] as Scale);
}

/** One scale for both plans, so that they can be laid side by side. */
export function planScale({ pocket, plug }: BenchDrawing): Scale {
  const boxes = [shown(pocket), shown(plug)];
  const wide = Math.max(...boxes.map((box) => box.maxX - box.minX));
  const high = Math.max(...boxes.map((box) => box.maxY - box.minY));
  return scaleFor(wide, high, WIDE - 2 * BAND, HIGH - 2 * BAND - BELOW);
}

/** Whether the edges of the piece are on the plan; a far larger piece is left out and told in words. */
export function pieceShown(plan: BenchPlan): boolean {
  if (plan.piece === undefined) return false;
  const box = onIt(plan);
  return (
    plan.piece.maxX - plan.piece.minX <= FAR * (box.maxX - box.minX) &&
    plan.piece.maxY - plan.piece.minY <= FAR * (box.maxY - box.minY)
  );
}

function onIt(plan: BenchPlan): Box {
  const regions = [
    plan.outline,
    ...(plan.swept ? [plan.swept] : []),
    ...plan.keepOuts.map(({ shape }) => shape),
  ];
  const rings = regions.flatMap((region) => region.rings);
  return rings.length === 0 ? { minX: 0, minY: 0, maxX: 10, maxY: 10 } : boxOf(rings);
}

function shown(plan: BenchPlan): Box {
  const box = onIt(plan);
  const { piece } = plan;
  if (piece === undefined || !pieceShown(plan)) return box;
  return {
    minX: Math.min(box.minX, piece.minX),
    minY: Math.min(box.minY, piece.minY),
    maxX: Math.max(box.maxX, piece.maxX),
    maxY: Math.max(box.maxY, piece.maxY),
  };
}

interface Sheet {
  readonly to: (at: Point) => Point;
  readonly scale: number;
  readonly width: number;
  readonly height: number;
}

/** One side from above in millimetres of paper: piece, outline, what the bits sweep, keep-outs, marks, grain. */
export function planSvg(plan: BenchPlan, scale: Scale, label: string): string {
  const box = shown(plan);
  const s = perMm(scale);
  const sheet: Sheet = {
    to: ([x, y]) => [(x - box.minX) * s + BAND, (y - box.minY) * s + BAND],
    scale: s,
    width: (box.maxX - box.minX) * s + 2 * BAND,
    height: (box.maxY - box.minY) * s + 2 * BAND + BELOW,
  };
  return `<svg class="plan" viewBox="0 0 ${at2(sheet.width)} ${at2(sheet.height)}" style="width:${at2(sheet.width)}mm;height:${at2(sheet.height)}mm" role="img" aria-label="${escaped(label)}">
${pieceShown(plan) ? `<path class="piece${plan.piece?.placed ? '' : ' taken'}" d="${boxPath(plan.piece as Box, sheet)}"/>` : ''}
${plan.swept === undefined ? '' : `<path class="swept" d="${regionPath(plan.swept, sheet)}"/>`}
<path class="inlay" d="${regionPath(plan.outline, sheet)}"/>
${plan.keepOuts.map(({ shape, met }) => `<path class="keep-out${met ? ' met' : ''}" d="${regionPath(shape, sheet)}"/>`).join('')}
${origin(sheet)}${cutLine(plan, sheet)}${balloons(plan, sheet)}${grain(plan, sheet)}
</svg>`;
}

function regionPath({ rings }: Region, { to }: Sheet): string {
  return rings
    .map((ring) => {
      const points: string[] = [];
      for (let k = 0; k < ring.length; k += 2) {
        const [x, y] = to([ring[k] as number, ring[k + 1] as number]);
        points.push(`${at2(x)} ${at2(y)}`);
      }
      return `M${points.join('L')}Z`;
    })
    .join('');
}

function boxPath({ minX, minY, maxX, maxY }: Box, { to }: Sheet): string {
  const [left, top] = to([minX, minY]);
  const [right, bottom] = to([maxX, maxY]);
  return `M${at2(left)} ${at2(top)}H${at2(right)}V${at2(bottom)}H${at2(left)}Z`;
}

/** The top left corner of the drawing, where it is on the plan: the figures of places count from there. */
function origin({ to, width, height }: Sheet): string {
  const [x, y] = to([0, 0]);
  if (x < 1 || y < 3 || x > width - 8 || y > height - BELOW - 1) return '';
  return `<path class="thin" d="M${at2(x - 1.5)} ${at2(y)}h3M${at2(x)} ${at2(y - 1.5)}v3"/><text x="${at2(x + 1)}" y="${at2(y - 0.8)}">0, 0</text>`;
}

/** The letter of the section stands so far before an end of its line, and needs so much paper, mm. */
const BEFORE = 3.4;
const LETTER = 3;

/** The line of the section: a chain line with heavy ends and the letter A, none of it beyond the plan's paper. */
function cutLine({ cut }: BenchPlan, { to, width, height }: Sheet): string {
  if (cut === undefined) return '';
  const [from, till] = [to(cut[0]), to(cut[1])];
  const long = Math.hypot(till[0] - from[0], till[1] - from[1]) || 1;
  const [ux, uy] = [(till[0] - from[0]) / long, (till[1] - from[1]) / long];
  const drawnIn = ([x, y]: Point, sign: 1 | -1): Point => {
    const past = (at: number, way: number, edge: number): number =>
      way === 0 ? 0 : ((way > 0 ? LETTER / 2 : edge - LETTER / 2) - at) / way + BEFORE;
    const by = Math.max(0, past(x, sign * ux, width), past(y, sign * uy, height));
    return [x + by * sign * ux, y + by * sign * uy];
  };
  const [a, b] = [drawnIn(from, 1), drawnIn(till, -1)];
  const end = ([x, y]: Point, sign: 1 | -1): string =>
    `<path class="heavy" d="M${at2(x - sign * 1.5 * ux)} ${at2(y - sign * 1.5 * uy)}L${at2(x + sign * ux)} ${at2(y + sign * uy)}"/><text class="letter" x="${at2(x - sign * BEFORE * ux)}" y="${at2(y - sign * BEFORE * uy + 1)}">A</text>`;
  return `<path class="chain" d="M${at2(a[0])} ${at2(a[1])}L${at2(b[0])} ${at2(b[1])}"/>${end(a, 1)}${end(b, -1)}`;
}

/** Numbers of the places where it touches first, letters of those that are measured, K and a number for keep-outs. */
function balloons(plan: BenchPlan, sheet: Sheet): string {
  const marks = [
    ...plan.marks,
    ...plan.keepOuts.map(({ shape }, n) => ({ mark: keepOutMark(n), at: middleOf(shape) })),
  ].map(({ mark, at }) => ({ mark, at: sheet.to(at) }));
  const frame = { left: 0.2, top: 0.2, right: sheet.width - 0.2, bottom: sheet.height - BELOW };
  const ends = plan.cut === undefined ? [] : plan.cut.map(sheet.to);
  const spots = placeBalloons(
    marks.map(({ at }) => at),
    frame,
    BALLOON,
    ends,
  );
  return marks
    .map(({ mark, at }, k) => {
      const spot = spots[k];
      if (spot === undefined) return '';
      const long = Math.hypot(spot[0] - at[0], spot[1] - at[1]) || 1;
      const [x, y] = [
        spot[0] + ((at[0] - spot[0]) * BALLOON) / long,
        spot[1] + ((at[1] - spot[1]) * BALLOON) / long,
      ];
      return `<path class="thin" d="M${at2(at[0])} ${at2(at[1])}L${at2(x)} ${at2(y)}"/><circle class="dot" cx="${at2(at[0])}" cy="${at2(at[1])}" r=".5"/><circle class="balloon" cx="${at2(spot[0])}" cy="${at2(spot[1])}" r="${BALLOON}"/><text class="letter" x="${at2(spot[0])}" y="${at2(spot[1] + 0.85)}">${mark}</text>`;
    })
    .join('');
}

export const keepOutMark = (n: number): string => `K${n + 1}`;

function middleOf({ rings }: Region): Point {
  const { minX, minY, maxX, maxY } = boxOf(rings);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}

/** Which way the grain runs: a two-headed arrow in the band below. */
function grain({ grain: angle }: BenchPlan, { height }: Sheet): string {
  const [x, y] = [BAND, height - BELOW / 2 - 0.5];
  if (angle === undefined) return '';
  const [ux, uy] = [4.2 * Math.cos(angle), 4.2 * Math.sin(angle)];
  const steep = Math.abs(uy) > 2.6 ? 2.6 / Math.abs(uy) : 1;
  return `<path class="arrows" d="M${at2(x - steep * ux)} ${at2(y - steep * uy)}L${at2(x + steep * ux)} ${at2(y + steep * uy)}"/><text x="${at2(x + 5.5)}" y="${at2(y + 0.9)}">grain</text>`;
}
