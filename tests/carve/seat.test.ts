import { describe, expect, it } from 'vitest';
import type { ToolShape } from '../../src/carve/cut.ts';
import { type Fit, type FitInput, liftAt, makePair } from '../../src/carve/fit.ts';
import { placesOf, seat, seatPair } from '../../src/carve/seat.ts';
import { heightAt, highestHold, holdAt } from '../../src/carve/seat-pose.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import { degrees, inches } from '../../src/units.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import { columnsOver, liftTilted, type Outline, sweep } from '../witness/sweep.ts';
import {
  liftOfBits,
  liftOfCorner,
  liftOfGrowth,
  liftOfGrowthAtNotch,
  liftOfNotch,
  liftOfStroke,
  liftOfTrueAngle,
  sinkOfShrink,
} from './fit-forms.ts';
import { levelGap } from './level-gap.ts';

type Depths = Pick<FitInput, 'pocketStart' | 'pocketFlat' | 'plugStart' | 'plugFlat'>;

/**
 * Check values: depths and lifts in inches, worked out by hand from the sweep of the bit and confirmed by
 * brute-force cutting on grids down to 2.5 micrometres. S = 0.2, Fp = 0.3, Fm = 0.1 in.
 */
const DEPTHS: Depths = {
  pocketStart: 0,
  pocketFlat: inches(0.3),
  plugStart: inches(0.2),
  plugFlat: inches(0.1),
};
const TIPS = [0.0025, 0.005, 0.01] as const;
const LIFTS: Readonly<Record<number, Readonly<Record<string, readonly [number, number, number]>>>> = {
  30: {
    'level ridge': [0.00933, 0.01866, 0.03732],
    'stroke S t + 0.0025': [0, 0.00933, 0.02799],
    'convex 120': [0.00125, 0.0025, 0.005],
    'convex 90': [0.00273, 0.00547, 0.01093],
    'convex 60': [0.00467, 0.00933, 0.01866],
    'convex 36': [0.00645, 0.01289, 0.02579],
    'convex 30': [0.00692, 0.01383, 0.02766],
    'reflex 225': [0.00077, 0.00154, 0.00307],
    'reflex 270': [0.00386, 0.00773, 0.01546],
    'reflex 300': [0.00933, 0.01866, 0.03732],
    'reflex 315': [0.01505, 0.0301, 0.0602],
    'reflex 330': [0.02672, 0.05344, 0.10687],
  },
  60: {
    'level ridge': [0.00433, 0.00866, 0.01732],
    'stroke S t + 0.0025': [0, 0.00433, 0.01299],
    'convex 120': [0.00058, 0.00116, 0.00232],
    'convex 90': [0.00127, 0.00254, 0.00507],
    'convex 60': [0.00217, 0.00433, 0.00866],
    'convex 36': [0.00299, 0.00598, 0.01197],
    'convex 30': [0.00321, 0.00642, 0.01284],
    'reflex 225': [0.00036, 0.00071, 0.00143],
    'reflex 270': [0.00179, 0.00359, 0.00717],
    'reflex 300': [0.00433, 0.00866, 0.01732],
    'reflex 315': [0.00699, 0.01397, 0.02794],
    'reflex 330': [0.0124, 0.0248, 0.0496],
  },
};
/** The check values are printed to 0.00001 in. */
const PRINTED = 0.000006;

const tool = (angle: number, r: number): ToolShape => ({ halfAngle: degrees(angle / 2), tipFlat: 2 * r });
const slope = (angle: number): number => Math.tan(degrees(angle / 2));

function twins(region: Region, bit: ToolShape, depths = DEPTHS): FitInput {
  return { pocket: region, plug: region, pocketTool: bit, plugTool: bit, ...depths };
}

function circle(r: number, steps = 240): Float64Array {
  return Float64Array.from(
    Array.from({ length: steps }, (_, k) => [
      r * Math.cos(degrees((360 * k) / steps)),
      r * Math.sin(degrees((360 * k) / steps)),
    ]).flat(),
  );
}

/** A corner of one angle whose two edges run tangent into a round end: no other corner to speak of. */
function teardrop(angle: number, edge: number): Float64Array {
  const half = degrees(angle / 2);
  const radius = edge * Math.tan(half);
  const centre = edge / Math.cos(half);
  const from = Math.PI / 2 + half;
  const points = Array.from({ length: 241 }, (_, k) => {
    const a = -from + (2 * from * k) / 240;
    return [centre + radius * Math.cos(a), radius * Math.sin(a)];
  });
  return Float64Array.from([[0, 0], ...points].flat());
}

const reversed = (ring: Float64Array): Float64Array => {
  const out = new Float64Array(ring.length);
  for (let k = 0; k < ring.length; k += 2) out.set(ring.subarray(ring.length - 2 - k, ring.length - k), k);
  return out;
};

function rectangle(width: number, height: number, grow = 0): Region {
  const g = grow;
  return { rings: [Float64Array.from([-g, -g, width + g, -g, width + g, height + g, -g, height + g])] };
}

/** A stroke with round ends, so that nothing but its parallel walls can hold it. */
function stroke(half: number, length: number): Region {
  const end = (cx: number, from: number): number[][] =>
    Array.from({ length: 361 }, (_, k) => {
      const a = degrees(from + 0.5 * k);
      return [cx + half * Math.cos(a), half * Math.sin(a)];
    });
  return { rings: [Float64Array.from([...end(length, -90), ...end(0, 90)].flat())] };
}

function regionFor(feature: string, angle: number): Region {
  const [kind, size] = feature.split(' ') as [string, string];
  if (kind === 'level') return stroke(inches(0.04), inches(1));
  if (kind === 'stroke') return stroke(inches(0.2 * slope(angle) + 0.0025), inches(1));
  if (kind === 'convex') return { rings: [teardrop(Number(size), inches(2))] };
  const island = teardrop(360 - Number(size), inches(1));
  return { rings: [circle(inches(8), 720), reversed(island)] };
}

describe('the seat, against check values', () => {
  for (const angle of [30, 60]) {
    it.each(Object.entries(LIFTS[angle] ?? {}))(`${angle} deg, %s`, (feature, lifts) => {
      const region = regionFor(feature, angle);
      TIPS.forEach((r, k) => {
        const fit = seat(twins(region, tool(angle, inches(r))));
        expect(Math.abs(fit.level / inches(1) - (lifts[k] as number))).toBeLessThan(PRINTED);
      });
    });
  }

  it('agrees with its closed forms', () => {
    const [t, S, r] = [slope(30), inches(0.2), inches(0.005)];
    const printed = LIFTS[30] as Record<string, readonly number[]>;
    const close = (mm: number, feature: string): void =>
      expect(Math.abs(mm / inches(1) - (printed[feature]?.[1] ?? Number.NaN))).toBeLessThan(PRINTED);
    close(liftOfStroke(inches(0.04), r, S, t), 'level ridge');
    close(liftOfStroke(S * t + inches(0.0025), r, S, t), 'stroke S t + 0.0025');
    close(liftOfCorner(degrees(36), r, t), 'convex 36');
    close(liftOfNotch(degrees(30), r, S, t), 'reflex 330');
  });

  it.each([
    // angle, growth e, lift, gap: check values, inches
    [30, 0.002, 0.00746, 0],
    [30, -0.005, -0.01866, 0],
    [30, -0.03, -0.1, 0.00321],
    [60, 0.002, 0.00346, 0],
    [60, -0.03, -0.05196, 0],
  ])('%d deg, a round plug grown by %f', (angle, e, lift, gap) => {
    const pocket = { rings: [circle(inches(1), 1440)] };
    const plug = { rings: [circle(inches(1 + e), 1440)] };
    const fit = seat({ ...twins(pocket, tool(angle, 0)), plug });
    expect(Math.abs(fit.level / inches(1) - lift)).toBeLessThan(2e-5);
    expect(Math.abs((fit.worstGap?.gap ?? Number.NaN) / inches(1) - gap)).toBeLessThan(4e-5);
    const form = e > 0 ? liftOfGrowth(e, slope(angle)) : -sinkOfShrink(e, slope(angle), 0.1, 0.1);
    expect(Math.abs(form - lift)).toBeLessThan(PRINTED);
  });

  it.each([
    // pocket and plug bit, lift, gap: check values, inches
    [30, 60, 0, 0],
    [60, 30, 0.10718, 0.02872],
    [60, 90, 0, 0],
    [90, 60, 0.08453, 0.0488],
    [15, 30, 0, 0],
    [30, 15, 0.10173, 0.01339],
  ])('pocket cut at %d deg, plug at %d deg', (pocketAngle, plugAngle, lift, gap) => {
    const input = {
      ...twins({ rings: [circle(30, 1440)] }, tool(pocketAngle, 0)),
      plugTool: tool(plugAngle, 0),
    };
    const fit = seat(input);
    expect(Math.abs(fit.level / inches(1) - lift)).toBeLessThan(PRINTED);
    expect(Math.abs((fit.worstGap?.gap ?? Number.NaN) / inches(1) - gap)).toBeLessThan(2 * PRINTED);
    const form = liftOfBits(slope(pocketAngle), slope(plugAngle), 0.2, 0.3);
    expect(Math.abs(form - lift)).toBeLessThan(PRINTED);
    if (lift > 0) expect(fit.holds[0]?.kind).toBe('different-bits');
  });

  it.each([
    // true angle, nominal 30: how far a wide smooth pair sinks, inches
    [30.5, 0.00687],
    [31, 0.01352],
    [29.5, -0.0071],
    [29, -0.01443],
  ])('a bit of %f deg where the toolpath means 30', (angle, sink) => {
    const bit = { ...tool(angle, 0), toolpathHalfAngle: degrees(15), toolpathTipFlat: 0 };
    const fit = seat(twins({ rings: [circle(inches(1), 480)] }, bit));
    expect(Math.abs(-fit.level / inches(1) - sink)).toBeLessThan(2e-5);
    expect(Math.abs(liftOfTrueAngle(slope(angle), slope(30), 0.3, 0.1) + sink)).toBeLessThan(PRINTED);
  });

  it('meets a spike of board first when the plug is grown', () => {
    const [e, r, t] = [0.015, 0.06, slope(30)];
    const notch = SHAPES['notch'] as Outline;
    const spike = 2 * Math.atan(0.25 / 0.9);
    const grownNotch = grown(notch, e);
    const depths = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };
    const fit = seat({
      ...twins({ rings: ringsOf(notch) }, tool(30, r), depths),
      plug: { rings: ringsOf(grownNotch) },
    });
    expect(Math.abs(fit.level - liftOfGrowthAtNotch(e, spike, r, t)) * t).toBeLessThan(0.001);
    expect(fit.holds[0]?.kind).toBe('notch');
  });
});

/** Every edge moved out by e, corners mitred (drawings without small edges only). */
function grown(outline: Outline, e: number): Outline {
  return outline.map((ring) =>
    ring.map((p, k) => {
      const before = ring[(k + ring.length - 1) % ring.length] as readonly [number, number];
      const after = ring[(k + 1) % ring.length] as readonly [number, number];
      const normal = (
        a: readonly [number, number],
        b: readonly [number, number],
      ): readonly [number, number] => {
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
        return [(b[1] - a[1]) / length, -(b[0] - a[0]) / length];
      };
      const [n, m] = [normal(before, p), normal(p, after)];
      const scale = e / (1 + n[0] * m[0] + n[1] * m[1]);
      return [p[0] + scale * (n[0] + m[0]), p[1] + scale * (n[1] + m[1])] as const;
    }),
  );
}

const gapOf = (fit: Fit): number => fit.worstGap?.gap ?? Number.NaN;

/** Numerical Recipes' linear congruence (from memory). */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const SMALL = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };

describe('the seat, as it must behave', () => {
  it.each(Object.keys(SHAPES))('%s with a sharp point closes everywhere', (name) => {
    const fit = seat(twins({ rings: ringsOf(SHAPES[name] as Outline) }, tool(30, 0), SMALL));
    expect(Math.abs(fit.proud)).toBeLessThan(1e-6);
    expect(fit.worstGap?.gap).toBeLessThan(1e-6);
    expect(fit.rim.length).toBeGreaterThan(3);
    expect(Math.abs(fit.sawGap.wide - 0.5)).toBeLessThan(1e-6);
    expect(Math.abs(fit.glueGap.face - 0.5)).toBeLessThan(1e-6);
  });

  it('does not care where, how large or which way round the pair is drawn', () => {
    for (const name of ['acute triangle', 'letter with a counter', 'notch']) {
      const outline = SHAPES[name] as Outline;
      const plain = seat(twins({ rings: ringsOf(outline) }, tool(30, 0.05), SMALL));
      for (const [scale, angle, mirror] of [
        [1, 37, 1],
        [1, 121, -1],
        [3, 200, 1],
      ] as const) {
        const [c, s] = [Math.cos(degrees(angle)), Math.sin(degrees(angle))];
        const rings = ringsOf(
          outline.map((ring) =>
            ring.map(
              ([x, y]) =>
                [scale * (c * mirror * x - s * y) + 11, scale * (s * mirror * x + c * y) - 7] as const,
            ),
          ),
        ).map((ring) => (mirror < 0 ? reversed(ring) : ring));
        const depths = {
          pocketStart: 0,
          pocketFlat: scale * SMALL.pocketFlat,
          plugStart: scale * SMALL.plugStart,
          plugFlat: scale * SMALL.plugFlat,
        };
        const there = seat(twins({ rings }, tool(30, 0.05 * scale), depths));
        expect(Math.abs(there.level / scale - plain.level), name).toBeLessThan(1e-6);
        // A tenth of a micrometre sideways.
        expect(Math.abs(there.proud / scale - plain.proud) * slope(30), name).toBeLessThan(1e-4);
        // The rim is asked at places some length apart, whatever the scale.
        if (scale === 1) expect(Math.abs(gapOf(there) - gapOf(plain)), name).toBeLessThan(1e-3);
      }
    }
  });

  it('rests at the same place when the plug is drawn a millionth of a millimetre otherwise', () => {
    const random = randomFrom(5);
    for (const [name, outline] of Object.entries(SHAPES))
      for (const angle of [30, 60]) {
        const input = twins({ rings: ringsOf(outline) }, tool(angle, 0.06), SMALL);
        const plain = seat(input);
        for (let n = 0; n < 4; n++) {
          const rings = input.plug.rings.map((ring) => ring.map((v) => v + 1e-9 * (2 * random() - 1)));
          const there = seat({ ...input, plug: { rings } });
          const says = `${name} ${angle} ${n}`;
          expect(Math.abs(there.proud - plain.proud), says).toBeLessThan(1e-3);
          expect(Math.abs(gapOf(there) - gapOf(plain)), says).toBeLessThan(1e-3);
          expect(Math.abs(there.seat.dx - plain.seat.dx), says).toBeLessThan(1e-3);
          expect(Math.abs(there.seat.dy - plain.seat.dy), says).toBeLessThan(1e-3);
        }
      }
  });

  it('stands at its proudest no higher than with any other small motion', () => {
    const random = randomFrom(9);
    for (const name of ['acute triangle', 'notch', 'letter T', 'star', 'letter with a counter']) {
      const outline = SHAPES[name] as Outline;
      const pair = makePair(twins({ rings: ringsOf(outline) }, tool(30, 0.06), SMALL));
      const places = placesOf(pair);
      const { proud } = seatPair(pair);
      for (let n = 0; n < 400; n++) {
        const far = [0.005, 0.03, 0.12][n % 3] as number;
        const part = (): number => far * (2 * random() - 1);
        const [dx, dy, turn, tiltX, tiltY] = [part(), part(), part() / 4, part() / 4, part() / 4];
        const tried = { height: 0, dx, dy, turn, tiltX, tiltY, middle: pair.middle };
        const { hold } = highestHold(pair, places, tried);
        const most = Math.max(
          ...outline.flat().map(([x, y]) => heightAt(pair, { ...tried, height: hold }, x, y)),
        );
        expect(most, `${name} ${n}`).toBeGreaterThan(proud - 1e-4);
      }
    }
  });

  it("is held nowhere higher once it has moved, along the edges of the board's spikes either", () => {
    // Cuts 30 to 90 degrees wide; the counter's upper point and the feet's inner corners stand into the plug.
    for (const [angle, plugStart] of [
      [30, 1],
      [60, 0.6],
      [90, 0.4],
    ] as const)
      for (const r of [0.02, 0.045, 0.085, 0.12]) {
        const region = { rings: ringsOf(SHAPES['letter with a counter'] as Outline) };
        const pair = makePair(twins(region, tool(angle, r), { ...SMALL, plugStart }));
        const { seat: s } = seatPair(pair);
        for (const [x, from, step] of [
          [1.3, 2.05, 1],
          [1.3, 2.05, -1],
        ] as const)
          for (let far = 0; far < 0.5; far += 0.002) {
            const y = from + step * far;
            const own = pair.pocket.depth(x, y);
            const lift = pair.mating - own - pair.plug.depth(x, y);
            const place = {
              x,
              y,
              rides: 'board',
              feature: 'spike',
              own,
              lift,
              nx: 0,
              ny: 1,
              half: 0,
            } as const;
            const over = holdAt(pair, s, { ...place, angle: undefined }) - s.height;
            expect(over * slope(angle), `${angle} ${r} ${y}`).toBeLessThan(0.002);
          }
      }
  });

  it('is held nowhere higher once it has moved, wherever one climbs by chance', () => {
    // An independent climber: from the highest points of a grid, steps by chance that are kept when they lead up.
    const random = randomFrom(11);
    const region = { rings: ringsOf(SHAPES['letter with a counter'] as Outline) };
    for (const [angle, plugStart] of [
      [30, 1],
      [60, 0.6],
      [90, 0.4],
    ] as const)
      for (const r of [0.02, 0.085]) {
        const pair = makePair(twins(region, tool(angle, r), { ...SMALL, plugStart }));
        const { seat: s } = seatPair(pair);
        expect(Math.hypot(s.dx, s.dy)).toBeGreaterThan(0.01);
        const over = (x: number, y: number): number => {
          const own = pair.plug.depth(x, y);
          const place = {
            x,
            y,
            rides: 'plug',
            feature: 'face',
            own,
            lift: 0,
            nx: 0,
            ny: 1,
            half: 0,
          } as const;
          return holdAt(pair, s, { ...place, angle: undefined }) - s.height;
        };
        const pitch = (pair.box.maxY - pair.box.minY) / 60;
        const grid: [number, number, number][] = [];
        for (let x = pair.box.minX; x <= pair.box.maxX; x += pitch)
          for (let y = pair.box.minY; y <= pair.box.maxY; y += pitch) grid.push([over(x, y), x, y]);
        let most = Number.NEGATIVE_INFINITY;
        for (const [from, fromX, fromY] of grid.sort((a, b) => b[0] - a[0]).slice(0, 15)) {
          let [up, x, y] = [from, fromX, fromY];
          for (let step = 2 * pitch; step > 1e-5; step *= 0.96) {
            const [nextX, nextY] = [x + (random() - 0.5) * step, y + (random() - 0.5) * step];
            const next = over(nextX, nextY);
            if (next > up) [up, x, y] = [next, nextX, nextY];
          }
          most = Math.max(most, up);
        }
        expect(most * slope(angle), `${angle} ${r}`).toBeLessThan(0.002);
        expect(most * slope(angle), `${angle} ${r}`).toBeGreaterThan(-0.003);
      }
  });

  it('finds the highest place where a stroke runs into another, which lies between all corners and middles', () => {
    // On the stem's middle line the plug ends where its top edge and the rounds in both corners are equally near; the
    // bit's centre goes to the middle of the junction, 1/3 from the top and both corners (worked out by hand).
    const r = 0.06;
    const top = 2.1 - 1 / 3;
    let sideways = 0;
    for (let y = top - r; y <= top + r; y += 1e-6) {
      const plug = Math.min(2.1 - y, Math.hypot(0.2 + r, y - 1.5 + r) - r);
      sideways = Math.max(sideways, plug - (1 / 3 - r));
    }
    const fit = seat(twins({ rings: ringsOf(SHAPES['letter T'] as Outline) }, tool(60, r), SMALL));
    expect(Math.abs(fit.level * slope(60) - sideways)).toBeLessThan(0.001);
  });

  it("finds the highest place where a spike's edge meets a ridge, between spikes or over a wall, at any depth", () => {
    // What the tip leaves in the notch and what it leaves of the ridge add up. Over a wall the plug is cut from there
    // too, so the highest place lies half the notch's lift off the ridge (all sideways, worked out by hand).
    const [r, near, t] = [0.06, 0.7, slope(60)];
    const between = (left: number, below: number, aside = 0): Region => {
      const [low, high, x] = [below, below + 2 * near, 4 + aside];
      const under = below > 0 ? [3.5, 0, 4, low, 4.5, 0] : [];
      const over = [x + left, high + 1, x, high, x - left, high + 1];
      return { rings: [Float64Array.from([0, 0, ...under, 8, 0, 8, high + 1, ...over, 0, high + 1])] };
    };
    const notch = (left: number, deep: number): number => r * (Math.hypot(left, deep) / left - 1);
    for (let plugStart = 2; plugStart < 4; plugStart += 0.17) {
      const pairOf = (region: Region) => makePair(twins(region, tool(60, r), { ...DEPTHS, plugStart }));
      const levelOf = (region: Region): number => t * (placesOf(pairOf(region))[0]?.lift ?? Number.NaN);
      const spikes = levelOf(between(0.25, 2));
      expect(Math.abs(spikes - (notch(0.25, 1) + r - (Math.hypot(near, r) - near)))).toBeLessThan(0.002);
      expect(Math.abs(levelOf(between(0.75, 0)) - (notch(0.75, 1) / 2 + r))).toBeLessThan(0.002);
      // Spikes that pass one another: no closed form, so columns are asked all along both edges.
      const passing = between(0.25, 2, 0.4);
      const pair = pairOf(passing);
      let most = 0;
      for (const [x, y, way] of [
        [4, 2, 1],
        [4.4, 2 + 2 * near, -1],
      ] as const)
        for (let far = 0; far < 1; far += 0.001) most = Math.max(most, t * liftAt(pair, x, y + way * far));
      expect(levelOf(passing)).toBeGreaterThan(most - 0.001);
    }
  });

  it('is held over its own points as in notches, where the outlines meet below the face of the board', () => {
    // Above the start depth the pocket widens from what the bit has cleared: what it left at the point stays left.
    const r = 0.05;
    const over = (region: Region, pocketStart: number) =>
      seat(twins(region, tool(60, r), { pocketStart, pocketFlat: 7, plugStart: 1, plugFlat: 2.5 }));
    for (const pocketStart of [0.35, 0.6, 1]) {
      for (const angle of [30, 36, 60, 90]) {
        const { level, tight } = over({ rings: [teardrop(angle, inches(2))] }, pocketStart);
        expect(level).toBeCloseTo(liftOfNotch(degrees(angle), r, pocketStart, slope(60)), 4);
        expect(tight[0]).toMatchObject({ kind: 'corner' });
        expect(tight[0]?.angle).toBeCloseTo(degrees(angle), 2);
      }
      // Beside a middle that holds it as well, and highest where the outlines meet at the board's face.
      const { level } = over({ rings: ringsOf(SHAPES['star'] as Outline) }, pocketStart);
      expect(level).toBeCloseTo(liftOfNotch(degrees(36), r, pocketStart, slope(60)), 4);
    }
  });

  it('never seats lower with a larger tip', () => {
    for (const name of ['star', 'notch', 'letter with a counter', 'two close islands', 'lens']) {
      let before = { level: -1, height: -1 };
      for (const r of [0, 0.01, 0.03, 0.06, 0.085, 0.1, 0.15]) {
        const fit = seat(twins({ rings: ringsOf(SHAPES[name] as Outline) }, tool(30, r), SMALL));
        expect(fit.level, `${name} ${r}`).toBeGreaterThanOrEqual(before.level - 1e-9);
        expect(fit.seat.height, `${name} ${r}`).toBeGreaterThanOrEqual(before.height - 1e-5);
        before = { level: fit.level, height: fit.seat.height };
      }
    }
  });

  it('stands e/t proud on straight walls grown by e', () => {
    for (const e of [0.005, 0.02, 0.05]) {
      const fit = seat({ ...twins(rectangle(3.2, 1), tool(60, 0), SMALL), plug: rectangle(3.2, 1, e) });
      expect(Math.abs(fit.proud - e / slope(60))).toBeLessThan(1e-6);
      expect(fit.worstGap?.gap).toBeLessThan(1e-6);
      expect(fit.holds[0]?.kind).toBe('outline');
    }
  });

  it('draws a raised corner back further than its walls', () => {
    // Held up by its middle, the star's 36 degree points lie (lift t - r (1 - sin 18)) / sin 18 from the rounded
    // points of the pocket: both sections are plain there.
    const pair = makePair(twins({ rings: ringsOf(SHAPES['star'] as Outline) }, tool(60, 0.06), SMALL));
    const fit = seatPair(pair);
    const sine = Math.sin(degrees(18));
    const back = (fit.level * slope(60) - 0.06 * (1 - sine)) / sine;
    expect(Math.abs((levelGap(pair)?.gap ?? Number.NaN) - back)).toBeLessThan(1e-4);
  });

  it('does not seat over a land the bit cannot enter', () => {
    const outline = SHAPES['two close islands'] as Outline;
    const fit = seat(twins({ rings: ringsOf(outline) }, tool(30, 0.1), SMALL));
    // The land is 0.18 wide, the tip 0.2: the plug's face rests on it.
    expect(Math.abs(fit.level - 1)).toBeLessThan(1e-9);
    expect(fit.tight[0]?.kind).toBe('uncut-land');
    expect(fit.tight[0]?.width).toBeCloseTo(0.18, 6);
  });

  it('names what holds it', () => {
    const kinds = Object.fromEntries(
      Object.entries(SHAPES).map(([name, outline]) => [
        name,
        seat(twins({ rings: ringsOf(outline) }, tool(30, 0.06), SMALL)).tight[0],
      ]),
    );
    expect(kinds['star']).toMatchObject({ kind: 'corner' });
    expect(kinds['star']?.angle).toBeCloseTo(degrees(36), 4);
    expect(kinds['notch']).toMatchObject({ kind: 'notch' });
    expect(kinds['notch']?.angle).toBeCloseTo(2 * Math.atan(0.25 / 0.9), 6);
    expect(kinds['letter T']).toMatchObject({ kind: 'narrow-stroke' });
    expect(kinds['letter T']?.width).toBeCloseTo(0.4, 6);
    expect(kinds['letter with a counter']).toMatchObject({ kind: 'notch' });
  });

  it('is relieved by a shift and a tilt, as the swept cut also finds', () => {
    const outline = SHAPES['acute triangle'] as Outline;
    const t = slope(30);
    const fit = seat(twins({ rings: ringsOf(outline) }, tool(30, 0.06), SMALL));
    const s = fit.seat;
    expect(s.height).toBeLessThan(fit.level - 0.005 / t);
    const pitch = 0.0125;
    const [mx, my] = s.middle;
    const [c, si] = [Math.cos(s.turn), Math.sin(s.turn)];
    // A tilt swings the plug about its face: half way down it has moved by tilt times that depth.
    const depth = SMALL.plugStart / 2;
    const movedPlug = outline.map((ring) =>
      ring.map(
        ([x, y]) =>
          [
            mx + c * (x - mx) - si * (y - my) + s.dx + s.tiltX * depth,
            my + si * (x - mx) + c * (y - my) + s.dy + s.tiltY * depth,
          ] as const,
      ),
    );
    const columns = columnsOver(outline, 0.3, pitch);
    const bit = { t, r: 0.06 };
    const pocket = sweep(outline, true, bit, 0, SMALL.pocketFlat, columns);
    const plug = sweep(movedPlug, false, bit, SMALL.plugStart, SMALL.plugFlat, columns);
    const height = liftTilted(pocket, plug, SMALL.plugStart, columns, [s.tiltX, s.tiltY], s.middle);
    const swing = Math.hypot(s.tiltX, s.tiltY) * depth;
    expect(Math.abs(height - s.height) * t).toBeLessThan(1.5 * pitch + swing);
    const unmoved = sweep(outline, false, bit, SMALL.plugStart, SMALL.plugFlat, columns);
    const level = liftTilted(pocket, unmoved, SMALL.plugStart, columns, [0, 0], s.middle);
    expect(height).toBeLessThan(level);
  });
});
