/** The text of a new job file: the old one's words, with the chosen bit and depths in their places. */
import { RULES } from '../../rules/index.ts';
import { cutOtherwise, type Facts } from '../carve/facts.ts';
import { type CheckedJob, checkJob } from '../engine/checked.ts';
import { readDocument, type WrittenMap } from '../job/document.ts';
import { type Job, readJob } from '../job/job.ts';
import { withEntries, yamlOf } from '../job/rewritten.ts';
import type { Bit } from '../job/schema.ts';
import { type LengthStyle, toDegrees, toInches } from '../units.ts';

export interface ChosenFile {
  readonly path: string;
  readonly text: string;
  /** What every check says of the job as it is read from this text. */
  readonly checked: CheckedJob;
}

/** `NAME-chosen.dryfit.yaml` beside the old job. */
export const chosenPath = (file: string): string =>
  file.replace(/((?:\.dryfit)?\.ya?ml)?$/i, (ending) => `-chosen${ending || '.dryfit.yaml'}`);

/** The new job file for a chosen job; `text` is the old one's. It is read again and checked before anybody gets it. */
export function chosenFile(facts: Facts, text: string, wanted: Job): ChosenFile {
  const { job } = facts;
  const path = chosenPath(job.file);
  const root = readDocument(text, job.file);
  const edited = withRemark(editedText(text, root, job, wanted), job);
  const kept = meansTheSame(edited, path, wanted) ? edited : withRemark(plainText(root, job, wanted), job);
  const read = readJob(kept, path);
  if (!sameCut(read, wanted)) throw new Error('The new job file does not say what was chosen.');
  const checked = checkJob(cutOtherwise(facts, { ...read, limits: job.limits }), RULES);
  return { path, text: kept, checked };
}

const DEPTHS = [
  ['pocket.flat-depth', (job: Job) => job.pocket.flatDepth],
  ['plug.start-depth', (job: Job) => job.plug.startDepth],
  ['plug.flat-depth', (job: Job) => job.plug.flatDepth],
] as const;

/** The old text with only those values changed that are another now; its remarks and order stay. */
function editedText(text: string, root: WrittenMap, old: Job, wanted: Job): string {
  const lines = text.split('\n');
  for (const [key, of] of DEPTHS)
    if (Math.abs(of(old) - of(wanted)) > SAME) putValue(lines, root, key, of(wanted), old.units);
  if (sameBits(old, wanted)) return lines.join('\n');
  // Whole entries last: they may take lines away.
  const top = [...root.entries].map(([key, { place }]) => ({ key, line: (place.line ?? 1) - 1 }));
  for (const { key, line } of [...top].sort((a, b) => b.line - a.line)) {
    if (key !== 'plug-bit' && (key !== 'bit' || alike(old.bit, wanted.bit))) continue;
    const next = Math.min(lines.length, ...top.map((other) => other.line).filter((other) => other > line));
    const fresh = key === 'bit' ? [`bit: ${bitText(wanted.bit, old.units)}`] : [];
    lines.splice(line, endOf(lines, line, next) - line, ...fresh);
  }
  return lines.join('\n');
}

/** Where an entry that begins at a line ends: remarks and empty lines before the next belong to that. */
function endOf(lines: readonly string[], from: number, next: number): number {
  let end = next;
  while (end > from + 1 && /^\s*(?:#.*)?$/.test(lines[end - 1] ?? '')) end--;
  return end;
}

/** Puts a length where an old one stands, with a unit only where that had one. */
function putValue(lines: string[], root: WrittenMap, key: string, value: number, style: LengthStyle): void {
  const [part = '', name = ''] = key.split('.');
  const map = root.entries.get(part)?.value;
  const entry = map?.kind === 'map' ? map.entries.get(name)?.value : undefined;
  if (entry?.kind !== 'value') return;
  const at = { line: (entry.place.line ?? 1) - 1, column: (entry.place.column ?? 1) - 1 };
  const line = lines[at.line] ?? '';
  const rest = line.slice(at.column);
  const was =
    /^(?:"[^"]*"|'[^']*')/.exec(rest)?.[0] ?? (rest.startsWith(entry.text) ? entry.text : undefined);
  if (was === undefined) return;
  const unit = /[a-z"′″]/i.test(entry.text) ? ` ${style}` : '';
  const quote = /^["']/.exec(was)?.[0] ?? '';
  const fresh = `${quote}${numberText(value, style)}${unit}${quote}`;
  lines[at.line] = line.slice(0, at.column) + fresh + rest.slice(was.length);
}

/** Written anew from what the old file says, where its own text could not be kept. */
function plainText(root: WrittenMap, { units }: Job, wanted: Job): string {
  const depths = DEPTHS.map(([key, of]) => [key, `${numberText(of(wanted), units)} ${units}`]);
  const bit = Object.fromEntries(bitEntries(wanted.bit, units).map(([key, text]) => [`bit.${key}`, text]));
  const bare = withEntries(root, { bit: undefined, 'plug-bit': undefined });
  return yamlOf(withEntries(bare, { ...Object.fromEntries(depths), ...bit }));
}

function withRemark(text: string, { file }: Job): string {
  const name = file
    .slice(Math.max(file.lastIndexOf('/'), file.lastIndexOf('\\')) + 1)
    .replace(/[^\x20-\x7e]/g, '?');
  return `# Depths and bit as dryfit choose proposed them; all else as in ${name}.\n${text.replace(/^\uFEFF/, '')}`;
}

/** A millionth of the unit: finer than any of it is cut. */
const numberText = (value: number, style: LengthStyle): string =>
  String(Number((style === 'in' ? toInches(value) : value).toFixed(6)));

/** A bit's keys as a job has them, each value with its unit. */
function bitEntries(bit: Bit, style: LengthStyle): readonly (readonly [key: string, text: string])[] {
  return Object.entries(bit)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => {
      const key = name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
      const text = key.endsWith('angle')
        ? `${Number(toDegrees(value as number).toFixed(6))} deg`
        : `${numberText(value as number, style)} ${style}`;
      return [key, text];
    });
}

const bitText = (bit: Bit, style: LengthStyle): string =>
  `{ ${bitEntries(bit, style)
    .map(([key, text]) => `${key}: ${text}`)
    .join(', ')} }`;

/** Depths nearer than this, mm, and angles nearer than this, radians, are one. */
const SAME = 1e-4;

/** An edited text is trusted only when it reads as what was meant, with all else as it was. */
function meansTheSame(text: string, path: string, wanted: Job): boolean {
  try {
    const read = readJob(text, path);
    return sameCut(read, wanted) && besides(read) === besides(wanted);
  } catch {
    return false;
  }
}

const besides = ({ pocket, plug, ...job }: Job): string =>
  JSON.stringify({
    ...job,
    file: '',
    // A job without a title is called by its file.
    title: job.says('title') ? job.title : '',
    bit: {},
    plugBit: {},
    sides: [pocket, plug].map(({ outline, stock }) => [outline, stock]),
    mirror: plug.mirror,
  });

const sameCut = (job: Job, wanted: Job): boolean =>
  job.pocket.startDepth === wanted.pocket.startDepth &&
  DEPTHS.every(([, of]) => Math.abs(of(job) - of(wanted)) < SAME) &&
  sameBits(job, wanted);

const sameBits = (job: Job, wanted: Job): boolean =>
  alike(job.bit, wanted.bit) && alike(job.plugBit, wanted.plugBit);

function alike(a: Bit, b: Bit): boolean {
  const values = (bit: Bit): Readonly<Record<string, number | undefined>> => ({ ...bit });
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].every((key) => {
    const [one, other] = [values(a)[key], values(b)[key]];
    return one === other || Math.abs((one ?? Number.NaN) - (other ?? Number.NaN)) < SAME;
  });
}
