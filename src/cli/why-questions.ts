import type { Reads } from '../job/schema.ts';
import { GAP_WORDS } from '../job/seen-schema.ts';
import type { LengthStyle } from '../units.ts';
import type { Answers, Question } from './ask.ts';

const ANY: Reads = { as: 'length', sign: 'any' };
const NONE_OR_MORE: Reads = { as: 'length', sign: 'zero-or-more' };
const YES_NO: Reads = { as: 'choice', of: ['yes', 'no'] };
const SIDES = ['left', 'right', 'top', 'bottom'] as const;

/** What anybody can see at a test fit, in the order of looking; all of it may be left open. */
export const WHY_QUESTIONS: readonly Question[] = [
  may('pressed', 'How was it pressed in: by hand, or level under a caul (hand, caul)?', {
    as: 'choice',
    of: ['hand', 'caul'],
  }),
  may(
    'proud.middle',
    'How far does the plug stand above where it should sit, in the middle (minus: low)?',
    ANY,
  ),
  ...SIDES.map((side) => may(`proud.${side}`, `The same at the ${side}?`, ANY)),
  may('gap.left', 'How wide is the line at the rim, at the left (0: none)?', NONE_OR_MORE),
  ...SIDES.slice(1).map((side) => may(`gap.${side}`, `The same at the ${side}?`, NONE_OR_MORE)),
  may('gap-only', `Where alone is a line seen (${GAP_WORDS.join(', ')})?`, { as: 'choice', of: GAP_WORDS }),
  may('rocks', 'Does it rock when its ends are pressed in turn (yes, no)?', YES_NO),
  may('sinks', 'Does it go in further than it should (yes, no)?', YES_NO),
  may('saw-gap.middle', "How much room is between the board's face and the plug stock?", NONE_OR_MORE),
];

function may(key: string, asks: string, reads: Reads): Question {
  return { key, asks, reads, suggest: () => undefined, open: true };
}

/** The answers as the file that says the same. */
export function seenText(answers: Answers, units: LengthStyle): string {
  const lists = new Map<string, string[]>();
  const lone: string[] = [];
  for (const [key, answer] of answers) {
    const [kind, at] = key.split('.') as [string, string | undefined];
    const value = /^[-+]?[\d.]+$|^[a-z-]+$/.test(answer) ? answer : JSON.stringify(answer);
    if (at === undefined) lone.push(`${kind}: ${value}`);
    else lists.set(kind, [...(lists.get(kind) ?? []), `  - { at: ${at}, by: ${value} }`]);
  }
  const spots = [...lists].flatMap(([kind, entries]) => [`${kind}:`, ...entries]);
  return `${['# What was seen at a test fit; "dryfit explain why" has all that may be written here.', `units: ${units}`, ...lone, ...spots].join('\n')}\n`;
}
