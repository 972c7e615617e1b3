import type { Artwork, LeftOutKind } from '../../src/artwork/read.ts';
import { readArtwork } from '../../src/artwork/read.ts';
import { InputFault } from '../../src/fault.ts';

/** A drawing of 100 x 100 mm whose units are millimetres, holding `body`. */
export const page = (body: string, more = ''): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="100mm" viewBox="0 0 100 100" ${more}>${body}</svg>`;

export const read = (svg: string, select?: string): Artwork =>
  readArtwork(new TextEncoder().encode(svg), 'tray.svg', select);

/** Box of everything drawn: x, y, width, height in millimetres. */
export function boxMm(artwork: Artwork): [number, number, number, number] {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const shape of artwork.shapes)
    for (const { points } of shape.lines)
      for (let i = 0; i < points.length; i += 2) {
        minX = Math.min(minX, points[i]!);
        maxX = Math.max(maxX, points[i]!);
        minY = Math.min(minY, points[i + 1]!);
        maxY = Math.max(maxY, points[i + 1]!);
      }
  return [minX, minY, maxX - minX, maxY - minY];
}

export const kinds = (artwork: Artwork): LeftOutKind[] => artwork.leftOut.map((item) => item.kind);

/** The fault that reading ends in. */
export function faultOf(input: string | Uint8Array, select?: string): InputFault {
  try {
    readArtwork(typeof input === 'string' ? new TextEncoder().encode(input) : input, 'tray.svg', select);
  } catch (fault) {
    if (fault instanceof InputFault) return fault;
    throw fault;
  }
  throw new Error('it was read');
}
