/**
 * A brute-force cut: the bit is put on every centre of a fine grid, as deep as its toolpath says, and every column
 * of wood within its reach is cut down to the bit's surface. Shares no code with src; knows nothing of corners,
 * ridges or offsets. Too few centres can only leave wood, so its errors have one sign and shrink with the pitch.
 */
export interface Bit {
  readonly t: number;
  readonly r: number;
  /** Radius of a ball at the tip, tangent to the cone; 0 for a flat tip. */
  readonly ball?: number;
}

export interface Columns {
  readonly x0: number;
  readonly y0: number;
  readonly pitch: number;
  readonly across: number;
  readonly down: number;
}

export type Outline = readonly (readonly (readonly [number, number])[])[];

/** Columns over an outline's box and a margin, a little off the centres' grid so that nothing lines up. */
export function columnsOver(outline: Outline, margin: number, pitch: number): Columns {
  const xs = outline.flat().map((p) => p[0]);
  const ys = outline.flat().map((p) => p[1]);
  const x0 = Math.min(...xs) - margin + 0.37 * pitch;
  const y0 = Math.min(...ys) - margin + 0.61 * pitch;
  return {
    x0,
    y0,
    pitch,
    across: Math.ceil((Math.max(...xs) + margin - x0) / pitch),
    down: Math.ceil((Math.max(...ys) + margin - y0) / pitch),
  };
}

/**
 * Depth cut below the face in every column, mm. `inside`: the cut is in the outline (a pocket), else round it
 * (a plug). A toolpath centred at distance d from the outline puts the tip at start + min(h(d), flat), h being the
 * side of the bit that the path was made for: `bit` itself unless another is given. Every centre is visited; with
 * `onPath` only those a carving path follows: where the outline is equally near on two sides, and from the full depth
 * on. That makes a difference for balls, and for bits slimmer than the path means.
 */
export function sweep(
  outline: Outline,
  inside: boolean,
  bit: Bit,
  start: number,
  flat: number,
  columns: Columns,
  path: Bit = bit,
  onPath = false,
): Float64Array {
  const depth = new Float64Array(columns.across * columns.down);
  const { pitch } = columns;
  const beyond = Math.ceil(reachOf(bit, start + flat) / pitch) + 1;
  const widest = reachOf(path, flat);
  for (let j = -beyond; j < columns.down + beyond; j++) {
    for (let i = -beyond; i < columns.across + beyond; i++) {
      // Centres lie on their own grid, 0.29 and 0.17 of a pitch from the columns.
      const cx = columns.x0 + (i + 0.29) * pitch;
      const cy = columns.y0 + (j + 0.17) * pitch;
      if (isIn(outline, cx, cy) !== inside) continue;
      const d = distance(outline, cx, cy);
      if (onPath && d < widest - pitch && !isBetween(outline, cx, cy, d, pitch)) continue;
      const down = tipDepth(path, d);
      if (Number.isNaN(down)) continue;
      const tip = start + Math.min(down, flat);
      // Far from the outline the neighbours cut the slopes: only the flat under the bit is new.
      const reach = d > widest + 2 * pitch ? bit.r + pitch : reachOf(bit, tip);
      plunge(depth, columns, bit, cx, cy, tip, reach);
    }
  }
  return depth;
}

/** Whether a place within a pitch of this one is equally near to the outline in two directions 30 degrees apart. */
function isBetween(outline: Outline, x: number, y: number, d: number, pitch: number): boolean {
  const feet: (readonly [number, number])[] = [];
  for (const ring of outline) {
    for (let k = 0; k < ring.length; k++) {
      const a = ring[k] as readonly [number, number];
      const b = ring[(k + 1) % ring.length] as readonly [number, number];
      const [ex, ey] = footOn(a, b, x, y);
      if (Math.hypot(ex, ey) <= d + 1.42 * pitch) feet.push([ex, ey]);
    }
  }
  const [nx, ny] = feet.reduce((p, q) => (Math.hypot(q[0], q[1]) < Math.hypot(p[0], p[1]) ? q : p));
  return feet.some(([ex, ey]) => {
    const far = Math.hypot(ex, ey);
    const turn = Math.acos(Math.max(-1, Math.min(1, (ex * nx + ey * ny) / (far * d))));
    return turn > Math.PI / 6 && far - d <= 1.42 * pitch * Math.sin(turn / 2);
  });
}

function plunge(
  depth: Float64Array,
  columns: Columns,
  bit: Bit,
  cx: number,
  cy: number,
  tip: number,
  reach: number,
): void {
  const { x0, y0, pitch, across, down } = columns;
  const fromJ = Math.max(0, Math.ceil((cy - reach - y0) / pitch));
  const toJ = Math.min(down - 1, Math.floor((cy + reach - y0) / pitch));
  const fromI = Math.max(0, Math.ceil((cx - reach - x0) / pitch));
  const toI = Math.min(across - 1, Math.floor((cx + reach - x0) / pitch));
  for (let j = fromJ; j <= toJ; j++) {
    const ey = y0 + j * pitch - cy;
    for (let i = fromI; i <= toI; i++) {
      const ex = x0 + i * pitch - cx;
      const here = tip - sideHeight(bit, Math.sqrt(ex * ex + ey * ey));
      const k = j * across + i;
      if (here > (depth[k] as number)) depth[k] = here;
    }
  }
}

/** Height of the bit's side above its tip at a distance from its axis. */
function sideHeight(bit: Bit, s: number): number {
  const b = bit.ball ?? 0;
  if (b > 0) {
    const sine = bit.t / Math.sqrt(1 + bit.t * bit.t);
    const joint = b * Math.sqrt(1 - sine * sine);
    if (s <= joint) return b - Math.sqrt(b * b - s * s);
    return b * (1 - sine) + (s - joint) / bit.t;
  }
  return s <= bit.r ? 0 : (s - bit.r) / bit.t;
}

/** How far below the start depth the tip may be with the outline d away; NaN where the bit does not fit. */
function tipDepth(bit: Bit, d: number): number {
  if ((bit.ball ?? 0) === 0 && d < bit.r) return Number.NaN;
  return sideHeight(bit, d);
}

/** The bit's radius at a height above its tip (a ball's is taken a little too large, which only costs time). */
function reachOf(bit: Bit, height: number): number {
  return bit.r + (bit.ball ?? 0) + height * bit.t;
}

function footOn(
  [ax, ay]: readonly [number, number],
  [bx, by]: readonly [number, number],
  x: number,
  y: number,
): readonly [number, number] {
  const [dx, dy] = [bx - ax, by - ay];
  const s = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
  return [ax + s * dx - x, ay + s * dy - y];
}

export function distance(outline: Outline, x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const ring of outline) {
    for (let k = 0; k < ring.length; k++) {
      const [ax, ay] = ring[k] as readonly [number, number];
      const [bx, by] = ring[(k + 1) % ring.length] as readonly [number, number];
      const dx = bx - ax;
      const dy = by - ay;
      const s = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
      const ex = x - ax - s * dx;
      const ey = y - ay - s * dy;
      least = Math.min(least, ex * ex + ey * ey);
    }
  }
  return Math.sqrt(least);
}

export function isIn(outline: Outline, x: number, y: number): boolean {
  let odd = false;
  for (const ring of outline) {
    for (let k = 0; k < ring.length; k++) {
      const [ax, ay] = ring[k] as readonly [number, number];
      const [bx, by] = ring[(k + 1) % ring.length] as readonly [number, number];
      if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) odd = !odd;
    }
  }
  return odd;
}

/** Lift of a plug pressed straight down on its pocket: the greatest clash over all columns, mm. */
export function liftOf(pocket: Float64Array, plug: Float64Array, mating: number): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < pocket.length; k++) {
    most = Math.max(most, mating - (plug[k] as number) - (pocket[k] as number));
  }
  return most;
}

/** The same for a plug tilted about a middle (rise per mm along x and y): the height at that middle. */
export function liftTilted(
  pocket: Float64Array,
  plug: Float64Array,
  mating: number,
  columns: Columns,
  tilt: readonly [number, number],
  middle: readonly [number, number],
): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < pocket.length; k++) {
    const x = columns.x0 + (k % columns.across) * columns.pitch - middle[0];
    const y = columns.y0 + Math.floor(k / columns.across) * columns.pitch - middle[1];
    most = Math.max(most, mating - (plug[k] as number) - (pocket[k] as number) - tilt[0] * x - tilt[1] * y);
  }
  return most;
}

/** Widest distance, over the pocket's rim, from a rim column to the nearest column of plug wood in the face, mm. */
export function widestGap(
  pocket: Float64Array,
  plug: Float64Array,
  mating: number,
  lift: number,
  columns: Columns,
): number {
  const { across, down, pitch } = columns;
  const isOpen = (k: number): boolean => (pocket[k] as number) > 0;
  const isPlug = (k: number): boolean => mating - lift - (plug[k] as number) >= 0;
  let widest = 0;
  for (let j = 1; j < down - 1; j++) {
    for (let i = 1; i < across - 1; i++) {
      const k = j * across + i;
      const onRim =
        isOpen(k) && !(isOpen(k - 1) && isOpen(k + 1) && isOpen(k - across) && isOpen(k + across));
      if (onRim) widest = Math.max(widest, pitch * nearestCell(i, j, across, down, isPlug));
    }
  }
  return widest;
}

function nearestCell(i: number, j: number, across: number, down: number, is: (k: number) => boolean): number {
  let best = Number.POSITIVE_INFINITY;
  for (let ring = 0; ring <= Math.max(across, down) && ring <= best; ring++) {
    for (let y = Math.max(0, j - ring); y <= Math.min(down - 1, j + ring); y++) {
      const edge = Math.abs(y - j) === ring;
      for (let x = i - ring; x <= i + ring; x += edge || ring === 0 ? 1 : 2 * ring) {
        if (x < 0 || x >= across || !is(y * across + x)) continue;
        best = Math.min(best, Math.hypot(x - i, y - j));
      }
    }
  }
  return best;
}
