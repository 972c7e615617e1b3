import { readArtwork } from '../src/artwork/read.ts';
import { type Facts, factsOf } from '../src/carve/facts.ts';
import { type JudgedCheck, judgeCheck } from '../src/engine/judge.ts';
import type { Rule } from '../src/engine/rule.ts';
import { readJob } from '../src/job/job.ts';

/** A pair on the bench: two drawings' contents and what the job says otherwise than the plain good job below. */
export interface BenchPair {
  /** What stands inside the pocket's svg element (in mm, 100 x 100). */
  readonly pocket: string;
  /** The plug's; the mirrored pocket unless given. */
  readonly plug?: string;
  /** Values of the job, by dotted path (`pocket.flat-depth`); undefined takes a key out. */
  readonly job?: Readonly<Record<string, unknown>>;
  /** The frame of the plug's drawing, when it is not 100 mm square. */
  readonly plugFrame?: string;
  readonly pocketFrame?: string;
}

const FRAME = 'width="100mm" height="100mm" viewBox="0 0 100 100"';

/** A job that every check passes: 30 degree bit with a 0.1 mm tip, 5 mm of mating wall, 2.6 mm below and above. */
export function goodJob(): Record<string, unknown> {
  return {
    title: 'Bench pair',
    units: 'mm',
    pocket: {
      outline: 'pocket.svg',
      'start-depth': 0,
      'flat-depth': 7.6,
      stock: { wood: 'cherry-black', grain: 'face', thickness: 19 },
    },
    plug: {
      outline: 'plug.svg',
      'start-depth': 5,
      'flat-depth': 2.6,
      stock: { wood: 'maple-sugar', grain: 'face', 'grain-angle': 0, thickness: 18, width: 160, length: 160 },
    },
    bit: { angle: 30, 'tip-flat': 0.1, 'cutting-length': 20, 'cutting-diameter': 12.7, shank: 6.35 },
    saw: { kerf: 0.9 },
  };
}

export function svg(inner: string, frame = FRAME): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" ${frame}>\n${inner}\n</svg>\n`;
}

/** The content of a 100 mm drawing, mirrored left to right. */
export function mirrored(inner: string): string {
  return `<g transform="translate(100 0) scale(-1 1)">${inner}</g>`;
}

/**
 * Facts that were worked out before: whoever tries many changes of what stands above the facts, and none below, may
 * keep them here.
 */
const kept = (globalThis as { dryfitFacts?: Map<string, Facts> }).dryfitFacts;

/** The facts of a pair, through the same doors as the command line: SVG text and YAML text. */
export function factsFor(pair: BenchPair): Facts {
  const key = JSON.stringify(pair, (_, value) => (value === undefined ? 'taken out' : value));
  const facts = kept?.get(key) ?? madeFor(pair);
  kept?.set(key, facts);
  return facts;
}

function madeFor(pair: BenchPair): Facts {
  const job = readJob(JSON.stringify(withValues(goodJob(), pair.job ?? {})), 'bench.dryfit.yaml');
  const bytes = (text: string) => new TextEncoder().encode(text);
  return factsOf(
    job,
    readArtwork(bytes(svg(pair.pocket, pair.pocketFrame)), 'pocket.svg'),
    readArtwork(bytes(svg(pair.plug ?? mirrored(pair.pocket), pair.plugFrame)), 'plug.svg'),
  );
}

/** One rule, asked about one pair. */
export function ask(rule: Rule, pair: BenchPair): JudgedCheck {
  return judgeCheck(rule, rule.measure(factsFor(pair)));
}

/** `base` with values set by dotted path. */
export function withValues(
  base: Record<string, unknown>,
  values: Readonly<Record<string, unknown>>,
): Record<string, unknown> {
  const copy = structuredClone(base);
  for (const [path, value] of Object.entries(values)) {
    const keys = path.split('.');
    const last = keys.pop() as string;
    let at = copy;
    for (const key of keys) {
      at[key] ??= {};
      at = at[key] as Record<string, unknown>;
    }
    if (value === undefined) delete at[last];
    else at[last] = value;
  }
  return copy;
}

/** A lopsided leaf, about 70 x 40 mm: no symmetry of its own, no narrow place, no sharp notch. */
export const LEAF =
  '<path id="leaf" d="M15 60 C20 35 45 22 70 26 C84 28 88 36 80 46 C70 60 44 70 30 68 C22 67 15 66 15 60 Z"/>';
