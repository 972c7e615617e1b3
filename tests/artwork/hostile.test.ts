import { describe, expect, it } from 'vitest';
import { readArtwork } from '../../src/artwork/read.ts';
import { InputFault } from '../../src/fault.ts';
import { page } from './drawings.ts';

/** `DRYFIT_ALL=1` springs the large traps in full; otherwise those that are read anyway are a tenth as large. */
const all = process.env['DRYFIT_ALL'] !== undefined;
const many = (count: number, text: string): string => text.repeat(count);
const large = (count: number, text: string): string => many(all ? count : count / 10, text);
const bytes = (text: string): Uint8Array => Buffer.from(text, 'latin1');

/** Each ends soon and in little memory; how soon is printed, never judged. */
const TRAPS: readonly [name: string, drawing: () => Uint8Array, says: RegExp][] = [
  ['a million nested groups', () => bytes(`<svg>${many(1e6, '<g>')}`), /nested more than/],
  [
    '1400 nested groups',
    () => bytes(page(`${many(1400, '<g>')}<text>a</text>${many(1400, '</g>')}`)),
    /^read$/,
  ],
  ['a million elements', () => bytes(page(many(1e6, '<g/>'))), /more than 150000 elements/],
  ['very many elements', () => bytes(page(large(1e5, '<path d="M0 0h1v1z"/>'))), /^read$/],
  ['50 MB of digits', () => bytes(page(`<path d="M${many(5e6, '1234567890')}"/>`)), /up to 32 MB/],
  ['megabytes of digits', () => bytes(page(`<path d="M${large(3e6, '1234567890')}"/>`)), /^read$/],
  ['millions of points', () => bytes(page(`<path d="M0 0${many(3e6, 'l1 1-1-1')}"/>`)), /more points than/],
  ['huge coordinates', () => bytes(page('<path d="M0 0L1e308 1e308-1e308 5z"/>')), /more than 10 m/],
  ['huge curves', () => bytes(page('<path d="M0 0C1e15 0 0 1e15 9 9z"/>')), /more than 10 m|more points/],
  ['huge arcs', () => bytes(page('<circle r="1e300"/>')), /more than 10 m|too large/],
  [
    'huge scales',
    () =>
      bytes(
        page('<g transform="scale(1e200)"><g transform="scale(1e200)"><rect width="1" height="1"/></g></g>'),
      ),
    /more than 10 m/,
  ],
  [
    'no numbers',
    () => bytes(page('<path d="M0 0LNaN Infinity"/><rect width="NaN" height="Infinity"/>')),
    /^read$/,
  ],
  [
    'uses of uses',
    () =>
      bytes(
        page(
          `<defs><rect id="u0" width="1" height="1"/>${Array.from({ length: 12 }, (_, i) => `<g id="u${i + 1}">${many(10, `<use href="#u${i}"/>`)}</g>`).join('')}</defs><use href="#u12"/>`,
        ),
      ),
    /repeats its parts/,
  ],
  [
    'a long chain of uses',
    () =>
      bytes(
        page(
          `<defs><rect id="u0" width="1" height="1"/>${Array.from({ length: 5000 }, (_, i) => `<use id="u${i + 1}" href="#u${i}"/>`).join('')}</defs><use href="#u5000"/>`,
        ),
      ),
    /^read$/,
  ],
  [
    'clips of clips',
    () =>
      bytes(
        page(
          `${Array.from({ length: 300 }, (_, i) => `<clipPath id="c${i + 1}" clip-path="url(#c${i})"><rect width="9" height="9"/></clipPath>`).join('')}<clipPath id="c0"><rect width="9" height="9"/></clipPath><rect clip-path="url(#c300)" width="5" height="5"/>`,
        ),
      ),
    /./,
  ],
  [
    'a style sheet of 19 000 rules on 20 000 elements',
    () =>
      bytes(
        page(
          `<style>${many(19_000, 'g g rect{fill:red}')}</style>${many(20_000, '<rect width="1" height="1"/>')}`,
        ),
      ),
    /too involved|^read$/,
  ],
  [
    'deep selectors',
    () =>
      bytes(
        page(
          `<style>${many(300, 'g '.repeat(12))}rect{fill:red}</style>${many(900, '<g>')}<rect width="1" height="1"/>${many(900, '</g>')}`,
        ),
      ),
    /./,
  ],
  ['a long comment without end', () => bytes(`<svg><!--${large(1e7, '<!')}`), /well-formed/],
  ['a long DOCTYPE without end', () => bytes(`<!DOCTYPE svg [${many(2e5, '<!ENTITY a "')}`), /well-formed/],
  ['ampersands', () => bytes(page(`<desc>${many(3e5, '&amp;')}</desc>`)), /^read$/],
  [
    'a long style attribute',
    () => bytes(page(`<rect style="${many(1e5, 'fill:red;')}" width="1" height="1"/>`)),
    /^read$/,
  ],
  [
    'a style attribute of brackets',
    () => bytes(page(`<rect style="fill:${many(1e6, '(')}" width="1" height="1"/>`)),
    /^read$/,
  ],
  [
    'a transform of 200 000 steps',
    () => bytes(page(`<rect transform="${many(2e5, 'rotate(1)')}" width="1" height="1"/>`)),
    /^read$/,
  ],
  [
    'a css transform of brackets',
    () => bytes(page(`<rect style="transform:${many(1e5, 'rotate(')}" width="1" height="1"/>`)),
    /^read$/,
  ],
  ['a calc of brackets', () => bytes(page(`<rect width="calc(${many(1e5, '(')}" height="1"/>`)), /^read$/],
  [
    'variables that double',
    () =>
      bytes(
        page(
          `<style>:root{${Array.from({ length: 60 }, (_, i) => `--v${i + 1}:var(--v${i})var(--v${i});`).join('')}--v0:red}rect{fill:var(--v60)}</style><rect width="1" height="1"/>`,
        ),
      ),
    /^read$/,
  ],
];

describe('traps', () => {
  it.each(TRAPS)('%s', (name, drawing, says) => {
    const data = drawing();
    const before = performance.now();
    let got = 'read';
    try {
      readArtwork(data, 'trap.svg');
    } catch (fault) {
      if (!(fault instanceof InputFault)) throw fault;
      got = fault.message;
    }
    console.log(`trap: ${name}: ${Math.round(performance.now() - before)} ms: ${got.slice(0, 100)}`);
    expect(got).toMatch(says);
    expect(got.length).toBeLessThan(300);
  });
});
