import type { Facts } from '../carve/facts.ts';
import { answerOf, type JudgedCheck, judgeCheck } from './judge.ts';
import type { Answer, Quantity } from './reading.ts';
import type { Rule } from './rule.ts';

/** A job with its answer: what every report is written from. */
export interface CheckedJob {
  /** The job file as the caller named it. */
  readonly job: string;
  readonly title: string;
  readonly answer: Answer;
  /** The main figures of the pair, in the order a maker reads them; undefined where they could not be had. */
  readonly figures: Readonly<Record<string, Quantity | undefined>>;
  readonly checks: readonly JudgedCheck[];
  /** Ids of checks that the caller left out. */
  readonly notAsked: readonly string[];
}

/** Asks the rules of one job in their order and gives the answer. */
export function checkJob(
  facts: Facts,
  rules: readonly Rule[],
  leftOut: ReadonlySet<string> = new Set(),
): CheckedJob {
  const asked = rules.filter((rule) => !leftOut.has(rule.id));
  const checks = asked.map((rule) => judgeCheck(rule, rule.measure(facts)));
  return {
    job: facts.job.file,
    title: facts.job.title,
    answer: answerOf(checks),
    figures: facts.figures(checks.some((check) => check.id.startsWith('fit.'))),
    checks,
    notAsked: rules.filter((rule) => leftOut.has(rule.id)).map((rule) => rule.id),
  };
}
