import { xor } from './combine.ts';
import { type Grown, type Growth, growthAt, growthOf } from './compare-growth.ts';
import { type PieceDiff, type PieceEdit, type PieceMove, piecesOf } from './compare-pieces.ts';
import { NO_SCALE, type Scale, scaleOf } from './compare-scale.ts';
import { apply, applyRegion, compose, invert, matrixOf } from './motion.ts';
import { area } from './region.ts';
import { fitAt, type Registered, type Registration, registration } from './register.ts';
import { DEVIATION_GIVE } from './register-deviation.ts';
import { type Outline, outlineOf } from './register-outline.ts';
import { reversed, ringBox, signedArea } from './ring.ts';
import type { Motion, Point, Region } from './shapes.ts';

/**
 * What the plug's drawing is to the pocket's. A mirror or a copy may still differ in places: `mirrored` or `copied`
 * says by how much. `scaled-` and `grown-` say that nothing else is wrong once the size is put right.
 */
export type PairVerdict =
  | 'mirror'
  | 'scaled-mirror'
  | 'grown-mirror'
  | 'copy'
  | 'turned-copy'
  | 'scaled-copy'
  | 'grown-copy'
  | 'inside-out'
  | 'different';

/** How two outlines compare. Places are in the pocket's frame, mm, unless they are named for the plug. */
export interface PairMatch {
  readonly verdict: PairVerdict;
  /** Best fit of the plug turned over (as it should be) and not turned over. */
  readonly mirrored: Registered;
  readonly copied: Registered;
  /** Deviation of the pocket's design from its own mirror image, mm: small means a copy is as good as a mirror. */
  readonly selfSymmetry: number;
  /** How the plug lies when pieces that are missing, extra or moved are passed over; the lists below rest on it. */
  readonly aligned: Motion;
  /** Part of the outlines, 0 to 1, that lies within the tolerance when aligned so (after `scale`). */
  readonly alike: number;
  readonly scale: Scale;
  readonly growth: Growth;
  readonly missing: readonly InPlug<PieceDiff>[];
  readonly extra: readonly InPlug<PieceDiff>[];
  readonly moved: readonly InPlug<PieceMove>[];
  readonly edited: readonly InPlug<PieceEdit>[];
}

/** A difference with its place in the frame of the plug's own drawing besides, mm. */
export type InPlug<T> = T & { readonly plugAt: Point };

/** At least so much of the outlines must agree for two drawings to be called the same design. */
const SAME_DESIGN = 0.5;
/** A later reading of the pair must agree for so much more of the outlines to be preferred. */
const CLEARLY_MORE = 0.02;
/** A copy turned by less than this (radians) was not turned on purpose. */
const TURNED = 0.01;

/** Compares the plug's drawing with the pocket's; `tolerance` (mm) is the deviation that does not matter. */
export function comparePair(pocket: Region, plug: Region, tolerance: number): PairMatch {
  const a = outlineOf(pocket);
  const b = outlineOf(plug);
  const enough = Math.min(tolerance, 1e-4 * a.size);
  const mirror = registration(a, b, { reflect: true, enough });
  // When the mirror fits, the copy is only asked whether it would fit too; when not, most copies fit at once.
  const apart = mirror.least.deviation <= tolerance;
  const copy = registration(a, b, { reflect: false, enough, quick: true, apart });
  const found = { a, b, mirror, copy, tolerance };
  if (mirror.least.deviation <= tolerance) return plain(found, 'mirror', mirror);
  if (copy.least.deviation <= tolerance) return plain(found, copyName(copy.least.motion), copy);
  if (a.x.length === 0 || b.x.length === 0) return plain(found, 'different', mirror);
  const mirrored = storiesOf(found, mirror, true);
  const whole = mirrored.find((s) => s.residual <= tolerance);
  if (whole !== undefined) return told(found, whole);
  const sought = { ...found, copy: registration(a, b, { reflect: false, enough }) };
  const late = sought.copy.least;
  if (late.deviation <= tolerance) return plain(sought, copyName(late.motion), sought.copy);
  return explain(sought, mirrored);
}

interface Found {
  readonly a: Outline;
  readonly b: Outline;
  readonly mirror: Registration;
  readonly copy: Registration;
  readonly tolerance: number;
}

function copyName(motion: Motion): PairVerdict {
  return Math.abs(motion.angle) > TURNED ? 'turned-copy' : 'copy';
}

/** The answer for a pair that fits within the tolerance as it is (or cannot be compared at all). */
function plain(found: Found, verdict: PairVerdict, fit: Registration): PairMatch {
  const { a, b, mirror, copy } = found;
  const empty = a.x.length === 0 || b.x.length === 0;
  return {
    verdict,
    mirrored: mirror.least,
    copied: copy.least,
    // The plug stands for the pocket's own mirror image or copy, so the other fit measures the pocket's symmetry.
    selfSymmetry: verdict === 'mirror' ? copy.least.deviation : mirror.least.deviation,
    aligned: fit.least.motion,
    alike: empty ? 0 : 1,
    scale: { ...NO_SCALE, residual: fit.least.deviation },
    growth: growthOfPlain(found, fit),
    missing: [],
    extra: [],
    moved: [],
    edited: [],
  };
}

/** Outlines that are the same have not grown, which need not be measured. */
function growthOfPlain({ a, b }: Found, { least }: Registration): Growth {
  if (a.x.length === 0 || b.x.length === 0) return { by: 0, residual: Number.POSITIVE_INFINITY };
  if (least.deviation <= DEVIATION_GIVE) return { by: 0, residual: least.deviation };
  return growthAt(a, b, least.motion);
}

/** One way to read the pair: the plug resized (or not), laid on the pocket so. */
interface Story {
  readonly verdict: PairVerdict;
  readonly plug: Outline;
  /** From that plug's frame to that of the plug as drawn. */
  readonly back: (at: Point) => Point;
  readonly motion: Motion;
  readonly scale: Scale;
  readonly growth: Growth;
  /** What is left after the resizing, mm. */
  readonly residual: number;
  readonly alike: number;
}

/** The answer for a pair that no mirror explains, as it is or resized. */
function explain(found: Found, mirrored: readonly Story[]): PairMatch {
  const own = registration(found.a, found.a, { reflect: true }).least;
  // Of a design that is its own mirror image a copy is a mirror, so nobody is told to turn it over.
  const over = own.deviation <= found.tolerance ? turnedOver(found, own.motion) : undefined;
  const others = over === undefined ? storiesOf(found, found.copy, false) : storiesOf(found, over, true);
  const all =
    over && over.least.deviation < found.mirror.least.deviation ? { ...found, mirror: over } : found;
  const whole = others.find((s) => s.residual <= found.tolerance);
  if (whole !== undefined) return told(all, whole);
  if (insideOut(found)) return { ...bare(all, mirrored[0]), verdict: 'inside-out' };
  const best = [...mirrored, ...others].reduce((x, y) => (y.alike > x.alike + CLEARLY_MORE ? y : x));
  return best.alike < SAME_DESIGN ? { ...bare(all, best), verdict: 'different' } : told(all, best);
}

/** How the plug lies as a copy, followed by what lays the pocket on itself turned over. */
function turnedOver({ a, b, copy: { least, settled, hopeful } }: Found, own: Motion): Registration {
  return {
    least: fitAt(a, b, compose(own, least.motion)),
    settled: { ...settled, motion: compose(own, settled.motion) },
    hopeful: hopeful.map((motion) => compose(own, motion)),
  };
}

/** The answer with the places that the story leaves over. */
function told(found: Found, best: Story): PairMatch {
  const { a, b, tolerance } = found;
  // Past a growth only what stands out from it is a place of its own; a sharp corner grows up to twice as far.
  const grown = best.verdict.startsWith('grown') ? 2 * Math.abs(best.growth.by) : 0;
  const pieces = piecesOf(a, best.plug, best.motion, tolerance + grown);
  const growth = best.plug === b ? best.growth : growthOf(a, best.plug, best.motion).growth;
  const home = invert(best.motion);
  const plugAt = ([x, y]: Point): Point => best.back(apply(home, x, y));
  return {
    ...bare(found, best),
    missing: pieces.missing.map((piece) => ({ ...piece, plugAt: plugAt(piece.at) })),
    extra: pieces.extra.map((piece) => ({ ...piece, plugAt: plugAt(piece.at) })),
    moved: pieces.moved.map((piece) => ({
      ...piece,
      plugAt: plugAt([piece.at[0] + piece.by[0], piece.at[1] + piece.by[1]]),
    })),
    edited: pieces.edited.map((place) => ({ ...place, plugAt: plugAt(place.at) })),
    growth,
  };
}

function bare({ a, mirror, copy }: Found, story: Story): PairMatch {
  return {
    verdict: story.verdict,
    mirrored: mirror.least,
    copied: copy.least,
    selfSymmetry: registration(a, a, { reflect: true, quick: true }).least.deviation,
    aligned: story.motion,
    alike: story.alike,
    scale: story.scale,
    growth: story.growth,
    missing: [],
    extra: [],
    moved: [],
    edited: [],
  };
}

/** The readings of the pair with this handedness, the one that leaves least over first. */
function storiesOf(found: Found, fit: Registration, reflect: boolean): readonly Story[] {
  const { a, b, tolerance } = found;
  const name = reflect ? 'mirror' : 'copy';
  const { motion } = fit.settled;
  const grownBy = bestGrowth(found, fit);
  const { growth } = grownBy;
  const alike = alikeOf(a, b, motion, tolerance);
  const scaled = scaleOf(a, b, reflect, motion, tolerance);
  const rigid: Story = {
    verdict: reflect ? 'mirror' : copyName(motion),
    plug: b,
    back: (at) => at,
    motion,
    // A scale that leaves most of the deviation is no finding.
    scale:
      scaled.scale.residual < fit.least.deviation / 2
        ? scaled.scale
        : { ...NO_SCALE, residual: fit.least.deviation },
    growth,
    residual: fit.least.deviation,
    alike,
  };
  const resized: Story = {
    ...rigid,
    verdict: `scaled-${name}`,
    scale: scaled.scale,
    plug: scaled.plug,
    back: scaled.back,
    motion: scaled.motion,
    // A scale that moves nothing by more than the tolerance explains nothing.
    residual: reallyScaled(scaled.scale, a.size, tolerance)
      ? scaled.scale.residual
      : Number.POSITIVE_INFINITY,
    alike: alikeOf(a, scaled.plug, scaled.motion, tolerance),
  };
  const grown: Story = {
    ...rigid,
    verdict: `grown-${name}`,
    motion: grownBy.motion,
    // A growth within the tolerance explains nothing.
    residual: Math.abs(growth.by) > tolerance / 2 ? growth.residual : Number.POSITIVE_INFINITY,
  };
  return [rigid, ...[resized, grown].sort((x, y) => x.residual - y.residual)];
}

/** A growth moves sharp corners alike in every turn of a nearly symmetric design; only one turn leaves nothing over. */
function bestGrowth({ a, b, tolerance }: Found, { least, hopeful }: Registration): Grown {
  const first = growthOf(a, b, least.motion);
  if (first.growth.residual <= tolerance / 10) return first;
  return hopeful
    .map((motion) => growthOf(a, b, motion))
    .reduce((x, y) => (y.growth.residual < x.growth.residual ? y : x), first);
}

function reallyScaled(scale: Scale, size: number, tolerance: number): boolean {
  return Math.max(Math.abs(scale.x - 1), Math.abs(scale.y - 1)) * size > tolerance / 2;
}

/** Part of both outlines, by places spread along them, within the tolerance of each other. */
function alikeOf(a: Outline, b: Outline, motion: Motion, tolerance: number): number {
  const near = nearPlaces(b, a, motion, tolerance) + nearPlaces(a, b, invert(motion), tolerance);
  return near / (a.x.length + b.x.length);
}

function nearPlaces(from: Outline, to: Outline, motion: Motion, tolerance: number): number {
  const t = matrixOf(motion);
  const limit = tolerance * tolerance;
  let near = 0;
  for (let k = 0; k < from.x.length; k++) {
    const x = t.xx * from.x[k] + t.xy * from.y[k] + t.dx;
    const y = t.yx * from.x[k] + t.yy * from.y[k] + t.dy;
    if (to.tree.nearest(x, y, limit) >= 0) near++;
  }
  return near;
}

/** Whether one drawing is a frame with the other one cut out of it. */
function insideOut({ a, b, tolerance }: Found): boolean {
  const pocket = withoutFrame(a.region);
  const plug = withoutFrame(b.region);
  const agrees = (x: Region | undefined, y: Region): boolean => {
    if (x === undefined) return false;
    const [p, q] = [outlineOf(x), outlineOf(y)];
    return [true, false].some((reflect) => {
      const { least, settled } = registration(p, q, { reflect });
      const lies = [least.deviation <= tolerance ? least.motion : undefined, settled.motion].find(
        (motion) => motion !== undefined && alikeOf(p, q, motion, tolerance) > 0.8,
      );
      // An outline drawn as a double line lies on its own filling too: what is filled decides.
      return lies !== undefined && 5 * area(xor(x, applyRegion(lies, y))) < area(y);
    });
  };
  return agrees(plug, a.region) || agrees(pocket, b.region);
}

/** What a single outermost ring leaves open inside itself; undefined when there is no such ring or nothing in it. */
function withoutFrame(region: Region): Region | undefined {
  const frame = region.rings.reduce((x, y) => (signedArea(y) > signedArea(x) ? y : x));
  const rest = region.rings.filter((ring) => ring !== frame);
  const outer = ringBox(frame);
  const within = rest.every((ring) => {
    const box = ringBox(ring);
    return (
      box.minX >= outer.minX && box.maxX <= outer.maxX && box.minY >= outer.minY && box.maxY <= outer.maxY
    );
  });
  return rest.length > 0 && within ? { rings: rest.map(reversed) } : undefined;
}
