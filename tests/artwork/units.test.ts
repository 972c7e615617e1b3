import { describe, expect, it } from 'vitest';
import { readLength, splitLength } from '../../src/artwork/length.ts';
import { boxMm, kinds, page, read } from './drawings.ts';

const svg = (attributes: string, body: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${body}</svg>`;
const wide = (body: string): string => svg('width="100mm" height="50mm" viewBox="0 0 200 100"', body);
const square = (body: string, more = ''): string =>
  svg(`width="100mm" height="100mm" viewBox="0 0 200 100" ${more}`, body);
const rect10 = '<rect width="10" height="10"/>';

/**
 * Boxes on the page in millimetres as a browser laid them out (Chromium 156, asked once; it rounds its layout to
 * 1/64 px, so that 1 mm reads 0.99996 and small offsets wander by 0.001).
 */
const BROWSER: readonly [name: string, drawing: string, box: readonly [number, number, number, number]][] = [
  [
    'percentages on a rectangle',
    wide('<rect x="10%" y="10%" width="50%" height="50%"/>'),
    [9.9996, 4.9998, 49.998, 24.999],
  ],
  [
    'a percentage for a radius',
    wide('<circle cx="50%" cy="50%" r="10%"/>'),
    [42.0926, 17.0936, 15.8108, 15.8107],
  ],
  [
    'millimetres inside a viewBox',
    wide('<rect x="10mm" width="1in" height="1in"/>'),
    [18.8969, 0, 47.9981, 47.9981],
  ],
  [
    'no viewBox',
    svg('width="100mm" height="50mm"', '<rect x="10" y="10" width="50" height="20"/>'),
    [2.6458, 2.6458, 13.2292, 5.2917],
  ],
  [
    'no size at all',
    svg('', '<rect x="10" y="10" width="50" height="20"/>'),
    [2.6458, 2.6458, 13.2292, 5.2917],
  ],
  [
    'a viewBox that starts elsewhere',
    svg('width="100mm" height="50mm" viewBox="-20 -10 200 100"', '<rect width="50" height="20"/>'),
    [9.9996, 4.9998, 24.999, 9.9996],
  ],
  [
    'a wide viewBox on a square page',
    square('<rect width="200" height="100"/>'),
    [0, 24.999, 99.996, 49.998],
  ],
  [
    'the same without keeping proportions',
    square('<rect width="200" height="100"/>', 'preserveAspectRatio="none"'),
    [0, 0, 99.996, 99.996],
  ],
  [
    'a drawing in the drawing',
    wide(
      '<svg x="20" y="10" width="100" height="50" viewBox="0 0 20 10">'.concat(
        '<rect x="5" width="10" height="10"/></svg>',
      ),
    ),
    [22.4991, 4.9998, 24.999, 24.999],
  ],
  [
    'groups in groups',
    wide(
      '<g transform="translate(10 5)"><g transform="scale(2) translate(0 0)"><g transform="translate(-.5 -1)"><rect x="1" y="2" width="3" height="4"/></g></g></g>',
    ).replace('width="3" height="4"', 'width="2" height="3"'),
    [5.4998, 3.4999, 1.9999, 2.9999],
  ],
  [
    'use with x and y under a transform',
    wide(
      '<defs><rect id="r" width="10" height="10"/></defs><use href="#r" x="6" y="6" transform="scale(2)"/>',
    ),
    [5.9998, 5.9998, 9.9996, 9.9996],
  ],
  [
    'a CSS transform',
    wide('<rect width="10" height="10" style="transform:translate(5px,5px) scale(2)"/>'),
    [2.4999, 2.4999, 9.9996, 9.9996],
  ],
  [
    'a CSS transform in place of the attribute',
    wide('<rect width="10" height="10" transform="scale(4)" style="transform:translate(5px,5px)"/>'),
    [2.4999, 2.4999, 4.9998, 4.9998],
  ],
  [
    'transform-origin as an attribute',
    wide('<rect x="10" y="10" width="10" height="10" transform="rotate(90)" transform-origin="10 10"/>'),
    [0, 4.9998, 4.9998, 4.9998],
  ],
  ['rx alone', wide('<rect width="40" height="10" rx="20"/>'), [0, 0, 19.9992, 4.9998]],
  [
    'a polyline with half a pair at its end',
    wide('<polyline points="0,0 10,0 10,10 5"/>'),
    [0, 0, 4.9998, 4.9998],
  ],
  [
    'path data from CSS',
    wide('<path d="M0 0H9V9Z" style="d:path(\'M0 0H50V50Z\')"/>'),
    [0, 0, 24.999, 24.999],
  ],
  [
    'width and x from CSS',
    wide('<rect x="90" width="10" height="10" style="width:50px;x:5px"/>'),
    [2.4999, 0, 24.999, 4.9998],
  ],
  [
    'a transform on the whole drawing',
    wide(rect10).replace('viewBox', 'transform="scale(2)" viewBox'),
    [0, 0, 9.9996, 9.9996],
  ],
  [
    'a broken transform list',
    wide('<rect width="10" height="10" transform="scale(2) bogus(3)"/>'),
    [0, 0, 4.9998, 4.9998],
  ],
];

describe('where a browser puts things on the page', () => {
  it.each(BROWSER)('%s', (_, drawing, box) => {
    const ours = boxMm(read(drawing));
    for (const [i, edge] of box.entries()) expect(Math.abs(ours[i]! - edge / 0.99996)).toBeLessThan(0.006);
  });

  it('draws nothing for a width below zero', () => {
    const artwork = read(wide('<rect width="-10" height="10"/>'));
    expect(artwork.shapes).toEqual([]);
    expect(artwork.leftOut).toMatchObject([{ kind: 'unreadable-value', matters: true }]);
  });
});

describe('the stated size', () => {
  it('is physical with a physical unit, exactly', () => {
    const { size } = read(svg('width="4in" height="101.6mm" viewBox="0 0 4 4"', rect10));
    expect(size).toMatchObject({ stated: 'physical' });
    expect(size.width).toBeCloseTo(101.6, 10); // 1 in = 25.4 mm, exact by definition (1959)
    expect(size.perUserUnit[0]).toBeCloseTo(25.4, 10);
    expect(size.perUserUnit[1]).toBeCloseTo(25.4, 10);
  });

  it('is pixels without a unit: 96 to the inch (CSS Values 4, section 6.2)', () => {
    const { size } = read(svg('width="96" height="192px"', rect10));
    expect(size.stated).toBe('pixels');
    expect(size.width).toBeCloseTo(25.4, 10);
    expect(size.height).toBeCloseTo(50.8, 10);
  });

  it('is none without width and height, or in percent', () => {
    for (const attributes of ['viewBox="0 0 96 96"', 'width="100%" height="100%" viewBox="0 0 96 96"', ''])
      expect(read(svg(attributes, rect10)).size).toMatchObject({
        stated: 'none',
        width: undefined,
        height: undefined,
      });
  });

  it('takes one missing extent from the viewBox', () => {
    const { size } = read(svg('height="50mm" viewBox="0 0 100 25"', rect10));
    expect(size.width).toBeCloseTo(200, 10);
    expect(size.perUserUnit[0]).toBeCloseTo(2, 12);
  });

  it('tells a width that cannot be read', () => {
    for (const width of ['100,5mm', '100 mm', '12 apples', '-5mm'])
      expect(read(svg(`width="${width}" viewBox="0 0 10 10"`, rect10)).leftOut).toMatchObject([
        { kind: 'unreadable-value', matters: true },
      ]);
  });

  it('tells shapes beside the page', () => {
    expect(kinds(read(page('<rect x="95" width="10" height="10"/>')))).toEqual(['out-of-view']);
    expect(kinds(read(page('<rect x="90" width="10" height="10"/>')))).toEqual([]);
  });

  const leaf = '<path id="leaf" d="M30 50 L50 30 L70 50 L50 70 Z"/>';
  it.each([
    ['of the page', '<rect width="100" height="100" fill="white"/>'],
    ['in percent', '<rect width="100%" height="100%" fill="#fefefe"/>'],
    ['a little within its edges', '<rect x="0.9" y="0.9" width="98.2" height="98.2" fill="white"/>'],
    ['beyond its edges', '<rect x="-5" y="-5" width="110" height="110" fill="white"/>'],
    ['with round corners', '<rect width="100" height="100" rx="8" fill="white"/>'],
    ['as a path, the other way round', '<path d="M0 0 V100 H100 V0 Z" fill="white"/>'],
  ])('tells a shape that is the whole page and has another on it: %s', (_, paper) => {
    const { leftOut, shapes } = read(page(`${paper}${leaf}`));
    expect(leftOut.filter(({ kind }) => kind === 'whole-page')).toMatchObject([
      { mark: { element: expect.stringMatching(/^\/svg\/(rect|path)/) }, matters: true },
    ]);
    expect(shapes).toHaveLength(2);
  });

  it.each([
    ['the page alone', '<rect width="100" height="100"/>'],
    ['a frame, drawn as one shape', `<path d="M0 0 H100 V100 H0 Z M10 10 V90 H90 V10 Z"/>${leaf}`],
    ['a panel that leaves a margin', `<rect x="2" y="2" width="96" height="96" fill="white"/>${leaf}`],
    ['a band across the page', `<rect y="10" width="100" height="80" fill="white"/>${leaf}`],
    ['a disc as wide as the page', `<circle cx="50" cy="50" r="50" fill="white"/>${leaf}`],
    ['two halves', '<rect width="49" height="100"/><rect x="51" width="49" height="100"/>'],
    ['paper that is not painted', `<rect width="100" height="100" fill="none"/>${leaf}`],
  ])('tells no whole page of %s', (_, drawn) => {
    expect(kinds(read(page(drawn)))).not.toContain('whole-page');
  });
});

describe('lengths', () => {
  const base = { width: 200, height: 100, fontSize: 10, rootFontSize: 16 };
  it.each([
    ['1in', 96],
    ['2.54cm', 96],
    ['25.4mm', 96],
    ['101.6q', 96],
    ['72pt', 96],
    ['6PC', 96],
    ['12', 12],
    ['-.5e1px', -5],
    ['2em', 20],
    ['2ex', 10],
    ['1rem', 16],
    ['50%', 100],
    ['calc(1in - 2 * (3px + 5px))', 80],
    ['calc(50% / 4)', 25],
  ])('%s is %d units', (text, value) => {
    expect(readLength(text, 'x', base, false)).toBeCloseTo(value, 10);
  });

  it.each([
    '',
    '1 mm',
    '1,5',
    '1vw',
    'auto',
    '1e',
    '1.',
    'calc(1px + 2)',
    'calc(2 * 3)',
    'calc((1px)',
    '0x10',
    'NaN',
    '1e999',
  ])('"%s" is none', (text) => expect(readLength(text, 'x', base, false)).toBeUndefined());

  it('needs a unit in a style sheet, but for 0', () => {
    expect(readLength('5', 'x', base, true)).toBeUndefined();
    expect(readLength('0', 'x', base, true)).toBe(0);
  });

  it('knows 1em from 1e3', () => {
    expect(splitLength('1em')).toEqual({ value: 1, unit: 'em' });
    expect(splitLength('1e3')).toEqual({ value: 1000, unit: '' });
  });
});
