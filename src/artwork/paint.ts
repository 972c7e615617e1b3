/** What an area is painted with. */
export interface Paint {
  readonly kind: 'none' | 'colour' | 'reference';
  /** As written, lower case; two shapes of one paint show no edge between them. */
  readonly text: string;
  /** The id a reference leads to. */
  readonly id?: string;
  /** What to paint with when the reference leads nowhere. */
  readonly fallback?: Paint;
  /** A colour with nothing of it left to see. */
  readonly clear?: boolean;
}

export const NO_PAINT: Paint = { kind: 'none', text: 'none' };
export const BLACK: Paint = { kind: 'colour', text: 'black' };

/**
 * A value of `fill` or `stroke` (SVG 2, section 13.2). `undefined` for a value that is no paint: such a declaration
 * does not count, as in any viewer.
 */
export function readPaint(value: string, currentColour: string): Paint | undefined {
  const text = value.trim();
  const lower = text.toLowerCase();
  if (lower === 'none') return NO_PAINT;
  if (lower === 'currentcolor') return readColour(currentColour) ?? BLACK;
  const url = /^url\(\s*(?:"([^"]*)"|'([^']*)'|([^\s)"']*))\s*\)\s*([\s\S]*)$/i.exec(text);
  if (url === null) return readColour(lower);
  const target = url[1] ?? url[2] ?? url[3] ?? '';
  const rest = url[4]!;
  const fallback = rest === '' ? undefined : readPaint(rest, currentColour);
  if (rest !== '' && fallback === undefined) return undefined;
  const id = target.startsWith('#') ? target.slice(1) : '';
  return { kind: 'reference', text: lower, id, ...(fallback === undefined ? {} : { fallback }) };
}

const FUNCTION =
  /^(rgba?|hsla?|hwb|lab|lch|oklab|oklch|color|color-mix|device-cmyk|light-dark)\(([^()]*(?:\([^()]*\)[^()]*)*)\)(?:\s+icc-color\(.*\))?$/;

function readColour(value: string): Paint | undefined {
  const text = value.trim().toLowerCase();
  if (text === 'transparent') return { kind: 'colour', text, clear: true };
  const hex = /^#([0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})(?:\s+icc-color\(.*\))?$/.exec(text)?.[1];
  if (hex !== undefined) {
    const alpha = hex.length === 4 ? hex.slice(3) : hex.length === 8 ? hex.slice(6) : 'f';
    return { kind: 'colour', text, clear: Number.parseInt(alpha, 16) === 0 };
  }
  const call = FUNCTION.exec(text);
  if (call !== null)
    return /[\d%]/.test(call[2]!) ? { kind: 'colour', text, clear: isClear(call[2]!) } : undefined;
  return NAMES.has(text) ? { kind: 'colour', text } : undefined;
}

/** The fourth number, or the one after a slash, is how much is seen. */
function isClear(inside: string): boolean {
  const alpha =
    /[/]\s*([\d.]+)%?\s*$/.exec(inside)?.[1] ?? (inside.split(',').length === 4 ? inside.split(',')[3] : '1');
  return Number.parseFloat(alpha!) === 0;
}

/** Named colours (CSS Color 4, section 6.1) and the system's (section 6.2). */
const NAMES = new Set(
  (
    'aliceblue antiquewhite aqua aquamarine azure beige bisque black blanchedalmond blue blueviolet brown burlywood ' +
    'cadetblue chartreuse chocolate coral cornflowerblue cornsilk crimson cyan darkblue darkcyan darkgoldenrod ' +
    'darkgray darkgreen darkgrey darkkhaki darkmagenta darkolivegreen darkorange darkorchid darkred darksalmon ' +
    'darkseagreen darkslateblue darkslategray darkslategrey darkturquoise darkviolet deeppink deepskyblue dimgray ' +
    'dimgrey dodgerblue firebrick floralwhite forestgreen fuchsia gainsboro ghostwhite gold goldenrod gray green ' +
    'greenyellow grey honeydew hotpink indianred indigo ivory khaki lavender lavenderblush lawngreen lemonchiffon ' +
    'lightblue lightcoral lightcyan lightgoldenrodyellow lightgray lightgreen lightgrey lightpink lightsalmon ' +
    'lightseagreen lightskyblue lightslategray lightslategrey lightsteelblue lightyellow lime limegreen linen ' +
    'magenta maroon mediumaquamarine mediumblue mediumorchid mediumpurple mediumseagreen mediumslateblue ' +
    'mediumspringgreen mediumturquoise mediumvioletred midnightblue mintcream mistyrose moccasin navajowhite navy ' +
    'oldlace olive olivedrab orange orangered orchid palegoldenrod palegreen paleturquoise palevioletred papayawhip ' +
    'peachpuff peru pink plum powderblue purple rebeccapurple red rosybrown royalblue saddlebrown salmon sandybrown ' +
    'seagreen seashell sienna silver skyblue slateblue slategray slategrey snow springgreen steelblue tan teal ' +
    'thistle tomato turquoise violet wheat white whitesmoke yellow yellowgreen ' +
    'accentcolor accentcolortext activetext buttonborder buttonface buttontext canvas canvastext field fieldtext ' +
    'graytext highlight highlighttext linktext mark marktext selecteditem selecteditemtext visitedtext ' +
    'activeborder activecaption appworkspace background buttonhighlight buttonshadow captiontext inactiveborder ' +
    'inactivecaption inactivecaptiontext infobackground infotext menu menutext scrollbar threeddarkshadow ' +
    'threedface threedhighlight threedlightshadow threedshadow window windowframe windowtext'
  ).split(' '),
);
