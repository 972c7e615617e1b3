/** The small change of SVG: numbers, lengths, path data, transforms, colours, style sheets; good ones and bad. */
import type { Chance } from './chance.ts';

const WEIRD = [
  '',
  ' ',
  '-0',
  '+.5',
  '5.',
  '.',
  '-',
  '1e',
  '1e999',
  '-1e308',
  '1e-400',
  '1e5',
  '99999',
  '100001',
  '0x1',
  '1,5',
  'none',
  'auto',
  'inherit',
  'NaN',
  'Infinity',
  '５',
  '1_0',
];
const LENGTH_UNITS = [
  '',
  '',
  '',
  'mm',
  'cm',
  'in',
  'pt',
  'pc',
  'px',
  'q',
  '%',
  'em',
  'ex',
  'rem',
  'ch',
  'vw',
  ' mm',
];

export function number(chance: Chance): string {
  if (chance.oneIn(25)) return chance.pick(WEIRD);
  if (chance.oneIn(3)) return String(chance.count(-5, 105));
  if (chance.oneIn(12)) return (chance.share() * chance.pick([1e-7, 1e-3, 1e4, 1e6])).toString();
  return (chance.share() * 100).toFixed(chance.count(0, 3));
}

export function length(chance: Chance): string {
  if (chance.oneIn(20))
    return `calc(${number(chance)}mm ${chance.pick(['+', '-', '*', '/', ''])} ${number(chance)}${chance.pick(['', 'mm', '%'])})`;
  if (chance.oneIn(40)) return `var(--${chance.pick(['a', 'b', 'c'])}${chance.oneIn(2) ? ', 3mm' : ''})`;
  return number(chance) + chance.pick(LENGTH_UNITS);
}

const ARGUMENTS: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};

export function pathData(chance: Chance): string {
  const parts = [chance.oneIn(20) ? '' : `M${number(chance)} ${number(chance)}`];
  for (let left = chance.count(1, chance.oneIn(10) ? 40 : 8); left > 0; left--) {
    const command = chance.pick(Object.keys(ARGUMENTS));
    const wanted = ARGUMENTS[command]! * (chance.oneIn(6) ? chance.count(0, 3) : 1);
    const numbers = Array.from({ length: chance.oneIn(40) ? wanted + 1 : wanted }, (_, i) => {
      const isFlag = command === 'A' && (i % 7 === 3 || i % 7 === 4);
      return isFlag && !chance.oneIn(30) ? chance.pick(['0', '1']) : number(chance);
    });
    const gap = chance.pick([' ', ',', ' , ', '\n', '', '  ']);
    parts.push((chance.oneIn(2) ? command.toLowerCase() : command) + numbers.join(gap));
  }
  if (chance.oneIn(2)) parts.push('Z');
  if (chance.oneIn(30)) parts.push(chance.pick(['x', '#', 'M', '-', 'NaN', 'é', 'z z z', 'e5']));
  return parts.join(chance.pick([' ', '', '\n']));
}

export const points = (chance: Chance): string =>
  chance.some(0, 24, () => number(chance)).join(chance.pick([' ', ',', ', ', '\t']));

export function transform(chance: Chance): string {
  const steps = chance.some(0, 4, () => {
    const name = chance.pick([
      'matrix',
      'translate',
      'scale',
      'rotate',
      'skewX',
      'skewY',
      'skew',
      'rotateX',
      'perspective',
    ]);
    const count = { matrix: 6, translate: 2, scale: 2, rotate: chance.pick([1, 3]) }[name] ?? 1;
    const small = chance.oneIn(2);
    const numbers = Array.from({ length: chance.oneIn(15) ? chance.count(0, 9) : count }, () =>
      small ? (chance.share() * 3 - 1).toFixed(2) : number(chance),
    );
    return `${name}${chance.oneIn(12) ? ' ' : ''}(${numbers.join(chance.pick([' ', ',', ', ']))}${chance.oneIn(40) ? '' : ')'}`;
  });
  return steps.join(chance.pick([' ', ',', '', '\n']));
}

export function cssTransform(chance: Chance): string {
  const steps = chance.some(0, 4, () => {
    const name = chance.pick([
      'matrix',
      'translate',
      'translateX',
      'scale',
      'scaleY',
      'rotate',
      'skew',
      'skewX',
      'rotate3d',
      'matrix3d',
    ]);
    const unit = name.startsWith('t')
      ? () => length(chance)
      : () => number(chance) + chance.pick(['', 'deg', 'rad', 'turn', 'grad', '%']);
    return `${name}(${chance.some(0, 6, unit).join(', ')}${chance.oneIn(40) ? '' : ')'}`;
  });
  return chance.oneIn(20) ? 'none' : steps.join(' ');
}

export const colour = (chance: Chance): string =>
  chance.pick([
    'black',
    'none',
    '#fff',
    '#12345678',
    'rgb(1,2,3)',
    'rgba(1 2 3 / 0)',
    'hsl(1deg 2% 3%)',
    'transparent',
    'currentColor',
    'context-fill',
    'inherit',
    'unset',
    'url(#a)',
    'url(#b) red',
    'url("#c")',
    'url(x.svg#a)',
    'var(--a)',
    'var(--b, black)',
    'color-mix(in srgb, red, blue)',
    'nonsense',
    '',
    '#',
  ]);

const PROPERTIES: Readonly<Record<string, (chance: Chance) => string>> = {
  fill: colour,
  stroke: colour,
  'stroke-width': length,
  'fill-rule': (chance) => chance.pick(['nonzero', 'evenodd', 'inherit', 'odd']),
  'clip-rule': (chance) => chance.pick(['nonzero', 'evenodd']),
  'fill-opacity': number,
  opacity: (chance) => chance.pick(['0', '1', '.5', '50%', '0%', number(chance)]),
  display: (chance) => chance.pick(['none', 'inline', 'block', 'contents', 'inherit']),
  visibility: (chance) => chance.pick(['hidden', 'visible', 'collapse']),
  'clip-path': (chance) =>
    chance.pick(['url(#a)', 'url(#b)', 'none', 'circle(3mm)', 'url(x#a)', 'inset(1px)']),
  mask: (chance) => chance.pick(['url(#a)', 'url(#c)', 'none']),
  filter: (chance) => chance.pick(['url(#a)', 'blur(2px)', 'none']),
  marker: (chance) => chance.pick(['url(#a)', 'none']),
  transform: cssTransform,
  'transform-origin': (chance) => `${length(chance)} ${chance.pick([length(chance), 'center', 'top', ''])}`,
  'transform-box': (chance) => chance.pick(['fill-box', 'view-box', 'stroke-box', 'content-box', 'x']),
  'font-size': (chance) => chance.pick([length(chance), 'larger', 'medium', 'x-small', '150%']),
  overflow: (chance) => chance.pick(['visible', 'hidden', 'auto']),
  color: colour,
  d: (chance) => `path("${pathData(chance)}")`,
  width: length,
  r: length,
  cx: length,
  '--a': (chance) => chance.pick(['red', 'var(--b)', 'var(--a)', '3mm', '']),
  '--b': (chance) => chance.pick(['var(--a)', 'none', 'var(--c, 5)', '1px']),
  all: () => 'initial',
};

export function declarations(chance: Chance): string {
  return chance
    .some(0, 4, () => {
      const name = chance.pick(Object.keys(PROPERTIES));
      const value = PROPERTIES[name]!(chance);
      return `${name}${chance.oneIn(30) ? '' : ':'}${value}${chance.oneIn(10) ? ' !important' : ''}`;
    })
    .join(chance.pick([';', '; ', ';;', chance.oneIn(10) ? ' ' : ';']));
}

/** A property as an attribute of its own. */
export function presentation(chance: Chance): [name: string, value: string] {
  const name = chance.pick(Object.keys(PROPERTIES).filter((key) => /^[a-z]/.test(key) && key !== 'd'));
  return [name, name === 'transform' ? transform(chance) : PROPERTIES[name]!(chance)];
}

const SIMPLE = [
  '*',
  'g',
  'path',
  'rect',
  'svg',
  'use',
  '#a',
  '#b',
  '.x',
  '.y',
  '[id]',
  '[id="a"]',
  '[class~=x]',
  ':root',
];
const STRANGE = [
  ':hover',
  '::before',
  ':not(g)',
  ':not(#a, .x)',
  ':nth-child(2n+1)',
  ':first-child',
  ':is(g)',
  ':nth-of-type(even)',
  '[id^=a',
  'svg|g',
  '\\67',
  '>',
  '',
];

function selector(chance: Chance): string {
  return chance
    .some(1, 3, () => chance.pick(SIMPLE) + (chance.oneIn(5) ? chance.pick([...STRANGE, '.y', '#c']) : ''))
    .join(chance.pick([' ', ' > ', ', ', ' + ', ' ~ ', ',']));
}

export function styleSheet(chance: Chance): string {
  return chance
    .some(0, 5, () => {
      const rule = `${selector(chance)}{${declarations(chance)}${chance.oneIn(40) ? '' : '}'}`;
      switch (chance.count(0, 11)) {
        case 0:
          return `@media ${chance.pick(['screen', 'print', '(min-width: 9px)', 'all', ''])} {${rule}}`;
        case 1:
          return chance.pick([
            '@import "x.css";',
            '@charset "utf-8";',
            '@font-face{src:url(x)}',
            '@layer a{',
            '@supports (x){g{}}',
          ]);
        case 2:
          return `/* ${rule} ${chance.oneIn(5) ? '' : '*/'}`;
        default:
          return rule;
      }
    })
    .join('\n');
}
