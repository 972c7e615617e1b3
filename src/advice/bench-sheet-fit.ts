import { holdWords } from '../../rules/holds.ts';
import type { Facts } from '../carve/facts.ts';
import { asPressed } from '../carve/fit.ts';
import { psi } from '../units.ts';
import { type Species, speciesOf } from '../wood/species.ts';
import {
  around,
  depthOff,
  JOB,
  length,
  limitGround,
  MODEL,
  PRACTICE,
  seatOff,
} from './bench-sheet-grounds.ts';
import type { Places } from './bench-sheet-places.ts';
import type { Figure, Note, Step } from './bench-sheet-told.ts';

/** The work from the test fit on: dry fit, glue, clamps, saw, sanding. */
export function fitSteps(facts: Facts, places: Places | { readonly none: string }): readonly Step[] {
  return [dryFit(facts, places), glueUp(facts), sawOff(facts, places), sandFlush(facts)];
}

function dryFit(facts: Facts, places: Places | { readonly none: string }): Step {
  const does =
    'Dry fit: turn the plug over into the pocket, press by hand, then clamp it without glue under a flat caul. Measure the gap between board and plug stock at four places.';
  if ('none' in places)
    return { part: 'joint', does, figures: [], notes: [{ says: `Not worked out. ${places.none}` }] };
  const { fit } = places;
  const { proud, widest } = asPressed(fit);
  const gap = facts.depths.saw + proud;
  const under = facts.depths.glue + proud;
  const seat = seatOff(facts);
  const { pocketFlatness, plugFlatness } = facts.job.spread;
  return {
    part: 'joint',
    does,
    figures: [
      length('Gap, clamped dry', gap, MODEL, around(gap, depthOff(facts, 'pocket') + plugFlatness + seat)),
      length('Stands proud of its seat', Math.max(0, proud), MODEL),
      length('Widest line at the rim', widest?.gap ?? 0, MODEL),
      length(
        'Clay under it comes back',
        under,
        MODEL,
        around(under, depthOff(facts, 'plug') + pocketFlatness + seat),
      ),
      ...places.touches.map((touch, n) => ({
        name: `Touches first, ${n + 1}`,
        words: `${holdWords(facts, touch, 'place')}; alone ${facts.length(touch.alone)} proud`,
        ground: MODEL,
      })),
    ],
    notes: [...fitNotes(facts, places), tiltNote(facts, places)],
  };
}

function fitNotes(facts: Facts, { touches, fit }: Places): Note[] {
  const held = asPressed(fit).proud > facts.limit('proud-most');
  const how =
    touches.length === 0
      ? 'Nothing should touch before the rest: the walls meet all round at once.'
      : held
        ? 'The numbered places (on the plan) hold it up as the job stands: mend that before cutting.'
        : 'It comes to rest on the numbered places (on the plan); elsewhere the walls stay a hair apart.';
  return [
    {
      says: 'By hand alone it stops a little higher, for the walls rub; how much is not published. Clamped, it must go down evenly.',
    },
    { says: how, ground: MODEL },
    {
      says: `A gap wider than its range: dust, fuzz or a corner holds it up. Rub pencil on the walls and look where it comes off${touches.length > 0 ? ', at the numbered places first' : ''}. A narrower one: it is slack, or cut too deep.`,
      ground: PRACTICE,
    },
    {
      says: 'It must not bottom out: clay squeezed to nothing means that the floor or the root holds it, and no clamp closes that. It must not rock, and not drop in without any drag.',
      ground: PRACTICE,
    },
  ];
}

/** Whether the plug, pressed in its middle alone, tilts into a seat of its own. */
function tiltNote({ length: mm }: Facts, { fit, pair }: Places): Note {
  const { box } = pair;
  const rise =
    Math.abs(fit.seat.tiltX) * (box.maxX - box.minX) + Math.abs(fit.seat.tiltY) * (box.maxY - box.minY);
  return rise > fit.give
    ? {
        says: `Pressed in its middle alone it would tilt, by up to ${mm(rise)} from one end to the other: press it level.`,
        ground: MODEL,
      }
    : { says: 'Pressed in its middle it goes down level.', ground: MODEL };
}

function glueUp(facts: Facts): Step {
  const does =
    'Glue: a thin coat on all sloping walls of both parts, none poured on the floor. Press level, closed all round, then wait as the sheet of the glue says.';
  const glued = facts.wood.glued();
  if (!('glue' in glued))
    return {
      part: 'joint',
      does,
      figures: [],
      notes: [{ says: `Not worked out. ${'moot' in glued ? glued.moot : glued.untold}` }, NO_PRESSURE],
    };
  const { glue, needed, hard } = glued;
  const coat = limitGround(facts, 'glue-coat');
  const volume = (name: string, value: number, ground: string): Figure => ({
    name,
    value: { value, unit: 'mm3' },
    ground,
  });
  return {
    part: 'joint',
    does,
    figures: [
      { name: 'Sloping wall to be glued', value: { value: glue.wallArea, unit: 'mm2' }, ground: MODEL },
      volume(`Glue, ${facts.length(facts.limit('glue-coat'))} on both walls`, needed, coat),
      volume('Room for it', glue.room, MODEL),
      ...(glue.film > FELT ? [length('Glue line left along the walls', glue.film, MODEL)] : []),
      ...forces(facts, glue.wallArea),
    ],
    notes: [
      ...hard.map(
        (name): Note => ({
          says: `${name} bonds with difficulty: follow the glue's sheet closely.`,
          ground: 'Wood Handbook Table 10-1',
        }),
      ),
      NO_PRESSURE,
    ],
  };
}

/** A glue line thinner than this is none, mm. */
const FELT = 0.005;

const NO_PRESSURE: Note = {
  says: 'No clamping pressure is published for a wedge fit, nor how long this glue stays open: begin with the least force, stop when the joint is closed, ask the sheet of the glue. Friction is left out of both forces.',
};

/**
 * What is known of the force on the whole plug. A pressure p on sloping walls of area A whose normals lie h (half the
 * included angle) off level asks for p A sin h straight down; friction would ask for more.
 */
function forces(facts: Facts, wallArea: number): Figure[] {
  const { job } = facts;
  const level = wallArea * Math.sin(facts.bit('plug').angle / 2);
  const woods = [job.pocket, job.plug].map(({ stock }) => (stock.wood ? speciesOf(stock.wood) : undefined));
  return [...flatJoint(woods, level), ...crushing(woods, level)];
}

const FLAT_JOINT = { soft: [psi(100), psi(150)], hard: [psi(175), psi(250)] } as const;
const FLAT_SOURCE =
  "pressure of flat joints, not of wedges: a glue maker's figures as a magazine quotes them, one source";

function flatJoint(woods: readonly (Species | undefined)[], level: number): Figure[] {
  const known = woods.filter((wood) => wood?.pores !== undefined);
  if (known.length === 0)
    return [{ name: 'Force on the plug', missing: 'the woods, and with them a pressure' }];
  const soft = known.some((wood) => wood?.pores?.value === 'none');
  const [from, to] = (soft ? FLAT_JOINT.soft : FLAT_JOINT.hard).map((pressure) => pressure * level) as [
    number,
    number,
  ];
  return [
    {
      name: 'Force to begin with',
      value: { value: from, unit: 'N' },
      from,
      to,
      ground: FLAT_SOURCE,
    },
  ];
}

/** The force at which the weaker wood's walls begin to be crushed across the grain. */
function crushing(woods: readonly (Species | undefined)[], level: number): Figure[] {
  const name = 'Walls begin to crush at';
  const none = woods.find((wood) => wood?.crushing === undefined);
  if (woods.includes(undefined)) return [{ name, missing: 'the woods, and with them their strength' }];
  if (none !== undefined)
    return [{ name, words: `no figure printed for ${none.name.toLowerCase()}, and none is guessed` }];
  const weaker = woods.reduce((a, b) => ((a?.crushing?.value ?? 0) <= (b?.crushing?.value ?? 0) ? a : b));
  const { value, source } = weaker!.crushing!;
  return [
    {
      name,
      value: { value: value * level, unit: 'N' },
      ground: `${weaker!.name.toLowerCase()} across the grain, ${value.toFixed(1)} MPa at 12 % moisture: Wood Handbook ${source}`,
    },
  ];
}

function sawOff(facts: Facts, places: Places | { readonly none: string }): Step {
  const does =
    'When the glue is hard, saw the plug stock off, the board flat on the table or against the fence. Hold a small piece in something larger.';
  const { job } = facts;
  const kerf = job.saw?.kerf ?? facts.limit('saw-kerf-assumed');
  const ground =
    job.saw === undefined ? `${limitGround(facts, 'saw-kerf-assumed')} (not given: saw: kerf)` : JOB;
  const settled =
    'fit' in places ? Math.max(0, facts.depths.saw + asPressed(places.fit).proud) : facts.depths.saw;
  const low = (settled - kerf) / 2;
  const figures: Figure[] = [
    length('Gap to saw in', settled, MODEL),
    length('Kerf of the saw', kerf, ground),
  ];
  if (low < 0)
    return {
      part: 'joint',
      does,
      figures,
      notes: [
        {
          says: `The saw does not fit: its kerf is ${facts.length(-2 * low)} wider than the gap.`,
          ground: MODEL,
        },
      ],
    };
  figures.push(
    length('Cut above board, lower side', low, MODEL),
    length('Cut above board, middle', settled / 2, MODEL),
  );
  return { part: 'joint', does, figures, notes: 'fit' in places ? landNote(facts, places, low) : [] };
}

/** Over narrow lands the plug stock comes nearer to the board than the saw: that wood is cut, and planed off. */
function landNote(facts: Facts, { fit }: Places, low: number): Note[] {
  const { least, at } = fit.sawGap;
  if (at === undefined || least >= low) return [];
  return [
    {
      says: `Over the narrowest land (at ${facts.length(at[0])}, ${facts.length(at[1])}) the plug stock stands only ${facts.length(Math.max(0, least))} above the board: the saw runs through wood there, and what it leaves is planed off.`,
      ground: MODEL,
    },
  ];
}

function sandFlush(facts: Facts): Step {
  const { limit } = facts;
  const each = limit('sanding-each');
  const worn = facts.wood.worn();
  const kerf = facts.job.saw?.kerf ?? limit('saw-kerf-assumed');
  const fitted = facts.fitted();
  const proud = 'fit' in fitted ? asPressed(fitted.fit).proud : 0;
  const above = Math.max(0, (facts.depths.saw + proud - kerf) / 2);
  const does = 'Plane, then sand what stands above the board until it is flush, and no deeper than needed.';
  const plane = length('To be taken off', above, MODEL);
  if (!('strokes' in worn))
    return {
      part: 'joint',
      does,
      figures: [plane],
      notes: [{ says: `Not worked out. ${'moot' in worn ? worn.moot : worn.untold}` }],
    };
  const first = worn.strokes[0];
  const figures: Figure[] = [plane];
  if (first !== undefined)
    figures.push(
      length('Sanding until a stroke goes', first.left, MODEL),
      {
        name: `Resurfacings of ${facts.length(each)} it stands`,
        value: { value: first.times, unit: 'count' },
        ground: limitGround(facts, 'sanding-each'),
      },
      length('Width a stroke loses at each', worn.lossPerMm * each, MODEL),
    );
  figures.push(length('Sanding until all is gone', worn.allGone, MODEL));
  const opening = facts.wood.openingPerMm();
  const notes: Note[] =
    opening > 0
      ? [
          {
            says: `The two angles differ, so sanding opens a line: ${facts.length(opening * each)} for each ${facts.length(each)}.`,
            ground: MODEL,
          },
        ]
      : [];
  return { part: 'joint', does, figures, notes: [...notes, ...shareNote(facts, first?.left, each)] };
}

function shareNote({ length: mm }: Facts, left: number | undefined, each: number): Note[] {
  if (left === undefined || left >= each) return [];
  return [{ says: `Careful: with ${mm(left)} gone the first stroke is gone.`, ground: MODEL }];
}
