import type { Facts } from '../src/carve/facts.ts';
import type { Mend } from '../src/carve/fit-mends.ts';
import { toDegrees } from '../src/units.ts';
import { sentenceCase } from './place.ts';

/** What is told must come out smaller by at least this share for a change to be told as its mend. */
const WORTH = 0.2;

/**
 * The changes that would help most, in one sentence; each was tried in the model, and says what comes of it: how proud
 * the plug then stands (`level`), or how wide a line stays open (`gap`), in place of the one `now`, mm.
 */
export function fitCure(facts: Facts, of: 'level' | 'gap', now: number): { readonly cure?: string } {
  const mends = facts.fitMends().filter((mend) => allowed(facts, mend) && mend[of] <= (1 - WORTH) * now);
  if (mends.length === 0) return {};
  // The best come first, and of tips no smaller one is tried once one is enough.
  const told = mends.filter(({ kind }, k) => mends.findIndex((mend) => mend.kind === kind) === k);
  const text = told
    .slice(0, 3)
    .map((mend) => mendText(facts, mend, of))
    .join('; or ');
  return { cure: `${sentenceCase(text)}.` };
}

/** A mend of the fit must not be a fault of the depths. */
function allowed(facts: Facts, { kind, value }: Mend): boolean {
  if (kind !== 'shallower-mating') return true;
  const { startDepth, flatDepth } = facts.job.pocket;
  return (
    startDepth + value >= facts.limit('mating-depth-least') &&
    flatDepth - value <= facts.limit('glue-gap-most')
  );
}

function mendText(facts: Facts, mend: Mend, of: 'level' | 'gap'): string {
  const { kind, value, at, others = 0 } = mend;
  const where = at === undefined ? '' : ` at ${facts.length(at[0])}, ${facts.length(at[1])}`;
  const what: Readonly<Record<Mend['kind'], () => string>> = {
    'smaller-tip': () =>
      value === 0 ? 'a bit with a sharp point' : `a bit with a tip flat of ${facts.length(value)}`,
    'shallower-mating': () => `a plug start depth of ${facts.length(value)}`,
    'open-notch': () =>
      `the notch${where}${others === 0 ? '' : ` and ${others} more`} opened to ${Math.ceil(toDegrees(value))} degrees`,
    'deeper-pocket': () => `a pocket flat depth of ${facts.length(value)}`,
    'deeper-plug': () => `a plug flat depth of ${facts.length(value)}`,
    'larger-drawing': () => `both drawings ${value.toFixed(2)} times as large`,
  };
  const left = facts.length(Math.max(0, mend[of]));
  return `${what[kind]()} leaves ${of === 'level' ? `it ${left} proud` : `${left} open`}`;
}
