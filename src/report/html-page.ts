/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
// The page's own program: bundled into one script by the build and put into every report. It draws with the same
// functions as the report and cuts sections with the same code as the check.
import { pairOf, type SheetData } from './html-data.ts';
import {
  drawPlan,
  drawSection,
  FINE,
  look,
  type Plan,
  type Sheet,
  showSection,
  soon,
} from './html-page-draw.ts';
import { keysOf, pointersOf, press } from './html-page-hands.ts';
import { boxFor, type Side, sandedText, wholeView } from './html-plan.ts';

/** Below this width, pixels, the first section is shortened. */
const NARROW = 900;
/** Width of the printed sheet in the pixels its drawings are laid out in. */
const PAPER_WIDE = 700;
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
