import type { Answer, Outcome, Quantity, Reading, Silence } from './reading.ts';

/**
 * Sums of decimal depths miss their exact value in the last bits (7.6 - 5 = 2.5999999999999996). A difference
 * this small, in any unit we print, is arithmetic and not wood.
 */
const ARITHMETIC_NOISE = 1e-9;

export interface JudgedReading extends Reading {
  readonly outcome: 'pass' | 'close' | 'fail';
  /** How far the value is on the good side of what is wanted (negative: on the bad side). */
  readonly room: number | undefined;
}

export interface JudgedCheck {
  readonly id: string;
  readonly asks: string;
  readonly row: string;
  readonly essential: boolean;
  readonly outcome: Outcome;
  readonly readings: readonly JudgedReading[];
  readonly untold: readonly string[];
  readonly moot: readonly string[];
}

/** What a check needs to be judged; a rule is one of these with its measuring function. */
export interface Asked {
  readonly id: string;
  readonly asks: string;
  readonly row: string;
  readonly essential: boolean;
}

/**
 * Turns one measurement into pass, close or fail. A value that is not a number fails: a measurement that broke
 * must never look like a good one.
 */
export function judgeReading(reading: Reading): JudgedReading {
  const { want } = reading;
  const value = reading.measured.value;
  const give = reading.give;
  const rooms: number[] = [];
  let outcome: JudgedReading['outcome'] = 'pass';
  const bounds = [want.atLeast, want.atMost, want.hardAtLeast, want.hardAtMost];
  const broken = Number.isNaN(value) || !(give >= 0) || bounds.some((bound) => Number.isNaN(bound));
  if (broken) return { ...reading, outcome: 'fail', room: undefined };
  if (want.atLeast !== undefined) {
    const room = value - want.atLeast;
    rooms.push(room);
    outcome = worse(outcome, judgeRoom(room, value - (want.hardAtLeast ?? want.atLeast), give));
  }
  if (want.atMost !== undefined) {
    const room = want.atMost - value;
    rooms.push(room);
    outcome = worse(outcome, judgeRoom(room, (want.hardAtMost ?? want.atMost) - value, give));
  }
  return { ...reading, outcome, room: rooms.length > 0 ? Math.min(...rooms) : undefined };
}

/** `room`: distance on the good side of the wanted limit; `hardRoom`: the same to the hard limit. */
function judgeRoom(room: number, hardRoom: number, give: number): 'pass' | 'close' | 'fail' {
  if (room >= give - ARITHMETIC_NOISE) return 'pass';
  if (hardRoom >= -give - ARITHMETIC_NOISE) return 'close';
  return 'fail';
}

/** Judges everything one rule brought back. Nothing brought back is "untold": silence is never a pass. */
export function judgeCheck(asked: Asked, brought: readonly (Reading | Silence)[]): JudgedCheck {
  const readings: JudgedReading[] = [];
  const untold: string[] = [];
  const moot: string[] = [];
  for (const item of brought) {
    if ('untold' in item) untold.push(item.untold);
    else if ('moot' in item) moot.push(item.moot);
    else readings.push(judgeReading(item));
  }
  if (brought.length === 0) untold.push('This check brought back no measurement.');
  // Whatever else came back ranks above it.
  let outcome: Outcome = 'moot';
  for (const reading of readings) outcome = worse(outcome, reading.outcome);
  if (untold.length > 0) outcome = worse(outcome, 'untold');
  const { id, asks, row, essential } = asked;
  return { id, asks, row, essential, outcome, readings, untold, moot };
}

/**
 * The answer for the job: fail, else cannot tell, else with care, else pass. `unasked`: the caller left an essential
 * check out, and what was not asked is not known to be good.
 */
export function answerOf(checks: readonly JudgedCheck[], unasked = false): Answer {
  if (checks.some((check) => check.outcome === 'fail')) return 'fail';
  if (checks.length === 0 || checks.some((check) => check.essential && check.untold.length > 0))
    return 'unknown';
  const care = checks.some((check) => check.outcome === 'close' || check.untold.length > 0);
  return care || unasked ? 'care' : 'pass';
}

const RANK: readonly Outcome[] = ['moot', 'pass', 'untold', 'close', 'fail'];

function worse<T extends Outcome>(a: T, b: T): T {
  return RANK.indexOf(a) >= RANK.indexOf(b) ? a : b;
}

export const quantity = (value: number, unit: Quantity['unit']): Quantity => ({ value, unit });
