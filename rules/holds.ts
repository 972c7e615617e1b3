import type { Facts } from '../src/carve/facts.ts';
import type { Contact, Fit, HoldKind } from '../src/carve/fit.ts';
import { showBare, toDegrees } from '../src/units.ts';

/**
 * The place to blame: the one that would hold a level plug highest. Where a tilted plug comes to rest on a plain
 * wall beside it, that wall is not to blame.
 */
export function culprit(fit: Fit): Contact | undefined {
  return fit.tight[0] ?? fit.holds[0];
}

/** What holds a plug up at one place, in one sentence with its place in the pocket's drawing. */
export function holdText(facts: Facts, contact: Contact, told: 'place' | 'no place'): string {
  return `What holds it first is ${holdWords(facts, contact, told)}.`;
}

/** The same in a few words, for a list of places. */
export function holdWords(facts: Facts, contact: Contact, told: 'place' | 'no place'): string {
  const style = facts.job.units;
  const where = `at ${showBare(contact.at[0], 'mm', style)}, ${facts.length(contact.at[1])}`;
  const size =
    contact.angle !== undefined
      ? ` of ${toDegrees(contact.angle).toFixed(0)} degrees`
      : contact.width !== undefined
        ? ` ${facts.length(contact.width)} wide`
        : '';
  const what = KINDS[contact.kind](size);
  // A clause set off by commas needs its second one only when something follows it.
  return told === 'place' ? `${what} ${where}` : what.replace(/,$/, '');
}

const KINDS: Readonly<Record<HoldKind, (size: string) => string>> = {
  'narrow-stroke': (size) => `the tip's flat in a narrow stroke${size}`,
  corner: (size) => `the tip's flat in a corner${size}`,
  notch: (size) => `the board's spike in a notch${size}`,
  outline: () => 'the outline, which is larger on the plug than on the pocket,',
  'different-bits': () => 'the walls, cut at two different angles,',
  'uncut-stroke': (size) => `a stroke${size} that the tip does not get into`,
  'uncut-land': (size) => `wood left standing in a gap${size} that the tip does not get into`,
  floor: () => 'the floor of the pocket',
  root: () => "the plug stock, which meets the board's face",
};
