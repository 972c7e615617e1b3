import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Artwork } from '../../src/artwork/read.ts';
import { InputFault } from '../../src/fault.ts';
import { differences, type Filled, measured, paintedRegion, readFrom } from './svg-compare.ts';
import { countOnPixels } from './svg-raster.ts';

/** Drawings with a browser's answers: what it filled, in the drawing's own units (see the folder's NOTICE). */
const FOLDER = resolve(import.meta.dirname, '../../../shared/svg-conformance');
const SETS = ['own', 'resvg', 'w3c-svg11', 'wpt'];
const here = existsSync(FOLDER);
if (!here) console.log(`svg-conformance: not run, since ${FOLDER} is not here`);

interface Expected {
  readonly root?: { readonly userToCss?: readonly number[] };
  readonly fillUnclipped?: Filled;
  readonly fillPainted?: Filled;
  readonly parseError?: string;
}

const CONTACT = 'pieces that touch in a point: one or two, a hole or none, depends on how contact is counted';
const DOUBLED =
  'shapes that lie exactly on one another: the browser counts the pixels of their shared edges twice';

/** Where our figures are not the browser's, and why. The first word says what differs. */
const DIFFERENT: Readonly<Record<string, string>> = {
  'own/path/path-overlap-evenodd.svg': `count: ${CONTACT}`,
  'own/path/path-z-then-l.svg': `count: ${CONTACT}`,
  'resvg/painting/fill-rule/evenodd.svg': `count: ${CONTACT}`,
  'w3c-svg11/coords-trans-09-t.svg': `count: ${CONTACT}`,
  'w3c-svg11/painting-fill-03-t.svg': `count: ${CONTACT}`,
  'w3c-svg11/coords-trans-12-f.svg': `area: ${DOUBLED}`,
  'w3c-svg11/shapes-rect-03-t.svg': `area: ${DOUBLED}`,
  'own/transform/transform-on-root.svg':
    'policy: a transform on the whole drawing is applied about the corner and told; the browser turns the page about its middle, out of its window',
  'resvg/shapes/rect/vw-and-vh-values.svg':
    'policy: a share of the window is no length on paper; it is told and does not count',
  'resvg/structure/svg/zero-size.svg':
    'policy: a drawing that states no size draws nothing and tells so; the record counts what it would hold',
};

/** Drawings that are refused with a place, or read, where a browser does the other. */
const READ_ALL_THE_SAME: Readonly<Record<string, string>> = {
  'own/xml/xml-entity-nested.svg': '300 characters from entities are well under our limit',
  'own/xml/xml-gzip.svgz': 'compressed drawings are unpacked',
  'own/xml/xml-no-namespace.svg': 'many programs write drawings without a namespace',
};

describe.skipIf(!here)('drawings that a browser has filled', () => {
  for (const set of SETS)
    it(`${set}: area, box, pieces and holes as a browser fills them, or a reasoned difference`, () => {
      const files = JSON.parse(readFileSync(join(FOLDER, set, 'expected.json'), 'utf8')).files as Record<
        string,
        Expected
      >;
      const counts = { agree: 0, pixels: 0, different: 0, refused: 0, read: 0 };
      for (const [file, expected] of Object.entries(files)) counts[judge(set, file, expected)]++;
      console.log(
        `svg-conformance ${set}: ${Object.keys(files).length} drawings, ${counts.agree} agree, ${counts.pixels} agree once counted on pixels, ` +
          `${counts.different} differ for a listed reason, ${counts.refused} refused as a browser does, ${counts.read} read though it refuses`,
      );
    });

  it('lists no difference that is none', () => {
    for (const [name, why] of Object.entries(DIFFERENT)) {
      const [set = ''] = name.split('/');
      const expected = JSON.parse(readFileSync(join(FOLDER, set, 'expected.json'), 'utf8')).files[
        name.slice(set.length + 1)
      ] as Expected;
      expect(compare(readFrom(FOLDER, name), expected), `${name}: ${why}`).not.toEqual([]);
    }
  });
});

function judge(
  set: string,
  file: string,
  expected: Expected,
): 'agree' | 'pixels' | 'different' | 'refused' | 'read' {
  const name = `${set}/${file}`;
  const wanted = expected.fillUnclipped;
  if (wanted === undefined) {
    if (READ_ALL_THE_SAME[name] !== undefined) {
      expect(readFrom(FOLDER, name).shapes.length, name).toBeGreaterThan(0);
      return 'read';
    }
    expect(() => readFrom(FOLDER, name), name).toThrow(InputFault);
    return 'refused';
  }
  const artwork = readFrom(FOLDER, name);
  const found = compare(artwork, expected);
  if (found.length === 0) return 'agree';
  if (found.every((line) => /^(parts|holes) /.test(line)) && agreesOnPixels(artwork, expected))
    return 'pixels';
  const reason = DIFFERENT[name];
  expect(reason, `${name}: ${found.join('; ')}`).toBeDefined();
  if (reason!.startsWith('count:'))
    expect(
      found.filter((line) => !/^(parts|holes) /.test(line)),
      name,
    ).toEqual([]);
  if (reason!.startsWith('area:'))
    expect(
      found.filter((line) => !/^area /.test(line)),
      name,
    ).toEqual([]);
  return 'different';
}

/** A drawing whose clips we applied is compared with what was painted, clips honoured. */
const wantedOf = (artwork: Artwork, expected: Expected): Filled =>
  artwork.leftOut.some((item) => item.kind === 'clipped') ? expected.fillPainted! : expected.fillUnclipped!;

/** A device pixel in the drawing's units: the pictures were taken at 2 to a CSS pixel. */
const pixelOf = (expected: Expected): number => 0.5 / Math.abs(expected.root!.userToCss![0]!);

const compare = (artwork: Artwork, expected: Expected): string[] =>
  differences(measured(artwork), wantedOf(artwork, expected), pixelOf(expected));

function agreesOnPixels(artwork: Artwork, expected: Expected): boolean {
  const wanted = wantedOf(artwork, expected);
  const counted = countOnPixels(paintedRegion(artwork), pixelOf(expected) * artwork.size.perUserUnit[0]);
  return counted.components === wanted.components && counted.holes === wanted.holes;
}
