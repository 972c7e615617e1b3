import type { Region } from '../../src/geometry/shapes.ts';
import { sound } from './catalogue.ts';
import { type Design, PAGE, piecesOf } from './designs.ts';
import { dataOf, drawn, mirrored, moved, type Pair, pathOf, svg } from './drawing.ts';

/** The same pair saved in another way: nothing of it is a fault, and nothing may be blamed for it. */
export interface Export {
  readonly name: string;
  readonly save: (design: Design, random: () => number) => Pair;
}

const about = (degrees: number) => `rotate(${degrees} ${PAGE / 2} ${PAGE / 2})`;
const plugOf = ({ region }: Design): string => pathOf(mirrored(region));
const withPlug = (design: Design, plug: string): Pair => ({ ...sound(design), plug });

export const EXPORTS: readonly Export[] = [
  {
    name: 'turned and moved',
    save: (design, random) =>
      withPlug(
        design,
        svg(`<g transform="translate(3 -7) ${about(30 * random() - 15)}">${plugOf(design)}</g>`),
      ),
  },
  {
    name: 'mirrored top to bottom',
    save: (design) =>
      withPlug(design, svg(`<g transform="translate(0 ${PAGE}) scale(1 -1)">${pathOf(design.region)}</g>`)),
  },
  {
    name: 'in inches',
    save: (design) => {
      const inches = PAGE / 25.4;
      const small = moved(mirrored(design.region), (x, y) => [x / 25.4, y / 25.4]);
      return withPlug(
        design,
        svg(pathOf(small, 7), `width="${inches}in" height="${inches}in" viewBox="0 0 ${inches} ${inches}"`),
      );
    },
  },
  {
    name: 'one element for each piece, holes cut out of it',
    save: (design) => withPlug(design, svg(piecesOf(mirrored(design.region)).map(pieceOf).join('\n'))),
  },
  {
    name: 'other starts and other directions',
    save: (design, random) => withPlug(design, drawn({ rings: shuffled(mirrored(design.region), random) })),
  },
  {
    name: 'three decimals',
    save: (design) => withPlug(design, svg(pathOf(mirrored(design.region), 3))),
  },
  {
    name: 'rounded to pixels at 300 to the inch, three decimals',
    save: (design) => {
      const pixels = (PAGE / 25.4) * 300;
      const large = moved(mirrored(design.region), (x, y) => [(x / 25.4) * 300, (y / 25.4) * 300]);
      return withPlug(
        design,
        svg(pathOf(large, 3), `width="${PAGE}mm" height="${PAGE}mm" viewBox="0 0 ${pixels} ${pixels}"`),
      );
    },
  },
  {
    name: 'every edge halved',
    save: (design) => withPlug(design, drawn(halved(mirrored(design.region)))),
  },
];

const pieceOf = (piece: Region): string =>
  `<path fill-rule="evenodd" d="${piece.rings.map((ring) => dataOf(ring)).join('')}"/>`;

function shuffled({ rings }: Region, random: () => number): Region['rings'] {
  return rings.map((ring) => {
    const points = Array.from({ length: ring.length / 2 }, (_, k) => [ring[2 * k], ring[2 * k + 1]]);
    const first = Math.floor(random() * points.length);
    const turned = [...points.slice(first), ...points.slice(0, first)];
    return Float64Array.from((random() < 0.5 ? turned : turned.reverse()).flat() as number[]);
  });
}

function halved({ rings }: Region): Region {
  return {
    rings: rings.map((ring) =>
      Float64Array.from({ length: 2 * ring.length }, (_, k) => {
        const at = 2 * (k >> 2) + (k & 1);
        const here = ring[at] as number;
        return k & 2 ? (here + (ring[(at + 2) % ring.length] as number)) / 2 : here;
      }),
    ),
  };
}
