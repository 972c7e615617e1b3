import { hypot } from '../geometry/hypot.ts';
import type { Point } from '../geometry/shapes.ts';
import type { Fit, Pair } from './fit.ts';
import { heightAt, sideways } from './seat-pose.ts';

/** Heights along a line, mm: pairs of distance from its start and height above the board's face (up positive). */
export type Profile = readonly (readonly [along: number, height: number])[];

/** A cut through the seated pair. */
export interface Section {
  readonly from: Point;
  readonly to: Point;
  readonly length: number;
  /** Upper edge of the board: its face, the pocket's walls and floor. */
  readonly board: Profile;
  /** Lower edge of the plug and its stock. */
  readonly plug: Profile;
  /** Stretches where room for glue is left between the two: lower and upper edge. */
  readonly glue: readonly { readonly board: Profile; readonly plug: Profile }[];
  /** The plug stock's own surface where the plug was cut deepest: what the saw cuts along, just below. */
  readonly root: Profile;
  /** Halfway between the board's face and the root: where the saw goes. */
  readonly saw: Profile;
}

/** Room less than this is contact, mm. */
const CONTACT = 1e-3;
const SWING_ROUNDS = 5;

/**
 * Samples both surfaces along a line in the pocket's frame, `steps` of them plus the places where a slope changes,
 * found by halving wherever three neighbours do not lie on a line.
 */
export function section(pair: Pair, fit: Pick<Fit, 'seat'>, from: Point, to: Point, steps = 240): Section {
  const length = hypot(to[0] - from[0], to[1] - from[1]);
  const at = (s: number): Point => {
    const share = length === 0 ? 0 : s / length;
    return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
  };
  const boardAt = (s: number): number => -pair.pocket.depth(...at(s));
  const plugAt = (s: number): number => plugHeight(pair, fit, at(s));
  const distances = bends((s) => [boardAt(s), plugAt(s)], length, steps);
  const board = distances.map((s) => [s, boardAt(s)] as const);
  const plug = distances.map((s) => [s, plugAt(s)] as const);
  const rootAt = (s: number): number =>
    heightAt(pair, fit.seat, ...at(s)) + pair.input.plugFlat - pair.input.pocketStart;
  const root = [0, length].map((s) => [s, rootAt(s)] as const);
  return {
    from,
    to,
    length,
    board,
    plug,
    glue: rooms(board, plug),
    root,
    saw: root.map(([s, h]) => [s, h / 2]),
  };
}

/**
 * Height of the plug's lower surface above the board's face at a point of the pocket's frame. How far a tilted plug
 * has swung depends on the depth asked for, so it is found in a few rounds.
 */
function plugHeight(pair: Pair, fit: Pick<Fit, 'seat'>, [x, y]: Point): number {
  const up = heightAt(pair, fit.seat, x, y) - pair.mating;
  let taken = pair.plug.depth(x, y);
  for (let n = 0; n < SWING_ROUNDS; n++) {
    const [vx, vy] = sideways(pair, fit.seat, x, y, -up - taken);
    taken = pair.plug.depth(x - vx, y - vy);
  }
  return up + taken;
}

function bends(heights: (s: number) => readonly [number, number], length: number, steps: number): number[] {
  const out: number[] = [];
  const straight = 1e-3;
  const halve = (a: number, b: number, left: number): void => {
    const m = (a + b) / 2;
    const [ha, hm, hb] = [heights(a), heights(m), heights(b)];
    const off = Math.max(Math.abs(hm[0] - (ha[0] + hb[0]) / 2), Math.abs(hm[1] - (ha[1] + hb[1]) / 2));
    if (left > 0 && off > straight) {
      halve(a, m, left - 1);
      out.push(m);
      halve(m, b, left - 1);
    }
  };
  for (let k = 0; k < steps; k++) {
    const [a, b] = [(k * length) / steps, ((k + 1) * length) / steps];
    out.push(a);
    halve(a, b, 8);
  }
  return [...out, length];
}

function rooms(board: Profile, plug: Profile): Section['glue'] {
  const found: { board: (readonly [number, number])[]; plug: (readonly [number, number])[] }[] = [];
  let open: (typeof found)[number] | undefined;
  board.forEach((b, k) => {
    const p = plug[k] as readonly [number, number];
    // Above the board's face there is the saw gap, not glue.
    if (b[1] < -CONTACT && p[1] - b[1] > CONTACT) {
      if (open === undefined) {
        open = { board: [], plug: [] };
        found.push(open);
      }
      open.board.push(b);
      open.plug.push([p[0], Math.min(0, p[1])]);
    } else open = undefined;
  });
  return found;
}
