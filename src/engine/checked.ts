import type { Facts } from '../carve/facts.ts';
import type { CheckedJob } from './checked-job.ts';
import { answerOf, judgeCheck } from './judge.ts';
import type { Rule } from './rule.ts';

export type { CheckedJob } from './checked-job.ts';

/** Asks the rules of one job in their order and gives the answer. */
export function checkJob(
  facts: Facts,
  rules: readonly Rule[],
  leftOut: ReadonlySet<string> = new Set(),
): CheckedJob {
  const asked = rules.filter((rule) => !leftOut.has(rule.id));
  const checks = asked.map((rule) => judgeCheck(rule, rule.measure(facts)));
  const unasked = rules.some((rule) => rule.essential && leftOut.has(rule.id));
  return {
    job: facts.job.file,
    title: facts.job.title,
    answer: answerOf(checks, unasked),
    figures: facts.figures(checks.some((check) => check.id.startsWith('fit.'))),
    checks,
    notAsked: rules.filter((rule) => leftOut.has(rule.id)).map((rule) => rule.id),
  };
}
