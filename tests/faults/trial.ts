import { RULES } from '../../rules/index.ts';
import { type JudgedReading, judgeCheck } from '../../src/engine/judge.ts';
import type { Rule } from '../../src/engine/rule.ts';
import { InputFault, InputFaults } from '../../src/fault.ts';
import { type Due, type FaultKind, type Planted, sound } from './catalogue.ts';
import { type Design, randomFrom } from './designs.ts';
import { factsOfPair, type Pair } from './drawing.ts';

/** How one planted fault came out. */
export interface Trial {
  readonly fault: string;
  readonly size: number;
  readonly due: Due;
  readonly design: string;
  /** `refused`: the job was not read at all, which is as good as a failure. */
  readonly seen: 'pass' | 'care' | 'fail' | 'refused';
  /** For a fault that its own checks passed: the other checks that do not. */
  readonly elsewhere?: readonly string[];
  /** Distance from where it was planted to the nearest reading that tells it, mm; undefined: no place to compare. */
  readonly off: number | undefined;
  readonly says: string;
}

/** A reading blamed further from the fault than this blames another place, mm. */
export const PLACE = 1;

/** Plants one kind of fault at all its sizes into one design. */
export function tryFault(kind: FaultKind, design: Design, seed: number): readonly Trial[] {
  const alone = new Set(blamed(sound(design), kind.checks).map(keyOf));
  const ofFit = kind.checks.every((id) => id.startsWith('fit.'));
  return kind.sizes.flatMap(([size, due]) => {
    const planted = kind.plant(design, size, randomFrom(seed));
    if (planted === undefined) return [];
    const standing =
      planted.whole === undefined ? alone : new Set(blamed(planted.whole, kind.checks).map(keyOf));
    // Where the pair is blamed without the fault, that nothing is due cannot be seen.
    if (due === 'nothing' && standing.size > 0) return [];
    // A plug that something of the design's own holds up shows its line at whatever is added as well.
    if (due === 'nothing' && ofFit && proud(sound(design)) > HOME) return [];
    const head = { fault: kind.name, size, due, design: design.name };
    try {
      const fresh = blamed(planted.pair, kind.checks).filter((reading) => !standing.has(keyOf(reading)));
      const outcome = outcomeOf(fresh, planted);
      // The fit is told by its worst place alone, and not at all where wood is left standing: behind a failure that the
      // design has of its own, this one is not seen.
      if (ofFit && outcome.seen === 'pass' && failing(sound(design)).length > 0) return [];
      const missed = outcome.seen === 'pass' && (due === 'fail' || due === 'care');
      return [{ ...head, ...outcome, ...(missed ? { elsewhere: othersOf(planted.pair, design) } : {}) }];
    } catch (fault) {
      if (!(fault instanceof InputFault || fault instanceof InputFaults)) throw fault;
      return [{ ...head, seen: 'refused' as const, off: undefined, says: fault.message }];
    }
  });
}

/** The readings of the named checks (of all unless given) that do not pass. */
export function blamed(pair: Pair, checks?: readonly string[]): readonly JudgedReading[] {
  const facts = factsOfPair(pair);
  return RULES.filter((rule: Rule) => checks === undefined || checks.includes(rule.id))
    .flatMap((rule) => judgeCheck(rule, rule.measure(facts)).readings)
    .filter((reading) => reading.outcome !== 'pass');
}

/** The checks that do not tell anything of a pair, as the fit is not told where wood is left standing. */
export function silent(pair: Pair): readonly string[] {
  const facts = factsOfPair(pair);
  return RULES.filter((rule: Rule) => judgeCheck(rule, rule.measure(facts)).outcome === 'moot').map(
    ({ id }) => id,
  );
}

/** A plug that stands no higher than this is home, mm. */
const HOME = 0.01;

/** How far the plug of a pair stands proud, mm. */
function proud(pair: Pair): number {
  const rule = RULES.find(({ id }) => id === 'fit.proud') as Rule;
  const { readings } = judgeCheck(rule, rule.measure(factsOfPair(pair)));
  return Math.max(0, ...readings.map(({ measured }) => measured.value));
}

/** The checks that fail the pair and pass the sound design. */
function othersOf(pair: Pair, design: Design): readonly string[] {
  const before = failing(sound(design));
  return failing(pair).filter((id) => !before.includes(id));
}

/** Every check that fails a pair. */
export function failing(pair: Pair): readonly string[] {
  const facts = factsOfPair(pair);
  return RULES.map((rule) => judgeCheck(rule, rule.measure(facts)))
    .filter(({ outcome }) => outcome === 'fail')
    .map(({ id }) => id);
}

function outcomeOf(
  fresh: readonly JudgedReading[],
  { side, at, reach = 0 }: Planted,
): Omit<Trial, 'fault' | 'size' | 'due' | 'design'> {
  const worst = fresh.some((reading) => reading.outcome === 'fail')
    ? 'fail'
    : fresh.length > 0
      ? 'care'
      : 'pass';
  const offs = fresh
    .filter((reading) => reading.place.part === side && reading.place.at !== undefined)
    .map((reading) =>
      Math.hypot(
        (reading.place.at?.[0] ?? 0) - (at?.[0] ?? 0),
        (reading.place.at?.[1] ?? 0) - (at?.[1] ?? 0),
      ),
    );
  const says = fresh
    .map((reading) => `${reading.label ?? ''}: ${reading.says}`)
    .slice(0, 3)
    .join(' | ');
  const off = at === undefined || fresh.length === 0 ? undefined : Math.max(0, Math.min(...offs) - reach);
  return { seen: worst, off, says };
}

function keyOf({ label, measured, place }: JudgedReading): string {
  return `${label} ${measured.value.toFixed(3)} ${place.at?.map((v) => v.toFixed(1)).join(' ')}`;
}

/** What is wrong with a trial, in a word; undefined when it came out as it should. */
export function complaint({ due, seen, off, elsewhere }: Trial): string | undefined {
  if (due === 'either') return undefined;
  if (due === 'nothing') return seen === 'pass' ? undefined : 'false alarm';
  if (seen === 'pass') return elsewhere?.length ? `found only by ${elsewhere.join(', ')}` : 'missed';
  if (due === 'fail' && seen === 'care') return 'only care';
  return off !== undefined && off > PLACE ? 'wrong place' : undefined;
}
