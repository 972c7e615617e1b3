import { subtract, union, xor } from '../../src/geometry/combine.ts';
import { SegmentTree } from '../../src/geometry/nearest.ts';
import { grow } from '../../src/geometry/offset.ts';
import { area } from '../../src/geometry/region.ts';
import { boxOf, signedArea } from '../../src/geometry/ring.ts';
import type { Point, Region } from '../../src/geometry/shapes.ts';
import { type Design, PAGE, piecesOf } from './designs.ts';
import { drawn, mirrored, moved, type Pair, pathOf, svg } from './drawing.ts';

/** A fault put into a pair; `at` is where, in the drawing of `side`, and `reach` how far from there it goes, mm. */
export interface Planted {
  readonly pair: Pair;
  readonly side?: 'pocket' | 'plug';
  readonly at?: Point;
  readonly reach?: number;
  /** The pair without the fault, where the job differs from the sound one besides. */
  readonly whole?: Pair;
}

/**
 * What a size of a fault should come to: nothing at all, at least a warning, or a failure; `either` stands between
 * the sizes where something is due, to see from where on it is always found.
 */
export type Due = 'nothing' | 'either' | 'care' | 'fail';

/** One kind of fault at graded sizes, with the checks of which one at least has to tell it. */
export interface FaultKind {
  readonly name: string;
  readonly unit: string;
  readonly checks: readonly string[];
  readonly sizes: readonly (readonly [size: number, due: Due])[];
  /** Undefined when this design gives no occasion for the fault. */
  readonly plant: (design: Design, size: number, random: () => number) => Planted | undefined;
}

const TIP = 0.05;
const job = { 'bit.tip-flat': TIP };

export function sound({ region }: Design): Pair {
  return { pocket: drawn(region), plug: drawn(mirrored(region)), job };
}

/** The plug of a design replaced by another one. */
function plug(design: Design, region: Region): Pair {
  return { ...sound(design), plug: drawn(region) };
}

/** The same change in both drawings. */
function both(region: Region, more: Readonly<Record<string, unknown>> = {}): Pair {
  return { pocket: drawn(region), plug: drawn(mirrored(region)), job: { ...job, ...more } };
}

function setting(name: string, key: string, checks: readonly string[], sizes: FaultKind['sizes']): FaultKind {
  return {
    name,
    unit: 'mm',
    checks,
    sizes,
    plant: (design, size) => ({ pair: { ...sound(design), job: { ...job, [key]: size } } }),
  };
}

const inPlug = (region: Region): Region => mirrored(region);
const flip = ([x, y]: Point): Point => [PAGE - x, y];

export function box(left: number, top: number, width: number, height: number): Region {
  return {
    rings: [Float64Array.of(left, top, left + width, top, left + width, top + height, left, top + height)],
  };
}

/** Whether a disc of this radius, mm, reaches all of a design, and all round it. */
function takesDisc(region: Region, radius: number): boolean {
  const lost = [-radius, radius].map((by) => Math.abs(area(grow(grow(region, by), -by)) - area(region)));
  return Math.max(...lost) < 0.1;
}

/** The middle of some outlines, and how far they go from there. */
function spanOf(rings: Region['rings']): { readonly at: Point; readonly reach: number } {
  const { minX, maxX, minY, maxY } = boxOf(rings);
  return {
    at: [(minX + maxX) / 2, (minY + maxY) / 2],
    reach: Math.hypot(maxX - minX, maxY - minY) / 2,
  };
}

function disc([x, y]: Point, radius: number): Region {
  const points = Array.from({ length: 240 }, (_, k) => (k * Math.PI) / 120);
  return {
    rings: [Float64Array.from(points.flatMap((a) => [x + radius * Math.cos(a), y + radius * Math.sin(a)]))],
  };
}

/** The wall nearest to the roomiest place, and the way out of the wood there. */
function onWall({ region, roomy }: Design): { readonly at: Point; readonly out: Point } {
  const tree = new SegmentTree(region.rings);
  const at: [number, number] = [0, 0];
  tree.foot(tree.nearest(...roomy.at), ...roomy.at, at);
  const far = Math.hypot(at[0] - roomy.at[0], at[1] - roomy.at[1]);
  return { at, out: [(at[0] - roomy.at[0]) / far, (at[1] - roomy.at[1]) / far] };
}

/** Nearer to its own mirror image than this, a design is no good for telling a copy, mm; several times the limit. */
const NEARLY = 0.5;

/**
 * How far a design is from its own mirror image, mm: turned over about every axis through the middle of its area, as
 * an axis of symmetry must lie, by steps of a quarter degree; the largest distance of any corner.
 */
function ownMirror({ rings }: Region): number {
  const tree = new SegmentTree(rings);
  const [cx, cy] = middleOf(rings);
  let best = Number.POSITIVE_INFINITY;
  for (let step = 0; step < 1440; step++) {
    const [c, s] = [Math.cos((step * Math.PI) / 720), Math.sin((step * Math.PI) / 720)];
    let most = 0;
    for (const ring of rings)
      for (let k = 0; k < ring.length && most < best; k += 2) {
        const [dx, dy] = [(ring[k] as number) - cx, (ring[k + 1] as number) - cy];
        most = Math.max(most, far(tree, cx + c * dx + s * dy, cy + s * dx - c * dy));
      }
    best = Math.min(best, most);
  }
  return best;
}

function far(tree: SegmentTree, x: number, y: number): number {
  return Math.sqrt(tree.d2(tree.nearest(x, y), x, y));
}

function middleOf(rings: Region['rings']): Point {
  let [area, x, y] = [0, 0, 0];
  for (const ring of rings)
    for (let k = 0, j = ring.length - 2; k < ring.length; j = k, k += 2) {
      const [ax, ay, bx, by] = [ring[j], ring[j + 1], ring[k], ring[k + 1]] as [
        number,
        number,
        number,
        number,
      ];
      const cross = ax * by - ay * bx;
      area += 3 * cross;
      x += (ax + bx) * cross;
      y += (ay + by) * cross;
    }
  return [x / area, y / area];
}

/**
 * The plug of a design changed by a disc at its wall, most at `at`; undefined where another wall lies nearer to that, or
 * the disc goes further than `size` mm into a bend of this one, and so is a larger fault somewhere else.
 */
function dented(design: Design, changed: Region, size: number, at: Point): Planted | undefined {
  const tree = new SegmentTree(design.region.rings);
  const most = xor(design.region, changed).rings.flatMap((ring) =>
    Array.from({ length: ring.length / 2 }, (_, k) => {
      const corner: Point = [ring[2 * k] as number, ring[2 * k + 1] as number];
      return { corner, off: far(tree, ...corner) };
    }),
  );
  const worst = most.reduce((a, b) => (b.off > a.off ? b : a), { corner: at, off: far(tree, ...at) });
  if (worst.off > 1.02 * size || far(tree, ...at) < 0.98 * size) return undefined;
  return { pair: plug(design, inPlug(changed)), side: 'plug', at: flip(worst.corner) };
}

const scaledBy = (region: Region, x: number, y: number): Region =>
  moved(region, (px, py) => [PAGE / 2 + x * (px - PAGE / 2), PAGE / 2 + y * (py - PAGE / 2)]);

/** Ends moved by this are past every limit of a match, mm. */
const LEAST_MOVED = 0.12;

const SCALES = [
  [1.0002, 'nothing'],
  [1.0025, 'fail'],
  [0.9975, 'fail'],
  [1.01, 'fail'],
  [1.0006, 'either'],
  [1.001, 'either'],
  [1.0015, 'either'],
  [25.4, 'fail'],
  [1 / 25.4, 'fail'],
  [96 / 72, 'fail'],
  [0.75, 'fail'],
  [90 / 96, 'fail'],
] as const;

export const CATALOGUE: readonly FaultKind[] = [
  {
    name: 'plug drawn as a copy',
    unit: 'deg',
    checks: ['pair.mirror'],
    sizes: [
      [0, 'fail'],
      [5, 'fail'],
      [90, 'fail'],
      [180, 'fail'],
    ],
    plant: (design, size) => {
      // Its own mirror image copied is as good as mirrored.
      if (ownMirror(design.region) < NEARLY) return undefined;
      const a = (size * Math.PI) / 180;
      const [c, s] = [Math.cos(a), Math.sin(a)];
      const mid = PAGE / 2;
      const turned = moved(design.region, (x, y) => [
        mid + c * (x - mid) - s * (y - mid),
        mid + s * (x - mid) + c * (y - mid),
      ]);
      return { pair: plug(design, turned) };
    },
  },
  {
    name: 'plug at another scale',
    unit: 'times',
    checks: ['artwork.size', 'pair.match'],
    sizes: SCALES,
    plant: (design, size) => ({ pair: plug(design, scaledBy(inPlug(design.region), size, size)) }),
  },
  {
    name: 'plug stretched along x',
    unit: 'times',
    checks: ['artwork.size', 'pair.match'],
    sizes: SCALES.slice(0, 7),
    plant: (design, size) => {
      const { minX, maxX } = boxOf(design.region.rings);
      // In a narrow design a small stretch moves nothing by more than is allowed: each end goes half the way.
      const step = Math.abs(size - 1);
      if (step > 0.002 && step * (maxX - minX) < 2 * LEAST_MOVED) return undefined;
      return { pair: plug(design, scaledBy(inPlug(design.region), size, 1)) };
    },
  },
  {
    name: 'plug offset all round',
    unit: 'mm',
    checks: ['pair.match'],
    sizes: [
      [0.02, 'either'],
      [0.04, 'either'],
      [0.08, 'care'],
      [-0.08, 'care'],
      [0.15, 'fail'],
      [-0.15, 'fail'],
      [0.5, 'fail'],
    ],
    plant: (design, size) => ({ pair: plug(design, grow(inPlug(design.region), size)) }),
  },
  {
    name: 'piece moved in the plug',
    unit: 'mm',
    checks: ['pair.match'],
    sizes: [
      [0.02, 'nothing'],
      [0.05, 'either'],
      [0.12, 'either'],
      [0.25, 'fail'],
      [1, 'fail'],
      [5, 'fail'],
    ],
    plant: (design, size, random) => {
      const [first, ...pieces] = piecesOf(design.region);
      const piece = pieces[Math.floor(random() * pieces.length)];
      if (piece === undefined || first === undefined) return undefined;
      const rest = [first, ...pieces.filter((one) => one !== piece)];
      const angle = 2 * Math.PI * random();
      const shifted = moved(piece, (x, y) => [x + size * Math.cos(angle), y + size * Math.sin(angle)]);
      if (
        subtract(shifted, { rings: rest.flatMap((one) => one.rings) }).rings.length !== shifted.rings.length
      )
        return undefined;
      const whole = { rings: [...rest, shifted].flatMap((one) => one.rings) };
      return { pair: plug(design, inPlug(whole)) };
    },
  },
  {
    name: 'piece left out of the plug',
    unit: 'rank',
    checks: ['pair.match'],
    sizes: [
      [1, 'fail'],
      [2, 'fail'],
      [-1, 'fail'],
    ],
    plant: (design, size) => {
      const pieces = piecesOf(design.region);
      const gone = pieces.at(size);
      if (pieces.length < 2 || gone === undefined || gone === pieces[0]) return undefined;
      const left = { rings: pieces.filter((one) => one !== gone).flatMap((one) => one.rings) };
      return { pair: plug(design, inPlug(left)), side: 'pocket', ...spanOf(gone.rings) };
    },
  },
  {
    name: 'hole left out of the plug',
    unit: 'rank',
    checks: ['pair.match'],
    sizes: [
      [0, 'fail'],
      [-1, 'fail'],
    ],
    plant: (design, size) => {
      const holes = design.region.rings.filter((ring) => signedArea(ring) < 0);
      const gone = holes.at(size);
      if (gone === undefined) return undefined;
      const left = { rings: design.region.rings.filter((ring) => ring !== gone) };
      return { pair: plug(design, inPlug(left)), side: 'pocket', ...spanOf([gone]) };
    },
  },
  {
    name: 'piece only the plug has',
    unit: 'mm square',
    checks: ['pair.match', 'artwork.clean'],
    sizes: [
      [0.1, 'fail'],
      [0.3, 'fail'],
      [1, 'fail'],
      [5, 'fail'],
    ],
    plant: (design, size) => {
      const added = box(3, 5, size, size);
      return {
        pair: plug(design, { rings: [...inPlug(design.region).rings, ...added.rings] }),
        side: 'plug',
        ...spanOf(added.rings),
      };
    },
  },
  {
    name: 'outline of the plug bulged',
    unit: 'mm',
    checks: ['pair.match'],
    sizes: [
      [0.02, 'nothing'],
      [0.06, 'either'],
      [0.1, 'either'],
      [0.15, 'fail'],
      [0.5, 'fail'],
      [2, 'fail'],
    ],
    plant: (design, size) => {
      const { at, out } = onWall(design);
      const round: Point = [at[0] + (size - 1.5) * out[0], at[1] + (size - 1.5) * out[1]];
      const tip: Point = [at[0] + size * out[0], at[1] + size * out[1]];
      return dented(design, union(design.region, disc(round, 1.5)), size, tip);
    },
  },
  {
    name: 'outline of the plug bitten',
    unit: 'mm',
    checks: ['pair.match'],
    sizes: [
      [0.02, 'nothing'],
      [0.06, 'either'],
      [0.1, 'either'],
      [0.15, 'fail'],
      [0.5, 'fail'],
      [1, 'fail'],
    ],
    plant: (design, size) => {
      const { at, out } = onWall(design);
      const round: Point = [at[0] + (1.5 - size) * out[0], at[1] + (1.5 - size) * out[1]];
      const deepest: Point = [at[0] - size * out[0], at[1] - size * out[1]];
      return dented(design, subtract(design.region, disc(round, 1.5)), size, deepest);
    },
  },
  {
    name: 'stroke of its own, tip 0.05',
    unit: 'mm wide',
    checks: ['bit.tip'],
    sizes: [
      [0.03, 'fail'],
      [0.038, 'fail'],
      [0.07, 'care'],
      [0.15, 'nothing'],
    ],
    plant: (design, size) => {
      const bar = box(3, 4, size, 9);
      const pair = both(
        { rings: [...design.region.rings, ...bar.rings] },
        { 'limits.sliver-width-least': 0.001 },
      );
      return { pair, side: 'pocket', at: [3 + size / 2, 8.5], reach: 4.5 };
    },
  },
  {
    name: 'neck between two places, tip 0.05',
    unit: 'mm wide',
    checks: ['bit.tip'],
    sizes: [
      [0.02, 'fail'],
      [0.035, 'fail'],
      [0.07, 'care'],
      [0.15, 'nothing'],
    ],
    plant: (design, size) => {
      const neck = union(union(box(3, 3, 5, 4), box(3, 11, 5, 4)), box(5, 6, size, 6));
      return {
        pair: both({ rings: [...design.region.rings, ...neck.rings] }),
        side: 'pocket',
        at: [5 + size / 2, 9],
        reach: 2,
      };
    },
  },
  {
    name: 'slot inside the plug, tip 0.05',
    unit: 'mm wide',
    checks: ['bit.between'],
    sizes: [
      [0.02, 'fail'],
      [0.035, 'fail'],
      [0.07, 'care'],
      [0.15, 'nothing'],
    ],
    plant: (design, size) => {
      const { at, radius } = design.roomy;
      const slot = box(at[0] - size / 2, at[1] - 0.6 * radius, size, 1.2 * radius);
      const pair = both(subtract(design.region, slot), { 'limits.sliver-width-least': 0.001 });
      return { pair, side: 'plug', at: flip(at), reach: 0.6 * radius };
    },
  },
  {
    name: 'slot from the rim inwards, tip 0.05',
    unit: 'mm wide',
    checks: ['bit.between'],
    sizes: [
      [0.02, 'fail'],
      [0.035, 'fail'],
      [0.07, 'care'],
      [0.15, 'nothing'],
    ],
    plant: (design, size) => {
      const block = subtract(box(3, 3, 8, 8), box(7 - size / 2, 5, size, 8));
      return {
        pair: both({ rings: [...design.region.rings, ...block.rings] }),
        side: 'plug',
        at: flip([7, 8]),
        reach: 3,
      };
    },
  },
  {
    name: 'two pieces too near, tip 0.05',
    unit: 'mm apart',
    checks: ['bit.between', 'artwork.clean'],
    sizes: [
      [0.01, 'fail'],
      [0.035, 'fail'],
      [0.07, 'care'],
      [0.15, 'nothing'],
    ],
    plant: (design, size) => {
      const near = [...box(3, 3, 5, 4).rings, ...box(3, 7 + size, 5, 4).rings];
      return {
        pair: both({ rings: [...design.region.rings, ...near] }),
        side: 'plug',
        at: flip([5.5, 7]),
        reach: 2.5,
      };
    },
  },
  {
    name: "board's spike in a notch, tip 0.05",
    unit: 'deg',
    checks: ['fit.proud', 'fit.rim'],
    // r (1/sin(half) - 1), r = 0.025 mm: physics of the reflex corner, checked by the sweep in tests/carve.
    sizes: [
      [5, 'fail'],
      [10, 'fail'],
      [20, 'fail'],
      // At the limit a wide plug gives way: a tilt lowers it there by more than it raises it elsewhere.
      [25, 'either'],
      [90, 'nothing'],
    ],
    plant: (design, size) => {
      const half = Math.tan((size * Math.PI) / 360) * 6;
      const wedge = { rings: [Float64Array.of(10, 15, 10 - half, 9, 10 + half, 9)] };
      const block = subtract(box(3, 10, 14, 10), wedge);
      return {
        pair: both({ rings: [...design.region.rings, ...block.rings] }),
      };
    },
  },
  ...(['pocket', 'plug'] as const).flatMap((side): FaultKind[] => [
    {
      name: `open end in the ${side}`,
      unit: 'mm',
      checks: ['artwork.closed'],
      sizes: [
        [0.005, 'nothing'],
        [0.008, 'either'],
        [0.012, 'either'],
        [0.02, 'fail'],
        [0.2, 'fail'],
        [2, 'fail'],
      ],
      plant: (design, size) => {
        const inner = `${pathOf(design.region)}<path d="M5 5H12V12H5V${5 + size}"/>`;
        const shut = `${pathOf(design.region)}<path d="M5 5H12V12H5Z"/>`;
        return inOne(side, inner, shut, [5, 5 + size / 2]);
      },
    },
    {
      name: `outline of the ${side} crosses itself`,
      unit: 'mm',
      checks: ['artwork.clean'],
      sizes: [
        [0.1, 'fail'],
        [0.5, 'fail'],
        [3, 'fail'],
      ],
      plant: (design, size) => {
        const loop = `M5 5H${12 + size}L12 ${5 - size}V15H5Z`;
        return inOne(
          side,
          `${pathOf(design.region)}<path d="${loop}"/>`,
          `${pathOf(design.region)}<path d="${loop}"/>`,
          [12, 5],
        );
      },
    },
    {
      name: `outline of the ${side} drawn twice, shifted`,
      unit: 'mm',
      checks: ['artwork.clean'],
      sizes: [
        [0, 'fail'],
        [0.005, 'fail'],
        [0.05, 'fail'],
        [0.3, 'fail'],
      ],
      plant: (design, size) => {
        const once = `${pathOf(design.region)}<rect x="5" y="5" width="9" height="7"/>`;
        const twice = `${once}<rect x="${5 + size}" y="${5 + size}" width="9" height="7"/>`;
        return inOne(side, twice, once, [9, 8]);
      },
    },
    {
      name: `speck in the ${side}`,
      unit: 'mm square',
      checks: ['artwork.clean'],
      sizes: [
        [0.01, 'fail'],
        [0.1, 'fail'],
        [0.2, 'fail'],
      ],
      plant: (design, size) =>
        inOne(
          side,
          `${pathOf(design.region)}<rect x="5" y="5" width="${size}" height="${size}"/>`,
          pathOf(design.region),
          [5, 5],
        ),
    },
    {
      name: `text left in the ${side}`,
      unit: 'mm high',
      checks: ['artwork.read'],
      sizes: [[6, 'fail']],
      plant: (design, size) =>
        inOne(
          side,
          `${pathOf(design.region)}<text x="5" y="12" font-size="${size}">fern</text>`,
          pathOf(design.region),
        ),
    },
    {
      name: `size lost from the ${side}`,
      unit: 'px',
      checks: ['artwork.size'],
      sizes: [
        [1, 'care'],
        [0, 'fail'],
      ],
      plant: (design, size) => {
        const pixels = (PAGE / 25.4) * 96;
        const frame =
          size === 1
            ? `width="${pixels}" height="${pixels}" viewBox="0 0 ${PAGE} ${PAGE}"`
            : `viewBox="0 0 ${PAGE} ${PAGE}"`;
        const here = side === 'plug' ? inPlug(design.region) : design.region;
        return { pair: { ...sound(design), [side]: svg(pathOf(here), frame) } };
      },
    },
  ]),
  setting(
    'pocket flat depth',
    'pocket.flat-depth',
    ['depth.glue', 'depth.board'],
    [
      [4.9, 'fail'],
      [5.1, 'fail'],
      [5.3, 'care'],
      [9.5, 'care'],
      [18, 'fail'],
      [76, 'fail'],
    ],
  ),
  setting(
    'plug start depth',
    'plug.start-depth',
    ['depth.mating', 'depth.glue'],
    [
      [0, 'fail'],
      [0.5, 'fail'],
      [2, 'care'],
      [7.3, 'care'],
      [7.5, 'fail'],
      [50, 'fail'],
    ],
  ),
  setting(
    'plug flat depth',
    'plug.flat-depth',
    ['depth.saw', 'depth.plug-stock'],
    [
      [0.5, 'fail'],
      [11, 'care'],
      [26, 'fail'],
    ],
  ),
  setting(
    'pocket start depth',
    'pocket.start-depth',
    ['depth.saw', 'depth.mating', 'depth.glue'],
    [[2.5, 'fail']],
  ),
  setting(
    'board thickness',
    'pocket.stock.thickness',
    ['depth.board'],
    [
      [7.6, 'fail'],
      [9, 'fail'],
      [10, 'care'],
    ],
  ),
  setting(
    'plug stock thickness',
    'plug.stock.thickness',
    ['depth.plug-stock'],
    [
      [7.6, 'fail'],
      [9, 'fail'],
      [10, 'care'],
    ],
  ),
  setting(
    'cutting length',
    'bit.cutting-length',
    ['bit.reach'],
    [
      [5, 'fail'],
      [7.5, 'fail'],
    ],
  ),
  setting(
    'cutting diameter',
    'bit.cutting-diameter',
    ['bit.reach'],
    [
      [2, 'fail'],
      [4, 'fail'],
    ],
  ),
  {
    ...setting(
      'tip flat',
      'bit.tip-flat',
      ['bit.tip', 'bit.between', 'fit.proud', 'fit.rim'],
      [
        // A rounded design has no place finer than twice this tip.
        [1, 'either'],
        [3, 'fail'],
      ],
    ),
    // A die with broad round pips takes even the widest tip.
    plant: ({ region, ...design }, size) =>
      takesDisc(region, size / 2)
        ? undefined
        : { pair: { ...sound({ region, ...design }), job: { ...job, 'bit.tip-flat': size } } },
  },
  setting(
    'saw kerf',
    'saw.kerf',
    ['depth.saw'],
    [
      [2.3, 'care'],
      [3, 'fail'],
    ],
  ),
  {
    name: 'plug stock too narrow',
    unit: 'mm beside the design',
    checks: ['stock.margin'],
    sizes: [
      [-5, 'fail'],
      [1, 'fail'],
      [20, 'nothing'],
    ],
    plant: (design, size) => {
      const { minX, maxX } = boxOf(design.region.rings);
      return { pair: { ...sound(design), job: { ...job, 'plug.stock.width': maxX - minX + 2 * size } } };
    },
  },
  {
    name: 'plug cut at a flatter angle than the pocket',
    unit: 'deg',
    checks: ['wear.sanding'],
    sizes: [
      [60, 'fail'],
      [38, 'care'],
      [31, 'nothing'],
    ],
    plant: (design, size) => {
      const bit = {
        angle: size,
        'tip-flat': TIP,
        'cutting-length': 20,
        'cutting-diameter': 12.7,
        shank: 6.35,
      };
      const whole = { ...sound(design), job: { ...job, 'limits.sanding-least': 1 } };
      return { pair: { ...whole, job: { ...whole.job, 'plug-bit': bit } }, whole };
    },
  },
  {
    name: 'a node of the plug dragged away',
    unit: 'mm',
    checks: ['pair.match', 'pair.mirror', 'artwork.clean'],
    sizes: [
      [0.02, 'nothing'],
      [0.1, 'either'],
      [0.25, 'fail'],
      [1, 'fail'],
    ],
    // Straight edges beside it, or the node of a fine curve would pull almost nothing along.
    plant: (design, size) => {
      const block = (far: number) => ({
        rings: [...design.region.rings, Float64Array.of(3, 3, 13 + far, 3 - far, 13, 13, 3, 13)],
      });
      return {
        pair: { ...both(block(0)), plug: drawn(inPlug(block(size / Math.SQRT2))) },
        side: 'plug',
        at: flip([13 + size / Math.SQRT2, 3 - size / Math.SQRT2]),
      };
    },
  },
  {
    name: 'thin island across the grain',
    unit: 'mm wide',
    checks: ['plug.breakage'],
    // Short grain has no published strength of its own, so the page promises no more than a warning.
    sizes: [
      [0.4, 'care'],
      [0.8, 'care'],
      [1.2, 'either'],
      [2, 'either'],
      [8, 'nothing'],
    ],
    plant: (design, size) => {
      const island = box(3, 3, size, 10);
      const more = { 'limits.side-load': 0.7, 'plug.stock.grain-angle': 0 };
      return {
        pair: both({ rings: [...design.region.rings, ...island.rings] }, more),
        whole: both(design.region, more),
        side: 'plug',
        at: flip([3 + size / 2, 8]),
        reach: 5 + size / 2,
      };
    },
  },
  {
    name: 'toolpath computed for another tip',
    unit: 'mm flat',
    checks: ['fit.proud', 'fit.rim'],
    // Half the difference of the flats moves each wall: 0.25 mm on either side stands proud by 0.5 / tan 15.
    sizes: [
      [0.05, 'nothing'],
      [0.1, 'either'],
      [0.55, 'fail'],
      [1.05, 'fail'],
    ],
    plant: (design, size) => ({ pair: { ...sound(design), job: { ...job, 'bit.toolpath-tip-flat': size } } }),
  },
  {
    name: 'toolpath computed for another angle',
    unit: 'deg',
    checks: ['fit.proud', 'fit.rim'],
    sizes: [
      [30, 'nothing'],
      [31, 'either'],
      [40, 'fail'],
      [60, 'fail'],
    ],
    plant: (design, size) => ({ pair: { ...sound(design), job: { ...job, 'bit.toolpath-angle': size } } }),
  },
  {
    name: 'clamp in the way',
    unit: 'mm over',
    checks: ['stock.margin'],
    sizes: [
      [1, 'fail'],
      [-15, 'nothing'],
    ],
    plant: (design, size) => {
      const { minX, minY, maxY } = boxOf(inPlug(design.region).rings);
      const clamp = {
        part: 'plug',
        name: 'clamp',
        box: { left: minX - 30 + size, top: minY, width: 30, length: maxY - minY },
      };
      return { pair: { ...sound(design), job: { ...job, 'keep-out': [clamp] } } };
    },
  },
];

/** `faulty` in one drawing and `whole` in the other; `at` is in the pocket's frame. */
function inOne(side: 'pocket' | 'plug', faulty: string, whole: string, at?: Point): Planted {
  const turned = (inner: string) => `<g transform="translate(${PAGE} 0) scale(-1 1)">${inner}</g>`;
  return {
    // The things planted in one drawing are at most so large.
    reach: 6,
    pair: {
      pocket: svg(side === 'pocket' ? faulty : whole),
      plug: svg(turned(side === 'plug' ? faulty : whole)),
      job,
    },
    side,
    ...(at === undefined ? {} : { at: side === 'plug' ? flip(at) : at }),
  };
}
