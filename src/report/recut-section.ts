import type { Recut } from '../advice/recut.ts';
import { fullRoom, type PocketCut, reach, tipDepth } from '../advice/recut-least.ts';
import { at2 } from './html-text.ts';

export const SECTION_HIGH = 270;

const STEPS = 40;
/** Floor shown beside the wall, and wood shown below it and outside, mm. */
const FLOOR = 2.5;
const WOOD = 1.2;

/** A section through one wall in the widest place, to one scale both ways: face, old and new wall and floor. */
export function recutSection(plan: Recut, width: number): string {
  const { old, fresh, growth, deeper, beyond, facts, widest } = plan;
  const room = Math.min(widest, fullRoom(old) + FLOOR);
  const depth = Math.max(tipDepth(old, room) + beyond.below, tipDepth(fresh, room + growth.taken), 0.1);
  const outside = Math.max(growth.taken, beyond.hurt + beyond.place) + WOOD + FLOOR;
  const perMm = Math.min((SECTION_HIGH - 56) / (depth + WOOD), (0.6 * width) / (room + outside));
  const x = (mm: number): number => 10 + (outside + mm) * perMm;
  const y = (mm: number): number => 34 + mm * perMm;
  const right = x(room);
  const line = (points: readonly (readonly [number, number])[]): string =>
    points.map(([px, py], k) => `${k === 0 ? 'M' : 'L'}${at2(x(px))} ${at2(y(py))}`).join('');
  const was = wallOf(old, room, room);
  const next = wallOf(fresh, room + growth.taken, room);
  const hurt = was.map(([px, py]) => [Math.min(room, px - beyond.hurt - beyond.place), py] as const);
  const below = was.at(-1)?.[1] ?? 0;
  const notes = [
    `first cut ${facts.length(below)} deep here, second at least ${facts.length(next.at(-1)?.[1] ?? 0)}`,
    `wall moves out by ${facts.length(growth.taken)}; flat depth goes down by ${facts.length(deeper.taken)}`,
    `hurt wood reaches ${facts.length(beyond.hurt)} beyond the old wall and ${facts.length(beyond.below)} below the old floor`,
    `the board may lie ${facts.length(beyond.place)} off its old place`,
  ];
  return `<text x="0" y="12">Section through one wall, in the widest place</text>
<path class="wood" d="M10 ${y(0)}V${y(depth + WOOD)}H${at2(right)}V${y(0)}Z"/>
<path class="gone" d="${line(was)}V${at2(y(0))}Z"/>
<path class="measure" d="M10 ${y(0)}H${at2(x(-growth.taken))}"/>
<path class="was" d="${line(was)}"/><path class="hurt" d="${line(hurt)}"/><path class="new" d="${line(next)}"/>
${
  beyond.below > 0
    ? `<path class="hurt" d="${line([
        [Math.max(was.at(-2)?.[0] ?? 0, 0), below + beyond.below],
        [room, below + beyond.below],
      ])}"/>`
    : ''
}
<path class="leader" stroke-dasharray="14 3 3 3" d="M${at2(right)} ${y(-0.4 * WOOD)}V${y(depth + WOOD)}"/>
<text class="faint" x="12" y="${at2(y(0) - 6)}">face of the board</text>
${notes.map((note, k) => `<text x="${at2(right + 24)}" y="${60 + 22 * k}">${note}</text>`).join('')}`;
}

/** The wall of a cut from the face down and its floor: distance inward from the old outline, depth; mm. */
function wallOf(cut: PocketCut, room: number, middle: number): readonly (readonly [number, number])[] {
  const bottom = Math.max(0, tipDepth(cut, room));
  const points: (readonly [number, number])[] = [];
  for (let k = 0; k <= STEPS; k++) {
    const z = (bottom * k) / STEPS;
    points.push([middle - Math.max(0, reach(cut, room, z)), z]);
  }
  return [...points, [middle, bottom]];
}
