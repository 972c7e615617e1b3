import type { Facts } from '../carve/facts.ts';
import type { CheckedJob } from '../engine/checked.ts';
import { apply } from '../geometry/motion.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Box, Point, Region } from '../geometry/shapes.ts';
import { show } from '../units.ts';
import { fitTo } from './layout.ts';
import { BRAILLE, type Dots, PLAIN } from './lesson-drawing.ts';
import { balloonsOf } from './sheet.ts';

/** Room for the drawing, in characters, and whether the terminal shows braille dots. */
export interface PlanSettings {
  readonly width: number;
  readonly rows: number;
  readonly braille: boolean;
}

/** A number to stand in the drawing, at its place in the pocket's frame, mm. */
interface Balloon {
  readonly number: number;
  readonly at: Point;
}

/** Stands where the plug's outline runs and the pocket's does not. */
const ASTRAY = 'x';
const MOST_ROWS = 24;
/** How far a balloon may stand from its place before it is left out, characters. */
const FARTHEST = 6;

/**
 * Both outlines laid over one another as lines of text, with the balloon numbers of the sheet at their places. Only
 * one line is seen where the two agree within a dot.
 */
export function planLines(checked: CheckedJob, facts: Facts, settings: PlanSettings): string[] {
  const [pocket, plug] = [facts.region('pocket'), facts.plugOnPocket()];
  const rings = [...pocket.rings, ...plug.rings];
  if (rings.length === 0) return ['Nothing to draw: neither drawing holds an outline.'];
  const dots = settings.braille ? BRAILLE : PLAIN;
  const rows = Math.max(4, Math.min(settings.rows, MOST_ROWS));
  const grid = gridFor(boxOf(rings), settings.width, rows, dots);
  const cells = drawn(pocket, plug, grid, dots);
  const left = number(cells, balloonsFor(checked, facts), grid, dots);
  const oneDot = show(1 / grid.perMm, 'mm', facts.job.units);
  const caption = [
    fitTo(`Pocket from above, the plug laid over it. One dot is ${oneDot}.`, settings.width),
    ...(cells.some((row) => row.includes(ASTRAY))
      ? [fitTo(`${ASTRAY}: here only the plug has an outline.`, settings.width)]
      : []),
    ...(left.length > 0
      ? [fitTo(`No room for ${left.map((n) => `(${n})`).join(' ')}; see the rows.`, settings.width)]
      : []),
  ];
  return [...cells.map((row) => row.join('').trimEnd()), ...caption];
}

interface Grid {
  readonly box: Box;
  readonly perMm: number;
  readonly columns: number;
  readonly rows: number;
}

/** The largest scale at which the drawing fits, with a margin of one character for balloons. */
function gridFor(box: Box, width: number, rows: number, { across, down }: Dots): Grid {
  const wide = Math.max(box.maxX - box.minX, 1e-6);
  const high = Math.max(box.maxY - box.minY, 1e-6);
  const perMm = Math.min(((width - 2) * across - 1) / wide, ((rows - 2) * down - 1) / high);
  return {
    box,
    perMm,
    columns: Math.min(width, Math.ceil((wide * perMm + 1) / across) + 2),
    rows: Math.ceil((high * perMm + 1) / down) + 2,
  };
}

/** Dot of a place, counted from the drawing's corner; the margin lies before it. */
function dotAt([x, y]: Point, { box, perMm }: Grid, { across, down }: Dots): readonly [number, number] {
  return [across + Math.round((x - box.minX) * perMm), down + Math.round((y - box.minY) * perMm)];
}

function drawn(pocket: Region, plug: Region, grid: Grid, dots: Dots): string[][] {
  const [wide, high] = [grid.columns * dots.across, grid.rows * dots.down];
  const [board, inlay] = [pocket, plug].map((region) => rastered(region, grid, dots, wide, high)) as [
    Uint8Array,
    Uint8Array,
  ];
  const near = (x: number, y: number): boolean => {
    for (let dy = -1; dy <= 1; dy++)
      for (let dx = -1; dx <= 1; dx++) if (board[(y + dy) * wide + x + dx] === 1) return true;
    return false;
  };
  return Array.from({ length: grid.rows }, (_, row) =>
    Array.from({ length: grid.columns }, (_, column) => {
      let astray = false;
      const character = dots.character((x, y) => {
        const [dx, dy] = [column * dots.across + x, row * dots.down + y];
        if (inlay[dy * wide + dx] === 1 && !near(dx, dy)) astray = true;
        return board[dy * wide + dx] === 1;
      });
      return astray && character === ' ' ? ASTRAY : character;
    }),
  );
}

function rastered({ rings }: Region, grid: Grid, dots: Dots, wide: number, high: number): Uint8Array {
  const set = new Uint8Array(wide * high);
  for (const ring of rings)
    for (let k = 0; k < ring.length; k += 2) {
      const next = (k + 2) % ring.length;
      const [ax, ay, bx, by] = [ring[k], ring[k + 1], ring[next], ring[next + 1]] as [
        number,
        number,
        number,
        number,
      ];
      const steps = Math.max(1, Math.ceil(2 * Math.hypot(bx - ax, by - ay) * grid.perMm));
      for (let step = 0; step < steps; step++) {
        const share = step / steps;
        const [x, y] = dotAt([ax + share * (bx - ax), ay + share * (by - ay)], grid, dots);
        set[y * wide + x] = 1;
      }
    }
  return set;
}

/** Balloons in the pocket's frame: the plug's places are laid over it as its outline is. */
function balloonsFor(checked: CheckedJob, facts: Facts): Balloon[] {
  const balloons: Balloon[] = [];
  for (const [{ place }, number] of balloonsOf(checked)) {
    if (place.at === undefined) continue;
    const at = place.part === 'plug' ? apply(facts.match().aligned, ...place.at) : place.at;
    balloons.push({ number, at });
  }
  return balloons;
}

/** Writes the numbers into the drawing, each as near to its place as it stands free; returns those left out. */
function number(cells: string[][], balloons: readonly Balloon[], grid: Grid, dots: Dots): number[] {
  const taken = cells.map((row) => row.map(() => false));
  const left: number[] = [];
  for (const balloon of balloons) {
    const text = `(${balloon.number})`;
    const [x, y] = dotAt(balloon.at, grid, dots);
    const spot = freeSpot(taken, text.length, Math.floor(x / dots.across) - 1, Math.floor(y / dots.down));
    if (spot === undefined) {
      left.push(balloon.number);
      continue;
    }
    [...text].forEach((character, k) => {
      (cells[spot.row] as string[])[spot.column + k] = character;
      (taken[spot.row] as boolean[])[spot.column + k] = true;
    });
  }
  return left;
}

function freeSpot(
  taken: readonly (readonly boolean[])[],
  long: number,
  column: number,
  row: number,
): { readonly row: number; readonly column: number } | undefined {
  let best: { readonly row: number; readonly column: number; readonly far: number } | undefined;
  taken.forEach((cells, r) => {
    for (let c = 0; c + long <= cells.length; c++) {
      // A character is about twice as high as wide.
      const far = Math.abs(c - column) + 2 * Math.abs(r - row);
      if (far > 2 * FARTHEST || (best !== undefined && far >= best.far)) continue;
      if (cells.slice(Math.max(0, c - 1), c + long + 1).every((used) => !used))
        best = { row: r, column: c, far };
    }
  });
  return best;
}
