/** Outlines that give geometry trouble: degenerate, touching themselves, nearly equal, tiny, huge, and plain ones. */
import type { Chance } from './chance.ts';

export type Dot = readonly [number, number];
export type Outline = readonly Dot[];

/** In a frame of 100 x 100. */
const MIDDLE = 50;

const SHAPES: readonly ((chance: Chance) => Outline[])[] = [
  star,
  star,
  grid,
  grid,
  comb,
  arc,
  spiked,
  ringInRing,
  touching,
  bowTie,
  sliver,
  flat,
  (chance) => [scaled(star(chance)[0]!, chance.pick([1e-6, 1e-3, 0.02]))],
  (chance) => [scaled(star(chance)[0]!, chance.pick([20, 150, 900]))],
  (chance) => [fine(star(chance)[0]!, chance.count(2, 6))],
];

/** The pocket's outlines and the plug's: its mirror image, something near it, or something else. */
export function outlinePair(chance: Chance): [pocket: Outline[], plug: Outline[]] {
  const pocket = chance.some(1, 3, () => chance.pick(SHAPES)(chance)).flat();
  if (chance.oneIn(8)) pocket.push(chance.pick(pocket));
  if (chance.oneIn(10)) pocket.push(noisy(chance.pick(pocket), chance.pick([1e-9, 1e-6, 1e-3]), chance));
  const mirror = moved(pocket, ([x, y]) => [2 * MIDDLE - x, y]);
  return [pocket, plugOf(pocket, mirror, chance)];
}

/** One or two shapes that could be cut, if the bit is fine enough. */
export function calmOutlines(chance: Chance): Outline[] {
  const count = chance.pick([5, 24, 60]);
  const round = Array.from({ length: count }, (_, i): Dot => {
    const angle = (2 * Math.PI * i) / count;
    const far = 18 + 5 * chance.share();
    return [MIDDLE + far * Math.cos(angle), MIDDLE + 0.7 * far * Math.sin(angle)];
  });
  const hole = round.map(([x, y]): Dot => [MIDDLE + (x - MIDDLE) / 2, MIDDLE + (y - MIDDLE) / 2]).reverse();
  const bar: Outline = [
    [5, 5],
    [5 + 60 * chance.share(), 5],
    [40, 5 + chance.pick([0.8, 2, 12])],
    [5, 5 + chance.pick([0.8, 2, 12])],
  ];
  return chance.pick([[round], [round], [round, hole], [round, bar], [scaled(star(chance)[0]!, 3)]]);
}

function plugOf(pocket: Outline[], mirror: Outline[], chance: Chance): Outline[] {
  switch (chance.count(0, 11)) {
    case 0:
      return pocket;
    case 1:
      return chance.pick(SHAPES)(chance);
    case 2:
      return mirror.map((ring) => noisy(ring, chance.pick([1e-9, 1e-7, 1e-5, 1e-3, 0.02, 0.3]), chance));
    case 3:
      return turned(mirror, chance.pick([1e-7, 1e-4, 0.01, Math.PI / 2, Math.PI, chance.share() * 6]));
    case 4:
      return mirror.map((ring) => scaled(ring, chance.pick([1 + 1e-9, 1.0001, 1.002, 0.99, 25.4, 1 / 25.4])));
    case 5:
      return moved(mirror, ([x, y]) => [x * chance.pick([1.0005, 1.01]), y]);
    case 6:
      return mirror.slice(1).concat(chance.oneIn(2) ? chance.pick(SHAPES)(chance) : []);
    case 7:
      return mirror.map((ring) => [...ring.slice(1), ring[0]!].reverse());
    case 8:
      return mirror.map((ring) => fine(ring, 2));
    default:
      return mirror;
  }
}

const moved = (rings: readonly Outline[], by: (dot: Dot) => Dot): Outline[] =>
  rings.map((ring) => ring.map(by));
const scaled = (ring: Outline, by: number): Outline =>
  ring.map(([x, y]) => [MIDDLE + (x - MIDDLE) * by, MIDDLE + (y - MIDDLE) * by]);
const noisy = (ring: Outline, size: number, chance: Chance): Outline =>
  ring.map(([x, y]) => [x + (chance.share() - 0.5) * size, y + (chance.share() - 0.5) * size]);

function turned(rings: readonly Outline[], angle: number): Outline[] {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return moved(rings, ([x, y]) => [
    MIDDLE + (x - MIDDLE) * cos - (y - MIDDLE) * sin,
    MIDDLE + (x - MIDDLE) * sin + (y - MIDDLE) * cos,
  ]);
}

/** More points on the same edges. */
const fine = (ring: Outline, parts: number): Outline =>
  ring.flatMap(([x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length]!;
    return Array.from(
      { length: parts },
      (_, k): Dot => [x + ((u - x) * k) / parts, y + ((v - y) * k) / parts],
    );
  });

function star(chance: Chance): Outline[] {
  const [cx, cy] = [chance.count(20, 80), chance.count(20, 80)];
  const count = chance.count(3, 14);
  const wild = chance.oneIn(3);
  const ring = Array.from({ length: count }, (_, i): Dot => {
    const angle = (2 * Math.PI * i) / count;
    const far = 3 + chance.share() * (wild ? 30 : 8);
    return [cx + far * Math.cos(angle), cy + far * Math.sin(angle)];
  });
  return [chance.oneIn(4) ? ring.map(([x, y]): Dot => [Math.round(x), Math.round(y)]) : ring];
}

/** Points of a coarse grid: edges that lie on one another, points met again. */
function grid(chance: Chance): Outline[] {
  const step = chance.pick([4, 10, 0.05]);
  return [
    chance.some(3, 10, (): Dot => [MIDDLE + step * chance.count(-3, 3), MIDDLE + step * chance.count(-3, 3)]),
  ];
}

function comb(chance: Chance): Outline[] {
  const teeth = chance.count(2, 5);
  const gap = chance.pick([0.0001, 0.05, 0.3, 3]);
  const top: Dot[] = Array.from({ length: teeth }, (_, i): Dot[] => {
    const x = 20 + i * (6 + gap);
    return [
      [x, 30],
      [x + 6, 30],
      [x + 6, 60],
      [x + 6 + gap, 60],
    ];
  }).flat();
  return [[...top, [top.at(-1)![0], 70], [20, 70]]];
}

/** An arc of a circle, closed: a plain smooth outline. */
function arc(chance: Chance): Outline[] {
  const radius = chance.pick([0.1, 2, 8, 25]);
  const count = chance.count(8, 40);
  const share = chance.pick([1, 1, 0.5, 0.02]);
  return [
    Array.from({ length: count }, (_, i): Dot => {
      const angle = (2 * Math.PI * share * i) / count;
      return [MIDDLE + radius * Math.cos(angle), MIDDLE + radius * Math.sin(angle)];
    }),
  ];
}

/** A point that is nearly on the edge, or far out on a spike without width. */
function spiked(chance: Chance): Outline[] {
  const [ring] = star(chance) as [Outline];
  const [x, y] = ring[0]!;
  const out: Dot = [x + chance.count(-20, 20), y + chance.count(-20, 20)];
  const back: Dot = [x + chance.pick([0, 1e-9, 1e-6, 1e-3, 0.05]), y];
  return [[[x, y], out, back, ...ring.slice(1)]];
}

function ringInRing(chance: Chance): Outline[] {
  const [ring] = star(chance) as [Outline];
  const share = chance.pick([0.5, 0.9, 0.999, 1 - 1e-7, 1]);
  const [cx, cy] = ring.reduce<Dot>(([a, b], [x, y]) => [a + x / ring.length, b + y / ring.length], [0, 0]);
  const inner = ring.map(([x, y]): Dot => [cx + (x - cx) * share, cy + (y - cy) * share]);
  return [ring, chance.oneIn(2) ? inner : inner.toReversed()];
}

/** Two squares that share a corner, an edge, or a part of one. */
function touching(chance: Chance): Outline[] {
  const shift = chance.pick([0, 1e-7, -1e-7, 0.001, 0.04, -0.5]);
  const [dx, dy] = [chance.pick([10, 0]) + shift, chance.pick([10, 5, 0])];
  const square: Outline = [
    [40, 40],
    [50, 40],
    [50, 50],
    [40, 50],
  ];
  return [square, square.map(([x, y]): Dot => [x + dx, y + dy])];
}

function bowTie(chance: Chance): Outline[] {
  const half = chance.pick([0.01, 5, 20]);
  return [
    [
      [MIDDLE - half, MIDDLE - half],
      [MIDDLE + half, MIDDLE + half],
      [MIDDLE + half, MIDDLE - half],
      [MIDDLE - half, MIDDLE + half],
    ],
  ];
}

function sliver(chance: Chance): Outline[] {
  const width = chance.pick([1e-9, 1e-6, 0.001, 0.03, 0.2]);
  return [
    [
      [10, 10],
      [90, 20 + chance.count(0, 60)],
      [10, 10 + width],
    ],
  ];
}

/** All points on one line, or all in one place. */
function flat(chance: Chance): Outline[] {
  const [dx, dy] = chance.pick<Dot>([
    [0, 0],
    [1, 0],
    [0.3, 0.7],
    [1e-9, 1e-9],
  ]);
  return [chance.some(1, 6, (i): Dot => [30 + i * dx, 30 + i * dy])];
}
