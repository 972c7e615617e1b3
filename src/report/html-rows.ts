import type { CheckedJob } from '../engine/checked.ts';
import type { JudgedCheck, JudgedReading } from '../engine/judge.ts';
import type { LengthStyle } from '../units.ts';
import { escaped } from './html-text.ts';
import { closestOf, figureWords, notPassing, placeText } from './sheet.ts';

type Balloons = ReadonlyMap<JudgedReading, number>;

/** The inspected figures in groups: what wants attention, what could not be seen, what holds, what has no business. */
export function rowGroups(
  checked: CheckedJob,
  balloons: Balloons,
  { units }: { readonly units: LengthStyle },
  id: string,
): string {
  const wanting = checked.checks.flatMap((check) => wantingRows(check, balloons, units, id));
  const unseen = checked.checks.flatMap((check) =>
    check.untold.map((text) => silentRow(check, 'NOT SEEN', text)),
  );
  const holding = checked.checks
    .filter((check) => notPassing(check).length === 0 && check.readings.length > 0)
    .map((check) => holdingRow(check, units));
  const moot = checked.checks
    .filter((check) => check.outcome === 'moot')
    .map((check) => silentRow(check, '-', check.moot[0] ?? ''));
  const left =
    checked.notAsked.length === 0
      ? ''
      : `<p class="note">Not asked, so not known: ${escaped(checked.notAsked.join(', '))}.</p>`;
  return (
    group('Wants attention', wanting) +
    group('Could not be seen', unseen) +
    group('Holds', holding) +
    group('Not looked at', moot) +
    left
  );
}

function group(title: string, rows: readonly string[]): string {
  if (rows.length === 0) return '';
  return `<table><caption>${title}</caption>
<thead><tr><th scope="col" class="number"><span class="unseen-text">Balloon</span></th><th scope="col">Measured</th><th scope="col" class="figure">have</th><th scope="col" class="figure">need</th><th scope="col" class="figure">room</th><th scope="col" class="word"><span class="unseen-text">Outcome</span></th></tr></thead>
<tbody>
${rows.join('\n')}
</tbody></table>`;
}

function wantingRows(check: JudgedCheck, balloons: Balloons, units: LengthStyle, id: string): string[] {
  const bad = notPassing(check);
  const rows = bad
    .filter((reading) => balloons.has(reading))
    .map((reading) => wantingRow(check, reading, balloons, units, id));
  const more = bad.length - rows.length;
  if (more > 0)
    rows.push(
      `<tr class="told"><td></td><td colspan="5">and ${more} more of this kind; the JSON report lists them all</td></tr>`,
    );
  return rows;
}

function wantingRow(
  check: JudgedCheck,
  reading: JudgedReading,
  balloons: Balloons,
  units: LengthStyle,
  id: string,
): string {
  const number = balloons.get(reading);
  const word = reading.outcome === 'fail' ? 'FAIL' : 'CLOSE';
  const place = placeText(reading.place, units);
  const ball =
    reading.place.at === undefined
      ? `<span class="ball">${number}</span>`
      : `<a class="ball" href="#${id}-b${number}" aria-label="${number}: show on the drawing">${number}</a>`;
  const cure =
    reading.cure === undefined ? '' : ` <span class="cure"><b>Mend:</b> ${escaped(reading.cure)}</span>`;
  return `<tr class="row ${reading.outcome}" id="${id}-r${number}" data-row="${number}"><td class="number">${ball}</td><th scope="row">${escaped(reading.label ?? check.row)}</th>${figureCells(reading, units)}<td class="word">${word}</td></tr>
<tr class="told ${reading.outcome}" data-row="${number}"><td></td><td colspan="5">${escaped(reading.says)}${cure}${place === '' ? '' : ` <span class="place">${escaped(place)}</span>`}</td></tr>`;
}

function holdingRow(check: JudgedCheck, units: LengthStyle): string {
  const reading = closestOf(check) as JudgedReading;
  return `<tr><td class="number"></td><th scope="row">${escaped(reading.label ?? check.row)}</th>${figureCells(reading, units)}<td class="word"></td></tr>`;
}

function silentRow(check: JudgedCheck, word: string, why: string): string {
  return `<tr class="row"><td class="number"></td><th scope="row">${escaped(check.row)}</th><td class="figure"></td><td class="figure"></td><td class="figure"></td><td class="word">${word}</td></tr>
<tr class="told"><td></td><td colspan="5">${escaped(why)}</td></tr>`;
}

function figureCells(reading: JudgedReading, units: LengthStyle): string {
  const { have, need, room } = figureWords(reading, units);
  const cell = (name: string, text: string): string =>
    `<td class="figure" data-name="${name}">${escaped(text).replace('&gt;=', '&ge;').replace('&lt;=', '&le;')}</td>`;
  return cell('have', have) + cell('need', need) + cell('room', room);
}
