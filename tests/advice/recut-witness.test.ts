/**
 * The proposed growth against brute-force cutting: the first pocket, the hurt wood round and below it and the second
 * pocket as height fields, each swept by the bit over a fine grid of centres. The sweep shares no code with the model
 * (tests/witness/sweep.ts). Its cuts are at most 1.44 pitches too small sideways, never too large.
 */
import { describe, expect, it } from 'vitest';
import { readArtwork } from '../../src/artwork/read.ts';
import { grow } from '../../src/geometry/offset.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import { tidy } from '../../src/geometry/tidy.ts';
import { degrees } from '../../src/units.ts';
import { SHAPES } from '../witness/shapes.ts';
import { type Bit, type Columns, columnsOver, type Outline, sweep } from '../witness/sweep.ts';
import { type Design, laid, recutOf } from './recut-jobs.ts';

const FULL = process.env['DRYFIT_FULL_WITNESS'] === '1';

interface Case extends Design {
  readonly name: string;
  readonly old: Bit;
  readonly fresh: Bit;
  readonly hurt: number;
  readonly place: number;
  readonly below: number;
  readonly tooDeep: number;
  readonly zero: number;
}

const cone = (angle: number, tipFlat: number): Bit => ({ t: Math.tan(degrees(angle / 2)), r: tipFlat / 2 });

function ballBit(angle: number, ball: number): Bit {
  const half = degrees(angle / 2);
  return { t: Math.tan(half), r: (ball * (1 - Math.sin(half))) / Math.cos(half), ball };
}

const bar = (x: number, y: number, w: number, h: number): Outline[number] => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
];

const circle = (r: number, turn: 1 | -1): Outline[number] =>
  Array.from({ length: 72 }, (_, k) => [
    r * Math.cos(degrees(5 * k * turn)),
    r * Math.sin(degrees(5 * k * turn)),
  ]);

const MORE_SHAPES: Readonly<Record<string, Outline>> = {
  ring: [circle(2, 1), circle(1, -1)],
  'comb of thin strokes': [bar(0, 0, 0.4, 3), bar(1.2, 0, 0.55, 3), bar(2.6, 0, 0.7, 3)],
};

/** Shallow cuts, so that a sweep takes seconds; the limit for deeper walls is set to them. */
const FLAT = 2;
const SHALLOW = 'limits: { mating-depth-least: 1, mating-depth-least-hard: 0.5 }\n';

function design(name: string, old: Bit, given: Partial<Case> & Pick<Case, 'seen'>): Case {
  const shape = SHAPES[name] ?? MORE_SHAPES[name];
  if (shape === undefined) throw new Error(`no shape ${name}`);
  const nothing = { hurt: 0, place: 0, below: 0, tooDeep: 0, zero: 0 };
  return {
    name,
    outline: shape,
    scale: 2,
    flat: FLAT,
    mating: 1.2,
    more: SHALLOW,
    old,
    fresh: old,
    ...nothing,
    ...given,
  };
}

/** Ten designs; between them every kind of edge, tip and mishap. Lengths mm. */
const CASES: readonly Case[] = [
  design('disc', cone(30, 0.1), {
    seen: { glue: '0', damage: '0.5', 'setup-shift': '0.1', 'setup-zero': '0' },
    hurt: 0.5,
    place: 0.1,
  }),
  design('rectangle', cone(60, 0.2), {
    angle: 60,
    tip: 'tip-flat: 0.2',
    seen: { glue: '0', damage: '0.3', 'setup-shift': '0.2', 'setup-zero': '0.3' },
    hurt: 0.3,
    place: 0.2,
    zero: 0.3,
  }),
  design('acute triangle', cone(30, 0.1), {
    seen: { glue: '0', gap: '0.2', damage: '0.2', 'setup-shift': '0.2', 'setup-zero': '0' },
    hurt: 0.4,
    place: 0.2,
  }),
  design('star', cone(30, 0.2), {
    tip: 'tip-flat: 0.2',
    seen: { glue: '0', damage: '0.4', 'setup-shift': '0.2', 'setup-zero': '0', 'pocket-too-deep': '0.5' },
    hurt: 0.4,
    place: 0.2,
    tooDeep: 0.5,
  }),
  design('notch', cone(30, 0), {
    tip: 'tip-flat: 0',
    seen: { glue: '0', damage: '0.4', 'setup-shift': '0.2', 'setup-zero': '0.2', 'floor-damage': '0.4' },
    hurt: 0.4,
    place: 0.2,
    below: 0.4,
    zero: 0.2,
  }),
  design('letter T', cone(30, 0.1), {
    seen: { glue: '0', damage: '0.6', 'setup-shift': '0.2', 'setup-zero': '0', 'pocket-too-shallow': '0.6' },
    hurt: 0.6,
    place: 0.2,
    tooDeep: -0.6,
  }),
  design('lens', ballBit(30, 0.1), {
    scale: 4,
    tip: 'tip-radius: 0.1',
    seen: { glue: '0', damage: '0.4', 'setup-shift': '0.2', 'setup-zero': '0' },
    hurt: 0.4,
    place: 0.2,
  }),
  design('letter with a counter', cone(30, 0.1), {
    scale: 4,
    seen: { glue: '0', damage: '0.4', 'setup-shift': '0.15', 'setup-zero': '0' },
    hurt: 0.4,
    place: 0.15,
  }),
  design('ring', cone(30, 0.1), {
    seen: { glue: '0', damage: '0.2', 'setup-shift': '0.1', 'setup-zero': '0' },
    file: 'glue: 0\nsetup-shift: 0\nbit: { angle: 36 deg, tip-flat: 0.1, cutting-length: 20, cutting-diameter: 12 }\n',
    fresh: cone(36, 0.1),
    hurt: 0.2,
    place: 0.1,
  }),
  design('comb of thin strokes', cone(30, 0.1), {
    seen: { glue: '0', damage: '0.3', 'setup-shift': '0.1', 'setup-zero': '0' },
    file: 'glue: 0\nsetup-shift: 0\nbit: { angle: 45 deg, tip-flat: 0.1, cutting-length: 20, cutting-diameter: 12 }\n',
    fresh: cone(45, 0.1),
    hurt: 0.3,
    place: 0.1,
  }),
];
/** Three each run, a plain one, one with every depth error, one with another bit; all ten with DRYFIT_FULL_WITNESS=1. */
const chosen = FULL
  ? CASES
  : CASES.filter(({ name }) => ['disc', 'notch', 'comb of thin strokes'].includes(name));
const PITCH = FULL ? 0.012 : 0.02;

const outlineOf = ({ rings }: Region): Outline =>
  rings.map((ring) =>
    Array.from(
      { length: ring.length / 2 },
      (_, k) => [ring[2 * k] as number, ring[2 * k + 1] as number] as const,
    ),
  );

/** The greatest depth within a distance of each column: what lies there may lie here. */
function within(depth: Float64Array, { across, down, pitch }: Columns, far: number): Float64Array {
  const cells = Math.floor(far / pitch);
  const out = Float64Array.from(depth);
  for (let dj = -cells; dj <= cells; dj++) {
    const di = Math.floor(Math.sqrt(Math.max(0, (far / pitch) ** 2 - dj * dj)));
    for (let j = Math.max(0, -dj); j < Math.min(down, down - dj); j++)
      for (let i = 0; i < across; i++) {
        const here = depth[j * across + i] as number;
        if (here === 0) continue;
        const row = (j + dj) * across;
        for (let k = Math.max(0, i - di); k <= Math.min(across - 1, i + di); k++)
          if (here > (out[row + k] as number)) out[row + k] = here;
      }
  }
  return out;
}

/** How deep everything must be gone: old pocket, hurt wood beside and below it, wherever the board may lie. */
function needOf(
  { old, flat = FLAT, hurt, place, below, tooDeep }: Case,
  outline: Outline,
  columns: Columns,
): Float64Array {
  const swept = sweep(outline, true, old, 0, flat, columns);
  // Too deep: the same bit on the same path, all lower; what it then takes above the outline is a wider mouth.
  const depth = lowered(swept, outline, old, flat, tooDeep, columns);
  const beside = within(depth, columns, hurt + place);
  const under = within(depth, columns, place);
  return beside.map((deep, k) => {
    const lower = under[k] as number;
    return Math.max(deep, lower > 0 ? lower + below : 0);
  });
}

function lowered(
  swept: Float64Array,
  outline: Outline,
  bit: Bit,
  flat: number,
  by: number,
  columns: Columns,
): Float64Array {
  if (by === 0) return swept;
  if (by < 0) return swept.map((deep) => Math.max(0, deep + by));
  // A start depth is exactly this: the surface taken to lie so much lower.
  return sweep(outline, true, bit, by, flat, columns);
}

/** The most that is left, sideways, mm. */
function leftOver(need: Float64Array, cut: Float64Array, zero: number, t: number): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < need.length; k++)
    if ((need[k] as number) > 0)
      most = Math.max(most, ((need[k] as number) - Math.max(0, (cut[k] as number) - zero)) * t);
  return most;
}

describe('a second cut against brute-force cutting', () => {
  it.each(chosen)(
    '$name: all gone at the growth proposed, not at nine tenths of it',
    { timeout: 600_000 },
    (one) => {
      const plan = recutOf(one);
      expect(plan.pair).toBeDefined();
      const outline = laid(one);
      const columns = columnsOver(outline, plan.growth.taken + 0.3, PITCH);
      const need = needOf(one, outline, columns);
      const text = plan.pair?.files[0]?.text as string;
      const drawn = tidy(readArtwork(new TextEncoder().encode(text), 'x.svg').shapes).region;
      const flat = (one.flat ?? FLAT) + plan.deeper.taken;
      const cutBy = (region: Region): Float64Array =>
        sweep(outlineOf(region), true, one.fresh, 0, flat, columns);
      const left = leftOver(need, cutBy(drawn), one.zero, one.fresh.t);
      const less = grow(plan.facts.region('pocket'), 0.9 * plan.growth.least);
      const leftLess = leftOver(need, cutBy(less), one.zero, one.fresh.t);
      if (FULL)
        console.log(
          one.name,
          plan.answer,
          plan.growth.least.toFixed(4),
          left.toFixed(4),
          leftLess.toFixed(4),
        );
      expect(left).toBeLessThan(1.5 * PITCH);
      expect(leftLess).toBeGreaterThan(0.1 * plan.growth.least - 0.006 - 2.2 * PITCH);
      expect(leftLess).toBeGreaterThan(left + PITCH);
      expect(plan.leftAtLess.length).toBeGreaterThan(0);
    },
  );
});
