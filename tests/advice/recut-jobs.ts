import { type Recut, recut } from '../../src/advice/recut.ts';
import { readSeen, type SeenFlags } from '../../src/advice/recut-seen.ts';
import { readArtwork } from '../../src/artwork/read.ts';
import { type Facts, factsOf } from '../../src/carve/facts.ts';
import { readDocument } from '../../src/job/document.ts';
import { readJob } from '../../src/job/job.ts';
import type { Outline } from '../witness/sweep.ts';

/** A design of straight pieces with the bit and depths it was cut with, mm and degrees. */
export interface Design {
  readonly outline: Outline;
  readonly scale?: number;
  readonly angle?: number;
  /** Lines of the job's bit about its tip. */
  readonly tip?: string;
  readonly flat?: number;
  readonly mating?: number;
  /** More lines of the job. */
  readonly more?: string;
  /** Lines of a recut file. */
  readonly file?: string;
  readonly seen: SeenFlags;
}

const MARGIN = 12;

/** The outline scaled and moved on to a page of its own. */
export function laid({ outline, scale = 1 }: Pick<Design, 'outline' | 'scale'>, mirror = false): Outline {
  const xs = outline.flat().map(([x]) => x);
  const ys = outline.flat().map(([, y]) => y);
  const [x0, y0, x1] = [Math.min(...xs), Math.min(...ys), Math.max(...xs)];
  return outline.map((ring) =>
    ring.map(([x, y]) => [(mirror ? x1 - x : x - x0) * scale + MARGIN, (y - y0) * scale + MARGIN] as const),
  );
}

export function svgOf(outline: Outline): Uint8Array {
  const size = Math.ceil(Math.max(...outline.flat(2)) + MARGIN);
  const d = outline.map((ring) => `M${ring.map(([x, y]) => `${x} ${y}`).join('L')}Z`).join('');
  const text = `<svg xmlns="http://www.w3.org/2000/svg" width="${size}mm" height="${size}mm" viewBox="0 0 ${size} ${size}"><path fill-rule="evenodd" d="${d}"/></svg>`;
  return new TextEncoder().encode(text);
}

export function jobText({
  angle = 30,
  tip = 'tip-flat: 0.1',
  flat = 4,
  mating = 2.6,
  more = '',
}: Design): string {
  return `title: Test piece
units: mm
pocket:
  outline: test.svg
  start-depth: 0
  flat-depth: ${flat}
  stock: { wood: maple-sugar, grain: face, grain-angle: 0 deg, thickness: 19 }
plug:
  outline: test-plug.svg
  start-depth: ${mating}
  flat-depth: 2.6
  stock: { wood: maple-sugar, grain: face, grain-angle: 0 deg, thickness: 19, width: 200, length: 200 }
bit: { angle: ${angle} deg, ${tip}, cutting-length: 20, cutting-diameter: 12, shank: 6.35 }
saw: { kerf: 0.9 }
${more}`;
}

export function factsOfDesign(design: Design): Facts {
  const job = readJob(jobText(design), 'test.dryfit.yaml');
  const pocket = readArtwork(svgOf(laid(design)), 'test.svg');
  const plug = readArtwork(svgOf(laid(design, true)), 'test-plug.svg');
  return factsOf(job, pocket, plug);
}

/** The repair of a design, as the command plans it. */
export function recutOf(design: Design): Recut {
  const facts = factsOfDesign(design);
  const file = design.file === undefined ? undefined : { text: design.file, path: 'test.recut.yaml' };
  const seen = readSeen(file, design.seen, facts.job);
  const root = readDocument(jobText(design), 'test.dryfit.yaml');
  return recut({ facts, root, keepOuts: [], seen, folder: 'out' });
}
