import type { Facts } from '../../src/carve/facts.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { toDegrees } from '../../src/units.ts';
import { placeAt } from '../place.ts';

/** The plug goes in upside down, so its drawing has to be the mirror image of the pocket's. */
export const pairMirror: Rule = {
  id: 'pair.mirror',
  asks: 'Is the plug the mirror image of the pocket?',
  row: 'Plug mirrors the pocket',
  essential: true,
  limits: ['mirror-deviation-most'],
  measure: (facts) => {
    if (facts.region('pocket').rings.length === 0 || facts.region('plug').rings.length === 0)
      return [{ untold: 'One of the drawings holds no outline, so there is nothing to compare.' }];
    return [facts.job.plug.mirror === 'toolpath' ? leftToToolpath(facts) : drawn(facts)];
  },
};

/** Both drawings are the same and the toolpath turns the plug over: nothing drawn can prove that it does. */
function leftToToolpath(facts: Facts): Reading {
  const { copied, mirrored } = facts.match();
  const most = facts.limit('mirror-deviation-most');
  const already = copied.deviation > most && mirrored.deviation <= most;
  return {
    measured: quantity(copied.deviation, 'mm'),
    give: facts.outlineGive(),
    // At best close: that the toolpath really mirrors rests on the maker's eye.
    want: already ? { atMost: most } : { atMost: copied.deviation <= most ? -1 : most, hardAtMost: most },
    place: placeAt(facts, 'plug', copied.plugAt),
    label: 'Plug mirrored by the toolpath',
    says: already
      ? 'The plug is drawn mirrored already; if the toolpath mirrors it again it comes out as a copy of the pocket.'
      : copied.deviation <= most
        ? 'Both outlines are the same, as they should be when the toolpath does the mirroring; that it does cannot be seen from here.'
        : 'The two outlines differ, so mirroring one of them cannot make them fit.',
    cure: already
      ? 'Set "mirror: drawn", or draw the plug as the pocket is drawn.'
      : "Before cutting, look at the plug's toolpath from above: it must be the mirror image of the pocket's.",
  };
}

function drawn(facts: Facts): Reading {
  const match = facts.match();
  const { mirrored } = match;
  const atMost = facts.limit('mirror-deviation-most');
  const place = placeAt(facts, 'plug', mirrored.plugAt);
  const says = sentence(facts, match.copied.motion.angle);
  if (NOT_MIRRORED.has(match.verdict))
    return {
      measured: quantity(mirrored.deviation, 'mm'),
      give: 0,
      want: { atMost },
      place,
      says,
      cure: CURES[match.verdict],
    };
  if (mirrored.deviation <= atMost)
    return { measured: quantity(mirrored.deviation, 'mm'), give: 0, want: { atMost }, place, says };
  if (match.verdict !== 'mirror') {
    const residual = match.verdict.startsWith('scaled') ? match.scale.residual : match.growth.residual;
    return {
      measured: quantity(residual, 'mm'),
      give: 0,
      want: { atMost },
      place: { part: 'pair' },
      label: 'Mirrors it, size put right',
      says: `${says} Its size is not the pocket's, which is for pair.match to tell.`,
    };
  }
  // It is the mirror image, but not everywhere: where it is not is pair.match's to tell.
  return {
    measured: quantity(100 * match.alike, '%'),
    give: 0,
    want: { atLeast: 50 },
    place: { part: 'pair' },
    label: 'Mirrors it, in part',
    says: `${says} So much of its outline lies on the pocket's; for the rest see pair.match.`,
  };
}

function sentence(facts: Facts, turn: number): string {
  const match = facts.match();
  switch (match.verdict) {
    case 'copy':
      return 'The plug is drawn as a copy of the pocket, not as its mirror image: turned over, it will not go in.';
    case 'turned-copy':
      return `The plug is the pocket turned by ${toDegrees(Math.abs(turn)).toFixed(1)} degrees, not its mirror image: turned over, it will not go in.`;
    case 'scaled-copy':
    case 'grown-copy':
      return 'The plug is a copy of the pocket at another size, not its mirror image: turned over, it will not go in.';
    case 'inside-out':
      return 'The plug is drawn inside out: what should stand is cleared and what should be cleared stands.';
    case 'different':
      return 'The plug is another drawing than the pocket: neither it nor its mirror image fits.';
    default:
      return match.selfSymmetry <= facts.limit('mirror-deviation-most')
        ? 'The plug is the mirror image of the pocket; the design is its own mirror image, so a copy would do as well.'
        : 'The plug is the mirror image of the pocket.';
  }
}

const CURES: Readonly<Record<string, string>> = {
  'grown-copy': "Mirror the plug's drawing, and take the offset out of it.",
  copy: "Mirror the plug's drawing left to right and save it again.",
  'turned-copy': "Mirror the plug's drawing instead of turning it.",
  'scaled-copy': "Mirror the plug's drawing, and set it to the pocket's size.",
  'inside-out': 'Draw the plug as the filled shapes themselves, mirrored, without the frame around them.',
  different: "Make the plug from the pocket's own drawing, mirrored.",
};

/** Verdicts that say the plug would not go in however well it is drawn. */
export const NOT_MIRRORED: ReadonlySet<string> = new Set(Object.keys(CURES));
