import type { Facts } from '../carve/facts.ts';
import { speciesOf } from '../wood/species.ts';
import { PRACTICE } from './bench-sheet-grounds.ts';
import type { Note } from './bench-sheet-told.ts';

const NIOSH = 'NIOSH Pocket Guide to Chemical Hazards, wood dust';
const ACGIH = 'ACGIH 2007 as quoted by OSHA';

/** What can hurt, the most urgent first; the machine's manual and local rules come before all of it. */
export function cautions(facts: Facts): readonly Note[] {
  return [
    {
      says: "The machine's manual, the glue's and the finish's sheets, local codes and licensed practice come before anything on this sheet.",
    },
    {
      says: 'A spinning bit cuts clamps, screws and fingers as readily as wood: nothing within its path, no hand under the spindle while it turns; eyes and ears covered.',
      ground: PRACTICE,
    },
    ...clamps(facts),
    {
      says: 'Small parts at the saw: hold the piece in a carrier larger than your hands, blade guarded down to the work.',
      ground: PRACTICE,
    },
    ...dust(facts),
    {
      says: 'If it will touch food: water classes of glue (EN 204, Type I and II) say nothing about food; ask the makers of glue and finish.',
    },
  ];
}

function clamps(facts: Facts): readonly Note[] {
  const met = (['pocket', 'plug'] as const).flatMap((side) =>
    facts.region(side).rings.length === 0
      ? []
      : facts.wood.held(side).hits.map(({ name }) => `${name} (${side})`),
  );
  if (met.length === 0) return [];
  return [
    { says: `IN THE PATH: ${[...new Set(met)].slice(0, 6).join(', ')}. Move them before the first cut.` },
  ];
}

/** Dust limits that are published, and what is known of the two woods. */
function dust({ job }: Facts): readonly Note[] {
  const ids = [...new Set([job.pocket.stock.wood, job.plug.stock.wood])];
  const named = ids.filter((id) => id !== undefined && speciesOf(id) !== undefined) as string[];
  const known = named.flatMap((id) => {
    const says = dustOf(id);
    return says === undefined ? [] : [`${speciesOf(id)?.name.toLowerCase()}: ${says}`];
  });
  const rest = named.filter((id) => dustOf(id) === undefined).map((id) => speciesOf(id)?.name.toLowerCase());
  const unnamed =
    named.length < ids.length ? ['a wood of this job is not named, and its dust not known'] : [];
  const none =
    rest.length > 0 ? [`${rest.join(' and ')}: nothing special is on file, which is not a clean bill`] : [];
  return [
    {
      says: 'Wood dust harms the lungs and may cause cancer of the nose: at most 1 mg/m3 over a day; collect it at the bit, wear a mask at the sander.',
      ground: NIOSH,
    },
    { says: `Dust of these woods: ${[...known, ...none, ...unnamed].join('; ')}.`, ground: ACGIH },
  ];
}

function dustOf(id: string): string | undefined {
  if (/^(oak|beech)-/.test(id)) return 'causes cancer in people (A1)';
  if (/^(birch|walnut)-|^mahogany|^teak/.test(id)) return 'suspected to cause cancer in people (A2)';
  if (id === 'cedar-western-redcedar') return 'limit 0.5 mg/m3';
  return undefined;
}
