/** A place in the drawing's frame: millimetres, x right, y down. */
export type Point = readonly [x: number, y: number];

/**
 * A closed outline: x,y interleaved, millimetres, at least three points, no repeated closing point.
 * Treated as read-only by everybody.
 */
export type Ring = Float64Array;

/**
 * A clean set of outlines. Outer rings have positive signed area (sum of x_i*y_(i+1) - x_(i+1)*y_i over 2),
 * holes negative, so that wood of the region lies on the algebraic left (-dy, dx) of every edge. Rings neither
 * cross nor repeat; they may touch in points.
 */
export interface Region {
  readonly rings: readonly Ring[];
}

/** One connected piece of a region: its outer ring and the holes directly inside it (indices into `rings`). */
export interface Part {
  readonly outer: number;
  readonly holes: readonly number[];
}

export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** One drawn shape as it comes out of a drawing, before any tidying: flattened, in millimetres. */
export interface RawShape {
  readonly lines: readonly RawLine[];
  readonly fillRule: 'nonzero' | 'evenodd';
  /** Number of the thing painted, in paint order; the drawing's reader keeps what it was. */
  readonly source: number;
  /** Paint as written (for telling a hole that cannot be seen); undefined when unknown. */
  readonly paint?: string | undefined;
}

/** One subpath: open or closed as drawn (a fill closes it all the same). */
export interface RawLine {
  readonly points: Float64Array;
  readonly closed: boolean;
}

/**
 * A motion of the plane: optional reflection (x -> -x) first, then a turn by `angle` radians, then a shift.
 * p' = R(angle) * (reflect ? (-x, y) : (x, y)) + (dx, dy)
 */
export interface Motion {
  readonly reflect: boolean;
  readonly angle: number;
  readonly dx: number;
  readonly dy: number;
}
