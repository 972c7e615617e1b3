import { describe, expect, it } from 'vitest';
import { requireOutlines } from '../../src/artwork/read.ts';
import { InputFault } from '../../src/fault.ts';
import { boxMm, faultOf, kinds, page, read } from './drawings.ts';

const rect = (more = '', size = 10): string => `<rect ${more} width="${size}" height="${size}"/>`;

describe('everything left out is listed', () => {
  it.each([
    ['text', '<text x="5" y="9">Tray</text>', 'text', true],
    ['flowed text', '<flowRoot><flowPara>Tray</flowPara></flowRoot>', 'text', true],
    ['a picture', '<image width="9" height="9" href="fern.png"/>', 'image', true],
    [
      'another document',
      '<foreignObject width="9" height="9"><p xmlns="http://www.w3.org/1999/xhtml">x</p></foreignObject>',
      'foreign',
      true,
    ],
    ['a stroke', rect('fill="none" stroke="black"'), 'stroke-only', true],
    ['a line', '<line x2="9" y2="9" stroke="black"/>', 'no-area', true],
    ['an unseen line', '<line x2="9" y2="9"/>', 'no-area', false],
    ['a hidden layer', `<g display="none">${rect()}</g>`, 'hidden', false],
    ['an invisible shape', rect('visibility="hidden"'), 'hidden', false],
    ['a clear fill', rect('fill="#12345600"'), 'hidden', true],
    ['no paint at all', rect('fill="none"'), 'hidden', false],
    ['a reference to nothing', '<use href="#fern"/>', 'broken-reference', true],
    ['a reference to another file', '<use href="fern.svg#leaf"/>', 'external', true],
    ['paint that is not there', rect('fill="url(#oak)"'), 'broken-reference', true],
    ['an unknown element', `<blob>${rect()}</blob>`, 'unknown', true],
    ['a script', '<script>draw()</script>', 'script', true],
    ['a squeezed shape', rect('transform="scale(0 1)"'), 'no-area', true],
    ['a rectangle without width', '<rect height="9"/>', 'no-area', false],
    ['a path without data', '<path/>', 'no-area', false],
    ['data that never starts', '<path d="L5 5"/>', 'path-error', true],
  ] as const)('%s', (_, body, kind, matters) => {
    const artwork = read(page(body));
    expect(artwork.shapes).toEqual([]);
    expect(artwork.leftOut).toMatchObject([{ kind, matters, mark: { line: 1 } }]);
    expect(artwork.leftOut[0]!.says).toMatch(/^[A-Z<].*\.$/);
  });

  it.each([
    ['a path error', '<path d="M0 0H9V9X"/>', 'path-error'],
    ['half a pair of points', '<polygon points="0 0 9 0 9 9 5"/>', 'path-error'],
    ['a mask', `<mask id="m"/>${rect('mask="url(#m)"')}`, 'mask'],
    ['a filter', rect('filter="url(#f)"'), 'filter'],
    ['a pattern', `<pattern id="p"/>${rect('fill="url(#p)"')}`, 'pattern'],
    ['a marker', '<path d="M0 0H9V9z" marker-mid="url(#m)"/>', 'marker'],
    ['an animation', '<rect width="9" height="9"><animate attributeName="x" to="9"/></rect>', 'animation'],
    ['opacity 0', `<g opacity="0">${rect()}</g>`, 'see-through'],
    ['fill-opacity 0', rect('fill-opacity="0%"'), 'see-through'],
    ['a broken transform', rect('transform="turn(5)"'), 'transform'],
    ['a separate rotation', rect('style="rotate:45deg"'), 'transform'],
    ['an unreadable measure', rect('x="1,5"'), 'unreadable-value'],
    ['a clip that is not there', rect('clip-path="url(#c)"'), 'broken-reference'],
    ['a clip in words', rect('style="clip-path:circle(5px)"'), 'clipped'],
    ['a wide stroke on a fill', rect('x="20" y="20" stroke="black" stroke-width="2"'), 'stroke-ignored'],
    ['an imported style sheet', `<style>@import "a.css";</style>${rect()}`, 'external'],
    [
      'a conditional style sheet',
      `<style>@media (min-width: 9px) { rect { fill: none } }</style>${rect()}`,
      'style',
    ],
    ['an unknown selector', `<style>rect:has(a) { fill: none }</style>${rect()}`, 'style'],
    ['another style language', `<style type="text/less">rect{}</style>${rect()}`, 'style'],
  ] as const)('%s is told while the shape counts', (_, body, kind) => {
    const artwork = read(page(body));
    expect(artwork.shapes).toHaveLength(1);
    expect(kinds(artwork)).toEqual([kind === 'external' && body.includes('@import') ? 'style' : kind]);
    expect(artwork.leftOut[0]!.matters).toBe(true);
  });

  it('says nothing about a clean drawing', () => {
    const artwork = read(
      page(`<title>Tray</title><metadata><x:y xmlns:x="urn:x"/></metadata><defs>${rect()}<linearGradient id="g"/></defs>
      <g transform="rotate(10)"><path fill="url(#g)" d="M30 30h9v9z"/><circle cx="50" cy="50" r="5" stroke="none"/></g>`),
    );
    expect(artwork.leftOut).toEqual([]);
    expect(artwork.shapes.map((s) => s.paint)).toEqual(['url(#g)', 'black']);
  });

  it('counts what would fill pages', () => {
    const artwork = read(page('<text>a</text>'.repeat(250)));
    expect(artwork.leftOut).toHaveLength(101);
    expect(artwork.leftOut.at(-1)!.says).toBe('150 more like the ones before.');
  });

  it('measures the widest stroke on a fill', () => {
    const artwork = read(
      page(
        `<g stroke="black" transform="translate(20 20) scale(2)">${rect('stroke-width="1"')}${rect('stroke-width="3"')}</g>`,
      ),
    );
    expect(artwork.leftOut[0]!.says).toMatch(/^2 filled shapes .* up to 6.00 mm wide/);
    expect(read(page(rect('x="5" y="5" stroke="black" stroke-width=".04"'))).leftOut).toEqual([]);
  });
});

describe('repeated parts', () => {
  it('places a use, and a use of a use', () => {
    const artwork = read(
      page(
        `<defs><g id="g" transform="translate(5 5)">${rect()}</g><use id="u" href="#g" x="10"/></defs><use xlink:href="#u" y="10"/>`,
      ),
    );
    expect(boxMm(artwork)).toEqual([15, 15, 10, 10]);
  });

  it('lets a copy inherit from the use, not from where the part is stored', () => {
    const artwork = read(
      page(`<defs><g fill="none">${rect('id="r"')}</g></defs><use href="#r" fill-rule="evenodd"/>`),
    );
    expect(artwork.shapes).toMatchObject([{ fillRule: 'evenodd', paint: 'black' }]);
  });

  it('stops at loops', () => {
    for (const body of [
      '<use id="u" href="#v"/><use id="v" href="#u"/>',
      '<g id="g"><use href="#g"/></g>',
      '<use id="u" href="#u"/>',
    ]) {
      const artwork = read(page(body));
      expect(artwork.shapes).toEqual([]);
      expect(new Set(kinds(artwork))).toEqual(new Set(['broken-reference']));
    }
  });

  it('sizes a symbol by its use and cuts it at its window', () => {
    const symbol = `<symbol id="s" viewBox="0 0 10 10">${rect('', 20)}</symbol>`;
    const artwork = read(page(`${symbol}<use href="#s" x="20" y="20" width="30" height="30"/>`));
    expect(boxMm(artwork)).toEqual([20, 20, 30, 30]);
    expect(artwork.leftOut).toMatchObject([{ kind: 'clipped', says: expect.stringContaining('25.0 %') }]);
    expect(
      read(
        page(
          `${symbol}<use href="#s" width="30" height="30"/>`.replace('viewBox', 'overflow="visible" viewBox'),
        ),
      ).leftOut,
    ).toEqual([]);
  });

  it('takes the first of two elements with one id, and says so', () => {
    const artwork = read(page(`<defs>${rect('id="r"')}${rect('id="r"', 50)}</defs><use href="#r"/>`));
    expect(boxMm(artwork)[2]).toBe(10);
    expect(kinds(artwork)).toEqual(['duplicate-id']);
  });
});

describe('clips', () => {
  const clip = (inside: string, more = ''): string => `<clipPath id="c" ${more}>${inside}</clipPath>`;

  it('cut a shape, and say how much is left', () => {
    const artwork = read(
      page(`${clip(rect('', 50))}<rect x="10" y="10" width="80" height="80" clip-path="url(#c)"/>`),
    );
    expect(boxMm(artwork)).toEqual([10, 10, 40, 40]);
    expect(artwork.leftOut[0]).toMatchObject({ kind: 'clipped', matters: true });
    expect(artwork.leftOut[0]!.says).toContain('25.0 %');
  });

  it('leave a shape untouched that lies inside', () => {
    const artwork = read(page(`${clip(rect('', 100))}<path d="M10 10H20V20" clip-path="url(#c)"/>`));
    expect(artwork.leftOut).toEqual([]);
    expect(artwork.shapes[0]!.lines).toEqual([
      { points: Float64Array.of(10, 10, 20, 10, 20, 20), closed: false },
    ]);
  });

  it('leave out what they hide whole', () => {
    const artwork = read(page(`${clip('')}${rect('clip-path="url(#c)"')}`));
    expect(artwork.shapes).toEqual([]);
    expect(artwork.leftOut[0]!.says).toMatch(/hides all of it/);
  });

  it('may be in shares of the shape, turned, and clipped themselves', () => {
    const artwork = read(
      page(
        `${clip('<rect width=".5" height="1"/>', 'clipPathUnits="objectBoundingBox"')}<rect x="20" y="20" width="40" height="10" clip-path="url(#c)"/>`,
      ),
    );
    expect(boxMm(artwork)).toEqual([20, 20, 20, 10]);
    const twice = read(
      page(
        `${clip(rect('', 50), 'clip-path="url(#d)" transform="translate(10 0)"')}<clipPath id="d">${rect('', 30)}</clipPath><g clip-path="url(#c)">${rect('', 90)}</g>`,
      ),
    );
    for (const [i, edge] of [10, 0, 30, 30].entries()) expect(boxMm(twice)[i]).toBeCloseTo(edge, 5);
  });

  it('do not loop', () => {
    const artwork = read(page(`${clip(rect('clip-path="url(#c)"', 50))}${rect('clip-path="url(#c)"', 90)}`));
    expect(boxMm(artwork)[2]).toBeCloseTo(50, 5);
  });

  it('made of lettering are told and not applied', () => {
    const artwork = read(page(`${clip('<text>A</text>')}${rect('clip-path="url(#c)"')}`));
    expect(boxMm(artwork)[2]).toBe(10);
    expect(kinds(artwork)).toEqual(['clipped']);
  });
});

describe('one chosen element', () => {
  const drawing = page(
    `<g id="pocket" transform="translate(10 0)"><g id="wing" transform="scale(2)" fill-rule="evenodd">${rect()}</g>${rect('id="eye"')}</g><g id="plug" display="none">${rect()}</g><text>not here</text>`,
  );

  it("is read with its ancestors' transforms and styles, and nothing else", () => {
    const wing = read(drawing, 'wing');
    expect(boxMm(wing)).toEqual([10, 0, 20, 20]);
    expect(wing).toMatchObject({ select: 'wing', leftOut: [], shapes: [{ fillRule: 'evenodd' }] });
    expect(read(drawing, 'eye').shapes).toHaveLength(1);
    expect(read(drawing, 'pocket').shapes).toHaveLength(2);
  });

  it('may be hidden, or stand among the definitions', () => {
    const plug = read(drawing, 'plug');
    expect(plug.shapes).toHaveLength(1);
    expect(kinds(plug)).toEqual(['hidden']);
    expect(
      read(page(`<defs><g transform="translate(3 0)">${rect('id="r"')}</g></defs>`), 'r').shapes,
    ).toHaveLength(1);
    expect(read(page(`<symbol id="s" viewBox="0 0 10 10">${rect()}</symbol>`), 's').shapes).toHaveLength(1);
  });

  it('is suggested when misspelt', () => {
    const fault = faultOf(drawing, 'wnig');
    expect(fault.message).toMatch(/no element called "#wnig".*Did you mean #wing/);
    expect(fault.place.file).toBe('tray.svg');
  });
});

describe('a drawing without outlines', () => {
  it('is refused with what it holds instead', () => {
    for (const [body, says] of [
      ['<line x2="9" y2="9" stroke="red"/>', /line has no area/],
      ['<text>Tray</text>', /turn it into paths/],
      ['', /no outline that can be cut/],
    ] as const) {
      const artwork = read(page(body));
      expect(() => requireOutlines(artwork)).toThrow(InputFault);
      expect(() => requireOutlines(artwork)).toThrow(says);
    }
    expect(() => requireOutlines(read(page(rect())))).not.toThrow();
  });
});
