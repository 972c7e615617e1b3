import type { Facts, Fitted } from '../carve/facts.ts';
import { shareAfter } from '../carve/wear.ts';
import type { CheckedJob } from '../engine/checked.ts';
import { open } from '../geometry/offset.ts';
import type { Point, Region, Ring } from '../geometry/shapes.ts';
import { jobLines } from './head.ts';
import type { FitData, HtmlSheet, Marked, PlanData, Sanding, WidthClass } from './html-data.ts';
import { ringsBox } from './html-plan.ts';
import { thinned } from './lesson-drawing.ts';
import { balloonsOf, baseName } from './sheet.ts';

/** Points of an outline within this of the line between their neighbours are left out, mm, ... */
const THINNED = 0.01;
/** ... or more, until so many points are left: a browser draws no finer anyway. */
const MOST_POINTS = 12_000;
/** Shaded areas are drawn without an edge, so they may be coarser, mm. */
const SHADED = 0.04;
/** How far beyond the drawing the first section may reach, as a share of its size. */
const EDGE = 0.06;
const SANDING_STEPS = 16;

/** What the page needs of one job beside its judged checks. */
export function htmlSheet(checked: CheckedJob, facts: Facts): HtmlSheet {
  const { pocket, plug } = facts.job;
  return {
    summary: jobLines(facts),
    files: { pocket: baseName(pocket.outline.path), plug: baseName(plug.outline.path) },
    data: planData(checked, facts),
  };
}

function planData(checked: CheckedJob, facts: Facts): PlanData {
  const { job } = facts;
  const [pocket, plug] = [facts.region('pocket'), facts.region('plug')];
  const bound = boundFor([...pocket.rings, ...plug.rings]);
  const fitted = facts.fitted();
  const made = 'fit' in fitted ? fitted : undefined;
  const narrowest = facts.leastStroke('pocket');
  const data = {
    units: job.units,
    pocket: flat(pocket, bound),
    plug: flat(plug, bound),
    laid: facts.match().aligned,
    thinned: bound,
    marks: marksOf(checked),
    widths: widthsOf(facts),
    rim: made?.fit.rim.flatMap(({ at, gap }) => [round(at[0], 2), round(at[1], 2), round(gap, 4)]) ?? [],
    rimLimits: [facts.limit('rim-gap-most'), facts.limit('rim-gap-most-hard')] as const,
    widest: made?.fit.worstGap?.gap,
    fit: made && fitData(made),
    noFit: 'fit' in fitted ? undefined : 'moot' in fitted ? fitted.moot : fitted.untold,
    boardThickness: job.pocket.stock.thickness,
    stockThickness: job.plug.stock.thickness,
    sanding: sandingOf(facts, fitted),
    narrowest: narrowest && { at: narrowest.at, width: narrowest.width },
  };
  return { ...data, cut: firstCut(facts, data.marks) };
}

function fitData({ input, fit }: Extract<Fitted, { fit: unknown }>): FitData {
  const { pocket: _, plug: __, ...rest } = input;
  return { ...rest, seat: fit.seat, proud: fit.proud };
}

function marksOf(checked: CheckedJob): Marked[] {
  const marks: Marked[] = [];
  const rows = new Map(checked.checks.flatMap((check) => check.readings.map((r) => [r, check.row] as const)));
  for (const [reading, number] of balloonsOf(checked)) {
    const { at, part } = reading.place;
    if (at === undefined || reading.outcome === 'pass') continue;
    const label = reading.label ?? rows.get(reading) ?? '';
    const side = part === 'plug' ? 'plug' : 'pocket';
    marks.push({ number, side, at: [round(at[0], 3), round(at[1], 3)], outcome: reading.outcome, label });
  }
  return marks;
}

/** The widths that change what the bit leaves (physics of the sloping wall), each with the strokes that reach it. */
function widthsOf(facts: Facts): WidthClass[] {
  const { pocket, plug, bit, plugBit } = facts.job;
  const region = facts.region('pocket');
  const tip = bit.tipFlat ?? 0;
  const ridge = Math.max(tip, 2 * plug.startDepth * Math.tan(plugBit.angle / 2));
  const flatFloor = Math.max(ridge, tip + 2 * pocket.flatDepth * Math.tan(bit.angle / 2));
  const classes: readonly (readonly [number, string])[] = [
    [0, 'the tip does not go in'],
    [tip, 'the plug ends in a ridge'],
    [ridge, 'the pocket ends in a V'],
    [flatFloor, 'flat face over a flat floor'],
  ];
  return classes.map(([from, means], tone) => ({ from, tone, means, rings: opened(region, from) }));
}

function opened(region: Region, width: number): number[][] {
  return width > 0 ? flat(open(region, width / 2, { arcError: SHADED }), SHADED) : flat(region, SHADED);
}

function sandingOf(facts: Facts, fitted: Fitted): Sanding | undefined {
  const { job, depths } = facts;
  const region = facts.region('pocket');
  const proud = 'fit' in fitted ? Math.max(0, fitted.fit.proud) : 0;
  const most = depths.mating - proud;
  if (most <= 0 || region.rings.length === 0) return undefined;
  const halfAngle = job.plugBit.angle / 2;
  const shares = Array.from({ length: SANDING_STEPS + 1 }, (_, k) =>
    round(shareAfter(region, (most * k) / SANDING_STEPS, { halfAngle, mating: depths.mating, proud }), 4),
  );
  return { most, proud, taper: Math.tan(halfAngle), shares };
}

/** Across the place that matters most: a reading that does not pass, else the narrowest stroke. */
function firstCut(facts: Facts, marks: readonly Marked[]): readonly [Point, Point] {
  const box = ringsBox(facts.region('pocket').rings);
  const narrowest = facts.leastStroke('pocket');
  const marked = marks.find((mark) => mark.side === 'pocket')?.at;
  const [x, y] = marked ?? narrowest?.at ?? [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const wide = box.maxX - box.minX;
  const depth = facts.job.pocket.flatDepth;
  const half = Math.min(Math.max(4 * depth, wide / 6), wide / 2 + depth);
  let [ux, uy] = [1, 0];
  if (marked === undefined && narrowest !== undefined) {
    const [[ax, ay], [bx, by]] = narrowest.contacts;
    const long = Math.hypot(bx - ax, by - ay);
    if (long > 0)
      [ux, uy] = bx < ax ? [(ax - bx) / long, (ay - by) / long] : [(bx - ax) / long, (by - ay) / long];
  }
  // The ends stay near the drawing, so that both can be seen and taken.
  const edge = EDGE * Math.max(wide, box.maxY - box.minY);
  const within = (sign: 1 | -1): Point => {
    const roomX = sign * ux > 0 ? box.maxX + edge - x : x - box.minX + edge;
    const roomY = sign * uy > 0 ? box.maxY + edge - y : y - box.minY + edge;
    const far = Math.min(half, roomX / Math.max(Math.abs(ux), 1e-9), roomY / Math.max(Math.abs(uy), 1e-9));
    return [round(x + sign * far * ux, 1), round(y + sign * far * uy, 1)];
  };
  return [within(-1), within(1)];
}

function boundFor(rings: readonly Ring[]): number {
  for (let bound = THINNED; ; bound *= 2) {
    const points = rings.reduce((sum, ring) => sum + thinned(ring, bound).length, 0);
    if (points <= MOST_POINTS || bound > 1) return bound;
  }
}

/** Rings thinned and rounded to a micrometre; what thins to less than a triangle is left out. */
function flat(region: Region, bound: number): number[][] {
  return region.rings
    .map((ring) =>
      thinned(ring, bound).flatMap((i) => [
        round(ring[2 * i] as number, 3),
        round(ring[2 * i + 1] as number, 3),
      ]),
    )
    .filter((ring) => ring.length >= 6);
}

function round(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  return Math.round(value * scale) / scale + 0;
}
