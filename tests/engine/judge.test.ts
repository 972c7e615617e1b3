import { describe, expect, it } from 'vitest';
import { answerOf, judgeCheck, judgeReading } from '../../src/engine/judge.ts';
import type { Reading, Want } from '../../src/engine/reading.ts';

const reading = (value: number, want: Want, give = 0): Reading => ({
  measured: { value, unit: 'mm' },
  give,
  want,
  place: { part: 'pair' },
  says: 'A sentence.',
});
const outcome = (value: number, want: Want, give = 0) => judgeReading(reading(value, want, give)).outcome;
const asked = { id: 'a.b', asks: 'Is it?', row: 'It is', essential: true };

describe('one reading', () => {
  it('passes at the limit, on both sides', () => {
    expect(outcome(2, { atLeast: 2 })).toBe('pass');
    expect(outcome(2, { atMost: 2 })).toBe('pass');
    expect(outcome(1.999, { atLeast: 2 })).toBe('fail');
    expect(outcome(2.001, { atMost: 2 })).toBe('fail');
    expect(outcome(2.001, { atLeast: 2, atMost: 3 })).toBe('pass');
    expect(outcome(3.001, { atLeast: 2, atMost: 3 })).toBe('fail');
  });

  it('takes the last bits of a sum of decimals for what they are', () => {
    expect(7.6 - 5).toBeLessThan(2.6);
    expect(outcome(7.6 - 5, { atLeast: 2.6 })).toBe('pass');
    expect(outcome(0.1 + 0.2, { atMost: 0.3 })).toBe('pass');
    expect(outcome(2.6 - 1e-8, { atLeast: 2.6 })).toBe('fail');
  });

  it('is close within the give of the limit, on either side of it', () => {
    expect(outcome(2.05, { atLeast: 2 }, 0.1)).toBe('close');
    expect(outcome(1.95, { atLeast: 2 }, 0.1)).toBe('close');
    expect(outcome(2.1, { atLeast: 2 }, 0.1)).toBe('pass');
    expect(outcome(1.9, { atLeast: 2 }, 0.1)).toBe('close');
    expect(outcome(1.899, { atLeast: 2 }, 0.1)).toBe('fail');
    expect(outcome(2.1, { atMost: 2 }, 0.1)).toBe('close');
    expect(outcome(2.101, { atMost: 2 }, 0.1)).toBe('fail');
    expect(outcome(1.9, { atMost: 2 }, 0.1)).toBe('pass');
    expect(outcome(1.901, { atMost: 2 }, 0.1)).toBe('close');
  });

  it('is close between the wanted and the hard limit', () => {
    const want = { atLeast: 0.5, hardAtLeast: 0.2 };
    expect(outcome(0.5, want)).toBe('pass');
    expect(outcome(0.3, want)).toBe('close');
    expect(outcome(0.2, want)).toBe('close');
    expect(outcome(0.199, want)).toBe('fail');
    const most = { atMost: 0.05, hardAtMost: 0.1 };
    expect(outcome(0.07, most)).toBe('close');
    expect(outcome(0.1, most)).toBe('close');
    expect(outcome(0.1001, most)).toBe('fail');
  });

  it('fails a measurement that broke', () => {
    expect(outcome(Number.NaN, { atLeast: 2 })).toBe('fail');
    expect(outcome(3, { atLeast: 2 }, Number.NaN)).toBe('fail');
    expect(outcome(3, { atLeast: Number.NaN })).toBe('fail');
    expect(outcome(3, { atMost: 4, hardAtMost: Number.NaN })).toBe('fail');
    expect(outcome(3, { atLeast: 2 }, -1)).toBe('fail');
    expect(outcome(Number.NEGATIVE_INFINITY, { atLeast: 2 })).toBe('fail');
    expect(outcome(Number.POSITIVE_INFINITY, { atMost: 2 })).toBe('fail');
  });

  it('tells the room to the nearer limit, signed', () => {
    expect(judgeReading(reading(2.6, { atLeast: 0.5, atMost: 3 })).room).toBeCloseTo(0.4, 12);
    expect(judgeReading(reading(0.3, { atLeast: 0.5 })).room).toBeCloseTo(-0.2, 12);
    expect(judgeReading(reading(0.3, {})).room).toBeUndefined();
  });
});

describe('one check', () => {
  it('is untold when nothing came back', () => {
    const check = judgeCheck(asked, []);
    expect(check.outcome).toBe('untold');
    expect(check.untold).toHaveLength(1);
    expect(answerOf([check])).toBe('unknown');
  });

  it('takes the worst of its readings', () => {
    const good = reading(3, { atLeast: 2 });
    const close = reading(2.05, { atLeast: 2 }, 0.1);
    const bad = reading(1, { atLeast: 2 });
    expect(judgeCheck(asked, [good, close]).outcome).toBe('close');
    expect(judgeCheck(asked, [bad, good, close]).outcome).toBe('fail');
    expect(judgeCheck(asked, [good, { untold: 'No tip was given.' }]).outcome).toBe('untold');
    expect(judgeCheck(asked, [bad, { untold: 'No tip was given.' }]).outcome).toBe('fail');
    expect(judgeCheck(asked, [{ moot: 'No clearing bit.' }]).outcome).toBe('moot');
    expect(judgeCheck(asked, [{ moot: 'No clearing bit.' }, good]).outcome).toBe('pass');
  });
});

describe('the answer', () => {
  const pass = judgeCheck(asked, [reading(3, { atLeast: 2 })]);
  const close = judgeCheck(asked, [reading(2.05, { atLeast: 2 }, 0.1)]);
  const fail = judgeCheck(asked, [reading(1, { atLeast: 2 })]);
  const untold = judgeCheck(asked, [{ untold: 'No tip was given.' }]);
  const moot = judgeCheck(asked, [{ moot: 'No clearing bit.' }]);
  const side = { ...asked, essential: false };

  it('fails before anything else, then cannot tell, then care, then pass', () => {
    expect(answerOf([pass, close, untold, fail])).toBe('fail');
    expect(answerOf([pass, close, untold])).toBe('unknown');
    expect(answerOf([pass, close, moot])).toBe('care');
    expect(answerOf([pass, moot])).toBe('pass');
  });

  it('is never a pass when nothing was asked, nor when something essential was left out', () => {
    expect(answerOf([])).toBe('unknown');
    expect(answerOf([pass], true)).toBe('care');
    expect(answerOf([fail, pass], true)).toBe('fail');
  });

  it('asks for care when a side question could not be answered', () => {
    expect(answerOf([pass, judgeCheck(side, [{ untold: 'No wood was named.' }])])).toBe('care');
  });

  it('cannot tell when an essential check is close in part and blind in part', () => {
    const half = judgeCheck(asked, [reading(2.05, { atLeast: 2 }, 0.1), { untold: 'No tip was given.' }]);
    expect(half.outcome).toBe('close');
    expect(answerOf([half])).toBe('unknown');
  });
});
