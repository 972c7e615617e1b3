/** The look of the bench sheet: black ink on white paper, small enough for two pages and large enough for a bench. */
export const BENCH_STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
@page { margin: 9mm; }
body { margin: 0; background: #fff; color: #000; font: 8.2pt/1.17 "Liberation Sans", "Helvetica Neue", Arial, sans-serif; font-variant-numeric: tabular-nums; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
main { max-width: 190mm; margin: 0 auto; }
.defs { position: absolute; }
p, ul, ol, figure, h1, h2 { margin: 0; padding: 0; }
header { display: flex; justify-content: space-between; align-items: flex-start; gap: 6mm; border-bottom: .6mm solid #000; padding-bottom: 1mm; }
.kind { letter-spacing: .14em; text-transform: uppercase; font-size: 7.5pt; }
h1 { font-size: 13.5pt; line-height: 1.15; overflow-wrap: anywhere; }
h2 { font-size: 10pt; margin: 1.6mm 0 .6mm; break-after: avoid; border-bottom: .3mm solid #000; }
.answer { font-weight: 700; font-size: 12pt; padding: .6mm 3mm; border: .5mm solid #000; white-space: nowrap; }
.care .answer { border-style: dashed; } .unknown .answer { border-style: dotted; } .fail .answer { background: #000; color: #fff; }
.sentence { margin: 1mm 0; } .sentence.fail, .sentence.unknown { font-weight: 700; font-size: 10pt; }
.amiss { list-style: none; margin: 0 0 1.2mm; border-left: 1mm solid #000; padding-left: 2mm; overflow-wrap: anywhere; }
table { border-collapse: collapse; width: 100%; } th, td { text-align: left; vertical-align: baseline; font-weight: normal; padding: .12mm 2mm .12mm 0; overflow-wrap: anywhere; }
.setup thead th { font-weight: 700; border-bottom: .3mm solid #000; } .setup tr { border-bottom: .1mm solid #999; break-inside: avoid; } .setup th:first-child { width: 38mm; } .setup { table-layout: fixed; margin: 1mm 0 2mm; }
b { font-weight: 700; } em { font-style: italic; } sup { font-size: 6pt; line-height: 0; margin-left: .3mm; white-space: nowrap; }
.drawings { margin: 1mm 0; } figcaption { font-size: 7.5pt; margin-bottom: .6mm; overflow-wrap: anywhere; } figure { break-inside: avoid; }
.plans { display: flex; gap: 4mm; justify-content: space-between; break-inside: avoid; } .plans figure { max-width: 91mm; flex: 0 1 auto; }
svg { display: block; overflow: visible; } svg.plan text { font-size: 2.5px; } svg text { font-family: inherit; fill: #000; }
.plan .inlay { fill: #e4e4e4; fill-rule: evenodd; stroke: #000; stroke-width: .25; stroke-linejoin: round; } .plan .swept { fill: none; stroke: #000; stroke-width: .18; stroke-dasharray: .3 .8; stroke-linecap: round; }
.plan .piece { fill: none; stroke: #000; stroke-width: .35; } .plan .piece.taken { stroke-dasharray: 3 1.2; }
.plan .keep-out { fill: url(#keep); fill-rule: evenodd; stroke: #000; stroke-width: .3; } .plan .keep-out.met { stroke-width: .9; }
.thin { fill: none; stroke: #000; stroke-width: .15; } .plan .dot { fill: #000; } .plan .balloon { fill: #fff; stroke: #000; stroke-width: .22; } svg.plan .letter { text-anchor: middle; font-weight: 700; }
.plan .chain { fill: none; stroke: #000; stroke-width: .2; stroke-dasharray: 3 .8 .8 .8; } .plan .heavy { fill: none; stroke: #000; stroke-width: .6; } .plan .arrows { fill: none; stroke: #000; stroke-width: .22; marker-start: url(#small-arrow); marker-end: url(#small-arrow); }
.section { max-width: 100%; height: auto; margin-bottom: 1mm; } .section text { font-size: 11px; } .section .board, .section .plug { stroke: #000; stroke-width: 1.3px; stroke-linejoin: round; } .section .glue { stroke: #000; stroke-width: .5px; }
.board-fill, .plug-fill, .glue-fill { fill: #fff; } .speck { fill: #333; } .hatch { stroke: #666; stroke-width: .7px; fill: none; } .section .outline, .section .face { stroke: #000; stroke-width: 1px; } .section .break { fill: none; stroke: #000; stroke-width: .9px; }
.section .saw { fill: none; stroke: #000; stroke-width: 1.6px; stroke-dasharray: 14 3 3 3; } .section .shown { stroke: #000; stroke-width: 3px; fill: none; } .dimension path { fill: none; stroke: #000; stroke-width: .8px; } .dimension .arrows { marker-start: url(#arrow); marker-end: url(#arrow); }
.none { border: .2mm dashed #000; padding: 1.5mm 2mm; margin-bottom: 1mm; }
.ruler { display: flex; gap: 3mm; align-items: center; margin-top: 1mm; font-size: 7.5pt; } .ruler svg { flex: none; } .ruler path { fill: none; stroke: #000; stroke-width: .2; }
.steps { list-style: none; counter-reset: step; } .steps > li { display: flex; gap: 2mm; padding: .4mm 0; border-bottom: .1mm solid #999; break-inside: avoid; counter-increment: step; } .steps > li > div { flex: 1; min-width: 0; } .steps > li > div > p:first-child::before { content: counter(step) ". "; font-weight: 700; }
.box { flex: none; width: 3.4mm; height: 3.4mm; border: .3mm solid #000; margin-top: .4mm; }
.figures { display: grid; grid-template-columns: 1fr 1fr; gap: 0 5mm; padding-left: 3mm; } .figures div { display: flex; gap: 1.5mm; align-items: baseline; padding: .08mm 0; min-width: 0; overflow-wrap: anywhere; } .figures .whole { grid-column: 1 / 3; } .figures .name { flex: 1 1 auto; } .figures span { min-width: 0; } .figures .value, .figures .range { flex: none; white-space: nowrap; } .figures .range { font-size: 8pt; } .figures .write { flex: 0 0 13mm; border-bottom: .2mm solid #000; height: 3mm; }
.small { font-size: 7.4pt; } .cautions { padding-left: 4mm; } .cautions li { break-inside: avoid; } .cautions + .small { margin-top: 1mm; } .grounds sup { margin: 0; }
footer { display: flex; flex-wrap: wrap; gap: 1mm 6mm; justify-content: space-between; border-top: .3mm solid #000; margin-top: 1.5mm; padding-top: .8mm; font-size: 7.5pt; overflow-wrap: anywhere; } footer i { display: inline-block; width: 28mm; border-bottom: .2mm solid #000; }
@media screen { body { padding: 6mm 4mm; } svg { max-width: 100%; } }
`;
