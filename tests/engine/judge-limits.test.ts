import { describe, expect, it } from 'vitest';
import { answerOf, judgeCheck, judgeReading, quantity } from '../../src/engine/judge.ts';
import type { Reading, Want } from '../../src/engine/reading.ts';

// The words that readings and checks carry away, and the last values on each side of every bound. The bounds are
// those that the records' own comments state.

const reading = (value: number, want: Want, give = 0): Reading => ({
  measured: quantity(value, 'mm'),
  give,
  want,
  place: { part: 'pair' },
  says: 'A sentence.',
});
const asked = { id: 'a.b', asks: 'Is it?', row: 'It is', essential: true };

describe('at the limit', () => {
  it('lets a billionth pass and no more', () => {
    const outcome = (value: number, want: Want, give = 0) => judgeReading(reading(value, want, give)).outcome;
    expect(outcome(-1e-9, { atLeast: 0 })).toBe('pass');
    expect(outcome(-1.1e-9, { atLeast: 0 })).toBe('fail');
    expect(outcome(1e-9, { atMost: 0 })).toBe('pass');
    expect(outcome(-1e-9, { atLeast: 1, hardAtLeast: 0 })).toBe('close');
    expect(outcome(-1.1e-9, { atLeast: 1, hardAtLeast: 0 })).toBe('fail');
    expect(outcome(0.5, { atLeast: 0, atMost: 0.4 })).toBe('fail');
    expect(outcome(0.5, { atLeast: 0.6, atMost: 1 })).toBe('fail');
  });

  it('has no room where a measurement broke or nothing is wanted', () => {
    expect(judgeReading(reading(Number.NaN, { atLeast: 2 })).room).toBeUndefined();
    expect(judgeReading(reading(1, {})).outcome).toBe('pass');
    expect(judgeReading(reading(1, { atMost: 3 })).room).toBe(2);
  });

  it('keeps what was measured beside the outcome', () => {
    expect(judgeReading(reading(3, { atLeast: 2 }))).toEqual({
      ...reading(3, { atLeast: 2 }),
      outcome: 'pass',
      room: 1,
    });
    expect(judgeReading(reading(Number.NaN, { atLeast: 2 }))).toMatchObject({ says: 'A sentence.', give: 0 });
    expect(quantity(2, 'N')).toEqual({ value: 2, unit: 'N' });
  });
});

describe('one check', () => {
  it('carries the question and sorts what came back', () => {
    const brought = [reading(3, { atLeast: 2 }), { untold: 'Not seen.' }, { moot: 'Not asked.' }];
    expect(judgeCheck(asked, brought)).toEqual({
      ...asked,
      outcome: 'untold',
      readings: [{ ...reading(3, { atLeast: 2 }), outcome: 'pass', room: 1 }],
      untold: ['Not seen.'],
      moot: ['Not asked.'],
    });
    expect(judgeCheck(asked, [{ untold: 'Not seen.' }, { moot: 'Not asked.' }]).outcome).toBe('untold');
    expect(judgeCheck(asked, []).untold).toEqual(['This check brought back no measurement.']);
  });

  it('fails the job on any check, essential or not', () => {
    const side = { ...asked, essential: false };
    const [bad, good] = [reading(1, { atLeast: 2 }), reading(3, { atLeast: 2 })];
    expect(answerOf([judgeCheck(asked, [good]), judgeCheck(side, [bad])])).toBe('fail');
    expect(answerOf([judgeCheck(side, [good]), judgeCheck(side, [{ untold: 'Not seen.' }])])).toBe('care');
    expect(answerOf([judgeCheck(asked, [good]), judgeCheck(side, [good])])).toBe('pass');
    const close = reading(2.05, { atLeast: 2 }, 0.1);
    expect(answerOf([judgeCheck(side, [good]), judgeCheck(side, [close])])).toBe('care');
  });
});
