import { describe, expect, it } from 'vitest';
import { type GluePair, glueNeeded, glueOf } from '../../src/carve/glue.ts';
import type { Ring } from '../../src/geometry/shapes.ts';
import { degrees, inches } from '../../src/units.ts';
import { disc, rectangle, star } from './breakage-shapes.ts';

const pair = (ring: Ring, angle: number, change: Partial<GluePair> = {}): GluePair => ({
  pocket: { rings: [ring] },
  plug: { rings: [ring] },
  halfAngle: degrees(angle / 2),
  tip: 0,
  pocketDepth: inches(0.3),
  mating: inches(0.2),
  proud: 0,
  ...change,
});

describe('walls and room for glue', () => {
  // Closed forms worked out apart (areas of insets integrated by hand), mm2 and mm3.
  it.each<readonly [string, number, Ring, number, number]>([
    ['disc', 30, disc(inches(0.5), 600), 397.176, 965.59],
    ['square', 30, rectangle(25.4, 25.4), 505.7, 1229.42],
    ['star', 30, star(25.4), 882.871, 1133.27],
    ['disc', 60, disc(inches(0.5), 600), 414.028, 652.65],
    ['square', 60, rectangle(25.4, 25.4), 527.156, 830.98],
    ['star', 60, star(25.4), 871.802, 544.77],
  ])('%s, %d degrees', (_name, angle, ring, wall, room) => {
    const glue = glueOf(pair(ring, angle));
    expect(glue.wallArea / wall).toBeCloseTo(1, 3);
    expect(glue.room / room).toBeCloseTo(1, 3);
  });

  it('cone frustums: pi h (R^2 + R r + r^2) / 3 of the pocket less that of the plug', () => {
    const taper = Math.tan(degrees(15));
    const frustum = (h: number): number => {
      const r = 10 - h * taper;
      return (Math.PI * h * (100 + 10 * r + r * r)) / 3;
    };
    const glue = glueOf(pair(disc(10, 800), 30, { pocketDepth: 7, mating: 5 }));
    expect(glue.room / (frustum(7) - frustum(5))).toBeCloseTo(1, 4);
    // Lateral area of a frustum: pi (R + r) times the slant height.
    const r = 10 - 5 * taper;
    expect(glue.wallArea / (Math.PI * (10 + r) * (5 / Math.cos(degrees(15))))).toBeCloseTo(1, 4);
    // Over the edge of the face stands what lies straight above it: its length times the slant height.
    expect(glue.faceWall / (2 * Math.PI * r * (5 / Math.cos(degrees(15))))).toBeCloseTo(1, 4);
  });

  it('a long narrow stroke ends in a crest: a wedge with hipped ends, no face, no room of its own', () => {
    // Roof over a 60 x 2 rectangle: volume = h (L w / 2 - w^2 / 6), wall = plan area / sin(half angle).
    const h = 1 / Math.tan(degrees(15));
    const glue = glueOf(pair(rectangle(60, 2), 30, { pocketDepth: 7, mating: 5 }));
    expect(glue.wallArea / (120 / Math.sin(degrees(15)))).toBeCloseTo(1, 4);
    expect(glue.faceWall).toBe(0);
    expect(Math.abs(glue.room)).toBeLessThan(0.01 * h * (60 - 4 / 6));
  });

  it('a plug that stands proud leaves more room and a film along the walls', () => {
    const ring = rectangle(40, 40);
    const low = glueOf(pair(ring, 30, { pocketDepth: 7, mating: 5 }));
    const proud = glueOf(pair(ring, 30, { pocketDepth: 7, mating: 5, proud: 0.4 }));
    expect(proud.room).toBeGreaterThan(low.room);
    expect(proud.film).toBeCloseTo(0.4 * Math.sin(degrees(15)), 9);
    expect(low.film).toBe(0);
  });

  it('a flat tip rounds the corners of the pocket and takes a little of the room', () => {
    const ring = rectangle(40, 40);
    const sharp = glueOf(pair(ring, 30, { pocketDepth: 7, mating: 5 }));
    const flat = glueOf(pair(ring, 30, { pocketDepth: 7, mating: 5, tip: 0.5 }));
    // Each of the four corners loses (1 - pi/4) r^2 of every level cut: exact.
    expect(sharp.room - flat.room).toBeCloseTo(7 * (4 - Math.PI) * 0.25, 1);
  });

  it('glue that finds no room is told', () => {
    const glue = { wallArea: 100, faceWall: 60, room: 15, film: 0 };
    expect(glueNeeded(glue, 0.05)).toEqual({ needed: 10, overFace: 6, squeezed: 0 });
    expect(glueNeeded(glue, 0.1)).toEqual({ needed: 20, overFace: 12, squeezed: 5 });
  });

  it('a star: the area of an inset is A - L w + k w^2, k its corner sum', () => {
    const s = star(20);
    const perimeter = 10 * Math.hypot(s[0]! - s[2]!, s[1]! - s[3]!);
    // 5 cot 18 of its points less 5 (252 - 180 degrees in radians) / 2 of its notches.
    const corners = 5 / Math.tan(degrees(18)) - (5 * degrees(72)) / 2;
    const w = 2 * Math.tan(degrees(15));
    const glue = glueOf(pair(s, 30, { mating: 2, pocketDepth: 2 }));
    expect((glue.wallArea * Math.sin(degrees(15))) / (perimeter * w - corners * w * w)).toBeCloseTo(1, 4);
  });

  it('a square plug 0.4 mm proud: frustums of pyramids, and its walls from where they enter the board', () => {
    const t = Math.tan(degrees(15));
    const side = (depth: number): number => 40 - 2 * depth * t;
    const frustum = (from: number, to: number): number =>
      ((to - from) * (side(from) ** 2 + side(from) * side(to) + side(to) ** 2)) / 3;
    const glue = glueOf(pair(rectangle(40, 40), 30, { pocketDepth: 7, mating: 5, proud: 0.4 }));
    expect(glue.room / (frustum(0, 7) - frustum(0.4, 5))).toBeCloseTo(1, 6);
    expect(glue.wallArea / ((side(0.4) ** 2 - side(5) ** 2) / Math.sin(degrees(15)))).toBeCloseTo(1, 6);
    // The face's edge with its corners rounded by 1 mm, for a corner is no piston: each is 2 - pi / 2 shorter.
    const edge = 4 * side(5) - 4 * (2 - Math.PI / 2);
    expect(glue.faceWall / ((edge * 4.6) / Math.cos(degrees(15)))).toBeCloseTo(1, 4);
    // So proud that nothing of it is in the pocket: all of the pocket is room.
    const out = glueOf(pair(rectangle(40, 40), 30, { pocketDepth: 7, mating: 5, proud: 5 }));
    expect(out.room / frustum(0, 7)).toBeCloseTo(1, 6);
    expect(out.wallArea).toBeCloseTo(0, 9);
  });

  it('a face from 2 mm wide on is a piston', () => {
    const faceWall = (wide: number): number =>
      glueOf(pair(rectangle(60, wide + 2 * 5 * Math.tan(degrees(15))), 30, { pocketDepth: 7, mating: 5 }))
        .faceWall;
    expect(faceWall(1.99)).toBe(0);
    expect(faceWall(2.01)).toBeGreaterThan(100);
  });
});
