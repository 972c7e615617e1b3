import { describe, expect, it } from 'vitest';
import { type Matrix, readCssTransform, readTransform } from '../../src/artwork/transform.ts';

const near = (got: Matrix | undefined, wanted: readonly number[]): void => {
  for (const [i, value] of wanted.entries()) expect(got?.[i]).toBeCloseTo(value, 12);
};

/** Grammar and meaning: SVG 1.1, section 7.6; CSS Transforms 1, section 14. */
describe('the transform attribute', () => {
  it.each([
    ['translate(-10-20)', [1, 0, 0, 1, -10, -20]],
    ['translate(30)', [1, 0, 0, 1, 30, 0]],
    ['matrix(1,.2.3-.4,5e1,6E-1)', [1, 0.2, 0.3, -0.4, 50, 0.6]],
    ['translate(1,2)rotate(90)', [0, 1, -1, 0, 1, 2]],
    ['translate(10,20),scale(2,3)', [2, 0, 0, 3, 10, 20]],
    ['scale(2)scale(.5.5)', [1, 0, 0, 1, 0, 0]],
    ['rotate(90 50 50)', [0, 1, -1, 0, 100, 0]],
    ['rotate(-450)', [0, -1, 1, 0, 0, 0]],
    ['rotate(30)', [Math.sqrt(3) / 2, 0.5, -0.5, Math.sqrt(3) / 2, 0, 0]],
    ['skewX(45)', [1, 0, 1, 1, 0, 0]],
    ['skewY(45)', [1, 1, 0, 1, 0, 0]],
    ['  ', [1, 0, 0, 1, 0, 0]],
  ])('%s', (text, matrix) => near(readTransform(text), matrix));

  it.each([
    'scale(2) bogus(3)',
    'rotate(90deg)',
    'translate(10px,20px)',
    'translate(1,2,3)',
    'translate()',
    'translate(1,2',
    'translate(1,2);scale(2)',
    'translate(1,2),,scale(2)',
    'translate(1,2),',
    'rotate(1 2)',
    'matrix(1 2 3 4 5)',
    'TRANSLATE(1)',
    'scale(1e999)',
    'scale(NaN)',
    'none',
  ])('"%s" counts for nothing', (text) => expect(readTransform(text)).toBeUndefined());
});

describe('the CSS transform', () => {
  const length = (text: string, axis: 'x' | 'y'): number | undefined => {
    const m = /^(-?[\d.]+)(px|%)$/.exec(text);
    return m === null
      ? undefined
      : m[2] === 'px'
        ? Number(m[1])
        : (Number(m[1]) / 100) * (axis === 'x' ? 200 : 100);
  };
  it.each([
    ['translate(10px, 20px) scale(2)', [2, 0, 0, 2, 10, 20]],
    ['translate(50%,10%)', [1, 0, 0, 1, 100, 10]],
    ['translateX(5px) translateY(6px)', [1, 0, 0, 1, 5, 6]],
    ['rotate(0.25turn)', [0, 1, -1, 0, 0, 0]],
    ['rotate(100grad)', [0, 1, -1, 0, 0, 0]],
    ['rotateZ(180deg)', [-1, 0, 0, -1, 0, 0]],
    ['scaleX(3) scaleY(50%)', [3, 0, 0, 0.5, 0, 0]],
    ['skew(45deg)', [1, 0, 1, 1, 0, 0]],
    ['matrix(1, 0, 0, -1, 4, 5)', [1, 0, 0, -1, 4, 5]],
    ['none', [1, 0, 0, 1, 0, 0]],
  ])('%s', (text, matrix) => near(readCssTransform(text, length), matrix));

  it.each([
    'rotate(90)',
    'translate(10 20)',
    'rotate3d(0,0,1,90deg)',
    'translate3d(1px,2px,3px)',
    'scale(2',
    'matrix(1,2)',
    'spin(1deg)',
    'rotateX(10deg)',
  ])('"%s" counts for nothing', (text) => expect(readCssTransform(text, length)).toBeUndefined());
});
