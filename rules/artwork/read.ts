import type { LeftOutKind } from '../../src/artwork/artwork.ts';
import type { Facts, Side } from '../../src/carve/facts.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { counted, placeOf, SIDES } from '../place.ts';

/** Everything drawn that could not be used as an outline: each thing once, so that nothing is lost in silence. */
export const artworkRead: Rule = {
  id: 'artwork.read',
  asks: 'Could everything that is drawn be used as an outline?',
  row: 'All that is drawn counts',
  essential: true,
  limits: [],
  measure: (facts) => SIDES.flatMap((side) => readingsOf(facts, side)),
};

function readingsOf(facts: Facts, side: Side): Reading[] {
  const { leftOut, shapes } = facts.artwork(side);
  const place = { part: side, file: facts.artwork(side).file };
  if (facts.region(side).rings.length === 0)
    return [
      {
        measured: quantity(0, 'count'),
        give: 0,
        want: { atLeast: 1 },
        place,
        label: `Outlines in the ${side} drawing`,
        says: `The ${side} drawing holds no closed outline with an area, so there is nothing to cut.`,
        cure: 'Draw the inlay as closed, filled shapes; turn strokes and text into outlines.',
      },
    ];
  const matters = leftOut.filter((thing) => thing.matters);
  const readings = matters.map(
    (thing): Reading => ({
      measured: quantity(1, 'count'),
      give: 0,
      // What lies off the page is counted all the same, so it wants a look and no more.
      want: thing.kind === 'out-of-view' ? { atMost: 0, hardAtMost: 1 } : { atMost: 0 },
      place: placeOf(facts, side, thing.mark),
      label: labelOf(thing.kind, side),
      says: thing.says,
      cure: CURES[thing.kind] ?? 'Turn it into a closed, filled outline, or take it out of the drawing.',
    }),
  );
  if (readings.length > 0) return readings;
  return [
    {
      measured: quantity(0, 'count'),
      give: 0,
      want: { atMost: 0 },
      place,
      label: 'Drawn things left out',
      says: `All that the ${side} drawing holds was used (${counted(shapes.length, 'shape')})${leftOut.length > 0 ? `; passed over as without effect on the cut: ${counted(leftOut.length, 'thing')}` : ''}.`,
    },
  ];
}

function labelOf(kind: LeftOutKind, side: Side): string {
  if (kind === 'out-of-view') return `Off the page, ${side}`;
  if (kind === 'whole-page') return `Whole page, ${side}`;
  return `Left out, ${side}: ${NAMES[kind]}`;
}

/** What a drawing's odd parts are called in a row, short enough for its column. */
const NAMES: Readonly<Record<Exclude<LeftOutKind, 'out-of-view' | 'whole-page'>, string>> = {
  animation: 'animation',
  'broken-reference': 'lost link',
  clipped: 'clipped shape',
  'duplicate-id': 'name twice',
  external: 'other file',
  filter: 'filter',
  foreign: 'foreign part',
  hidden: 'hidden shape',
  image: 'picture',
  marker: 'arrowhead',
  mask: 'mask',
  'no-area': 'no area',
  'path-error': 'broken path',
  pattern: 'pattern',
  script: 'script',
  'see-through': 'see-through',
  'stroke-ignored': 'stroke',
  'stroke-only': 'stroke',
  style: 'style',
  text: 'text',
  transform: 'placement',
  unknown: 'unknown part',
  'unreadable-value': 'odd value',
};

const CURES: Readonly<Record<string, string>> = {
  'out-of-view': 'Move it onto the page, or make the page larger.',
  'whole-page':
    'If it is only the paper behind the drawing, delete it. If it is wood, cut the others out of it, so that it is one outline with holes.',
  text: 'Turn the text into outlines in your drawing program.',
  image: 'Trace the picture into outlines; a picture has no edge to cut.',
  'stroke-only': 'Turn the stroke into an outline (stroke to path), or give the shape a fill.',
  clipped: 'Cut the shape to its clip in the drawing program, so that the edge drawn is the edge cut.',
  'path-error': 'Save the drawing again from the program that made it, or redraw this path.',
  'broken-reference': 'Put back what it refers to, or take the reference out.',
};
