import type { BenchSheet, Cell, Figure, Note, Step } from '../advice/bench-sheet.ts';
import type { BenchPlan } from '../advice/bench-sheet-drawing.ts';
import { CSS_PX_PER_INCH, type LengthStyle, MM_PER_INCH, show } from '../units.ts';
import {
  keepOutMark,
  perMm,
  pieceShown,
  planScale,
  planSvg,
  type Scale,
  scaleFor,
  scaleText,
} from './bench-sheet-plan.ts';
import { BENCH_STYLE } from './bench-sheet-style.ts';
import {
  AMISS_WORDS,
  alike,
  amissTold,
  BENCH_SENTENCES,
  groundLetters,
  rangeText,
  toldText,
} from './bench-sheet-words.ts';
import { escaped } from './html-text.ts';
import { printable } from './layout.ts';
import { sectionSvg } from './section-drawing.ts';
import { ANSWER_WORDS } from './sheet.ts';
import { VERSION } from './version.ts';

interface Look {
  readonly style: LengthStyle;
  readonly letters: ReadonlyMap<string, string>;
}

/** Text of the job as it may stand in the page. */
const safe = (text: string): string => escaped(printable(text));

/** The bench sheet as one page that needs nothing else and runs no program: to be printed on A4 or Letter. */
export function benchSheetHtml(sheet: BenchSheet): string {
  const look: Look = { style: sheet.units, letters: groundLetters(sheet) };
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>Bench sheet: ${safe(sheet.title)}</title>
<style>${BENCH_STYLE}</style>
</head>
<body>
<svg class="defs" width="0" height="0" aria-hidden="true"><defs><marker id="arrow" viewBox="0 0 10 6" refX="10" refY="3" markerWidth="8" markerHeight="5" markerUnits="userSpaceOnUse" orient="auto-start-reverse"><path d="M0 0L10 3L0 6Z"/></marker><marker id="small-arrow" viewBox="0 0 10 6" refX="10" refY="3" markerWidth="2" markerHeight="1.2" markerUnits="userSpaceOnUse" orient="auto-start-reverse"><path d="M0 0L10 3L0 6Z"/></marker><pattern id="keep" width="1.2" height="1.2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="thin" d="M0 0V1.2M0 0H1.2"/></pattern></defs></svg>
<main>
${heading(sheet)}
${setupTable(sheet, look)}
${drawings(sheet)}
<h2>Order of work</h2>
<ol class="steps">${sheet.steps.map((step) => stepHtml(step, look)).join('\n')}</ol>
<h2>Cautions</h2>
<ul class="cautions">${sheet.cautions.map((note) => `<li>${noteHtml(note, look)}</li>`).join('')}</ul>
<p class="small">${noteHtml(sheet.ranges, look)}</p>
<p class="small grounds"><strong>Grounds</strong> ${[...look.letters].map(([ground, letter]) => `<span><sup>${letter}</sup> ${safe(ground)}</span>`).join('; ')}.</p>
<footer><span>${safe(sheet.job)}</span><span>Dryfit ${VERSION}</span><span>cut by <i></i></span><span>date <i></i></span></footer>
</main>
</body>
</html>
`;
}

function heading(sheet: BenchSheet): string {
  const { rows, more } = amissTold(sheet);
  const told = rows.map(
    ({ row, outcome, says }) =>
      `<li><strong>${AMISS_WORDS[outcome]}</strong> ${safe(row)}: ${safe(says)}</li>`,
  );
  const rest = more === undefined ? '' : `<li>${safe(more)}</li>`;
  return `<header class="${sheet.answer}"><div><p class="kind">Bench sheet</p><h1>${safe(sheet.title)}</h1></div><p class="answer">${ANSWER_WORDS[sheet.answer]}</p></header>
<p class="sentence ${sheet.answer}">${BENCH_SENTENCES[sheet.answer]}</p>${told.length === 0 ? '' : `<ul class="amiss">${told.join('')}${rest}</ul>`}`;
}

function setupTable({ setup }: BenchSheet, look: Look): string {
  const rows = setup.map(({ name, pocket, plug }) =>
    alike(pocket, plug, look.style)
      ? `<tr><th scope="row">${name}</th><td colspan="2">${cellHtml(pocket, look)}</td></tr>`
      : `<tr><th scope="row">${name}</th><td>${cellHtml(pocket, look)}</td><td>${cellHtml(plug, look)}</td></tr>`,
  );
  return `<table class="setup"><thead><tr><th scope="col">Numbers to set</th><th scope="col">Pocket, in the board</th><th scope="col">Plug, on the plug stock</th></tr></thead><tbody>${rows.join('')}</tbody></table>`;
}

function cellHtml(cell: Cell, { style, letters }: Look): string {
  const text = safe(toldText(cell, style));
  const shown = 'missing' in cell ? `<em>${text}</em>` : 'value' in cell ? `<b>${text}</b>` : text;
  return shown + mark(cell.ground, letters);
}

const mark = (ground: string | undefined, letters: Look['letters']): string =>
  ground === undefined ? '' : `<sup>${letters.get(ground)}</sup>`;

const noteHtml = ({ says, ground }: Note, { letters }: Look): string => safe(says) + mark(ground, letters);

function stepHtml({ part, does, figures, notes }: Step, look: Look): string {
  const named =
    part === 'pocket' || part === 'plug' ? `<strong>${part === 'pocket' ? 'Pocket' : 'Plug'}.</strong> ` : '';
  const table =
    figures.length === 0
      ? ''
      : `<div class="figures">${figures.map((figure) => figureHtml(figure, look)).join('')}</div>`;
  const small =
    notes.length === 0 ? '' : `<p class="small">${notes.map((note) => noteHtml(note, look)).join(' ')}</p>`;
  return `<li><span class="box" role="img" aria-label="to be ticked"></span><div><p>${named}${safe(does)}</p>${table}${small}</div></li>`;
}

/** What it is, what it should be, between what, and a line for what was measured. */
function figureHtml(figure: Figure, look: Look): string {
  const range = rangeText(figure, look.style);
  const name = `<span class="name">${safe(figure.name)}</span>`;
  if ('words' in figure)
    return `<div class="whole"><span>${safe(figure.name)}: ${cellHtml(figure, look)}</span></div>`;
  if (!('value' in figure)) return `<div>${name}${cellHtml(figure, look)}</div>`;
  const between = range === '' ? '' : `<span class="range">${range}</span>`;
  const blank = range === '' || figure.value.unit === 'N' ? '' : '<i class="write"></i>';
  return `<div>${name}<span class="value">${cellHtml(figure, look)}</span>${between}${blank}</div>`;
}

/** The section and both plans at true scale, and a line to check the print by. */
function drawings(sheet: BenchSheet): string {
  const { drawing, units } = sheet;
  const scale = planScale(drawing);
  return `<div class="drawings">
${sectionFigure(sheet)}
<div class="plans">
${planFigure(drawing.pocket, scale, 'Pocket from above')}
${planFigure(drawing.plug, scale, 'Plug from above, as it is drawn')}
</div>
${ruler(units)}
</div>`;
}

/** Paper for the section beside its dimensions, mm; the labels of section-drawing.ts take the rest of the width. */
const SECTION_WIDE = 140;
const SECTION_HIGH = 30;
const PX_PER_MM = CSS_PX_PER_INCH / MM_PER_INCH;
/** What section-drawing.ts keeps beside the cut for its labels and edge, pixels. */
const SECTION_LABELS = 160;

function sectionFigure({ drawing, units }: BenchSheet): string {
  const { section } = drawing;
  if ('none' in section)
    return `<figure class="section-figure"><figcaption>Section</figcaption><p class="none">Not drawn. ${safe(section.none)}</p></figure>`;
  const { cut, ...levels } = section;
  const high =
    Math.max(...cut.plug.map(([, height]) => height)) - Math.min(...cut.board.map(([, height]) => height));
  const scale = scaleFor(cut.length, high + SHOWN, SECTION_WIDE, SECTION_HIGH);
  const width = Math.round(SECTION_LABELS + cut.length * perMm(scale) * PX_PER_MM);
  const svg = sectionSvg(cut, { ...levels, units }, width, 0, 'cut');
  return `<figure class="section-figure"><figcaption>Section A-A, pressed home, ${scaleText(scale)}: board hatched to the right, plug to the left, room for glue dotted, the saw's cut dash-dotted</figcaption>${svg}</figure>`;
}

/** Wood that the section shows above the root and below the floor, mm. */
const SHOWN = 6;

function planFigure(plan: BenchPlan, scale: Scale, what: string): string {
  const words = [`${what}, ${scaleText(scale)}`];
  if (plan.piece !== undefined && !pieceShown(plan))
    words.push('the edges of the piece lie beyond the drawing');
  else if (plan.piece !== undefined && !plan.piece.placed)
    words.push('the piece dashed as if the design lay in its middle, for the job does not say where it lies');
  if (plan.swept !== undefined) words.push('dotted: all that the bits cut');
  if (plan.keepOuts.length > 0) words.push(keepOutNames(plan));
  return `<figure><figcaption>${words.join('; ')}</figcaption>${planSvg(plan, scale, what)}</figure>`;
}

const NAMED = 6;

function keepOutNames({ keepOuts }: BenchPlan): string {
  const names = keepOuts
    .slice(0, NAMED)
    .map(({ name, met }, n) => `${keepOutMark(n)} ${safe(name.slice(0, 24))}${met ? ' IN THE PATH' : ''}`);
  const more = keepOuts.length > NAMED ? [`and ${keepOuts.length - NAMED} more`] : [];
  return [...names, ...more].join(', ');
}

/** Printed at full size this line is as long as it says; then the drawings are to their scale. */
function ruler(units: LengthStyle): string {
  const long = units === 'in' ? 2 * MM_PER_INCH : 50;
  const ticks = units === 'in' ? 8 : 10;
  const marks = Array.from(
    { length: ticks + 1 },
    (_, k) => `M${(k * long) / ticks} ${k % (ticks / 2) === 0 ? 0 : 1}V2.5`,
  );
  return `<figure class="ruler"><svg viewBox="-0.2 0 ${long + 0.4} 2.8" style="width:${long + 0.4}mm;height:2.8mm" role="img" aria-label="A line to check the print by"><path d="M0 2.5H${long}${marks.join('')}"/></svg><span>This line is ${show(long, 'mm', units)} long when the print is at full size; then the drawings are to their scale.</span></figure>`;
}
