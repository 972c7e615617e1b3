import { section } from '../carve/section.ts';
import type { CheckedJob } from '../engine/checked.ts';
import type { Answer } from '../engine/reading.ts';
import type { InputFault } from '../fault.ts';
import { show, showBare } from '../units.ts';
import { type HtmlSheet, type PlanData, pairOf, type SheetData } from './html-data.ts';
import { boxFor, cutMarks, planMarks, planShapes, rimClasses, type Side, wholeView } from './html-plan.ts';
import { rowGroups } from './html-rows.ts';
import { STYLE } from './html-style.ts';
import { escaped } from './html-text.ts';
import { facePosition, hatches, sectionSvg } from './section-drawing.ts';
import { ANSWER_SENTENCES, ANSWER_WORDS, balloonsOf, baseName } from './sheet.ts';
import { VERSION } from './version.ts';

/** A job that was asked, or one that could not be read: it has its sheet too, so that it cannot pass unseen. */
export type HtmlJob =
  | { readonly checked: CheckedJob; readonly sheet: HtmlSheet }
  | { readonly job: string; readonly faults: readonly Pick<InputFault, 'message' | 'place'>[] };

/** Width and greatest height of a plan before the page's script fits it to the window, pixels. */
const PLAN_WIDE = 640;
const PLAN_HIGH = 460;
const SECTION_WIDE = 1000;

/**
 * The report as one page that needs nothing else: a sheet a job, one under the other. `script` is the page's own
 * program (html-page.ts, bundled); without it the drawings stand still.
 */
export function html(jobs: readonly HtmlJob[], script: string): string {
  const names = jobs.map((job) => ('checked' in job ? job.checked.title : baseName(job.job)));
  const sheets = jobs.map((job, i) => {
    const id = `s${i + 1}`;
    const count = `${i + 1} of ${jobs.length}`;
    return 'checked' in job ? sheetHtml(job, id, count) : unreadHtml(job, id, count);
  });
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'">
<title>Dry fit: ${escaped(names.join(', '))}</title>
<style>${STYLE}</style>
</head>
<body>
<svg class="defs" width="0" height="0" aria-hidden="true"><defs><marker id="arrow" viewBox="0 0 10 6" refX="10" refY="3" markerWidth="10" markerHeight="6" markerUnits="userSpaceOnUse" orient="auto-start-reverse"><path d="M0 0L10 3L0 6Z"/></marker></defs></svg>
<main>
${jobs.length > 1 ? contents(jobs) : ''}${sheets.join('\n')}
</main>
<script>${script.replaceAll('</script', '<\\/script')}</script>
</body>
</html>
`;
}

function contents(jobs: readonly HtmlJob[]): string {
  const items = jobs.map((job, i) => {
    const [name, word] =
      'checked' in job ? [job.checked.title, ANSWER_WORDS[job.checked.answer]] : [job.job, 'NOT READ'];
    return `<li><a href="#s${i + 1}">${escaped(name)}</a> <strong>${word}</strong></li>`;
  });
  return `<nav aria-label="Sheets"><ol class="contents">${items.join('')}</ol></nav>\n`;
}

function unreadHtml(job: Extract<HtmlJob, { faults: unknown }>, id: string, count: string): string {
  const faults = job.faults.map(({ message, place }) => {
    const where = [place.file, place.line === undefined ? undefined : `line ${place.line}`, place.element];
    return `<li>${escaped(where.filter((word) => word !== undefined).join(', '))}<br>${escaped(message)}</li>`;
  });
  return `<article class="sheet" id="${id}" aria-labelledby="${id}-title">
<header><div><p class="kind">Dry fit</p><h1 id="${id}-title">${escaped(baseName(job.job))}</h1></div><p class="answer unknown">NOT READ</p></header>
<p class="sentence">This job could not be read, so nothing about it is known.</p>
<ul class="faults">${faults.join('')}</ul>
${titleBlock([
  ['Job', job.job],
  ['Answer', 'NOT READ'],
  ['Sheet', count],
  ['Made by', `Dryfit ${VERSION}`],
])}
</article>`;
}

function sheetHtml(
  { checked, sheet }: Extract<HtmlJob, { checked: unknown }>,
  id: string,
  count: string,
): string {
  const { data, files } = sheet;
  return `<article class="sheet" id="${id}" aria-labelledby="${id}-title">
<header><div><p class="kind">Dry fit</p><h1 id="${id}-title">${escaped(checked.title)}</h1></div>${answerHtml(checked.answer)}</header>
<p class="sentence">${ANSWER_SENTENCES[checked.answer]}</p>
${summaryHtml(sheet.summary)}
<div class="body">
<div class="drawings">
${planFigure(data, 'pocket', id)}
${planFigure(data, 'plug', id)}
</div>
<div class="figures">
${rowGroups(checked, balloonsOf(checked), data, id)}
</div>
</div>
${sectionFigure(data, id)}
${titleBlock([
  ['Title', checked.title],
  ['Job', checked.job],
  ['Pocket', files.pocket],
  ['Plug', files.plug],
  ['Units', data.units],
  ['Answer', ANSWER_WORDS[checked.answer]],
  ['Sheet', count],
  ['Made by', `Dryfit ${VERSION}`],
])}
<script type="application/json" class="data">${JSON.stringify(forScript(data)).replaceAll('<', '\\u003c')}</script>
</article>`;
}

/** The page's data without what is drawn once and for all. */
function forScript({ widths: _, rim: __, ...data }: PlanData): SheetData {
  return data;
}

const answerHtml = (answer: Answer): string => `<p class="answer ${answer}">${ANSWER_WORDS[answer]}</p>`;

/** The job's lines: a name, then its words. */
function summaryHtml(lines: readonly string[]): string {
  const rows = lines.map((text) => {
    const [name = '', ...words] = text.trim().split(/\s{2,}/);
    const [first, rest] = words.length > 0 ? [name, words] : [name.split(' ')[0] as string, [name]];
    return `<div><dt>${escaped(first)}</dt>${rest.map((word) => `<dd>${escaped(word)}</dd>`).join('')}</div>`;
  });
  return `<dl class="job">${rows.join('')}</dl>`;
}

/** The title block, with the fields a drawing carries (ISO 7200). */
function titleBlock(fields: readonly (readonly [string, string])[]): string {
  const cells = fields.map(([name, value]) => `<div><dt>${name}</dt><dd>${escaped(value)}</dd></div>`);
  return `<dl class="title-block">${cells.join('')}</dl>`;
}

const CAPTIONS: Readonly<Record<Side, string>> = {
  pocket: 'Pocket, from above, with the plug laid over it',
  plug: 'Plug, from above, as it will be cut',
};

function planFigure(data: PlanData, side: Side, id: string): string {
  const key = `${id}-${side}`;
  const view = wholeView(boxFor(data, side), PLAN_WIDE, PLAN_HIGH);
  const cut = side === 'pocket' ? `<g class="cut">${cutMarks(data, data.cut, view, id)}</g>` : '';
  return `<figure class="plan ${side}" data-side="${side}">
<figcaption>${CAPTIONS[side]}</figcaption>
<div class="tools" hidden>
<span role="group" aria-label="Size of the drawing"><button type="button" data-do="in" aria-label="Larger">+</button><button type="button" data-do="out" aria-label="Smaller">&minus;</button><button type="button" data-do="fit">Whole</button></span>
${side === 'pocket' ? layerTools(data) : ''}
</div>
<svg class="drawing" id="${key}" viewBox="0 0 ${view.width} ${Math.round(view.height)}" tabindex="0" role="group" aria-label="${CAPTIONS[side]}. Plus and minus change the size, arrow keys move it, 0 shows the whole.">
<g class="moved" transform="matrix(${view.perMm} 0 0 ${view.perMm} ${view.x} ${view.y})">${planShapes(data, side, key)}</g>
${cut}<g class="marks">${planMarks(data, side, view, id, { whole: true, cut: data.cut })}</g>
</svg>
${side === 'pocket' ? legends(data) : ''}
</figure>`;
}

function layerTools(data: PlanData): string {
  const layer = (name: string, text: string, on: boolean): string =>
    `<label><input type="checkbox" data-layer="${name}"${on ? ' checked' : ''}> ${text}</label>`;
  const draw =
    data.fit === undefined
      ? ''
      : `<button type="button" data-do="cut" aria-pressed="false">Draw a section</button>`;
  return `${draw}<span class="layers" role="group" aria-label="What the drawing shows">${layer('rim', 'rim gap', data.rim.length > 0)}${layer('widths', 'stroke widths', false)}${layer('laid', 'plug', true)}${layer('balloons', 'balloons', true)}</span>`;
}

function legends(data: PlanData): string {
  const length = (value: number): string => show(value, 'mm', data.units);
  const bare = (value: number): string => showBare(value, 'mm', data.units);
  const key = (mark: string, text: string): string => `<li>${mark}${text}</li>`;
  const swatch = (name: string): string =>
    `<svg width="30" height="12" aria-hidden="true"><path class="${name}" d="M1 6H29"/></svg>`;
  const box = (name: string): string =>
    `<svg width="30" height="12" aria-hidden="true"><rect class="${name}" x=".5" y=".5" width="29" height="11"/></svg>`;
  const lines = key(swatch('edge'), 'pocket') + key(swatch('laid'), 'plug laid over it');
  const rim = rimClasses(data.rimLimits)
    .map((from, k, all) => {
      const next = all[k + 1];
      const text =
        next === undefined
          ? `${length(from)} and more`
          : k === 0
            ? `under ${length(next)}`
            : `${bare(from)} to ${length(next)}`;
      return key(swatch(`gap g${k}`), text);
    })
    .join('');
  const widths = data.widths
    .filter(({ from }, k, all) => from < (all[k + 1]?.from ?? Number.POSITIVE_INFINITY))
    .map(({ from, tone, means }, k, all) => {
      const next = all[k + 1]?.from;
      const text =
        next === undefined
          ? `${length(from)} and wider`
          : k === 0
            ? `under ${length(next)}`
            : `${bare(from)} to ${length(next)}`;
      return key(box(`width w${tone}`), `${text}: ${means}`);
    })
    .join('');
  const widest = data.widest === undefined ? '' : ` (widest ${length(data.widest)})`;
  return `<div class="legends"><ul>${lines}</ul>
${data.rim.length > 0 ? `<ul class="for-rim"><li class="of">Rim gap${widest}</li>${rim}</ul>` : ''}
<ul class="for-widths" hidden><li class="of">Stroke width</li>${widths}</ul></div>`;
}

function sectionFigure(data: SheetData, id: string): string {
  const caption = `<figcaption>Section A-A, as the plug sits</figcaption>`;
  const made = pairOf(data);
  if (made === undefined)
    return `<figure class="cut-figure">${caption}<p class="none">No section can be drawn. ${escaped(data.noFit ?? '')}</p></figure>`;
  const cut = section(made.pair, made, ...data.cut);
  const drawing = sectionSvg(cut, facePosition(data), SECTION_WIDE, 0, `${id}-x`);
  const { sanding } = data;
  const slider =
    sanding === undefined
      ? ''
      : `<div class="tools sanding" hidden><label for="${id}-sand">Sand the face</label><input type="range" id="${id}-sand" min="0" max="1000" value="0" step="1" aria-describedby="${id}-sanded"><output id="${id}-sanded" for="${id}-sand">Nothing sanded yet.</output></div>`;
  const proud =
    data.fit !== undefined && data.fit.proud > 0.01
      ? `The plug stands ${show(data.fit.proud, 'mm', data.units)} proud of where it was meant to sit. `
      : '';
  const swatch = (name: string): string =>
    `<svg width="30" height="14" aria-hidden="true"><rect class="swatch" x=".5" y=".5" width="29" height="13" fill="url(#${id}-key-${name})"/></svg>`;
  return `<figure class="cut-figure">${caption}
${slider}
<div class="section-holder">${drawing}</div>
<div class="legends"><ul><svg width="0" height="0" aria-hidden="true">${hatches(`${id}-key`)}</svg><li>${swatch('board')}board</li><li>${swatch('plug')}plug and its stock</li><li>${swatch('glue')}room for glue</li><li><svg width="30" height="14" aria-hidden="true"><path class="saw" d="M1 7H29"/></svg>saw cut</li><li><svg width="30" height="14" aria-hidden="true"><path class="shown" d="M1 7H29"/></svg>inlay seen on the face</li></ul></div>
<p class="note">${proud}Heights and lengths are to one scale. The outlines on this page lie within ${show(data.thinned, 'mm', data.units)} of the checked ones.</p>
</figure>`;
}
