import { describe, expect, it } from 'vitest';
import { type FitInput, makePair, type Pair, type Seat } from '../../src/carve/fit.ts';
import { placesOf, seat, seatPair } from '../../src/carve/seat.ts';
import type { Place } from '../../src/carve/seat-place.ts';
import { heightAt, highestHold } from '../../src/carve/seat-pose.ts';
import { levelSeat, settle, thinned } from '../../src/carve/seat-settle.ts';
import { loadClipper } from '../../src/geometry/combine.ts';
import { grow } from '../../src/geometry/offset.ts';
import { degrees } from '../../src/units.ts';
import { ring, seeded } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import type { Outline } from '../witness/sweep.ts';

await loadClipper();

const t = Math.tan(degrees(15));
const DEPTHS = { pocketStart: 0, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };

function inputOf(rings: Float64Array[], r: number, plug = rings): FitInput {
  const bit = { halfAngle: degrees(15), tipFlat: 2 * r };
  return { pocket: { rings }, plug: { rings: plug }, pocketTool: bit, plugTool: bit, ...DEPTHS };
}

/** A lopsided field, far from the origin: no motion is as good as another. */
const FIELD = ring(50, 30, 58, 30, 58, 33, 54, 38, 50, 36);

describe('a plug that is drawn beside its pocket', () => {
  it.each([
    [0.01, -0.02],
    [-0.03, 0],
    [0.002, 0.015],
  ])('by %f and %f mm goes home by as much', (dx, dy) => {
    const plug = FIELD.map((v, k) => v + (k % 2 === 0 ? dx : dy));
    const fit = seat(inputOf([FIELD], 0, [plug]));
    expect(fit.seat.dx).toBeCloseTo(-dx, 3);
    expect(fit.seat.dy).toBeCloseTo(-dy, 3);
    expect(Math.abs(fit.seat.turn)).toBeLessThan(1e-4);
    expect(Math.hypot(fit.seat.tiltX, fit.seat.tiltY)).toBeLessThan(1e-3);
    // Held straight down it would stand by the most that any wall is in its way, over the slope.
    expect(fit.level).toBeGreaterThan(0.5 * (Math.hypot(dx, dy) / t));
    expect(Math.abs(fit.proud)).toBeLessThan(fit.give);
    expect(fit.worstGap?.gap).toBeLessThan(0.002);
  });

  it.each([0.001, 0.003, -0.001])('turned by %f about its middle turns back', (turn) => {
    const [mx, my] = makePair(inputOf([FIELD], 0)).middle;
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const plug = FIELD.map((_, k) => {
      const [x, y] = [FIELD[k - (k % 2)]! - mx, FIELD[k - (k % 2) + 1]! - my];
      return k % 2 === 0 ? mx + c * x - s * y : my + s * x + c * y;
    });
    const fit = seat(inputOf([FIELD], 0, [plug]));
    expect(fit.seat.turn).toBeCloseTo(-turn, 5);
    expect(Math.hypot(fit.seat.dx, fit.seat.dy)).toBeLessThan(1e-3);
    expect(Math.abs(fit.proud)).toBeLessThan(fit.give);
    expect(fit.worstGap?.gap).toBeLessThan(0.002);
  });
});

describe('where a plug comes to rest', () => {
  it('is straight down where it is alike on all sides', () => {
    for (const name of ['rectangle', 'star', 'letter T']) {
      const { seat: s, level } = seat(inputOf(ringsOf(SHAPES[name] as Outline), 0.06));
      // What little it moves along its own middle line gains it nothing.
      expect(s.height).toBeGreaterThan(level - 0.02);
      expect(Math.abs(s.turn)).toBeLessThan(1e-3);
    }
  });

  it('is lower, at its proudest, than with any motion a little otherwise', () => {
    const random = seeded(91);
    for (const outline of [
      SHAPES['acute triangle'],
      SHAPES['notch'],
      SHAPES['letter with a counter'],
    ] as Outline[]) {
      const pair = makePair(inputOf(ringsOf(outline), 0.06));
      const places = placesOf(pair);
      const { proud, seat: s } = seatPair(pair);
      for (let n = 0; n < 90; n++) {
        const far = [0.002, 0.01, 0.05][n % 3] as number;
        const part = (): number => far * (2 * random() - 1);
        const tried = {
          ...s,
          dx: s.dx + part(),
          dy: s.dy + part(),
          turn: s.turn + part() / 2,
          tiltX: s.tiltX + part() / 2,
          tiltY: s.tiltY + part() / 2,
        };
        const height = highestHold(pair, places, tried).hold;
        const most = Math.max(...outline.flat().map(([x, y]) => heightAt(pair, { ...tried, height }, x, y)));
        // A third of a micrometre sideways; what was met besides these places holds it higher still.
        expect(most).toBeGreaterThan(proud - 1.3e-3);
      }
    }
  });

  it('does not hang on where the drawing begins, or on the order of its corners', () => {
    const turnedRing = (by: number) =>
      Float64Array.from(FIELD, (_, k) => FIELD[(k + 2 * by) % FIELD.length]!);
    const shifted = (one: Float64Array) => one.map((v, k) => v + (k % 2 === 0 ? 0.02 : 0.01));
    const first = seat(inputOf([FIELD], 0.06, [shifted(FIELD)]));
    for (const by of [1, 2, 3, 4]) {
      const there = seat(inputOf([turnedRing(by)], 0.06, [shifted(turnedRing(by))]));
      expect(there.proud).toBeCloseTo(first.proud, 3);
      expect(there.seat.dx).toBeCloseTo(first.seat.dx, 2);
      expect(there.seat.tiltX).toBeCloseTo(first.seat.tiltX, 3);
    }
  });
});

/** The field drawn so far aside and larger all round (smaller: negative). */
function fieldAside(dx: number, larger = 0): FitInput {
  const grown = larger === 0 ? [FIELD] : grow({ rings: [FIELD] }, larger).rings;
  return inputOf(
    [FIELD],
    0,
    grown.map((one) => one.map((v, k) => v + (k % 2 === 0 ? dx : 0))),
  );
}

const unmoved = ({ middle }: Pair, height: number): Seat => ({
  height,
  tiltX: 0,
  tiltY: 0,
  dx: 0,
  dy: 0,
  turn: 0,
  middle,
});

describe('a plug that is not moved', () => {
  const settled = (input: FitInput) => {
    const pair = makePair(input);
    const places = placesOf(pair);
    const level = levelSeat(pair, places);
    expect(level).toEqual(unmoved(pair, places[0]!.lift));
    return { s: settle(pair, places), level };
  };

  it('rides on the board with its face, however near it is to going in', () => {
    const riding = settled(fieldAside(1.0001 * t));
    expect(riding.level.height).toBeCloseTo(1, 12);
    expect(riding.s).toEqual(riding.level);
    const entered = settled(fieldAside(0.98 * t));
    expect(entered.s.dx).toBeCloseTo(-0.98 * t, 3);
    expect(entered.s.height).toBeLessThan(0.01);
  });

  it('is home to half a micrometre sideways, and goes home from farther off', () => {
    const home = settled(fieldAside(4.9e-4));
    expect(home.s).toEqual(home.level);
    expect(settled(fieldAside(5.2e-4)).s.dx).toBeCloseTo(-5.2e-4, 5);
    // A plug too small is not home for being low: it goes down to where all walls are as far off.
    const low = settled(fieldAside(0.004, -0.01));
    expect(low.level.height).toBeLessThan(0);
    expect(low.s.dx).toBeCloseTo(-0.004, 4);
    expect(low.s.height).toBeCloseTo(-0.01 / t, 3);
  });

  it('is held by nothing where there is no place', () => {
    const pair = makePair(inputOf([FIELD], 0));
    const nowhere = unmoved(pair, Number.NEGATIVE_INFINITY);
    expect(levelSeat(pair, [])).toEqual(nowhere);
    expect(settle(pair, [])).toEqual(nowhere);
  });
});

describe('a plug that is loath to move', () => {
  it.each([5e-4, 1e-3, 2e-3])('slides in a tapered stroke as far as pays, at %f to a side', (taper) => {
    // Too wide by 0.02 on either side, in a stroke that widens: it gains sin(taper) / t of height for every mm, and
    // a motion of m costs m2 / 2 times a tenth over mating depth and t.
    const half = (x: number, e: number) => 2 + e + x * Math.tan(taper);
    const stroke = (from: number, to: number, e: number) =>
      ring(from, -half(from, e), to, -half(to, e), to, half(to, e), from, half(from, e));
    const pair = makePair(inputOf([stroke(0, 40, 0)], 0, [stroke(2, 30, 0.02)]));
    const s = settle(pair, placesOf(pair));
    expect(s.dx / (10 * Math.sin(taper))).toBeCloseTo(1, 1.5);
    expect(s.dy).toBeCloseTo(0, 5);
    expect(s.height).toBeCloseTo((0.02 * Math.cos(taper) - s.dx * Math.sin(taper)) / t, 6);
  });

  it('stands where no motion a little otherwise is worth more, its cost counted', () => {
    const random = seeded(92);
    for (const name of ['acute triangle', 'notch', 'letter with a counter', 'star', 'letter T']) {
      const rings = ringsOf(SHAPES[name] as Outline);
      const aside = rings.map((one) => one.map((v, k) => v + (k % 2 === 0 ? 0.013 : -0.008)));
      const pair = makePair(inputOf(rings, 0.06, aside));
      const { box, mating } = pair;
      const arm = Math.hypot(box.maxX - box.minX, box.maxY - box.minY) / 2;
      const places = placesOf(pair);
      const corners = aside.flatMap((one) =>
        [...one.keys()].filter((k) => k % 2 === 0).map((k) => [one[k]!, one[k + 1]!]),
      );
      const worth = (s: Seat): number => {
        const placed = { ...s, height: highestHold(pair, places, s).hold };
        const moved = [s.dx, s.dy, s.turn * arm, s.tiltX * arm, s.tiltY * arm].reduce(
          (sum, v) => sum + v * v,
          0,
        );
        const proudest = Math.max(...corners.map(([x, y]) => heightAt(pair, placed, x!, y!)));
        return proudest + (0.05 / (mating * t)) * moved;
      };
      const s = settle(pair, places);
      const least = worth(s);
      for (let n = 0; n < 150; n++) {
        const far = [1e-4, 1e-3, 0.01][n % 3] as number;
        const part = (): number => far * (2 * random() - 1);
        const tried = { ...s, dx: s.dx + part(), dy: s.dy + part() };
        if (n % 2 === 0)
          Object.assign(tried, {
            turn: s.turn + part() / arm,
            tiltX: s.tiltX + part() / arm,
            tiltY: s.tiltY + part() / arm,
          });
        expect(worth(tried) - least, `${name} ${far}`).toBeGreaterThan(-2e-5);
      }
    }
  });
});

describe('places that are asked first', () => {
  // A field 30 by 24 mm far from the origin: cells of 5 mm, from its corner on.
  const [X, Y] = [200, -90];
  const field = ring(X, Y, X + 30, Y, X + 30, Y + 24, X, Y + 24);
  const [steep, flat] = [degrees(15), degrees(30)];
  const pair = makePair({
    ...inputOf([field], 0),
    pocketTool: { halfAngle: flat, tipFlat: 0.1 },
    plugTool: { halfAngle: steep, tipFlat: 0.06 },
  });
  const at = (x: number, y: number, towards = 0, lift = 0.4, feature: Place['feature'] = 'ridge'): Place => ({
    x: X + x,
    y: Y + y,
    rides: 'plug',
    feature,
    own: 0.5,
    lift,
    nx: Math.cos(degrees(towards)),
    ny: Math.sin(degrees(towards)),
    half: 0,
    angle: undefined,
  });
  const kept = (...places: Place[]) => [...thinned(pair, places, 0.4)];

  it('are the first of those in one cell that face one way, and of one kind', () => {
    expect(kept(at(0.1, 0.1), at(4.9, 0.1), at(0.1, 4.9), at(4.9, 4.9, 20), at(2, 2, -20))).toEqual([0]);
    expect(kept(at(4.9, 0.1), at(5.1, 0.1))).toEqual([0, 1]);
    expect(kept(at(0.1, 4.9), at(0.1, 5.1))).toEqual([0, 1]);
    expect(kept(at(29.9, 23.9), at(25.1, 20.1), at(24.9, 20.1), at(25.1, 19.9))).toEqual([0, 2, 3]);
    expect(kept(at(1, 1), at(1, 1, 0, 0.4, 'spike'), at(2, 1))).toEqual([0, 1]);
  });

  it('lie in one cell by the longer side of the field, whichever that is', () => {
    const tall = ring(X, Y, X + 24, Y, X + 24, Y + 30, X, Y + 30);
    const upright = makePair({ ...pair.input, pocket: { rings: [tall] }, plug: { rings: [tall] } });
    expect([...thinned(upright, [at(0.1, 0.1), at(0.1, 4.9), at(0.1, 5.1), at(4.9, 0.1)], 0.4)]).toEqual([
      0, 2,
    ]);
  });

  it('face one way within an eighth of a turn, wherever that begins', () => {
    expect(kept(...[0, 45, 90, 135, 180, 225, 270, 315, 360, 405].map((turn) => at(1, 1, turn)))).toEqual([
      0, 1, 2, 3, 4, 5, 6, 7,
    ]);
    for (const middle of [0, 45, 90, 135, 180, 225, 270, 315])
      expect(kept(at(1, 1, middle - 22), at(1, 1, middle), at(1, 1, middle + 22))).toEqual([0]);
  });

  it('are none that hold so low that they cannot matter', () => {
    // Four times both tips' halves, twice the height sideways and a twentieth of a millimetre, over the steeper slope.
    const t = Math.tan(steep);
    const least = 0.4 - (4 * (0.05 + 0.03) + 2 * 0.4 * t + 0.05) / t;
    expect(kept(at(1, 1), at(8, 1, 0, least + 1e-6), at(8, 8, 0, least - 1e-6))).toEqual([0, 1]);
    expect(kept(at(8, 1, 0, least))).toEqual([0]);
  });
});
