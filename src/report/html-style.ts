/** The look of the page: a drawing sheet by day and by night, and plain ink on paper. */
export const STYLE = `
:root { color-scheme: light dark;
 --paper: #f8f6f0; --sheet: #fffefb; --ink: #1d2730; --faint: #5b6670; --line: #c9c5ba; --frame: #1d2730;
 --inlay: #ecd9b4; --plug: #f3e3c3; --board: #e3e9e4; --hatch: #8a949a; --glue: #dfe6f2; --speck: #4d6a9a;
 --fail: #a8271b; --close: #8a5600; --good: #23603f; --unseen: #6a3d8f; --on: #fff0a8; --cutline: #0f5c8c;
 --w0: #7b1e3a; --w1: #c4783a; --w2: #ecc98a; --w3: #f7efdc; --g0: #23603f; --g1: #b08a00; --g2: #c2571a; --g3: #a8271b; }
@media (prefers-color-scheme: dark) { :root {
 --paper: #0f181f; --sheet: #15212a; --ink: #e3e9ec; --faint: #9fadb6; --line: #34454f; --frame: #8fa1ac;
 --inlay: #6b5733; --plug: #5c4b2e; --board: #26363a; --hatch: #87969d; --glue: #22344f; --speck: #9db9e8;
 --fail: #ff8f80; --close: #f0b95a; --good: #7fd1a2; --unseen: #cfa6f0; --on: #4b4520; --cutline: #7cc4f0;
 --w0: #f08aa8; --w1: #d98a4a; --w2: #8a6a3a; --w3: #4a4130; --g0: #7fd1a2; --g1: #e8c84a; --g2: #f59a5a; --g3: #ff6f5e; } }
* { box-sizing: border-box; }
html { scroll-behavior: smooth; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 15px/1.45 "DIN Alternate", Bahnschrift, "Barlow", "Helvetica Neue", "Liberation Sans", Arial, sans-serif; }
main { max-width: 1440px; margin: 0 auto; padding: 16px; }
.defs { position: absolute; } #arrow path { fill: var(--ink); }
.contents { margin: 0 0 16px; padding: 0 0 0 1.6em; } .contents a, .ball { color: inherit; }
.sheet { background: var(--sheet); border: 1px solid var(--line); outline: 2px solid var(--frame); outline-offset: -8px; padding: 26px 28px 28px; margin: 0 0 24px; }
header { display: flex; justify-content: space-between; align-items: flex-start; gap: 12px 20px; flex-wrap: wrap; }
.kind { margin: 0; color: var(--faint); letter-spacing: .16em; text-transform: uppercase; font-size: 12px; }
h1 { margin: 0; font-size: 26px; line-height: 1.15; font-weight: 600; overflow-wrap: anywhere; }
.answer { margin: 0; padding: 7px 14px; font-weight: 700; font-size: 19px; letter-spacing: .05em; border: 3px solid; }
.answer.pass { color: var(--good); } .answer.care { color: var(--close); border-style: dashed; }
.answer.fail { color: var(--fail); border-style: double; border-width: 6px; padding: 4px 11px; } .answer.unknown { color: var(--unseen); border-style: dotted; }
.sentence { margin: 6px 0 14px; max-width: 62em; }
.job { margin: 0 0 18px; border-block: 1px solid var(--line); padding: 6px 0; }
.job div { display: flex; flex-wrap: wrap; gap: 0 1.6em; } .job dt { width: 4.6em; color: var(--faint); } .job dd { margin: 0; }
.body { display: grid; grid-template-columns: minmax(0, 1fr); gap: 22px; }
figure { margin: 0 0 18px; } figcaption { font-weight: 600; margin-bottom: 6px; }
.tools { display: flex; flex-wrap: wrap; gap: 6px 12px; align-items: center; margin-bottom: 6px; font-size: 14px; } .tools[hidden] { display: none; }
button { font: inherit; color: inherit; background: var(--paper); border: 1px solid var(--faint); padding: 3px 10px; min-width: 34px; min-height: 32px; cursor: pointer; }
span > button + button { border-left: 0; } button[aria-pressed=true] { background: var(--ink); color: var(--sheet); }
.layers { display: flex; flex-wrap: wrap; gap: 2px 12px; } .layers label { display: inline-flex; gap: 5px; align-items: center; min-height: 28px; }
:focus-visible { outline: 3px solid var(--cutline); outline-offset: 1px; }
svg { display: block; } svg text { fill: var(--ink); font-size: 12px; }
.drawing { width: 100%; height: auto; border: 1px solid var(--line); touch-action: pan-y; user-select: none; -webkit-user-select: none; cursor: grab; background: var(--sheet); }
.drawing.close, .drawing.cutting { touch-action: none; } .drawing.cutting { cursor: crosshair; }
/* What a use shows is styled by plain classes: no selector reaches into it from outside. */ .shape, .gap { vector-effect: non-scaling-stroke; } .shape, .width { fill-rule: evenodd; } .shape, .worn-shape, .gap { stroke-linejoin: round; } .worn-shape { fill: none; } 
.inlay { fill: var(--inlay); stroke: none; }  .worn { stroke: var(--sheet); } .worn-edge { stroke: var(--ink); }
.sanded .edge { stroke: var(--faint); stroke-width: .8px; stroke-dasharray: 3 3; } .sanded .rim, .sanded .laid, .sanded .widths { display: none; }
.edge { stroke: var(--ink); stroke-width: 1.8px; fill: none; } .laid { stroke: var(--faint); stroke-width: 1px; stroke-dasharray: 12 3 2 3 2 3; fill: none; }
.width { stroke: none; } .moved .w0, .w0 { fill: var(--w0); } .moved .w1, .w1 { fill: var(--w1); } .moved .w2, .w2 { fill: var(--w2); } .moved .w3, .w3 { fill: var(--w3); } .legends .width { stroke: var(--ink); stroke-width: 1px; }
.gap { fill: none; stroke-linecap: round; } .g0 { stroke: var(--g0); stroke-width: 1.4px; } .g1 { stroke: var(--g1); stroke-width: 2.4px; } .g2 { stroke: var(--g2); stroke-width: 3.6px; } .g3 { stroke: var(--g3); stroke-width: 5.5px; }
.no-rim .rim, .no-widths .widths, .no-laid .laid, .no-balloons .balloon { display: none; }
.dimension path, .rule path { fill: none; stroke: var(--faint); stroke-width: 1px; } .dimension .arrows { stroke: var(--ink); marker-start: url(#arrow); marker-end: url(#arrow); }
.balloon path { stroke: var(--ink); stroke-width: 1px; fill: none; } .balloon circle { fill: var(--sheet); stroke: var(--ink); stroke-width: 1.3px; } .balloon .dot { fill: var(--ink); stroke: none; }
.balloon text { font-weight: 600; } .balloon.fail circle { stroke: var(--fail); stroke-width: 2.4px; } .balloon.close circle { stroke: var(--close); stroke-dasharray: 4 2; stroke-width: 1.8px; } .balloon .dot, .balloon.fail .dot, .balloon.close .dot { stroke: none; }
.balloon.on circle:not(.dot) { fill: var(--on); stroke-width: 3.6px; stroke-dasharray: none; } .balloon.on path { stroke-width: 2.2px; }
.cut path { fill: none; stroke: var(--cutline); } .cut .chain { stroke-width: 1.2px; stroke-dasharray: 14 3 3 3; } .cut .heavy { stroke-width: 3.2px; } .cut .arrow { stroke-width: 1.4px; }
.cut text { fill: var(--cutline); font-weight: 700; font-size: 14px; } .handle { fill: transparent; stroke: var(--cutline); stroke-width: 1px; stroke-dasharray: 2 2; cursor: move; } .handle:focus-visible { stroke-width: 3px; stroke-dasharray: none; outline: none; }
.narrowest { fill: none; stroke: var(--fail); stroke-width: 2px; stroke-dasharray: 3 2; }
.legends { display: flex; flex-wrap: wrap; gap: 4px 24px; margin-top: 6px; font-size: .87em; color: var(--faint); } .legends ul { list-style: none; display: flex; flex-wrap: wrap; gap: 2px 14px; margin: 0; padding: 0; } .legends ul[hidden] { display: none; }
.legends li { display: inline-flex; align-items: center; gap: 6px; } .legends .of { color: var(--ink); }
.section { width: 100%; height: auto; } .section .board, .section .plug, .section .glue { stroke: var(--ink); stroke-width: 1.4px; stroke-linejoin: round; } .section .glue { stroke-width: .6px; }
.board-fill { fill: var(--board); } .plug-fill { fill: var(--plug); } .glue-fill { fill: var(--glue); } .speck { fill: var(--speck); } .hatch { stroke: var(--hatch); stroke-width: .8px; fill: none; } .swatch { stroke: var(--ink); }
.section .outline { stroke: var(--ink); stroke-width: 1.4px; } .section .break { fill: none; stroke: var(--ink); stroke-width: .9px; } .saw { fill: none; stroke: var(--cutline); stroke-width: 1.4px; stroke-dasharray: 16 3 3 3; }
.section .face { stroke: var(--ink); stroke-width: 1px; } .shown { stroke: var(--close); stroke-width: 5px; fill: none; } .section .gone { fill: var(--sheet); opacity: .82; }
.section-holder { border: 1px solid var(--line); overflow: hidden; } .none { border: 1px dashed var(--faint); padding: 14px; margin: 0; }
.sanding label { font-weight: 600; } .sanding input { flex: 1 1 180px; max-width: 420px; accent-color: var(--cutline); min-height: 28px; } .sanding output { flex: 1 1 300px; min-height: 1.45em; }
.note { color: var(--faint); font-size: .87em; margin: 6px 0 0; }
table { width: 100%; border-collapse: collapse; margin: 0 0 20px; font-variant-numeric: tabular-nums; } caption { text-align: left; font-weight: 600; padding-bottom: 3px; border-bottom: 2px solid var(--ink); }
th, td { text-align: left; font-weight: normal; vertical-align: baseline; padding: 3px 8px 3px 0; } thead th { color: var(--faint); font-size: .87em; } tbody tr { border-top: 1px solid var(--line); } tbody .told { border-top: 0; }
.figure { text-align: right; white-space: nowrap; } .number { width: 34px; } th.figure { width: 92px; } th.word { width: 66px; } .word { font-weight: 700; text-align: right; padding-right: 0; white-space: nowrap; }
.row.fail .word { color: var(--fail); } .row.close .word { color: var(--close); } .row th { font-weight: 600; } .told td { padding-bottom: 8px; color: var(--faint); } .told .cure, .told.fail td, .told.close td { color: var(--ink); } .cure { display: block; } .place { display: block; color: var(--faint); font-size: .87em; overflow-wrap: anywhere; }
.ball { display: inline-flex; width: 25px; height: 25px; align-items: center; justify-content: center; border: 1.4px solid; border-radius: 50%; font-size: .87em; font-weight: 600; text-decoration: none; } .row.fail .ball { border: 2.4px solid var(--fail); } .row.close .ball { border: 1.8px dashed var(--close); }
tr.on { background: var(--on); } .unseen-text { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.title-block { display: grid; grid-template-columns: repeat(4, 1fr); margin: 22px 0 0 auto; max-width: 900px; border: 2px solid var(--frame); gap: 1px; background: var(--line); } .title-block div { background: var(--sheet); padding: 4px 9px; } .title-block dt { color: var(--faint); font-size: 11px; } .title-block dd { margin: 0; overflow-wrap: anywhere; }
@media (min-width: 1100px) { .body { grid-template-columns: minmax(0, 1.05fr) minmax(0, 1fr); align-items: start; } .drawings { position: sticky; top: 14px; } }
@media (min-width: 700px) and (max-width: 1099px) { .drawings { display: grid; grid-template-columns: 1fr 1fr; gap: 18px; } }
@media (max-width: 560px) {
 main { padding: 6px; } .sheet { padding: 20px 16px; outline-offset: -6px; } h1 { font-size: 22px; } .job div { gap: 0 1em; } .job dt { width: 100%; }
 thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); } table, tbody, caption { display: block; }
 tbody tr { display: grid; grid-template-columns: 32px repeat(3, minmax(0, 1fr)); padding: 4px 0; } td, tbody th { padding: 0 6px 0 0; }
 tbody .number { grid-area: 1 / 1; width: auto; } tbody tr:not(.told) th { grid-area: 1 / 2 / 2 / 4; } tbody .word { grid-area: 1 / 4; }
 tbody .figure { grid-row: 2; text-align: left; } tbody [data-name=have] { grid-column: 2; } tbody [data-name=need] { grid-column: 3; } tbody [data-name=room] { grid-column: 4; }
 [data-name]::before { content: attr(data-name); color: var(--faint); font-size: 12px; display: block; line-height: 1; }
 tbody .told td:last-child { grid-column: 2 / 5; padding-bottom: 6px; } .title-block { grid-template-columns: 1fr 1fr; }
}
@media print {
 :root { color-scheme: light; --paper: #fff; --sheet: #fff; --ink: #000; --faint: #444; --line: #bbb; --frame: #000; --inlay: #eee; --plug: #fff; --board: #fff; --hatch: #777; --glue: #f4f4f4; --speck: #555; --fail: #900; --close: #740; --good: #050; --unseen: #306; --cutline: #024; --on: #fff;
 --w0: #333; --w1: #888; --w2: #ccc; --w3: #fff; --g0: #444; --g1: #333; --g2: #222; --g3: #000; }
 @page { margin: 11mm; }
 body { font-size: 8.5pt; line-height: 1.3; -webkit-print-color-adjust: exact; print-color-adjust: exact; } main { padding: 0 1px; max-width: none; } .tools, .contents { display: none; }
 .sheet { border: 0; outline: 0; padding: 0; margin: 0; break-after: page; } .sheet:last-of-type { break-after: auto; }
 h1 { font-size: 16pt; } .answer { font-size: 12pt; } .sentence { margin: 1mm 0 2mm; } .job { margin-bottom: 3mm; padding: 1mm 0; }
 .body { display: block; } .drawings { position: static; display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 5mm; } .plan svg.drawing { max-height: 82mm; } svg text { font-size: 11px; } .section-holder { margin-right: 1px; } figure { margin-bottom: 3mm; break-inside: avoid; }
 .cut-figure { break-inside: avoid; } .section { max-height: 80mm; } table { margin-bottom: 3mm; } thead th { font-size: 7.5pt; } th, td { padding: .4mm 2mm .4mm 0; } .told td { padding-bottom: 1mm; } tr { break-inside: avoid; } .row { break-after: avoid; } .title-block { margin-top: 3mm; break-inside: avoid; max-width: none; grid-template-columns: repeat(4, 1fr); } .ball { width: 15pt; height: 15pt; font-size: 8pt; }
}
`;
