import type { RawLine, RawShape } from '../geometry/shapes.ts';
import type { Mm } from '../units.ts';
import type { Mark } from './artwork.ts';
import type { Notes } from './notes.ts';
import type { Page } from './viewport.ts';

/** Shapes this little over the page's edge, in millimetres, are rounding. */
const EDGE_SLACK = 0.01;
/** A shape whose edges come this near to the page's, as a part of its sides, may be the paper. */
const PAPER_MARGIN = 0.01;
/** The least part of the page that paper fills: round corners are left out of it, a disc fills 0.785. */
const PAPER_FILL = 0.9;

interface Drawn {
  readonly shapes: readonly RawShape[];
  readonly marks: readonly Mark[];
}

/** Tells what the page says about the shapes on it: what lies beside it, and what is nothing but the page itself. */
export function notePage(drawn: Drawn, page: Page, notes: Notes): void {
  const { width, height } = page.size;
  if (width === undefined || height === undefined) return;
  noteOutside(drawn, width, height, notes);
  notePaper(drawn, width, height, notes);
}

/** Shapes beside the page are often left-overs of drawing: they are kept, and told once. */
function noteOutside({ shapes, marks }: Drawn, width: Mm, height: Mm, notes: Notes): void {
  const outside = shapes.filter(({ lines }) => lines.some((line) => reachesOut(line, width, height)));
  const first = outside[0];
  if (first === undefined) return;
  const says = `${outside.length === 1 ? 'One shape lies' : `${outside.length} shapes lie`} partly or wholly outside the page; they are counted.`;
  notes.add('out-of-view', () => marks[first.source]!, says, true);
}

function reachesOut({ points }: RawLine, width: Mm, height: Mm): boolean {
  for (let i = 0; i < points.length; i += 2) {
    const x = points[i]!;
    const y = points[i + 1]!;
    if (x < -EDGE_SLACK || y < -EDGE_SLACK || x > width + EDGE_SLACK || y > height + EDGE_SLACK) return true;
  }
  return false;
}

/**
 * Paper painted behind a drawing turns the inlay inside out, in both drawings alike, so that the pair closes: what is
 * drawn becomes a hole. One outline with holes of its own is a panel that was meant.
 */
function notePaper({ shapes, marks }: Drawn, width: Mm, height: Mm, notes: Notes): void {
  const papers = shapes.filter((shape) => isPaper(shape, width, height));
  const others = shapes.length - papers.length;
  if (others === 0) return;
  for (const paper of papers)
    notes.add(
      'whole-page',
      () => marks[paper.source]!,
      `This shape is the whole page, with ${others === 1 ? 'another shape' : `${others} other shapes`} on it. It would be inlaid, and what lies on it would be its holes.`,
      true,
    );
}

function isPaper({ lines }: RawShape, width: Mm, height: Mm): boolean {
  if (lines.length !== 1) return false;
  const { points } = lines[0]!;
  let [minX, minY, maxX, maxY, twice] = [Infinity, Infinity, -Infinity, -Infinity, 0];
  for (let i = 0; i < points.length; i += 2) {
    const j = i + 2 < points.length ? i + 2 : 0;
    minX = Math.min(minX, points[i]!);
    minY = Math.min(minY, points[i + 1]!);
    maxX = Math.max(maxX, points[i]!);
    maxY = Math.max(maxY, points[i + 1]!);
    twice += points[i]! * points[j + 1]! - points[j]! * points[i + 1]!;
  }
  const [nearX, nearY] = [width * PAPER_MARGIN, height * PAPER_MARGIN];
  if (minX > nearX || minY > nearY || maxX < width - nearX || maxY < height - nearY) return false;
  return Math.abs(twice) / 2 >= PAPER_FILL * width * height;
}
