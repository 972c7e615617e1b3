import { describe, expect, it } from 'vitest';
import { type Contact, type Fit, type FitInput, makePair, type Pair } from '../../src/carve/fit.ts';
import { type Mend, mendsFor } from '../../src/carve/fit-mends.ts';
import { seat, seatPair } from '../../src/carve/seat.ts';
import { degrees } from '../../src/units.ts';
import { ring } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import type { Outline } from '../witness/sweep.ts';

const t = Math.tan(degrees(15));
const DEPTHS = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };

function inputOf(rings: Float64Array[], r: number, change: Partial<FitInput> = {}): FitInput {
  const bit = { halfAngle: degrees(15), tipFlat: 2 * r };
  return { pocket: { rings }, plug: { rings }, pocketTool: bit, plugTool: bit, ...DEPTHS, ...change };
}

function asked(
  input: FitInput,
  wanted = 0.01,
  wantedGap = wanted * t,
): { pair: Pair; fit: Fit; mends: readonly Mend[] } {
  const pair = makePair(input);
  const fit = seatPair(pair);
  return { pair, fit, mends: mendsFor(pair, fit, wanted, wantedGap) };
}

const of = (mends: readonly Mend[], kind: Mend['kind']): Mend | undefined =>
  mends.find((m) => m.kind === kind);
const scaled = (rings: readonly Float64Array[], by: number) => ({
  rings: rings.map((one) => one.map((v) => by * v)),
});

describe('a drawing made larger', () => {
  it('opens a land that the tip does not get into, with a tenth to spare', () => {
    const [rings, width] = [ringsOf(SHAPES['two close islands'] as Outline), 0.18];
    const { fit, mends } = asked(inputOf(rings, 0.1));
    const larger = of(mends, 'larger-drawing');
    // 1.1 times the tip over the width, to the next hundredth.
    expect(larger?.value).toBe(Math.ceil((110 * 0.2) / width) / 100);
    expect(larger?.value).toBe(1.23);
    expect(larger?.at).toEqual(fit.tight.find(({ kind }) => kind.startsWith('uncut'))?.at);
    const again = seat({ ...inputOf([], 0.1), pocket: scaled(rings, 1.23), plug: scaled(rings, 1.23) });
    expect(larger?.level).toBe(again.level);
    expect(larger?.gap).toBe(again.worstGap?.gap);
  });

  it('is not told beyond twice its size, nor where nothing is shut', () => {
    const islands = ringsOf(SHAPES['two close islands'] as Outline);
    // 1.1 x 0.34 / 0.18 is more than 2.
    expect(of(asked(inputOf(islands, 0.17)).mends, 'larger-drawing')).toBeUndefined();
    expect(of(asked(inputOf(islands, 0.16)).mends, 'larger-drawing')?.value).toBe(1.96);
    expect(of(asked(inputOf(islands, 0.05)).mends, 'larger-drawing')).toBeUndefined();
  });

  it('goes by the narrowest that is shut, whichever of both tips is the larger', () => {
    const islands = ringsOf(SHAPES['two close islands'] as Outline);
    const input = inputOf(islands, 0.1, { pocketTool: { halfAngle: degrees(15), tipFlat: 0.05 } });
    const pair = makePair(input);
    const fit = seatPair(pair);
    const shut = (kind: Contact['kind'], width?: number): Contact => ({ kind, at: [9, 9], alone: 1, width });
    const tight = [shut('corner'), shut('uncut-land', 0.19), shut('uncut-stroke', 0.18), shut('uncut-land')];
    const larger = of(mendsFor(pair, { ...fit, tight }, 0.01, 0.01), 'larger-drawing');
    expect(larger?.value).toBe(1.23);
    // Nothing is told of what has no width.
    expect(
      mendsFor(pair, { ...fit, tight: [shut('uncut-land')] }, 0.01, 0.01).map((m) => m.kind),
    ).not.toContain('larger-drawing');
    // A tenth more than the tip is there already: no larger drawing is needed.
    expect(
      mendsFor(pair, { ...fit, tight: [shut('uncut-land', 0.22)] }, 0.01, 0.01).map((m) => m.kind),
    ).not.toContain('larger-drawing');
  });
});

describe('depths as a mend', () => {
  const square = [ring(0, 0, 20, 0, 20, 20, 0, 20)];

  it('a plug whose root rides on the board is cut deeper by what it stands proud', () => {
    const { fit, mends } = asked(inputOf(square, 0, { pocketStart: 0.5, plugFlat: 0.1 }));
    expect(fit.level).toBeCloseTo(0.4, 9);
    expect(of(mends, 'deeper-plug')?.value).toBeCloseTo(0.5, 9);
    expect(of(mends, 'deeper-plug')?.level).toBeCloseTo(0, 9);
    expect(of(mends, 'deeper-pocket')).toBeUndefined();
    expect(of(mends, 'smaller-tip')).toBeUndefined();
  });

  it('a floor that holds is cut deeper, and the root is left alone', () => {
    const { mends } = asked(inputOf(square, 0, { plugStart: 1.8 }));
    expect(mends.map(({ kind }) => kind)).toEqual(['deeper-pocket']);
    expect(mends[0]?.value).toBeCloseTo(1.8, 9);
  });

  it('a stroke comes free of its valley at (R - r) / t, less what the pocket starts deeper', () => {
    const stroke = [ring(0, 0, 12, 0, 12, 0.4, 0, 0.4)];
    for (const pocketStart of [0, 0.1]) {
      const { fit, mends } = asked(inputOf(stroke, 0.05, { pocketStart }));
      const shallower = of(mends, 'shallower-mating');
      expect(fit.level).toBeCloseTo(0.05 / t, 6);
      expect(shallower?.value).toBeCloseTo((0.2 - 0.05) / t - pocketStart, 6);
      const again = seat(inputOf(stroke, 0.05, { pocketStart, plugStart: shallower?.value ?? 0 }));
      expect(shallower?.level).toBe(again.level);
    }
  });

  it('is not told where the start depth is that shallow already, nor below nothing', () => {
    const stroke = [ring(0, 0, 12, 0, 12, 0.4, 0, 0.4)];
    const pair = makePair(inputOf(stroke, 0.05));
    const fit = seatPair(pair);
    const holding = (width: number | undefined, kind: Contact['kind'] = 'narrow-stroke'): readonly string[] =>
      mendsFor(pair, { ...fit, level: 9, tight: [{ kind, at: [6, 0.2], alone: 1, width }] }, 0.01, 9).map(
        (m) => m.kind,
      );
    expect(holding(0.4)).toContain('shallower-mating');
    expect(holding(0.8)).not.toContain('shallower-mating');
    expect(holding(0.1)).not.toContain('shallower-mating');
    expect(holding(0.05)).not.toContain('shallower-mating');
    expect(holding(undefined)).not.toContain('shallower-mating');
    expect(holding(0.4, 'corner')).not.toContain('shallower-mating');
  });
});

describe('smaller tips as a mend', () => {
  const triangle = ringsOf(SHAPES['acute triangle'] as Outline);

  it('are tried by halves, then as a point, until the rim closes', () => {
    const all = asked(inputOf(triangle, 0.06), 0.01, 1e-9).mends.filter((m) => m.kind === 'smaller-tip');
    expect(all.map((m) => m.value).sort((a, b) => b - a)).toEqual([0.06, 0.03, 0]);
    expect(of(all, 'smaller-tip')?.value).toBe(0);
    for (const { value, level } of all) {
      const bit = { halfAngle: degrees(15), tipFlat: value };
      expect(level).toBe(seat({ ...inputOf(triangle, 0), pocketTool: bit, plugTool: bit }).level);
    }
    // A line that may be as wide as half the tip opens it: the first is enough.
    const half = all.find((m) => m.value === 0.06) as Mend;
    const few = asked(inputOf(triangle, 0.06), 0.01, half.gap).mends.filter((m) => m.kind === 'smaller-tip');
    expect(few.map((m) => m.value)).toEqual([0.06]);
  });

  it('leave the smaller of two tips as it is', () => {
    const pocketTool = { halfAngle: degrees(15), tipFlat: 0.02 };
    const input = inputOf(ringsOf(SHAPES['notch'] as Outline), 0.06, { pocketTool });
    const half = asked(input, 0.01, 9).mends.find((m) => m.kind === 'smaller-tip');
    expect(half?.value).toBe(0.06);
    const again = seat({ ...input, plugTool: { halfAngle: degrees(15), tipFlat: 0.06 } });
    expect(half?.level).toBe(again.level);
    const other = asked({ ...input, pocketTool: input.plugTool, plugTool: pocketTool }, 0.01, 9);
    expect(other.mends.find((m) => m.kind === 'smaller-tip')?.value ?? 0.06).toBe(0.06);
  });

  it('are nothing for a ball or a point', () => {
    const ball = { halfAngle: degrees(15), tipFlat: 0, tipRadius: 0.1 };
    const flat = { halfAngle: degrees(15), tipFlat: 0.12 };
    for (const [pocketTool, plugTool] of [
      [ball, ball],
      [ball, flat],
      [flat, ball],
    ] as const) {
      const pair = makePair(inputOf(triangle, 0, { pocketTool, plugTool }));
      const fit = { level: 9, tight: [], worstGap: undefined } as unknown as Fit;
      expect(mendsFor(pair, fit, 0.01, 0.01)).toEqual([]);
    }
  });
});

describe('an opened notch', () => {
  const notch = SHAPES['notch'] as Outline;

  it('has its point drawn back until its lift is as wanted: 1 / sin(a / 2) - 1 times r / t', () => {
    for (const times of [0.5, 1, 1.5]) {
      const r = 0.03;
      const wanted = (times * r) / t;
      const { mends } = asked(inputOf(ringsOf(notch), r), wanted, 1);
      const open = of(mends, 'open-notch');
      expect(open?.value).toBeCloseTo(2 * Math.asin(1 / (1 + times)), 9);
      expect(open?.at?.[0]).toBeCloseTo(1.5, 4);
      expect(open?.at?.[1]).toBeCloseTo(0.9, 4);
      expect(open?.others).toBe(0);
      const y = 0.25 / Math.tan((open?.value ?? 0) / 2);
      const drawn = notch.map((points) => points.map((p) => (p[1] === 0.9 ? ([1.5, y] as const) : p)));
      expect((open?.level ?? 9) - seat(inputOf(ringsOf(drawn), r)).level).toBeCloseTo(0, 9);
    }
  });

  it('is not told for a sharp plug, for one that holds no higher than wanted, or for a point not drawn', () => {
    const pair = makePair(inputOf(ringsOf(notch), 0.03));
    const fit = seatPair(pair);
    const kinds = (at: readonly [number, number], alone: number, of = pair): readonly string[] =>
      mendsFor(of, { ...fit, level: 9, tight: [{ kind: 'notch', at, alone }] }, 0.1, 9).map((m) => m.kind);
    expect(kinds([1.5, 0.9], 0.2)).toContain('open-notch');
    expect(kinds([1.5, 0.86], 0.2)).toContain('open-notch');
    expect(kinds([1.5, 0.9], 0.1)).not.toContain('open-notch');
    expect(kinds([1.5, 0.84], 0.2)).not.toContain('open-notch');
    expect(kinds([1.5, 0.9], 0.2, makePair(inputOf(ringsOf(notch), 0)))).not.toContain('open-notch');
    // A corner of 90 degrees is open enough.
    expect(kinds([0, 0], 0.2)).not.toContain('open-notch');
  });

  it('is told only where both drawings have it', () => {
    const plain = { rings: [ring(0, 0, 3, 0, 3, 2.2, 0, 2.2)] };
    const both = makePair(inputOf(ringsOf(notch), 0.03));
    const fit: Fit = { ...seatPair(both), level: 9 };
    const one = (change: Partial<FitInput>): readonly string[] =>
      mendsFor(makePair({ ...both.input, ...change }), fit, 0.01, 9).map((m) => m.kind);
    expect(one({})).toContain('open-notch');
    expect(one({ plug: plain })).not.toContain('open-notch');
    expect(one({ pocket: plain })).not.toContain('open-notch');
  });
});

describe('which mends are told', () => {
  const triangle = ringsOf(SHAPES['acute triangle'] as Outline);

  it('those that take a fifth off the height and open no line, the lowest first', () => {
    const { pair, fit, mends } = asked(inputOf(triangle, 0.06), 0.01, 1e-9);
    expect(mends.map((m) => m.level)).toEqual(
      [0, 0.03, 0.06].map((flat) => expect.closeTo((fit.level * flat) / 0.12, 6)),
    );
    // Stood it only a little higher than with half the tip, that would not be worth telling.
    const half = mends[2] as Mend;
    const values = (level: number) => mendsFor(pair, { ...fit, level }, 0.01, 1e-9).map((m) => m.value);
    expect(values(half.level / 0.79)).toEqual([0, 0.03, 0.06]);
    expect(values(half.level / 0.81)).toEqual([0, 0.03]);
    // Nor one that opens the line further than it is.
    const worst = { gap: 0.6 * half.gap, at: [0, 0] as const };
    expect(mendsFor(pair, { ...fit, worstGap: worst }, 0.01, 1e-9).map((m) => m.value)).toEqual([0, 0.03]);
  });

  it('none where the plug stands no higher than wanted and the line is no wider', () => {
    const pair = makePair(inputOf(triangle, 0.06));
    const fit = seatPair(pair);
    const gap = fit.worstGap?.gap ?? Number.NaN;
    expect(mendsFor(pair, fit, fit.level, gap)).toEqual([]);
    expect(mendsFor(pair, fit, fit.level * 0.99, gap).length).toBeGreaterThan(0);
    expect(mendsFor(pair, fit, fit.level, gap * 0.99).length).toBeGreaterThan(0);
    expect(mendsFor(pair, { ...fit, worstGap: undefined }, fit.level, 0)).toEqual([]);
  });
});

describe('mends for places put by hand', () => {
  const notch = ringsOf(SHAPES['notch'] as Outline);
  /** So high, and so wide a line allowed, that every change that is tried is told. */
  const told = (input: FitInput, tight: readonly Contact[], wanted = 0.1): readonly Mend[] => {
    const pair = makePair(input);
    return mendsFor(pair, { ...seatPair(pair), level: 9, tight }, wanted, 9);
  };
  const at = [1.5, 0.9] as const;
  const held = (kind: Contact['kind'], width?: number, where: Contact['at'] = at): Contact => ({
    kind,
    at: where,
    alone: 1,
    width,
  });
  const kinds = (...tight: Contact[]) =>
    told(inputOf(notch, 0.03), tight)
      .map((m) => m.kind)
      .filter((kind) => kind !== 'smaller-tip')
      .sort();

  it('are those for the kinds of place that hold, wherever they stand among the others', () => {
    expect(kinds()).toEqual([]);
    expect(kinds(held('corner'))).toEqual([]);
    expect(kinds(held('notch'))).toEqual(['open-notch']);
    expect(kinds(held('corner'), held('floor'))).toEqual(['deeper-pocket']);
    expect(kinds(held('root'), held('corner'))).toEqual(['deeper-plug']);
    expect(kinds(held('floor'), held('root'))).toEqual(['deeper-plug', 'deeper-pocket']);
    expect(kinds(held('narrow-stroke', 0.3), held('corner'))).toEqual(['shallower-mating']);
    expect(kinds(held('uncut-land', 0.05), held('corner', 0.01))).toEqual(['larger-drawing']);
    expect(kinds(held('uncut-stroke', 0.05))).toEqual(['larger-drawing']);
    expect(kinds(held('narrow-stroke', 0.05))).toEqual([]);
    expect(kinds(held('uncut-land', 0.4))).toEqual([]);
    expect(kinds(held('uncut-land'), held('uncut-land', 0))).toEqual([]);
  });

  it('go by the narrowest of several', () => {
    const start = (...tight: Contact[]) => of(told(inputOf(notch, 0.03), tight), 'shallower-mating')?.value;
    const [wide, narrow] = [held('narrow-stroke', 0.4), held('narrow-stroke', 0.3)];
    for (const tight of [
      [wide, narrow],
      [narrow, wide],
      [held('narrow-stroke'), narrow],
    ])
      expect(start(...tight)).toBeCloseTo((0.15 - 0.03) / t, 9);
  });

  it('are no tip smaller than a point, and none for a ball on either side', () => {
    const sharp = { halfAngle: degrees(15), tipFlat: 0 };
    const flat = { ...sharp, tipFlat: 0.06 };
    const ball = { ...sharp, tipRadius: 0.1 };
    for (const [pocketTool, plugTool] of [
      [sharp, sharp],
      [ball, flat],
      [flat, ball],
      [ball, sharp],
    ] as const)
      expect(told(inputOf(notch, 0, { pocketTool, plugTool }), []).map((m) => m.value)).toEqual([]);
    expect(told(inputOf(notch, 0, { pocketTool: sharp, plugTool: flat }), []).length).toBeGreaterThan(0);
  });

  it('draw a notch back along its middle, however it lies and wherever its ring begins', () => {
    const r = 0.03;
    const plain = told(inputOf(notch, r), [held('notch')]).find((m) => m.kind === 'open-notch') as Mend;
    const n = (notch[0] as Float64Array).length / 2;
    const k = [...Array(n).keys()].find((i) => notch[0]![2 * i] === 1.5) as number;
    for (const turn of [0.5, 2, 4.4])
      for (const first of [0, k, k + 1]) {
        const put = (x: number, y: number) =>
          [7 + x * Math.cos(turn) - y * Math.sin(turn), 3 + x * Math.sin(turn) + y * Math.cos(turn)] as const;
        const points = Array.from({ length: n }, (_, i) => {
          const from = 2 * ((i + first) % n);
          return put(notch[0]![from]!, notch[0]![from + 1]!);
        });
        const rings = [Float64Array.from(points.flat())];
        const open = told(inputOf(rings, r), [held('notch', undefined, put(...at))]).find(
          (m) => m.kind === 'open-notch',
        );
        expect(open?.value).toBeCloseTo(plain.value, 9);
        expect(open?.level).toBeCloseTo(plain.level, 5);
      }
  });

  it('open notches only where both drawings have the same ones, the worst among them', () => {
    // Two notches in a bar; either drawing may lack one of them.
    const bar = (...at: number[]) =>
      ring(0, 0, ...at.flatMap((x) => [x - 0.25, 0, x, 0.9, x + 0.25, 0]), 12, 0, 12, 2.2, 0, 2.2);
    const tight = [held('notch', undefined, [3, 0.9]), held('notch', undefined, [8, 0.9])];
    const open = (pocket: Float64Array, plug: Float64Array) =>
      told(inputOf([pocket], 0.03, { plug: { rings: [plug] } }), tight).find((m) => m.kind === 'open-notch');
    expect(open(bar(3, 8), bar(3, 8))).toMatchObject({ at: [3, 0.9], others: 1 });
    expect(open(bar(3), bar(3))).toMatchObject({ at: [3, 0.9], others: 0 });
    expect(open(bar(8), bar(8))).toBeUndefined();
    expect(open(bar(3, 8), bar(3))).toBeUndefined();
    expect(open(bar(3, 8), bar(8))).toBeUndefined();
    expect(open(bar(8), bar(3, 8))).toBeUndefined();
    expect(open(bar(), bar(3, 8))).toBeUndefined();
    expect(open(bar(3, 8), bar())).toBeUndefined();
  });
});
