import type { Facts } from '../src/carve/facts.ts';
import { RIM_GIVE } from '../src/carve/fit.ts';
import type { Mend } from '../src/carve/fit-mends.ts';
import { toDegrees } from '../src/units.ts';

/** The changes that would help most, in one sentence; each was tried in the model, and says what comes of it. */
export function fitCure(facts: Facts): { readonly cure?: string } {
  const mends = facts.fitMends().filter((mend) => allowed(facts, mend));
  if (mends.length === 0) return {};
  const kinds = [...new Set(mends.map((mend) => mend.kind))];
  const told = kinds.map((kind) =>
    gentlest(
      mends.filter((mend) => mend.kind === kind),
      // A line that may be as wide as its limit is not passed.
      Math.max(0, facts.limit('rim-gap-most') - RIM_GIVE),
    ),
  );
  const text = told
    .slice(0, 3)
    .map((mend) => mendText(facts, mend))
    .join('; or ');
  return { cure: `${text.charAt(0).toUpperCase()}${text.slice(1)}.` };
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

/** The smallest change of one kind that is enough; when none is, the one that helps most (they come best first). */
function gentlest(mends: readonly Mend[], enough: number): Mend {
  const good = mends.filter((mend) => mend.gap <= enough);
  const [best] = mends as [Mend, ...Mend[]];
  // Of tips the largest is the smallest change; of other kinds there is one.
  return good.reduce((kept, mend) => (mend.value > kept.value ? mend : kept), good[0] ?? best);
}

function mendText(facts: Facts, mend: Mend): string {
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
  return `${what[kind]()} leaves ${facts.length(mend.gap)} open`;
}
