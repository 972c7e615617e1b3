import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { RULES } from '../../rules/index.ts';
import type { Rule } from '../engine/rule.ts';
import { InputFault } from '../fault.ts';
import { LIMITS } from '../job/limits.ts';
import { padEnd, wrap } from '../report/layout.ts';
import { show } from '../units.ts';
import { EXIT } from './exit.ts';
import { readText } from './files.ts';
import { packageFolder } from './package.ts';

const WIDTH = 80;

/** Prints the list of checks, or the page of one with its limits and sample. Returns the exit status. */
export function explain(id: string | undefined): number {
  process.stdout.write(id === undefined ? listOfChecks() : pageOf(ruleNamed(id)));
  return EXIT.good;
}

function ruleNamed(id: string): Rule {
  const rule = RULES.find((candidate) => candidate.id === id);
  if (rule !== undefined) return rule;
  throw new InputFault(`There is no check "${id}". "dryfit explain" without an id lists them all.`);
}

function listOfChecks(): string {
  const longest = Math.max(...RULES.map((rule) => rule.id.length));
  const lines = RULES.map((rule) => `${padEnd(rule.id, longest + 2)}${rule.asks}`);
  return `The checks, in the order a maker would ask them:\n\n${lines.join('\n')}\n\nOne of them in full: dryfit explain ID\n`;
}

function pageOf(rule: Rule): string {
  const folder = packageFolder();
  const [subject, aspect] = rule.id.split('.') as [string, string];
  const page = readText(join(folder, 'rules', subject, `${aspect}.md`), 'the page of this check');
  const sample = join('samples', rule.id, `${rule.id}.dryfit.yaml`);
  const lines = [...bodyOf(page), '', ...limitLines(rule)];
  if (existsSync(join(folder, sample))) lines.push('', `A design with this mistake: ${sample}`);
  return `${lines.join('\n')}\n`;
}

/** The page's text for a terminal: headings stand alone in capitals, code fences (drawings) stay as they are. */
function bodyOf(page: string): string[] {
  const lines: string[] = [];
  let fenced = false;
  for (const line of page.trim().split('\n')) {
    if (line.startsWith('```')) fenced = !fenced;
    else if (fenced) lines.push(`   ${line}`);
    else if (line.startsWith('#')) lines.push(line.replace(/^#+\s*/, '').toUpperCase());
    else lines.push(...(line === '' ? [''] : wrap(line.replaceAll('`', '').replaceAll('**', ''), WIDTH)));
  }
  return lines;
}

function limitLines(rule: Rule): string[] {
  if (rule.limits.length === 0) return ['It uses no limit that can be set.'];
  const lines = ['LIMITS IT USES (set another under "limits:" in the job)'];
  for (const name of rule.limits) {
    const limit = LIMITS[name];
    lines.push(`${padEnd(name, 26)} ${show(limit.value, limit.unit, 'mm')}`);
    lines.push(...wrap(`${limit.means} Ground: ${limit.ground}.`, WIDTH - 3).map((line) => `   ${line}`));
  }
  return lines;
}
