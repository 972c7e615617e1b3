import { unionRings } from '../../src/geometry/combine.ts';
import { grow } from '../../src/geometry/offset.ts';
import { area } from '../../src/geometry/region.ts';
import { signedArea } from '../../src/geometry/ring.ts';
import type { Region, Ring } from '../../src/geometry/shapes.ts';
import { coasts } from '../bench/outlines.ts';
import { type Drawing, iconDrawings, letterDrawings, someOf, tidied } from '../reference/letters.ts';
import { ACROSS, type Design, DUST, designOf, onPage } from './designs.ts';

/** Points of a design beyond which a run over many of them takes too long. */
const MOST_POINTS = 2500;
/** A design with nowhere to put a fault of our own says nothing. */
const LEAST_ROOM = 1.5; // mm

/**
 * `count` designs nobody here drew, the same ones for the same seed: icons, ornate letters and coast lines. Every
 * second one is rounded, so that each is there for its sharp places or without any.
 */
export function* manyDesigns(count: number, seed: number): Generator<Design> {
  const kinds = [
    someOf(iconDrawings(ACROSS), 10 * count, seed).map(fromDrawing),
    someOf(letterDrawings(ACROSS), count, seed).map(fromDrawing),
    someOf(islands(), count, seed),
  ] as const;
  // Of ten designs: six icons, two letters, two coasts.
  const turns = [0, 0, 1, 0, 2, 0, 0, 1, 0, 2] as const;
  const taken = [0, 0, 0];
  for (let n = 0, given = 0; given < count; n++) {
    const kind = turns[n % turns.length] as 0 | 1 | 2;
    const source = kinds[kind][(taken[kind] as number)++];
    if (source === undefined) continue;
    const design = source(given % 2 === 1);
    if (design === undefined) continue;
    given++;
    yield design;
  }
}

type Source = (round: boolean) => Design | undefined;

const fromDrawing =
  (drawing: Drawing): Source =>
  (round) =>
    fitting(drawing.name, tidied(drawing).drawn.region.rings, round);

/** The longer coast lines, one island or continent each. */
function islands(): readonly Source[] {
  return ['land-110m', 'land-50m'].flatMap((set) =>
    coasts(set)
      .filter((ring) => ring.length > 80)
      .map(
        (ring, n): Source =>
          (round) =>
            fitting(`${set} ${n}`, [ring], round),
      ),
  );
}

function fitting(name: string, rings: readonly Ring[], round: boolean): Design | undefined {
  if (rings.length === 0) return undefined;
  const drawn = { rings: onPage(unionRings(rings, 'nonzero').rings) };
  const region = round ? rounded(drawn) : drawn;
  const points = region.rings.reduce((sum, ring) => sum + ring.length / 2, 0);
  if (region.rings.length === 0 || points > MOST_POINTS || (round && hasSlit(region))) return undefined;
  const design = designOf(round ? `${name}, rounded` : name, region);
  return design.roomy.radius < LEAST_ROOM ? undefined : design;
}

/** Radius below which a rounded design has no corner, no stroke and no land, mm. */
export const ROUND = 1;

/** Closed and opened by a disc: what is narrower than it goes, corners either way become arcs. */
function rounded(region: Region): Region {
  const closed = grow(grow(region, ROUND), -ROUND);
  const opened = grow(grow(closed, -1.02 * ROUND), 1.02 * ROUND);
  return { rings: opened.rings.filter((ring) => Math.abs(signedArea(ring)) > DUST) };
}

/** Opening a closed design can bring two shores of it together again, a few micrometres apart. */
function hasSlit(region: Region): boolean {
  const closed = grow(grow(region, ROUND / 2), -ROUND / 2);
  return Math.abs(area(closed) - area(region)) > DUST;
}
