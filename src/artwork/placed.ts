import { type LengthBase, readLength } from './length.ts';
import { type Box, baseOf, type Frame, note, shorten, type Walk } from './scene.ts';
import { type Declared, pick, type Style } from './style.ts';
import { compose, type Matrix, readCssTransform, readTransform, shift } from './transform.ts';

/** The frame's matrix with the element's own transform (CSS Transforms 1: a rule's transform replaces the attribute's). */
export function placed(
  frame: Frame,
  declared: Declared,
  style: Style,
  w: Walk,
  boxOf: (frame: Frame, w: Walk) => Box,
): Matrix {
  const { element, matrix } = frame;
  for (const property of ['translate', 'rotate', 'scale', 'offset-path', 'perspective'])
    if (declared.has(property))
      note(w, element, 'transform', `Its "${property}" style is not understood and was passed over.`);
  if (!declared.has('transform')) return matrix;
  const boxed = pick(declared, 'transform-box', style.custom, (v) => v.trim().toLowerCase());
  const box =
    boxed === 'fill-box' || boxed === 'content-box' || boxed === 'stroke-box' || boxed === 'border-box'
      ? boxOf({ ...frame, style }, w)
      : ([0, 0, frame.width, frame.height] as const);
  const base = { ...baseOf(frame, style, w), width: box[2], height: box[3] };
  let broken: string | undefined;
  const found = pick(declared, 'transform', style.custom, (text, css): Matrix | undefined => {
    const read = css
      ? readCssTransform(text, (t, axis) => readLength(t, axis, base, true))
      : readTransform(text);
    if (read === undefined) broken ??= text;
    return read;
  });
  if (broken !== undefined)
    note(
      w,
      element,
      'transform',
      `Its transform "${shorten(broken)}" is not understood, so none of it counts.`,
    );
  if (typeof found !== 'object') return matrix;
  const [originX, originY] = originOf(declared, style, base);
  const x = box[0] + originX;
  const y = box[1] + originY;
  return compose(matrix, compose(compose(shift(x, y), found), shift(-x, -y)));
}

const ORIGINS: Readonly<Record<string, string>> = {
  left: '0%',
  top: '0%',
  center: '50%',
  right: '100%',
  bottom: '100%',
};

function originOf(declared: Declared, style: Style, base: LengthBase): readonly [number, number] {
  const found = pick(
    declared,
    'transform-origin',
    style.custom,
    (text, css): readonly [number, number] | undefined => {
      const words = text
        .trim()
        .toLowerCase()
        .split(/[\s,]+/);
      if (words.length === 1) words.push('center');
      const upright = /^(top|bottom)$/.test(words[0]!) || /^(left|right)$/.test(words[1]!);
      const [across, down] = upright ? [words[1]!, words[0]!] : [words[0]!, words[1]!];
      const x = readLength(ORIGINS[across] ?? across, 'x', base, css);
      const y = readLength(ORIGINS[down] ?? down, 'y', base, css);
      return x === undefined || y === undefined ? undefined : [x, y];
    },
  );
  return typeof found === 'object' ? found : [0, 0];
}
