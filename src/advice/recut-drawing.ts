/** The drawings of a repair: an outline as SVG. */
import { partsOf } from '../geometry/region.ts';
import { boxOf } from '../geometry/ring.ts';
import type { Region, Ring } from '../geometry/shapes.ts';

/** A tenth of a micrometre, as all coordinates are written. */
const DECIMALS = 4;

/** A page as large as the old one, or larger when the outline needs it, mm. */
export interface PageSize {
  readonly width: number | undefined;
  readonly height: number | undefined;
}

/**
 * A drawing of a region in its own frame, one closed path for each piece with its holes. The page's top left corner
 * stays where it was, so that the zero of the setup can stay too.
 */
export function outlineSvg(title: string, region: Region, page: PageSize): string {
  const box = boxOf(region.rings);
  const width = written(Math.max(page.width ?? 0, Math.ceil(box.maxX)));
  const height = written(Math.max(page.height ?? 0, Math.ceil(box.maxY)));
  const paths = partsOf(region).map(({ outer, holes }, k) => {
    const d = [outer, ...holes].map((ring) => ringData(region.rings[ring] as Ring)).join('');
    return `    <path id="part-${k + 1}" d="${d}"/>`;
  });
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">`,
    `  <title>${escaped(title)}</title>`,
    '  <g id="inlay" fill="#3b3b3b" fill-rule="evenodd">',
    ...paths,
    '  </g>',
    '</svg>',
    '',
  ].join('\n');
}

const written = (value: number): string => String(Number(value.toFixed(DECIMALS)));

/** Points that fall together when written are one. */
function ringData(ring: Ring): string {
  const points: string[] = [];
  for (let k = 0; k < ring.length; k += 2) {
    const point = `${written(ring[k] as number)} ${written(ring[k + 1] as number)}`;
    if (point !== points.at(-1)) points.push(point);
  }
  if (points.length > 1 && points[0] === points.at(-1)) points.pop();
  return `M${points.join('L')}Z`;
}

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
