import { jobShape, type Shape } from '../job/schema.ts';
import { type LengthStyle, show, showBare } from '../units.ts';
import { padEnd } from './layout.ts';

/** A narrow place of a drawing, mm. */
export interface Narrow {
  readonly width: number;
  readonly at: readonly [x: number, y: number];
}

/** What the two drawings tell by themselves. Lengths in mm. */
export interface Seen {
  readonly pocket: { readonly width: number; readonly height: number; readonly narrow: Narrow | undefined };
  readonly plug: { readonly width: number; readonly height: number; readonly land: Narrow | undefined };
  /** What the plug is to the pocket, in one sentence. */
  readonly pair: string;
  /** What a maker has to look at first, one sentence each. */
  readonly cares: readonly string[];
}

/** What was answered, by the job's dotted keys; what is not there is left open in the job file. */
export interface Begun {
  readonly seen: Seen;
  readonly answers: ReadonlyMap<string, string>;
  /** Keys whose value is a suggestion nobody has looked at. */
  readonly suggested: ReadonlySet<string>;
  readonly schema: string;
  readonly units: LengthStyle;
}

const REMARK_COLUMN = 34;

/** Keys that are left open with a remark when nobody told them, so that a maker sees what can be said. */
const PIECE = ['wood', 'grain', 'grain-angle', 'thickness', 'width', 'length'] as const;
const BIT = ['tip-flat', 'cutting-length', 'cutting-diameter', 'shank'] as const;

/** A commented job file that reads as it stands. */
export function beginText(begun: Begun): string {
  const { seen, units, schema } = begun;
  const size = ({ width, height }: { width: number; height: number }) =>
    `${showBare(width, 'mm', units)} x ${show(height, 'mm', units)}`;
  const lines = [
    `# yaml-language-server: $schema=${schema}`,
    '# A job for dryfit, begun from its two drawings. Lines marked "suggested" are nobody\'s word yet: set them to what',
    '# you will really cut. Lines behind a # are left open: where you know the figure, write it and take the # and the',
    '# blank after it away, also in the line above that names its group.',
    ...seen.cares.map((care) => `# Look at this first: ${care}`),
    key(begun, 0, 'title'),
    key(begun, 0, 'units'),
    '',
    `# The inlay is ${size(seen.pocket)} as drawn.${narrowText('stroke of the pocket', seen.pocket.narrow, units)}`,
    'pocket:',
    ...['outline', 'start-depth', 'flat-depth'].map((name) => key(begun, 1, `pocket.${name}`)),
    ...group(begun, 1, 'pocket.stock', PIECE.slice(0, 4)),
    '',
    `# ${seen.pair}${narrowText('land beside the plug', seen.plug.land, units)}`,
    'plug:',
    ...['outline', 'mirror', 'start-depth', 'flat-depth'].map((name) => key(begun, 1, `plug.${name}`)),
    ...group(begun, 1, 'plug.stock', PIECE),
    '',
    '# tip-flat is what most hangs on: measure it, for a point is never quite sharp.',
    'bit:',
    key(begun, 1, 'bit.angle'),
    ...BIT.map((name) => key(begun, 1, `bit.${name}`)),
    '',
    ...group(begun, 0, 'saw', ['kerf']),
  ];
  return `${lines.join('\n')}\n`;
}

function narrowText(what: string, narrow: Narrow | undefined, units: LengthStyle): string {
  if (narrow === undefined) return '';
  const [x, y] = narrow.at;
  const at = `${showBare(x, 'mm', units)}, ${show(y, 'mm', units)}`;
  return ` The narrowest ${what} is ${show(narrow.width, 'mm', units)}, at ${at}.`;
}

/** A map of keys; its own line is a remark, too, while nothing in it is told. */
function group(begun: Begun, depth: number, path: string, names: readonly string[]): string[] {
  const told = names.some((name) => begun.answers.has(`${path}.${name}`));
  const name = path.slice(path.lastIndexOf('.') + 1);
  const head = `${'  '.repeat(depth)}${told ? '' : '# '}${name}:`;
  return [head, ...names.map((key_) => key(begun, depth + 1, `${path}.${key_}`))];
}

/** One key with its value and what it means; behind a # when it is left open. */
function key(begun: Begun, depth: number, path: string): string {
  const name = path.slice(path.lastIndexOf('.') + 1);
  const value = begun.answers.get(path);
  const open = value === undefined;
  const written = `${'  '.repeat(depth)}${open ? '# ' : ''}${name}:${open ? '' : ` ${yamlText(value)}`}`;
  const remark = `${begun.suggested.has(path) ? 'suggested; ' : ''}${meaningOf(path)}`;
  return `${padEnd(written, REMARK_COLUMN - 1)} # ${remark}`;
}

/** What a key means, in the words of the job's own description. */
function meaningOf(path: string): string {
  let shape: Shape | undefined = jobShape as unknown as Shape;
  for (const name of path.split('.')) shape = shape?.properties?.[name];
  return (shape?.description ?? '').replace(/ \((?:a length|degrees)[^)]*\)$/, '');
}

/** A value as YAML reads it back: plain where that is safe, else in double quotes, of which JSON's are a part. */
export function yamlText(value: string): string {
  const number = /^-?\d+(\.\d+)?( ?[a-z]+)?$|^\d+([ -]\d+)?\/\d+ [a-z]+$/.test(value);
  const words = /^\p{L}(?:[\p{L}\p{N} ,._/()-]*[\p{L}\p{N}._)-])?$/u.test(value);
  const special = /^(?:true|false|null|yes|no|on|off|y|n)$/i.test(value);
  return (number || words) && !special ? value : JSON.stringify(value);
}
