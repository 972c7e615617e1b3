import { hypot } from '../geometry/hypot.ts';
import type { SegmentTree } from '../geometry/nearest.ts';
import type { Point } from '../geometry/shapes.ts';
import type { Cut } from './cut.ts';
import { largestNearby, type Spot, spotsAlong, type TouchingDisc, touchingDisc } from './cut-disc.ts';
import type { Pair } from './fit.ts';
import { CORNER, EDGE_SHARES, edgePlaces, SHARP } from './seat-edges.ts';
import { type Place, placeOn } from './seat-place.ts';

/** Lifts this near are one, mm. */
const NO_MORE = 1e-6;

/**
 * Every place worth asking. Whatever point is asked, its answer is a true lower bound of the lift, so a place too
 * many costs time only; what matters is that every kind of feature is met: ridges and their peaks, the edge of
 * the plug's face, its middle, corners, spikes of the board, the mouth, lands.
 */
export function contactPlaces(pair: Pair, spacing: number): readonly Place[] {
  return [...plugPlaces(pair, spacing), ...boardPlaces(pair, spacing), ...edgePlaces(pair)];
}

function plugPlaces(pair: Pair, spacing: number): Place[] {
  const { plug, pocket } = pair;
  const tree = pair.plugTree;
  const faceIn = plug.setup.start * plug.real.t;
  const floorIn = pocket.setup.flat * pocket.real.t + pocket.real.r;
  const limit = Math.max(faceIn, floorIn) + pocket.real.r + plug.real.r + Number.EPSILON;
  const found: Place[] = [];
  let before: Sized | undefined;
  let rising = false;
  let lastRidge = 0;
  const tops: (Sized & { readonly lift: number })[] = [];
  for (const spot of insideSpots(tree, spacing, plug, pocket)) {
    const disc = touchingDisc(tree, spot.segment, spot.x, spot.y, spot.nx, spot.ny, limit);
    const here = { spot, disc };
    if (before !== undefined && rising && disc.r < before.disc.r) tops.push({ ...before, lift: lastRidge });
    addPlugPlaces(pair, here, faceIn, found);
    lastRidge = (found.at(-1) as Place).lift;
    rising = before === undefined || disc.r > before.disc.r || (rising && disc.r === before.disc.r);
    before = here;
  }
  for (const corner of spotsAlong(tree, 1, Number.POSITIVE_INFINITY, CORNER)) {
    if (corner.turn > SHARP) addFaceCorner(pair, corner, faceIn, found);
  }
  addPeaks(pair, tops, faceIn, found);
  return found;
}

/** The corner of the plug's face under a corner of its outline: where a tilted or shifted plug meets a wall first. */
function addFaceCorner(pair: Pair, corner: Spot, faceIn: number, found: Place[]): void {
  const deep = faceIn / Math.max(1e-2, Math.cos(corner.turn / 2));
  const [x, y] = [corner.x + deep * corner.nx, corner.y + deep * corner.ny];
  if (pair.plug.room(x, y) > -faceIn / 2) return;
  found.push(placeOn('plug', pair, x, y, 'face', corner, { x, y, r: faceIn, other: undefined }));
}

interface Sized {
  readonly spot: Spot;
  readonly disc: TouchingDisc;
}

function insideSpots(tree: SegmentTree, spacing: number, plug: Cut, pocket: Cut): Spot[] {
  const tip = Math.max(plug.real.r, pocket.real.r);
  return spotsAlong(tree, 1, spacing, CORNER).flatMap((spot) => {
    if (spot.turn <= 0) return spot.turn === 0 ? [spot] : [];
    return besideCorner(tree, spot, tip);
  });
}

/**
 * A sharp corner's ridge has to be met where the tip is felt: beyond r (1 - sin(a/2)) / sin(a/2) from its point.
 * The discs that touch one edge a little further out have their centres there.
 */
function besideCorner(tree: SegmentTree, corner: Spot, tip: number): Spot[] {
  const half = (Math.PI - corner.turn) / 2;
  const sine = Math.max(Math.sin(half), 1e-3);
  const out = ((tip * (1 - sine)) / sine) * Math.cos(half);
  const q = 4 * corner.segment;
  const dx = (tree.coords[q + 2] as number) - corner.x;
  const dy = (tree.coords[q + 3] as number) - corner.y;
  const length = hypot(dx, dy);
  return (corner.turn > SHARP ? [1.05, 2] : [1.05]).map((k) => {
    const s = Math.min(0.98, (k * out + 1e-3) / length);
    return {
      ...corner,
      x: corner.x + s * dx,
      y: corner.y + s * dy,
      nx: -dy / length,
      ny: dx / length,
      turn: 0,
    };
  });
}

function addPlugPlaces(pair: Pair, { spot, disc }: Sized, faceIn: number, found: Place[]): void {
  if (disc.r <= faceIn) {
    found.push(placeOn('plug', pair, disc.x, disc.y, 'ridge', spot, disc));
    return;
  }
  const edge = wallAt(pair.plug, spot, faceIn, disc.r);
  found.push(placeOn('plug', pair, edge[0], edge[1], 'face', spot, disc));
  found.push(placeOn('plug', pair, disc.x, disc.y, 'face', spot, disc));
}

/**
 * Where a wall meets the face: `guess` mm from the outline, set right by the wall's own depth there. The guess is
 * exact for plain walls; a toolpath for another bit, or a filled corner, puts it elsewhere. Spots face away from
 * the cut, so where there is still depth the edge is further on.
 */
function wallAt(cut: Cut, spot: Spot, guess: number, most: number): Point {
  let out = guess;
  for (let n = 0; n < 2; n++) {
    const wall = cut.wall(spot.x + out * spot.nx, spot.y + out * spot.ny);
    if (!Number.isFinite(wall) || Math.abs(wall) * cut.real.t < 1e-7) break;
    out = Math.min(most, out + wall * cut.real.t);
  }
  return [spot.x + out * spot.nx, spot.y + out * spot.ny];
}

/**
 * The top of a ridge holds higher than a place beside it by the tips' r / t at most, so only tops that can pass
 * the highest lift so far are looked for.
 */
function addPeaks(
  pair: Pair,
  tops: readonly (Sized & { readonly lift: number })[],
  faceIn: number,
  found: Place[],
): void {
  const enough = faceIn + pair.pocket.real.r;
  const more = (pair.pocket.real.r + pair.plug.real.r) / Math.min(pair.pocket.real.t, pair.plug.real.t);
  let highest = found.reduce((most, p) => Math.max(most, p.lift), Number.NEGATIVE_INFINITY);
  for (const { spot, disc, lift } of [...tops].sort((a, b) => b.lift - a.lift)) {
    if (lift + more <= highest + NO_MORE) break;
    if (disc.r >= enough || disc.other === undefined) continue;
    const peak = largestNearby(pair.plugTree, 1, disc, spot.x, spot.y, enough);
    if (peak.r <= disc.r + 1e-7) continue;
    const place = placeOn('plug', pair, peak.x, peak.y, peak.r <= faceIn ? 'ridge' : 'face', spot, disc);
    found.push(place);
    highest = Math.max(highest, place.lift);
  }
}

function boardPlaces(pair: Pair, spacing: number): Place[] {
  const { pocket, plug } = pair;
  const tree = pair.pocketTree;
  const mouthOut = pocket.setup.start * pocket.real.t;
  const faceIn = plug.setup.start * pocket.real.t;
  const rootOut = plug.setup.flat * plug.real.t + plug.real.r;
  const limit = Math.max(mouthOut, rootOut) + plug.real.r + Number.EPSILON;
  const found: Place[] = [];
  for (const spot of spotsAlong(tree, -1, spacing, CORNER)) {
    if (spot.turn < 0) continue;
    if (spot.turn > 0) {
      const out = mouthOut / Math.max(1e-3, Math.cos(spot.turn / 2));
      // Its edge goes on down under the outline: a tilted plug may meet it there.
      for (const from of spot.turn > SHARP ? [out, ...EDGE_SHARES.map((share) => -share * faceIn)] : [out]) {
        found.push(
          placeOn('board', pair, spot.x + from * spot.nx, spot.y + from * spot.ny, 'spike', spot, undefined),
        );
      }
      continue;
    }
    const disc = touchingDisc(tree, spot.segment, spot.x, spot.y, spot.nx, spot.ny, limit);
    const feature = disc.r <= mouthOut ? 'land' : 'mouth';
    const [x, y] = feature === 'land' ? [disc.x, disc.y] : wallAt(pocket, spot, mouthOut, disc.r);
    found.push(placeOn('board', pair, x, y, feature, spot, disc));
    if (disc.r > mouthOut) found.push(placeOn('board', pair, disc.x, disc.y, 'land', spot, disc));
  }
  return found;
}
