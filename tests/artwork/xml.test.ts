import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { readArtwork } from '../../src/artwork/read.ts';
import { boxMm, faultOf, kinds, page, read } from './drawings.ts';

const shape = '<path id="a" d="M0 0h9v9z"/>';
const bytes = (text: string, encoding: BufferEncoding): Uint8Array => Buffer.from(text, encoding);
const readBytes = (data: Uint8Array) => readArtwork(data, 'tray.svg');

/** Well-formedness: XML 1.0; each of these made some reader throw, or drop or invent a path without a word. */
describe('well-formed drawings', () => {
  it('does not draw what is commented out', () => {
    expect(read(page('<!--><path d="M9 9h9v9z"/>--><path d="M0 0h1v1z"/>')).shapes).toHaveLength(1);
  });

  it.each([
    ['a comment before the root with brackets', `<!-- made by a program > with <brackets> -->${page(shape)}`],
    [
      'a DOCTYPE after a comment',
      `<?xml version="1.0"?>\n<!-- a --><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd">${page(shape)}`,
    ],
    [
      'brackets and quotes inside the DOCTYPE',
      `<!DOCTYPE svg [<!-- it's ]> a "trap" --><!ENTITY q "a>b]">]>${page(shape)}`,
    ],
    ['CDATA', page(`<desc><![CDATA[<path d="M0 0">&nope;]]></desc>${shape}`)],
    ['character references', page('<path d="&#77;0 0&#x68;9&#10;v9z"/>')],
    [
      'a prefix',
      '<s:svg xmlns:s="http://www.w3.org/2000/svg"><s:path d="M0 0h9v9z"/><path d="M0 0h99v99z"/></s:svg>',
    ],
    ['no namespace', `<svg>${shape}</svg>`],
    ['another language beside', page(`<m:path xmlns:m="urn:m" d="M0 0h99v99z"/>${shape}`)],
  ])('%s', (_, drawing) => {
    const artwork = read(drawing);
    expect(artwork.shapes).toHaveLength(1);
    const [, , width] = boxMm(artwork);
    expect(width / artwork.size.perUserUnit[0]).toBeCloseTo(9, 9);
  });

  it('tells what another language would draw', () => {
    expect(kinds(read(page(`<m:layer xmlns:m="urn:m"><path d="M0 0h9v9z"/></m:layer>${shape}`)))).toEqual([
      'foreign',
    ]);
  });
});

describe('entities of the drawing itself', () => {
  const withEntities = (declared: string, body: string): string =>
    `<!DOCTYPE svg [${declared}]>\n${page(body)}`;

  it('are written out in attributes, styles and content', () => {
    const artwork = read(
      withEntities(
        `<!ENTITY st0 "fill:#000;"><!ENTITY w '80'><!ENTITY box "<rect width='5' height='5'/>"><!ENTITY ten "&#49;&w;">`,
        `<rect style="&st0;" width="&w;" height="&ten;"/>&box;`,
      ),
    );
    expect(artwork.shapes).toHaveLength(2);
    expect(boxMm(artwork)).toEqual([0, 0, 80, 180]);
  });

  it('count as first declared', () => {
    const artwork = read(withEntities('<!ENTITY w "8"><!ENTITY w "9">', '<rect width="&w;" height="1"/>'));
    expect(boxMm(artwork)[2]).toBe(8);
  });

  it('keep lines and columns true behind them', () => {
    const artwork = read(withEntities('<!ENTITY w "8\n0">', `<desc>&w;&w;</desc>\n ${shape}`));
    expect(artwork.marks).toEqual([{ element: '#a', line: 4, column: 2 }]);
  });

  it.each([
    ['a loop', '<!ENTITY a "&b;"><!ENTITY b "&a;">', '<desc>&a;</desc>', /stands for itself/],
    [
      'a bomb',
      Array.from(
        { length: 10 },
        (_, i) => `<!ENTITY e${i} "${i === 0 ? 'ha' : `&e${i - 1};`.repeat(10)}">`,
      ).join(''),
      '<desc>&e9;</desc>',
      /grows to more text/,
    ],
    [
      'many uses',
      `<!ENTITY a "${'x'.repeat(60_000)}">`,
      `<desc>${'&a;'.repeat(50)}</desc>`,
      /more text than is read/,
    ],
    ['an unknown one', '', '<desc>&nope;</desc>', /entity/],
  ])('are refused in %s, with a place', (_, declared, body, says) => {
    const fault = faultOf(withEntities(declared, body));
    expect(fault.message).toMatch(says);
    expect(fault.place).toMatchObject({ file: 'tray.svg', line: 2 });
  });

  it('never read another file', () => {
    const artwork = read(
      withEntities('<!ENTITY e SYSTEM "secret.txt"><!ENTITY % p SYSTEM "p.ent">', `<desc>&e;</desc>${shape}`),
    );
    expect(artwork.shapes).toHaveLength(1);
    expect(artwork.leftOut).toMatchObject([{ kind: 'external', matters: true }]);
  });
});

describe('broken drawings are refused with line and column', () => {
  it.each([
    ['a bare <', '<svg>\n a < b<path d="M0 0h1v1z"/></svg>', 2],
    ['an open comment', '<svg>\n<!-- <path d="M0 0h1v1z"/></svg>', 2],
    ['open CDATA', '<svg>\n<style><![CDATA[ .a{}</style></svg>', 2],
    ['an open element', '<svg><g>\n</svg>', 2],
    ['a cut-off file', '<svg>\n<path d="M0', 2],
    ['crossed elements', '<svg>\n<g><a></g></a></svg>', 2],
    ['a repeated attribute', '<svg>\n<path d="M0 0" d="M1 1"/></svg>', 2],
    ['a bare &', '<svg>\n<desc>oak & ash</desc>\n\n</svg>', 2],
    ['two roots', '<svg/>\n<svg/>', 2],
    ['text behind the root', '<svg/>\nmore', 2],
    ['an unquoted value', '<svg>\n<path d=M0/></svg>', 2],
    ['an attribute without value', '<svg>\n<path hidden/></svg>', 2],
    ['an unbound prefix', '<svg>\n<use xlink:href="#a"/></svg>', 2],
    ['a late declaration', '\n<?xml version="1.0"?><svg/>', 2],
    ['a control character', '<svg>\n<desc>\u0001</desc></svg>', 2],
    ['another root', '\n<html/>', 2],
    ['white space only', ' \n ', 1],
    ['plain text', 'not a drawing', 1],
  ])('%s', (_, drawing, line) => {
    const fault = faultOf(drawing);
    expect(fault.place.line).toBe(line);
    expect(fault.place.column).toBeGreaterThan(0);
    expect(fault.message).not.toMatch(/undefined|object|TypeError/);
  });

  it('points at the bare & itself', () => {
    expect(faultOf('<svg>\n<desc>oak & ash</desc></svg>').place).toMatchObject({ line: 2, column: 11 });
  });

  it('refuses an empty file', () => expect(faultOf(new Uint8Array()).message).toMatch(/empty/));
});

describe('encodings', () => {
  const drawing = `<?xml version="1.0"?>${page('<path id="Schärfe" d="M0 0h9v9z"/>')}`;
  const named = (encoding: string): string => drawing.replace('?>', ` encoding="${encoding}"?>`);
  it.each([
    ['UTF-8', bytes(drawing, 'utf8')],
    ['UTF-8 with a mark', bytes(`\ufeff${drawing}`, 'utf8')],
    ['UTF-16 LE with a mark', bytes(`\ufeff${named('UTF-16')}`, 'utf16le')],
    ['UTF-16 LE without', bytes(drawing, 'utf16le')],
    ['UTF-16 BE with a mark', bytes(`\ufeff${named('UTF-16')}`, 'utf16le').map((_, i, all) => all[i ^ 1]!)],
    ['UTF-16 BE without', bytes(drawing, 'utf16le').map((_, i, all) => all[i ^ 1]!)],
    ['ISO-8859-1 as declared', bytes(named('ISO-8859-1'), 'latin1')],
    ['windows-1252 as declared', bytes(named('windows-1252'), 'latin1')],
    ['UTF-8 that calls itself UTF-16', bytes(named('UTF-16'), 'utf8')],
    ['a compressed file', new Uint8Array(gzipSync(drawing))],
  ])('%s', (_, data) => expect(readBytes(data).marks[0]!.element).toBe('#Schärfe'));

  it.each([
    ['Latin-1 that calls itself UTF-8', bytes(named('UTF-8'), 'latin1'), /not utf-8 text/],
    ['an unknown encoding', bytes(named('klingon-8'), 'utf8'), /klingon-8/],
    ['a picture', Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13), /utf-8/],
    ['a broken compressed file', Uint8Array.of(0x1f, 0x8b, 8, 0, 1, 2, 3), /cannot be unpacked/],
    ['a bomb of zeros', new Uint8Array(gzipSync(Buffer.alloc(40 * 1024 * 1024, 32))), /up to 32 MB/],
  ])('refuses %s', (_, data, says) => expect(faultOf(data).message).toMatch(says));
});

describe('marks', () => {
  it('give the id, or the way down, with line and column', () => {
    const artwork = read(
      page(
        '\n<g><path d="M0 0h9v9z"/>\r\n\n  <path\n d="M0 0h9v9z"/></g>\n<rect id="lid" width="9" height="9"/>',
      ),
    );
    expect(artwork.marks).toEqual([
      { element: '/svg/g[1]/path[1]', line: 2, column: 4 },
      { element: '/svg/g[1]/path[2]', line: 4, column: 3 },
      { element: '#lid', line: 6, column: 1 },
    ]);
  });
});
