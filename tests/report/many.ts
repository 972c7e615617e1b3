import type { Facts } from '../../src/carve/facts.ts';
import type { CheckedJob } from '../../src/engine/checked.ts';
import { type JudgedCheck, judgeCheck } from '../../src/engine/judge.ts';
import type { Point } from '../../src/geometry/shapes.ts';

/** A check that failed or came close at each of five places of the outlines, all over both drawings. */
function crowded(check: JudgedCheck, facts: Facts, first: number): JudgedCheck {
  const readings = Array.from({ length: 5 }, (_, k) => {
    const number = first + k;
    const part = number % 3 === 0 ? ('plug' as const) : ('pocket' as const);
    const points = facts
      .region(part)
      .rings.flatMap((ring) =>
        Array.from(
          { length: ring.length / 2 },
          (__, i): Point => [ring[2 * i] as number, ring[2 * i + 1] as number],
        ),
      );
    return {
      measured: { value: number % 4 === 0 ? 0.55 : 2 + number / 10, unit: 'mm' as const },
      give: 0,
      want: { atMost: 0.5, hardAtMost: 0.6 },
      place: {
        part,
        at: points[(number * 997) % points.length] as Point,
        element: `#stroke-${number}`,
        file: `${part}.svg`,
        line: number,
      },
      says: 'A stroke 0.31 mm wide is finer than the tip, so the pocket is never cut there and the plug stands on it.',
      cure: 'Widen it to 0.50 mm, or take a bit with a finer tip.',
    };
  });
  return judgeCheck(check, readings);
}

/** The job with `count` readings (a multiple of five) that do not pass. */
export function withMany(checked: CheckedJob, facts: Facts, count: number): CheckedJob {
  const checks = checked.checks.map((check, i) => (5 * i < count ? crowded(check, facts, 5 * i + 1) : check));
  return { ...checked, answer: 'fail', title: 'Tea tray with leaves, second try <3 & "more"', checks };
}
