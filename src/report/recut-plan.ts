import type { Recut } from '../advice/recut.ts';
import { grow } from '../geometry/offset.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Point, Region } from '../geometry/shapes.ts';
import { placeBalloons } from './html-balloons.ts';
import { at2, escaped } from './html-text.ts';
import { printable } from './layout.ts';
import { RECUT_WORDS, recutPlaces } from './recut.ts';
import { recutDetails } from './recut-details.ts';
import { recutSection, SECTION_HIGH } from './recut-section.ts';

const WIDTH = 1000;
const EDGE = 20;
const PLAN = { wide: 610, least: 300, most: 640 } as const;
const TOP = 70;
const BALLOON = 11;

const STYLE = `text{font:13px sans-serif;fill:#111}.title{font-size:19px;font-weight:600}.faint{fill:#555;font-size:12px}
path,circle{vector-effect:non-scaling-stroke;stroke-linejoin:round}.was,.hurt,.new,.leader,.measure,.around{fill:none}
.frame{stroke:#888;stroke-width:1}.was{stroke:#8a5a12;stroke-width:1.3;stroke-dasharray:7 4}.hurt{stroke:#a02a1c;stroke-width:1;stroke-dasharray:1.5 3}
.new{stroke:#123f66;stroke-width:2}.filled{fill:#f0e7d6;fill-rule:evenodd}.wood{fill:#fbf7ee;stroke:none}.gone{fill:#efe0c4;stroke:none}
.leader{stroke:#111;stroke-width:1}.balloon{fill:#fff;stroke:#111;stroke-width:1.3}.bad{stroke:#a02a1c;stroke-width:2.6}.dot{fill:#111}.around{stroke:#111;stroke-width:1.2}
.measure{stroke:#111;stroke-width:1}.number{font-weight:600;text-anchor:middle}.middle{text-anchor:middle}.end{text-anchor:end}`;

/**
 * Old against new as one drawing, an SVG of its own: the plan with numbered places, details where the growth can be
 * seen, and a section through one wall. Equal input gives equal bytes; ends with a newline.
 */
export function recutPlan(plan: Recut): string {
  const region = plan.facts.region('pocket');
  const view = viewOf(plan.grown, PLAN.wide);
  const details = recutDetails(plan, view.perMm);
  const high = Math.max(view.high, details.high);
  const sectionTop = TOP + high + 34;
  const height = Math.ceil(sectionTop + SECTION_HIGH + 34);
  const { facts, growth, deeper } = plan;
  const says = `grown by ${facts.length(growth.taken)}, ${facts.length(deeper.taken)} deeper`;
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}" role="img">
<title>${escaped(printable(facts.job.title))}: the second cut against the first</title>
<style>${STYLE}</style>
<defs><path id="was" d="${ringsData(region)}"/><path id="new" d="${ringsData(plan.grown)}"/><path id="hurt" d="${ringsData(hurtOf(plan))}"/></defs>
<rect width="${WIDTH}" height="${height}" fill="#fff"/>
<text class="title" x="${EDGE}" y="32">${escaped(printable(facts.job.title))}: second cut against the first</text>
<text class="faint" x="${EDGE}" y="54">${RECUT_WORDS[plan.answer]}, ${says}. Seen from above, as the pocket is drawn.</text>
<rect class="frame" fill="none" x="${EDGE}" y="${TOP}" width="${PLAN.wide}" height="${at2(view.high)}"/>
<g transform="translate(${at2(EDGE + view.x)} ${at2(TOP + view.y)}) scale(${view.perMm})"><use class="filled" href="#new"/><use class="new" href="#new"/><use class="was" href="#was"/></g>
${balloons(plan, view)}
${details.marks((at) => [EDGE + view.x + at[0] * view.perMm, TOP + view.y + at[1] * view.perMm])}
<g transform="translate(${EDGE + PLAN.wide + 20} ${TOP})">${details.drawn}</g>
<g transform="translate(${EDGE} ${at2(sectionTop)})">${recutSection(plan, WIDTH - 2 * EDGE)}</g>
${legend(height - 16)}
</svg>
`;
}

/** Where wood hurt by the first cut may lie, the board lying as badly as it may. */
function hurtOf({ facts, beyond }: Recut): Region {
  return grow(facts.region('pocket'), beyond.hurt + beyond.place);
}

interface View {
  readonly perMm: number;
  readonly x: number;
  readonly y: number;
  readonly high: number;
}

function viewOf({ rings }: Region, wide: number): View {
  const { minX, minY, maxX, maxY } = boxOf(rings);
  const room = wide - 60;
  const fits = room / Math.max(maxX - minX, 1e-3);
  const high = Math.min(PLAN.most, Math.max(PLAN.least, (maxY - minY) * fits + 60));
  const perMm = Math.min(fits, (high - 60) / Math.max(maxY - minY, 1e-3));
  return {
    perMm,
    high,
    x: (wide - (maxX - minX) * perMm) / 2 - minX * perMm,
    y: (high - (maxY - minY) * perMm) / 2 - minY * perMm,
  };
}

/** Micrometres, for the details magnify. */
function ringsData({ rings }: Region): string {
  const written = (value: number | undefined): string => String(Math.round((value ?? 0) * 1000) / 1000 + 0);
  return rings
    .map((ring) => {
      const points: string[] = [];
      for (let k = 0; k < ring.length; k += 2) points.push(`${written(ring[k])} ${written(ring[k + 1])}`);
      return `M${points.join('L')}Z`;
    })
    .join('');
}

function balloons(plan: Recut, view: View): string {
  const places = recutPlaces(plan);
  const screen = places.map(
    ({ at }): Point => [EDGE + view.x + at[0] * view.perMm, TOP + view.y + at[1] * view.perMm],
  );
  const frame = {
    left: EDGE + 3,
    top: TOP + 3,
    right: EDGE + PLAN.wide - 3,
    bottom: TOP + view.high - 3,
  };
  const spots = placeBalloons(screen, frame, BALLOON);
  return places
    .map(({ number, bad }, k) => {
      const spot = spots[k];
      const at = screen[k] as Point;
      if (spot === undefined) return '';
      const look = bad ? 'balloon bad' : 'balloon';
      return `<path class="leader" d="M${at2(spot[0])} ${at2(spot[1])}L${at2(at[0])} ${at2(at[1])}"/><circle class="dot" cx="${at2(at[0])}" cy="${at2(at[1])}" r="2.4"/><circle class="${look}" cx="${at2(spot[0])}" cy="${at2(spot[1])}" r="${BALLOON}"/><text class="number" x="${at2(spot[0])}" y="${at2(spot[1] + 4.5)}">${number}</text>`;
    })
    .join('');
}

function legend(y: number): string {
  const items = [
    ['new', 'second cut'],
    ['was', 'first cut'],
    ['hurt', 'hurt wood, wherever the board may lie'],
  ] as const;
  let x = EDGE;
  return items
    .map(([look, says]) => {
      const drawn = `<path class="${look}" d="M${x} ${y - 4}h34"/><text x="${x + 42}" y="${y}">${says}</text>`;
      x += 60 + says.length * 7.5;
      return drawn;
    })
    .join('');
}
