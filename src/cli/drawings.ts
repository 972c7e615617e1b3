import type { Artwork } from '../artwork/artwork.ts';
import { readArtwork, requireOutlines } from '../artwork/read.ts';
import { loadClipper } from '../geometry/combine.ts';
import type { Outline } from '../job/schema.ts';
import { readBytes } from './files.ts';

/**
 * Reads one drawing that something is to be cut by; throws an InputFault when it cannot be read or holds no outline.
 * The polygon engine is started first, for a clip path in the drawing wants it, as does all that comes after.
 */
export async function readDrawing(
  { path, select }: Outline,
  bytes: (path: string, what: string) => Uint8Array = readBytes,
): Promise<Artwork> {
  await loadClipper();
  const artwork = readArtwork(bytes(path, 'a drawing (SVG)'), path, select);
  requireOutlines(artwork);
  return artwork;
}

/** The shapes that jobs keep the bits out of, in order; undefined where one is a box of figures and not drawn. */
export function readKeepOuts(
  keepOuts: readonly { readonly outline?: Outline | undefined }[],
  bytes?: (path: string, what: string) => Uint8Array,
): Promise<(Artwork | undefined)[]> {
  return Promise.all(keepOuts.map(async ({ outline }) => outline && readDrawing(outline, bytes)));
}
