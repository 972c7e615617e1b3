import { begin, InputFault, quoted } from '../fault.ts';
import type { RawShape } from '../geometry/shapes.ts';
import type { Artwork, LeftOut, Mark } from './artwork.ts';
import { applyClips, type ClipRegions } from './clip.ts';
import { mediaApplies, type Rule, readSheet } from './css.ts';
import { decode } from './decode.ts';
import { walk } from './draw.ts';
import type { LengthBase } from './length.ts';
import { Notes } from './notes.ts';
import { notePage } from './page.ts';
import type { Drawing, Frame, Painted, Walk } from './scene.ts';
import { Cascade, INITIAL, pick, styleOf } from './style.ts';
import { descendants, type Element, growTree, indexIds, markOf } from './tree.ts';
import { type Page, readPage } from './viewport.ts';
import { readXml, type Skeleton } from './xml.ts';

export type { Artwork, LeftOut, LeftOutKind, Mark, Size } from './artwork.ts';

/** More points than the largest outline that is worth cutting; about 32 MB of coordinates. */
const MOST_POINTS = 2_000_000;
const MOST_DRAWN = 200_000;
const MOST_MATCHING = 20_000_000;

/**
 * Reads an SVG drawing into outlines in millimetres, with marks back to its elements and a list of everything that
 * did not become an outline as it stands. `select` names one element (its id) to be read alone. Curves are flattened
 * within 5 micrometres. Throws `InputFault` for what cannot be read; time and memory are bounded whatever it holds.
 */
export function readArtwork(bytes: Uint8Array, file: string, select?: string): Artwork {
  const skeleton = readXml(decode(bytes, file), file);
  const root = growTree(skeleton);
  const notes = new Notes();
  const rootMark = markOf(root, skeleton.place);
  for (const { says, offset } of skeleton.asides)
    notes.add('external', () => ({ ...rootMark, ...skeleton.place(offset) }), says, true);
  const { byId, twice } = indexIds(root);
  const cascade = new Cascade(rulesOf(root, skeleton, notes), { left: MOST_MATCHING }, () => {
    throw new InputFault(
      'The style sheet is too involved to be read in a short time; use plain attributes.',
      {
        file,
        ...rootMark,
      },
    );
  });
  const page = pageOf(root, cascade, rootMark, notes);
  const drawing: Drawing = {
    file,
    cascade,
    byId,
    twice,
    place: skeleton.place,
    rootFontSize: styleOf(cascade.declared(root), INITIAL, NO_VIEWPORT).fontSize,
    points: { left: MOST_POINTS },
    elements: { left: MOST_DRAWN },
  };
  const chosen = select === undefined ? undefined : findChosen(select, byId, file);
  const gathered = gather(root, drawing, page, notes, chosen);
  notePage(gathered, page, notes);
  return {
    file,
    ...(select === undefined ? {} : { select }),
    size: page.size,
    shapes: gathered.shapes,
    marks: gathered.marks,
    leftOut: notes.all(rootMark),
    vertices: MOST_POINTS - drawing.points.left,
  };
}

const NO_VIEWPORT: LengthBase = {
  width: undefined,
  height: undefined,
  fontSize: INITIAL.fontSize,
  rootFontSize: INITIAL.fontSize,
};

/** Every style sheet of the drawing, in order. */
function rulesOf(root: Element, skeleton: Skeleton, notes: Notes): readonly Rule[] {
  const rules: Rule[] = [];
  for (const element of descendants(root)) {
    if (element.name !== 'style' || element.text.trim() === '') continue;
    const tell = (says: string): void =>
      notes.add('style', () => markOf(element, skeleton.place), says, true);
    const type = element.attributes.get('type')?.trim().toLowerCase() ?? '';
    const applies = mediaApplies(element.attributes.get('media') ?? '');
    if (type !== '' && type !== 'text/css') tell(`A style sheet of the type ${quoted(type)} is not read.`);
    else if (applies === undefined) tell('A style sheet that depends on the screen is not read.');
    else if (applies) {
      const sheet = readSheet(element.text, rules.length);
      for (const rule of sheet.rules) rules.push(rule);
      for (const says of sheet.passedOver) tell(says);
    }
  }
  return rules;
}

function pageOf(root: Element, cascade: Cascade, mark: Mark, notes: Notes): Page {
  const declared = cascade.declared(root);
  const size = (name: 'width' | 'height'): string | undefined => {
    const found = pick(declared, name, INITIAL.custom, (v) => v);
    return found === 'inherit' || found === 'initial' ? undefined : found;
  };
  const page = readPage(
    {
      width: size('width'),
      height: size('height'),
      viewBox: root.attributes.get('viewBox'),
      aspect: root.attributes.get('preserveAspectRatio'),
    },
    mark,
  );
  for (const says of page.oddities) notes.add('unreadable-value', () => mark, says, true);
  if (declared.has('transform'))
    notes.add(
      'transform',
      () => mark,
      'The drawing as a whole carries a transform; programs disagree on what that means. Take it off.',
      true,
    );
  return page;
}

function findChosen(select: string, byId: ReadonlyMap<string, Element>, file: string): Element {
  const found = byId.get(select);
  if (found !== undefined) return found;
  const near = [...byId.keys()]
    .map((id) => ({ id, far: unlikeness(select.toLowerCase(), id.toLowerCase()) }))
    .filter(({ id, far }) => far <= Math.max(2, Math.max(id.length, select.length) / 3))
    .sort((a, b) => a.far - b.far || (a.id < b.id ? -1 : 1))
    .slice(0, 3)
    .map(({ id }) => `#${begin(id)}`);
  const hint =
    near.length > 0
      ? ` Did you mean ${near.join(' or ')}?`
      : byId.size === 0
        ? ' No element in it has an id.'
        : '';
  throw new InputFault(`The drawing has no element called ${quoted(`#${select}`)}.${hint}`, {
    file,
    element: `#${select}`,
  });
}

/** Letters to add, drop or change to make one name the other (Levenshtein 1966); long names are not compared. */
function unlikeness(a: string, b: string): number {
  if (a.length > 100 || b.length > 100) return Infinity;
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++)
      next.push(Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1)));
    row = next;
  }
  return row[b.length]!;
}

interface Gathered {
  readonly shapes: RawShape[];
  readonly marks: Mark[];
}

function gather(
  root: Element,
  drawing: Drawing,
  page: Page,
  notes: Notes,
  chosen: Element | undefined,
): Gathered {
  const shapes: RawShape[] = [];
  const marks: Mark[] = [];
  const strokes = { count: 0, widest: 0, mark: undefined as Mark | undefined };
  const start: Frame = {
    element: root,
    matrix: page.matrix,
    style: INITIAL,
    width: page.width,
    height: page.height,
    clip: undefined,
    uses: undefined,
  };
  const regions: ClipRegions = { done: new Map(), drawing: new Set() };
  const paint = (shape: Painted): void => {
    const left = applyClips(shape, shape.style.fillRule, painting, regions);
    if (left === undefined) return;
    shapes.push({ ...left, source: shapes.length, paint: shape.fill.text });
    marks.push(markOf(shape.element, drawing.place));
  };
  const stroked = (element: Element, width: number): void => {
    strokes.count++;
    if (width <= strokes.widest) return;
    strokes.widest = width;
    strokes.mark = markOf(element, drawing.place);
  };
  const painting: Walk = { drawing, purpose: 'paint', notes, paint, stroked, ...wayTo(chosen) };
  if (page.drawn) walk(start, painting);
  if (strokes.mark !== undefined) {
    const { count, widest, mark } = strokes;
    const says = `${count === 1 ? 'A filled shape also has' : `${count} filled shapes also have`} a visible stroke, up to ${widest.toFixed(2)} mm wide: painted, it reaches half of that beyond the outline. The stroke is not counted.`;
    notes.add('stroke-ignored', () => mark!, says, true);
  }
  return { shapes, marks };
}

function wayTo(chosen: Element | undefined): { way?: ReadonlySet<Element>; chosen?: Element } {
  if (chosen === undefined) return {};
  const way = new Set<Element>();
  for (let at: Element | undefined = chosen; at !== undefined; at = at.parent) way.add(at);
  return { way, chosen };
}

/** Refuses a drawing that has no outline at all, saying what it holds instead. */
export function requireOutlines(artwork: Artwork): void {
  if (artwork.shapes.length > 0) return;
  const reasons = artwork.leftOut.filter((item) => item.matters || item.kind === 'hidden');
  const told = (reasons.length > 0 ? reasons : artwork.leftOut).slice(0, 3).map(tellOne);
  const what = artwork.select === undefined ? 'The drawing' : quoted(`#${artwork.select}`);
  throw new InputFault(
    `${what} holds no outline that can be cut; filled, closed shapes were wanted.${told.length > 0 ? ` ${told.join(' ')}` : ''}`,
    { file: artwork.file, line: artwork.size.mark.line, column: artwork.size.mark.column },
  );
}

const tellOne = ({ mark, says }: LeftOut): string => `${begin(mark.element)} (line ${mark.line}): ${says}`;
