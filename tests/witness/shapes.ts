import { degrees } from '../../src/units.ts';
import type { Outline } from './sweep.ts';

type Pt = readonly [number, number];

const star: readonly Pt[] = Array.from({ length: 10 }, (_, k) => {
  const radius = k % 2 === 0 ? 1.5 : 1.5 * 0.381966;
  return [radius * Math.cos(degrees(36 * k + 7)), radius * Math.sin(degrees(36 * k + 7))];
});

function arc(cx: number, cy: number, r: number, from: number, to: number, steps: number): Pt[] {
  return Array.from({ length: steps }, (_, k) => {
    const a = degrees(from + ((to - from) * k) / steps);
    return [cx + r * Math.cos(a), cy + r * Math.sin(a)];
  });
}

/** Half the opening angle of the lens's arcs, of radius 4, whose middle is 0.2 thick. */
const LENS = 12.838568;

/**
 * The drawings both the model and the brute-force cut are asked about, mm. Outer rings run so that their signed
 * area is positive, holes the other way.
 */
export const SHAPES: Readonly<Record<string, Outline>> = {
  disc: [arc(0, 0, 1.1, 0, 360, 120)],
  rectangle: [
    [
      [0, 0],
      [3.2, 0],
      [3.2, 1],
      [0, 1],
    ],
  ],
  'acute triangle': [
    [
      [0, 0],
      [4, 0],
      [3.46, 2],
    ],
  ],
  star: [star],
  notch: [
    [
      [0, 0],
      [1.25, 0],
      [1.5, 0.9],
      [1.75, 0],
      [3, 0],
      [3, 2.2],
      [0, 2.2],
    ],
  ],
  'letter T': [
    [
      [-0.2, 0],
      [0.2, 0],
      [0.2, 1.5],
      [1, 1.5],
      [1, 2.1],
      [-1, 2.1],
      [-1, 1.5],
      [-0.2, 1.5],
    ],
  ],
  lens: [[...arc(0, 3.9, 4, 270 - LENS, 270 + LENS, 30), ...arc(0, -3.9, 4, 90 - LENS, 90 + LENS, 30)]],
  'letter with a counter': [
    [
      [0, 0],
      [0.55, 0],
      [0.85, 0.8],
      [1.75, 0.8],
      [2.05, 0],
      [2.6, 0],
      [1.6, 2.6],
      [1, 2.6],
    ],
    [
      [1, 1.2],
      [1.3, 2.05],
      [1.6, 1.2],
    ],
  ],
  'two close islands': [
    [
      [0, 0],
      [1.2, 0],
      [1.2, 1.6],
      [0, 1.6],
    ],
    [
      [1.38, 0],
      [2.6, 0],
      [2.6, 1.6],
      [1.38, 1.6],
    ],
  ],
};

export function ringsOf(outline: Outline): Float64Array[] {
  return outline.map((ring) => Float64Array.from(ring.flat()));
}
