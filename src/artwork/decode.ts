import { TextDecoder } from 'node:util';
import { gunzipSync } from 'node:zlib';
import { InputFault } from '../fault.ts';

/** A drawing of 400 000 points is about 8 megabytes; a larger file than this is no outline. */
const MOST_BYTES = 32 * 1024 * 1024;

/**
 * The drawing's text from its bytes: by byte order mark, else by the encoding the XML declaration names, else UTF-8.
 * Bytes that do not fit the encoding are refused, never replaced. Compressed drawings are unpacked.
 */
export function decode(bytes: Uint8Array, file: string): string {
  if (bytes.length === 0) throw new InputFault('The file is empty; an SVG drawing was wanted.', { file });
  const plain = bytes[0] === 0x1f && bytes[1] === 0x8b ? unpack(bytes, file) : bytes;
  if (plain.length > MOST_BYTES) throw tooLarge(plain.length, file);
  const encoding = encodingOf(plain);
  const decoder = decoderFor(encoding, file);
  try {
    return decoder.decode(plain);
  } catch {
    throw new InputFault(
      `The file holds bytes that are not ${encoding} text; an SVG drawing was wanted. Save it again as UTF-8.`,
      { file },
    );
  }
}

function unpack(bytes: Uint8Array, file: string): Uint8Array {
  try {
    return gunzipSync(bytes, { maxOutputLength: MOST_BYTES + 1 });
  } catch (fault) {
    if ((fault as { code?: string }).code === 'ERR_BUFFER_TOO_LARGE') throw tooLarge(undefined, file);
    throw new InputFault('The file is compressed but cannot be unpacked; save the drawing as plain SVG.', {
      file,
    });
  }
}

function tooLarge(length: number | undefined, file: string): InputFault {
  const size = length === undefined ? 'more than that' : `${Math.ceil(length / 1048576)} MB`;
  return new InputFault(
    `The drawing is ${size}; drawings up to ${MOST_BYTES / 1048576} MB are read. Take out embedded pictures, or simplify the curves.`,
    { file },
  );
}

/** XML 1.0, appendix F: a byte order mark or the look of the first bytes comes before the declaration. */
function encodingOf(bytes: Uint8Array): string {
  const [a, b, c, d] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) return 'utf-8';
  if (a === 0xff && b === 0xfe) return c === 0 && d === 0 ? 'utf-32le' : 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (a === 0x3c && b === 0) return c === 0 ? 'utf-32le' : 'utf-16le';
  if (a === 0 && b === 0x3c) return 'utf-16be';
  if (a === 0 && b === 0) return 'utf-32be';
  const head = String.fromCharCode(...bytes.subarray(0, 300));
  const named = /^<\?xml\s[^>]*?encoding\s*=\s*["']([A-Za-z0-9._:-]+)["']/.exec(head)?.[1];
  // A file that could be read this far in single bytes is not UTF-16, whatever it says.
  return named === undefined || /^utf-?16/i.test(named) ? 'utf-8' : named.toLowerCase();
}

function decoderFor(encoding: string, file: string): TextDecoder {
  try {
    return new TextDecoder(encoding, { fatal: true });
  } catch {
    throw new InputFault(
      `The file says that its text is ${encoding}, which cannot be read here; save it as UTF-8.`,
      {
        file,
      },
    );
  }
}
