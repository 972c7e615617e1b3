import { type FaultPlace, InputFault, InputFaults, quoted } from '../fault.ts';
import type { Written, WrittenMap } from './document.ts';
import { type Job, jobOf } from './job.ts';

/** The flags that stand in for a job file when two drawings are to be checked quickly. */
const FLAGS = [
  'pocket',
  'plug',
  // mm or in; mm when left out.
  'units',
  // `start+flat`, such as 0+7.6 or 0+0.3 in.
  'pocketDepth',
  'plugDepth',
  'angle',
  'tipFlat',
  'tipRadius',
  'cuttingLength',
  'cuttingDiameter',
  'pocketThickness',
  'plugThickness',
  // drawn or toolpath.
  'mirror',
] as const;

/** Their texts as typed. */
export type QuickFlags = { readonly [Flag in (typeof FLAGS)[number]]?: string | undefined };

/** Whether any of them is given. */
export function hasFlags(flags: QuickFlags): boolean {
  return FLAGS.some((flag) => flags[flag] !== undefined);
}

/** The name a job of flags goes by in reports. */
const NAME = 'command line';

/**
 * The job that flags describe, read by the same rules as a job file; outlines are found from the current folder.
 * Throws InputFaults, each naming its flag.
 */
export function jobFromFlags(flags: QuickFlags): Job {
  const faults: InputFault[] = [];
  const pocket = needed(
    '--pocket',
    flags.pocket,
    'the drawing of the pocket, NAME.svg or NAME.svg#id',
    faults,
  );
  const [pocketStart, pocketFlat] = depthsOf('--pocket-depth', flags.pocketDepth, faults);
  const [plugStart, plugFlat] = depthsOf('--plug-depth', flags.plugDepth, faults);
  const angle = needed('--angle', flags.angle, "the bit's included angle in degrees", faults);
  if (faults.length > 0) throw new InputFaults(faults);
  const root = map('', {
    title: value('--pocket', flags.plug === undefined ? pocket : `${pocket} and ${flags.plug}`),
    units: value('--units', flags.units ?? 'mm'),
    pocket: map('--pocket', {
      outline: value('--pocket', pocket),
      'start-depth': value('--pocket-depth', pocketStart),
      'flat-depth': value('--pocket-depth', pocketFlat),
      stock: map('--pocket-thickness', { thickness: value('--pocket-thickness', flags.pocketThickness) }),
    }),
    plug: map('--plug', {
      outline: value('--plug', flags.plug),
      mirror: value('--mirror', flags.mirror),
      'start-depth': value('--plug-depth', plugStart),
      'flat-depth': value('--plug-depth', plugFlat),
      stock: map('--plug-thickness', { thickness: value('--plug-thickness', flags.plugThickness) }),
    }),
    bit: map('--angle', {
      angle: value('--angle', angle),
      'tip-flat': value('--tip-flat', flags.tipFlat),
      'tip-radius': value('--tip-radius', flags.tipRadius),
      'cutting-length': value('--cutting-length', flags.cuttingLength),
      'cutting-diameter': value('--cutting-diameter', flags.cuttingDiameter),
    }),
  });
  return jobOf(root, NAME, '');
}

/** A flag that a check cannot do without. */
function needed(flag: string, text: string | undefined, what: string, faults: InputFault[]): string {
  if (text === undefined)
    faults.push(new InputFault(`Without a job file this is needed: ${what}.`, placeOf(flag)));
  return text ?? '';
}

/** Parts `start+flat`. A comma is refused: it could be either a part or a decimal. */
function depthsOf(flag: string, given: string | undefined, faults: InputFault[]): readonly [string, string] {
  const text = needed(flag, given, 'the start depth and the flat depth, such as 0+7.6', faults);
  if (given === undefined) return ['', ''];
  const parts = text.split('+').map((part) => part.trim());
  if (parts.length === 2 && parts[0] !== '' && parts[1] !== '') {
    const [start, flat] = parts as [string, string];
    const unit = /\d\s*([a-z"]+)$/i.exec(flat)?.[1];
    return [unit !== undefined && /[\d.]$/.test(start) ? `${start} ${unit}` : start, flat];
  }
  const said = `${quoted(text)} is not a start depth and a flat depth; write them with a plus between, such as 0+7.6.`;
  faults.push(new InputFault(said, placeOf(flag)));
  return ['', ''];
}

const placeOf = (flag: string): FaultPlace => (flag === '' ? { file: NAME } : { file: NAME, element: flag });

function value(flag: string, text: string | undefined): Written | undefined {
  return text === undefined ? undefined : { kind: 'value', place: placeOf(flag), value: text, text };
}

function map(flag: string, fields: Readonly<Record<string, Written | undefined>>): WrittenMap {
  const place = placeOf(flag);
  const entries = new Map<string, { place: FaultPlace; value: Written }>();
  for (const [key, written] of Object.entries(fields))
    if (written !== undefined) entries.set(key, { place: written.place, value: written });
  return { kind: 'map', place, entries };
}
