import { intersect, unionRings } from '../geometry/combine.ts';
import { area } from '../geometry/region.ts';
import type { RawLine, Region } from '../geometry/shapes.ts';
import { boxOf, walk, withClip } from './draw.ts';
import { FARTHEST } from './flatten.ts';
import { placed } from './placed.ts';
import { type Clip, type Frame, note, type Painted, type Walk } from './scene.ts';
import { SHAPES } from './shapes.ts';
import { INITIAL, type Style, styleOf } from './style.ts';
import { compose, type Matrix } from './transform.ts';
import type { Element } from './tree.ts';

/** Cut off by less than this is the engine's rounding, not a cut: square millimetres, and a share of the shape. */
const LEAST_CUT = 1e-4;
const LEAST_SHARE = 1e-6;
/** No point of an outline lies farther out than half of this, millimetres. */
const REACH = 2 * FARTHEST;

/** What is known of the clip paths met so far. */
export interface ClipRegions {
  /** Regions already worked out; `undefined` for one that cannot be applied. */
  readonly done: Map<Clip, Region | undefined>;
  /** Clip paths being drawn just now: one that leads back to itself is not applied again. */
  readonly drawing: Set<Element>;
}

/** The lines that are left of a shape, with their fill rule. */
export interface Left {
  readonly lines: readonly RawLine[];
  readonly fillRule: 'nonzero' | 'evenodd';
}

/**
 * Cuts a shape by every clip path and window edge around it, and tells so. A shape that nothing cuts keeps its own
 * lines. `undefined` when nothing is left. The polygon engine has to be loaded when a drawing holds clips.
 */
export function applyClips(
  shape: Painted,
  fillRule: Left['fillRule'],
  w: Walk,
  known: ClipRegions,
): Left | undefined {
  let left: Left = { lines: shape.lines, fillRule };
  for (let clip = shape.clip; clip !== undefined; clip = clip.outer) {
    if (clip.edges !== undefined && staysWithin(left.lines, clip)) continue;
    const region = regionOf(clip, w, known);
    if (region === undefined) continue;
    const whole = unionRings(
      left.lines.map((line) => line.points),
      left.fillRule,
    );
    const rest = intersect(whole, region);
    const before = area(whole);
    const share = before === 0 ? 1 : area(rest) / before;
    if (before - area(rest) <= LEAST_CUT + LEAST_SHARE * before) continue;
    tellCut(shape.element, clip, share, w);
    if (rest.rings.length === 0) return undefined;
    left = { lines: rest.rings.map((points) => ({ points, closed: true })), fillRule: 'nonzero' };
  }
  return left;
}

function tellCut(element: Element, clip: Clip, share: number, w: Walk): void {
  const by = clip.edges === undefined ? 'Its clip path' : 'The edge of the window it is drawn in';
  const says =
    share === 0
      ? `${by} hides all of it; it is left out, though programs that cut may not heed clips.`
      : `${by} cuts it to ${(100 * share).toFixed(1)} % of its area. The cut shape is measured; programs that cut may not heed clips.`;
  note(w, element, 'clipped', says);
}

function cornersOf([x, y, width, height]: NonNullable<Clip['edges']>, m: Matrix): Float64Array {
  const corners = [x, y, x + width, y, x + width, y + height, x, y + height];
  return Float64Array.from(corners, (_, i) => {
    const u = corners[i & ~1]!;
    const v = corners[i | 1]!;
    return i % 2 === 0 ? m[0] * u + m[2] * v + m[4] : m[1] * u + m[3] * v + m[5];
  });
}

/** Every point on the inner side of a window's four edges, give or take a nanometre. */
function staysWithin(lines: readonly RawLine[], clip: Clip): boolean {
  const c = cornersOf(clip.edges!, clip.matrix);
  const turn = Math.sign(clip.matrix[0] * clip.matrix[3] - clip.matrix[1] * clip.matrix[2]);
  for (let k = 0; k < 8; k += 2) {
    const [ax, ay] = [c[k]!, c[k + 1]!];
    const dx = c[(k + 2) % 8]! - ax;
    const dy = c[(k + 3) % 8]! - ay;
    const slack = 1e-6 * Math.hypot(dx, dy);
    for (const { points } of lines)
      for (let i = 0; i < points.length; i += 2)
        if (!(turn * (dx * (points[i + 1]! - ay) - dy * (points[i]! - ax)) >= -slack)) return false;
  }
  return true;
}

function regionOf(clip: Clip, w: Walk, known: ClipRegions): Region | undefined {
  if (clip.edges !== undefined) return windowOf(clip, clip.edges, w);
  if (known.done.has(clip)) return known.done.get(clip);
  if (known.drawing.has(clip.element) || known.drawing.size >= MOST_NESTED) {
    note(
      w,
      clip.element,
      'broken-reference',
      'This clip path leads back to itself, or too far; it is not applied there.',
    );
    return undefined;
  }
  known.drawing.add(clip.element);
  const region = drawClip(clip, w, known);
  known.drawing.delete(clip.element);
  known.done.set(clip, region);
  return region;
}

/** A window may run far beyond all that can be drawn: only what lies within reach counts. */
function windowOf(clip: Clip, edges: NonNullable<Clip['edges']>, w: Walk): Region | undefined {
  const corners = cornersOf(edges, clip.matrix);
  if (corners.every(Number.isFinite)) return unionRings([withinReach(corners)], 'nonzero');
  note(w, clip.element, 'clipped', 'The window it opens has no end; its edges are not applied.');
  return undefined;
}

/** A convex outline cut off at all four sides of what can be reached, one side after another. */
function withinReach(corners: Float64Array): Float64Array {
  let ring = corners;
  for (const [axis, sign] of [
    [0, 1],
    [0, -1],
    [1, 1],
    [1, -1],
  ] as const) {
    const kept: number[] = [];
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      const here = REACH - sign * ring[i + axis]!;
      const there = REACH - sign * ring[j + axis]!;
      if (here >= 0) kept.push(ring[i]!, ring[i + 1]!);
      if (here >= 0 === there >= 0) continue;
      const share = here / (here - there);
      const along = (k: 0 | 1): number => ring[i + k]! + share * (ring[j + k]! - ring[i + k]!);
      kept.push(axis === 0 ? sign * REACH : along(0), axis === 1 ? sign * REACH : along(1));
    }
    ring = Float64Array.from(kept);
  }
  return ring;
}

/** Clip paths that are clipped themselves, one in the other. */
const MOST_NESTED = 50;

/** The area a clip path's shapes cover (CSS Masking 1, section 6.1): their `clip-rule` counts, their paint does not. */
function drawClip(clip: Clip, w: Walk, known: ClipRegions): Region | undefined {
  const { element, base } = clip;
  if (element.children.some((child) => child.name === 'text')) {
    note(
      w,
      clip.carrier!.element,
      'clipped',
      'It is clipped by lettering, which has no outline; it is taken unclipped.',
    );
    return undefined;
  }
  const declared = w.drawing.cascade.declared(element);
  const style = styleDownTo(element, w);
  const start: Frame = {
    element,
    matrix: unitsOf(clip, w),
    style,
    width: base.width,
    height: base.height,
    clip: undefined,
    uses: undefined,
  };
  const rings: Float64Array[] = [];
  const inside: Walk = {
    drawing: w.drawing,
    purpose: 'clip',
    notes: w.notes,
    stroked: () => {},
    paint: (shape) => {
      const left = applyClips(shape, shape.style.clipRule, inside, known);
      if (left === undefined) return;
      for (const ring of unionRings(
        left.lines.map((line) => line.points),
        left.fillRule,
      ).rings)
        rings.push(ring);
    },
  };
  const hemmed = withClip({ ...start, matrix: placed(start, declared, style, w, boxOf) }, declared, inside);
  for (const child of element.children)
    if (SHAPES.has(child.name) || child.name === 'use') walk({ ...hemmed, element: child }, inside);
  return unionRings(rings, 'nonzero');
}

/** Clip paths in shares of the clipped element's box get that box as their unit. */
function unitsOf(clip: Clip, w: Walk): Matrix {
  if (clip.element.attributes.get('clipPathUnits') !== 'objectBoundingBox') return clip.matrix;
  const [x, y, width, height] = boxOf(clip.carrier!, w);
  return compose(clip.matrix, [width, 0, 0, height, x, y]);
}

/** A clip path's shapes take their style from where they stand, not from what they clip. */
function styleDownTo(element: Element, w: Walk): Style {
  const way: Element[] = [];
  for (let at: Element | undefined = element; at !== undefined; at = at.parent) way.unshift(at);
  const base = {
    width: undefined,
    height: undefined,
    fontSize: INITIAL.fontSize,
    rootFontSize: w.drawing.rootFontSize,
  };
  return way.reduce(
    (style, at) => styleOf(w.drawing.cascade.declared(at), style, { ...base, fontSize: style.fontSize }),
    INITIAL,
  );
}
