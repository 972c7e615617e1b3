import { describe, expect, it } from 'vitest';
import { readDeclarations, readSheet } from '../../src/artwork/css.ts';
import { readPaint } from '../../src/artwork/paint.ts';
import { kinds, page, read } from './drawings.ts';

/** Ids of what is painted in a fixed little tree under the given style sheet, which hides by `fill: none`. */
function painted(sheet: string): string {
  const artwork = read(
    page(`<style>${sheet}</style>
    <g id="g1" class="wood oak"><rect id="a" class="k" width="9" height="9"/><rect id="b" class="k j" data-role="guide-left" width="9" height="9"/></g>
    <g id="g2"><g><path id="c" d="M0 0h9v9z"/></g><rect id="d" width="9" height="9" fill="red"/></g>`),
  );
  return artwork.marks.map((mark) => mark.element.slice(1)).join('');
}

describe('selectors (Selectors 4) and the cascade (CSS Cascade 4)', () => {
  it.each([
    ['', 'abcd'],
    ['.k { fill: none }', 'cd'],
    ['.k.j { fill: none }', 'acd'],
    ['rect { fill: none }', 'c'],
    ['* { fill: none }', ''],
    ['#d, #a { fill: none }', 'bc'],
    ['g rect { fill: none }', 'c'],
    ['svg > rect { fill: none }', 'abcd'],
    ['#g2 > rect { fill: none }', 'abc'],
    ['g g path { fill: none }', 'abd'],
    ['#g1 + g path { fill: none }', 'abd'],
    ['#a ~ rect { fill: none }', 'acd'],
    ['[data-role] { fill: none }', 'acd'],
    ['[data-role|="guide"] { fill: none }', 'acd'],
    ["[data-role^=guide][data-role$='left'] { fill: none }", 'acd'],
    ['[class~="j"] { fill: none }', 'acd'],
    ['[class*="zz"] { fill: none }', 'abcd'],
    ['rect:first-child { fill: none }', 'bcd'],
    ['g > :last-child { fill: none }', 'a'],
    ['rect:nth-of-type(2n) { fill: none }', 'acd'],
    ['rect:not(.k) { fill: none }', 'abc'],
    [':root { fill: none } rect { fill: inherit }', ''],
    ['rect:hover { fill: none }', 'abcd'],
    ['g { fill: none }', 'd'],
    ['rect { fill: none } rect { fill: red }', 'abcd'],
    ['#a { fill: red } .k { fill: none }', 'acd'],
    ['.k { fill: none !important } #a { fill: red }', 'cd'],
    ['.k { FILL : None }', 'cd'],
    ['.k { fill: blurple; }', 'abcd'],
    ['.k { fill none; color; fill: none }', 'cd'],
    ['.k { ; fill: none }', 'cd'],
    [':root { --f: none } .k { fill: var(--f) }', 'cd'],
    ['.k { fill: var(--g, none) }', 'cd'],
    ['.k { fill: var(--g) }', 'abcd'],
    ['.k { fill: none', 'cd'],
    ['/* .k { fill: none } */', 'abcd'],
    ['@media print { .k { fill: none } }', 'abcd'],
    ['@media screen { .k { fill: none } }', 'cd'],
    ['@font-face { src: url(a) } .k { fill: none }', 'cd'],
    ['<!-- .k { fill: none } -->', 'cd'],
    ['.\\6b { fill: none }', 'cd'],
    ['rect { display: none }', 'c'],
    ['#g1 { visibility: hidden } #b { visibility: visible }', 'bcd'],
    ['rect { all-this: { fill: none } } path { fill: none }', 'abd'],
  ])('%s leaves %s', (sheet, left) => {
    expect(painted(sheet.replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('&gt; ', '&gt; '))).toBe(
      left,
    );
  });

  it('puts the style attribute above rules and rules above attributes', () => {
    const artwork = read(
      page(
        '<style>.k{fill:none} .j{fill:black}</style><rect class="k" style="fill:black" width="9" height="9"/><rect class="j" fill="none" width="9" height="9"/>',
      ),
    );
    expect(artwork.shapes).toHaveLength(2);
  });

  it('tells what it passes over', () => {
    expect(
      readSheet('a:weird(b) { x: y } @supports (x) { a { b: c } } @page { x: y } p { q: r }', 0),
    ).toMatchObject({
      rules: [{ declarations: [{ property: 'q', value: 'r' }] }],
      passedOver: [
        /* two sentences */ expect.stringContaining('a:weird(b)'),
        expect.stringContaining('@supports'),
      ],
    });
  });

  it('reads declarations with strings, brackets and comments in them', () => {
    expect(readDeclarations('d: path("M0;0"); /* fill: a; */ fill:url(a;b) !IMPORTANT;;x:')).toEqual([
      { property: 'd', value: 'path("M0;0")', important: false },
      { property: 'fill', value: 'url(a;b)', important: true },
    ]);
  });

  it('keeps em and percent sizes of lettering for lengths', () => {
    const artwork = read(
      page('<g font-size="10"><g style="font-size:50%"><rect width="2em" height="1em"/></g></g>'),
    );
    expect([...artwork.shapes[0]!.lines[0]!.points]).toEqual([0, 0, 10, 0, 10, 5, 0, 5]);
  });
});

describe('paint (SVG 2, section 13.2; CSS Color 4)', () => {
  it.each([
    ['none', { kind: 'none' }],
    ['#AbC', { kind: 'colour' }],
    ['#aabbcc00', { kind: 'colour', clear: true }],
    ['rgb(1 2 3 / 0)', { clear: true }],
    ['rgba(1,2,3,0.0)', { clear: true }],
    ['rgba(1,2,3,.5)', { clear: false }],
    ['hsl(120 50% 50%)', { kind: 'colour', clear: false }],
    ['transparent', { clear: true }],
    ['currentColor', { text: 'teal' }],
    ['url(#g)', { kind: 'reference', id: 'g' }],
    ["url('#g') red", { kind: 'reference', fallback: { text: 'red' } }],
    ['url(#g) none', { kind: 'reference', fallback: { kind: 'none' } }],
  ])('%s', (text, wanted) => expect(readPaint(text, 'teal')).toMatchObject(wanted));

  it.each(['blurple', '', '#12', '#ggg', 'rgb()', 'url(#g) blurple', '5'])('"%s" is none', (text) =>
    expect(readPaint(text, 'teal')).toBeUndefined(),
  );
});

describe('languages and programs', () => {
  it('reads a switch as an English speaker does', () => {
    const artwork = read(
      page(
        '<switch><g systemLanguage="de"><rect id="de" width="9" height="9"/></g><g systemLanguage="fr, en-GB"><rect id="en" width="9" height="9"/></g><rect id="x" width="9" height="9"/></switch>',
      ),
    );
    expect(artwork.marks.map((m) => m.element)).toEqual(['#en']);
    expect(kinds(artwork)).toEqual([]);
  });
});
