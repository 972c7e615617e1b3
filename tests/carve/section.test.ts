import { describe, expect, it } from 'vitest';
import { type FitInput, makePair } from '../../src/carve/fit.ts';
import { mendsFor } from '../../src/carve/fit-mends.ts';
import { seat, seatPair } from '../../src/carve/seat.ts';
import { heightAt, sideways } from '../../src/carve/seat-pose.ts';
import { type Profile, section } from '../../src/carve/section.ts';
import { degrees } from '../../src/units.ts';
import { ringsOf, SHAPES } from '../witness/shapes.ts';
import type { Outline } from '../witness/sweep.ts';

const t = Math.tan(degrees(15));

function inputOf(
  rings: Float64Array[],
  r: number,
  depths = { pocketFlat: 1.5, plugStart: 1, plugFlat: 0.5 },
): FitInput {
  const bit = { halfAngle: degrees(15), tipFlat: 2 * r };
  return { pocket: { rings }, plug: { rings }, pocketTool: bit, plugTool: bit, pocketStart: 0, ...depths };
}

function heightAlong(profile: Profile, s: number): number {
  const k = profile.findIndex(([at]) => at >= s);
  const [b, a] = [
    profile[k] as readonly [number, number],
    profile[Math.max(0, k - 1)] as readonly [number, number],
  ];
  return b[0] === a[0] ? b[1] : a[1] + ((s - a[0]) * (b[1] - a[1])) / (b[0] - a[0]);
}

describe('a cut through the pair', () => {
  const square = [Float64Array.from([0, 0, 10, 0, 10, 10, 0, 10])];
  const pair = makePair(inputOf(square, 0));
  const cut = section(pair, seatPair(pair), [-3, 5], [13, 5]);

  it('shows face, walls and floor where they are', () => {
    expect(heightAlong(cut.board, 1)).toBeCloseTo(0, 6);
    expect(heightAlong(cut.board, 3 + 0.5 * t)).toBeCloseTo(-0.5, 2);
    expect(heightAlong(cut.board, 8)).toBeCloseTo(-1.5, 6);
    expect(heightAlong(cut.plug, 8)).toBeCloseTo(-1, 6);
    expect(heightAlong(cut.plug, 1)).toBeCloseTo(0.5, 6);
    expect(cut.root.map(([, h]) => h)).toEqual([0.5, 0.5]);
    expect(cut.saw.map(([, h]) => h)).toEqual([0.25, 0.25]);
  });

  it('is asked more closely only where a slope changes, down to a few thousandths of its steps', () => {
    const coarse = section(pair, seatPair(pair), [-3, 5.3], [13.07, 5.3], 24);
    const at = coarse.board.map(([s]) => s);
    // A step between two bends is one; round each of the eight it is halved up to eight times.
    expect(at.length).toBeGreaterThan(25 + 4 * 5);
    expect(at.length).toBeLessThanOrEqual(25 + 8 * 8);
    const steps = at.slice(1).map((s, k) => s - at[k]!);
    expect(Math.max(...steps)).toBeCloseTo(16.07 / 24, 9);
    expect(Math.min(...steps)).toBeGreaterThan(16.07 / 24 / 2 ** 9.1);
    // Between neighbours both surfaces are straight to a hundredth of a millimetre.
    for (const [k, s] of at.slice(1).entries()) {
      const x = (s + at[k]!) / 2;
      expect(Math.abs(heightAlong(coarse.board, x) + pair.pocket.depth(x - 3, 5.3))).toBeLessThan(0.01);
    }
  });

  it('runs along its line whichever way that goes, with the root above what the pocket starts deeper', () => {
    const deeper = makePair({ ...pair.input, pocketStart: 0.2 });
    const seated = seatPair(deeper);
    const { board, plug, root, saw } = section(deeper, seated, [1, 9], [8, 1]);
    const length = Math.hypot(7, 8);
    for (const share of [0, 0.05, 0.5, 0.77, 1]) {
      const [x, y] = [1 + 7 * share, 9 - 8 * share];
      expect(heightAlong(board, share * length)).toBeCloseTo(-deeper.pocket.depth(x, y), 2);
      expect(heightAlong(plug, share * length)).toBeCloseTo(
        deeper.plug.depth(x, y) - deeper.mating + seated.seat.height,
        2,
      );
    }
    for (const [, h] of root) expect(h).toBeCloseTo(0.5 - 0.2 + seated.seat.height, 6);
    for (const [, h] of saw) expect(h).toBeCloseTo((0.5 - 0.2 + seated.seat.height) / 2, 6);
  });

  it('lays the plug where it has swung to, and turned to, as it is tilted', () => {
    const { seat } = seatPair(pair);
    const swung = { ...seat, height: 0.3, dx: 0.05, dy: -0.04, tiltX: 0.02, tiltY: -0.01 };
    const { plug } = section(pair, { seat: swung }, [2, -0.5], [2.5, 10.5]);
    // On both end walls: the point of the plug that comes down there is sought until it stays.
    for (const y of [0.1, 9.9]) {
      const x = 2 + (0.5 * (y + 0.5)) / 11;
      const up = heightAt(pair, swung, x, y) - pair.mating;
      let taken = pair.plug.depth(x, y);
      for (let n = 0; n < 40; n++) {
        const [vx, vy] = sideways(pair, swung, x, y, -up - taken);
        taken = pair.plug.depth(x - vx, y - vy);
      }
      const s = (y + 0.5) * (Math.hypot(0.5, 11) / 11);
      expect(Math.abs(heightAlong(plug, s) - up - taken)).toBeLessThan(0.01);
    }
  });

  it('keeps the glue under the face of the plug', () => {
    expect(cut.glue).toHaveLength(1);
    const room = cut.glue[0] as (typeof cut.glue)[number];
    const [from, to] = [room.board[0]?.[0] ?? 0, room.board.at(-1)?.[0] ?? 0];
    expect(from).toBeCloseTo(3 + t, 1);
    expect(to).toBeCloseTo(13 - t, 1);
    // Its lower edge is the board's, its upper one the plug's, place for place.
    expect(room.plug).toHaveLength(room.board.length);
    room.plug.forEach(([s, h], k) => {
      expect(s).toBe(room.board[k]?.[0]);
      expect(h).toBeGreaterThan(room.board[k]?.[1] ?? 0);
    });
  });

  it('never lets wood run into wood', () => {
    for (const name of ['star', 'letter with a counter', 'acute triangle']) {
      const shaped = makePair(inputOf(ringsOf(SHAPES[name] as Outline), 0.06));
      const fit = seatPair(shaped);
      const { minX, maxX, minY, maxY } = shaped.box;
      const across = section(shaped, fit, [minX - 0.5, minY + 0.2], [maxX + 0.5, maxY - 0.3]);
      // A tilted plug is drawn by its columns: off by the tilt's square over the depth at most.
      const slack = (fit.seat.tiltX ** 2 + fit.seat.tiltY ** 2) * 10 + 2e-3;
      across.board.forEach(([s, h], k) => {
        expect((across.plug[k]?.[1] ?? Number.NaN) - h, `${name} at ${s}`).toBeGreaterThan(-slack);
      });
    }
  });

  it('has an answer for a line of no length', () => {
    const dot = section(pair, seatPair(pair), [5, 5], [5, 5]);
    expect(dot.length).toBe(0);
    expect(dot.board.every(([, h]) => h === -1.5)).toBe(true);
  });
});

describe('mends', () => {
  it('offers nothing when nothing holds', () => {
    const pair = makePair(inputOf([Float64Array.from([0, 0, 10, 0, 10, 10, 0, 10])], 0));
    expect(mendsFor(pair, seatPair(pair), 0.01, 0.01 * t)).toEqual([]);
  });

  it('frees a stroke by a shallower mating, and says what comes of it', () => {
    const ring = Float64Array.from([0, 0, 12, 0, 12, 0.4, 0, 0.4]);
    const pair = makePair(inputOf([ring], 0.05));
    const fit = seatPair(pair);
    const mends = mendsFor(pair, fit, 0.02, 0.02 * t);
    const shallower = mends.find((m) => m.kind === 'shallower-mating');
    // (R - r) / t: only the square ends still hold, r (1 - sin 45).
    expect(shallower?.value).toBeCloseTo((0.2 - 0.05) / t, 6);
    expect(shallower?.gap).toBeCloseTo(0.05 * (1 - Math.SQRT1_2), 5);
  });

  it('opens a notch to the angle that is wanted', () => {
    const pair = makePair(inputOf(ringsOf(SHAPES['notch'] as Outline), 0.03));
    const fit = seatPair(pair);
    const wanted = 0.03 / t;
    const open = mendsFor(pair, fit, wanted, wanted * t).find((m) => m.kind === 'open-notch');
    // 1 / sin(a/2) - 1 = 1 at 60 degrees.
    expect(open?.value).toBeCloseTo(degrees(60), 6);
    expect(open?.level).toBeLessThan(wanted + 1e-6);
  });

  it('opens all the notches that hold, and tells how many', () => {
    const spiked = [0, 0, 4, 0, 4.5, 2, 5, 0, 10, 0, 10.5, 2, 11, 0, 15, 0, 15, 8, 0, 8];
    const [wanted, r] = [0.02 / t, 0.05];
    const pair = makePair(
      inputOf([Float64Array.from(spiked)], r, { pocketFlat: 5, plugStart: 4, plugFlat: 1 }),
    );
    const open = mendsFor(pair, seatPair(pair), wanted, 0.02).find((m) => m.kind === 'open-notch');
    expect(open?.others).toBe(1);
    // Both points drawn back along their middle to the angle told; one alone would leave the other's lift.
    const back = 0.5 / Math.tan((open?.value ?? Number.NaN) / 2);
    const mended = (points: readonly number[]): Float64Array =>
      Float64Array.from(points, (v, k) => (k % 2 === 1 && (points[k] as number) === 2 ? back : v));
    const again = seat(inputOf([mended(spiked)], r, { pocketFlat: 5, plugStart: 4, plugFlat: 1 }));
    expect(Math.abs(again.level - (open?.level ?? Number.NaN)) * t).toBeLessThan(1e-6);
    expect(Math.abs((again.worstGap?.gap ?? Number.NaN) - (open?.gap ?? Number.NaN))).toBeLessThan(1e-4);
  });

  it('tells only what running the model again confirms', () => {
    for (const [name, outline] of Object.entries(SHAPES)) {
      const input = inputOf(ringsOf(outline), 0.06);
      const pair = makePair(input);
      const fit = seatPair(pair);
      const mends = mendsFor(pair, fit, 0.01, 0.01 * t);
      for (const m of mends) {
        expect(m.level, name).toBeLessThan(fit.level * 0.8);
        if (m.kind !== 'smaller-tip') continue;
        const bit = { halfAngle: degrees(15), tipFlat: m.value };
        const again = seat({ ...input, pocketTool: bit, plugTool: bit });
        expect(again.level, `${name} ${m.value}`).toBe(m.level);
        // What it tells to be left open is what a check of the mended pair would find, corners and all.
        expect(again.worstGap?.gap, `${name} ${m.value}`).toBe(m.gap);
      }
      if (fit.level > 0.02)
        expect(
          mends.some((m) => m.kind === 'smaller-tip' && m.value === 0),
          name,
        ).toBe(true);
    }
  });

  it('deepens a pocket whose floor holds the plug', () => {
    const pair = makePair(
      inputOf([Float64Array.from([0, 0, 20, 0, 20, 20, 0, 20])], 0, {
        pocketFlat: 1,
        plugStart: 1.4,
        plugFlat: 1,
      }),
    );
    const fit = seatPair(pair);
    expect(fit.level).toBeCloseTo(0.4, 9);
    expect(fit.holds[0]?.kind).toBe('floor');
    const deeper = mendsFor(pair, fit, 0.1, 0.1 * t).find((m) => m.kind === 'deeper-pocket');
    expect(deeper?.value).toBeCloseTo(1.4, 9);
    expect(Math.abs(deeper?.level ?? 1)).toBeLessThan(1e-9);
  });
});
