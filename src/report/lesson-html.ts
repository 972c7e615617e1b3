import type { Artwork } from '../artwork/artwork.ts';
import { jobLines } from './head.ts';
import { findings, haveOf, type Lesson, QUESTION } from './lesson.ts';
import { boxOfShapes, pathData } from './lesson-drawing.ts';
import { type Block, type Page, sectionOf } from './page.ts';

/** A handout of lessons to write on: drawings, job and figures, without what they should be. One file, no network. */
export function handoutHtml(lessons: readonly Lesson[]): string {
  return documentOf(
    'What is wrong here?',
    lessons.map((lesson) => article(lesson, questionPart(lesson))),
  );
}

/** The answer sheet that belongs to it. `pageOf` gives a check's page. */
export function answersHtml(lessons: readonly Lesson[], pageOf: (id: string) => Page): string {
  return documentOf(
    'What is wrong here? Answers',
    lessons.map((lesson) => article(lesson, answerPart(lesson, pageOf(lesson.id)))),
  );
}

function documentOf(title: string, articles: readonly string[]): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${STYLE}</style>
</head>
<body>
<header><h1>${escaped(title)}</h1><p>Pocket and plug of V-bit inlays, each with one mistake in it.</p></header>
${articles.join('\n')}
</body>
</html>
`;
}

function article(lesson: Lesson, body: string): string {
  const { facts, checked, number, of } = lesson;
  const name = `lesson-${number}`;
  return `<article aria-labelledby="${name}">
<h2 id="${name}"><span class="number">${number}</span> ${escaped(checked.title)} <small>lesson ${number} of ${of}</small></h2>
<div class="drawings">
${picture(facts.artwork('pocket'), facts.artwork('plug'), 'pocket')}
${picture(facts.artwork('plug'), facts.artwork('pocket'), 'plug')}
</div>
<pre class="job">${escaped(jobLines(facts).join('\n'))}</pre>
${body}
</article>`;
}

/** One drawing as drawn, in a frame large enough for either, so that both stand at one scale. */
function picture(artwork: Artwork, other: Artwork, side: 'pocket' | 'plug'): string {
  const box = boxOfShapes(artwork.shapes);
  const beside = boxOfShapes(other.shapes);
  const width = Math.max(box.maxX - box.minX, beside.maxX - beside.minX) + 2 * EDGE;
  const height = Math.max(box.maxY - box.minY, beside.maxY - beside.minY) + 2 * EDGE + RULE;
  const [left, top] = [box.minX - EDGE, box.minY - EDGE];
  const caption = side === 'pocket' ? 'Pocket, from above' : 'Plug, from above, as it will be cut';
  const shapes = artwork.shapes
    .map((shape) => `<path fill-rule="${shape.fillRule}" d="${pathData(shape)}"/>`)
    .join('');
  const [x, y] = [left + EDGE, top + height - EDGE];
  const rule = `<path class="rule" d="M${fixed(x)} ${fixed(y)}h10m0 -1v2m-10 0v-2"/><text x="${fixed(x + 12)}" y="${fixed(y + 1)}" font-size="${fixed(width / 25)}">10 mm</text>`;
  return `<figure><svg viewBox="${[left, top, width, height].map(fixed).join(' ')}" role="img" aria-label="${caption}"><g class="wood ${side}">${shapes}</g>${rule}</svg><figcaption>${caption}</figcaption></figure>`;
}

/** Empty border round a drawing and room for the rule below it, mm. */
const EDGE = 3;
const RULE = 6;

function questionPart(lesson: Lesson): string {
  const rows = lesson.checked.checks
    .map(
      (check) =>
        `<tr><th scope="row">${escaped(check.row)}</th><td class="figure">${escaped(haveOf(lesson, check))}</td><td class="write"></td></tr>`,
    )
    .join('\n');
  return `<p class="question">${escaped(QUESTION)}</p>
<table><caption>Figures as measured</caption>
<thead><tr><th scope="col">What was measured</th><th scope="col" class="figure">Have</th><th scope="col">Should be, I think</th></tr></thead>
<tbody>
${rows}
</tbody></table>
<div class="lines" aria-hidden="true"><p>In the wood:</p><p>Mend:</p></div>`;
}

function answerPart(lesson: Lesson, page: Page): string {
  const rows = findings(lesson)
    .map(
      ({ label, have, need, room, word, says, cure }) =>
        `<tr class="${word === 'FAIL' ? 'fail' : 'close'}"><th scope="row">${escaped(label)}</th><td>${word}</td><td class="figure">${escaped(have)}</td><td class="figure">${escaped(need)}</td><td class="figure">${escaped(room)}</td></tr>
<tr><td colspan="5">${escaped(says)}${cure === undefined ? '' : ` <strong>Mend:</strong> ${escaped(cure)}`}</td></tr>`,
    )
    .join('\n');
  const why = sectionOf(page, 'Why wood cares');
  const drawing = sectionOf(page, 'The drawing');
  return `<p class="question">${escaped(lesson.story)}</p>
<table><caption>What the check finds (${escaped(lesson.id)})</caption>
<thead><tr><th scope="col">What was measured</th><th scope="col">Outcome</th><th scope="col" class="figure">Have</th><th scope="col" class="figure">Need</th><th scope="col" class="figure">Room</th></tr></thead>
<tbody>
${rows}
</tbody></table>
<h3>${escaped(why.heading)}</h3>
${[...why.blocks, ...drawing.blocks].map(blockHtml).join('\n')}`;
}

function blockHtml(block: Block): string {
  if (block.kind === 'drawing') return `<pre class="plain-drawing">${escaped(block.lines.join('\n'))}</pre>`;
  return `<p>${block.kind === 'point' ? '- ' : ''}${escaped(block.text.replaceAll('`', ''))}</p>`;
}

function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

const fixed = (value: number): string => String(+value.toFixed(2));

const STYLE = `
:root { color-scheme: light dark; --paper: #fbfaf6; --ink: #22262b; --faint: #646b73; --line: #b9b4a6; --wood: #d9b98a; --other: #ecdfc6; }
@media (prefers-color-scheme: dark) { :root { --paper: #17191c; --ink: #e7e4dc; --faint: #a2a7ad; --line: #4c5158; --wood: #8a6a3c; --other: #5f5442; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.5rem 1rem 3rem; max-width: 60rem; background: var(--paper); color: var(--ink); font: 1rem/1.45 Georgia, "Times New Roman", serif; }
h1 { font-size: 1.6rem; margin: 0; }
h2 { font-size: 1.2rem; margin: 0 0 .6rem; display: flex; gap: .6rem; align-items: baseline; flex-wrap: wrap; }
h2 small { color: var(--faint); font-weight: normal; font-size: .85rem; }
h3 { font-size: 1rem; margin: 1rem 0 .3rem; }
.number { border: 1.5px solid var(--ink); border-radius: 50%; min-width: 1.9em; height: 1.9em; display: inline-flex; align-items: center; justify-content: center; font-size: .95rem; }
header p { color: var(--faint); margin: .2rem 0 1.2rem; }
article { border: 1.5px solid var(--ink); padding: 1rem; margin: 0 0 1.5rem; }
.drawings { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(14rem, 100%), 1fr)); gap: 1rem; }
figure { margin: 0; }
svg { width: 100%; max-height: 18rem; display: block; }
svg text { fill: var(--ink); font-family: inherit; }
svg path { vector-effect: non-scaling-stroke; stroke: var(--ink); stroke-width: 1px; stroke-linejoin: round; }
.wood.pocket { fill: var(--other); } .wood.plug { fill: var(--wood); }
.rule { fill: none; }
figcaption { color: var(--faint); font-size: .9rem; text-align: center; }
pre { font: .8rem/1.35 ui-monospace, "DejaVu Sans Mono", Menlo, Consolas, monospace; overflow-x: auto; }
.job { border-block: 1px solid var(--line); padding: .5rem 0; margin: .9rem 0; white-space: pre-wrap; }
.plain-drawing { line-height: 1.15; }
.question { font-weight: bold; }
table { border-collapse: collapse; width: 100%; font-size: .92rem; }
caption { text-align: left; color: var(--faint); padding-bottom: .25rem; }
th, td { border-bottom: 1px solid var(--line); padding: .25rem .5rem .25rem 0; text-align: left; font-weight: normal; vertical-align: top; }
thead th { color: var(--faint); } .figure { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.write { width: 30%; } .fail th, .fail td, .close th, .close td { font-weight: bold; border-bottom: 0; padding-top: .5rem; }
.lines p { border-bottom: 1px solid var(--line); padding-bottom: 1.6rem; margin: .8rem 0 0; color: var(--faint); }
@media screen and (max-width: 32rem) {
  body { padding-inline: .6rem; } article { padding: .7rem; } table { font-size: .8rem; }
  th, td { padding-right: .3rem; } .figure { white-space: normal; }
}
@media print {
  :root { color-scheme: light; font-size: 9pt; --paper: #fff; --ink: #000; --faint: #444; --line: #999; --wood: #ddd; --other: #f2f2f2; }
  @page { margin: 14mm; }
  body { padding: 0 1pt; max-width: none; line-height: 1.25; }
  header { display: flex; gap: 5mm; align-items: baseline; }
  h1 { font-size: 13pt; }
  header p { margin: 0 0 2mm; }
  article { break-inside: avoid; border-width: 1pt; padding: 4mm; margin-bottom: 5mm; }
  article + article { margin-top: 0; }
  .drawings { grid-template-columns: 1fr 1fr; }
  svg { max-height: 52mm; }
  th, td { padding-block: .4mm; }
  .lines p { padding-bottom: 8mm; margin-top: 2mm; }
  .question, table, .job { margin-block: 2mm; }
}
`;
