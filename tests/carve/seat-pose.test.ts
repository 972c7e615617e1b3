import { describe, expect, it } from 'vitest';
import { type FitInput, liftAt, makePair, type Pair, type Seat } from '../../src/carve/fit.ts';
import { placesOf, seatPair } from '../../src/carve/seat.ts';
import { boundAt, highestAmong, knownOf, seatAt } from '../../src/carve/seat-known.ts';
import { heightOf } from '../../src/carve/seat-least.ts';
import { depthOf, heightAt, highestHold, holdAt, sideways } from '../../src/carve/seat-pose.ts';
import type { Region } from '../../src/geometry/shapes.ts';
import { degrees } from '../../src/units.ts';
import { seeded } from '../geometry/shapes-for-tests.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import type { Outline } from '../witness/sweep.ts';
import { formulaPair, placeIn } from './formula-pair.ts';

const DEPTHS = { pocketStart: 0.1, pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 };

/** The pocket's bit is flatter than the plug's, so that what belongs to one cannot pass for the other's. */
function inputOf(name: string, depths = DEPTHS): FitInput {
  const region: Region = { rings: ringsOf(SHAPES[name] as Outline) };
  return {
    pocket: region,
    plug: region,
    pocketTool: { halfAngle: degrees(20), tipFlat: 0.12 },
    plugTool: { halfAngle: degrees(15), tipFlat: 0.1 },
    ...depths,
  };
}

const level = (pair: Pair): Seat => ({
  height: 0,
  dx: 0,
  dy: 0,
  turn: 0,
  tiltX: 0,
  tiltY: 0,
  middle: pair.middle,
});

/** The region turned by a small angle about a middle, then shifted: exactly, by sine and cosine. */
function moved({ rings }: Region, { dx, dy, turn, middle: [mx, my] }: Seat): Region {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return {
    rings: rings.map((ring) =>
      ring.map((_, k) => {
        const [x, y] = [(ring[k - (k % 2)] as number) - mx, (ring[k - (k % 2) + 1] as number) - my];
        return k % 2 === 0 ? mx + c * x - s * y + dx : my + s * x + c * y + dy;
      }),
    ),
  };
}

describe('a plug that has moved', () => {
  it('rises along its tilts from its middle', () => {
    const pair = makePair(inputOf('notch'));
    const [mx, my] = pair.middle;
    const s = { ...level(pair), height: 0.3, tiltX: 0.01, tiltY: -0.02 };
    expect(heightAt(pair, s, mx, my)).toBeCloseTo(0.3, 12);
    expect(heightAt(pair, s, mx + 2, my)).toBeCloseTo(0.32, 12);
    expect(heightAt(pair, s, mx, my + 3)).toBeCloseTo(0.24, 12);
  });

  it('swings about its face when it tilts, and turns about its middle', () => {
    const pair = makePair(inputOf('notch'));
    const [mx, my] = pair.middle;
    const tilted = { ...level(pair), tiltX: 0.01, tiltY: -0.02 };
    expect(sideways(pair, tilted, 7, 9, 0)).toEqual([0, 0]);
    expect(sideways(pair, tilted, 7, 9, 2)).toEqual([0.02, -0.04]);
    // A quarter of the way anticlockwise what lies to the right goes up, and what lies above goes left.
    const turned = { ...level(pair), turn: 0.001, dx: 0.5, dy: 0.25 };
    expect(sideways(pair, turned, mx + 2, my, 0)[0]).toBeCloseTo(0.5, 12);
    expect(sideways(pair, turned, mx + 2, my, 0)[1]).toBeCloseTo(0.252, 12);
    expect(sideways(pair, turned, mx, my + 3, 9)[0]).toBeCloseTo(0.497, 12);
    expect(sideways(pair, turned, mx, my + 3, 9)[1]).toBeCloseTo(0.25, 12);
  });

  it('is held at each place as a plug drawn and cut where it has moved to', () => {
    const random = seeded(21);
    const part = (far: number): number => far * (2 * random() - 1);
    for (const name of ['acute triangle', 'letter with a counter']) {
      const input = inputOf(name);
      const pair = makePair(input);
      const places = placesOf(pair).slice(0, 40);
      for (let n = 0; n < 4; n++) {
        const s = { ...level(pair), dx: part(0.03), dy: part(0.03), turn: part(1e-4) };
        const there = makePair({ ...input, plug: moved(input.plug, s) });
        for (const p of places) {
          const [vx, vy] = p.rides === 'plug' ? sideways(pair, s, p.x, p.y, 0) : [0, 0];
          // Turn and shift taken one after the other differ by turn times shift, 3e-6 mm, over the wall's slope.
          expect(holdAt(pair, s, p)).toBeCloseTo(liftAt(there, p.x + vx, p.y + vy), 4);
        }
      }
    }
  });

  it('that is tilted is held at its middle lower by its rise at a place, and as it has swung there', () => {
    const pair = makePair(inputOf('letter T'));
    const [tiltX, tiltY] = [0.004, -0.003];
    const s = { ...level(pair), height: 0.2, tiltX, tiltY };
    for (const p of placesOf(pair)) {
      const rise = tiltX * (p.x - pair.middle[0]) + tiltY * (p.y - pair.middle[1]);
      // Depth of the place below the board's face: where its own part is cut to, in the plug's case risen with it.
      const deep = p.rides === 'plug' ? pair.mating - p.own - 0.2 - rise : p.own;
      expect(depthOf(pair, s, p)).toBeCloseTo(deep, 12);
      const [vx, vy] = [tiltX * deep, tiltY * deep];
      const other =
        p.rides === 'plug' ? pair.pocket.depth(p.x + vx, p.y + vy) : pair.plug.depth(p.x - vx, p.y - vy);
      expect(holdAt(pair, s, p)).toBeCloseTo(pair.mating - p.own - other - rise, 12);
    }
  });

  it('is held at the highest of all its places, and by those above a height', () => {
    const random = seeded(22);
    const part = (far: number): number => far * (2 * random() - 1);
    for (const name of ['notch', 'letter T', 'two close islands']) {
      const pair = makePair(inputOf(name));
      const places = placesOf(pair);
      for (let n = 0; n < 12; n++) {
        const far = [0, 0.01, 0.1][n % 3] as number;
        const s: Seat = {
          ...level(pair),
          dx: part(far),
          dy: part(far),
          turn: part(far / 3),
          tiltX: part(far / 3),
          tiltY: part(far / 3),
        };
        const all = places.map((p) => holdAt(pair, s, p));
        const most = Math.max(...all);
        const { hold, at, met } = highestHold(pair, places, s);
        expect(hold).toBe(most);
        expect(holdAt(pair, s, at as (typeof places)[number])).toBe(most);
        expect(met).toEqual([]);
        const over = most - 0.05;
        expect(highestHold(pair, places, s, over, true).met).toEqual(
          places.flatMap((place, k) => {
            const held = all[k] as number;
            return held > over ? [{ place, hold: held }] : [];
          }),
        );
        expect(highestHold(pair, places, s, most + 1)).toEqual({ hold: most + 1, at: undefined, met: [] });
      }
    }
  });
});

describe('the highest hold of places told by formulas', () => {
  const [mx, my] = [100, -70];
  /** Each part is one plane that falls away as steeply as its wall may: along x the pocket, along y the plug. */
  function planes(tp: number, tq: number) {
    const asked = { pocket: 0, plug: 0 };
    const pair = formulaPair({
      tp,
      tq,
      pocket: (x) => {
        asked.pocket++;
        return 5 - (x - mx) / tp;
      },
      plug: (_, y) => {
        asked.plug++;
        return -3 + (y - my) / tq;
      },
    });
    return { pair, asked };
  }
  const still = { height: 0, dx: 0, dy: 0, turn: 0, tiltX: 0, tiltY: 0, middle: [mx, my] as const };

  it.each([
    [0.3, 0.2],
    [0.2, 0.3],
  ])('goes up by a shift over the slope of the other part, %f and %f', (tp, tq) => {
    const { pair } = planes(tp, tq);
    // Of the plug: its own column goes on to where the pocket is less deep. Of the board: the plug's column comes.
    const up = [
      ['plug', { ...still, dx: 0.1 }, 0.1 / tp],
      ['board', { ...still, dy: 0.1 }, 0.1 / tq],
    ] as const;
    for (const [rides, s, gain] of up) {
      const low = placeIn(pair, rides, mx, my);
      // Another that holds nearly as high, and stays as it is: only what gains all it can passes it.
      const firm = { ...low, own: low.own - 0.99 * gain, lift: low.lift + 0.99 * gain };
      for (const all of [false, true]) {
        const { hold, at, met } = highestHold(pair, [low], s, firm.lift, all);
        expect(hold).toBeCloseTo(low.lift + gain, 9);
        expect(at).toBe(low);
        expect(met.map(({ place }) => place)).toEqual(all ? [low] : []);
      }
    }
  });

  it.each([
    ['tiltX', 'plug', 3],
    ['tiltX', 'plug', -0.5],
    ['tiltY', 'board', 3],
    ['tiltY', 'board', 0.5],
  ] as const)('goes up by how a tilt (%s) swings a place of the %s %f deep', (tilt, rides, deep) => {
    const { pair } = planes(0.3, 0.2);
    const made = placeIn(pair, rides, mx, my);
    // At the middle a tilt lifts nothing; what it moves there is its depth times the tilt.
    const place = { ...made, own: rides === 'plug' ? pair.mating - deep : deep };
    const by = 0.1 / deep;
    const s = { ...still, [tilt]: by };
    const gain = 0.1 / (rides === 'plug' ? 0.3 : 0.2);
    const level = holdAt(pair, { ...still, dx: 1e-12 }, place);
    const least = level + 0.99 * gain;
    const known = { ...place, lift: level };
    expect(highestHold(pair, [known], s, least).hold).toBeCloseTo(level + gain, 6);
  });

  it('are asked until one holds higher than is enough, and no further', () => {
    const { pair } = planes(0.3, 0.2);
    const rising = [0.4, 0.3, 0.2, 0.1].map((inside) => placeIn(pair, 'plug', mx - inside, my));
    const lifts = rising.map(({ lift }) => lift);
    expect(lifts).toEqual(lifts.toSorted((a, b) => a - b));
    const until = (enough?: number) =>
      rising.indexOf(highestHold(pair, rising, still, undefined, false, enough).at as (typeof rising)[0]);
    expect(until()).toBe(3);
    expect(until(lifts[0]! - 1e-9)).toBe(0);
    // As high as enough is not higher.
    expect(until(lifts[1]!)).toBe(2);
    expect(until(lifts[3]!)).toBe(3);
  });

  it('asks nothing of what has not moved, and once of a place that may be the highest', () => {
    const { pair, asked } = planes(0.3, 0.2);
    const places = [...Array(9).keys()].map((k) =>
      placeIn(pair, k % 2 === 0 ? 'plug' : 'board', mx - 1 - 0.2 * k, my),
    );
    const asks = (s: Seat, over?: number, all?: boolean): number => {
      asked.pocket = asked.plug = 0;
      highestHold(pair, places, s, over, all);
      return asked.pocket + asked.plug;
    };
    expect(asks(still)).toBe(0);
    // The second holds lower by 0.2 / 0.3: more than a shift, turn or tilt of 0.05 can make up.
    for (const s of [
      { ...still, dx: 0.05 },
      { ...still, dy: -0.05 },
      { ...still, turn: 0.02 },
      { ...still, tiltX: 0.01 },
      { ...still, tiltY: 0.01 },
    ])
      expect(asks(s)).toBe(1);
    // Where all are wanted all are asked that may be above.
    expect(asks({ ...still, dx: 0.05 }, places[4]!.lift - 0.3, true)).toBe(5);
    expect(asks({ ...still, dx: 0.05 }, places[4]!.lift - 0.3)).toBe(1);
  });

  it('is that of the first of two alike, and above a height means above it', () => {
    const { pair } = planes(0.3, 0.2);
    const twins = [placeIn(pair, 'plug', mx, my), placeIn(pair, 'plug', mx, my)];
    expect(highestHold(pair, twins, still).at).toBe(twins[0]);
    const { lift } = twins[0]!;
    expect(highestHold(pair, twins, still, lift, true)).toEqual({ hold: lift, at: undefined, met: [] });
    const shifted = { ...still, dx: -0.05 };
    const there = holdAt(pair, shifted, twins[0]!);
    expect(highestHold(pair, twins, shifted, there, true)).toEqual({ hold: there, at: undefined, met: [] });
    expect(highestHold(pair, twins, shifted, there - 1e-9, true).met.map(({ place }) => place)).toEqual(
      twins,
    );
    expect(highestHold(pair, twins, shifted, there - 1e-9).met).toEqual([]);
  });
});

describe('places with what is known of each', () => {
  it('tell the highest hold and those near it as if each were asked, whatever was asked before', () => {
    const random = seeded(23);
    for (const name of ['notch', 'letter with a counter']) {
      const pair = makePair(inputOf(name));
      const places = placesOf(pair);
      const known = knownOf(pair, places);
      const all = Int32Array.from(places.keys());
      // Motions that come back to nothing and to one another: what is kept must not be taken for what is asked.
      let m = new Float64Array(5);
      for (let n = 0; n < 40; n++) {
        const far = [0.1, 0.01, 0.001][n % 3] as number;
        if (n % 4 !== 3)
          m = m.map((v, i) => (n % 4 === 0 ? 0 : v) + (n % 5 === i ? 3 : 1) * far * (2 * random() - 1));
        const s = seatAt(pair, known.arm, m, places[0]?.lift ?? 0);
        const holds = places.map((p) => holdAt(pair, s, p));
        const most = Math.max(...holds);
        const { height, near } = highestAmong(known, all, m, 0.03);
        expect(height).toBeCloseTo(most, 12);
        expect([...near]).toEqual([...all].filter((k) => (holds[k] as number) > height - 0.03));
      }
    }
  });

  it('turn and tilt by lengths at the plug edge: its half diagonal away a turn of 1 mm moves 1 mm', () => {
    const pair = makePair(inputOf('rectangle'));
    const { arm } = knownOf(pair, placesOf(pair));
    expect(arm).toBeCloseTo(Math.hypot(3.2, 1) / 2, 12);
    expect(seatAt(pair, arm, Float64Array.of(1, 2, arm, 2 * arm, 3 * arm), 7)).toEqual({
      height: 7,
      dx: 1,
      dy: 2,
      turn: 1,
      tiltX: 2,
      tiltY: 3,
      middle: pair.middle,
    });
  });

  it('each have a straight bound that tells the hold there and beside it', () => {
    const random = seeded(24);
    let straight = 0;
    for (const name of ['rectangle', 'acute triangle']) {
      const pair = makePair(inputOf(name));
      const places = placesOf(pair);
      const known = knownOf(pair, places);
      for (const start of [0, 0.02]) {
        const m = Float64Array.from({ length: 5 }, () => start * (2 * random() - 1));
        const { height, near } = highestAmong(known, Int32Array.from(places.keys()), m, 0.2);
        expect(near.length).toBeGreaterThan(0);
        for (const k of near) {
          const bound = boundAt(known, k, m);
          const holdAtMotion = (by: Float64Array): number =>
            holdAt(
              pair,
              seatAt(pair, known.arm, by, places[0]?.lift ?? 0),
              places[k] as (typeof places)[number],
            );
          expect(heightOf(bound, m)).toBeCloseTo(holdAtMotion(m), 9);
          expect(heightOf(bound, m)).toBeLessThanOrEqual(height + 1e-9);
          // Where the hold bends there is no one slope: those places are left out.
          const here = holdAtMotion(m);
          const slopes = [0, 1, 2, 3, 4].map((i) =>
            [1e-5, -1e-5].map((by) => (holdAtMotion(m.map((v, j) => v + (j === i ? by : 0))) - here) / by),
          ) as [number, number][];
          if (slopes.some(([ahead, back]) => Math.abs(ahead - back) > 1e-3)) continue;
          straight++;
          slopes.forEach(([ahead], i) => {
            // How deep a place lies is taken as before the tilt: off by the tilt's rise times the wall's slope.
            expect(Math.abs((bound[i + 1] as number) - ahead)).toBeLessThan(2e-3 + 3 * start);
          });
        }
      }
    }
    expect(straight).toBeGreaterThan(20);
  });
});

describe('places told by formulas with what is known of each', () => {
  const [mx, my] = [100, -70];
  const [tp, tq] = [0.3, 0.2];
  const ARM = 5;
  /** The pocket grows less deep along x, and the plug's cut along y, as steeply as walls may. */
  function planes() {
    let asked = 0;
    const count = (v: number): number => {
      asked++;
      return v;
    };
    const pair = formulaPair({
      tp,
      tq,
      pocket: (x) => count(5 - (x - mx) / tp),
      plug: (_, y) => count(-3 + (y - my) / tq),
    });
    const taken = (): number => {
      const was = asked;
      asked = 0;
      return was;
    };
    return { pair, taken };
  }

  it('lie from the middle and as deep as parts of the arm, with the slope of the other part', () => {
    const { pair } = planes();
    const places = [placeIn(pair, 'plug', mx + 2, my - 1), placeIn(pair, 'board', mx - 3, my + 2)];
    const { arm, lies, holds, askedAt } = knownOf(pair, places);
    expect(arm).toBe(ARM);
    // The plug is held as high as the first place lifts it: so much less deep lies what rides on it.
    const [on, board] = places as [(typeof places)[number], (typeof places)[number]];
    const deep = (1 - on.own - on.lift) / ARM;
    expect([...lies]).toEqual(
      [2 / 5, -1 / 5, deep, 1 / tp, -3 / 5, 2 / 5, board.own / ARM, 1 / tq].map((v) => expect.closeTo(v, 12)),
    );
    expect([...holds]).toEqual(places.map((p) => p.lift));
    expect([...askedAt]).toEqual(Array(10).fill(0));
    expect(knownOf(pair, []).holds).toHaveLength(0);
  });

  it('have a straight bound that on planes is the hold at every motion', () => {
    const random = seeded(41);
    const { pair } = planes();
    const places = [placeIn(pair, 'plug', mx + 2, my - 1), placeIn(pair, 'board', mx - 3, my + 2)];
    const all = Int32Array.of(0, 1);
    for (let n = 0; n < 20; n++) {
      const known = knownOf(pair, places);
      const motion = () => Float64Array.from({ length: 5 }, () => 0.01 * (2 * random() - 1));
      const m = motion();
      highestAmong(known, all, m, 99);
      for (const k of all) {
        const row = boundAt(known, k, m);
        const to = motion();
        const told = heightOf(row, to);
        const held = holdAt(pair, seatAt(pair, ARM, to, places[0]!.lift), places[k]!);
        // How deep a place of the plug lies changes with its tilt: a second order of the motion.
        expect(Math.abs(told - held)).toBeLessThan(2e-4);
        expect(heightOf(row, m)).toBeCloseTo(known.holds[k] as number, 9);
      }
    }
  });

  it('are asked once for a motion, and not at all where they cannot be the highest', () => {
    const { pair, taken } = planes();
    const places = Array.from({ length: 6 }, (_, k) => placeIn(pair, 'plug', mx - 1 - 0.2 * k, my));
    const known = knownOf(pair, places);
    const all = Int32Array.from(places.keys());
    const motions = [[0.05, 0], [0, -0.05], [0, 0, 0.05], [0, 0, 0, 0.05], [0, 0, 0, 0, 0.05]]; // biome-ignore format: one line
    taken();
    expect(highestAmong(known, all, new Float64Array(5), 0.1)).toEqual({
      height: places[0]!.lift,
      near: [0],
    });
    expect(taken()).toBe(0);
    for (const m of motions) {
      const to = Float64Array.from({ length: 5 }, (_, i) => m[i] ?? 0);
      // The next lies 0.2 / 0.3 lower: a motion of 0.05, and another back, make up less than that.
      const first = highestAmong(known, all, to, 0.1);
      expect(first.near, `${m}`).toEqual([0]);
      expect(taken(), `${m}`).toBe(1);
      expect(highestAmong(known, all, to, 0.1)).toEqual(first);
      expect(taken(), `${m}`).toBe(0);
    }
    // Far on from where it was asked last, not from where it lay, the second may be as high.
    const far = Float64Array.of(0.4, 0, 0, 0, 0);
    const held = highestAmong(known, all, far, 0.1);
    expect(held.height).toBeCloseTo(places[0]!.lift + 0.4 / tp, 9);
    taken();
    highestAmong(known, all, Float64Array.of(0.45, 0, 0, 0, 0), 0.1);
    expect(taken()).toBe(1);
  });

  it('are met when they gain all that a motion can give: by shift, turn and tilt', () => {
    const { pair } = planes();
    // The first holds 0.99 of the gain higher, and has nothing beside it: it loses by every one of these motions.
    for (const [rides, x, y, m, gain] of [
      ['plug', 0, 0, [0.1], 0.1 / tp],
      ['plug', 0, -2, [0, 0, 0.2], (0.2 * 2) / ARM / tp],
      ['board', 0, 0, [0, 0.1], 0.1 / tq],
      ['board', 2, 0, [0, 0, 0.2], (0.2 * 2) / ARM / tq],
      ['board', 0, 0, [0, 0, 0, 0, 0.1], (0.1 * 5) / ARM / tq],
    ] as const) {
      const low = placeIn(pair, rides, mx + x, my + y);
      const to = Float64Array.from({ length: 5 }, (_, i) => m[i] ?? 0);
      const high = { ...low, lift: low.lift + 0.98 * gain };
      const known = knownOf(pair, [high, low]);
      known.holds[0] = high.lift;
      known.askedAt.set(to, 0);
      const { height, near } = highestAmong(known, Int32Array.of(0, 1), to, 1e-3);
      expect(height, `${rides} ${m}`).toBeCloseTo(low.lift + gain, 9);
      expect(near).toEqual([1]);
    }
  });
});

describe('the seat of a pair', () => {
  it('holds at its middle what its places hold, and stands proud by the highest of them', () => {
    for (const name of ['acute triangle', 'star', 'letter T']) {
      const pair = makePair(inputOf(name));
      const places = placesOf(pair);
      const fit = seatPair(pair);
      const holds = places.map((p) => holdAt(pair, fit.seat, p));
      // Between them it may be held a hundredth of a mm sideways higher, where it has moved.
      const over = fit.seat.height - Math.max(...holds);
      expect(over).toBeGreaterThan(-1e-9);
      expect(over * Math.tan(degrees(15))).toBeLessThan(0.01);
      expect(fit.level).toBeGreaterThanOrEqual(Math.max(...places.map((p) => p.lift)));
      expect(fit.proud).toBeGreaterThanOrEqual(fit.seat.height);
      const rises = places.map((p) => heightAt(pair, fit.seat, p.x, p.y));
      expect(fit.proud).toBeGreaterThan(Math.max(fit.seat.height, ...rises) - 1e-9);
      expect(fit.proud - Math.max(fit.seat.height, ...rises)).toBeLessThan(1e-3);
      expect(fit.glueGap.face).toBeCloseTo(DEPTHS.pocketFlat - DEPTHS.plugStart + fit.seat.height, 12);
      expect(fit.sawGap.wide).toBeCloseTo(DEPTHS.plugFlat - DEPTHS.pocketStart + fit.seat.height, 12);
    }
  });
});
