/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
// Buttons, keys and pointers over a plan: they move the drawing and the section.
import type { Point } from '../geometry/shapes.ts';
import { FINE, look, type Plan, QUICK, type Sheet, setCut, setCutting, zoom } from './html-page-draw.ts';
import { toDrawing, toScreen } from './html-plan.ts';

const GRASP = 14;
export function press(sheet: Sheet, plan: Plan, button: HTMLButtonElement): void {
  const middle: Point = [plan.view.width / 2, plan.view.height / 2];
  if (button.dataset['do'] === 'in') zoom(sheet, plan, 1.5, middle);
  if (button.dataset['do'] === 'out') zoom(sheet, plan, 1 / 1.5, middle);
  if (button.dataset['do'] === 'fit') look(sheet, plan, plan.whole);
  if (button.dataset['do'] === 'cut') setCutting(plan, !plan.cutting);
}

const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

export function keysOf(sheet: Sheet, plan: Plan): void {
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

export function pointersOf(sheet: Sheet, plan: Plan): void {
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
