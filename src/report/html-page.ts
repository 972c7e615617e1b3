/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
// The page's own program: bundled into one script by the build and put into every report. It draws with the same
// functions as the report and cuts sections with the same code as the check.
import { type Section, section } from '../carve/section.ts';
import type { Point } from '../geometry/shapes.ts';
import { pairOf, type SheetData } from './html-data.ts';
import {
  boxFor,
  cutMarks,
  drawnIn,
  narrowestMark,
  planMarks,
  type Side,
  sandedText,
  toDrawing,
  toScreen,
  type View,
  wholeView,
} from './html-plan.ts';
import { facePosition, sectionSvg } from './section-drawing.ts';

/** Steps of a section, at rest and while something is dragged. */
const FINE = 240;
const QUICK = 90;
const CLOSEST = 400;
const GRASP = 14;
/** Twice the width of the line round a sanded inlay, pixels: half of a stroke lies under the board. */
const NEW_EDGE = 3;
/** Below this width, pixels, the first section is shortened. */
const NARROW = 900;
/** Width of the printed sheet in the pixels its drawings are laid out in. */
const PAPER_WIDE = 700;

interface Sheet {
  readonly id: string;
  readonly root: HTMLElement;
  readonly data: SheetData;
  readonly plans: Plan[];
  readonly made: ReturnType<typeof pairOf>;
  cut: readonly [Point, Point];
  sanded: number;
  section: Section | undefined;
}

interface Plan {
  readonly side: Side;
  readonly svg: SVGSVGElement;
  readonly figure: HTMLElement;
  view: View;
  whole: View;
  cutting: boolean;
}

for (const root of document.querySelectorAll<HTMLElement>('article.sheet')) {
  const text = root.querySelector('script.data')?.textContent;
  if (text) start(root, JSON.parse(text) as SheetData);
}

function start(root: HTMLElement, data: SheetData): void {
  const sheet: Sheet = {
    id: root.id,
    root,
    data,
    plans: [],
    made: pairOf(data),
    cut: data.cut,
    sanded: 0,
    section: undefined,
  };
  for (const tools of root.querySelectorAll<HTMLElement>('.tools')) tools.hidden = false;
  for (const figure of root.querySelectorAll<HTMLElement>('figure.plan')) addPlan(sheet, figure);
  layersOf(sheet);
  sandingOf(sheet);
  rowsOf(sheet);
  const resize = (): void => {
    for (const plan of sheet.plans) fitToWindow(sheet, plan);
    drawSection(sheet, FINE);
  };
  let last = innerWidth;
  addEventListener('resize', () => {
    if (innerWidth !== last) resize();
    last = innerWidth;
  });
  addEventListener('beforeprint', () => {
    for (const plan of sheet.plans) frame(sheet, plan, PAPER_WIDE / 2, PAPER_WIDE * 0.42);
    showSection(sheet, PAPER_WIDE);
  });
  addEventListener('afterprint', resize);
  shorten(sheet);
  resize();
}

/** In a narrow window the first section is cut shorter, so that its depths are large enough to see. */
function shorten(sheet: Sheet): void {
  const width = sheet.root.clientWidth;
  if (width >= NARROW) return;
  const share = Math.max(0.35, width / NARROW);
  const [[ax, ay], [bx, by]] = sheet.cut;
  const [mx, my] = [(ax + bx) / 2, (ay + by) / 2];
  sheet.cut = [
    [mx + share * (ax - mx), my + share * (ay - my)],
    [mx + share * (bx - mx), my + share * (by - my)],
  ];
}

function addPlan(sheet: Sheet, figure: HTMLElement): void {
  const svg = figure.querySelector<SVGSVGElement>('svg.drawing');
  if (svg === null) return;
  const side = figure.dataset['side'] as Side;
  const whole = wholeView(boxFor(sheet.data, side), 640, 460);
  const plan: Plan = { side, svg, figure, view: whole, whole, cutting: false };
  sheet.plans.push(plan);
  for (const button of figure.querySelectorAll<HTMLButtonElement>('button'))
    button.addEventListener('click', () => press(sheet, plan, button));
  keysOf(sheet, plan);
  pointersOf(sheet, plan);
}

/** The drawing's frame is as wide as its place and as high as the window lets it be. */
function fitToWindow(sheet: Sheet, plan: Plan): void {
  const width = Math.max(200, Math.round(plan.svg.getBoundingClientRect().width));
  const most = Math.max(220, Math.min(620, innerHeight * (innerWidth >= 1100 ? 0.36 : 0.6)));
  frame(sheet, plan, width, most);
}

function frame(sheet: Sheet, plan: Plan, width: number, most: number): void {
  plan.whole = wholeView(boxFor(sheet.data, plan.side), width, Math.round(most));
  plan.view = plan.whole;
  plan.svg.setAttribute('viewBox', `0 0 ${width} ${Math.round(plan.view.height)}`);
  drawPlan(sheet, plan);
}

function drawPlan(sheet: Sheet, plan: Plan): void {
  const { view, svg } = plan;
  const { id, data } = sheet;
  const held = document.activeElement?.id;
  svg
    .querySelector('.moved')
    ?.setAttribute('transform', `matrix(${view.perMm} 0 0 ${view.perMm} ${view.x} ${view.y})`);
  const whole = view === plan.whole;
  svg.classList.toggle('close', !whole);
  showWorn(sheet, plan);
  const marks = svg.querySelector('.marks');
  if (marks !== null) {
    marks.innerHTML = planMarks(data, plan.side, view, id, { whole, cut: sheet.cut });
    if (plan.side === 'pocket')
      marks.insertAdjacentHTML('beforeend', narrowestMark(data, view, sheet.sanded));
  }
  const cut = svg.querySelector('.cut');
  if (cut !== null) cut.innerHTML = sheet.made === undefined ? '' : cutMarks(data, sheet.cut, view, id);
  if (held && document.activeElement?.id !== held)
    svg.querySelector<SVGElement>(`#${CSS.escape(held)}`)?.focus({ preventScroll: true });
}

/** A band of board as wide as the edge has drawn in covers the inlay's rim; a line shows its new edge. */
function showWorn({ data, sanded }: Sheet, { side, svg, view }: Plan): void {
  const band = 2 * drawnIn(data, sanded);
  svg.classList.toggle('sanded', band > 0 && side === 'pocket');
  svg.querySelector('.worn')?.setAttribute('stroke-width', String(band));
  const line = band > 0 ? NEW_EDGE / view.perMm : 0;
  svg.querySelector('.worn-edge')?.setAttribute('stroke-width', String(band + line));
}

function drawSection(sheet: Sheet, steps: number): void {
  if (sheet.made === undefined) return;
  sheet.section = section(sheet.made.pair, sheet.made, sheet.cut[0], sheet.cut[1], steps);
  showSection(sheet);
}

function showSection(sheet: Sheet, wide?: number): void {
  const holder = sheet.root.querySelector<HTMLElement>('.section-holder');
  if (holder === null || sheet.section === undefined) return;
  const width = Math.max(240, Math.round(wide ?? holder.clientWidth));
  holder.innerHTML = sectionSvg(
    sheet.section,
    facePosition(sheet.data),
    width,
    sheet.sanded,
    `${sheet.id}-x`,
  );
}

let asked = 0;
/** Redraws once a frame while something moves. */
function soon(work: () => void): void {
  cancelAnimationFrame(asked);
  asked = requestAnimationFrame(work);
}

function setCut(sheet: Sheet, cut: readonly [Point, Point], steps: number): void {
  sheet.cut = cut;
  soon(() => {
    for (const plan of sheet.plans) if (plan.side === 'pocket') drawPlan(sheet, plan);
    drawSection(sheet, steps);
  });
}

function press(sheet: Sheet, plan: Plan, button: HTMLButtonElement): void {
  const middle: Point = [plan.view.width / 2, plan.view.height / 2];
  if (button.dataset['do'] === 'in') zoom(sheet, plan, 1.5, middle);
  if (button.dataset['do'] === 'out') zoom(sheet, plan, 1 / 1.5, middle);
  if (button.dataset['do'] === 'fit') look(sheet, plan, plan.whole);
  if (button.dataset['do'] === 'cut') setCutting(plan, !plan.cutting);
}

function setCutting(plan: Plan, on: boolean): void {
  plan.cutting = on;
  plan.svg.classList.toggle('cutting', on);
  plan.figure.querySelector('[data-do=cut]')?.setAttribute('aria-pressed', String(on));
}

function look(sheet: Sheet, plan: Plan, view: View): void {
  plan.view = view;
  drawPlan(sheet, plan);
}

/** Larger or smaller about a point of the screen; the whole drawing is the smallest. */
function zoom(sheet: Sheet, plan: Plan, by: number, [px, py]: Point): void {
  const { view, whole } = plan;
  const perMm = Math.min(Math.max(view.perMm * by, whole.perMm), whole.perMm * CLOSEST);
  if (perMm <= whole.perMm * 1.001) {
    look(sheet, plan, whole);
    return;
  }
  const ratio = perMm / view.perMm;
  look(sheet, plan, { ...view, perMm, x: px - (px - view.x) * ratio, y: py - (py - view.y) * ratio });
}

const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

function keysOf(sheet: Sheet, plan: Plan): void {
  plan.svg.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const end = (event.target as Element).getAttribute('data-end');
    const arrow = ARROWS[event.key];
    const middle: Point = [plan.view.width / 2, plan.view.height / 2];
    if (arrow !== undefined && end !== null) {
      const step = event.shiftKey ? 0.1 : 1;
      moveEnd(sheet, end, [arrow[0] * step, arrow[1] * step]);
    } else if (arrow !== undefined) {
      const { view } = plan;
      look(sheet, plan, { ...view, x: view.x - 40 * arrow[0], y: view.y - 40 * arrow[1] });
    } else if (event.key === '+' || event.key === '=') zoom(sheet, plan, 1.5, middle);
    else if (event.key === '-') zoom(sheet, plan, 1 / 1.5, middle);
    else if (event.key === '0') look(sheet, plan, plan.whole);
    else return;
    event.preventDefault();
  });
}

function moveEnd(sheet: Sheet, end: string, [dx, dy]: Point): void {
  const [from, to] = sheet.cut;
  const moved = (at: Point): Point => [at[0] + dx, at[1] + dy];
  setCut(sheet, end === 'from' ? [moved(from), to] : [from, moved(to)], FINE);
}

/** What a pressed pointer does: takes an end of the section, draws a new one, or moves the drawing. */
type Grip = { readonly does: 'end'; readonly end: 0 | 1 } | { readonly does: 'draw' | 'move' };

function pointersOf(sheet: Sheet, plan: Plan): void {
  const { svg } = plan;
  const down = new Map<number, Point>();
  let grip: Grip | undefined;
  let start: Point = [0, 0];
  let far = false;
  svg.addEventListener('pointerdown', (event) => {
    const at = spotOf(svg, event);
    down.set(event.pointerId, at);
    if (event.button !== 0 || (event.target as Element).closest('a') !== null) return;
    start = at;
    far = false;
    grip = gripAt(sheet, plan, at);
    if (grip.does !== 'move' || plan.view !== plan.whole) svg.setPointerCapture(event.pointerId);
  });
  svg.addEventListener('pointermove', (event) => {
    const before = down.get(event.pointerId);
    if (before === undefined || grip === undefined) return;
    const at = spotOf(svg, event);
    down.set(event.pointerId, at);
    far ||= Math.hypot(at[0] - start[0], at[1] - start[1]) > 4;
    if (down.size === 2) pinch(sheet, plan, down, event.pointerId, before);
    else if (far) drag(sheet, plan, grip, start, before, at);
  });
  const up = (event: PointerEvent): void => {
    const known = down.delete(event.pointerId);
    if (!known || grip === undefined) return;
    if (event.type === 'pointerup' && !far && grip.does !== 'end') shiftCut(sheet, plan, start);
    else if (grip.does !== 'move') setCut(sheet, sheet.cut, FINE);
    if (far && grip.does === 'draw') setCutting(plan, false);
    grip = undefined;
  };
  svg.addEventListener('pointerup', up);
  svg.addEventListener('pointercancel', up);
  svg.addEventListener(
    'wheel',
    (event) => {
      // A plain wheel scrolls the page; with the control key, or once the drawing is in use, it zooms.
      if (!event.ctrlKey && document.activeElement !== svg) return;
      event.preventDefault();
      zoom(sheet, plan, Math.exp(-event.deltaY / 300), spotOf(svg, event));
    },
    { passive: false },
  );
}

function spotOf(svg: SVGSVGElement, event: MouseEvent): Point {
  const box = svg.getBoundingClientRect();
  const perPixel = svg.viewBox.baseVal.width / box.width;
  return [(event.clientX - box.left) * perPixel, (event.clientY - box.top) * perPixel];
}

function gripAt(sheet: Sheet, plan: Plan, at: Point): Grip {
  if (plan.side === 'pocket' && sheet.made !== undefined) {
    const apart = sheet.cut.map((end) => {
      const spot = toScreen(plan.view, end);
      return Math.hypot(spot[0] - at[0], spot[1] - at[1]);
    }) as [number, number];
    const end = apart[0] <= apart[1] ? 0 : 1;
    if (apart[end] <= GRASP) return { does: 'end', end };
    if (plan.cutting) return { does: 'draw' };
  }
  return { does: 'move' };
}

function drag(sheet: Sheet, plan: Plan, grip: Grip, start: Point, before: Point, at: Point): void {
  const there = toDrawing(plan.view, at);
  if (grip.does === 'draw') setCut(sheet, [toDrawing(plan.view, start), there], QUICK);
  else if (grip.does === 'end')
    setCut(sheet, grip.end === 0 ? [there, sheet.cut[1]] : [sheet.cut[0], there], QUICK);
  else if (plan.view !== plan.whole)
    look(sheet, plan, {
      ...plan.view,
      x: plan.view.x + at[0] - before[0],
      y: plan.view.y + at[1] - before[1],
    });
}

function pinch(sheet: Sheet, plan: Plan, down: Map<number, Point>, moved: number, before: Point): void {
  const [held, other] = [down.get(moved), [...down].find(([id]) => id !== moved)?.[1]];
  if (held === undefined || other === undefined) return;
  const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
  const is = Math.hypot(held[0] - other[0], held[1] - other[1]);
  if (was > 0) zoom(sheet, plan, is / was, [(held[0] + other[0]) / 2, (held[1] + other[1]) / 2]);
}

/** A click takes the section through that place, as long and as turned as it was. */
function shiftCut(sheet: Sheet, plan: Plan, spot: Point): void {
  if (plan.side !== 'pocket' || sheet.made === undefined) return;
  const [x, y] = toDrawing(plan.view, spot);
  const [from, to] = sheet.cut;
  const [hx, hy] = [(to[0] - from[0]) / 2, (to[1] - from[1]) / 2];
  const cut: readonly [Point, Point] = [
    [x - hx, y - hy],
    [x + hx, y + hy],
  ];
  setCut(sheet, cut, FINE);
}

function layersOf(sheet: Sheet): void {
  for (const box of sheet.root.querySelectorAll<HTMLInputElement>('input[data-layer]')) {
    const name = box.dataset['layer'] as string;
    const show = (): void => {
      for (const { svg } of sheet.plans) svg.classList.toggle(`no-${name}`, !box.checked);
      const legend = sheet.root.querySelector<HTMLElement>(`.for-${name}`);
      if (legend !== null) legend.hidden = !box.checked;
    };
    box.addEventListener('change', show);
    show();
  }
}

function sandingOf(sheet: Sheet): void {
  const slider = sheet.root.querySelector<HTMLInputElement>('.sanding input');
  const said = sheet.root.querySelector<HTMLOutputElement>('.sanding output');
  const { sanding } = sheet.data;
  if (slider === null || said === null || sanding === undefined) return;
  const sand = (): void => {
    sheet.sanded = (sanding.most * Number(slider.value)) / Number(slider.max);
    const text = sandedText(sheet.data, sheet.sanded);
    said.textContent = text;
    slider.setAttribute('aria-valuetext', text);
    soon(() => {
      for (const plan of sheet.plans) if (plan.side === 'pocket') drawPlan(sheet, plan);
      showSection(sheet);
    });
  };
  slider.addEventListener('input', sand);
  if (slider.value !== '0') sand();
}

/** Rows and balloons of one number light up together; a balloon leads to its row, a row's number to its place. */
function rowsOf(sheet: Sheet): void {
  const light = (number: string | undefined, on: boolean): void => {
    if (number === undefined) return;
    for (const part of sheet.root.querySelectorAll(`[data-row="${number}"]`)) part.classList.toggle('on', on);
  };
  const numberOf = (event: Event): string | undefined =>
    (event.target as Element).closest?.<HTMLElement>('[data-row]')?.getAttribute('data-row') ?? undefined;
  sheet.root.addEventListener('pointerover', (event) => light(numberOf(event), true));
  sheet.root.addEventListener('pointerout', (event) => light(numberOf(event), false));
  sheet.root.addEventListener('focusin', (event) => light(numberOf(event), true));
  sheet.root.addEventListener('focusout', (event) => light(numberOf(event), false));
  sheet.root.addEventListener('click', (event) => {
    const ball = (event.target as Element).closest?.('a.ball');
    if (ball) showPlace(sheet, Number(numberOf(event)));
  });
}

/** Brings the place of a row near, so that its balloon is on the drawing and can be reached. */
function showPlace(sheet: Sheet, number: number): void {
  const mark = sheet.data.marks.find((one) => one.number === number);
  const plan = sheet.plans.find(({ side }) => side === mark?.side);
  if (mark === undefined || plan === undefined) return;
  const perMm = plan.whole.perMm * 4;
  const { width, height } = plan.view;
  look(sheet, plan, {
    ...plan.view,
    perMm,
    x: width / 2 - mark.at[0] * perMm,
    y: height / 2 - mark.at[1] * perMm,
  });
  for (const part of sheet.root.querySelectorAll(`[data-row="${number}"]`)) part.classList.add('on');
}
