/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
// What the page shows of one sheet, and how it is drawn anew.
import { type Section, section } from '../carve/section.ts';
import type { Point } from '../geometry/shapes.ts';
import type { pairOf, SheetData } from './html-data.ts';
import { cutMarks, drawnIn, narrowestMark, planMarks, type Side, type View } from './html-plan.ts';
import { facePosition, sectionSvg } from './section-drawing.ts';

/** Steps of a section, at rest and while something is dragged. */
export const FINE = 240;
export const QUICK = 90;
const CLOSEST = 400;
/** Twice the width of the line round a sanded inlay, pixels: half of a stroke lies under the board. */
const NEW_EDGE = 3;
export interface Sheet {
  readonly id: string;
  readonly root: HTMLElement;
  readonly data: SheetData;
  readonly plans: Plan[];
  readonly made: ReturnType<typeof pairOf>;
  cut: readonly [Point, Point];
  sanded: number;
  section: Section | undefined;
}

export interface Plan {
  readonly side: Side;
  readonly svg: SVGSVGElement;
  readonly figure: HTMLElement;
  view: View;
  whole: View;
  cutting: boolean;
}

export function drawPlan(sheet: Sheet, plan: Plan): void {
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

export function drawSection(sheet: Sheet, steps: number): void {
  if (sheet.made === undefined) return;
  sheet.section = section(sheet.made.pair, sheet.made, sheet.cut[0], sheet.cut[1], steps);
  showSection(sheet);
}

export function showSection(sheet: Sheet, wide?: number): void {
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
export function soon(work: () => void): void {
  cancelAnimationFrame(asked);
  asked = requestAnimationFrame(work);
}

export function setCut(sheet: Sheet, cut: readonly [Point, Point], steps: number): void {
  sheet.cut = cut;
  soon(() => {
    for (const plan of sheet.plans) if (plan.side === 'pocket') drawPlan(sheet, plan);
    drawSection(sheet, steps);
  });
}

export function setCutting(plan: Plan, on: boolean): void {
  plan.cutting = on;
  plan.svg.classList.toggle('cutting', on);
  plan.figure.querySelector('[data-do=cut]')?.setAttribute('aria-pressed', String(on));
}

export function look(sheet: Sheet, plan: Plan, view: View): void {
  plan.view = view;
  drawPlan(sheet, plan);
}

/** Larger or smaller about a point of the screen; the whole drawing is the smallest. */
export function zoom(sheet: Sheet, plan: Plan, by: number, [px, py]: Point): void {
  const { view, whole } = plan;
  const perMm = Math.min(Math.max(view.perMm * by, whole.perMm), whole.perMm * CLOSEST);
  if (perMm <= whole.perMm * 1.001) {
    look(sheet, plan, whole);
    return;
  }
  const ratio = perMm / view.perMm;
  look(sheet, plan, { ...view, perMm, x: px - (px - view.x) * ratio, y: py - (py - view.y) * ratio });
}
