import type { Facts } from '../../src/carve/facts.ts';
import { placedBy } from '../../src/carve/facts.ts';
import { quantity } from '../../src/engine/judge.ts';
import type { Reading } from '../../src/engine/reading.ts';
import type { Rule } from '../../src/engine/rule.ts';
import type { PairMatch } from '../../src/geometry/compare.ts';
import { placeAt } from '../place.ts';
import { NOT_MIRRORED } from './mirror.ts';

/** After the best reflection: is the plug the same outline, or grown, scaled, moved, edited, short of a piece? */
export const pairMatch: Rule = {
  id: 'pair.match',
  asks: 'Are both outlines the same, once the plug is turned over?',
  row: 'Plug and pocket match',
  essential: true,
  limits: ['rim-gap-most', 'rim-gap-most-hard'],
  measure: (facts) => {
    if (facts.region('pocket').rings.length === 0 || facts.region('plug').rings.length === 0)
      return [{ untold: 'One of the drawings holds no outline, so there is nothing to compare.' }];
    const match = facts.match();
    if (NOT_MIRRORED.has(match.verdict) && facts.job.plug.mirror === 'drawn')
      return [
        {
          moot: 'The plug is not the mirror of the pocket (see pair.mirror); how well it matches comes after that.',
        },
      ];
    return [largest(facts, match), ...pieces(facts, match), ...edited(facts, match)];
  },
};

/** The largest distance between the outlines, with what kind of difference explains it. */
function largest(facts: Facts, match: PairMatch): Reading {
  const placed = placedBy(facts.job, match);
  const atMost = facts.limit('rim-gap-most');
  const fine = placed.deviation <= atMost;
  return {
    measured: quantity(placed.deviation, 'mm'),
    give: Math.min(facts.outlineGive(), atMost / 2),
    want: { atMost, hardAtMost: facts.limit('rim-gap-most-hard') },
    place: placeAt(facts, 'plug', placed.plugAt),
    label: 'Outlines farthest apart',
    ...(fine ? { says: 'The outlines lie on one another all round.' } : explained(facts, match)),
  };
}

function explained(facts: Facts, match: PairMatch): { says: string; cure: string } {
  const { scale, growth, verdict } = match;
  const again = "Make the plug again from the pocket's drawing, mirrored.";
  if (verdict.startsWith('scaled') && Math.abs(scale.x - scale.y) < 1e-5) {
    const known = scale.known === undefined ? '' : ` That is ${KNOWN[scale.known] ?? scale.known}.`;
    return {
      says: `The plug is ${scale.uniform.toFixed(5)} times as large as the pocket.${known}`,
      cure: `Scale the plug's drawing by ${(1 / (scale.exact ?? scale.uniform)).toFixed(5)}.`,
    };
  }
  if (verdict.startsWith('scaled'))
    return {
      says: `The plug is stretched: ${scale.x.toFixed(5)} times along x and ${scale.y.toFixed(5)} times along y.`,
      cure: `${again} Keep its proportions locked.`,
    };
  if (verdict.startsWith('grown'))
    return {
      says: `The plug is ${growth.by > 0 ? 'larger' : 'smaller'} than the pocket by ${facts.length(Math.abs(growth.by))} all round.`,
      cure: "Take the offset out of the plug's drawing: the sloping walls make the fit, not the outline.",
    };
  return {
    says: 'Laid on one another as well as they go, the outlines differ here; the joint would show a line or not close.',
    cure: again,
  };
}

/** What the plug was meant in and what it was read in, by how many times as large that makes it. */
const KNOWN: Readonly<Record<string, string>> = {
  inch: 'millimetres read as inches',
  '1/inch': 'inches read as millimetres',
  '96/72': 'pixels (96 to the inch) read as points (72 to the inch)',
  '72/96': 'points (72 to the inch) read as pixels (96 to the inch)',
  'px/mm': 'pixels (96 to the inch) read as millimetres',
  'mm/px': 'millimetres read as pixels (96 to the inch)',
  'pt/mm': 'points (72 to the inch) read as millimetres',
  'mm/pt': 'millimetres read as points (72 to the inch)',
  '10': 'millimetres read as centimetres',
  '1/10': 'centimetres read as millimetres',
  '96/90': '96 units to the inch read as 90',
  '90/96': '90 units to the inch read as 96',
};

function pieces(facts: Facts, match: PairMatch): Reading[] {
  const tell = (piece: PairMatch['missing'][number], gone: boolean): Reading => ({
    measured: quantity(piece.area, 'mm2'),
    give: 0,
    want: { atMost: 0 },
    place: gone ? placeAt(facts, 'pocket', piece.at) : placeAt(facts, 'plug', piece.plugAt),
    label: gone ? `A ${piece.kind} the plug lacks` : `A ${piece.kind} only the plug has`,
    says: gone
      ? `The pocket has a ${piece.kind} here that the plug lacks.`
      : `The plug has a ${piece.kind} here that the pocket lacks.`,
    cure: 'Make both drawings from one design, so that each piece is in both.',
  });
  return [
    ...match.missing.map((piece) => tell(piece, true)),
    ...match.extra.map((piece) => tell(piece, false)),
    ...match.moved.map(
      (piece): Reading => ({
        measured: quantity(Math.hypot(piece.by[0], piece.by[1]), 'mm'),
        give: facts.outlineGive(),
        want: { atMost: facts.limit('rim-gap-most') },
        place: placeAt(facts, 'plug', piece.plugAt),
        label: 'A piece has moved',
        says: `This piece lies ${facts.length(Math.hypot(piece.by[0], piece.by[1]))} from where the pocket has it.`,
        cure: "Move it back, or make the plug again from the pocket's drawing.",
      }),
    ),
  ];
}

function edited(facts: Facts, match: PairMatch): Reading[] {
  return match.edited.map((place) => ({
    measured: quantity(place.by, 'mm'),
    give: facts.outlineGive(),
    want: { atMost: facts.limit('rim-gap-most'), hardAtMost: facts.limit('rim-gap-most-hard') },
    place: placeAt(facts, 'plug', place.plugAt),
    label: 'Outline edited here',
    says: `Here the two outlines lie ${facts.length(place.by)} apart while the rest fits.`,
    cure: "Redraw this spot, or make the plug again from the pocket's drawing.",
  }));
}
