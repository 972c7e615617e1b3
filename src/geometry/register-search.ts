import { hypot } from './hypot.ts';
import { wrapAngle } from './motion.ts';
import { areaCentre, motionOnto, type Outline, spread } from './register-outline.ts';
import { type Settled, settle } from './register-settle.ts';
import { perimeter, signedArea } from './ring.ts';
import type { Motion, Point, Ring } from './shapes.ts';

/** Parts of a turn and bands of distance in the signature of an outline seen from its centre. */
const TURNS = 400;
const BANDS = 6;
/** Places a signature is made of. */
const SIGNATURE_PLACES = 1500;
/** Looked at more closely: first guesses, and those of them that do best. */
const FEW_GUESSES = 6;
const GUESSES = 16;
export const WIDE_GUESSES = 64;
/** Guesses tried after one that comes close: a design may nearly, but not quite, be its own turned image. */
const MORE_AFTER_CLOSE = 4;
const HALF_WAY = 12;
/** A design may nearly be its own image in as many turns, and only the last of them tells which one is right. */
const FINALISTS = 8;
/** A fit this close, as part of the design's size, ends the search when the caller names no distance. */
const CLOSE = 1e-4;

interface SearchOptions {
  readonly reflect: boolean;
  readonly enough?: number;
  readonly quick?: boolean;
  readonly apart?: boolean;
}

/**
 * Motions that lay the plug over the pocket well, the best first; at least one. `enough` (mm) is how near the
 * outlines must come all round for the search to stop at the quick guesses.
 *
 * Quick guesses: centre on centre, turned so that what is seen from the centre agrees. They are right for any pair
 * that differs by a little. When they do not come close, the search widens to pairs of like rings (right when other
 * pieces are missing, extra or moved) and to a scan of all turns by the outlines' shadows on two axes (needs neither).
 */
export function candidates(pocket: Outline, plug: Outline, options: SearchOptions): readonly Settled[] {
  const { reflect } = options;
  const close = options.enough ?? CLOSE * pocket.size;
  const all = centred(
    pocket.region.rings,
    plug.region.rings,
    pocket.centre,
    plug.centre,
    reflect,
    WIDE_GUESSES,
  );
  const few = all.slice(0, FEW_GUESSES);
  if (options.apart === true) {
    const unlike = bestUnlike(pocket, plug, few, close);
    if (unlike !== undefined) return [unlike];
  }
  if (options.quick === true) return bestOf(pocket, plug, few, close, 1);
  const first = bestOf(pocket, plug, all.slice(0, GUESSES), close, FINALISTS);
  if (first[0].most <= close) return first;
  const more = [
    ...all.slice(GUESSES),
    ...byLikeRings(pocket, plug, reflect),
    ...byShadows(pocket, plug, reflect),
  ];
  return foremost([...first, ...bestOf(pocket, plug, more, close, FINALISTS)], pocket, FINALISTS);
}

/** Guesses that after a first settling are off by this part of the design's size are not the same design. */
export const UNLIKE = 0.01;

/** The best of a few guesses as they lie after a first settling, when all of them are far off. */
function bestUnlike(
  pocket: Outline,
  plug: Outline,
  guesses: readonly Motion[],
  close: number,
): Settled | undefined {
  const far = Math.max(UNLIKE * pocket.size, 10 * close);
  const rough: Settled[] = [];
  for (const guess of guesses) {
    const settled = settle(pocket, plug, guess, 2, strideFor(pocket, plug, 64));
    if (settled.most <= far) return undefined;
    rough.push(settled);
  }
  return rough.sort(betterOf)[0];
}

/** Guesses refined at few samples, and the best of those at all samples. Those that come close end it. */
export function bestOf(
  pocket: Outline,
  plug: Outline,
  guesses: readonly Motion[],
  close: number,
  finalists: number,
): readonly Settled[] {
  const stride = strideFor(pocket, plug, 64);
  const full = strideFor(pocket, plug, 512);
  const rough: Settled[] = [];
  const fitting: Settled[] = [];
  let last = guesses.length;
  for (let k = 0; k < last; k++) {
    const s = settle(pocket, plug, guesses[k], 2, stride);
    rough.push(s);
    if (s.most > close) continue;
    const whole = settle(pocket, plug, s.motion, 3, full);
    if (whole.most > close) continue;
    if (fitting.length === 0) last = Math.min(last, k + 1 + MORE_AFTER_CLOSE);
    fitting.push(whole);
  }
  if (fitting.length > 0) return distinct(fitting, pocket);
  const fewer = foremost(rough, pocket, HALF_WAY);
  const better = fewer.map((s) => settle(pocket, plug, s.motion, 5, stride));
  return distinct(
    foremost(better, pocket, finalists).map((s) => settle(pocket, plug, s.motion, 12, full)),
    pocket,
  );
}

/** Every how manieth sample is looked at so that they are about `count`. */
function strideFor(pocket: Outline, plug: Outline, count: number): number {
  return Math.max(1, Math.floor(Math.max(pocket.x.length, plug.x.length) / count));
}

/** The lower cost first; of equals (a design with symmetries) the smaller turn, which reads simplest. */
export function betterOf(a: Settled, b: Settled): number {
  const difference = a.cost - b.cost;
  return Math.abs(difference) > 1e-3 * (1 + a.cost + b.cost)
    ? difference
    : Math.abs(a.motion.angle) - Math.abs(b.motion.angle) || difference;
}

/**
 * At most `count` distinct ones, the best first. Every turn is heard once before any is heard again: a plug that has
 * grown costs about the same in each turn of a design that is nearly its own image.
 */
function foremost(found: readonly Settled[], pocket: Outline, count: number): readonly Settled[] {
  const all = distinct(found, pocket);
  const near = 1e-2;
  const heard: Settled[] = [];
  for (const s of all)
    if (heard.every((h) => Math.abs(wrapAngle(h.motion.angle - s.motion.angle)) > near)) heard.push(s);
  const rest = all.filter((s) => !heard.includes(s));
  return [...heard, ...rest].slice(0, count).sort(betterOf);
}

/** Leaves out what lies within a thousandth of the design of something better. */
export function distinct(sorted: readonly Settled[], pocket: Outline): readonly Settled[] {
  const kept: Settled[] = [];
  const near = 1e-3 * pocket.size;
  for (const s of [...sorted].sort(betterOf)) {
    const twin = kept.some((k) => {
      const turn = Math.abs(wrapAngle(k.motion.angle - s.motion.angle)) * pocket.size;
      const [x, y] = shiftOfCentre(k.motion, s.motion, pocket.centre);
      return turn < near && hypot(x, y) < near;
    });
    if (!twin) kept.push(s);
  }
  return kept;
}

/** How differently two motions of nearly one turn place what belongs at the centre. */
function shiftOfCentre(a: Motion, b: Motion, centre: Point): Point {
  const turn = b.angle - a.angle;
  const x = a.dx - centre[0];
  const y = a.dy - centre[1];
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  return [centre[0] + cos * x - sin * y - b.dx, centre[1] + sin * x + cos * y - b.dy];
}

/** Motions that put centre on centre, turned to where the signatures agree best. */
export function centred(
  pocket: readonly Ring[],
  plug: readonly Ring[],
  pocketCentre: Point,
  plugCentre: Point,
  reflect: boolean,
  most: number,
): readonly Motion[] {
  const a = polar(pocket, pocketCentre, false);
  const b = polar(plug, plugCentre, reflect);
  const edges = bandEdges(a.r);
  const agree = correlate(signature(a, edges), signature(b, edges));
  return peaks(agree, most).map((angle) => motionOnto(angle, reflect, plugCentre, pocketCentre));
}

interface Polar {
  readonly r: Float64Array;
  readonly turn: Float64Array;
}

function polar(rings: readonly Ring[], centre: Point, reflect: boolean): Polar {
  const { x, y } = spread(rings, SIGNATURE_PLACES);
  const r = new Float64Array(x.length);
  const turn = new Float64Array(x.length);
  for (let k = 0; k < x.length; k++) {
    const px = reflect ? centre[0] - x[k] : x[k] - centre[0];
    const py = y[k] - centre[1];
    r[k] = hypot(px, py);
    turn[k] = ((Math.atan2(py, px) / (2 * Math.PI) + 1) % 1) * TURNS;
  }
  return { r, turn };
}

/** Distances that cut the pocket's places into bands of like number. */
function bandEdges(r: Float64Array): readonly number[] {
  const sorted = Float64Array.from(r).sort();
  return Array.from({ length: BANDS - 1 }, (_, k) => sorted[Math.floor((sorted.length * (k + 1)) / BANDS)]);
}

/** How much outline there is in each direction and band, each band with its mean taken off. */
function signature(places: Polar, edges: readonly number[]): readonly Float64Array[] {
  const bands = Array.from({ length: BANDS }, () => new Float64Array(TURNS));
  for (let k = 0; k < places.r.length; k++) {
    let band = 0;
    while (band < edges.length && places.r[k] > edges[band]) band++;
    const whole = Math.floor(places.turn[k]);
    const part = places.turn[k] - whole;
    // Spread over three cells, so that a place near a cell's edge counts alike on both sides.
    bands[band][(whole + TURNS - 1) % TURNS] += (1 - part) / 2;
    bands[band][whole % TURNS] += 0.5;
    bands[band][(whole + 1) % TURNS] += part / 2;
  }
  for (const cells of bands) {
    const mean = cells.reduce((sum, v) => sum + v, 0) / TURNS;
    for (let k = 0; k < TURNS; k++) cells[k] -= mean;
  }
  return bands;
}

/** Agreement for each turn of `b` onto `a`. */
function correlate(a: readonly Float64Array[], b: readonly Float64Array[]): Float64Array {
  const sum = new Float64Array(TURNS);
  a.forEach((cells, band) => {
    const other = b[band];
    for (let k = 0; k < TURNS; k++) {
      const v = other[k];
      if (v === 0) continue;
      for (let s = 0; s < TURNS - k; s++) sum[s] += v * cells[k + s];
      for (let s = TURNS - k; s < TURNS; s++) sum[s] += v * cells[k + s - TURNS];
    }
  });
  return sum;
}

/**
 * Turns (radians) at the highest local peaks, each placed between cells by a parabola. Nearly equal ones, a design's
 * symmetries, come in order of turn, so that the smallest is tried first.
 */
function peaks(agree: Float64Array, most: number): readonly number[] {
  const at = (k: number): number => agree[(k + TURNS) % TURNS];
  const tops: number[] = [];
  for (let k = 0; k < TURNS; k++) if (at(k) >= at(k - 1) && at(k) > at(k + 1)) tops.push(k);
  // A disc agrees at every turn and may have no peak at all.
  if (tops.length === 0) return [0];
  tops.sort((a, b) => at(b) - at(a) || a - b);
  const turnOf = (k: number): number => Math.min(k, TURNS - k);
  const equal = tops
    .filter((k) => at(k) >= 0.99 * at(tops[0]))
    .sort((a, b) => turnOf(a) - turnOf(b) || a - b);
  return [...equal, ...tops.slice(equal.length)].slice(0, most).map((k) => {
    const bend = at(k - 1) - 2 * at(k) + at(k + 1);
    const off = bend < 0 ? (at(k - 1) - at(k + 1)) / (2 * bend) : 0;
    return ((k + off) / TURNS) * 2 * Math.PI;
  });
}

/** Guesses from single rings of the plug laid over rings of the pocket like them. */
function byLikeRings(pocket: Outline, plug: Outline, reflect: boolean): readonly Motion[] {
  const mine = largest(pocket.region.rings, 5);
  const theirs = largest(plug.region.rings, 40);
  if (mine.length === 1 && theirs.length === 1) return [];
  const like = (a: number, b: number): boolean => Math.abs(a - b) <= 0.03 * Math.abs(a);
  return mine.flatMap((ring) => {
    const area = signedArea(ring);
    const length = perimeter(ring);
    return theirs
      .filter((other) => like(area, signedArea(other)) && like(length, perimeter(other)))
      .slice(0, 4)
      .flatMap((other) => centred([ring], [other], areaCentre([ring]), areaCentre([other]), reflect, 4));
  });
}

function largest(rings: readonly Ring[], count: number): readonly Ring[] {
  const sized = rings.map((ring, k) => ({ ring, k, length: perimeter(ring) }));
  return sized
    .sort((a, b) => b.length - a.length || a.k - b.k)
    .slice(0, count)
    .map((s) => s.ring);
}

const SCAN_TURNS = 120;
const SCAN_CELLS = 96;

/** Guesses from a scan of all turns: the outlines' shadows on both axes, slid over each other. */
function byShadows(pocket: Outline, plug: Outline, reflect: boolean): readonly Motion[] {
  const cell = (2.2 * Math.max(pocket.size, plug.size)) / SCAN_CELLS;
  if (!(cell > 0)) return [];
  const own = shadows(pocket.x, pocket.y, pocket.centre, cell);
  const found: { turn: number; score: number; shift: Point }[] = [];
  const x = new Float64Array(plug.x.length);
  const y = new Float64Array(plug.x.length);
  for (let s = 0; s < SCAN_TURNS; s++) {
    const turn = (s / SCAN_TURNS) * 2 * Math.PI;
    const cos = Math.cos(turn);
    const sin = Math.sin(turn);
    for (let k = 0; k < x.length; k++) {
      const px = reflect ? plug.centre[0] - plug.x[k] : plug.x[k] - plug.centre[0];
      const py = plug.y[k] - plug.centre[1];
      x[k] = cos * px - sin * py;
      y[k] = sin * px + cos * py;
    }
    const other = shadows(x, y, [0, 0], cell);
    const across = slide(own[0], other[0]);
    const down = slide(own[1], other[1]);
    found.push({ turn, score: across.score * down.score, shift: [across.shift * cell, down.shift * cell] });
  }
  const score = (k: number): number => found[(k + SCAN_TURNS) % SCAN_TURNS].score;
  return found
    .filter((_, k) => score(k) >= score(k - 1) && score(k) >= score(k + 1))
    .sort((a, b) => b.score - a.score || a.turn - b.turn)
    .slice(0, 12)
    .map(({ turn, shift }) =>
      motionOnto(turn, reflect, plug.centre, [pocket.centre[0] + shift[0], pocket.centre[1] + shift[1]]),
    );
}

function shadows(
  x: Float64Array,
  y: Float64Array,
  centre: Point,
  cell: number,
): readonly [Float64Array, Float64Array] {
  const across = new Float64Array(SCAN_CELLS);
  const down = new Float64Array(SCAN_CELLS);
  const drop = (cells: Float64Array, v: number): void => {
    const at = v / cell + SCAN_CELLS / 2;
    const whole = Math.max(0, Math.min(SCAN_CELLS - 2, Math.floor(at)));
    const part = Math.max(0, Math.min(1, at - whole));
    cells[whole] += 1 - part;
    cells[whole + 1] += part;
  };
  for (let k = 0; k < x.length; k++) {
    drop(across, x[k] - centre[0]);
    drop(down, y[k] - centre[1]);
  }
  return [across, down];
}

/** How far (in cells) the second shadow must slide to agree best with the first. */
function slide(a: Float64Array, b: Float64Array): { score: number; shift: number } {
  let best = { score: -1, shift: 0 };
  for (let shift = -SCAN_CELLS / 2; shift <= SCAN_CELLS / 2; shift++) {
    let score = 0;
    const to = Math.min(SCAN_CELLS, SCAN_CELLS - shift);
    for (let k = Math.max(0, -shift); k < to; k++) score += b[k] * a[k + shift];
    if (score > best.score) best = { score, shift };
  }
  return best;
}
